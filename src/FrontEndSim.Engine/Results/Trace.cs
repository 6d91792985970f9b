using MathNet.Numerics.RootFinding;

namespace FrontEndSim.Engine.Results;

/// <summary>
/// A quantity against time: one cubic for each time step, through the values that the method itself found in it.
/// Jumps may lie between steps. Covers its first to its last time, both included. Immutable.
/// </summary>
public sealed class Trace
{
    // Four times and four values a step; the times are shared by all traces of a transient.
    private readonly StepTimes _steps;
    private readonly double[] _times;
    private readonly double[] _values;

    /// <exception cref="SolveException">A value is not finite.</exception>
    internal Trace(StepTimes steps, double[] values)
    {
        (_steps, _times, _values) = (steps, steps.Times, values);
        for (int k = 0; k < values.Length; k++)
        {
            if (!double.IsFinite(values[k]))
            {
                throw new SolveException($"A value at {_times[k]:g6} s is larger than numbers can hold; "
                    + "a time or a value of the circuit is too large.");
            }
        }
    }

    private int Steps => _steps.Steps;

    /// <summary>First time, s.</summary>
    public double Start => _times[0];

    /// <summary>Last time, s.</summary>
    public double End => _times[^1];

    /// <summary>The value at a time (s); at a jump the value after it. Times outside are taken to the nearer end.</summary>
    public double At(double time)
    {
        time = _steps.Recorded(time);
        int low = 0, high = Steps - 1;
        while (low < high)
        {
            int middle = (low + high + 1) / 2;
            if (_times[4 * middle] <= time)
                low = middle;
            else
                high = middle - 1;
        }
        return CubicOf(low).Value((Math.Clamp(time, Start, End) - _times[4 * low]) / Width(low));
    }

    /// <summary>The values at given times, s.</summary>
    public double[] Sample(IReadOnlyList<double> times) => [.. times.Select(At)];

    /// <summary>The largest value and the first time it is reached: located on the cubics, not sampled.</summary>
    public (double Time, double Value) Maximum() => Extreme(1);

    /// <summary>The smallest value and the first time it is reached.</summary>
    public (double Time, double Value) Minimum() => Extreme(-1);

    private (double Time, double Value) Extreme(int sign)
    {
        double best = double.NegativeInfinity, when = Start;
        for (int k = 0; k < Steps; k++)
        {
            Consider(0, _values[4 * k]);
            var cubic = CubicOf(k);
            var (lower, upper) = cubic.Hull();
            if (sign > 0 ? upper > best : -lower > best)
            {
                var (u1, u2) = cubic.StationaryPoints();
                if (u1 is > 0 and < 1)
                    Consider(u1, cubic.Value(u1));
                if (u2 is > 0 and < 1)
                    Consider(u2, cubic.Value(u2));
            }
            Consider(1, _values[4 * k + 3]);

            void Consider(double u, double value)
            {
                if (sign * value > best)
                    (best, when) = (sign * value, _times[4 * k] + u * Width(k));
            }
        }
        return (when, sign * best);
    }

    /// <summary>This trace plus another of the same transient.</summary>
    public Trace Plus(Trace other)
    {
        var sums = new double[Together(other)];
        for (int k = 0; k < sums.Length; k++)
            sums[k] = _values[k] + other._values[k];
        return new Trace(_steps, sums);
    }

    /// <summary>This trace less another of the same transient.</summary>
    public Trace Minus(Trace other)
    {
        var differences = new double[Together(other)];
        for (int k = 0; k < differences.Length; k++)
            differences[k] = _values[k] - other._values[k];
        return new Trace(_steps, differences);
    }

    /// <summary>This trace times another of the same transient, such as voltage times current.</summary>
    public Trace Times(Trace other)
    {
        var products = new double[Together(other)];
        for (int k = 0; k < products.Length; k++)
            products[k] = _values[k] * other._values[k];
        return new Trace(_steps, products);
    }

