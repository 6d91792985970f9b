namespace FrontEndSim.FrontEnds.Sensors;

/// <summary>A contact: open or closed, which bounces when it closes and wants a current that keeps it clean.</summary>
/// <param name="ClosedOhms">Its resistance when it is closed, ohm, above zero.</param>
/// <param name="OpenOhms">And when it is open, ohm.</param>
/// <param name="BounceSeconds">Time for which it bounces when it closes, s; zero for one that does not.</param>
public sealed record Contact(double ClosedOhms, double OpenOhms, double BounceSeconds)
{
    /// <summary>For how long a contact bounces of which nothing is said, s: what most push-buttons, relays and limit switches stay
    /// below (common practice, no source).</summary>
    public const double UsualBounceSeconds = 5e-3;

    /// <summary>Whether <see cref="BounceSeconds"/> is taken as usual, as nothing is said.</summary>
    public bool IsBounceTaken { get; init; }

    /// <summary>Insulation of an open contact where none is given, ohm (common practice, no source).</summary>
    public const double UsualOpenOhms = 100e6;

    /// <summary>The currents that contacts are made for where nothing is said, A: below, a film grows on any that is not of gold; above, a
    /// reed or a tactile switch wears (common practice, no source).</summary>
    public static Span UsualWettingAmps { get; } = new(10e-6, 0.5);

    /// <summary>The currents that it is made for when it is closed, A: less leaves a film on it, more wears it; null where that is not
    /// said.</summary>
    public Span? WettingAmps { get; init; }

    // When a closing contact lies apart from its fellow: from and to, as shares of its bounce. Gaps and touches get shorter (a contact as
    // they are photographed at an oscilloscope, from memory).
    private static readonly (double From, double To)[] Gaps = [(0.05, 0.3), (0.42, 0.6), (0.7, 0.82), (0.9, 1)];

    /// <summary>The gaps of a contact that closes at a time: times and 1 for closed, 0 for open.</summary>
    /// <param name="closes">When it closes, s.</param>
    /// <param name="bounceSeconds">For how long it bounces, s.</param>
    /// <param name="until">When it moves again, s; infinity for never.</param>
    internal static IEnumerable<(double Time, double Closed)> Bounces(double closes, double bounceSeconds, double until) =>
        Gaps.Select(g => (From: closes + g.From * bounceSeconds, To: closes + g.To * bounceSeconds)).Where(g => g.To < until)
            .SelectMany(g => new[] { (g.From, 1.0), (g.From, 0.0), (g.To, 0.0), (g.To, 1.0) });
}
