using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Bias;
using FrontEndSim.FrontEnds.Studies.Explain;

namespace FrontEndSim.FrontEnds.Tests.Stages;

public class LogicInputTests
{
    private static Stage Built(params (string Key, object Value)[] more) => Asked.Of("logic-input", "read",
        new Dictionary<string, object>(new[] { ("from.input", (object)"PIN"), ("from.output", "OUT"),
            ("gate.family", "cmos-hc-hysteresis"), ("gate.rail", "VCC") }
            .Concat(more).ToDictionary(p => p.Item1, p => p.Item2)), [new Rail("VCC", 5)], []).Build();

    private static FrontEnd Lit(Stage stage) => new()
    {
        Rails = [new Rail("VCC", 5)],
        Sensors = [new Sensor("probe", "PIN", new Span(0, 5), 100)],
        Stages = [stage],
    };

    [Theory]
    [InlineData("high", 4.5, true)]
    [InlineData("high", 0.5, false)]
    [InlineData("low", 0.5, true)]
    [InlineData("low", 4.5, false)]
    public void The_indicator_carries_the_current_asked_for_while_its_level_is_read(string level, double volts, bool lit)
    {
        var stage = Built(($"indicator-{level}.type", "green"), ($"indicator-{level}.amps", new Quantity(2e-3, Unit.Amps)));
        var point = BiasStudy.Run(Lit(stage), new Scenario
        { SensorValue = System.Collections.Immutable.ImmutableDictionary<string, double>.Empty.Add("probe", volts) }).Point;
        double amps = point.Parts[level == "high" ? "read.Dh" : "read.Dl"].Amps;
        double expected = stage.HandMath.Single(h => h.What.StartsWith("current", StringComparison.Ordinal)).Result;
        Assert.InRange(expected, 1.85e-3, 2.15e-3); // E24 is within 5 % of any value
        Assert.Equal(lit ? expected : 0, amps, 0.01 * expected);
    }

    [Fact]
    public void A_supply_outside_the_familys_range_and_a_current_that_cannot_flow_are_refused()
    {
        var request = Asked.Of("logic-input", "read", new Dictionary<string, object>
        {
            ["from.input"] = "PIN",
            ["from.output"] = "OUT",
            ["gate.family"] = "cmos-hc",
            ["gate.rail"] = "VCC",
        }, [new Rail("VCC", 12)], []);
        Assert.Equal("gate", Assert.Throws<StageProblemException>(() => request.Build()).Problem.Setting);
        Assert.Equal("indicator-high", Assert.Throws<StageProblemException>(() =>
            Built(("indicator-high.type", "green"), ("indicator-high.amps", new Quantity(1, Unit.Amps)))).Problem.Setting);
    }

    [Fact]
    public void Explain_measures_thresholds_hysteresis_and_the_indicators_current_beside_the_hand_math()
    {
        var stage = Built(("indicator-high.type", "green"), ("indicator-high.amps", new Quantity(2e-3, Unit.Amps)));
        var steps = ExplainStudy.Run(Lit(stage)).Stages.Single().Steps;
        Assert.Equal([2.65, 1.55, 1.1], steps.Take(3).Select(s => Math.Round(s.Simulated!.Value, 4)));
        var current = steps.Single(s => s.Step.What.StartsWith("current", StringComparison.Ordinal));
        Assert.Equal(current.Step.Result, current.Simulated!.Value, 0.01 * current.Step.Result);
    }
}