    /// <summary>This trace times a number.</summary>
    public Trace Times(double factor) => new(_steps, [.. _values.Select(v => v * factor)]);

    /// <summary>The number of values of both.</summary>
    /// <exception cref="ArgumentException">The traces are not of the same transient.</exception>
    private int Together(Trace other) => ReferenceEquals(_steps, other._steps) ? _values.Length
        : throw new ArgumentException("Only traces of the same transient can be combined.", nameof(other));

    // Times that are fewer roundings apart are one instant: what a value differs by there is no rate of change.
    private const int InstantRoundings = 64;

    /// <summary>The rate of change, per second; within an instant that of before.</summary>
    public Trace Derivative() => Rate(_steps, [.. _values]);

    /// <summary>The rate of change of what is asked for no more: it stands in the place of the values.</summary>
    /// <exception cref="SolveException">A value is not finite.</exception>
    internal static Trace Rate(StepTimes steps, double[] values)
    {
        var quantity = new Trace(steps, values);
        double[] times = steps.Times;
        for (int k = 0; k < steps.Steps; k++)
        {
            double width = quantity.Width(k), rounding = Math.BitIncrement(Math.Abs(times[4 * k + 3])) - Math.Abs(times[4 * k + 3]);
            if (k > 0 && width < InstantRoundings * rounding)
            {
                Array.Fill(values, values[4 * k - 1], 4 * k, 4);
                continue;
            }
            var cubic = quantity.CubicOf(k);
            for (int j = 0; j < 4; j++)
                values[4 * k + j] = cubic.Slope((times[4 * k + j] - times[4 * k]) / width) / width;
        }
        return new Trace(steps, values);
    }

    /// <summary>The integral over the whole time, in the trace's unit times seconds.</summary>
    /// <exception cref="SolveException">It is larger than numbers can hold.</exception>
    public double Integral()
    {
        double sum = 0;
        for (int k = 0; k < Steps; k++)
            sum += CubicOf(k).Integral(0, 1) * _steps.Of(k).InAll;
        return double.IsFinite(sum) ? sum
            : throw new SolveException($"An integral over {End:g3} s is larger than numbers can hold; the time is too long.");
    }

    /// <summary>The integral from the start up to every time, to be read over windows.</summary>
    public RunningIntegral Running()
    {
        const int within = RunningIntegral.Within;
        double[] times = new double[1 + within * Steps + _steps.Repeats.Length], sums = new double[times.Length];
        times[0] = Start;
        var repeats = new List<Repeat>();
        for (int k = 0, p = 1; k < Steps; k++)
        {
            if (repeats.Count < _steps.Repeats.Length && _steps.Repeats[repeats.Count] is var repeat && repeat.End == k)
            {
                // One point more, where what is recorded next begins.
                int first = within * repeat.First + repeats.Count, end = within * repeat.End + repeats.Count;
                repeats.Add(repeat with { First = first, End = end });
                (times[p], sums[p]) = (_times[4 * k], sums[end] + repeat.Times * (sums[end] - sums[first]));
                p++;
            }
            var cubic = CubicOf(k);
            double from = _times[4 * k], to = _times[4 * k + 3], width = to - from;
            for (int j = 1; j <= within; j++, p++)
            {
                times[p] = j == within ? to : from + width * j / within;
                double near = (times[p - 1] - from) / width, far = (times[p] - from) / width, span = times[p] - times[p - 1];
                sums[p] = sums[p - 1] + span * (cubic.Value(near) + 4 * cubic.Value(0.5 * (near + far)) + cubic.Value(far)) / 6;
            }
        }
        return new RunningIntegral(times, sums, _values[0], [.. repeats]);
    }

