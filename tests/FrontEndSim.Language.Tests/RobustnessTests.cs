using System.Text;
using CsCheck;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.Language.Binding;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Language.Tests;

public class RobustnessTests
{
    private const string Whole = """
        circuit "Everything in one"
        rail VDD 3.3 V tolerance 2%
        rail VN -VDD source-only resistance 1 ohm
        temperature 40 C
        let R = 2 * (4k7 + 1 kohm)
        sensor probe drives IN
            span -1.2 V .. 1.8 V
            source 220 ohm
        template low-pass from A to B with R = 10k, C = 10n, node REF
            resistor R1 from A to B R 1%
            capacitor C1 from B to REF C
        stage f is low-pass
            from IN to MID
            R 22k
            REF GND
        resistor R1 from MID to PIN R 1% rated 0.5 W
        capacitor C1 from PIN to GND 10nF
        diode D1 from PIN to VDD 1N4148
        switch K1 from PIN to VN opens at 1 ms
        pin adc at PIN
            rated -0.3 V .. VDD + 0.3 V
            converts 12 bits over 0 V .. VDD
        event "24 V" at IN step to 24 V source 1 ohm at 1 ms for 50 ms
        require adc inside rating in every event
        require adc mapping error under 4 counts
        """;

    /// <summary>Loads and prints; returns whether there is either a front end or an error.</summary>
    private static bool IsAnswered(string text)
    {
        var result = Reading.Load(text);
        DiagnosticPrinter.Print(result.Diagnostics);
        return result.Diagnostics.Any(d => d.IsError) == (result.FrontEnd is null);
    }

    [Fact]
    public void The_sample_itself_is_right() => Assert.Empty(Reading.Load(Whole).Diagnostics);

    [Fact]
    public void Any_text_gives_a_front_end_or_an_error() => Gen.String.Sample(IsAnswered);

    [Fact]
    public void Any_line_of_known_words_gives_a_front_end_or_an_error()
    {
        string[] words = [.. Whole.Split([' ', '\n'], StringSplitOptions.RemoveEmptyEntries), "\n", "\n    ", "(", ")", "-", "..", "\"",
            "%", ",", "/", "1.2/50"];
        Gen.Int[0, words.Length - 1].Select(i => words[i]).Array[0, 60].Sample(chosen => IsAnswered(string.Join(" ", chosen)));
    }

    [Fact]
    public void A_file_cut_off_anywhere_gives_a_front_end_or_an_error()
    {
        for (int length = 0; length < Whole.Length; length++)
            Assert.True(IsAnswered(Whole[..length]), $"cut off after {length} characters");
    }

    [Fact]
    public void A_file_with_one_wrong_character_gives_a_front_end_or_an_error() =>
        Gen.Select(Gen.Int[0, Whole.Length - 1], Gen.Char).Sample((at, c) => IsAnswered(Whole[..at] + c + Whole[(at + 1)..]));

    [Fact]
    public void A_file_with_a_line_missing_or_twice_gives_a_front_end_or_an_error()
    {
        string[] lines = Whole.Split('\n');
        for (int i = 0; i < lines.Length; i++)
        {
            Assert.True(IsAnswered(string.Join('\n', lines[..i].Concat(lines[(i + 1)..]))));
            Assert.True(IsAnswered(string.Join('\n', lines[..i].Append(lines[i]).Concat(lines[i..]))));
        }
    }

    [Theory]
    [InlineData("let a = (((((((((((((((((((((((((((((((((((((((((1 V)))))))))))))))))))))))))))))))))))))))))", "FES213")]
    [InlineData("a\n b\n  c\n   d\n    e\n     f\n      g\n       h\n        i\n         j", "FES212")]
    public void Deep_nesting_is_refused(string text, string code) => Assert.Contains(Reading.Load(text).Diagnostics, d => d.Code == code);

    [Fact]
    public void A_line_of_a_million_signs_is_refused() =>
        Assert.Contains(Reading.Load("let a = " + new string('-', 1_000_000) + "1 V").Diagnostics, d => d.Code == "FES203");

    [Fact]
    public void Long_sums_and_long_chains_of_lets_do_not_exhaust_the_stack()
    {
        var text = new StringBuilder("circuit \"c\"\n");
        for (int i = 0; i < 300; i++)
            text.Append($"let A{i} = A{i + 1}").Insert(text.Length, " + 1", 300).Append('\n');
        Assert.True(IsAnswered(text + "let A300 = 1"));
    }

    [Fact]
    public void At_most_a_hundred_diagnostics_are_given()
    {
        var text = new StringBuilder("circuit \"c\"\n").Insert(12, "resistr R1 from A to B 1k\n", 5000);
        Assert.Equal(100, Reading.Load(text.ToString()).Diagnostics.Length);
    }

    /// <summary>A front end without regard to the order of its lists and to line numbers.</summary>
    private static string Fingerprint(FrontEnd f) => string.Join("\n",
        f.Rails.Select(r => r.ToString()).Concat(f.Sensors.Select(s => s.ToString())).Concat(f.AllParts.Select(p => p.ToString()))
        .Concat(f.Stages.Select(s => s.Name + s.Kind)).Concat(f.Pins.Select(p => p.ToString())).Concat(f.Events.Select(e => e.ToString()))
        .Concat(f.Requirements.Select(r => r.Text)).Append(f.Celsius.ToString()).Order());

    [Fact]
    public void The_order_of_statements_does_not_matter()
    {
        string[] statements = [.. Whole.Split('\n').Aggregate(new List<string>(), (list, line) =>
        {
            if (line.StartsWith(' '))
                list[^1] += "\n" + line;
            else
                list.Add(line);
            return list;
        })];
        string expected = Fingerprint(Reading.FrontEnd(Whole));
        Gen.Shuffle(statements).Sample(order => Fingerprint(Reading.FrontEnd(string.Join('\n', order))) == expected);
    }

    [Fact]
    public void Reading_ten_times_the_lines_takes_ten_times_the_memory()
    {
        static long Allocated(int lines)
        {
            var text = new StringBuilder("circuit \"c\"\n");
            for (int i = 0; i < lines; i++)
                text.Append($"resistor R{i} from N{i / 2} to GND 4k7 1%\n");
            var file = new SourceFile("test.fes", text.ToString());
            long before = GC.GetAllocatedBytesForCurrentThread();
            Assert.Empty(CircuitFile.Parse(file).Diagnostics);
            return GC.GetAllocatedBytesForCurrentThread() - before;
        }

        Allocated(10);
        Assert.InRange(Allocated(10_000) / (double)Allocated(1_000), 8, 12);
    }
}
