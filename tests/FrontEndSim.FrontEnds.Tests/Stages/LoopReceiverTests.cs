using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;

namespace FrontEndSim.FrontEnds.Tests.Stages;

public class LoopReceiverTests
{
    private static readonly Rail Loop = new("VLOOP", 24);
    private static readonly Sensor Command = new("pressure", "COMMAND", new Span(1, 5), 0);

    private static Stage Build(Span span, double? burden = null)
    {
        var settings = new Dictionary<string, object>
        {
            ["from.input"] = "COMMAND",
            ["from.output"] = "PIN",
            ["terminal.node"] = "LOOP",
            ["supply.rail"] = "VLOOP",
            ["maps.sensor"] = "pressure",
            ["maps.span"] = span,
            ["series.value"] = new Quantity(4700, Unit.Ohm),
        };
        if (burden is { } ohms)
            settings["burden.value"] = new Quantity(ohms, Unit.Ohm);
        return Asked.Of("loop-receiver", "loop", settings, [Loop], [Command]).Build();
    }

    private static double AtPin(Stage stage, double command) => new FrontEnd { Rails = [Loop], Sensors = [Command], Stages = [stage] }
        .ToCircuit(new Scenario
        {
            SensorValue = System.Collections.Immutable.ImmutableDictionary<string,
            double>.Empty.Add("pressure", command)
        })
        .Compile().SolveOperatingPoint().Nodes["PIN"];

    [Theory]
    [InlineData(1, 1)]
    [InlineData(3, 3)]
    [InlineData(5, 5)]
    public void A_loop_current_on_250_ohm_gives_1_to_5_volts(double command, double volts)
    {
        // 4 mA .. 20 mA on 250 ohm is 1 V .. 5 V (Ohm's law; the usual pair of signals). The compliance diode leaks 10 fA.
        Assert.Equal(volts, AtPin(Build(new Span(1, 5), 250), command), 1e-9);
    }

    [Fact]
    public void The_burden_is_the_wanted_span_over_16_milliamperes()
    {
        // 2.4 V / 16 mA = 150 ohm, which is in E96.
        var resistor = Assert.IsType<ResistorPart>(Build(new Span(0.6, 3)).Parts.Single(p => p.Name == "loop.Rb"));
        Assert.Equal(150, resistor.Ohms.Value, 1e-9);
    }

    [Fact]
    public void An_open_burden_lets_the_loop_rise_to_its_supply_and_a_diode_drop_and_no_further()
    {
        var stage = Build(new Span(0.6, 3));
        stage = stage with
        {
            Parts = stage.Parts.Replace(stage.Parts.Single(p => p.Name == "loop.Rb"),
            new ResistorPart("loop.Rb", "LOOP", Circuit.Ground, 1e9))
        };
        Assert.InRange(AtPin(stage, 5), 24.5, 25);
    }

    [Fact]
    public void A_lower_end_that_is_not_a_fifth_of_the_upper_end_is_refused_with_the_right_one()
    {
        var problem = Assert.Throws<StageProblemException>(() => Build(new Span(0, 3)));
        var (asked, least, most) = (problem.Problem.Wanted!.Value, problem.Problem.Low!.Value, problem.Problem.High!.Value);
        Assert.Equal(0.6, (asked * least / most).In(Unit.Volts), 1e-12);
    }
}
