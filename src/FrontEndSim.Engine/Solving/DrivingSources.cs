using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.Engine.Solving;

/// <summary>The sources that drive a transient, as far as they say what steps it may take.</summary>
/// <param name="waveforms">What each of them does.</param>
/// <param name="allowed">How far one may stray from what is drawn of it, a share of its peak.</param>
/// <param name="longest">The longest step that is allowed whatever they do, s.</param>
internal sealed class DrivingSources(Waveform[] waveforms, double allowed, double longest)
{
    private readonly double[] _peaks = new double[waveforms.Length];

    /// <summary>Those that change.</summary>
    public Waveform[] Moving { get; } = [.. waveforms.Where(w => w is not Constant)];

    /// <summary>The longest step that all of them bear, s.</summary>
    public double LongestStep(double t)
    {
        double least = longest;
        foreach (var waveform in waveforms)
            least = Math.Min(least, waveform.LongestStep(t));
        return least;
    }

    /// <summary>The next corner of any of them, s; infinity for none.</summary>
    public double NextCorner(double t)
    {
        double next = double.PositiveInfinity;
        foreach (var waveform in waveforms)
            next = Math.Min(next, waveform.NextCorner(t));
        return next;
    }

    /// <summary>
    /// How far they stray, between the points that the method looked at, from the cubic that the results are drawn
    /// with, over what is allowed: a smooth source must not be stepped over where no capacitance resists it.
    /// </summary>
    public double Error(double t, double h)
    {
        double largest = 0;
        for (int k = 0; k < Moving.Length; k++)
        {
            var wave = Moving[k];
            double v0 = wave.At(t), v1 = wave.At(t + h / 3), v2 = wave.At(t + h * 2 / 3), v3 = wave.At(Math.BitDecrement(t + h));
            _peaks[k] = Math.Max(_peaks[k], Math.Max(Math.Max(Math.Abs(v0), Math.Abs(v1)), Math.Max(Math.Abs(v2), Math.Abs(v3))));
            if (_peaks[k] == 0)
                continue;
            // The cubic through the thirds, read at a sixth and at five sixths.
            double early = (5 * v0 + 15 * v1 - 5 * v2 + v3) / 16, late = (v0 - 5 * v1 + 15 * v2 + 5 * v3) / 16;
            double stray = Math.Max(Math.Abs(wave.At(t + h / 6) - early), Math.Abs(wave.At(t + h * 5 / 6) - late));
            largest = Math.Max(largest, stray / (allowed * _peaks[k]));
        }
        return largest;
    }
}
