namespace FrontEndSim.Engine.Waveforms;

/// <summary>A trapezoidal pulse, once or repeated.</summary>
/// <param name="Low">The value outside the pulse.</param>
/// <param name="High">The value on its top.</param>
/// <param name="Start">When the first rise starts, s.</param>
/// <param name="Rise">Duration of the linear rise, s; zero is a jump.</param>
/// <param name="Width">Duration of the top, from the end of the rise to the start of the fall, s.</param>
/// <param name="Fall">Duration of the linear fall, s; zero is a jump.</param>
/// <param name="Period">Time from one rise to the next, s; infinity for a single pulse.</param>
public sealed record Pulse(double Low, double High, double Start, double Rise, double Width, double Fall,
    double Period = double.PositiveInfinity) : Waveform
{
    /// <inheritdoc/>
    public override double At(double t)
    {
        if (t < Start)
            return Low;
        var (start, top, fall, end) = Corners(CycleStart(t));
        return t < top ? Low + (High - Low) * ((t - start) / (top - start))
            : t < fall ? High
            : t < end ? High + (Low - High) * ((t - fall) / (end - fall))
            : Low;
    }

    /// <inheritdoc/>
    public override double NextCorner(double t)
    {
        if (t < Start)
            return Start;
        double cycle = CycleStart(t);
        var (_, top, fall, end) = Corners(cycle);
        double next = double.IsInfinity(Period) ? Period : Start + (Math.Round((cycle - Start) / Period) + 1) * Period;
        double corner = t < top ? top : t < fall ? fall : t < end ? end : next;
        return Math.Min(corner, next); // where rise, width and fall fill the period, rounding may put their end beyond it
    }

    /// <inheritdoc/>
    public override Repetition? RepeatsFrom(double t)
    {
        if (t < Start)
            return Repetition.Stays(Start);
        if (double.IsFinite(Period))
            return new(Period, double.PositiveInfinity);
        var (_, top, fall, end) = Corners(Start);
        return t >= top && t < fall || t >= end || Low == High ? Repetition.Stays(NextCorner(t)) : null;
    }

    /// <inheritdoc/>
    public override bool JumpsAt(double t)
    {
        if (t < Start || Low == High)
            return false;
        var (start, top, fall, end) = Corners(CycleStart(t));
        return (top == start && t == start) || (end == fall && t == fall);
    }

    /// <summary>Start, begin and end of the top, and end of one cycle: the value and its corners come from these same numbers.</summary>
    private (double Start, double Top, double Fall, double End) Corners(double cycle)
    {
        double top = cycle + Rise, fall = top + Width;
        return (cycle, top, fall, fall + Fall);
    }

    private double CycleStart(double t)
    {
        if (double.IsInfinity(Period))
            return Start;
        double n = Math.Floor((t - Start) / Period);
        // Floor of a rounded quotient can miss by one at a corner: settle it by comparison.
        if (Start + (n + 1) * Period <= t)
            n++;
        else if (Start + n * Period > t)
            n--;
        return Start + n * Period;
    }

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        foreach (var c in Finite(("the low value", Low), ("the high value", High), ("the start", Start), ("the rise time", Rise),
            ("the width", Width), ("the fall time", Fall)))
            yield return c;
        if (Rise < 0 || Width < 0 || Fall < 0)
            yield return "rise, width and fall must each be at least 0 s";
        if (!(Period > 0) || Period < Rise + Width + Fall)
            yield return $"the period must be at least rise + width + fall = {Rise + Width + Fall} s, but is {Period} s";
    }
}
