using System.Text.RegularExpressions;

namespace FrontEndSim.EndToEnd.Tests;

/// <summary>docs/terms.md says once which edition of each standard is meant.</summary>
public partial class EditionsTests
{
    [Fact]
    public void Every_standard_that_a_page_names_has_its_edition_in_the_list()
    {
        string docs = Path.Combine(Repository.Root, "docs");
        string[] listed = [.. File.ReadLines(Path.Combine(docs, "terms.md")).Where(l => l.StartsWith('|'))
            .Select(l => Standard().Match(l)).Where(m => m.Success && m.Index < 4).Select(m => m.Value)];
        string[] named = [.. Directory.GetFiles(docs, "*.md").SelectMany(f => Standard().Matches(File.ReadAllText(f))).Select(m => m.Value)];
        Assert.True(listed.Length > 10);
        Assert.Empty(named.Except(listed));
    }

    [GeneratedRegex(@"\b(?:IEC \d{5}(?:-\d+)*|ISO \d{4,5}(?:-\d)?|JCGM \d{3}|JESD\w+(?:-\w)?)")]
    private static partial Regex Standard();
}
