namespace FrontEndSim.Engine.Solving;

/// <summary>
/// How the nominal solutions of a sweep change with each number that varies, to first order: where trials start from. Immutable.
/// </summary>
internal sealed class TrialSlopes
{
    // What all of them may take: a trial that starts further away takes more steps of Newton's method, and no memory.
    private const int MostNumbers = 2_000_000;

    // A number's change is tried by this share of it, or by this much where it is zero.
    private const double Share = 1e-4, Least = 1e-6;

    private readonly int _first, _varied;
    private readonly double[][] _slopes; // by point: by unknown, by number

    private TrialSlopes(int first, int varied, double[][] slopes) => (_first, _varied, _slopes) = (first, varied, slopes);

    /// <summary>Works them out.</summary>
    /// <param name="compiled">The circuit.</param>
    /// <param name="source">The device that is swept.</param>
    /// <param name="values">Its values.</param>
    /// <param name="solutions">The nominal unknowns at each.</param>
    /// <param name="varied">The numbers that vary.</param>
    /// <param name="nominal">Their nominal values.</param>
    /// <param name="cancel">Stops between points.</param>
    /// <returns>Null where that would be too many, or nothing varies.</returns>
    public static TrialSlopes? Of(CompiledCircuit compiled, int source, double[] values, double[][] solutions,
        (int Device, Parameter Number)[] varied, double[] nominal, CancellationToken cancel)
    {
        int first = compiled.Topology.Wiring.FirstUnknown, size = compiled.Topology.Wiring.Size;
        if (varied.Length == 0 || (long)values.Length * (size - first) * varied.Length > MostNumbers)
            return null;
        int count = varied.Length;
        double[][] slopes = [.. values.Select(_ => new double[(size - first) * count])];
        // In numbers of one circuit: where laws are compiled a second time while they run, exponentials of several may differ in their last
        // digit before and after, and differences of what is left over would show it.
        Kernel<Scalar> asDrawn = new(compiled.Topology), changed = new(compiled.Topology);
        Scalar[] left = new Scalar[size];
        for (int v = 0; v < count; v++)
        {
            ref Scalar number = ref changed.Devices[varied[v].Device].Number(varied[v].Number);
            number = new Scalar(nominal[v] + By(v));
            changed.Refresh();
            for (int point = 0; point < values.Length; point++)
            {
                cancel.ThrowIfCancellationRequested();
                Stand(changed, point);
                changed.Prepare(0);
                changed.EvaluateResidual();
                for (int r = first; r < size; r++)
                    slopes[point][(r - first) * count + v] = changed.LeftOver(r).Value;
            }
            number = new Scalar(nominal[v]);
        }
        for (int point = 0; point < values.Length; point++)
        {
            cancel.ThrowIfCancellationRequested();
            Stand(asDrawn, point);
            bool isSingular = !asDrawn.Prepare(0);
            if (!isSingular)
                asDrawn.NewtonStep(null, exact: true);
            double[] here = slopes[point];
            for (int v = 0; v < count; v++)
            {
                for (int r = first; r < size; r++)
                    left[r] = new Scalar(asDrawn.LeftOver(r).Value - here[(r - first) * count + v]);
                if (!isSingular)
                    asDrawn.SolveAgain(left, left);
                for (int r = first; r < size; r++)
                {
                    double slope = left[r].Value / By(v);
                    here[(r - first) * count + v] = !isSingular && double.IsFinite(slope) ? slope : 0;
                }
            }
        }
        return new TrialSlopes(first, count, slopes);

        double By(int v) => nominal[v] == 0 ? Least : Share * nominal[v];

        void Stand(Kernel<Scalar> kernel, int point)
        {
            ((IDrive<Scalar>)kernel.Devices[source]).Hold(new Scalar(values[point]));
            kernel.SourcesChanged();
            kernel.SetTime(0);
            for (int r = first; r < size; r++)
                kernel.At.X[r] = new Scalar(solutions[point][r]);
        }
    }

    /// <summary>The change of every unknown at a point for changes of the numbers.</summary>
    /// <param name="point">The point.</param>
    /// <param name="changes">The changes, in the order of the numbers.</param>
    /// <param name="into">Gets it, by row.</param>
    public void Departure<L>(int point, L[] changes, L[] into) where L : struct, ILane<L>
    {
        double[] slopes = _slopes[point];
        int k = 0;
        for (int r = _first; r < into.Length; r++)
        {
            L sum = L.Of(0);
            for (int v = 0; v < changes.Length; v++)
                sum += L.Of(slopes[k++]) * changes[v];
            into[r] = sum;
        }
    }
}
