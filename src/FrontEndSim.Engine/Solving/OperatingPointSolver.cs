using MathNet.Numerics;
using MathNet.Numerics.LinearAlgebra;

namespace FrontEndSim.Engine.Solving;

/// <summary>
/// Finds the circuit at rest: Newton with limited junctions; if that fails, continuation in several ways, each problem solved
/// from the one before: a conductance from every node to ground that shrinks to nothing, sources that rise from zero,
/// a pseudo-transient in which a capacitance at every node lets go, and at last the circuit's own way in time.
/// </summary>
internal sealed class OperatingPointSolver(Kernel<Scalar> kernel, SolverSettings settings, CancellationToken cancel)
{
    // Only a current that has nowhere to go makes such a voltage: it is no solution.
    private const double HighestVolts = 1e9;

    // Time passes for so long at first, s, then for so many times as long, so often: from what a comparator takes to what a filter of a
    // second does. What still moves after so many steps is said not to settle.
    private const double FirstSeconds = 1e-6, Longer = 100;
    private const int MostStretches = 4, MostTimeSteps = 10_000;

    // How near a solution must be to where time has led, V, and of the voltage.
    private const double SettledVolts = 1e-2;

    private readonly int _first = kernel.Topology.Wiring.FirstUnknown;

    /// <summary>Which strategy found the solution.</summary>
    public string Strategy { get; private set; } = "";

    /// <summary>The largest current left over, A, and where.</summary>
    public (double Amps, int Row) Residual { get; private set; }

    /// <summary>Solves at time <paramref name="t"/> from the kernel's present iterate.</summary>
    /// <param name="t">The time, s.</param>
    /// <param name="near">A solution of a circuit of the same structure, to be tried as a start first; null for none.</param>
    /// <exception cref="SolveException">No strategy found a solution.</exception>
    public void Solve(double t, Foothold? near = null)
    {
        if (near is not null && kernel.StartFrom(near))
        {
            kernel.SetTime(t);
            if (Try("Newton from a solution nearby", PlainNear))
                return;
            kernel.StartFrom(near);
            if (Try(Beside, Approach))
                return;
            kernel.StartOver();
            Zero();
        }
        kernel.SetTime(t);
        Scalar[] from = [.. kernel.At.X];
        if (Try("Newton", Plain) || Try("Newton, pivots chosen anew", FromZeroReplanned) || Try("conductance stepping", ConductanceStepping)
            || Try("source ramp", SourceRamp) || Try("pseudo-transient", PseudoTransient))
            return;
        var failure = Failure();
        if (kernel.IsLinear || !Try("the circuit's own way in time", () => InTime(from)))
            throw _restless is { } swing ? Restless(swing) : failure;
    }

    /// <summary>Solves in steps from the present iterate, which solves nearly the same equations; false if that does not lead to a
    /// solution.</summary>
    public bool SolveBeside() => Try(Beside, Approach);

    /// <summary>Solves by Newton's method alone from the present iterate; false if that does not lead to a solution.</summary>
    public bool SolveNear() => Try("Newton from where time led", Plain);

    private bool Try(string name, Func<bool> strategy)
    {
        cancel.ThrowIfCancellationRequested();
        Strategy = name;
        bool found = strategy() && kernel.SourceRamp == 1 && Holds();
        if (!found)
            kernel.RampSources(1);
        kernel.SetTime(kernel.At.Time);
        return found;
    }

    /// <summary>Whether the currents balance at every node: steps can look small where a pivot was poor.</summary>
    private bool Holds()
    {
        kernel.LargestResidual();
        kernel.Polish();
        kernel.EvaluateAll();
        var f = kernel.At.F;
        double largest = 0, scale = 0;
        int where = Math.Min(_first, f.Length - 1); // sources may dictate every node
        for (int r = _first; r < f.Length; r++)
        {
            double left = Math.Abs(f[r].Value);
            if (!(left <= largest) && !kernel.Topology.Wiring.CurrentRows.Contains(r)) // the row of a branch current holds volts
                (largest, where) = (left, r);
        }
        foreach (var device in kernel.Devices)
            scale = Math.Max(scale, Math.Abs(device.Current(kernel.At).Value));
        Residual = (largest, where);
        double highest = 0;
        for (int r = _first; r < kernel.Topology.Wiring.NodeCount; r++)
            highest = Math.Max(highest, Math.Abs(kernel.At.X[r].Value));
        return largest <= 1e-10 + 1e-8 * scale && highest < HighestVolts;
    }

    private bool Plain() => kernel.Prepare(0) && Newton.SolveStatic(kernel, settings.MostIterations, cancel);

    private const string Beside = "steps from a solution nearby";

