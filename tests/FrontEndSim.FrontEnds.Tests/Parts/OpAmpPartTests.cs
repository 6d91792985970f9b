using System.Numerics;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.FrontEnds.Tests.Parts;

/// <summary>Capacitances of an op amp's inputs, against the closed form of the loop that they delay.</summary>
public class OpAmpPartTests
{
    [Theory]
    [InlineData("rail-to-rail-cmos", 10e6)]
    [InlineData("rail-to-rail-cmos", 100e3)]
    [InlineData("jfet-input", 1e6)]
    [InlineData("jfet-input", 10e3)]
    [InlineData("zero-drift-cmos", 470e3)]
    public void Resistors_of_the_feedback_and_the_input_s_capacitance_leave_the_phase_margin_of_their_pole(string name, double ohms)
    {
        var type = PartCatalogue.Standard.FindOpAmp(name)!;
        double volts = (type.LowestSupplyVolts + type.HighestSupplyVolts) / 4;
        var part = new OpAmpPart("U1", "IN", "FB", "OUT", "VP", "VN", type);
        Element[] circuit =
        [
            new VoltageSource("VP", "VP", "GND", volts), new VoltageSource("VN", "VN", "GND", -volts),
            new VoltageSource("S", "IN", "GND", 0.1),
            new Resistor("R1", "OUT", "FB", ohms), new Resistor("R2", "FB", "GND", ohms), .. part.ToElements(),
        ];
        var loop = new Circuit(circuit).Compile().SolveLoopGain("U1");

        // A(s)·1/2/(1 + s·R·C/2), the minus input seeing its own capacitance and that to the plus input, which a source holds; the class's
        // second pole from its own margin, as in the engine's closed forms of a follower. The output's resistance drives both resistors.
        var model = type.Model;
        double radians = model.PhaseMarginDegrees * Math.PI / 180;
        double p1 = 2 * Math.PI * model.GainBandwidthHertz / model.OpenLoopGain;
        double p2 = 2 * Math.PI * model.GainBandwidthHertz * Math.Sin(radians) * Math.Tan(radians);
        double source = ohms + model.OutputOhms, parallel = source * ohms / (source + ohms);
        Complex Loop(double w) => model.OpenLoopGain / ((1 + Complex.ImaginaryOne * w / p1) * (1 + Complex.ImaginaryOne * w / p2))
            * (ohms / (source + ohms)) / (1 + Complex.ImaginaryOne * w * parallel * (type.InputFarads + type.BetweenFarads));
        double low = p1, high = 100 * p2;
        while (high / low > 1 + 1e-12)
        {
            double middle = Math.Sqrt(low * high);
            (low, high) = Loop(middle).Magnitude > 1 ? (middle, high) : (low, middle);
        }
        Assert.Equal(low / (2 * Math.PI), loop.CrossoverHertz, 0.01 * low / (2 * Math.PI));
        Assert.Equal(180 + Loop(low).Phase * 180 / Math.PI, loop.PhaseMarginDegrees, 0.5);
    }

    [Fact]
    public void Every_class_says_its_capacitances_and_an_input_tied_to_the_output_or_to_ground_has_none()
    {
        Assert.All(PartCatalogue.Standard.OpAmps, t => Assert.InRange(t.InputFarads + t.BetweenFarads, 1e-12, 10e-12));
        var type = PartCatalogue.Standard.FindOpAmp("jfet-input")!;
        var follower = new OpAmpPart("U1", "IN", "OUT", "OUT", "VP", "VN", type);
        Assert.Equal("IN", Assert.Single(follower.ToElements().OfType<Capacitor>()).From);
        var inverter = new OpAmpPart("U1", "GND", "SUM", "OUT", "VP", "VN", type);
        Assert.Equal(type.InputFarads + type.BetweenFarads, inverter.ToElements().OfType<Capacitor>().Sum(c => c.Farads), 1e-18);
    }
}
