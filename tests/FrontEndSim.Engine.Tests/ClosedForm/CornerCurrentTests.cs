using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.Engine.Tests.ClosedForm;

/// <summary>Currents where a waveform has a corner: what is recorded beside it is a current of the circuit, and no error of a voltage over
/// a
/// step of next to no length.</summary>
public sealed class CornerCurrentTests
{
    private static DiodeModel Junction => new()
    {
        SaturationAmps = 2e-9,
        EmissionCoefficient = 1.2,
        TemperatureExponent = 3,
        ActivationVolts = 0.69,
        SeriesOhms = 20,
        JunctionFarads = 4e-12,
        JunctionVolts = 0.5,
        Grading = 0.4,
    };

    /// <summary>A supply that falls in a millisecond takes a pin with 10 nF down through a clamp.</summary>
    [Fact]
    public void At_the_end_of_a_falling_supply_a_clamp_carries_what_resistor_and_capacitor_bring()
    {
        const double top = 3.3, sensor = 1.65, ohms = 4.7e3, farads = 10e-9, fall = 1e-3;
        var run = new Circuit(
        [
            new VoltageSource("VDD", "VDD", Circuit.Ground, new Step(top, 0, 1e-3, fall)),
            new VoltageSource("V1", "IN", Circuit.Ground, sensor), new Resistor("R1", "IN", "PIN", ohms),
            new Capacitor("C1", "PIN", Circuit.Ground, farads),
            new Diode("D1", "PIN", "VDD", Junction), new Diode("D2", Circuit.Ground, "PIN", Junction),
        ]).Compile().RunTransient(4e-3);
        // The resistor with the pin at 0 V, and the capacitor falling as fast as the supply.
        double most = sensor / ohms + farads * top / fall;
        Assert.InRange(run.Current("D1").Maximum().Value, 0.2 * most, 1.01 * most);
        // The other clamp is reversed: its capacitance alone carries anything, 4 pF at a few volts a millisecond.
        Assert.InRange(-run.Current("D2").Minimum().Value, 0, 4e-12 * top / fall + 3e-9);
        Assert.InRange(run.Current("D2").Maximum().Value, -1e-9, 4e-12 * top / fall);
    }

    /// <summary>Kirchhoff's current law of what is recorded, capacitances included, on both sides of every corner.</summary>
    [Fact]
    public void What_is_recorded_of_all_parts_at_a_node_adds_up_to_nothing_beside_every_corner()
    {
        var run = new Circuit(
        [
            new VoltageSource("V1", "IN", Circuit.Ground, new Pulse(-2, 5, 10e-6, 1e-6, 20e-6, 2e-6)), new Resistor("R1", "IN", "PIN", 1e3),
            new Capacitor("C1", "PIN", Circuit.Ground, 1e-9), new VoltageSource("VDD", "VDD", Circuit.Ground, 3.3),
            new Diode("D1", "PIN", "VDD", Junction), new Diode("D2", Circuit.Ground, "PIN", Junction),
        ]).Compile().RunTransient(60e-6);
        var left = run.Current("R1").Minus(run.Current("C1")).Minus(run.Current("D1")).Plus(run.Current("D2"));
        double largest = run.Current("R1").Maximum().Value;
        foreach (double corner in (double[])[10e-6, 11e-6, 31e-6, 33e-6])
        {
            double[] beside = left.Sample([corner - 1e-15, corner, corner + 3e-14, corner + 7e-14, corner + 1.5e-13, corner + 1e-12]);
            Assert.All(beside, amps => Assert.InRange(Math.Abs(amps), 0, 2e-3 * largest));
        }
    }
}
