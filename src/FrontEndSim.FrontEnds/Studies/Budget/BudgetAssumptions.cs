namespace FrontEndSim.FrontEnds.Studies.Budget;

/// <summary>What an error budget takes for granted where the circuit file says nothing.</summary>
public sealed record BudgetAssumptions
{
    /// <summary>Temperature coefficient taken for resistors without one, either way, 1/K; null where all have one.</summary>
    public double? ResistorTempCo { get; init; }

    /// <summary>Temperature coefficient taken for rails without one, either way, 1/K; null where all have one.</summary>
    public double? RailTempCo { get; init; }

    /// <summary>Open-loop gain is taken between its typical value over this and times this; null without op amps.</summary>
    public double? GainFactor { get; init; }

    /// <summary>Leakage of clamps is taken between its typical value over this and times this; null without clamps.</summary>
    public double? LeakageFactor { get; init; }

    /// <summary>The tolerance taken for each type of zener.</summary>
    public ImmutableArray<ZenerTolerance> Zeners { get; init; } = [];

    /// <summary>Errors of the converter that the file does not give, and that are not counted.</summary>
    public ImmutableArray<ConverterError> NotGiven { get; init; } = [];

    /// <summary>Whether the file says what sensors may be off by.</summary>
    public bool HasSensorError { get; init; }

    /// <summary>Whether a reading stands for the middle of its step, and the two of the calibration are single readings.</summary>
    public bool IsQuantised { get; init; }

    /// <summary>Whether the converter's linearity is taken at any value between its limits at each place.</summary>
    public bool HasLinearity { get; init; }

    /// <summary>Whether the sampling capacitor may hold any voltage of the converter's range from the sample before.</summary>
    public bool Samples { get; init; }

    /// <summary>Whether what each source does was solved in time by itself, and is added up in trials and corners.</summary>
    public bool IsFollowedInTime { get; init; }

    /// <summary>Noise of one reading, rms, V, at <see cref="Celsius"/>; 0 for none.</summary>
    public double NoiseVolts { get; init; }

    /// <summary>Temperature of the noise and of the calibration, °C.</summary>
    public double Celsius { get; init; } = 25;
}

/// <summary>The tolerance taken for a type of zener.</summary>
/// <param name="Type">Name of the type.</param>
/// <param name="Tolerance">Largest relative departure either way.</param>
/// <param name="IsAssumed">Whether the data sheet gives none.</param>
public sealed record ZenerTolerance(string Type, double Tolerance, bool IsAssumed);

/// <summary>Errors of a converter.</summary>
public enum ConverterError
{
    /// <summary>Offset.</summary>
    Offset,

    /// <summary>Gain.</summary>
    Gain,

    /// <summary>Linearity.</summary>
    Linearity,
}
