using System.Text.RegularExpressions;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Language.Tests;

public partial class DiagnosticCodeTests
{
    [Fact]
    public void Each_code_has_one_meaning() =>
        Assert.All(DiagnosticCode.All.GroupBy(c => c.Text)
            .Concat(DiagnosticCode.All.GroupBy(c => c.Meaning)), group => Assert.Single(group));

    [Fact]
    public void The_page_of_the_language_lists_each_code_with_its_meaning_and_no_other()
    {
        string page = File.ReadAllText(Path.Combine(Reading.Repository, "docs", "language.md"));
        string[] listed = [.. Row().Matches(page).Select(m => $"{m.Groups[1].Value} {m.Groups[2].Value}")];
        Assert.Equal(DiagnosticCode.All.Select(c => $"{c.Text} {c.Meaning}"), listed);
    }

    [Fact]
    public void Codes_stand_in_the_catalogue_alone()
    {
        foreach (string file in LayerTests.Sources().Where(f => Path.GetFileName(f) != "DiagnosticCode.cs"))
            Assert.DoesNotMatch(Literal(), File.ReadAllText(file));
    }

    [Fact]
    public void Each_code_is_used()
    {
        string[] texts = [.. LayerTests.Sources().Where(f => Path.GetFileName(f) != "DiagnosticCode.cs").Select(File.ReadAllText)];
        string catalogue = File.ReadAllText(LayerTests.Sources().Single(f => Path.GetFileName(f) == "DiagnosticCode.cs"));
        foreach (Match name in Declared().Matches(catalogue))
            Assert.Contains(texts, t => Regex.IsMatch(t, $@"DiagnosticCode\.{name.Groups[1].Value}\b"));
    }

    [GeneratedRegex(@"^\| (FES\d{3}) \| (.*) \|$", RegexOptions.Multiline)]
    private static partial Regex Row();

    [GeneratedRegex(@"""FES\d{3}""")]
    private static partial Regex Literal();

    [GeneratedRegex(@"DiagnosticCode (\w+) = new")]
    private static partial Regex Declared();
}