    /// <summary>
    /// The largest value once a first-order lag has averaged it, from rest at the start: what is much shorter than the lag counts as its
    /// integral over the lag, what lasts as itself. Each step is taken at its mean.
    /// </summary>
    /// <param name="seconds">Time constant of the lag, s, above zero.</param>
    public double LargestLagged(double seconds)
    {
        double lagged = _values[0], highest = lagged;
        int begun = 0;
        foreach (var repeat in _steps.Repeats)
        {
            Pass(begun, repeat.End);
            begun = repeat.End;
            // Each pass takes the lag nearer to where it would stay, by the same share: the first and the last reach highest.
            double before = lagged;
            Pass(repeat.First, repeat.End);
            if (repeat.Times == 1)
                continue;
            lagged = before + (lagged - before)
                * (double.ExpM1(-(repeat.Times - 1) * repeat.Period / seconds) / double.ExpM1(-repeat.Period / seconds));
            Pass(repeat.First, repeat.End);
        }
        Pass(begun, Steps);
        return highest;

        void Pass(int from, int to)
        {
            for (int k = from; k < to; k++)
            {
                // Simpson's rule, which is exact for a cubic.
                double mean = (_values[4 * k] + 4 * CubicOf(k).Value(0.5) + _values[4 * k + 3]) / 6;
                lagged += (mean - lagged) * -double.ExpM1(-Width(k) / seconds);
                highest = Math.Max(highest, lagged);
            }
        }
    }

    /// <summary>The value at the very end.</summary>
    internal double Last => _values[^1];

    /// <summary>The integral of the magnitude over the points of each step: a measure of what flows either way, not a result.</summary>
    internal double GrossIntegral()
    {
        double sum = 0;
        for (int k = 0; k < Steps; k++)
        {
            // Simpson's 3/8 rule, the inner points taken as thirds.
            int p = 4 * k;
            double inner = Math.Abs(_values[p + 1]) + Math.Abs(_values[p + 2]);
            sum += _steps.Of(k).InAll / 8 * (Math.Abs(_values[p]) + 3 * inner + Math.Abs(_values[p + 3]));
        }
        return sum;
    }

    /// <summary>How long the value lies above a level, s.</summary>
    public double TimeAbove(double level) => Above(level, (_, from, to) => to - from);

    /// <summary>How long the value lies below a level, s.</summary>
    public double TimeBelow(double level) => Times(-1).TimeAbove(-level);

    /// <summary>The integral of (value − level) over the time that the value lies above the level.</summary>
    public double IntegralAbove(double level) => Above(level, (cubic, from, to) => cubic.Integral(from, to) - level * (to - from));

    private double Above(double level, Func<Cubic, double, double, double> measure)
    {
        double sum = 0;
        Span<double> cuts = stackalloc double[5];
        for (int k = 0; k < Steps; k++)
        {
            var cubic = CubicOf(k);
            var (lower, upper) = cubic.Hull();
            if (upper <= level)
                continue;
            if (lower > level)
            {
                sum += measure(cubic, 0, 1) * _steps.Of(k).InAll;
                continue;
            }
            int count = cubic.Crossings(level, cuts);
            for (int c = 0; c + 1 < count; c++)
            {
                if (cubic.Value(0.5 * (cuts[c] + cuts[c + 1])) > level)
                    sum += measure(cubic, cuts[c], cuts[c + 1]) * _steps.Of(k).InAll;
            }
        }
        return sum;
    }

    /// <summary>The times at which the value passes through a level, either way, s.</summary>
    public IReadOnlyList<double> Crossings(double level)
    {
        var times = new List<double>();
        Span<double> cuts = stackalloc double[5];
        double side = _values[0] - level;
        foreach (var (k, later) in _steps.Passing())
        {
            var cubic = CubicOf(k);
            int count = cubic.Crossings(level, cuts);
            for (int c = 0; c + 1 < count; c++)
            {
                double now = cubic.Value(0.5 * (cuts[c] + cuts[c + 1])) - level;
                if (now * side < 0)
                    times.Add(later + _times[4 * k] + cuts[c] * Width(k));
                if (now != 0)
                    side = now;
            }
        }
        return times;
    }

