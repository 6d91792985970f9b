namespace FrontEndSim.Engine.Equations;

/// <summary>A curve that is straight in the middle and flat at both ends, and how Newton's method walks on it.</summary>
internal static class Saturation
{
    // Beyond this the slope of the bounded curve, u⁻⁹, is below 1e-9: nothing beside what an open loop gain makes of it.
    private const double Flat = 10;

    // The eighth power of a quarter: below it the binomial series is exact to rounding after its fourth term.
    private const double SmallPower = 1.5e-5;

    /// <summary>u/(1 + u⁸)^(1/8) and its slope: bounded by one, and straight to 1e-9 up to a tenth.</summary>
    public static L Bounded<L>(L u, out L slope) where L : struct, ILane<L>
    {
        L one = L.Of(1), within = u, u2 = u * u, u4 = u2 * u2, u8 = u4 * u4, inverse;
        if (L.AllBelow(u8, SmallPower))
            inverse = one - L.Of(1.0 / 8) * u8 * (one - L.Of(9.0 / 16) * u8 * (one - L.Of(17.0 / 24) * u8));
        else
        {
            within = L.Max(L.Of(-1e6), L.Min(L.Of(1e6), u));
            u2 = within * within;
            u4 = u2 * u2;
            inverse = one / L.Sqrt(L.Sqrt(L.Sqrt(one + u4 * u4)));
        }
        L i2 = inverse * inverse, i4 = i2 * i2;
        slope = i4 * i4 * inverse;
        return within * inverse;
    }

    /// <summary>
    /// Newton overshoots on a curve that flattens both ways: an iterate thrown from one flat end across the middle stops at
    /// the bend on its own side, and from there on goes half of the way to the middle.
    /// </summary>
    public static L Approach<L>(L asked, ref L last, Iterate<L> at) where L : struct, ILane<L>
    {
        L u = asked, bend = L.Of(1);
        if (!at.Exact)
        {
            L halfway = L.Less(asked * last, L.Of(0), L.Max(-bend, L.Min(bend, L.Of(0.5) * last)), asked);
            u = L.Less(L.Of(0.5), L.Abs(last), halfway, asked);
            if (!L.Same(u, asked))
                at.Limited = true;
        }
        last = u;
        return u;
    }

    /// <summary>
    /// What <see cref="Bounded"/> at u leaves over its tangent at u − du: in the straight middle no more than 9/2·|u|⁷·du², half of its
    /// second derivative. False where its slope changes altogether.
    /// </summary>
    public static bool TryBoundedRemainder<L>(L u, L du, out L left) where L : struct, ILane<L>
    {
        L before = u - du, most = L.Max(L.Abs(u), L.Abs(before)), squared = most * most;
        left = L.Of(4.5) * squared * squared * squared * most * du * du;
        if (L.AllBelow(most, 1.0 / 3))
            return true;
        if (!L.AllBelow(L.Abs(du), 0.1) && !L.AllBelow(L.Of(Flat) - L.Min(u, before), 0) && !L.AllBelow(L.Of(Flat) + L.Max(u, before), 0))
            return false;
        left = Bounded(u, out _) - (Bounded(before, out L slope) + slope * du);
        return true;
    }

    /// <summary>What <see cref="Ramp"/> at x leaves over its tangent at x − dx; false where its slope changes altogether.</summary>
    public static bool TryRampRemainder<L>(L x, L dx, double width, out L left) where L : struct, ILane<L>
    {
        L before = x - dx;
        left = L.Of(0);
        if (L.AllBelow(L.Max(x, before), -50 * width) || L.AllBelow(-L.Min(x, before), -50 * width))
            return true;
        if (!L.AllBelow(L.Abs(dx), 0.5 * width))
            return false;
        left = Ramp(x, width, out _) - (Ramp(before, width, out L slope) + slope * dx);
        return true;
    }

    /// <summary>v/√(1 + v²) and its slope: how a supply current fades below about 1 V of supply.</summary>
    public static L Faded<L>(L v, out L slope) where L : struct, ILane<L>
    {
        L full = L.Sqrt(L.Of(1) + v * v);
        slope = L.Of(1) / (full * full * full);
        return v / full;
    }

    /// <summary>What <see cref="Faded"/> at v leaves over its tangent at v − dv, for small dv.</summary>
    public static L FadedRemainder<L>(L v, L dv) where L : struct, ILane<L>
    {
        if (L.Same(dv, L.Of(0)))
            return dv;
        L squared = L.Of(1) + v * v;
        return L.Of(-1.5) * v * dv * dv / (squared * squared * L.Sqrt(squared));
    }

    /// <summary>w·ln(1 + e^(x/w)) and its slope: a ramp rounded over w.</summary>
    public static L Ramp<L>(L x, double width, out L slope) where L : struct, ILane<L>
    {
        L u = x * L.Of(1 / width);
        if (L.AllBelow(u, -50))
        {
            slope = L.Of(0);
            return slope;
        }
        L e = L.Exp(-L.Abs(u)), one = L.Of(1), s = one / (one + e);
        slope = L.Less(u, L.Of(0), e * s, s);
        return L.Max(x, L.Of(0)) + L.Of(width) * L.Log(one + e);
    }
}
