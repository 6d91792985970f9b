using System.Numerics;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;

namespace FrontEndSim.Engine.Tests.SmallSignal;

public class SmallSignalTests
{
    private static double[] Decades(double from, double to, int perDecade) =>
        [.. Enumerable.Range(0, (int)Math.Round(Math.Log10(to / from) * perDecade) + 1).Select(k =>
            from * Math.Pow(10, k / (double)perDecade))];

    [Fact]
    public void An_RC_filter_follows_its_textbook_magnitude_and_phase()
    {
        // H = 1/(1 + j·ω·R·C): any circuits textbook.
        const double r = 3.3e3, c = 47e-9;
        var circuit = new Circuit([
            new VoltageSource("S", "IN", "GND", 1.2), new Resistor("R", "IN", "OUT", r), new Capacitor("C", "OUT", "GND", c)]);
        var result = circuit.Compile().SolveSmallSignal("S", Decades(1, 1e6, 5));
        Complex[] h = result.Response("OUT");
        for (int k = 0; k < h.Length; k++)
        {
            Complex expected = 1 / new Complex(1, 2 * Math.PI * result.Hertz[k] * r * c);
            Assert.Equal(0, (h[k] - expected).Magnitude, 1e-12);
        }
    }

    [Fact]
    public void An_inverting_stage_follows_its_closed_form_with_finite_gain_and_bandwidth()
    {
        // With A(s) = A0/(1 + s·A0/(2π·GBW)), feedback factor β = R1/(R1 + Rf) (output resistance 1 µΩ, input resistance 1 TΩ):
        // H = −(Rf/R1)·Aβ/(1 + Aβ). Franco, Design with Operational Amplifiers, ch. 6.
        const double r1 = 10e3, rf = 100e3, a0 = 1e5, gbw = 1e6;
        var model = new OpAmpModel { OpenLoopGain = a0, GainBandwidthHertz = gbw, InputOhms = 1e12, OutputOhms = 1e-6 };
        var circuit = new Circuit([
            new VoltageSource("VP", "VP", "GND", 12), new VoltageSource("VN", "VN", "GND", -12), new VoltageSource("S", "IN", "GND", 0.1),
            new Resistor("R1", "IN", "SUM", r1), new Resistor("RF", "SUM", "OUT", rf),
                new OpAmp("U", "GND", "SUM", "OUT", "VP", "VN", model)]);
        var result = circuit.Compile().SolveSmallSignal("S", Decades(10, 1e6, 4));
        Complex[] h = result.Response("OUT");
        for (int k = 0; k < h.Length; k++)
        {
            Complex a = a0 / new Complex(1, result.Hertz[k] * a0 / gbw), loop = a * r1 / (r1 + rf);
            Complex expected = -(rf / r1) * loop / (1 + loop);
            // 1e-7: the input stage is not quite at zero drive, where its slope is a little less than its transconductance.
            Assert.Equal(0, (h[k] / expected - 1).Magnitude, 1e-7);
        }
    }

    [Fact]
    public void A_resistor_shows_its_thermal_noise_and_a_capacitor_bounds_it_to_kT_over_C()
    {
        // Johnson (1928), Nyquist (1928): e² = 4·k·T·R; integrated over a single pole it is k·T/C whatever the resistance.
        const double r = 10e3, c = 1e-9, kelvin = 298.15;
        var circuit = new Circuit([new Resistor("R", "OUT", "GND", r), new Capacitor("C", "OUT", "GND", c),
            new CurrentSource("S", "GND", "OUT", 0)]);
        var result = circuit.Compile().SolveSmallSignal("S", Decades(1, 1e9, 200));
        var noise = result.Noise("OUT");
        Assert.Equal(1, noise.Density[0] / Math.Sqrt(4 * Constants.Boltzmann * kelvin * r), 1e-6);
        Assert.Equal(1, noise.RmsVolts() / Math.Sqrt(Constants.Boltzmann * kelvin / c), 2e-3);
    }

    [Fact]
    public void The_noise_of_two_inverting_stages_is_the_hand_sum_of_4kTR_terms()
    {
        // With ideal op amps: each input resistor's voltage noise times its gain to the output, squared and summed.
        const double r1 = 10e3, r2 = 33e3, f1 = 22e3, r3 = 15e3, f2 = 18e3, kelvin = 298.15;
        var model = new OpAmpModel { OpenLoopGain = 1e9, GainBandwidthHertz = 1e9, InputOhms = 1e12, OutputOhms = 1e-3 };
        var circuit = new Circuit([
            new VoltageSource("VP", "VP", "GND", 12), new VoltageSource("VN", "VN", "GND", -12),
            new VoltageSource("S", "IN", "GND", 0.5), new VoltageSource("REF", "REF", "GND", 1),
            new Resistor("R1", "IN", "A", r1), new Resistor("R2", "REF", "A", r2), new Resistor("F1", "A", "B", f1),
            new OpAmp("U1", "GND", "A", "B", "VP", "VN", model),
            new Resistor("R3", "B", "C", r3), new Resistor("F2", "C", "OUT", f2), new OpAmp("U2", "GND", "C", "OUT", "VP", "VN", model)]);
        var noise = circuit.Compile().SolveSmallSignal("S", [1, 10]).Noise("OUT");
        double second = f2 / r3;
        double sum = (r1 * Square(f1 / r1) + r2 * Square(f1 / r2) + f1) * Square(second) + r3 * Square(second) + f2;
        Assert.Equal(1, noise.Density[0] / Math.Sqrt(4 * Constants.Boltzmann * kelvin * sum), 1e-6);
        Assert.Equal(noise.Density[0] * noise.Density[0], noise.ByPart.Values.Sum(p => p[0]), 1e-25);

        static double Square(double x) => x * x;
    }

    [Fact]
    public void A_diode_shows_shot_noise_across_its_own_small_signal_resistance()
    {
        // Schottky (1918): i² = 2·q·I; at 1 mA the junction's n·Vt/I turns it into a voltage.
        const double amps = 1e-3;
        var circuit = new Circuit([new CurrentSource("S", "GND", "A", amps), new Diode("D", "A", "GND", Junctions.Silicon)]);
        var noise = circuit.Compile().SolveSmallSignal("S", [1, 10]).Noise("A");
        double ohms = Constants.ThermalVolts(298.15) / amps;
        Assert.Equal(1, noise.Density[0] / (Math.Sqrt(2 * Constants.ElementaryCharge * amps) * ohms), 1e-6);
    }
}
