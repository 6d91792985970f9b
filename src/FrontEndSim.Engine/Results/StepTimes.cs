namespace FrontEndSim.Engine.Results;

/// <summary>The times of a transient's record, four a step, and what all cubics through them share.</summary>
internal sealed class StepTimes
{
    private readonly Lazy<Spacing[]> _spacings;

    /// <param name="times">Start, two inner points and end of each step, s.</param>
    /// <param name="repeats">Steps that stand for more of the same, in their order; others follow the last of them.</param>
    public StepTimes(double[] times, IReadOnlyList<Repeat> repeats)
    {
        (Times, Repeats) = (times, [.. repeats]);
        _spacings = new(() =>
        {
            var spacings = new Spacing[Steps];
            for (int k = 0; k < spacings.Length; k++)
                spacings[k] = new Spacing(times.AsSpan(4 * k, 4), 1);
            foreach (var repeat in Repeats)
            {
                for (int k = repeat.First; k < repeat.End; k++)
                    spacings[k] = new Spacing(times.AsSpan(4 * k, 4), 1.0 + repeat.Times);
            }
            return spacings;
        });
    }

    /// <summary>All times, s.</summary>
    public double[] Times { get; }

    /// <summary>Steps that stand for more of the same, in their order.</summary>
    public Repeat[] Repeats { get; }

    /// <summary>How many steps.</summary>
    public int Steps => Times.Length / 4;

    /// <summary>Where the points of a step lie.</summary>
    public ref readonly Spacing Of(int step) => ref _spacings.Value[step];

    /// <summary>The start of a step, s.</summary>
    public double Start(int step) => Times[4 * step];

    /// <summary>The end of a step, s.</summary>
    public double End(int step) => Times[4 * step + 3];

    /// <summary>The time that is recorded in the place of one that a repeated stretch stands for; any other as it is.</summary>
    public double Recorded(double time)
    {
        // The last stretch that has ended by then.
        int low = 0, high = Repeats.Length;
        while (low < high)
        {
            int middle = (low + high) / 2;
            if (End(Repeats[middle].End - 1) <= time)
                low = middle + 1;
            else
                high = middle;
        }
        if (low == 0 || Repeats[low - 1] is var repeat && !(time < Start(repeat.End)))
            return time;
        double end = End(repeat.End - 1);
        double back = Math.Min(Math.Floor((time - end) / repeat.Period) + 1, repeat.Times) * repeat.Period;
        return Math.Clamp(time - back, Start(repeat.First), end);
    }

    /// <summary>How many steps pass in all.</summary>
    public long PassingSteps => Steps + Repeats.Sum(r => (long)r.Times * (r.End - r.First));

    /// <summary>All steps as they pass, each with how much later than recorded, s.</summary>
    public IEnumerable<(int Step, double Later)> Passing()
    {
        int step = 0;
        foreach (var repeat in Repeats)
        {
            for (; step < repeat.End; step++)
                yield return (step, 0);
            for (int n = 1; n <= repeat.Times; n++)
            {
                for (int k = repeat.First; k < repeat.End; k++)
                    yield return (k, n * repeat.Period);
            }
        }
        for (; step < Steps; step++)
            yield return (step, 0);
    }

    /// <summary>Where the points of a step lie, in steps: at 0, P, Q and 1; and the reciprocals of their distances.</summary>
    internal readonly struct Spacing
    {
        public readonly double Width, P, Q;
        public readonly double OverP, OverQ, OverPq, OverQ1, OverP1;
        public readonly bool IsLine;

        /// <summary>How long all that the step stands for takes, s.</summary>
        public readonly double InAll;

        public Spacing(ReadOnlySpan<double> times, double passes)
        {
            Width = times[3] - times[0];
            InAll = passes * Width;
            (P, Q) = ((times[1] - times[0]) / Width, (times[2] - times[0]) / Width);
            // A step of the last few digits of its time is a straight line.
            IsLine = !(P > 0 && Q > P && Q < 1);
            (OverP, OverQ, OverPq, OverQ1, OverP1) = (1 / P, 1 / Q, 1 / (Q - P), 1 / (1 - Q), 1 / (1 - P));
        }
    }
}
