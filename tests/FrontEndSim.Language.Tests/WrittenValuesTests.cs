using System.Globalization;
using System.Text.RegularExpressions;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.Language.Text;
using FrontEndSim.Language.Writing;

namespace FrontEndSim.Language.Tests;

/// <summary>
/// What a file says is in the circuit, or is refused: nothing is dropped in silence. A written value is changed, and what comes of the
/// file has to change: elements, ratings, tolerances, what events do and what is required. The hand calculation does not count, nor
/// what a requirement is called.
/// </summary>
public sealed partial class WrittenValuesTests
{
    private const int Rounds = 3;

    private static readonly double[] Factors = [1.07, 3.3, 0.3, 40, 0.02];

    // Written where it says how something was measured, where it acts on what moves alone, or where each use says something else.
    private static readonly Dictionary<string, string> Conditions = new()
    {
        ["resistance"] = "an open channel's resistance is stated at a drain current, and is taken for all small ones",
        ["charge"] = "a switch's charge comes when it is moved",
        ["template"] = "a parameter's value where no use gives one",
    };

    private const string More = """
        circuit "Kinds that no page shows"
        rail VP 9 V
        rail VN -9 V
        rail VDD 3.3 V
        sensor probe drives IN span -1 V .. 1.5 V source 220 ohm
        stage shift is difference-stage
            from IN to PIN
            against GND
            maps probe onto 0.1 V .. 3.2 V
            offset from VDD
            opamp jfet-input on VP and VN
        stage less is passive-shifter
            from IN to LESS
            maps probe onto 0.4 V .. 1.4 V
            offset from VDD
        resistor R9 from LESS to GND 10 Mohm
        pin adc at PIN converts 12 bits over 0 V .. VDD

        """;

    /// <summary>Every circuit that the language's page and the shipped folder show.</summary>
    private static IEnumerable<string> Shown => Blocks()
        .Matches(File.ReadAllText(Path.Combine(Reading.Repository, "docs", "language.md")).ReplaceLineEndings("\n"))
            .Select(m => m.Groups[1].Value)
        .Concat(Directory.EnumerateFiles(Path.Combine(Reading.Repository, "circuits"), "*.fes").Order(StringComparer.Ordinal)
            .Select(File.ReadAllText).Where(t => !t.Contains("\ninclude", StringComparison.Ordinal))).Append(More);

    [Fact]
    public void Every_number_that_a_shown_circuit_writes_moves_something_or_is_refused()
    {
        var dropped = Shown.AsParallel().SelectMany(text =>
        {
            string? whole = FootprintOf(text);
            return whole is null ? [] : Numbers(text).Where(at => !Conditions.ContainsKey(Line(text, at.Index).Split(' ')[0]))
                .Where(at => Factors.All(f => FootprintOf(Changed(text, at, f)) == whole))
                .Select(at => $"{at.Value} in: {Line(text, at.Index)}").ToArray();
        }).ToArray();
        Assert.True(dropped.Length == 0, string.Join('\n', dropped));
    }

    public static TheoryData<string> Kinds => [.. StageKinds.All.Select(k => k.Name)];

    [Theory]
    [MemberData(nameof(Kinds))]
    public void What_is_written_of_a_stage_is_in_its_parts_whatever_else_is_written_or_is_refused(string kind)
    {
        string shortest = Shown.Where(t => t.Contains($" is {kind}\n", StringComparison.Ordinal)).MinBy(t => t.Length)!;
        var random = new Random(kind.Length * 31 + kind[0]);
        for (int round = 0; round < Rounds; round++)
        {
            string text = shortest;
            var stage = Reading.FrontEnd(text).Stages.First(s => s.Kind == kind);
            // What is left open is written in some cases, and what may be left out left out in others.
            foreach (var setting in stage.Request!.Kind.Settings.OrderBy(_ => random.Next()).Take(2 * round))
            {
                var now = Reading.FrontEnd(text).Stages.First(s => s.Name == stage.Name).Request!;
                string? line = now.Has(setting) ? setting.IsRequired || random.Next(2) == 0 ? null : "" : Drawn(setting, random);
                if (line is not null && With(text, now, setting.Name, line) is var tried && Reading.Load(tried).FrontEnd is not null)
                    text = tried;
            }
            var request = Reading.FrontEnd(text).Stages.First(s => s.Name == stage.Name).Request!;
            string whole = FootprintOf(text)!;
            foreach (var (name, line) in StageText.Of(request).Settings)
            {
                foreach (Match at in Numbers(line))
                {
                    Assert.True(Factors.Any(f => FootprintOf(With(text, request, name, Changed(line, at, f))) != whole),
                        $"{at.Value} of \"{line}\" is dropped in\n{text}");
                }
            }
        }
    }

