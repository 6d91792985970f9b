using System.Text.RegularExpressions;

namespace FrontEndSim.EndToEnd.Tests;

/// <summary>docs/terms.md lists the trade's terms; nothing that a person reads uses another word.</summary>
public partial class TermsTests
{
    private static readonly string Docs = Path.Combine(Repository.Root, "docs");

    private static readonly string[] Refused =
        [.. File.ReadLines(Path.Combine(Docs, "terms.md")).Where(l => l.StartsWith('|'))
            .SelectMany(l => Quoted().Matches(l.Split('|')[3]).Select(m => m.Groups[1].Value))];

    [Fact]
    public void The_list_has_terms() => Assert.True(Refused.Length > 10);

    [Fact]
    public void Documents_use_the_terms() => Assert.Empty(Directory.GetFiles(Docs, "*.md").Where(f => Path.GetFileName(f) != "terms.md")
        .Append(Path.Combine(Repository.Root, "README.md")).SelectMany(f => Uses(Path.GetFileName(f), File.ReadAllText(f))));

    [Fact]
    public void Texts_of_the_program_use_the_terms() => Assert.Empty(new[]
        { "FrontEndSim.Reporting", "FrontEndSim.Cli", "FrontEndSim.LiveBench", "FrontEndSim.Language", "FrontEndSim.FrontEnds" }
        .Select(p => Path.Combine(Repository.Root, "src", p)).Where(Directory.Exists)
            .SelectMany(p => Directory.GetFiles(p, "*.cs", SearchOption.AllDirectories))
        .Where(f => !f.Contains($"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}"))
        .SelectMany(f => Uses(Path.GetFileName(f), string.Join('\n', File.ReadLines(f)
            .Where(l => !l.TrimStart().StartsWith("//") && l.Contains('"'))))));

    private static IEnumerable<string> Uses(string file, string text) =>
        Refused.Where(r => text.Contains(r, StringComparison.OrdinalIgnoreCase)).Select(r => $"{file}: {r}");

    [GeneratedRegex("`([^`]+)`")]
    private static partial Regex Quoted();
}
