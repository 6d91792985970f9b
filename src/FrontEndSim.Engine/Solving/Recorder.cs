using FrontEndSim.Engine.Results;

namespace FrontEndSim.Engine.Solving;

/// <summary>
/// Keeps what the time steps found: four points a step, so that a cubic for each step can be drawn through them. When it holds
/// as many numbers as it may, neighbouring steps are merged where one cubic tells what two told.
/// </summary>
/// <param name="rows">The rows to keep.</param>
/// <param name="mostNumbers">Numbers to keep at most.</param>
internal sealed class Recorder(int[] rows, int mostNumbers)
{
    // Where merging leaves more than this share, the next would come soon and leave more still.
    private const double FullShare = 0.75;

    // Steps are kept in blocks, so that growing never moves what is there.
    private const int StepsPerBlock = 32;

    private readonly List<double[]> _times = [];
    private readonly List<double[]> _values = [];
    private readonly double[] _latest = new double[rows.Length];
    private int _steps;

    /// <summary>Whether it holds as many numbers as it may.</summary>
    public bool IsFull => 4L * _steps * (rows.Length + 1) >= mostNumbers;

    /// <summary>Steps kept.</summary>
    public int Steps => _steps;

    /// <summary>Stretches that repeat, in order of time.</summary>
    public List<Repeat> Repeats { get; } = [];

    /// <summary>How often steps were merged.</summary>
    public int Merges { get; private set; }

    /// <summary>The rows kept.</summary>
    public int[] Rows => rows;

    /// <summary>The point that the first step starts from.</summary>
    public void Begin(Scalar[] x)
    {
        for (int k = 0; k < rows.Length; k++)
            _latest[k] = x[rows[k]].Value;
    }

    private Span<double> Next(double t0, double t1, double t2, double t3)
    {
        int place = _steps % StepsPerBlock;
        if (place == 0)
        {
            // Every number is written before it is read.
            _times.Add(GC.AllocateUninitializedArray<double>(4 * StepsPerBlock));
            _values.Add(GC.AllocateUninitializedArray<double>(4 * StepsPerBlock * rows.Length));
        }
        var times = _times[^1].AsSpan(4 * place, 4);
        (times[0], times[1], times[2], times[3]) = (t0, t1, t2, t3);
        _steps++;
        return _values[^1].AsSpan(4 * place * rows.Length, 4 * rows.Length);
    }

    /// <summary>A step of the method: its start, two inner points and its end.</summary>
    public void Add(double from, double to, double h, Tableau method, Scalar[][] stage)
    {
        int[] inner = method.InnerStages;
        bool two = inner.Length == 2;
        double c1 = two ? method.C[inner[0]] : 1.0 / 3, c2 = two ? method.C[inner[1]] : 2.0 / 3;
        var values = Next(from, from + c1 * h, from + c2 * h, to);
        int n = rows.Length;
        Scalar[] x0 = stage[0], xa = stage[inner[0]], xb = stage[inner[^1]], x3 = stage[^1];
        // With one inner stage the inner points lie on the parabola through start, stage and end.
        double c = method.C[inner[0]];
        for (int k = 0; k < n; k++)
        {
            int r = rows[k];
            double v0 = x0[r].Value, v3 = x3[r].Value;
            values[k] = v0;
            values[n + k] = two ? xa[r].Value : Parabola(c1);
            values[2 * n + k] = two ? xb[r].Value : Parabola(c2);
            values[3 * n + k] = v3;
            _latest[k] = v3;

            double Parabola(double u)
            {
                double slope = v3 - v0, bend = (xa[r].Value - v0 - c * slope) / (c * (c - 1));
                return v0 + u * (slope + bend * (u - 1));
            }
        }
    }

    /// <summary>A straight line from the last point.</summary>
    public void AddLine(double from, double to, Scalar[] x)
    {
        double third = (to - from) / 3;
        var values = Next(from, from + third, from + 2 * third, to);
        int n = rows.Length;
        for (int k = 0; k < n; k++)
        {
            double v0 = _latest[k], v3 = x[rows[k]].Value;
            values[k] = v0;
            values[n + k] = v0 + (v3 - v0) / 3;
            values[2 * n + k] = v0 + (v3 - v0) * 2 / 3;
            values[3 * n + k] = v3;
            _latest[k] = v3;
        }
    }

