using System.Text.RegularExpressions;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.Language.Writing;

namespace FrontEndSim.Language.Tests;

/// <summary>What a front end says is written, and reads back as the same circuit.</summary>
public partial class FrontEndTextTests
{
    public static TheoryData<string> Circuits =>
    [
        .. Blocks().Matches(File.ReadAllText(Path.Combine(Reading.Repository, "docs", "language.md")).ReplaceLineEndings("\n"))
            .Select(m => m.Groups[1].Value),
        .. Directory.EnumerateFiles(Path.Combine(Reading.Repository, "circuits"), "*.fes").Select(File.ReadAllText)
            .Where(t => !t.Contains("include ")),
    ];

    [Theory]
    [MemberData(nameof(Circuits))]
    public void A_front_end_is_written_and_reads_back_as_the_same(string text)
    {
        if (Reading.Load(text).FrontEnd is not { } read || Regex.IsMatch(text, "^part ", RegexOptions.Multiline))
            return; // a file to be included, or one with types of its own, which are described beside the front end
        string written = FrontEndText.Of(read, ["a comment"]);
        var again = Reading.FrontEnd(written);
        Assert.Equal(Facts(read), Facts(again));
        Assert.Equal(written, FrontEndText.Of(again, ["a comment"])); // and so on for ever
    }

    /// <summary>All that a front end says, in any order; a requirement's own words apart, which are the person's.</summary>
    private static IEnumerable<string> Facts(FrontEnd f) => f.Rails.Select(r => r.ToString()).Concat(f.Sensors.Select(s => s.ToString()))
        .Concat(f.AllParts.Select(Fact)).Concat(f.Pins.Select(p => p.ToString()))
        .Concat(f.Events.Select(e => e.ToString())).Concat(f.Requirements.Select(FrontEndText.Of))
            .Concat(f.Accepted.Select(a => a.ToString()))
        .Append($"{f.Title} {f.Celsius} {f.CelsiusRange}").Order();

    // The role that a stage gives a part is not a property of the part.
    private static string Fact(Part part) => string.Join("; ", (part with { Role = null }).ToElements().Select(e => e.ToString()))
        + string.Join("; ", part.Ratings().Select(r => r.ToString()));

    [GeneratedRegex("```fes\n(.*?)```", RegexOptions.Singleline)]
    private static partial Regex Blocks();
}
