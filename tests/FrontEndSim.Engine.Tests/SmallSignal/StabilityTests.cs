using System.Numerics;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Equations;
using FrontEndSim.Engine.Solving;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.Engine.Tests.SmallSignal;

/// <summary>
/// Natural modes, loop gains and where unstable points settle, against closed forms of loops of two poles and of latches.
/// </summary>
public class StabilityTests
{
    private const double Gbw = 1e6, A0 = 1e5;

    private static readonly OpAmpModel TwoPoles = new()
    {
        OpenLoopGain = A0,
        GainBandwidthHertz = Gbw,
        PhaseMarginDegrees = 60,
        InputOhms = 1e12,
        OutputOhms = 100,
    };

    private static Element[] Supplies => [new VoltageSource("VP", "VP", "GND", 12), new VoltageSource("VN", "VN", "GND", -12)];

    private static Element[] Follower(OpAmpModel model, Waveform source) =>
        [.. Supplies, new VoltageSource("S", "IN", "GND", source), new OpAmp("U", "IN", "OUT", "OUT", "VP", "VN", model)];

    [Theory]
    [InlineData(30)]
    [InlineData(45)]
    [InlineData(60)]
    [InlineData(75)]
    public void A_follower_of_two_poles_has_the_modes_and_the_phase_margin_of_its_quadratic(double margin)
    {
        // (s + p1)(s + p2) + A0·p1·p2 = 0: any control textbook. p1 = 2π·GBW/A0, p2 from the margin.
        double radians = margin * Math.PI / 180, p1 = 2 * Math.PI * Gbw / A0,
            p2 = 2 * Math.PI * Gbw * Math.Sin(radians) * Math.Tan(radians);
        double half = (p1 + p2) / 2;
        Complex root = -half + Complex.Sqrt(half * half - p1 * p2 * (1 + A0));
        var compiled = new Circuit(Follower(TwoPoles with { PhaseMarginDegrees = margin }, 1)).Compile();

        var modes = compiled.SolveModes().Modes;
        Assert.Contains(modes, m => (m.RadiansPerSecond - root).Magnitude < 1e-6 * root.Magnitude);
        Assert.DoesNotContain(modes, m => m.Grows);
        Assert.Equal(root.Imaginary != 0 ? 1 : 2, modes.Length);

        // The lag of the first pole falls short of 90° by p1/ωc, some 1e-5.
        var loop = compiled.SolveLoopGain("U");
        Assert.Equal(A0, loop.DirectGain, 1e-5 * A0);
        Assert.Equal(margin, loop.PhaseMarginDegrees, 2e-3);
        Assert.Equal(Gbw * Math.Sin(radians), loop.CrossoverHertz, 1e-4 * Gbw);
    }

    [Fact]
    public void A_follower_into_one_microfarad_rings_with_the_damping_of_its_cubic_as_its_step_shows()
    {
        // Output resistance and load make a third pole p3 = 1/(Ro·C) inside the loop:
        // (s + p1)(s + p2)(s + p3) + A0·p1·p2·p3 = 0.
        double radians = Math.PI / 3, p1 = 2 * Math.PI * Gbw / A0, p2 = 2 * Math.PI * Gbw * Math.Sin(radians) * Math.Tan(radians),
            p3 = 1 / (100 * 1e-6);
        Circuit With(Waveform source) => new([.. Follower(TwoPoles, source), new Capacitor("C", "OUT", "GND", 1e-6)]);
        var mode = With(1).Compile().SolveModes().Modes[0];
        Complex s = mode.RadiansPerSecond;
        Complex left = (s + p1) * (s + p2) * (s + p3) + A0 * p1 * p2 * p3;
        Assert.Equal(0, left.Magnitude / (A0 * p1 * p2 * p3), 1e-6);
        Assert.InRange(mode.DampingRatio, 1e-3, 0.05);
        Assert.Contains(mode.Unknowns, u => u.Name == "OUT");

        // A small step overshoots by e^(−π·ζ/√(1 − ζ²)) where two poles lead.
        var output = With(new Step(0, 1e-3, 1e-6)).Compile(new SolverSettings { AbsoluteVolts = 1e-9 }).RunTransient(200e-6).Voltage("OUT");
        double overshoot = Math.Exp(-Math.PI * mode.DampingRatio / Math.Sqrt(1 - mode.DampingRatio * mode.DampingRatio));
        Assert.Equal(1 + overshoot, output.Maximum().Value / 1e-3, 0.01);
    }

