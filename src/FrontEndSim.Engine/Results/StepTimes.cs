namespace FrontEndSim.Engine.Results;

/// <summary>The times of a transient's record, four a step, and what all cubics through them share.</summary>
internal sealed class StepTimes
{
    private readonly Lazy<Spacing[]> _spacings;

    /// <param name="times">Start, two inner points and end of each step, s.</param>
    public StepTimes(double[] times)
    {
        Times = times;
        _spacings = new(() =>
        {
            var spacings = new Spacing[Steps];
            for (int k = 0; k < spacings.Length; k++)
                spacings[k] = new Spacing(times.AsSpan(4 * k, 4));
            return spacings;
        });
    }

    /// <summary>All times, s.</summary>
    public double[] Times { get; }

    /// <summary>How many steps.</summary>
    public int Steps => Times.Length / 4;

    /// <summary>Where the points of a step lie.</summary>
    public ref readonly Spacing Of(int step) => ref _spacings.Value[step];

    /// <summary>Where the points of a step lie, in steps: at 0, P, Q and 1; and the reciprocals of their distances.</summary>
    internal readonly struct Spacing
    {
        public readonly double Width, P, Q;
        public readonly double OverP, OverQ, OverPq, OverQ1, OverP1;
        public readonly bool IsLine;

        public Spacing(ReadOnlySpan<double> times)
        {
            Width = times[3] - times[0];
            (P, Q) = ((times[1] - times[0]) / Width, (times[2] - times[0]) / Width);
            // A step of the last few digits of its time is a straight line.
            IsLine = !(P > 0 && Q > P && Q < 1);
            (OverP, OverQ, OverPq, OverQ1, OverP1) = (1 / P, 1 / Q, 1 / (Q - P), 1 / (1 - Q), 1 / (1 - P));
        }
    }
}
