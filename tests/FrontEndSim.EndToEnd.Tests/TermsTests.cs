using System.Text.RegularExpressions;

namespace FrontEndSim.EndToEnd.Tests;

/// <summary>docs/terms.md lists the trade's terms; nothing that a person reads uses another word.</summary>
public partial class TermsTests
{
    private static readonly string Docs = Path.Combine(Repository.Root, "docs");

    // Whole words, however they are spaced; … stands for what is said between.
    private static readonly (string Words, Regex Pattern)[] Refused =
        [.. File.ReadLines(Path.Combine(Docs, "terms.md")).Where(l => l.StartsWith('|'))
            .SelectMany(l => Quoted().Matches(l.Split('|')[3]).Select(m => m.Groups[1].Value))
            .Select(w => (w, new Regex(@"\b" + Regex.Escape(w).Replace(@"\ ", @"\s+").Replace("…", ".{1,40}?") + @"\b",
                RegexOptions.IgnoreCase)))];

    // What a file says with letters of a keyboard is printed with the unit's symbol.
    [GeneratedRegex(@"\d\s*(?:[kM]?ohms?|u[FAHVWs]|deg ?C)\b")]
    private static partial Regex TypedUnit();

    [Fact]
    public void The_list_has_terms() => Assert.True(Refused.Length > 10);

    [Theory]
    [InlineData("stands 615 % of its rated power", "stands … of its rated")]
    [InlineData("read low for certain", "certain")]
    [InlineData("At rest, with the sensor at mid-span", "at rest")]
    [InlineData("The output of a opamp", "a opamp")]
    public void A_word_that_is_not_the_trade_s_is_found(string said, string words) =>
        Assert.Contains($"here: {words}", Uses("here", said));

    [Fact]
    public void An_uncertainty_is_not_taken_for_it() => Assert.Empty(Uses("here", "the standard uncertainty of 10 trials"));

    [Theory]
    [InlineData("logic-input.fes")]
    [InlineData("greenhouse-probe-unguarded.fes")]
    [InlineData("press-pressure.fes")]
    public void What_is_printed_of_a_circuit_uses_the_terms_and_the_units_symbols(string circuit)
    {
        string[][] verbs =
            [["check", "--details"], ["bias"], ["sweep"], ["events"], ["explain"], ["budget"], ["respond"], ["faults"], ["build"]];
        foreach (string[] verb in verbs)
        {
            string said = Frontendsim.Run([verb[0], Frontendsim.Circuit(circuit), .. verb[1..]]).Output;
            Assert.Empty(Uses(verb[0], said));
            // A requirement is quoted as it was typed, and a C comment keeps to ASCII.
            if (verb[0] is not ("check" or "build"))
                Assert.Empty(TypedUnit().Matches(said).Select(m => m.Value));
        }
    }

    [Fact]
    public void Documents_use_the_terms() => Assert.Empty(Directory.GetFiles(Docs, "*.md").Where(f => Path.GetFileName(f) != "terms.md")
        .Append(Path.Combine(Repository.Root, "README.md")).Concat(Directory.GetFiles(Path.Combine(Repository.Root, "circuits"), "*.fes"))
        .SelectMany(f => Uses(Path.GetFileName(f), File.ReadAllText(f))));

    [Fact]
    public void Texts_of_the_program_use_the_terms() => Assert.Empty(new[]
        { "FrontEndSim.Reporting", "FrontEndSim.Cli", "FrontEndSim.LiveBench", "FrontEndSim.Language", "FrontEndSim.FrontEnds" }
        .Select(p => Path.Combine(Repository.Root, "src", p)).Where(Directory.Exists)
            .SelectMany(p => Directory.GetFiles(p, "*.?s", SearchOption.AllDirectories))
        .Where(f => !f.Contains($"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}"))
        .SelectMany(f => Uses(Path.GetFileName(f), string.Join('\n', File.ReadLines(f)
            .Where(l => !l.TrimStart().StartsWith("//") && (f.EndsWith(".js", StringComparison.Ordinal) || l.Contains('"')))))));

    private static IEnumerable<string> Uses(string file, string text) =>
        Refused.Where(r => r.Pattern.IsMatch(text)).Select(r => $"{file}: {r.Words}");

    [GeneratedRegex("`([^`]+)`")]
    private static partial Regex Quoted();
}