    // From nearby Newton's method arrives in a few steps or wanders. On the way each stride has so many, and there are so many strides at
    // most. One is so long at first and at least, as a share of the way: an op amp without feedback goes from rail to rail on half a
    // microvolt.
    private const int MostNearIterations = 40, MostStrideIterations = 20, MostStrides = 300;
    private const double FirstStride = 0.25, LeastStride = 1e-7;

    private bool PlainNear() => kernel.Prepare(0) && Newton.SolveStatic(kernel, MostNearIterations, cancel);

    /// <summary>
    /// The currents that the present iterate leaves over are made up for by sources, which then go to zero: it solves the equations to
    /// begin with (Newton homotopy; Allgower and Georg, Numerical Continuation Methods, 1990).
    /// </summary>
    private bool Approach()
    {
        kernel.EvaluateAll();
        Scalar[] left = [.. kernel.At.F], good = [.. kernel.At.X];
        var target = new Scalar[left.Length];
        double way = 0, stride = FirstStride;
        for (int n = 0; n < MostStrides && stride >= LeastStride; n++)
        {
            cancel.ThrowIfCancellationRequested();
            double next = Math.Min(1, way + stride);
            for (int r = _first; r < target.Length; r++)
                target[r] = new((1 - next) * left[r].Value);
            if (kernel.Prepare(0) && Newton.SolveStatic(kernel, MostStrideIterations, cancel, next < 1 ? target : null))
            {
                if (next == 1)
                    return true;
                kernel.At.X.CopyTo(good, 0);
                way = next;
                stride *= 2;
                continue;
            }
            Restore(good);
            stride /= 4;
        }
        return false;
    }

    private void Zero()
    {
        for (int r = _first; r < kernel.At.X.Length; r++)
            kernel.At.X[r] = default;
        kernel.ForgetLimits();
    }

    private bool FromZeroReplanned()
    {
        Zero();
        if (!kernel.Prepare(0) || !kernel.Replan())
            return false;
        if (Newton.SolveStatic(kernel, settings.MostIterations, cancel))
            return true;
        // Once more with pivots that suit where the iterates went, if they stayed finite.
        return AllFinite() && kernel.Replan() && Newton.SolveStatic(kernel, settings.MostIterations, cancel);
    }

    private bool AllFinite()
    {
        foreach (var x in kernel.At.X)
        {
            if (!double.IsFinite(x.Value))
                return false;
        }
        return true;
    }

    private bool ConductanceStepping()
    {
        Zero();
        var good = new Scalar[kernel.At.X.Length];
        double decades = 1, leak = 1;
        if (!SolveWithConductance(leak, good))
            return false;
        while (leak > 1e-14)
        {
            double next = leak * Math.Pow(10, -decades);
            if (SolveWithConductance(next, good))
            {
                leak = next;
                decades = Math.Min(2, decades * 1.5);
                continue;
            }
            Restore(good);
            decades /= 3;
            if (decades < 0.02)
                return false;
        }
        return kernel.Prepare(0) && (Newton.SolveStatic(kernel, settings.MostIterations, cancel)
            || (kernel.Replan() && Newton.SolveStatic(kernel, settings.MostIterations, cancel)));
    }

    private bool SolveWithConductance(double leak, Scalar[] good)
    {
        cancel.ThrowIfCancellationRequested();
        if (!kernel.Prepare(0, leak))
            return false;
        if (!Newton.SolveStatic(kernel, settings.MostIterations, cancel))
        {
            Restore(good);
            if (!kernel.Replan() || !Newton.SolveStatic(kernel, settings.MostIterations, cancel))
                return false;
        }
        kernel.At.X.CopyTo(good, 0);
        return true;
    }

    private void Restore(ReadOnlySpan<Scalar> good)
    {
        for (int r = _first; r < good.Length; r++)
            kernel.At.X[r] = good[r];
        kernel.ForgetLimits();
        kernel.Evaluate();
    }

    private bool SourceRamp()
    {
        Zero();
        var good = new Scalar[kernel.At.X.Length];
        double ramp = 0, stride = 0.1;
        while (ramp < 1)
        {
            cancel.ThrowIfCancellationRequested();
            double next = Math.Min(1, ramp + stride);
            kernel.RampSources(next);
            kernel.SetTime(kernel.At.Time);
            if (kernel.Prepare(0) && Newton.SolveStatic(kernel, settings.MostIterations, cancel))
            {
                kernel.At.X.CopyTo(good, 0);
                ramp = next;
                stride = Math.Min(0.25, stride * 2);
                continue;
            }
            Restore(good);
            if (!kernel.Replan())
                return false;
            stride /= 4;
            if (stride < 1e-6)
                return false;
        }
        return true;
    }

