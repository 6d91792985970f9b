namespace FrontEndSim.FrontEnds.Sensors;

/// <summary>
/// How a transmitter of 4 mA to 20 mA says that it has failed: by a current that no measurement has.
/// </summary>
/// <param name="LowAmps">It signals a failure by this current or less, A.</param>
/// <param name="HighAmps">Or by this or more, A.</param>
/// <param name="Measuring">Currents that are measurements, A, both ends included.</param>
public sealed record AlarmLevels(double LowAmps, double HighAmps, Span Measuring)
{
    /// <summary>NAMUR NE 43: measurements from 3.8 mA to 20.5 mA, failures at 3.6 mA or less and 21 mA or more.</summary>
    public static AlarmLevels Ne43 { get; } = new(3.6e-3, 21e-3, new(3.8e-3, 20.5e-3));

    /// <summary>How long a failure has to stand before it counts, s, so that a start and a disturbance are none (NE 43, at second
    /// hand).</summary>
    public const double StandingSeconds = 4;
}
