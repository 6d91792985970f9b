using System.Text.RegularExpressions;

namespace FrontEndSim.EndToEnd.Tests;

/// <summary>The page of checks names tests and scripts that exist.</summary>
public partial class VerificationPageTests
{
    private static readonly string Page = File.ReadAllText(Path.Combine(Repository.Root, "docs", "verification.md"));

    private static readonly string Tests = string.Concat(Directory.EnumerateFiles(Path.Combine(Repository.Root, "tests"), "*.cs",
        SearchOption.AllDirectories)
        .Where(f => !f.Contains($"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}", StringComparison.Ordinal))
            .Select(File.ReadAllText));

    public static TheoryData<string> Named => [.. TestName().Matches(Page).Select(m => m.Groups[1].Value).Distinct()];

    public static TheoryData<string> Scripts => [.. ScriptName().Matches(Page).Select(m => m.Groups[1].Value).Distinct()];

    [Theory]
    [MemberData(nameof(Named))]
    public void Every_test_that_the_page_names_exists(string test) => Assert.Contains($" {test}(", Tests);

    [Theory]
    [MemberData(nameof(Scripts))]
    public void Every_script_that_the_page_names_exists(string script) =>
        Assert.True(File.Exists(Path.Combine(Repository.Root, "tests", "reference", script)), script);

    // Test names are sentences with underscores, behind their class or an ellipsis.
    [GeneratedRegex(@"`(?:\w+\.|…)?([A-Z]\w*_\w+)`")]
    private static partial Regex TestName();

    [GeneratedRegex(@"`(?:tests/reference/)?(\w+\.py)")]
    private static partial Regex ScriptName();
}
