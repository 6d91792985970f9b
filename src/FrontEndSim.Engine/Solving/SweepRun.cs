using FrontEndSim.Engine.Results;

namespace FrontEndSim.Engine.Solving;

/// <summary>
/// A sweep as continuation: each point starts from the line through the two before it. Where that does not lead to a
/// solution the strategies of <see cref="OperatingPointSolver"/> take over for the point.
/// </summary>
internal sealed class SweepRun
{
    // Refining: a point is added while the middle of an interval lies off its chord by this much of the node's range,
    // down to this fraction of the whole sweep.
    private const double Bend = 2e-4, ShortestInterval = 1e-5;

    /// <summary>Currents balance at a point when what is left over is below this share of the largest, or this, A.</summary>
    public const double BalancedShare = 1e-8, BalancedAmps = 1e-10;

    // Equations for points side by side have to be made first, and without a native build compiled, which a short sweep does not win back.
    private const int LeastForBlocks = 1000;

    // Fewer points side by side are no quicker than one after the other.
    private const int LeastInBlock = 2;

    private readonly CompiledCircuit _compiled;
    private readonly string _source;
    private readonly int _index;
    private readonly CancellationToken _cancel;
    private readonly Kernel<Scalar> _kernel;
    private readonly IDrive<Scalar> _drive;
    private readonly OperatingPointSolver _solver;
    private readonly int _first, _nodes;
    private double _worst;
    private int _worstRow;
    private int _solvered;
    private long _iterationsInBlocks;
    private Foothold? _near;
    private double[][]? _beside;

    public SweepRun(CompiledCircuit compiled, string source, CancellationToken cancel)
    {
        (_compiled, _source, _cancel) = (compiled, source, cancel);
        _index = compiled.SourceIndex(source);
        _kernel = new Kernel<Scalar>(compiled.Topology);
        _drive = (IDrive<Scalar>)_kernel.Devices[_index];
        _solver = new OperatingPointSolver(_kernel, compiled.Settings, cancel);
        _first = _worstRow = compiled.Topology.Wiring.FirstUnknown;
        _nodes = compiled.Topology.Wiring.NodeCount;
    }

    /// <summary>Changes a number of a part for this run; after all of them comes <see cref="Refresh"/>.</summary>
    public void Vary(int device, Parameter number, double value) => _kernel.Devices[device].Number(number) = new Scalar(value);

    /// <summary>Works the equations out anew with the numbers that were changed.</summary>
    public void Refresh() => _kernel.Refresh();

    /// <summary>Searches for the first point from there first.</summary>
    public void BeginNear(Foothold? near) => _near = near;

    /// <summary>Searches from the solutions of a sweep over the same values that differs little, where a point before leads
    /// nowhere.</summary>
    public void GoBeside(double[][] solutions) => _beside = solutions;

    /// <summary>One of the solutions, for others to begin near.</summary>
    public Foothold FootholdAt(double[] solution) => new(_compiled.Topology.Wiring, solution, _kernel.Leave().Plan);

    /// <summary>The unknowns at each value.</summary>
    /// <param name="values">The values.</param>
    /// <param name="inBlocksFrom">How many of them are worth solving side by side; never after <see cref="Vary"/>.</param>
    public double[][] Solutions(IReadOnlyList<double> values, int inBlocksFrom = LeastForBlocks)
    {
        if (values.Count == 0)
            throw new ArgumentException("A sweep needs at least one value.", nameof(values));
        var solutions = new double[values.Count][];
        var block = values.Count < inBlocksFrom ? null : new SweepBlock(_compiled, _index);
        int next = SweepBlock.Before, count = SweepBlock.Points; // where a block may begin, and its points
        bool isAway = false;
        for (int n = 0; n < solutions.Length; n++)
        {
            if (block is not null && n >= next)
            {
                _cancel.ThrowIfCancellationRequested();
                count = Math.Min(count, solutions.Length - n);
                if (block.TrySolve(values, solutions, n, count))
                {
                    isAway = true;
                    n += count - 1;
                    count = Math.Min(2 * count, SweepBlock.Points);
                    continue;
                }
                // Half as many reach less far; where that is next to none, a knee lies ahead.
                if (count > LeastInBlock)
                {
                    count /= 2;
                    n--;
                    continue;
                }
                next = n + LeastInBlock;
            }
            if (isAway)
                StandAt(values[n - 1], solutions[n - 1]);
            isAway = false;
            double lead = n < 2 ? 0 : Lead(values[n - 2], values[n - 1], values[n]);
            solutions[n] = Point(values[n], n == 0 ? null : solutions[n - 1], lead > 0 ? solutions[n - 2] : null, lead, _beside?[n]);
        }
        if (block is not null)
        {
            Note(block.Worst.Amps, block.Worst.Row);
            _iterationsInBlocks = block.Iterations;
        }
        return solutions;
    }

    /// <summary>The unknowns at one value, from those at the one before, null for none, or else those of a sweep that differs
    /// little.</summary>
    public double[] From(double value, double[]? near, double[] beside)
    {
        if (near is not null)
            StandAt(value, near);
        return Point(value, near, null, 0, beside);
    }

    /// <summary>
    /// The stretch to a value over the one before it; zero where that is none, or where the sweep turns back: a line would lead to where it
    /// came from, and what went over at the turn would be undone.
    /// </summary>
    public static double Lead(double far, double near, double value) => near == far ? 0 : Math.Max(0, (value - near) / (near - far));