    /// <summary>
    /// Lets time pass, all sources where they are, until nothing moves. Where a source has passed the end of a branch of solutions, this is
    /// how hardware goes over to the next.
    /// </summary>
    private bool InTime(Scalar[] from)
    {
        double t = kernel.At.Time, seconds = FirstSeconds;
        var limited = settings with { MostSteps = MostTimeSteps };
        for (int n = 0; n < MostStretches; n++, seconds *= Longer)
        {
            kernel.SetTime(t);
            kernel.ForgetLimits();
            var run = new TransientRun(kernel, limited, areSourcesFrozen: true, cancel);
            if (run.Settle(from, seconds) is not { } settled)
            {
                _restless = run.WidestSwing();
                return false;
            }
            kernel.ForgetLimits();
            kernel.Evaluate(exact: true);
            // What begins slowly, as just beyond the end of a branch, may hardly have moved yet.
            if (Plain() && !kernel.At.X.Zip(settled).Any(p =>
                Math.Abs(p.First.Value - p.Second.Value) > SettledVolts * (1 + Math.Abs(p.Second.Value))))
                return true;
        }
        return false;
    }

    private (int Row, double Low, double High)? _restless;

    private PseudoTransient? _pseudo;

    private bool PseudoTransient()
    {
        Zero();
        _pseudo = new PseudoTransient(kernel, settings.MostIterations);
        return _pseudo.Solve(0, null, cancel);
    }

    /// <summary>The node whose voltage the pseudo-transient drove beyond any circuit's: the current that has nowhere to go is pushed
    /// there.</summary>
    private int? Runaway()
    {
        const double beyondCircuits = 1e5;
        int? row = null;
        double highest = beyondCircuits;
        for (int r = _first; _pseudo is not null && r < kernel.Topology.Wiring.NodeCount; r++)
        {
            double volts = Math.Abs(_pseudo.Held[r].Value);
            if (volts > highest)
                (highest, row) = (volts, r);
        }
        return row;
    }

    private SolveException Restless((int Row, double Low, double High) swing)
    {
        string node = kernel.Topology.Wiring.Names[swing.Row];
        return new SolveException(FormattableString.Invariant(
            $"No operating point found: the circuit does not come to rest. With its sources standing still the voltage of node {node} ")
            + FormattableString.Invariant($"goes on moving between {swing.Low:G4} V and {swing.High:G4} V: it oscillates by itself. ")
            + "Look for a comparator, gate or op amp whose output reaches its own input by a clamp, a rail or a reference that gives way.",
                node, PartAt(node))
        { IsRestless = true };
    }

    private string? PartAt(string node) => kernel.Topology.Elements.FirstOrDefault(e => e.Terminals.Contains(node))?.Name;

    private SolveException Failure()
    {
        var wiring = kernel.Topology.Wiring;
        int row = kernel.StuckRows.Length > 0 ? NullRow() : Residual.Row;
        if (kernel.StuckRows.Length == 0)
        {
            double largest = 0;
            bool areFinite = true;
            for (int r = _first; r < wiring.NodeCount; r++)
            {
                double step = Math.Abs(kernel.Step[r].Value);
                areFinite &= double.IsFinite(step);
                if (step > largest)
                    (largest, row) = (step, r);
            }
            // Steps that overflowed say nothing; where the last solution with a helping conductance leaves a current over without it, does.
            if (!areFinite && _pseudo is not null && kernel.Prepare(0))
            {
                Restore(_pseudo.Held);
                row = kernel.LargestResidual().Row;
            }
            row = Runaway() ?? row;
        }
        string name = wiring.Names[row];
        string? node = row < wiring.NodeCount ? name : null;
        string? part = kernel.Topology.Elements.FirstOrDefault(e => node is null ? name.Contains(e.Name, StringComparison.Ordinal)
            : e.Terminals.Contains(name))?.Name;
        string what = node is null ? $"the {name}" : $"the voltage of node {name}";
        string reason = kernel.StuckRows.Length > 0 ? "the equations do not determine it" : "it would not settle";
        return new SolveException(
            $"No operating point found: {reason}: {what}{(part is null ? "" : $" (at part {part})")}. "
            + "Tried Newton, conductance stepping, a source ramp, a pseudo-transient and the circuit's own way in time. "
            + "Look for a node held only by parts that are off, two sources that fight, or a stage with positive feedback; "
            + "a large resistor from that node to ground often settles it.", node, part);
    }

    /// <summary>The unknown that moves most in the direction that the equations leave free (the last right singular vector).</summary>
    private int NullRow()
    {
        int order = kernel.At.X.Length - _first;
        if (order > 400)
            return kernel.StuckRows[0];
        var matrix = Matrix<double>.Build.DenseOfArray(kernel.Slopes().G);
        try
        {
            return matrix.Svd().VT.Row(order - 1).AbsoluteMaximumIndex() + _first;
        }
        catch (NonConvergenceException)
        {
            return kernel.StuckRows[0];
        }
    }
}
