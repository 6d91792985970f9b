using System.Text;
using System.Text.RegularExpressions;

namespace FrontEndSim.Fuzz;

/// <summary>What mutations start from: the shipped circuits, the examples of the docs, the adversarial circuits, and their words.</summary>
internal sealed partial class Seeds
{
    private Seeds(IEnumerable<string> texts)
    {
        Texts = [.. texts];
        Lines = [.. Texts.SelectMany(t => t.Split('\n')).Where(l => l.Trim().Length > 0 && l.TrimStart()[0] != '#').Distinct()];
        Words = [.. Lines.SelectMany(l => Word().Matches(l).Select(m => m.Value)).Distinct(), .. Extremes];
    }

    /// <summary>Whole files.</summary>
    public IReadOnlyList<string> Texts { get; }

    /// <summary>Their lines, with their indentation.</summary>
    public IReadOnlyList<string> Lines { get; }

    /// <summary>Their words, numbers and signs, and extreme ones.</summary>
    public IReadOnlyList<string> Words { get; }

    /// <summary>The seeds in a clone.</summary>
    public static Seeds Of(string repository)
    {
        var files = new[] { "circuits", Path.Combine("tests", "adversary") }
            .SelectMany(f => Directory.EnumerateFiles(Path.Combine(repository, f), "*.fes", SearchOption.AllDirectories))
                .Order(StringComparer.Ordinal);
        var pages = Directory.EnumerateFiles(Path.Combine(repository, "docs"), "*.md").Order(StringComparer.Ordinal);
        return new(files.Select(File.ReadAllText).Concat(pages.SelectMany(p => Blocks().Matches(File.ReadAllText(p))
            .Select(m => m.Groups[1].Value))));
    }

    /// <summary>The clone that a program stands in; null where no folder above it is one.</summary>
    /// <param name="folder">The folder of the program.</param>
    public static string? RepositoryOf(string folder) => File.Exists(Path.Combine(folder, "FrontEndSim.sln")) ? folder
        : Path.GetDirectoryName(folder) is { } above ? RepositoryOf(above) : null;

    /// <summary>The clone that the fuzzer stands in.</summary>
    /// <exception cref="DirectoryNotFoundException">It stands in none.</exception>
    public static string Repository => RepositoryOf(AppContext.BaseDirectory) ?? throw new DirectoryNotFoundException(
        $"The fuzzer mutates the circuits of a clone, and no folder above "
            + $"{AppContext.BaseDirectory} holds FrontEndSim.sln: build it inside one.");

    // What has broken programs before: ends of ranges, empty things, signs out of place, other alphabets.
    private static readonly string[] Extremes =
    [
        "0", "-0", "0 V", "0 ohm", "0 s", "0 F", "1e308 V", "-1e308 V", "1e-320 V", "1e30 s", "1e-30 s", "1e18 ohm", "1e-18 ohm", "1e12 F",
        "1e-21 F", "1e15 Hz", "0 Hz", "999999999999999999999", "65535", "2147483648", "-1", "100%", "0%", "-5%", "1e9%", "-300 C", "1e6 C",
        "..", "\"", "\"\"", "(", ")", ",", "=", "/", "*", "-", "+", "#", "\t", "    ", "µ", "Ω", "°", "\u0000", "\u202e", "\ufeff", "GND",
        "24 bits", "64 bits", "0 bits", "1 counts", "1e5 counts", new string('A', 300), "1/0 V",
    ];

    [GeneratedRegex("```fes\n(.*?)```", RegexOptions.Singleline)]
    private static partial Regex Blocks();

    [GeneratedRegex("""
        "[^"]*"|[A-Za-z_][\w.-]*|\d[\w.]*\s?(?:[pnuµmkMG]?(?:V|A|ohm|F|H|W|J|s|Hz|counts|bits)\b|%)?|\.\.|\S
        """, RegexOptions.IgnorePatternWhitespace)]
    private static partial Regex Word();

    /// <summary>The places of the words of a text.</summary>
    public static IReadOnlyList<Range> WordsOf(string text) => [.. Word().Matches(text).Select(m => m.Index..(m.Index + m.Length))];

    /// <summary>A text as the bytes of a file.</summary>
    public static byte[] Bytes(string text) => Encoding.UTF8.GetBytes(text);
}