    [Fact]
    public void Inputs_swapped_balance_at_a_point_that_no_meter_reads_and_settle_at_either_rail()
    {
        var compiled = new Circuit(
        [
            .. Supplies, new VoltageSource("S", "IN", "GND", 0.1), new Resistor("R1", "IN", "A", 1e4), new Resistor("RF", "A", "OUT", 1e5),
            new OpAmp("U", "A", "GND", "OUT", "VP", "VN", TwoPoles),
        ]).Compile();
        var settled = compiled.Settle();
        Assert.False(settled.First.IsStable);
        Assert.Equal(-1.0, settled.First.Point.Nodes["OUT"], 1e-3); // as a perfect amplifier of gain −10 would
        Assert.True(compiled.SolveLoopGain("U").DirectGain < 0);
        Assert.Equal(2, settled.StablePoints.Length);
        // 1.5 V short of either rail, less what 110 kohm draw through 100 ohm.
        Assert.All(settled.StablePoints, p => Assert.Equal(10.5, Math.Abs(p.Nodes["OUT"]), 0.05));
        Assert.Equal(0, settled.StablePoints.Sum(p => Math.Sign(p.Nodes["OUT"])));
    }

    [Fact]
    public void A_load_that_resonates_is_judged_where_the_loop_comes_nearest_to_ringing_and_not_at_its_highest_crossing()
    {
        // A follower of one pole into 100 ohm and a series resonance: T = GBW/(jf)·Z/(Z + Ro), Z = r + jωL + 1/(jωC). At 0.5 MHz Z is r
        // alone.
        const double gbw = 3e6, ro = 100, r = 3, l = 10e-6, c = 10e-9;
        Complex Gain(double f)
        {
            var z = new Complex(r, 2 * Math.PI * f * l - 1 / (2 * Math.PI * f * c));
            return gbw / new Complex(0, f) * z / (z + ro);
        }
        var loop = new Circuit(
        [
            .. Follower(TwoPoles with { GainBandwidthHertz = gbw, PhaseMarginDegrees = 90 }, 0.0),
            new Inductor("L", "OUT", "M", l) { SeriesOhms = r }, new Capacitor("C", "M", "GND", c),
        ]).Compile().SolveLoopGain("U");
        Assert.Equal(1, Gain(loop.CrossoverHertz).Magnitude, 1e-3);
        Assert.Equal(180 - Math.Abs(Gain(loop.CrossoverHertz).Phase) * 180 / Math.PI, loop.PhaseMarginDegrees, 0.1);
        // Below the resonance the load is a capacitor; the highest crossing lies above it, with more than 60° left.
        Assert.InRange(loop.CrossoverHertz, 0.2e6, 0.5e6);
        Assert.InRange(loop.PhaseMarginDegrees, 0, 45);
    }

    [Theory]
    [InlineData(1.6)]
    [InlineData(2.2)]
    [InlineData(2.9)]
    [InlineData(3.05)]
    public void A_filter_of_equal_components_rings_with_the_damping_of_its_gain(double gain)
    {
        // ζ = (3 - K)/2 at 1/(2πRC): R. P. Sallen and E. L. Key, IRE Trans. Circuit Theory CT-2, 1955. An op amp of 1 GHz turns the
        // phase of 1.6 kHz by 5e-6. The passive resonance at its input, of ζ = 0.005, is none of its loop.
        var modes = new Circuit(
        [
            .. Supplies, new VoltageSource("S", "SRC", "GND", 0.1), new Inductor("L", "SRC", "IN", 1e-3) { SeriesOhms = 1 },
            new Capacitor("C", "IN", "GND", 1e-7),
            new OpAmp("F", "IN", "BUF", "BUF", "VP", "VN", TwoPoles with { GainBandwidthHertz = 1e9 }),
            new Resistor("R1", "BUF", "A", 1e4), new Resistor("R2", "A", "B", 1e4),
            new Capacitor("C1", "A", "OUT", 1e-8), new Capacitor("C2", "B", "GND", 1e-8),
            new OpAmp("U", "B", "M", "OUT", "VP", "VN",
                TwoPoles with { GainBandwidthHertz = 1e9, OpenLoopGain = 1e7, OutputOhms = 0.01, PhaseMarginDegrees = 90 }),
            new Resistor("R3", "OUT", "M", 1e4 * (gain - 1)), new Resistor("R4", "M", "GND", 1e4),
        ]).Compile().SolveRinging(["F", "U"]);
        var mode = Assert.Single(modes, m => m.RadiansPerSecond.Magnitude < 1e6);
        Assert.Equal((3 - gain) / 2, mode.DampingRatio, 1e-4);
        Assert.Equal(1e4, mode.RadiansPerSecond.Magnitude, 1.0);
        Assert.Equal(gain > 3, mode.Grows);
    }

