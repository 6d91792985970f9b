using System.Text.RegularExpressions;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.Language.Binding;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Language.Tests;

public partial class DocumentTests
{
    private static readonly string Page = File.ReadAllText(Path.Combine(Reading.Repository, "docs", "language.md"))
        .ReplaceLineEndings("\n");

    /// <summary>The page on one line, as forms may be broken across lines.</summary>
    private static readonly string Flat = Page.Replace("\n", " ");

    public static TheoryData<string> Examples => [.. Blocks().Matches(Page).Select(m => m.Groups[1].Value)];

    public static TheoryData<string> Statements => [.. LanguageReference.Statements.Select(s => s.Keyword)];

    [Theory]
    [MemberData(nameof(Examples))]
    public void Each_example_of_the_page_is_a_circuit_without_a_complaint(string text)
    {
        var result = Reading.Load(text);
        Assert.True(result.Diagnostics.IsEmpty, DiagnosticPrinter.Print(result.Diagnostics));
    }

    [Theory]
    [MemberData(nameof(Statements))]
    public void Each_statement_is_on_the_page_with_its_form_and_in_an_example(string keyword)
    {
        var statement = LanguageReference.Statements.Single(s => s.Keyword == keyword);
        Assert.Contains($"### {keyword}\n", Page);
        Assert.Contains($"`{statement.Form}`", Flat);
        foreach (string addition in statement.Additions)
            Assert.Contains($"- `{addition}`", Page);
        if (keyword != "include")
            Assert.Contains(Blocks().Matches(Page), m => Regex.IsMatch(m.Groups[1].Value, $@"^\s*{keyword} ", RegexOptions.Multiline));
    }

    [Fact]
    public void Each_setting_of_each_kind_of_stage_and_part_is_on_the_page()
    {
        foreach (var kind in StageKinds.All)
        {
            int start = Page.IndexOf($"#### {kind.Name}\n", StringComparison.Ordinal);
            Assert.True(start >= 0, kind.Name);
            string section = Page[start..Page.IndexOf("\n#", start + 5, StringComparison.Ordinal)];
            Assert.All(LanguageReference.SettingsOf(kind), setting => Assert.Contains($"- `{setting}`", section));
        }
        foreach (var (_, settings) in LanguageReference.PartKinds)
            Assert.All(settings, setting => Assert.Contains($"- `{setting}`", Page));
    }

    [Fact]
    public void Each_spread_that_is_taken_where_nothing_is_written_is_on_the_page() =>
        Assert.All(UsualSpread.All, u => Assert.Contains($"| {u.Of} | {u.Text} | {u.Source} |\n", Page));

    [Fact]
    public void A_tolerance_that_is_left_out_counts_where_readings_are_judged_and_says_so()
    {
        const string circuit = """
            circuit "bench"
            rail VDD 3.3 V
            sensor s drives IN span 0 V .. 6 V
            resistor R1 from IN to PIN 10k
            resistor R2 from PIN to GND 10k 0%
            pin adc at PIN converts 12 bits over 0 V .. VDD

            """;
        var reading = FrontEnds.Studies.Check.CheckStudy.Run(Reading.FrontEnd(circuit + "require adc reading error under 1 V"))
            .Requirements.Single();
        string[] sources = [.. Assert.IsType<FrontEnds.Studies.Check.ReadingReason>(reading.Reason).Spread.Sources.Select(s => s.Name)];
        Assert.Contains("R1 tolerance (±5 % taken)", sources);
        Assert.Contains("VDD tolerance (±5 % taken)", sources);
        Assert.DoesNotContain(sources, s => s.StartsWith("R2 tolerance", StringComparison.Ordinal));
        // By hand at the end of the span: half of the rail low by 5 %, and R1 low: 2 · 10/19.5 / 0.95.
        Assert.Equal(6 * (2 * 10 / 19.5 / 0.95 - 1), reading.Found!.Value.Value, 3e-3);
    }

    [GeneratedRegex("```fes\n(.*?)```", RegexOptions.Singleline)]
    private static partial Regex Blocks();
}
