using System.Xml.Linq;
using FrontEndSim.Reporting.Blocks;

namespace FrontEndSim.Reporting;

/// <summary>A file that was judged, for a build server.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Cases">What was judged in it.</param>
public sealed record JUnitSuite(string Name, ImmutableArray<JUnitCase> Cases);

/// <summary>Something that was judged.</summary>
/// <param name="Name">What was asked.</param>
/// <param name="Standing">How it stands.</param>
/// <param name="Message">Why.</param>
public sealed record JUnitCase(string Name, Standing Standing, string Message);

/// <summary>
/// JUnit's XML as build servers read it: a suite a file, a case a requirement; what is not met is a failure, what is not known or could
/// not be read an error.
/// </summary>
public static class JUnit
{
    /// <summary>The text of the file.</summary>
    public static string Of(IReadOnlyList<JUnitSuite> suites)
    {
        var all = suites.SelectMany(s => s.Cases).ToArray();
        var root = new XElement("testsuites", Counts(all),
            suites.Select(s => new XElement("testsuite", new XAttribute("name", Clean(s.Name)), Counts(s.Cases), s.Cases.Select(c =>
            new XElement("testcase", new XAttribute("classname", Clean(s.Name)), new XAttribute("name", Clean(c.Name)), c.Standing switch
            {
                Standing.NotMet => new XElement("failure", new XAttribute("message", Clean(c.Message)), Clean(c.Message)),
                Standing.NotKnown => new XElement("error", new XAttribute("message", Clean(c.Message)), Clean(c.Message)),
                _ => null,
            })))));
        return $"<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{root.ToString().ReplaceLineEndings("\n")}\n";
    }

    private static XAttribute[] Counts(IReadOnlyCollection<JUnitCase> cases) =>
    [
        new("tests", cases.Count), new("failures", cases.Count(c => c.Standing == Standing.NotMet)),
            new("errors", cases.Count(c => c.Standing == Standing.NotKnown)),
    ];

    /// <summary>XML has no control characters.</summary>
    private static string Clean(string words) =>
        string.Concat(words.Select(c => char.IsControl(c) && c is not ('\n' or '\t') || char.IsSurrogate(c) ? '\uFFFD' : c));
}