    [Fact]
    public void A_loop_without_phase_margin_oscillates_and_settles_nowhere()
    {
        // Two more lags of 10 kohm and 10 nF inside the loop of a follower: 1.6 kHz each, far below its bandwidth.
        var compiled = new Circuit(
        [
            .. Supplies, new VoltageSource("S", "IN", "GND", 0.1), new OpAmp("U", "IN", "FB", "OUT", "VP", "VN", TwoPoles),
            new Resistor("R1", "OUT", "M", 1e4), new Capacitor("C1", "M", "GND", 1e-8),
            new Resistor("R2", "M", "FB", 1e4), new Capacitor("C2", "FB", "GND", 1e-8),
        ]).Compile();
        var settled = compiled.Settle();
        Assert.False(settled.First.IsStable);
        Assert.True(settled.First.Modes[0].Hertz > 1e3);
        Assert.True(compiled.SolveLoopGain("U").PhaseMarginDegrees < 0);
        Assert.Empty(settled.StablePoints);
    }

    [Fact]
    public void An_integrator_has_a_slow_mode_that_does_not_grow_and_a_passive_circuit_has_none_that_could()
    {
        var integrator = new Circuit(
        [
            .. Supplies, new VoltageSource("S", "IN", "GND", 0), new Resistor("R", "IN", "A", 1e5), new Capacitor("C", "A", "OUT", 1e-6),
            new OpAmp("U", "GND", "A", "OUT", "VP", "VN", TwoPoles),
        ]).Compile().SolveModes();
        Assert.True(integrator.IsStable);
        // τ = R·C·(1 + A0): Miller.
        Assert.Contains(integrator.Modes, m => Math.Abs(m.RadiansPerSecond.Real * 1e5 * 1e-6 * (1 + A0) + 1) < 1e-3);
        var passive = new Circuit([new CurrentSource("S", "GND", "A", 1e-3), new Resistor("R", "A", "GND", 100),
            new Inductor("L", "A", "GND", 1e-3)
            { SeriesOhms = 1 }]).Compile().SolveModes();
        Assert.Empty(passive.Modes);
    }

