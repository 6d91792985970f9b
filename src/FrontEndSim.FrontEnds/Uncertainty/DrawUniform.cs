namespace FrontEndSim.FrontEnds.Uncertainty;

/// <summary>
/// Random numbers without state: each depends on a seed, the draw and the quantity only, so that draws may be computed in
/// any order on any number of cores. The mixing function is that of SplitMix64 (Steele, Lea and Flood, "Fast splittable
/// pseudorandom number generators", OOPSLA 2014; constants from memory), applied once for each of the three.
/// </summary>
internal static class DrawUniform
{
    private const ulong Golden = 0x9E3779B97F4A7C15;

    /// <summary>A number above 0 and below 1.</summary>
    public static double Value(int seed, int draw, int quantity)
    {
        ulong mixed = Mix(Mix(Mix((uint)seed + Golden) + (uint)draw * Golden) + ((uint)quantity + 1) * Golden);
        return ((mixed >> 12) + 0.5) * (1.0 / (1L << 52));
    }

    private static ulong Mix(ulong z)
    {
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
        return z ^ (z >> 31);
    }
}
