using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Tests.Reference;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.Engine.Tests.ClosedForm;

/// <summary>
/// The op amp against time and at its limits, in the closed forms of its one-pole model (any text on op amps; from memory).
/// </summary>
public sealed class OpAmpDynamicsTests
{
    private static readonly OpAmpModel Model = new() { OpenLoopGain = 2e5, GainBandwidthHertz = 1e6, SlewVoltsPerSecond = 0.5e6 };

    private static Element[] Follower(OpAmpModel model, double before, double after, double start) =>
    [
        new VoltageSource("plus", "VP", "GND", 15.0), new VoltageSource("minus", "VN", "GND", -15.0),
        new VoltageSource("source", "in", "GND", new Step(before, after, start)),
        new OpAmp("U1", "in", "out", "out", "VP", "VN", model),
    ];

    [Theory]
    [InlineData(1e-3, 0.5e6, 1e-8)]
    [InlineData(0.1, 50e6, 1e-7)]
    public void A_follower_settles_from_a_small_step_with_the_time_constant_of_its_gain_bandwidth(double step, double slew, double absolute)
    {
        // One pole: v = ΔV·A/(1 + A)·(1 − e^(−t/τ)), τ = A/(1 + A)/(2π·GBW). The steps are far below slew/(2π·GBW), where slewing begins.
        // The default absolute error of 0.1 µV a step is too coarse for 0.1 % of a millivolt, so there it is set lower.
        const double start = 0.2e-6, until = 3e-6;
        var model = Model with { SlewVoltsPerSecond = slew };
        double gain = model.OpenLoopGain / (1 + model.OpenLoopGain), tau = gain / (2 * Math.PI * model.GainBandwidthHertz);
        var output = new Circuit(Follower(model, 0, step, start)).Compile(new SolverSettings { AbsoluteVolts = absolute })
            .RunTransient(until).Voltage("out");
        double[] times = [.. Enumerable.Range(0, 301).Select(k => k * until / 300)];
        double[] expected = [.. times.Select(t => t < start ? 0 : step * gain * (1 - Math.Exp(-(t - start) / tau)))];
        Agreement.OfPeak($"follower, step of {step:g2} V", times, expected, output.Sample(times), 1e-3);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(-1)]
    public void A_follower_slews_at_its_slew_rate_through_a_large_step(int direction)
    {
        var output = new Circuit(Follower(Model, 0, direction * 10, 1e-6)).Compile().RunTransient(40e-6).Voltage("out");
        double from = Assert.Single(output.Crossings(direction * 2)), to = Assert.Single(output.Crossings(direction * 6));
        Agreement.OfScale("time from 2 V to 6 V", 4 / Model.SlewVoltsPerSecond, to - from, 4 / Model.SlewVoltsPerSecond, 1e-3);
    }

    [Fact]
    public void An_output_shorted_by_a_small_load_delivers_its_current_limit()
    {
        var point = new Circuit(
            [.. Follower(Model, 5, 5, 0), new Resistor("load", "out", "GND", 10)]).Compile().SolveOperatingPoint();
        Agreement.OfScale("load current", Model.OutputLimitAmps, point.Parts["load"].Amps, Model.OutputLimitAmps, 1e-3);
        // The current comes out of the positive rail, on top of the supply current.
        Agreement.OfScale("positive rail", -(Model.OutputLimitAmps + Model.SupplyAmps), point.Parts["plus"].Amps, Model.OutputLimitAmps,
            2e-3);
        Agreement.OfScale("negative rail", Model.SupplyAmps, point.Parts["minus"].Amps, Model.OutputLimitAmps, 2e-3);
    }
}