    [Fact]
    public void The_gain_at_zero_frequency_is_the_slope_of_the_sweep_for_two_hundred_random_stages()
    {
        var random = new Random(20);
        double Log(double low, double high) => low * Math.Pow(high / low, random.NextDouble());
        for (int n = 0; n < 200; n++)
        {
            var model = TwoPoles with
            {
                OpenLoopGain = Log(1e3, 1e6),
                OutputOhms = Log(1, 300),
                InputOhms = Log(1e5, 1e12),
                OffsetVolts = 1e-3 * (random.NextDouble() - 0.5),
            };
            double sourceOhms = random.Next(2) == 0 ? 0 : Log(1, 1e4), volts = 4 * random.NextDouble() - 2, r1 = Log(1e3, 1e5),
                rf = Log(1e3, 1e5);
            var source = new VoltageSource("S", "IN", "GND", volts)
            {
                SeriesOhms = sourceOhms,
                SourceOnly = sourceOhms > 0
                && random.Next(2) == 0
            };
            Element[] stage = random.Next(4) switch
            {
                0 => [new OpAmp("U", "IN", "OUT", "OUT", "VP", "VN", model)],
                1 => [new Resistor("R1", "GND", "A", r1), new Resistor("RF", "A", "OUT", rf),
                    new OpAmp("U", "IN", "A", "OUT", "VP", "VN", model)],
                2 => [new Resistor("R1", "IN", "A", r1), new Resistor("RF", "A", "OUT", rf),
                    new OpAmp("U", "GND", "A", "OUT", "VP", "VN", model)],
                _ => [new Resistor("R1", "IN", "OUT", r1), new Resistor("R2", "OUT", "GND", rf),
                    new Diode("D", "OUT", "GND", Junctions.Silicon)],
            };
            Element[] load = [new Resistor("RL", "OUT", "PIN", Log(100, 1e4)), new Diode("DH", "PIN", "VP", Junctions.Silicon),
                new Resistor("RG", "PIN", "GND", 1e6)];
            var compiled = new Circuit([.. Supplies, source, .. stage, .. load]).Compile();
            double gain = compiled.SolveSmallSignal("S", [1e-6]).Response("PIN")[0].Real;
            // A central difference, extrapolated once (Richardson), of points solved to a nanovolt.
            const double h = 1e-4;
            double[] sweep = compiled.Sweep("S", [volts - h, volts - h / 2, volts + h / 2, volts + h]).Voltage("PIN");
            double slope = (8 * (sweep[2] - sweep[1]) - (sweep[3] - sweep[0])) / (6 * h);
            Assert.True(Math.Abs(gain - slope) < 2e-4 * (Math.Abs(slope) + 0.1), $"circuit {n}: {gain} is not {slope}");
        }
    }

    [Fact]
    public void Modes_of_more_unknowns_than_full_matrices_can_hold_are_refused_by_number()
    {
        var ladder = Enumerable.Range(1, 1001).Select(k => new Resistor($"R{k}", k == 1 ? "IN" : $"N{k - 1}", $"N{k}", 1e3));
        var circuit = new Circuit([new VoltageSource("S", "IN", "GND", 1), .. ladder, new Resistor("RL", "N1001", "GND", 1e3),
            new VoltageSource("VP", "VP", "GND", 9), new OpAmp("U", "N1", "O", "O", "VP", "GND", new OpAmpModel())]);
        Assert.Contains("1000 unknowns at most", Assert.Throws<SolveException>(() => circuit.Compile().SolveModes()).Message,
            StringComparison.Ordinal);
    }

    [Fact]
    public void A_loop_gain_by_way_of_the_states_is_that_of_the_whole_matrix()
    {
        // Two op amps, poles from 1 Hz to 10 MHz, each frequency solved both ways.
        var compiled = new Circuit(
        [
            .. Supplies, new VoltageSource("S", "IN", "GND", 1), new Resistor("R1", "IN", "SUM", 100e3),
            new Resistor("RF", "SUM", "O1", 220e3), new Capacitor("CF", "SUM", "O1", 1e-6),
            new OpAmp("U1", "GND", "SUM", "O1", "VP", "VN", TwoPoles), new Resistor("R2", "O1", "N", 1e3),
            new Capacitor("C2", "N", "GND", 22e-9), new OpAmp("U2", "N", "O2", "O2", "VP", "VN", TwoPoles),
            new Resistor("R3", "O2", "L", 50), new Capacitor("C3", "L", "GND", 100e-12), new Inductor("L3", "L", "GND", 1e-3),
        ]).Compile();
        var kernel = new Kernel<Scalar>(compiled.Topology);
        new OperatingPointSolver(kernel, compiled.Settings, TestContext.Current.CancellationToken).Solve(0);
        var linear = new Linearisation(kernel);
        foreach (var amp in kernel.Devices.OfType<IInputStage<Scalar>>())
        {
            var stage = amp.InputStage(kernel.At);
            var quickly = linear.ReturnRatio(stage);
            for (double decade = 0; decade <= 10; decade += 0.25)
            {
                Complex s = new(0, 2 * Math.PI * Math.Pow(10, decade)), whole = linear.ReturnRatio(stage, s);
                Assert.True((quickly(s) - whole).Magnitude <= 1e-6 * whole.Magnitude + 1e-9, $"{decade}: {quickly(s)}, {whole}");
            }
        }
    }
}