    /// <summary>Says that all steps from one on repeat: what follows comes that much later.</summary>
    /// <param name="first">The first of them.</param>
    /// <param name="times">How often they come once more.</param>
    /// <param name="period">How long they take, s.</param>
    public void Repeat(int first, int times, double period) => Repeats.Add(new(first, _steps, times, period));

    /// <summary>Forgets all steps after the first so many, and the stretch that is said to repeat last.</summary>
    /// <param name="steps">How many are kept.</param>
    public void CutTo(int steps)
    {
        Repeats.RemoveAt(Repeats.Count - 1);
        KeepFirst(steps);
    }

    private void KeepFirst(int steps)
    {
        _steps = steps;
        int blocks = (_steps + StepsPerBlock - 1) / StepsPerBlock;
        _times.RemoveRange(blocks, _times.Count - blocks);
        _values.RemoveRange(blocks, _values.Count - blocks);
    }

    /// <summary>Merges each two neighbouring steps into one where the points that it leaves out stay near its cubic.</summary>
    /// <param name="allowed">How far a point left out may lie from the cubic, by row.</param>
    /// <returns>False if that leaves the record all but full.</returns>
    public bool Merge(double[] allowed)
    {
        Merges++;
        int kept = 0;
        // A stretch that repeats stays apart from what is around it.
        int[] bounds = [.. Repeats.SelectMany(r => new[] { r.First, r.End })], moved = new int[bounds.Length];
        int bound = 0;
        for (int s = 0; s < _steps; kept++)
        {
            for (; bound < bounds.Length && bounds[bound] == s; bound++)
                moved[bound] = kept;
            bool merges = s + 1 < _steps && !(bound < bounds.Length && bounds[bound] == s + 1) && CanMerge(s, allowed);
            Span<double> times = TimesOf(s), values = ValuesOf(s);
            if (merges)
            {
                // The end of the first step and the first inner point of the second lie inside the joint step.
                Span<double> nextTimes = TimesOf(s + 1), nextValues = ValuesOf(s + 1);
                Copy(times, values, 1, TimesOf(kept), ValuesOf(kept), 1, alsoStart: kept != s);
                Copy(nextTimes, nextValues, 1, TimesOf(kept), ValuesOf(kept), 2, alsoStart: false);
                Copy(nextTimes, nextValues, 3, TimesOf(kept), ValuesOf(kept), 3, alsoStart: false);
            }
            else if (kept != s)
            {
                times.CopyTo(TimesOf(kept));
                values.CopyTo(ValuesOf(kept));
            }
            s += merges ? 2 : 1;
        }
        for (; bound < bounds.Length; bound++)
            moved[bound] = kept;
        for (int r = 0; r < Repeats.Count; r++)
            Repeats[r] = Repeats[r] with { First = moved[2 * r], End = moved[2 * r + 1] };
        KeepFirst(kept);
        return 4L * _steps * (rows.Length + 1) < FullShare * mostNumbers;
    }

    private void Copy(Span<double> fromTimes, Span<double> fromValues, int from, Span<double> toTimes, Span<double> toValues, int to,
        bool alsoStart)
    {
        int n = rows.Length;
        if (alsoStart)
        {
            toTimes[0] = fromTimes[0];
            fromValues[..n].CopyTo(toValues);
        }
        toTimes[to] = fromTimes[from];
        fromValues.Slice(from * n, n).CopyTo(toValues[(to * n)..]);
    }