    /// <summary>Goes on from a point that was solved elsewhere.</summary>
    private void StandAt(double value, double[] solution)
    {
        Set(value);
        for (int r = _first; r < solution.Length; r++)
            _kernel.At.X[r] = new Scalar(solution[r]);
        _kernel.Evaluate(exact: true); // limiting starts from here
    }

    public SweepResult Run(IReadOnlyList<double> values, bool refine, OperatingPoint? near = null)
    {
        BeginNear(near?.Foothold);
        var at = new List<double>(values);
        var solutions = new List<double[]>(Solutions(values));
        if (refine && values.Count > 1)
            Refine(at, solutions);

        double[] grid = [.. at];
        double[][] all = [.. solutions];
        var wiring = _compiled.Topology.Wiring;
        var nodes = Enumerable.Range(0, _nodes).ToDictionary(r => wiring.Names[r]);
        var audit = new Audit
        {
            KirchhoffAmps = _worst,
            KirchhoffNode = wiring.NameOf(_worstRow),
            NewtonIterations = _kernel.Iterations + _iterationsInBlocks,
            Method = $"continuation over {grid.Length} points, {_solvered} of them by the operating-point strategies",
        };
        // Of many points nobody starts again.
        var foothold = grid.Length == 1 ? _kernel.Leave() : null;
        return new SweepResult(_source, grid, all, nodes, audit, () => Read(grid, all, audit, foothold));
    }

    /// <summary>
    /// Solves at one value, starting from <paramref name="near"/> plus <paramref name="lead"/> times its lead over
    /// <paramref name="far"/>; then from <paramref name="beside"/>.
    /// </summary>
    private double[] Point(double value, double[]? near, double[]? far, double lead, double[]? beside = null)
    {
        _cancel.ThrowIfCancellationRequested();
        Set(value);
        Scalar[] x = _kernel.At.X;
        bool found = false;
        if (near is not null && _kernel.Prepare(0))
        {
            for (int r = _first; r < x.Length; r++)
                x[r] = new Scalar(far is null ? near[r] : near[r] + lead * (near[r] - far[r]));
            found = Newton.SolveStatic(_kernel, 20, _cancel) && Balanced();
            if (!found)
            {
                Array.ConvertAll(beside ?? near, v => new Scalar(v)).AsSpan(_first).CopyTo(x.AsSpan(_first));
                _kernel.ForgetLimits();
            }
        }
        if (!found)
        {
            if (near is not null)
                _solvered++;
            if (near is null || beside is null || !_solver.SolveBeside())
                _solver.Solve(0, near is null ? _near : null);
            Note(_solver.Residual.Amps, _solver.Residual.Row);
        }
        var solution = new double[x.Length];
        for (int r = 0; r < solution.Length; r++)
            solution[r] = x[r].Value;
        return solution;
    }

    private void Set(double value)
    {
        _drive.Hold(new Scalar(value));
        _kernel.SourcesChanged();
        _kernel.SetTime(0);
    }

    /// <summary>Whether the currents balance to within what the last step can explain; notes the worst.</summary>
    private bool Balanced()
    {
        var (amps, row, largest) = _kernel.LargestResidual();
        if (!(amps <= BalancedAmps + BalancedShare * largest))
            return false;
        Note(amps, row);
        _kernel.Polish();
        return true;
    }

    private void Note(double amps, int row)
    {
        if (amps > _worst)
            (_worst, _worstRow) = (amps, row);
    }

    private void Refine(List<double> at, List<double[]> solutions)
    {
        var low = new double[_nodes];
        var high = new double[_nodes];
        Array.Fill(low, double.PositiveInfinity);
        Array.Fill(high, double.NegativeInfinity);
        foreach (double[] x in solutions)
        {
            for (int r = 0; r < _nodes; r++)
                (low[r], high[r]) = (Math.Min(low[r], x[r]), Math.Max(high[r], x[r]));
        }
        double shortest = ShortestInterval * Math.Abs(at[^1] - at[0]);
        var points = new List<(double Value, double[] X)> { (at[0], solutions[0]) };
        for (int k = 1; k < at.Count; k++)
        {
            Between(at[k - 1], solutions[k - 1], at[k], solutions[k]);
            points.Add((at[k], solutions[k]));
        }
        at.Clear();
        solutions.Clear();
        at.AddRange(points.Select(p => p.Value));
        solutions.AddRange(points.Select(p => p.X));

        void Between(double from, double[] xFrom, double to, double[] xTo)
        {
            if (Math.Abs(to - from) <= shortest)
                return;
            double middle = 0.5 * (from + to);
            double[] x = Point(middle, xFrom, xTo, -0.5);
            bool bends = false;
            for (int r = 0; r < _nodes && !bends; r++)
                bends = Math.Abs(x[r] - 0.5 * (xFrom[r] + xTo[r])) > Bend * (high[r] - low[r]) + 1e-9;
            if (!bends)
                return;
            Between(from, xFrom, middle, x);
            points.Add((middle, x));
            Between(middle, x, to, xTo);
        }
    }

    private OperatingPoint[] Read(double[] grid, double[][] solutions, Audit audit, Foothold? foothold)
    {
        // A kernel of its own: the result may be read on another thread than the sweep.
        var run = new SweepRun(_compiled, _source, CancellationToken.None);
        var points = new OperatingPoint[grid.Length];
        for (int k = 0; k < grid.Length; k++)
        {
            run.Set(grid[k]);
            for (int r = 0; r < solutions[k].Length; r++)
                run._kernel.At.X[r] = new Scalar(solutions[k][r]);
            run._kernel.ForgetLimits();
            run._kernel.EvaluateAll();
            points[k] = Readings.Take(run._kernel, audit) with { Foothold = foothold };
        }
        return points;
    }
}
