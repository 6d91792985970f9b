using System.Reflection;
using System.Text.RegularExpressions;
using System.Xml.Linq;

namespace FrontEndSim.EndToEnd.Tests;

/// <summary>Holds the direction of the house: text, front end, circuit, solution, report; each layer knows those before it.</summary>
public class LayeringTests
{
    /// <summary>The layers from the ground up, each with the libraries that it alone may add.</summary>
    private static readonly (string Name, string Assembly, string[] Packages)[] Layers =
    [
        ("FrontEndSim.Engine", "FrontEndSim.Engine", ["MathNet.Numerics"]),
        ("FrontEndSim.FrontEnds", "FrontEndSim.FrontEnds", ["MathNet.Numerics"]),
        ("FrontEndSim.Language", "FrontEndSim.Language", ["Sep", "Sprache"]),
        ("FrontEndSim.Reporting", "FrontEndSim.Reporting", ["ScottPlot", "SkiaSharp"]),
        ("FrontEndSim.LiveBench", "FrontEndSim.LiveBench", []),
        ("FrontEndSim.Cli", "frontendsim", ["System.CommandLine", "Spectre.Console", "Spectre.Console.Ansi"]),
    ];

    public static TheoryData<string> Names => [.. Layers.Select(l => l.Name)];

    [Theory, MemberData(nameof(Names))]
    public void A_project_refers_only_to_the_layers_below_it_and_to_its_own_libraries(string name)
    {
        int place = Place(name);
        var project = XDocument.Load(Path.Combine(Repository.Root, "src", name, name + ".csproj"));
        string[] projects = [.. project.Descendants("ProjectReference")
            .Select(r => Path.GetFileNameWithoutExtension(r.Attribute("Include")!.Value))];
        string[] packages = [.. project.Descendants("PackageReference").Select(r => r.Attribute("Include")!.Value)];
        Assert.Subset(Layers.Take(place).Select(l => l.Name).ToHashSet(), projects.ToHashSet());
        Assert.Subset(Layers[place].Packages.ToHashSet(), packages.ToHashSet());
    }

    // A library reaches the layers above through the project references too, so the compiled code is asked as well.
    [Theory, MemberData(nameof(Names))]
    public void Compiled_code_uses_only_the_layers_below_it_and_its_own_libraries(string name)
    {
        int place = Place(name);
        var assembly = Assembly.LoadFrom(Path.Combine(AppContext.BaseDirectory, Layers[place].Assembly + ".dll"));
        var foreign = assembly.GetReferencedAssemblies().Select(r => r.Name!)
            .Where(r => !IsFramework(r) && !(name == "FrontEndSim.LiveBench" && IsWeb(r))).ToHashSet();
        Assert.Subset(Layers.Take(place).Select(l => l.Assembly).Concat(Layers[place].Packages).ToHashSet(), foreign);
    }

    [Fact]
    public void Every_project_under_src_is_one_of_the_layers()
    {
        var folders = Directory.GetDirectories(Path.Combine(Repository.Root, "src")).Select(Path.GetFileName).ToHashSet();
        Assert.Equal(Layers.Select(l => l.Name).ToHashSet(), folders!);
    }

    [Fact]
    public void Reporting_runs_no_simulation()
    {
        string[] runs = ["Study.Run(", "SolvedFrontEnd", ".ToCircuit(", ".Compile(", ".RunTransient(", ".SolveOperatingPoint(",
            ".SolveSmallSignal(", ".Sweep(", ".SweepTrials("];
        Assert.All(Sources("FrontEndSim.Reporting"), f => Assert.DoesNotContain(runs, File.ReadAllText(f).Contains));
    }

    // Names of three words ("loop-receiver burden resistor") are rare enough to be made of data too.
    private const int WordsOfASentence = 3;

    [Fact]
    public void Studies_return_numbers_and_reasons_and_no_sentences() => Assert.Empty(Sources("FrontEndSim.FrontEnds", "Studies")
        .SelectMany(f => Literals.Of(File.ReadAllText(f)).Where(t => Words(t) >= WordsOfASentence)
            .Select(t => $"{Path.GetFileName(f)}: {t}")));

    private const int LongestLine = 140;

    [Fact]
    public void Lines_are_short_enough_to_be_read() =>
        Assert.DoesNotContain(Layers.SelectMany(l => Sources(l.Name)), f => File.ReadLines(f).Any(l => l.Length > LongestLine));

    [Theory, MemberData(nameof(Names))]
    public void Namespaces_follow_folders(string name) => Assert.All(Sources(name), file =>
    {
        string? space = File.ReadLines(file).FirstOrDefault(l => l.StartsWith("namespace "))?["namespace ".Length..].TrimEnd(';');
        string folder = Path.GetRelativePath(Path.Combine(Repository.Root, "src"), Path.GetDirectoryName(file)!)
            .Replace(Path.DirectorySeparatorChar, '.');
        Assert.True(space is null || space == folder, $"{file}: {space}");
    });

    // `Text/Lexer` or `Syntax/Grammar.Value`: a folder, a file, and what it has.
    [Fact]
    public void The_ways_through_the_house_name_files_that_are_there()
    {
        string ways = File.ReadAllText(Path.Combine(Repository.Root, "DEVELOPERS.md")).Split("## Three ways through")[1].Split("\n## ")[0];
        string[] files = [.. Layers.SelectMany(l => Sources(l.Name)).Select(f => f.Replace(Path.DirectorySeparatorChar, '/'))];
        Assert.All(Regex.Matches(ways, @"`(\w+(?:/\w+)+)(?:\.(\w+))?`"), hop => Assert.Contains(files, f =>
            f.EndsWith($"/{hop.Groups[1].Value}.cs") && File.ReadAllText(f).Contains(hop.Groups[2].Value)));
    }

    private static int Words(string text) => text.Split(' ')
        .Count(w => w.Length > 0 && w.All(c => char.IsLetter(c) || c is ',' or '.' or ':' or ';' or '\''));

    private static IEnumerable<string> Sources(string name, string within = "")
    {
        string folder = Path.Combine(Repository.Root, "src", name);
        return Directory.GetFiles(Path.Combine(folder, within), "*.cs", SearchOption.AllDirectories)
            .Where(f => Path.GetRelativePath(folder, f).Split(Path.DirectorySeparatorChar)[0] is not ("obj" or "bin"));
    }

    private static int Place(string name) => Array.FindIndex(Layers, l => l.Name == name);

    // A package named like the framework must not hide among its assemblies.
    private static bool IsFramework(string assembly) =>
        (assembly.StartsWith("System.") && assembly != "System.CommandLine")
            || assembly is "netstandard" or "mscorlib" or "System" or "Microsoft.Win32.Primitives";

    // Part of .NET, and for the live page alone.
    private static bool IsWeb(string assembly) => assembly == "Microsoft.AspNetCore" || assembly.StartsWith("Microsoft.AspNetCore.")
        || assembly.StartsWith("Microsoft.Extensions.");
}
