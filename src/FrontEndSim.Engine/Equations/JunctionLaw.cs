namespace FrontEndSim.Engine.Equations;

/// <summary>Shockley's law Is·(e^(v/s) − 1) and how Newton's method walks on it.</summary>
internal readonly struct JunctionLaw<L> where L : struct, ILane<L>
{
    // Beyond this exponent the law goes on as a straight line, so that no iterate overflows.
    private const double LargestExponent = 200;

    private readonly L _saturation, _perVolt, _knee;

    public JunctionLaw(L saturationAmps, double slopeVolts)
    {
        SlopeVolts = slopeVolts;
        (_saturation, _perVolt) = (saturationAmps, L.Of(1 / slopeVolts));
        // Where the curvature is sharpest: limiting starts here.
        _knee = L.Of(slopeVolts) * L.Log(L.Of(slopeVolts / Math.Sqrt(2)) / saturationAmps);
    }

    /// <summary>
    /// Saturation current at a temperature over that at 25 °C: (T/T0)^p·exp(Ea·q/k·(1/T0 − 1/T)), with the activation energy Ea over the
    /// elementary charge, V, and the exponent p of the process that makes it (Sze, Physics of Semiconductor Devices).
    /// </summary>
    public static double Growth(double kelvin, double activationVolts, double exponent)
    {
        const double t0 = Constants.ReferenceKelvin;
        double activationKelvin = activationVolts * Constants.ElementaryCharge / Constants.Boltzmann;
        return Math.Pow(kelvin / t0, exponent) * Math.Exp(activationKelvin * (1 / t0 - 1 / kelvin));
    }

    /// <summary>Change of voltage for e times the current, V.</summary>
    public double SlopeVolts { get; }

    /// <summary>The current at a voltage and its slope, which keeps a trace where the junction blocks.</summary>
    public L Current(L volts, out L slope)
    {
        L u = volts * _perVolt, capped = L.Max(L.Of(-LargestExponent), L.Min(u, L.Of(LargestExponent)));
        L e = _saturation * L.Exp(capped);
        L least = L.Of(1e-9) * _saturation;
        slope = e * _perVolt + least;
        return e * (L.Of(1) + L.Max(L.Of(0), u - capped)) - _saturation + least * volts;
    }

    /// <summary>
    /// Keeps the junction from moving past its knee in one step: beyond it the voltage moves by the logarithm of what the
    /// linear step asks for (the usual remedy for exponential laws).
    /// </summary>
    public L Limit(L volts, ref L last, Iterate<L> at)
    {
        L limited = at.Exact ? volts : Approach(volts, last, _knee, SlopeVolts);
        if (!L.Same(limited, volts))
            at.Limited = true;
        last = limited;
        return limited;
    }

    /// <summary>A voltage on the way to another along an exponential of a knee and a slope.</summary>
    public static L Approach(L volts, L last, L knee, double slopeVolts)
    {
        L step = (volts - last) * L.Of(1 / slopeVolts);
        // Free below the knee, backwards, and for steps of less than two e-folds.
        if (L.AllBelow(L.Min(volts - knee, step - L.Of(2)), 0))
            return volts;
        L start = L.Max(last, knee);
        L gentle = start + L.Of(slopeVolts) * L.Log(L.Max(L.Of(1), (volts - start) * L.Of(1 / slopeVolts) + L.Of(1)));
        return L.Less(knee, volts, L.Less(L.Of(2), step, gentle, volts), volts);
    }
}
