using System.Text;
using System.Text.Json.Serialization.Metadata;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Bias;
using FrontEndSim.FrontEnds.Studies.Budget;
using FrontEndSim.FrontEnds.Studies.Build;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Compare;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.FrontEnds.Studies.Explain;
using FrontEndSim.FrontEnds.Studies.Faults;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Respond;
using FrontEndSim.Reporting.Json;
using FrontEndSim.Reporting.Pages;

namespace FrontEndSim.Reporting.Tests;

/// <summary>
/// docs/output.md tells scripts the keys, units and meanings of what is written: its tables are made from the records themselves. With
/// FRONTENDSIM_REWRITE_DOCS=1 the test writes them.
/// </summary>
public partial class OutputPageTests
{
    private const string Begin =
        "<!-- The tables from here on are made from the records: FRONTENDSIM_REWRITE_DOCS=1 dotnet test "
            + "tests/FrontEndSim.Reporting.Tests -->";

    private static readonly string Page = Path.Combine(Root(), "docs", "output.md");

    private static readonly (string Verb, Type Record)[] Verbs =
    [
        ("check", typeof(CheckResult)), ("check of several files", typeof(FileChecks)), ("bias", typeof(BiasResult)),
            ("sweep", typeof(SensorSweep)), ("events", typeof(EventRuns)),
        ("faults", typeof(FaultsResult)), ("explain", typeof(ExplainResult)), ("budget", typeof(BudgetResult)),
            ("respond", typeof(RespondResult)), ("design", typeof(DesignAnswer)),
        ("design of a sensor's resistor", typeof(DividerAnswer)),
        ("build", typeof(BuildResult)), ("compare", typeof(CompareResult)), ("parts", typeof(TypeSheets)),
    ];

    // What a number's key ends with, and its unit.
    private static readonly (string Ending, string Unit)[] Units =
    [
        ("VoltsPerKelvin", "V/K"), ("VoltsPerSecond", "V/s"), ("CountsPerHundredth", "counts"), ("Microvolts", "µV"), ("Volts", "V"),
            ("Amps", "A"), ("Ohms", "ohm"), ("Watts", "W"),
        ("Joules", "J"), ("Coulombs", "C"), ("Seconds", "s"), ("Hertz", "Hz"), ("Celsius", "°C"), ("Kelvin", "K"), ("Farads", "F"),
            ("Counts", "counts"), ("Decibels", "dB"),
        ("Degrees", "degrees"), ("Attenuation", "dB"), ("TempCo", "1/K"), ("At", "s in an event, V of the sensor elsewhere"),
            ("Code", "counts"), ("AtRest", "V"),
    ];

    [Fact]
    public void The_page_lists_the_keys_units_and_meanings_of_what_is_written()
    {
        string page = File.ReadAllText(Page), made = Begin + "\n\n" + Tables();
        int at = page.IndexOf(Begin, StringComparison.Ordinal);
        if (Environment.GetEnvironmentVariable("FRONTENDSIM_REWRITE_DOCS") == "1")
            File.WriteAllText(Page, (at < 0 ? page.TrimEnd() + "\n\n" : page[..at]) + made);
        else
            Assert.Equal(made, at < 0 ? "" : page[at..]);
    }

    [Fact]
    public void Keys_follow_one_naming_policy() => Assert.All(Reached()
        .SelectMany(t => t.Properties), p => Assert.Matches("^[a-z][A-Za-z0-9]*$", p.Name));

    [Fact]
    public void Every_record_is_shaped_at_compile_time() =>
        Assert.All(Verbs, v => Assert.NotNull(RecordJson.Options.GetTypeInfo(v.Record)));

