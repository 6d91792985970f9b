using FrontEndSim.Language.Binding;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Language.Tests;

public class DiagnosticTests
{
    /// <summary>
    /// Each file of the corpus says in comments what should be said about it: # expect (line,column) CODE text of the message or the
    /// suggestion.
    /// </summary>
    public static TheoryData<string> Corpus => [.. Directory.EnumerateFiles(Folder, "*.fes").Select(f => Path.GetFileName(f)!).Order()];

    private static string Folder => Path.Combine(Reading.Repository, "tests", "FrontEndSim.Language.Tests", "Wrong");

    [Theory]
    [MemberData(nameof(Corpus))]
    public void A_wrong_file_is_answered_as_its_comments_say(string name)
    {
        var result = CircuitFile.Load(Path.Combine(Folder, name));
        var said = result.Diagnostics.ToList();
        var expected = result.Files[0].Lines.Where(l => l.StartsWith("# expect ")).Select(l => l["# expect ".Length..]).ToList();
        Assert.NotEmpty(expected);
        foreach (string line in expected)
        {
            string[] parts = line.Split(' ', 3);
            int found = said.FindIndex(d => $"({d.Line},{d.Column})" == parts[0] && d.Code == parts[1]
                && DiagnosticPrinter.Print(d).Contains(parts[2]));
            Assert.True(found >= 0, $"missing: {line}\n{DiagnosticPrinter.Print(result.Diagnostics)}");
            said.RemoveAt(found);
        }
        Assert.True(said.Count == 0, "not expected:\n" + DiagnosticPrinter.Print(said));
    }

    [Fact]
    public void A_diagnostic_shows_the_line_and_a_caret_under_the_place()
    {
        var wrong =
            Reading.OnlyDiagnostic("circuit \"c\"\nrail VDD 5 V\nsensor s drives IN span 0 V .. 1 V\nresistor R1 from IN to VDD 10 nF");
        Assert.Equal("""
            test.fes(4,28): error FES315: This is a capacitance (10 nF), but a resistance is needed here.
                4 | resistor R1 from IN to VDD 10 nF
                  |                            ^^^^^
                expected: a resistance, such as 4.7 kohm or 4k7
            """.ReplaceLineEndings("\n"), DiagnosticPrinter.Print(wrong));
    }

    [Fact]
    public void The_caret_stays_under_its_character_behind_tabs()
    {
        string[] lines = DiagnosticPrinter.Print(Reading.OnlyDiagnostic("circuit \"c\"\nsensor s drives GND\n\tspan\t0 A .. 1 V"))
            .Split('\n');
        Assert.Equal("    3 | \tspan\t0 A .. 1 V", lines[1]);
        Assert.Equal("      | \t    \t^^^", lines[2]);
    }

    [Fact]
    public void A_long_line_is_shown_around_the_place()
    {
        var wrong = Reading.Load("let a = " + string.Concat(Enumerable.Repeat("1 V + ", 100)) + "1 A").Diagnostics.First(d => d.IsError);
        Assert.All(DiagnosticPrinter.Print(wrong).Split('\n'), line => Assert.True(line.Length < 140));
    }

    // An escape sequence, and a right-to-left override that would show the rest of the line turned round.
    [Theory]
    [InlineData('\u001b')]
    [InlineData('\u202e')]
    public void What_changes_how_other_text_is_shown_is_not_sent_to_the_terminal(char strange) =>
        Assert.DoesNotContain(strange, DiagnosticPrinter.Print(Reading.Load($"circuit \"{strange}[31m\"\nrail {strange}").Diagnostics));

    [Theory]
    [InlineData("resistr", "resistor")]
    [InlineData("VDDD", "VDD")]
    [InlineData("vdd", "VDD")]
    [InlineData("pin-gaurd", "pin-guard")]
    [InlineData("IN", null)]
    [InlineData("banana", null)]
    public void The_nearest_known_name_is_found(string word, string? near) =>
        Assert.Equal(near, Nearest.Of(word, ["resistor", "capacitor", "VDD", "pin-guard", "OUT"]));
}
