namespace FrontEndSim.Engine.Waveforms;

/// <summary>
/// A sum of Heidler impulses, Amplitude/k · uⁿ/(1 + uⁿ) · e^(−t/fall) with u = t/rise and
/// k = exp(−(rise/fall)·(n·fall/rise)^(1/n)), from its start: a current that starts with a slope of zero, as that of a
/// discharge does. (F. Heidler, "Analytische Blitzstromfunktion zur LEMP-Berechnung", ICLP 1985; title from memory.)
/// </summary>
/// <param name="Terms">Amplitude in the source's unit, time constants of rise and fall in s, and the exponent n.</param>
/// <param name="Start">When it starts, s; the value is zero before.</param>
public sealed record Heidler(ImmutableArray<HeidlerTerm> Terms, double Start = 0) : Waveform
{
    /// <inheritdoc/>
    public override double At(double t)
    {
        if (t <= Start)
            return 0;
        double sum = 0;
        foreach (var term in Terms)
            sum += term.At(t - Start);
        return sum;
    }

    /// <inheritdoc/>
    public override double NextCorner(double t) => t < Start ? Start : double.PositiveInfinity;

    /// <inheritdoc/>
    public override double LongestStep(double t)
    {
        double since = t - Start;
        if (since < 0)
            return double.PositiveInfinity;
        double longest = double.PositiveInfinity;
        foreach (var term in Terms)
        {
            // Twice the rise constant covers the front whatever the exponent; ten fall constants leave nothing to miss.
            if (since < 10 * term.FallConstant)
                longest = Math.Min(longest, since < 2 * term.RiseConstant ? 0.25 * term.RiseConstant : term.FallConstant);
        }
        return longest;
    }

    /// <inheritdoc/>
    public override IEnumerable<string> Problems()
    {
        foreach (var c in Finite(("the start", Start)))
            yield return c;
        if (Terms.IsDefaultOrEmpty)
            yield return "a Heidler impulse needs at least one term";
        foreach (var term in Terms.IsDefault ? [] : Terms)
        {
            foreach (var c in Finite(("the amplitude", term.Amplitude), ("the rise constant", term.RiseConstant),
                ("the fall constant", term.FallConstant), ("the exponent", term.Exponent)))
                yield return c;
            if (!(term.RiseConstant > 0 && term.FallConstant > 0 && term.Exponent >= 1))
                yield return "the time constants of a Heidler impulse must be above 0 s and its exponent at least 1";
        }
    }
}

/// <summary>One term of a <see cref="Heidler"/> impulse.</summary>
/// <param name="Amplitude">Near the term's peak, in the source's unit.</param>
/// <param name="RiseConstant">Time constant of the rise, s, above zero.</param>
/// <param name="FallConstant">Time constant of the fall, s, above zero.</param>
/// <param name="Exponent">Steepness n, at least 1.</param>
public readonly record struct HeidlerTerm(double Amplitude, double RiseConstant, double FallConstant, double Exponent)
{
    /// <summary>The value at a time (s) above zero after the start.</summary>
    internal double At(double since)
    {
        double k = Math.Exp(-(RiseConstant / FallConstant) * Math.Pow(Exponent * FallConstant / RiseConstant, 1 / Exponent));
        double u = Math.Pow(since / RiseConstant, Exponent);
        return Amplitude / k * (u / (1 + u)) * Math.Exp(-since / FallConstant);
    }
}
