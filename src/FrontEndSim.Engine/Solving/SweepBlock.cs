using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace FrontEndSim.Engine.Solving;

/// <summary>
/// Up to eight points of a sweep that follow each other, solved side by side in the lanes of a vector register: each from the cubic
/// through the four points before them, by their number. They are taken only where the cubic is known to follow the branch of solutions
/// that those four lie on, see <see cref="Newton.TryConfirm"/>; else there have to be fewer, or the next is solved by itself.
/// </summary>
internal sealed class SweepBlock
{
    /// <summary>Points of one block at most, as many as an <see cref="Octet"/> holds.</summary>
    public const int Points = 8;

    /// <summary>Points that have to be known before it.</summary>
    public const int Before = 4;

    // By the points of a block: the cubic at each for a unit of each point before it, the nearest first.
    private static readonly Octet[][] Cubics =
        [.. Enumerable.Range(0, Points + 1).Select(count => Enumerable.Range(0, Before).Select(k => Cubic(k, count)).ToArray())];

    private readonly Kernel<Octet> _kernel;
    private readonly IDrive<Octet> _drive;
    private readonly int _first;

    public SweepBlock(CompiledCircuit compiled, int source)
    {
        _kernel = new Kernel<Octet>(compiled.Topology);
        _drive = (IDrive<Octet>)_kernel.Devices[source];
        _first = compiled.Topology.Wiring.FirstUnknown;
        Worst = (0, _first);
    }

    /// <summary>Steps of Newton's method taken, of all points.</summary>
    public long Iterations => _kernel.Iterations * Points;

    /// <summary>The largest current left over at any point, A, and where.</summary>
    public (double Amps, int Row) Worst { get; private set; }

    /// <summary>Solves a block, if it is known to follow the branch and its currents balance.</summary>
    /// <param name="values">The values of the source.</param>
    /// <param name="solutions">The unknowns at each value, known before the block; gets those of the block.</param>
    /// <param name="from">The block's first point.</param>
    /// <param name="count">How many it has; lanes beyond the last repeat it.</param>
    public bool TrySolve(IReadOnlyList<double> values, double[][] solutions, int from, int count)
    {
        Span<double> value = stackalloc double[Points];
        for (int lane = 0; lane < Points; lane++)
            value[lane] = values[from + Math.Min(lane, count - 1)];
        _drive.Hold(new Octet(Vector512.Create<double>(value)));
        _kernel.SourcesChanged();
        _kernel.SetTime(0);
        Octet[] x = _kernel.At.X;
        double[] a = solutions[from - 1], b = solutions[from - 2], c = solutions[from - 3], d = solutions[from - 4];
        Octet[] cubic = Cubics[count];
        for (int r = _first; r < x.Length; r++)
            x[r] = cubic[0] * Octet.Of(a[r]) + cubic[1] * Octet.Of(b[r]) + cubic[2] * Octet.Of(c[r]) + cubic[3] * Octet.Of(d[r]);
        if (!_kernel.Prepare(0) || !Newton.TryConfirm(_kernel))
            return false;
        // Where currents balanced before the last step, that has taken the rest to rounding.
        if (!Balances())
        {
            _kernel.EvaluateResidual();
            if (!Balances())
                return false;
            _kernel.Polish();
        }
        var numbers = MemoryMarshal.Cast<Octet, double>(x.AsSpan());
        for (int lane = 0; lane < count; lane++)
        {
            var solution = new double[x.Length];
            for (int r = 0; r < solution.Length; r++)
                solution[r] = numbers[r * Points + lane];
            solutions[from + lane] = solution;
        }
        return true;
    }

    private bool Balances()
    {
        var (amps, scale) = _kernel.LargestLeft();
        if (!Octet.AllBelow(amps - Octet.Of(SweepRun.BalancedShare) * scale, SweepRun.BalancedAmps))
            return false;
        if (!Octet.AllBelow(amps, Worst.Amps))
            Note(amps);
        return true;
    }

    private void Note(Octet amps)
    {
        for (int lane = 0; lane < Points; lane++)
        {
            if (amps.Get(lane) > Worst.Amps)
                Worst = (amps.Get(lane), _kernel.RowLeftOver(amps.Get(lane), lane));
        }
    }

    private static Octet Cubic(int k, int count)
    {
        Octet lanes = default;
        for (int lane = 0; lane < Points; lane++)
            lanes = lanes.With(lane, Weight(k, Math.Min(lane, count - 1)));
        return lanes;
    }

    /// <summary>What a point before the block counts for in a prediction (Lagrange's formula).</summary>
    /// <param name="k">Which, the nearest first.</param>
    /// <param name="lane">The point of the block.</param>
    public static double Weight(int k, int lane)
    {
        double share = 1;
        for (int other = 0; other < Before; other++)
            share *= other == k ? 1 : (lane + 1.0 + other) / (other - k);
        return share;
    }
}
