namespace FrontEndSim.Engine.Equations;

/// <summary>A curve that is straight in the middle and flat at both ends, and how Newton's method walks on it.</summary>
internal static class Saturation
{
    /// <summary>u/(1 + u⁸)^(1/8) and its slope: bounded by one, and straight to 1e-9 up to a tenth.</summary>
    public static L Bounded<L>(L u, out L slope) where L : struct, ILane<L>
    {
        L one = L.Of(1), within = L.Max(L.Of(-1e6), L.Min(L.Of(1e6), u));
        L u2 = within * within, u4 = u2 * u2;
        L inverse = one / L.Sqrt(L.Sqrt(L.Sqrt(one + u4 * u4)));
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
