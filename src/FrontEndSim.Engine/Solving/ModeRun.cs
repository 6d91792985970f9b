using FrontEndSim.Engine.Results;
using MathNet.Numerics.RootFinding;
using Complex = System.Numerics.Complex;

namespace FrontEndSim.Engine.Solving;

/// <summary>Operating points with their natural modes, loop gains, and where an unstable point settles to.</summary>
internal sealed class ModeRun
{
    // An unstable point is left by a push of this size and followed for so many times its own growth time at first.
    private const double PushVolts = 1e-3, Lifetimes = 50;

    // Steps after which what still moves is said not to settle.
    private const int MostSteps = 20_000;

    // How near a point must be to where time has led, V, and of the voltage.
    private const double SettledVolts = 1e-2;

    private readonly CompiledCircuit _compiled;
    private readonly CancellationToken _cancel;
    private readonly Kernel<Scalar> _kernel;

    public ModeRun(CompiledCircuit compiled, CancellationToken cancel)
    {
        (_compiled, _cancel) = (compiled, cancel);
        _kernel = new Kernel<Scalar>(compiled.Topology);
    }

    /// <summary>The unknowns of the last point.</summary>
    public Scalar[] Unknowns => _kernel.At.X;

    /// <summary>The operating point at time zero, with its modes.</summary>
    public ModesResult Solve(OperatingPoint? near = null)
    {
        var point = Rest(near);
        return new ModesResult(point, HasGain ? All(new Linearisation(_kernel)) : []);
    }

    /// <summary>The modes that grow, and the loop gains of op amps where none does, with the modes that ring.</summary>
    public StabilityResult Solve(IReadOnlyList<string> opAmps, OperatingPoint? near)
    {
        Rest(near);
        if (!HasGain)
            return new([], []);
        var linear = new Linearisation(_kernel);
        var modes = NearAxis(linear);
        var growing = Readable(linear, modes.Where(m => m.Grows));
        return new(growing, growing.IsEmpty ? [.. opAmps.Select(a => LoopGain(a, linear))] : [])
        {
            Ringing = Ringing(linear, modes, opAmps),
        };
    }

    /// <summary>The modes that the loops of op amps make and that ring or grow.</summary>
    public ImmutableArray<Mode> Ringing(IReadOnlyList<string> opAmps, OperatingPoint? near)
    {
        Rest(near);
        var linear = new Linearisation(_kernel);
        return Ringing(linear, NearAxis(linear), opAmps);
    }

    // A damping ratio beyond which a mode is not followed: that without a peak over frequency.
    private const double MostDamping = 0.70710678;

    // How near a return ratio comes to -1 in a mode that is of its loop.
    private const double IsOfLoop = 1e-2;

    private static NaturalMode[] NearAxis(Linearisation linear) =>
        [.. linear.Modes(s => s.Real > -MostDamping * s.Magnitude)];

    // A loop makes the modes in which its return ratio is -1; what swings beside it does so without the loop as well.
    private ImmutableArray<Mode> Ringing(Linearisation linear, IEnumerable<NaturalMode> modes, IReadOnlyList<string> opAmps)
    {
        InputStage[] stages = [.. opAmps.Select(InputStage)];
        return Readable(linear, modes.Where(m => m.S.Imaginary > 0
            && stages.Any(stage => (1 + linear.ReturnRatio(stage, m.S)).Magnitude < IsOfLoop)));
    }

    // Further from the axis than this share of its magnitude no mode grows, whatever digits its eigenvalue lost.
    private const double NearlyGrows = 0.1;

    private static IEnumerable<NaturalMode> Growing(Linearisation linear) =>
        linear.Modes(s => s.Real > -NearlyGrows * s.Magnitude).Where(m => m.Grows);

    private OperatingPoint Rest(OperatingPoint? near = null)
    {
        var solver = new OperatingPointSolver(_kernel, _compiled.Settings, _cancel);
        solver.Solve(0, near?.Foothold);
        return Readings.Take(_kernel, solver);
    }

    // A passive circuit has no mode that grows.
    private bool HasGain => _compiled.Circuit.Elements.Any(e => e.HasGain);

    private static ImmutableArray<Mode> All(Linearisation linear) => Readable(linear, linear.Modes());

    private static ImmutableArray<Mode> Readable(Linearisation linear, IEnumerable<NaturalMode> modes) =>
        [.. modes.OrderByDescending(m => m.S.Real).Select(m => new Mode(m.S, m.Grows,
            [.. m.Shares.Select((share, k) => (linear.NameOf(k), share)).Where(p => p.share > 0.01).OrderByDescending(p => p.share)]))];