    private double Width(int step) => _steps.Of(step).Width;

    private Cubic CubicOf(int step)
    {
        ref readonly var at = ref _steps.Of(step);
        int k = 4 * step;
        return at.IsLine ? new Cubic(_values[k], _values[k + 3] - _values[k], 0, 0)
            : Cubic.Through(at, _values[k], _values[k + 1], _values[k + 2], _values[k + 3]);
    }

    /// <summary>a + b·u + c·u² + d·u³ for u in 0..1.</summary>
    private readonly record struct Cubic(double A, double B, double C, double D)
    {
        /// <summary>The cubic through the values at 0, p, q and 1 (divided differences).</summary>
        public static Cubic Through(in StepTimes.Spacing at, double v0, double vp, double vq, double v1)
        {
            double d0 = (vp - v0) * at.OverP, d1 = (vq - vp) * at.OverPq, d2 = (v1 - vq) * at.OverQ1;
            double e0 = (d1 - d0) * at.OverQ, e1 = (d2 - d1) * at.OverP1;
            double d = e1 - e0;
            // v0 + u·(d0 + (u − p)·(e0 + (u − q)·d)), multiplied out.
            return new(v0, d0 - at.P * e0 + at.P * at.Q * d, e0 - (at.P + at.Q) * d, d);
        }

        /// <summary>Values that it stays between: its Bernstein coefficients hold it in their hull.</summary>
        public (double Lower, double Upper) Hull()
        {
            double first = A, second = A + B / 3, third = second + (B + C) / 3, last = A + B + C + D;
            return (Math.Min(Math.Min(first, second), Math.Min(third, last)), Math.Max(Math.Max(first, second), Math.Max(third, last)));
        }

        public double Value(double u) => A + u * (B + u * (C + u * D));

        public double Slope(double u) => B + u * (2 * C + u * 3 * D);

        public double Integral(double from, double to) => Primitive(to) - Primitive(from);

        private double Primitive(double u) => u * (A + u * (B / 2 + u * (C / 3 + u * D / 4)));

        /// <summary>Where the slope vanishes; not a number where it does not.</summary>
        public (double, double) StationaryPoints()
        {
            double half = -C, root = Math.Sqrt(C * C - 3 * D * B);
            double q = half + (half < 0 ? -root : root); // the larger root first: no cancellation
            return (q / (3 * D), B / q);
        }

        /// <summary>0, the crossings of a level inside, and 1, ascending; returns how many.</summary>
        public int Crossings(double level, Span<double> cuts)
        {
            var (s1, s2) = StationaryPoints();
            Span<double> ends = stackalloc double[4];
            int pieces = 0;
            ends[pieces++] = 0;
            if (Math.Min(s1, s2) is > 0 and < 1)
                ends[pieces++] = Math.Min(s1, s2);
            if (Math.Max(s1, s2) is > 0 and < 1)
                ends[pieces++] = Math.Max(s1, s2);
            if (double.IsNaN(s1) != double.IsNaN(s2) && (double.IsNaN(s1) ? s2 : s1) is > 0 and < 1)
                ends[pieces++] = double.IsNaN(s1) ? s2 : s1;
            ends[pieces] = 1;
            int count = 0;
            cuts[count++] = 0;
            for (int k = 0; k < pieces; k++)
            {
                double low = ends[k], high = ends[k + 1];
                // Monotonic in between, so that a change of side brackets the one crossing.
                if (Value(low) > level == Value(high) > level)
                    continue;
                var cubic = this with { A = A - level };
                cuts[count++] = Brent.TryFindRoot(cubic.Value, low, high, 1e-16, 100, out double root) ? root : 0.5 * (low + high);
            }
            cuts[count++] = 1;
            return count;
        }
    }
}