    private static string Tables()
    {
        var text = new StringBuilder("## What each verb writes as JSON\n\n| verb | an object of |\n|---|---|\n");
        foreach (var (verb, record) in Verbs)
            text.Append($"| `{verb}` | [{record.Name}](#{record.Name.ToLowerInvariant()}) |\n");
        foreach (var type in Reached().OrderBy(t => t.Type.Name, StringComparer.Ordinal))
        {
            text.Append($"\n### {type.Type.Name}\n\n{Meaning(type.Type)}\n\n");
            if (type.PolymorphismOptions is { } kinds)
                text.Append($"One of {string.Join(", ", kinds.DerivedTypes.Select(d => $"[{d.DerivedType.Name}](#{d.DerivedType.Name.ToLowerInvariant()})"))}; its key `kind` says which.\n");
            if (type.Properties.Count == 0)
                continue;
            text.Append("| key | holds | meaning |\n|---|---|---|\n");
            foreach (var property in type.Properties)
                text.Append($"| `{property.Name}` | {Holds(property.PropertyType, property.Name)} | {Meaning(type.Type, property.Name)} "
                    + $"|\n");
        }
        return text.ToString();
    }

    /// <summary>The records that are written as objects, from those of the verbs on.</summary>
    private static List<JsonTypeInfo> Reached()
    {
        var found = new List<JsonTypeInfo>();
        var open = new Queue<Type>(Verbs.Select(v => v.Record));
        var seen = new HashSet<Type>();
        while (open.TryDequeue(out var type))
        {
            if (!seen.Add(type))
                continue;
            if (Element(type) is { } element)
            {
                open.Enqueue(element);
                continue;
            }
            var info = RecordJson.Options.GetTypeInfo(type);
            if (info.Kind != JsonTypeInfoKind.Object)
                continue;
            found.Add(info);
            foreach (var property in info.Properties)
                open.Enqueue(property.PropertyType);
            foreach (var kind in info.PolymorphismOptions?.DerivedTypes ?? [])
                open.Enqueue(kind.DerivedType);
        }
        return found;
    }

    /// <summary>Of what a list, a dictionary or something that may be null is made.</summary>
    private static Type? Element(Type type) => !type.IsGenericType
        || RecordJson.Options.GetTypeInfo(type).Kind == JsonTypeInfoKind.Object ? null : type.GetGenericArguments()[^1];

    private static string Holds(Type type, string key)
    {
        if (Nullable.GetUnderlyingType(type) is { } bare)
            return Holds(bare, key) + " or null";
        var info = RecordJson.Options.GetTypeInfo(type);
        if (Element(type) is { } element)
            return (info.Kind == JsonTypeInfoKind.Dictionary ? "by name: " : "list of ") + Holds(element, key);
        return type == typeof(string) ? "text" : type == typeof(bool) ? "true or false" : type == typeof(double) ? Number(key)
            : type == typeof(int) || type == typeof(long) ? "whole number"
            : type == typeof(Quantity) ? "`value` with `unit`" : type == typeof(Stage) ? "`name`, `kind`, `parts` by name" : type.IsEnum
                ? string.Join(", ", Enum.GetNames(type).Select(n => $"`{n}`"))
            : info.Kind == JsonTypeInfoKind.Object ? $"[{type.Name}](#{type.Name.ToLowerInvariant()})" : "name";
    }

    private static string Number(string key)
    {
        string pascal = char.ToUpperInvariant(key[0]) + key[1..];
        return Units.FirstOrDefault(u => pascal.EndsWith(u.Ending, StringComparison.Ordinal)) is { Unit: { } unit } ? unit : "number";
    }

    private static readonly Dictionary<string, XElement> Documented = new[]
        { "FrontEndSim.Engine", "FrontEndSim.FrontEnds", "FrontEndSim.Reporting" }
        .SelectMany(a => XDocument.Load(Path.Combine(AppContext.BaseDirectory, a + ".xml")).Descendants("member"))
            .ToDictionary(m => m.Attribute("name")!.Value);

    private static string Meaning(Type type) => Documented.TryGetValue("T:" + type.FullName, out var member)
        ? Words(member.Element("summary")) : "";

    private static string Meaning(Type type, string key)
    {
        string name = char.ToUpperInvariant(key[0]) + key[1..];
        for (var of = type; of is not null; of = of.BaseType)
        {
            if (Documented.TryGetValue($"P:{of.FullName}.{name}", out var property) && property.Element("summary") is { } summary)
                return Words(summary);
            if (Documented.TryGetValue("T:" + of.FullName, out var record)
                && record.Elements("param").FirstOrDefault(p => p.Attribute("name")!.Value == name) is { } param)
                return Words(param);
        }
        return "";
    }

    private static string Words(XElement? text)
    {
        if (text is null)
            return "";
        string words = string.Concat(text.Nodes().Select(n => n is XElement e
            ? "`" + (e.Attribute("cref") ?? e.Attribute("name"))?.Value.Split('.')[^1].Split('(')[0] + "`" : n is XText t ? t.Value : ""));
        return Spaces().Replace(words, " ").Trim().Replace("|", "\\|");
    }

    private static string Root()
    {
        string folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "FrontEndSim.sln")))
            folder = Path.GetDirectoryName(folder)!;
        return folder;
    }

    [GeneratedRegex(@"\s+")]
    private static partial Regex Spaces();
}
