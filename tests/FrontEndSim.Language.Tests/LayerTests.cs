using System.Text.RegularExpressions;

namespace FrontEndSim.Language.Tests;

/// <summary>The folders of the language know each other one way: text, syntax, forms, binding, writing.</summary>
public partial class LayerTests
{
    // Each may use those before it.
    private static readonly string[] Order = ["Text", "Syntax", "Forms", "Binding.Scopes", "Binding.Statements", "Binding", "Writing"];

    internal static string[] Sources() => [.. Directory.EnumerateFiles(Path.Combine(Reading.Repository, "src", "FrontEndSim.Language"),
        "*.cs",
        SearchOption.AllDirectories).Where(f => !f.Contains($"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}"))];

    [Fact]
    public void A_folder_uses_only_those_ahead_of_it()
    {
        foreach (string file in Sources())
        {
            string text = File.ReadAllText(file);
            string own = Own().Match(text).Groups[1].Value;
            int place = Array.IndexOf(Order, own);
            Assert.True(place >= 0, $"{file}: the namespace {own} has no place in the order");
            foreach (Match use in Used().Matches(text))
                Assert.True(Array.IndexOf(Order, use.Groups[1].Value) < place, $"{file} uses {use.Groups[1].Value}");
        }
    }

    [GeneratedRegex(@"^namespace FrontEndSim\.Language\.([\w.]+);", RegexOptions.Multiline)]
    private static partial Regex Own();

    [GeneratedRegex(@"^using (?:\w+ = )?FrontEndSim\.Language\.(Text|Syntax|Forms|Writing|Binding(?:\.\w+)?)\b", RegexOptions.Multiline)]
    private static partial Regex Used();
}