    /// <summary>Whether the cubic through start, an inner point of each, and end of two steps passes by all their other points.</summary>
    private bool CanMerge(int step, double[] allowed)
    {
        Span<double> t = TimesOf(step), u = TimesOf(step + 1), x = ValuesOf(step), y = ValuesOf(step + 1);
        if (t[3] != u[0] || !(t[0] < t[1] && t[1] < u[1] && u[1] < u[3]))
            return false;
        int n = rows.Length;
        Span<double> second = stackalloc double[4], joint = stackalloc double[4], fourth = stackalloc double[4];
        Weights(t[0], t[1], u[1], u[3], t[2], second);
        Weights(t[0], t[1], u[1], u[3], t[3], joint);
        Weights(t[0], t[1], u[1], u[3], u[2], fourth);
        for (int k = 0; k < n; k++)
        {
            double a = x[k], b = x[n + k], c = y[n + k], d = y[3 * n + k], most = allowed[k];
            // A jump between the two is kept.
            if (Math.Abs(x[3 * n + k] - y[k]) > 0
                || !(Math.Abs(At(second) - x[2 * n + k]) <= most && Math.Abs(At(joint) - y[k]) <= most
                    && Math.Abs(At(fourth) - y[2 * n + k]) <= most))
                return false;

            double At(Span<double> w) => w[0] * a + w[1] * b + w[2] * c + w[3] * d;
        }
        return true;
    }

    /// <summary>Weights of the values at four times in the value of their cubic at another (Lagrange).</summary>
    private static void Weights(double t0, double t1, double t2, double t3, double t, Span<double> weights)
    {
        weights[0] = (t - t1) * (t - t2) * (t - t3) / ((t0 - t1) * (t0 - t2) * (t0 - t3));
        weights[1] = (t - t0) * (t - t2) * (t - t3) / ((t1 - t0) * (t1 - t2) * (t1 - t3));
        weights[2] = (t - t0) * (t - t1) * (t - t3) / ((t2 - t0) * (t2 - t1) * (t2 - t3));
        weights[3] = (t - t0) * (t - t1) * (t - t2) / ((t3 - t0) * (t3 - t1) * (t3 - t2));
    }

    private Span<double> TimesOf(int step) => _times[step / StepsPerBlock].AsSpan(4 * (step % StepsPerBlock), 4);

    private Span<double> ValuesOf(int step) =>
        _values[step / StepsPerBlock].AsSpan(4 * (step % StepsPerBlock) * rows.Length, 4 * rows.Length);

    /// <summary>All times, four a step.</summary>
    public double[] Times()
    {
        var all = new double[4 * _steps];
        for (int s = 0; s < _steps; s++)
            _times[s / StepsPerBlock].AsSpan(4 * (s % StepsPerBlock), 4).CopyTo(all.AsSpan(4 * s, 4));
        return all;
    }

    /// <summary>The values of one kept row, four a step.</summary>
    public double[] Values(int place)
    {
        double[] all = GC.AllocateUninitializedArray<double>(4 * _steps);
        for (int block = 0, p = 0; p < all.Length; block++)
        {
            double[] values = _values[block];
            for (int from = place; from < values.Length && p < all.Length; from += rows.Length, p++)
                all[p] = values[from];
        }
        return all;
    }

    /// <summary>What one kept row is above another, four a step.</summary>
    /// <param name="row">The one.</param>
    /// <param name="other">The other.</param>
    /// <param name="into">Gets it.</param>
    /// <exception cref="ArgumentException">One of them is not kept.</exception>
    public void Difference(int row, int other, double[] into)
    {
        int plus = Array.IndexOf(rows, row), minus = Array.IndexOf(rows, other);
        if (plus < 0 || minus < 0)
            throw new ArgumentException("Of single nodes that are kept no part can be read.");
        for (int block = 0, p = 0; p < into.Length; block++)
        {
            double[] values = _values[block];
            for (int at = 0; at < values.Length && p < into.Length; at += rows.Length, p++)
                into[p] = values[at + plus] - values[at + minus];
        }
    }

    /// <summary>Puts all kept rows at a point back into an iterate.</summary>
    public void Load(int point, Scalar[] x)
    {
        double[] block = _values[point / 4 / StepsPerBlock];
        int start = point % (4 * StepsPerBlock) * rows.Length;
        for (int k = 0; k < rows.Length; k++)
            x[rows[k]] = new Scalar(block[start + k]);
    }
}
