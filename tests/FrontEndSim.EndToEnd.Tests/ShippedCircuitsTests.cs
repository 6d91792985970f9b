using System.Text.Json;
using FrontEndSim.Reporting.Plots;

namespace FrontEndSim.EndToEnd.Tests;

/// <summary>The circuits that come with the program do what their scenarios say.</summary>
public class ShippedCircuitsTests
{
    [Theory]
    [InlineData("rain-tank.fes", 0)]
    [InlineData("greenhouse-probe.fes", 0)]
    [InlineData("greenhouse-probe-unguarded.fes", 1)]
    [InlineData("student-summing.fes", 0)]
    [InlineData("vehicle-supply.fes", 0)]
    [InlineData("loop-receiver.fes", 0)]
    [InlineData("logic-input.fes", 0)]
    [InlineData("weather-mast.fes", 0)]
    [InlineData("press-pressure.fes", 0)]
    [InlineData("mains-current.fes", 0)]
    [InlineData("thermistor-bath.fes", 0)]
    [InlineData("kiln-platinum.fes", 0)]
    [InlineData("load-cell.fes", 0)]
    [InlineData("light-meter.fes", 0)]
    [InlineData("thermocouple.fes", 0)]
    [InlineData("motor-hall.fes", 0)]
    public void Check_ends_as_the_scenario_says(string circuit, int exitCode)
    {
        var run = Frontendsim.Run("check", Frontendsim.Circuit(circuit));
        Assert.Equal((exitCode, ""), (run.ExitCode, run.Error));
        Assert.StartsWith(exitCode == 0 ? "+ met" : "- NOT MET", run.Output);
        // One screen: 100 columns, 30 written lines, what the verdict covers and accepts not counted.
        string[] lines = run.Output.TrimEnd().Split('\n');
        Assert.All(lines, l => Assert.InRange(l.Length, 0, 100));
        int scope = Array.FindIndex(lines, l => l.StartsWith("Scope", StringComparison.Ordinal)),
            end = Array.FindIndex(lines, scope, l => l.Trim() == "");
        Assert.InRange(lines.Where((l, k) => l.Trim() != "" && (k < scope || k >= end)).Count(), 1, 30);
    }

    [Fact]
    public void Details_give_the_reason_of_a_requirement_that_holds_and_the_headroom()
    {
        string file = Frontendsim.Circuit("rain-tank.fes"), brief = Frontendsim.Run("check", file)
            .Output, details = Frontendsim.Run("check", file, "--details").Output;
        foreach (string told in new[] { "The largest error is", "shift.U1: output", "into clamps" })
        {
            Assert.Contains(told, details);
            Assert.DoesNotContain(told, brief);
        }
    }

    [Fact]
    public void Every_circuit_that_comes_with_the_program_is_tried_here()
    {
        var tried = typeof(ShippedCircuitsTests).GetMethod(nameof(Check_ends_as_the_scenario_says))!.GetCustomAttributesData()
            .Where(a => a.AttributeType == typeof(InlineDataAttribute))
            .Select(a => (string)((IReadOnlyList<System.Reflection.CustomAttributeTypedArgument>)a.ConstructorArguments[0].Value!)[0].Value!).ToHashSet();
        // A file that others include has no circuit statement of its own.
        var circuits = Directory.GetFiles(Path.Combine(Repository.Root, "circuits"), "*.fes")
            .Where(f => File.ReadLines(f).Any(l => l.StartsWith("circuit ")));
        Assert.Subset(tried, circuits.Select(f => Path.GetFileName(f)!).ToHashSet());
    }

    [Fact]
    public void A_failed_requirement_says_why_and_what_would_mend_it()
    {
        string output = Frontendsim.Run("check", Frontendsim.Circuit("greenhouse-probe-unguarded.fes")).Output;
        Assert.Contains("NOT MET", output);
        Assert.Matches(@"inside rating in every event +\S+ A +1 mA +-\S+ A", output);
        Assert.Contains("Why ", output);
        Assert.Contains("To mend ", output);
    }

    [Fact]
    public void The_weather_mast_survives_any_single_fault_and_with_one_of_its_guards_alone_it_would_not()
    {
        using var document = JsonDocument.Parse(Frontendsim.Run("check", Frontendsim.Circuit("weather-mast.fes"), "--json").Output);
        var requirements = document.RootElement.GetProperty("requirements").EnumerateArray()
            .ToDictionary(r => r.GetProperty("requirement").GetString()!);
        Assert.True(requirements["adc inside rating with any single fault"].GetProperty("met").GetBoolean());
        // Hand calculation: 48 V behind 0.01 ohm against 16 V behind 0.1 ohm leave 45.1 V. The tap stands between 0 V and the 4.51 V of the
        // divider alone: (45.1 V − 4.51 V)²/180 kohm = 9.15 mW to 45.1²/180 kohm = 11.3 mW, of 250 mW.
        double percent = 100 * requirements["share.R1 power under 50%"].GetProperty("found").GetProperty("value").GetDouble();
        Assert.InRange(percent, 3.66, 4.52);

        using var scratch = new Scratch();
        string text = File.ReadAllText(Frontendsim.Circuit("weather-mast.fes"));
        int inner = text.IndexOf("stage inner", StringComparison.Ordinal);
        string single = text[..inner].Replace("from TAP to MID", "from TAP to PIN")
            + text[text.IndexOf("resistor Rload", StringComparison.Ordinal)..]
            // By its voltage: what the sheet permits to flow into it, the series resistor alone keeps.
            .Replace("    injection 2 mA\n", "", StringComparison.Ordinal);
        var run = Frontendsim.Run("check", scratch.Write("single.fes", single));
        Assert.Equal(1, run.ExitCode);
        Assert.Contains("outer.D", run.Output);
    }

    [Fact]
    public void The_guard_is_what_keeps_the_pin_inside_its_rating()
    {
        double guarded = HighestVolts("greenhouse-probe.fes"), unguarded = HighestVolts("greenhouse-probe-unguarded.fes");
        Assert.True(guarded < unguarded, $"{guarded} V with the guard, {unguarded} V without");
    }

    private static double HighestVolts(string circuit) =>
        JsonDocument.Parse(Frontendsim.Run("events", Frontendsim.Circuit(circuit), "--json", "--points", "2").Output)
            .RootElement.GetProperty("events")
            .EnumerateArray().SelectMany(e => e.GetProperty("pins").EnumerateArray()).Max(p => p.GetProperty("highestVolts").GetDouble());

    [Theory]
    [InlineData("sweep", "picture.png")]
    [InlineData("sweep", "picture.svg")]
    [InlineData("events", "picture.png")]
    [InlineData("events", "picture.svg")]
    public void A_picture_is_drawn_beside_the_answer(string verb, string picture)
    {
        Assert.SkipUnless(PlotFont.IsInstalled, "This machine has no fonts.");
        using var scratch = new Scratch();
        var run = Frontendsim.Run(verb, Frontendsim.Circuit("rain-tank.fes"), "--plot", scratch.Path(picture));
        Assert.Equal((0, ""), (run.ExitCode, run.Error));
        Assert.NotEmpty(run.Output);
        Assert.Equal([picture], scratch.Files());
        Assert.InRange(new FileInfo(scratch.Path(picture)).Length, 10_000, 2_000_000);
    }
}