    /// <summary>The file with one line of a stage in another form; without it where that is empty.</summary>
    private static string With(string text, StageRequest request, string setting, string line)
    {
        var now = StageText.Of(request);
        IEnumerable<string> settings = now.Settings.Any(s => s.Key == setting) ? now.Settings.Select(s => s.Key == setting ? line : s.Value)
            : now.Settings.Select(s => s.Value).Append(line);
        string block = string.Join('\n', settings.Where(s => s != "").Select(s => "    " + s).Prepend(now.Head)) + "\n";
        return Regex.Replace(text, $@"^stage {Regex.Escape(request.Name)} is .*\n(?:[ \t]+.*\n|[ \t]*\n(?=[ \t]))*",
            block.Replace("$", "$$"),
            RegexOptions.Multiline);
    }

    /// <summary>A line for a setting, of values as they come in such circuits; null where one would have to know the circuit.</summary>
    private static string? Drawn(Setting setting, Random random)
    {
        string?[] words = [.. setting.Phrase.Select(p => p switch
        {
            Keyword word => word.ToString(),
            QuantityBlank blank => Quantity(blank.Unit, random),
            PercentBlank => (1 + random.Next(40)).ToString(CultureInfo.InvariantCulture) + "%",
            CountBlank => (1 + random.Next(4)).ToString(CultureInfo.InvariantCulture),
            INameBlank names => names.Names.ElementAt(random.Next(names.Names.Count())),
            RailBlank => "VDD",
            _ => null,
        })];
        return words.Contains(null) ? null : string.Join(' ', words);
    }

    private static string? Quantity(Unit unit, Random random)
    {
        double share = random.NextDouble();
        (double low, double high)? range = unit == Unit.Ohm ? (100, 3e6) : unit == Unit.Farad ? (1e-10, 1e-6) : unit == Unit.Volts
            ? (0.5, 4)
            : unit == Unit.Amps ? (1e-4, 1e-2) : unit == Unit.Hertz ? (30, 1e4) : unit == Unit.Watt ? (0.1, 2) : unit == Unit.Joule
                ? (1e-3, 1)
            : unit == Unit.Seconds ? (1e-3, 1) : unit == Unit.PerKelvin ? (1e-5, 2e-4) : unit == Unit.None ? (1.5, 20) : null;
        if (range is not var (low, high))
            return null;
        // A third of the values are ones that others may have as well.
        double value = random.Next(3) == 0 ? Math.Pow(10, Math.Round(Math.Log10(Math.Sqrt(low * high))))
            : low * Math.Pow(high / low, share);
        return SiText.Typed(value, unit.Symbol, 3);
    }

    // Names and types are no numbers, nor is what stands in quotes or behind #.
    private static IEnumerable<Match> Numbers(string text) => Number().Matches(text).Where(m =>
    {
        string before = text[(text.LastIndexOf('\n', Math.Max(0, m.Index - 1)) + 1)..m.Index];
        return before.Count(c => c == '"') % 2 == 0 && !before.Contains('#', StringComparison.Ordinal)
            && !before.TrimStart().StartsWith("circuit ", StringComparison.Ordinal);
    });

    private static string Changed(string text, Match at, double factor)
    {
        double value = double.Parse(at.Value, CultureInfo.InvariantCulture);
        double changed = value == 0 ? factor - 1 : at.Value.Contains('.', StringComparison.Ordinal) ? value * factor
            : Math.Round(value * factor) is var whole && whole != value ? whole : value + 1;
        return text[..at.Index] + changed.ToString("0.######", CultureInfo.InvariantCulture) + text[(at.Index + at.Length)..];
    }

    private static string Line(string text, int index) =>
        text[(text.LastIndexOf('\n', Math.Max(0, index - 1)) + 1)..].Split('\n')[0].Trim();

    private static string? FootprintOf(string text) => CircuitFileOf(text) is { } frontEnd ? Footprint.Of(frontEnd) : null;

    private static FrontEnds.Model.FrontEnd? CircuitFileOf(string text) =>
        Binding.CircuitFile.Load(new SourceFile(Path.Combine(Reading.Repository, "circuits", "shown.fes"), text)).FrontEnd;

    [GeneratedRegex(@"```fes\n(.*?)```", RegexOptions.Singleline)]
    private static partial Regex Blocks();

    [GeneratedRegex(@"(?<![\w.\-])\d+(?:\.\d+)?(?![\d.]|\w*-\w)")]
    private static partial Regex Number();
}
