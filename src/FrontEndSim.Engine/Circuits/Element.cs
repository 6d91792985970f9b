namespace FrontEndSim.Engine.Circuits;

/// <summary>
/// What a part is: a name, its terminals and its numbers, immutable and in SI units.
/// How it behaves in an analysis is the device that it binds to, in the same file.
/// </summary>
/// <param name="Name">The part's name, unique in its circuit; it appears in results and in error messages.</param>
public abstract record Element(string Name)
{
    /// <summary>The nodes this part touches, in the order of its terminals. <see cref="Circuit.Ground"/> is 0 V.</summary>
    public abstract ImmutableArray<string> Terminals { get; }

    /// <summary>The same part between other nodes.</summary>
    /// <param name="renamed">The node that takes the place of one of <see cref="Terminals"/>.</param>
    public abstract Element Between(Func<string, string> renamed);

    /// <summary>The two terminals between which the part's reported voltage is measured, plus first.</summary>
    internal virtual (string Plus, string Minus) Across => (Terminals[0], Terminals[1]);

    /// <summary>Whether the part can deliver more signal power than it takes, so that feedback around it may grow.</summary>
    internal virtual bool HasGain => false;

    /// <summary>The part with every waveform held at its value at time zero.</summary>
    internal virtual Element AtTimeZero() => this;

    /// <summary>The numbers that must hold before the part can be solved; one sentence for each that does not.</summary>
    internal abstract IEnumerable<string> Problems();

    /// <summary>Pairs of terminals that a direct current can pass between (used to find floating nodes).</summary>
    internal virtual IEnumerable<(string, string)> DirectPaths() => [Across];

    /// <summary>Pairs of terminals whose voltage the part dictates whatever the current (used to find loops of sources).</summary>
    internal virtual IEnumerable<(string, string)> RigidPaths() => [];

    /// <summary>Makes the behaviour of this part for a kernel that works on lanes of <typeparamref name="L"/>.</summary>
    internal abstract Device<L> Bind<L>(Wiring wiring) where L : struct, ILane<L>;

    /// <summary>A problem if <paramref name="value"/> is not a finite number above zero.</summary>
    internal static IEnumerable<string> Positive(string what, double value, string unit)
    {
        if (!(value > 0) || double.IsInfinity(value))
            yield return $"{what} must be a finite number above 0 {unit}, but is {value} {unit}";
    }

    /// <summary>A problem if <paramref name="value"/> is negative or not finite.</summary>
    internal static IEnumerable<string> NotNegative(string what, double value, string unit)
    {
        if (!(value >= 0) || double.IsInfinity(value))
            yield return $"{what} must be a finite number of at least 0 {unit}, but is {value} {unit}";
    }

    /// <summary>A problem if <paramref name="value"/> is not finite.</summary>
    internal static IEnumerable<string> Finite(string what, double value, string unit)
    {
        if (!double.IsFinite(value))
            yield return $"{what} must be a finite number, but is {value} {unit}";
    }
}
