using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Tests.Reference;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.Engine.Tests.ClosedForm;

/// <summary>A gate with hysteresis against closed forms: thresholds as given, τ·ln 2 to half the change, the RC oscillator.</summary>
public sealed class LogicGateTests
{
    private static readonly LogicGateModel Gate = new() { RisingShare = 0.55, FallingShare = 0.3, DelaySeconds = 12e-9, OutputOhms = 40 };

    private static Circuit Driven(Waveform input, LogicGateModel model, double supply = 5) => new(
    [
        new VoltageSource("supply", "vdd", "GND", supply), new VoltageSource("input", "in", "GND", input),
        new LogicGate("gate", "in", "out", "vdd", "GND", model), new Resistor("load", "out", "GND", 100e3),
    ]);

    [Theory]
    [InlineData(5.0)]
    [InlineData(3.3)]
    public void Swept_up_it_switches_at_the_rising_threshold_and_swept_down_at_the_falling_one(double supply)
    {
        var gate = Driven(new Constant(0), Gate, supply).Compile();
        const double step = 1e-3;
        double[] up = [.. Enumerable.Range(0, (int)Math.Round(supply / step) + 1).Select(k => k * step)];
        double[] rising = gate.Sweep("input", up).Voltage("out"), falling = gate.Sweep("input", [.. up.Reverse()]).Voltage("out");
        Assert.Equal(0.55 * supply, up[Array.FindIndex(rising, v => v > supply / 2)], 1.5 * step);
        Assert.Equal(0.3 * supply, up.Reverse().ElementAt(Array.FindIndex(falling, v => v < supply / 2)), 1.5 * step);
    }

    [Fact]
    public void A_slow_ramp_finds_both_thresholds_to_a_millivolt()
    {
        // 1 V/ms up and down: in the 12 ns of the delay the input moves 12 uV.
        var run = Driven(new PiecewiseLinear([(0, 0), (5e-3, 5), (10e-3, 0)]), Gate).Compile().RunTransient(10e-3);
        double[] crossings = [.. run.Voltage("out").Crossings(2.5)];
        Assert.Equal(2, crossings.Length);
        Assert.Equal(0.55 * 5, run.Voltage("in").At(crossings[0]), 1e-3);
        Assert.Equal(0.3 * 5, run.Voltage("in").At(crossings[1]), 1e-3);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void A_well_driven_gate_is_half_way_after_its_delay(bool inverts)
    {
        var run = Driven(new Pulse(0, 5, 100e-9, 0, 200e-9, 0), Gate with { Inverts = inverts }).Compile().RunTransient(500e-9);
        // Half of the unloaded change: the load takes under a thousandth.
        double[] crossings = [.. run.Voltage("out").Crossings(2.5 * 100e3 / (100e3 + 20))];
        Assert.Equal(2, crossings.Length);
        Assert.Equal(112e-9, crossings[0], 0.01 * 12e-9);
        Assert.Equal(312e-9, crossings[1], 0.01 * 12e-9);
        Assert.Equal(inverts ? 5 : 0, run.Voltage("out").At(50e-9), 5e-3);
    }

    [Fact]
    public void An_inverting_gate_with_RC_feedback_oscillates_at_the_handbooks_period()
    {
        // T = RC·ln((VDD − VT−)/(VDD − VT+)) + RC·ln(VT+/VT−), the output's own resistance part of R (the relaxation
        // oscillator of any handbook, such as Horowitz and Hill, "The Art of Electronics"). The delay is 1e-6 of a period.
        const double ohms = 10e3, farads = 1e-6, tau = (ohms + 40) * farads;
        var run = new Circuit(
        [
            new VoltageSource("supply", "vdd", "GND", new Step(0, 5, 1e-3)),
                new LogicGate("gate", "in", "out", "vdd", "GND", Gate with { Inverts = true }),
            new Resistor("R", "out", "in", ohms), new Capacitor("C", "in", "GND", farads),
        ]).Compile().RunTransient(0.08);
        double[] falls = [.. run.Voltage("out").Crossings(2.5).Where(t => run.Voltage("out").At(t + 1e-4) < 1)];
        Assert.True(falls.Length > 4);
        double high = 0.55 * 5, low = 0.3 * 5;
        double expected = tau * (Math.Log((5 - low) / (5 - high)) + Math.Log(high / low));
        for (int k = 2; k < falls.Length; k++)
            Agreement.OfScale("period of an RC oscillator", expected, falls[k] - falls[k - 1], expected, 1e-3);
    }

    [Fact]
    public void Ripple_smaller_than_the_hysteresis_gives_one_edge_and_without_hysteresis_many()
    {
        // A ramp of 5 V in 10 ms with 0.4 V peak to peak at 5 kHz on it; the hysteresis is 1.25 V.
        double[] times = [.. Enumerable.Range(0, 4001).Select(k => k * 2.5e-6)];
        var noisy = new PiecewiseLinear([.. times.Select(t => (t, 500 * t + 0.2 * Math.Sin(2 * Math.PI * 5e3 * t)))]);
        Assert.Single(Driven(noisy, Gate).Compile().RunTransient(10e-3).Voltage("out").Crossings(2.5));
        var plain = Gate with { FallingShare = Gate.RisingShare };
        Assert.True(Driven(noisy, plain).Compile().RunTransient(10e-3).Voltage("out").Crossings(2.5).Count() > 2);
    }

    [Fact]
    public void Without_supply_the_output_stays_near_ground_and_currents_balance()
    {
        var rest = Driven(new Constant(3), Gate, supply: 0).Compile().SolveOperatingPoint();
        Assert.Equal(0, rest.Nodes["out"], 1e-6);
        Assert.True(rest.Audit.KirchhoffAmps < 1e-9);
    }

    [Fact]
    public void Every_energy_is_accounted_for_while_it_switches()
    {
        var run = Driven(new Pulse(0, 5, 1e-6, 1e-6, 2e-6, 1e-6), Gate).Compile().RunTransient(6e-6);
        Assert.True(run.Audit.EnergyImbalance < 1e-3, $"{run.Audit.EnergyImbalance}");
    }

    [Fact]
    public void A_falling_threshold_above_the_rising_one_is_refused()
    {
        var e = Assert.Throws<CircuitException>(() => Driven(new Constant(0), Gate with { FallingShare = 0.6 }).Compile());
        Assert.Contains("threshold", e.Message, StringComparison.Ordinal);
    }
}
