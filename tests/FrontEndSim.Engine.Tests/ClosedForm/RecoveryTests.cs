using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.Engine.Tests.ClosedForm;

public class RecoveryTests
{
    [Theory]
    [InlineData(10, -10)]
    [InlineData(10, -30)]
    [InlineData(20, -5)]
    public void A_diode_conducts_backwards_for_what_charge_control_says(double forward, double reverse)
    {
        // t = τ·ln(1 + If/Ir): the charge τ·If is taken out by Ir (charge-control law, any textbook of devices).
        const double transit = 4e-6, ohms = 1e3, switches = 50e-6;
        var circuit = new Circuit(
        [
            new VoltageSource("V", "IN", Circuit.Ground, new Step(forward, reverse, switches, 0)),
            new Resistor("R", "IN", "A", ohms),
            new Diode("D", "A", Circuit.Ground, new DiodeModel
            {
                SaturationAmps = 1e-12, EmissionCoefficient = 1, ActivationVolts = 1.11, TemperatureExponent = 3, TransitSeconds = transit,
            }),
        ]);
        var run = circuit.Compile().RunTransient(100e-6);
        double volts = run.Voltage("A").At(switches - 1e-6), on = (forward - volts) / ohms, off = (volts - reverse) / ohms;
        double found = run.Voltage("A").Crossings(0).First(t => t > switches) - switches;
        double expected = transit * Math.Log(1 + on / off);
        Assert.Equal(expected, found, 0.05 * expected);
    }
}
