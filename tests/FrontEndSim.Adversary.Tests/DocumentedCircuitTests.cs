using System.Text.RegularExpressions;
using FrontEndSim.Fuzz;
using FrontEndSim.Language.Binding;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Adversary.Tests;

/// <summary>What the pages of docs/ show in the circuit language is read and judged by the program as the page says.</summary>
[Collection(ProgramInThisProcess.Name)]
public sealed partial class DocumentedCircuitTests
{
    private static readonly string Repository = Seeds.Repository;

    private static IEnumerable<string> Pages => Directory.EnumerateFiles(Path.Combine(Repository, "docs"), "*.md")
        .Append(Path.Combine(Repository, "README.md")).Order(StringComparer.Ordinal);

    public static TheoryData<string, string> Circuits
    {
        get
        {
            var data = new TheoryData<string, string>();
            foreach (string page in Pages)
                foreach (Match block in Blocks().Matches(Text(page)))
                    data.Add(Path.GetFileName(page), block.Groups[1].Value);
            return data;
        }
    }

    public static TheoryData<string> EventWords => [.. Text(Path.Combine(Repository, "docs", "disturbances.md")).Split('\n')
        .Where(l => l.StartsWith('|')).SelectMany(l => Code().Matches(l).Select(m => m.Groups[1].Value))
        .Where(w => !w.Contains('…') && !w.Contains("..") && Events.Contains(w.Split(' ')[0])).Distinct()];

    // What begins an event on the page; other words in its tables are parts of one.
    private static readonly HashSet<string> Events =
    [
        "discharge", "human-body", "burst", "combination-wave", "surge", "radio-pickup", "vehicle-pulse", "load-dump", "step", "open",
            "reversed", "lost", "late",
        "short", "mains-pickup",
    ];

    [Theory]
    [MemberData(nameof(Circuits))]
    public async Task A_circuit_on_a_page_is_read_without_a_complaint_and_is_judged(string page, string text)
    {
        var result = CircuitFile.Load(new SourceFile(page, text));
        Assert.True(result.Diagnostics.IsEmpty, DiagnosticPrinter.Print(result.Diagnostics));
        string folder = Directory.CreateTempSubdirectory("fes-page-").FullName;
        try
        {
            // All faults times all events of the largest example are minutes of work, and so are the switches of the one with each kind of
            // part, a cable among them: those are only solved.
            string verb = text.Contains("with any single fault", StringComparison.Ordinal) || text.Contains("One of each", StringComparison.Ordinal)
                ? "bias" : "check";
            var (finding, _) = await Judge.RunAsync(new FuzzCase(verb, Seeds.Bytes(text)), Path.Combine(folder, "page.fes"));
            Assert.True(finding is null || IsKnown(text), $"{finding?.Signature}: {finding?.Detail}");
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Theory]
    [MemberData(nameof(EventWords))]
    public void The_words_for_an_event_on_the_page_of_disturbances_are_understood(string words)
    {
        const string host = """
            circuit "Something to strike"
            rail VP 13.5 V resistance 1 ohm
            rail VDD 3.3 V resistance 1 ohm
            sensor probe drives IN span 0 V .. 3 V source 1 kohm
            resistor R1 from IN to PIN 10k
            resistor R2 from VP to PIN 1M
            resistor R3 from VDD to PIN 1M
            pin adc at PIN converts 10 bits over 0 V .. 3 V

            """;
        var tried = new[] { "IN", "VP" }.Select(node => CircuitFile.Load(
            new SourceFile("host.fes", $"{host}event \"it\" at {node} {words}\n"))).ToArray();
        Assert.True(tried.Any(t => t.FrontEnd is not null), DiagnosticPrinter.Print(tried[0].Diagnostics));
    }

    [Fact]
    public void The_message_shown_on_the_language_page_is_the_message_that_is_given()
    {
        string page = Text(Path.Combine(Repository, "docs", "language.md"));
        var shown = Message().Match(page);
        int line = int.Parse(shown.Groups["line"].ValueSpan);
        string file = "circuit \"A tank\"\nsensor probe drives IN span 0 V .. 3 V source 220 ohm\nresistor R2 from PIN to GND 10k"
            + new string('\n', line - 3)
            + shown.Groups["source"].Value + "\n";
        var result = CircuitFile.Load(new SourceFile(shown.Groups["file"].Value, file));
        var diagnostic = Assert.Single(result.Diagnostics);
        string[] Unindented(string text) => [.. text.Split('\n').Select(l => l.Trim()).Where(l => l.Length > 0)];
        Assert.Equal(Unindented(shown.Value), Unindented(DiagnosticPrinter.Print(diagnostic)));
    }

    // An example that breaks the program stands in the corpus of failures as well, and is watched there.
    private static bool IsKnown(string text) =>
        KnownFailures.Of(Repository).Any(k => Text(Path.Combine(KnownFailures.Folder(Repository), k.Name)) == text);

    private static string Text(string page) => File.ReadAllText(page).ReplaceLineEndings("\n");

    [GeneratedRegex("```fes\n(.*?)```", RegexOptions.Singleline)]
    private static partial Regex Blocks();

    [GeneratedRegex("`([^`]+)`")]
    private static partial Regex Code();

    [GeneratedRegex(@"^    (?<file>\w+\.fes)\((?<line>\d+),(?<column>\d+)\): error FES.*\n +\d+ \| (?<source>.*)\n.*\n +expected: .*$",
        RegexOptions.Multiline)]
    private static partial Regex Message();
}
