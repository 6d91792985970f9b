using System.Collections.Immutable;
using System.Numerics;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Explain;

namespace FrontEndSim.FrontEnds.Tests.Stages;

/// <summary>Charge amplifiers, and instrumentation amplifiers in one part.</summary>
public class ChargeAndBridgeTests
{
    private static readonly ImmutableArray<Rail> Rails = [new("VP", 9), new("VN", -9), new("VMID", 2.5), new("VDD", 5)];

    private static Stage Build(string kind, Sensor sensor, params (string Key, object Value)[] settings) => Asked.Of(kind, "s",
        settings.GroupBy(s => s.Key).ToDictionary(g => g.Key, g => g.Last().Value), Rails, [sensor],
        PartCatalogue.Standard with { OpAmps = [IdealOpAmp.Type, .. PartCatalogue.Standard.OpAmps] }).Build();

    private static FrontEnd With(Sensor sensor, Stage stage, params Part[] parts) =>
        new() { Title = "test", Rails = Rails, Sensors = [sensor], Stages = [stage], Parts = [.. parts] };

    // A piezoelectric sensor is a voltage behind its capacitance: Q = Cs·V.
    private static readonly Sensor Piezo = new("piezo", "S", new Span(-1, 1), 0);

    private static Stage Amplifier(params (string Key, object Value)[] more) => Build("charge-amplifier", Piezo,
        [("from.input", "IN"), ("from.output", "OUT"), ("reaches.value", new Quantity(1, Unit.Volts)),
            ("reaches.charge", new Quantity(1e-9, Unit.Coulomb)),
            ("corner.value", new Quantity(1, Unit.Hertz)), ("opamp.type", "ideal"), ("opamp.positive", "VP"), ("opamp.negative", "VN"),
                .. more]);

    [Theory]
    [InlineData(0)]
    [InlineData(2.2e-9)] // a cable of 20 m
    public void A_charge_becomes_a_voltage_over_the_feedback_capacitor_whatever_the_cable_adds(double cable)
    {
        // Franco, Design with Operational Amplifiers: H = −jωRf·Cs/(1 + jωRf·Cf).
        const double source = 470e-12;
        var stage = Amplifier();
        double cf = stage.Parts.OfType<CapacitorPart>().Single().Farads.Value, rf = stage.Parts.OfType<ResistorPart>().Single().Ohms.Value;
        // 1 nAs/1 V; 1/(2π·1 Hz·1 nF) = 159 Mohm, of E24.
        Assert.Equal(1e-9, cf, 1e-15);
        Assert.Equal(160e6, rf, 1);
        Part[] around = [new CapacitorPart("Cs", "S", "IN", source), .. cable > 0 ? [new CapacitorPart("Cc", "IN", "GND", cable)]
            : Array.Empty<Part>()];
        double[] hertz = [0.1, 1, 10, 100]; // far below the op amp's own megahertz
        var found = With(Piezo, stage, around).ToCircuit().Compile().SolveSmallSignal("piezo", hertz).Response("OUT");
        for (int k = 0; k < hertz.Length; k++)
        {
            var s = new Complex(0, 2 * Math.PI * hertz[k]);
            Assert.InRange((found[k] / (-s * rf * source / (1 + s * rf * cf)) - 1).Magnitude, 0, 1e-3);
        }
    }

    [Fact]
    public void Hand_calculation_of_a_charge_amplifier_agrees_with_its_simulation_and_wrong_targets_are_refused()
    {
        var explained = ExplainStudy.Run(With(Piezo, Amplifier(), new CapacitorPart("Cs", "S", "IN", 470e-12)),
            cancel: TestContext.Current.CancellationToken);
        Assert.All(explained.Stages.Single().Steps.Where(l => l.Simulated is not null),
            l => Assert.InRange(Math.Abs(l.Difference!.Value), 0, 1e-3));
        Assert.Contains("capacitor", Assert.Throws<StageProblemException>(
            () => Amplifier(("capacitor.value", new Quantity(1e-9, Unit.Farad)))).Problem.Known);
        Assert.Contains("corner", Assert.Throws<StageProblemException>(() => Amplifier(("feedback.value", new Quantity(1e8, Unit.Ohm))))
            .Problem.Known);
    }

    private static readonly Sensor Bridge = new("bridge", "SP", new Span(2.495, 2.505), 175);

    private static Stage InAmp(params (string Key, object Value)[] more) => Build("bridge-amplifier", Bridge,
        [("from.input", "SP"), ("from.output", "OUT"), ("against.node", "VMID"), ("in-amp.type", "precision-in-amp"),
            ("in-amp.positive", "VP"), ("in-amp.negative", "VN"), .. more]);

    [Fact]
    public void A_bridge_amplifier_has_the_gain_of_the_resistor_that_it_chose_and_stands_at_its_reference()
    {
        // Rg = 49.4 kohm/(400 − 1) = 123.8 ohm, of E96 124 ohm: G = 1 + 49.4 kohm/124 ohm (gain equation of the class' sheets).
        var stage = InAmp(("maps.sensor", "bridge"), ("maps.span", new Span(0.5, 4.5)), ("about.rail", "VMID"));
        Assert.Equal(124, stage.Parts.OfType<ResistorPart>().Single().Ohms.Value);
        double gain = 1 + 49.4e3 / 124;
        double[] outputs = With(Bridge, stage).ToCircuit().Compile().Sweep("bridge", [2.495, 2.5, 2.505]).Voltage("OUT");
        Assert.Equal(2.5 - 0.005 * gain, outputs[0], 4e-3);
        Assert.Equal(2.5, outputs[1], 4e-3);
        Assert.Equal(2.5 + 0.005 * gain, outputs[2], 4e-3);
        Assert.Equal(0.01 * gain, outputs[2] - outputs[0], 1e-3 * 0.01 * gain);
        Assert.True(CheckStudy.Run(With(Bridge, stage), cancel: TestContext.Current.CancellationToken)
            .Implied.Single(r => r.Requirement is StagesAsAsked).Met);
    }

    [Fact]
    public void A_bridge_amplifier_needs_no_resistor_for_a_gain_of_one_and_refuses_what_its_reference_cannot_give()
    {
        Assert.Empty(InAmp(("gain.value", new Quantity(1, Unit.None)), ("about.rail", "VMID")).Parts.OfType<ResistorPart>());
        Assert.Equal(ProblemKind.ReferenceBringsTo, Assert.Throws<StageProblemException>(
            () => InAmp(("maps.sensor", "bridge"), ("maps.span", new Span(0.5, 4.5)))).Problem.Kind);
        var gain = Assert.Throws<StageProblemException>(() => InAmp(("gain.value", new Quantity(0.5, Unit.None)))).Problem;
        Assert.Equal((0.5, 1, 1e4), (gain.Found!.Value.Value, gain.Low!.Value.Value, gain.High!.Value.Value));
        Assert.Equal(new Quantity(4.6, Unit.Volts), Assert.Throws<StageProblemException>(
            () => InAmp(("gain.value", new Quantity(10, Unit.None)), ("in-amp.positive", "VMID"), ("in-amp.negative", "GND"))).Problem.Low);
    }
}
