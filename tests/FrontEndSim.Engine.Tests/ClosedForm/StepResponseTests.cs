using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Tests.Reference;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.Engine.Tests.ClosedForm;

/// <summary>Linear circuits against time, in closed form (any text on circuits). Limit: 0.1 % of the peak at default settings.</summary>
public sealed class StepResponseTests
{
    private const double Limit = 1e-3;

    private static double[] Grid(double until) => [.. Enumerable.Range(0, 501).Select(k => k * until / 500)];

    [Theory]
    [InlineData(10e3, 100e-9)]
    [InlineData(50.0, 10e-12)]
    [InlineData(1e6, 10e-6)]
    public void An_RC_filter_charges_as_one_minus_e_to_the_minus_t_over_RC(double ohms, double farads)
    {
        double tau = ohms * farads, start = 0.3 * tau, until = 10 * tau;
        var result = new Circuit(
        [
            new VoltageSource("source", "in", "GND", new Step(-1, 4, start)), new Resistor("R", "in", "out", ohms),
            new Capacitor("C", "out", "GND", farads),
        ]).Compile().RunTransient(until);
        double[] times = Grid(until);
        double[] expected = [.. times.Select(t => t < start ? -1 : 4 - 5 * Math.Exp(-(t - start) / tau))];
        Agreement.OfPeak("RC step", times, expected, result.Voltage("out").Sample(times), Limit);
        // Located, not sampled: the passage through zero, at RC·ln(5/4) after the step.
        double crossing = Assert.Single(result.Voltage("out").Crossings(0));
        Agreement.OfScale("passage through 0 V", start + tau * Math.Log(1.25), crossing, tau, Limit);
        Agreement.OfScale("time below 0 V", start + tau * Math.Log(1.25), result.Voltage("out").TimeBelow(0), tau, Limit);
    }

    [Fact]
    public void A_coil_behind_a_resistance_takes_up_current_as_one_minus_e_to_the_minus_R_t_over_L()
    {
        const double ohms = 12, henries = 2.2e-3, tau = henries / ohms, start = 50e-6, until = 2e-3;
        var result = new Circuit(
        [
            new VoltageSource("source", "in", "GND", new Step(0, 6, start)), new Resistor("R", "in", "out", ohms - 2),
            new Inductor("L", "out", "GND", henries) { SeriesOhms = 2 },
        ]).Compile().RunTransient(until);
        double[] times = Grid(until);
        double[] expected = [.. times.Select(t => t < start ? 0 : 6 / ohms * (1 - Math.Exp(-(t - start) / tau)))];
        Agreement.OfPeak("RL step", times, expected, result.Current("L").Sample(times), Limit);
    }

    [Fact]
    public void A_ramp_into_an_RC_filter_lags_by_RC()
    {
        // v = k·(t − RC·(1 − e^(−t/RC))) for a ramp of slope k.
        const double ohms = 2.2e3, farads = 47e-9, tau = ohms * farads, rise = 20 * tau, start = 2 * tau;
        var result = new Circuit(
        [
            new VoltageSource("source", "in", "GND", new Step(0, 5, start, rise)), new Resistor("R", "in", "out", ohms),
            new Capacitor("C", "out", "GND", farads),
        ]).Compile().RunTransient(start + rise);
        double[] times = Grid(start + rise);
        double[] expected = [.. times.Select(t => t < start ? 0 : 5 / rise * (t - start - tau * (1 - Math.Exp(-(t - start) / tau))))];
        Agreement.OfPeak("ramp into an RC filter", times, expected, result.Voltage("out").Sample(times), Limit);
    }

    [Fact]
    public void A_sine_through_an_RC_filter_settles_to_its_response_at_that_frequency()
    {
        // Steady state 1/(1 + jωRC) plus the transient that starts it from rest.
        const double ohms = 1e3, farads = 1e-6, tau = ohms * farads, hertz = 400, until = 20e-3;
        var result = new Circuit(
        [
            new VoltageSource("source", "in", "GND", new Sine(0, 2, hertz)), new Resistor("R", "in", "out", ohms),
            new Capacitor("C", "out", "GND", farads),
        ]).Compile().RunTransient(until);
        double w = 2 * Math.PI * hertz, size = 1 + w * w * tau * tau;
        double[] times = Grid(until);
        double[] expected = [.. times.Select(t => 2 / size * (Math.Sin(w * t) - w * tau * Math.Cos(w * t) + w * tau * Math.Exp(-t / tau)))];
        Agreement.OfPeak("sine through an RC filter", times, expected, result.Voltage("out").Sample(times), Limit);
    }

    public static TheoryData<string, Waveform, double> Smooth => new()
    {
        { "mains pick-up", new Sine(1, 3, 50), 0.2 },
        { "one cycle", new Sine(0, 5, 1e3), 1e-3 },
        { "radio-frequency pick-up", new Sine(0, 0.5, 10e6), 20e-6 },
        { "surge", new DoubleExponential(500, 0.4074e-6, 68.22e-6, 10e-6), 400e-6 },
        { "fast transient", new DoubleExponential(1000, 3.29e-9, 55.6e-9, 10e-9), 10e-6 },
    };

    [Theory, MemberData(nameof(Smooth))]
    public void A_divider_without_any_capacitor_follows_its_source_between_the_steps(string what, Waveform source, double until)
    {
        // Nothing in this circuit has an error of its own to control: only the source says how fine the steps must be.
        var result = new Circuit(
        [
            new VoltageSource("source", "in", "GND", source), new Resistor("R1", "in", "out", 10e3), new Resistor("R2", "out", "GND", 10e3),
        ]).Compile().RunTransient(until);
        double[] times = [.. Enumerable.Range(0, 2001).Select(k => k * until / 2000)];
        Agreement.OfPeak($"divider under {what}, {result.Audit.StepsTaken} steps", times, [.. times.Select(t => 0.5 * source.At(t))],
            result.Voltage("out").Sample(times), Limit);
    }
}