    /// <summary>The stable points that the first operating point leads to.</summary>
    public SettledResult Settle()
    {
        var rest = Rest();
        var linear = HasGain ? new Linearisation(_kernel) : null;
        NaturalMode[] all = linear is null ? [] : [.. Growing(linear)];
        var first = new ModesResult(rest, linear is null ? [] : Readable(linear, all));
        if (all.MaxBy(m => m.S.Real) is not { } growing)
            return new SettledResult(first, [rest]);
        Scalar[] from = [.. _kernel.At.X];
        int unknown = _compiled.Topology.Wiring.FirstUnknown;
        var held = new Circuit(_compiled.Circuit.Elements.Select(e => e.AtTimeZero()), _compiled.Circuit.Celsius)
            .Compile(_compiled.Settings with { Keep = [], MostSteps = MostSteps });
        var found = ImmutableArray.CreateBuilder<OperatingPoint>();
        foreach (int sign in (ReadOnlySpan<int>)[1, -1])
        {
            Scalar[] pushed = [.. from];
            for (int k = 0; k < growing.Shape.Length; k++)
                pushed[k + unknown] += new Scalar(sign * PushVolts * growing.Shape[k].Real);
            if (new TransientRun(held, _cancel).Settle(pushed, Lifetimes / growing.S.Real) is { } settled
                && StablePointAt(settled) is { } point
                && !found.Any(p => IsSame(p, point)))
                found.Add(point);
        }
        return new SettledResult(first, found.ToImmutable());
    }

    /// <summary>The operating point at unknowns that time has led to, if it is stable.</summary>
    private OperatingPoint? StablePointAt(Scalar[] settled)
    {
        settled.CopyTo(_kernel.At.X, 0);
        _kernel.SetTime(0);
        _kernel.ForgetLimits();
        _kernel.Evaluate(exact: true);
        var solver = new OperatingPointSolver(_kernel, _compiled.Settings, _cancel);
        if (!solver.SolveNear())
            return null;
        bool isNear = !_kernel.At.X.Zip(settled).Any(p =>
            Math.Abs(p.First.Value - p.Second.Value) > SettledVolts * (1 + Math.Abs(p.Second.Value)));
        return isNear && !Growing(new Linearisation(_kernel)).Any() ? Readings.Take(_kernel, solver) : null;
    }

    private static bool IsSame(OperatingPoint a, OperatingPoint b) =>
        !a.Nodes.Any(n => Math.Abs(n.Value - b.Nodes[n.Key]) > SettledVolts * (1 + Math.Abs(n.Value)));

    /// <summary>The loop gain of an op amp at the operating point.</summary>
    public LoopGain LoopGain(string opAmp)
    {
        Rest();
        return LoopGain(opAmp, new Linearisation(_kernel));
    }

    private InputStage InputStage(string opAmp)
    {
        int index = _compiled.Topology.IndexOf(opAmp);
        return index >= 0 && _kernel.Devices[index] is IInputStage<Scalar> amp ? amp.InputStage(_kernel.At)
            : throw new ArgumentException($"The circuit has no op amp named {opAmp}.", nameof(opAmp));
    }

    private LoopGain LoopGain(string opAmp, Linearisation linear)
    {
        var stage = InputStage(opAmp);
        double direct = linear.ReturnRatio(stage, 0).Real;
        var ratio = linear.ReturnRatio(stage);
        double Decibel(double logHertz) => Math.Log(ratio(new Complex(0, 2 * Math.PI * Math.Pow(10, logHertz))).Magnitude);

        // From above every pole downwards: without resonances the highest crossing is where the phase has fallen most.
        double high = 11;
        double low = high;
        do
            (high, low) = (low, low - 0.1);
        while (Decibel(low) < 0 && low > -6);
        if (low <= -6)
            return new LoopGain(opAmp, direct, 0, double.PositiveInfinity);
        double hertz = Math.Pow(10, Brent.FindRoot(Decibel, low, high, 1e-10, 200));
        double lag = -linear.ReturnRatio(stage, new Complex(0, 2 * Math.PI * hertz)).Phase * 180 / Math.PI;
        var highest = new LoopGain(opAmp, direct, hertz, 180 - (lag < 0 ? lag + 360 : lag));

        // A line or a resonant load takes the gain through one several times: it rings where it comes nearest to -1.
        var least = highest;
        double above = Math.Log10(hertz) - 1e-3, levelAbove = Decibel(above);
        for (int k = 1; k <= FurtherSteps; k++)
        {
            double below = above - FurtherStep, level = Decibel(below);
            if (level * levelAbove < 0)
            {
                double at = Math.Pow(10, Brent.FindRoot(Decibel, below, above, 1e-10, 200));
                double distance = 180 - Math.Abs(linear.ReturnRatio(stage, new Complex(0, 2 * Math.PI * at)).Phase * 180 / Math.PI);
                if (distance < least.PhaseMarginDegrees)
                    least = new LoopGain(opAmp, direct, at, distance);
            }
            (above, levelAbove) = (below, level);
        }
        return least;
    }

    // Two decades below the highest crossing, in steps that a resonance of a quality of ten is wider than.
    private const double FurtherStep = 0.05;
    private const int FurtherSteps = 40;
}
