using System.Collections.Immutable;
using System.Text.RegularExpressions;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Mapping;

namespace FrontEndSim.Language.Tests;

/// <summary>The small-signal gain of every shipped kind of stage, in the circuits of the language's page.</summary>
public sealed partial class StageGainTests
{
    // A charge shows in nothing but what alternates: at rest there is nothing to compare.
    private static readonly string[] WithoutRest = ["charge-amplifier"];

    // Kinds that the page shows without a circuit.
    private static readonly string[] Others =
    [
        """
        circuit "Difference"
        rail VP 9 V
        rail VN -9 V
        rail VDD 3.3 V
        sensor probe drives IN span -1.2 V .. 1.8 V source 220 ohm
        source V1 from LOW to GND 0.1 V
        stage shift is difference-stage
            from IN to PIN
            against LOW
            maps probe onto 0.05 V .. 3.25 V
            offset from VDD
            opamp jfet-input on VP and VN
        pin adc at PIN converts 12 bits over 0 V .. VDD
        """,
        """
        circuit "Passive"
        rail VDD 3.3 V
        sensor probe drives IN span -5 V .. 5 V source 100 ohm
        stage shift is passive-shifter
            from IN to PIN
            maps probe onto 0.2 V .. 3.1 V
            offset from VDD
        pin adc at PIN converts 12 bits over 0 V .. VDD
        """,
        """
        circuit "Loop"
        rail V24 24 V
        rail VDD 3.3 V
        sensor transmitter drives CMD span 1 V .. 5 V
        stage loop is loop-receiver
            from CMD to PIN
            terminal TERM
            supply V24
            maps transmitter onto 0.6 V .. 3 V
            series 3k9 1%
            schottky 1N5817
        pin adc at PIN converts 12 bits over 0 V .. VDD
        """,
    ];

    [Fact]
    public void The_gain_at_rest_of_every_shipped_stage_is_the_slope_of_the_sweep()
    {
        string page = File.ReadAllText(Path.Combine(Reading.Repository, "docs", "language.md")).ReplaceLineEndings("\n");
        var seen = new HashSet<string>();
        foreach (string text in Blocks().Matches(page).Select(m => m.Groups[1].Value).Where(t => Kinds().IsMatch(t)).Concat(Others))
        {
            var frontEnd = Reading.FrontEnd(text);
            Sensor[] sensors = [.. frontEnd.Sensors.Where(s => s.ShowsAtRest)];
            Assert.All(sensors, sensor => Compare(frontEnd, sensor));
            if (sensors.Length > 0)
                seen.UnionWith(Kinds().Matches(text).Select(m => m.Groups[1].Value));
        }
        Assert.Empty(StageKinds.All.Select(k => k.Name).Except(seen).Except(WithoutRest));
    }

    // Off the middle, where a rectifier has its kink.
    private static void Compare(FrontEnd frontEnd, Sensor sensor)
    {
        double at = sensor.Span.At(0.31), h = 1e-4 * sensor.Span.Width;
        var scenario = new Scenario { SensorValue = ImmutableDictionary<string, double>.Empty.Add(sensor.Name, at) };
        var gain = frontEnd.ToCircuit(scenario).Compile().SolveSmallSignal(sensor.Name, [1e-6]);
        var sweep = SweepStudy.Run(frontEnd, sensor.Name, [at - h, at - h / 2, at + h / 2, at + h]);
        foreach (string node in sweep.Points[0].Nodes.Keys.Where(n => n != "GND"))
        {
            // A central difference, extrapolated once (Richardson), of points solved to a nanovolt.
            double[] volts = sweep.Voltage(node);
            double slope = (8 * (volts[2] - volts[1]) - (volts[3] - volts[0])) / (6 * h);
            double off = gain.Response(node)[0].Real - slope;
            Assert.True(Math.Abs(off) < 2e-4 * Math.Abs(slope) + 1e-4 / sensor.Span.Width,
                $"{frontEnd.Title}, {sensor.Name}, {node}: {gain.Response(node)[0].Real} is not {slope}");
        }
    }

    [GeneratedRegex("```fes\n(.*?)```", RegexOptions.Singleline)]
    private static partial Regex Blocks();

    [GeneratedRegex(@"^stage \S+ is (\S+)", RegexOptions.Multiline)]
    private static partial Regex Kinds();
}
