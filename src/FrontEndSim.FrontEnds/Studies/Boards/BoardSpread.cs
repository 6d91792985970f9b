using FrontEndSim.FrontEnds.Studies.Mapping;

namespace FrontEndSim.FrontEnds.Studies.Boards;

/// <summary>What is asked of the boards that are built of a front end.</summary>
/// <param name="Share">The share of boards that must hold, above a half and below 1; null for every board.</param>
/// <param name="IsCalibrated">Whether each is calibrated by two readings, at 10 % and 90 % of the span, where firmware's constants are
/// made.</param>
public sealed record BoardTarget(double? Share, bool IsCalibrated);

/// <summary>How far the readings of a pin are off on the boards that are built of a front end, over the span and all
/// temperatures.</summary>
/// <param name="Target">What was asked.</param>
/// <param name="Unit">"counts", or the symbol of the sensor's unit: the unit of all errors.</param>
/// <param name="Largest">Largest error, as a magnitude: on every board, or on the share of them.</param>
/// <param name="LargestAt">Where that is, in the sensor's unit; of a share where the errors spread most.</param>
/// <param name="Celsius">The temperature there, °C.</param>
/// <param name="Nominal">The error of nominal parts there, as a magnitude.</param>
/// <param name="Sources">What makes it so there, each alone from its nominal value to a limit, the largest first.</param>
public sealed record BoardSpread(BoardTarget Target, string Unit, double Largest, double LargestAt, double Celsius, double Nominal,
    ImmutableArray<ReadingSource> Sources)
{
    /// <summary>Whether the file says what the sensor itself may be off by; if not it is taken to be exact.</summary>
    public bool HasSensorError { get; init; }

    /// <summary>Trials that a share was found by; 0 where corners were.</summary>
    public int Trials { get; init; }
}
