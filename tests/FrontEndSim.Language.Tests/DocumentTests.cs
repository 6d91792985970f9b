using System.Text.RegularExpressions;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.Language.Binding;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Language.Tests;

public partial class DocumentTests
{
    private static readonly string Page = File.ReadAllText(Path.Combine(Reading.Repository, "docs", "language.md")).ReplaceLineEndings("\n");

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

    [GeneratedRegex("```fes\n(.*?)```", RegexOptions.Singleline)]
    private static partial Regex Blocks();
}
