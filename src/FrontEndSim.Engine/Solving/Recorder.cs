using FrontEndSim.Engine.Equations;

namespace FrontEndSim.Engine.Solving;

/// <summary>Keeps what the time steps found: four points a step, so that a cubic for each step can be drawn through them.</summary>
internal sealed class Recorder(int[] rows)
{
    // Steps are kept in blocks, so that growing never moves what is there.
    private const int StepsPerBlock = 256;

    private readonly List<double[]> _times = [];
    private readonly List<double[]> _values = [];
    private readonly double[] _latest = new double[rows.Length];
    private int _steps;

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
            _times.Add(new double[4 * StepsPerBlock]);
            _values.Add(new double[4 * StepsPerBlock * rows.Length]);
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

    /// <summary>All times, four a step.</summary>
    public double[] Times()
    {
        var all = new double[4 * _steps];
        for (int s = 0; s < _steps; s++)
            _times[s / StepsPerBlock].AsSpan(4 * (s % StepsPerBlock), 4).CopyTo(all.AsSpan(4 * s, 4));
        return all;
    }

    /// <summary>Zero and the end of each step.</summary>
    public double[] StepEnds()
    {
        var ends = new double[_steps + 1];
        for (int s = 0; s < _steps; s++)
            ends[s + 1] = _times[s / StepsPerBlock][4 * (s % StepsPerBlock) + 3];
        return ends;
    }

    /// <summary>The values of one kept row, four a step.</summary>
    public double[] Values(int place)
    {
        var all = new double[4 * _steps];
        for (int p = 0; p < all.Length; p++)
            all[p] = _values[p / 4 / StepsPerBlock][p % (4 * StepsPerBlock) * rows.Length + place];
        return all;
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
