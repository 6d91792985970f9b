namespace FrontEndSim.Engine.Waveforms;

/// <summary>Straight lines between given points; the first value before them and the last value after them.</summary>
/// <param name="Points">Time (s) and value pairs in order of time; two points at one time are a jump.</param>
public sealed record PiecewiseLinear(ImmutableArray<(double Time, double Value)> Points) : Waveform
{
    /// <inheritdoc/>
    public override double At(double t)
    {
        int after = CountUpTo(t);
        if (after == 0)
            return Points[0].Value;
        if (after == Points.Length)
            return Points[^1].Value;
        var (t0, v0) = Points[after - 1];
        var (t1, v1) = Points[after];
        return v0 + (v1 - v0) * (t - t0) / (t1 - t0);
    }

    /// <inheritdoc/>
    public override double NextCorner(double t)
    {
        int after = CountUpTo(t);
        return after == Points.Length ? double.PositiveInfinity : Points[after].Time;
    }

    /// <inheritdoc/>
    public override Repetition? RepeatsFrom(double t)
    {
        int after = CountUpTo(t);
        return after == 0 || after == Points.Length || Points[after - 1].Value == Points[after].Value
            ? Repetition.Stays(NextCorner(t)) : null;
    }

    /// <inheritdoc/>
    public override bool JumpsAt(double t)
    {
        int after = CountUpTo(t);
        return after >= 2 && Points[after - 1].Time == t && Points[after - 2].Time == t
            && Points[after - 1].Value != Points[after - 2].Value;
    }

    /// <summary>How many points lie at or before <paramref name="t"/>.</summary>
    private int CountUpTo(double t)
    {
        int low = 0, high = Points.Length;
        while (low < high)
        {
            int mid = (low + high) / 2;
            if (Points[mid].Time <= t)
                low = mid + 1;
            else
                high = mid;
        }
        return low;
    }

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        if (Points.IsDefaultOrEmpty)
        {
            yield return "a piecewise linear waveform needs at least one point";
            yield break;
        }
        foreach (var (time, value) in Points)
        {
            if (!double.IsFinite(time) || !double.IsFinite(value))
                yield return $"the point ({time} s, {value}) must be finite";
        }
        for (int i = 1; i < Points.Length; i++)
        {
            if (Points[i].Time < Points[i - 1].Time)
                yield return $"the times must not run backwards, but {Points[i].Time} s follows {Points[i - 1].Time} s";
        }
    }
}
