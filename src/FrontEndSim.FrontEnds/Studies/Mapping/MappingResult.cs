using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Bias;

namespace FrontEndSim.FrontEnds.Studies.Mapping;

/// <summary>How a sensor's span lands on a pin.</summary>
/// <param name="Sensor">Name of the sensor that was swept.</param>
/// <param name="Pin">Name of the pin.</param>
/// <param name="Wanted">The mapping that it is held against.</param>
/// <param name="CountVolts">Voltage of one count, V, on the nominal reference.</param>
/// <param name="Points">Points in order of what the sensor measures, both ends of the span included.</param>
/// <param name="Headroom">Op amps, in the order of the parts.</param>
/// <param name="Sweep">The sweep itself.</param>
public sealed record MappingResult(string Sensor, string Pin, WantedMapping Wanted, double CountVolts, ImmutableArray<MappingPoint> Points,
    ImmutableArray<OpAmpHeadroom> Headroom, SweepResult Sweep)
{
    /// <summary>What is measured, in a word.</summary>
    public string Quantity { get; init; } = "voltage";

    /// <summary>Symbol of the unit in which the sensor measures.</summary>
    public string SensorUnit { get; init; } = "V";

    /// <summary>What firmware makes of the codes; null for a pin that does not convert or does not follow.</summary>
    internal ReadBack? Back { get; init; }

    /// <summary>How far what firmware computes from the code may be off what is measured; null where it computes nothing.</summary>
    public ReadingAccuracy? Reading => Accuracy(Points);

    /// <summary>The same over part of the span.</summary>
    /// <param name="over">The part, in the sensor's unit.</param>
    public ReadingAccuracy? ReadingOver(Span over)
    {
        // Points between two that were solved follow the line between them: the ends of the part are looked at too.
        var inside = Points.Where(p => p.SensorValue >= over.Low && p.SensorValue <= over.High).ToImmutableArray();
        return Accuracy([At(over.Low), .. inside, At(over.High)]);
    }

    private MappingPoint At(double value)
    {
        int k = Math.Clamp(Points.TakeWhile(p => p.SensorValue < value).Count(), 1, Points.Length - 1);
        var (a, b) = (Points[k - 1], Points[k]);
        double t = Math.Clamp((value - a.SensorValue) / (b.SensorValue - a.SensorValue), 0, 1);
        double Mix(double first, double second) => first + (second - first) * t;
        return new(value, Mix(a.PinVolts, b.PinVolts), Mix(a.IdealVolts, b.IdealVolts),
            Math.Floor(Mix(a.Code, b.Code)), Mix(a.ErrorCounts, b.ErrorCounts))
        {
            ReadingError = a.ReadingError is { } first && b.ReadingError is { } second ? Mix(first, second) : null,
            ReadingStep = Math.Max(a.ReadingStep ?? 0, b.ReadingStep ?? 0),
        };
    }

    private ReadingAccuracy? Accuracy(ImmutableArray<MappingPoint> points)
    {
        if (Back is null || points.Any(p => p.ReadingError is null))
            return null;
        var worst = points.MaxBy(p => p.LargestReadingError)!;
        var coarsest = points.MaxBy(p => p.ReadingStep)!;
        return new(SensorUnit, worst.LargestReadingError!.Value, worst.SensorValue, worst.ReadingError!.Value,
            coarsest.ReadingStep!.Value, coarsest.SensorValue, Back.Residual,
            Back.Grid is null ? 0 : Back.Entries.Length);
    }

    /// <summary>Whether the pin converts, so that errors are in counts; else they are in mV.</summary>
    public bool Converts => Points[0].Code >= 0;

    /// <summary>Error at the lower end of the span, counts.</summary>
    public double OffsetErrorCounts => Points[0].ErrorCounts;

    /// <summary>Error at the upper end less that at the lower end, counts.</summary>
    public double GainErrorCounts => Points[^1].ErrorCounts - Points[0].ErrorCounts;

    /// <summary>Relative error of the slope between the two ends.</summary>
    public double GainError => (Points[^1].PinVolts - Points[0].PinVolts) / (Points[^1].IdealVolts - Points[0].IdealVolts) - 1;

    /// <summary>
    /// Largest departure from the straight line between the two ends, counts, with its sign: what remains after a two-point
    /// calibration (terminal-based linearity).
    /// </summary>
    public double NonlinearityCounts => Points.Select(p => p.ErrorCounts - OffsetErrorCounts
        - GainErrorCounts * (p.SensorValue - Points[0].SensorValue) / (Points[^1].SensorValue - Points[0].SensorValue)).MaxBy(Math.Abs);

    /// <summary>The point with the largest error, either way.</summary>
    public MappingPoint Worst => Points.MaxBy(p => Math.Abs(p.ErrorCounts))!;

    /// <summary>The audit of the sweep.</summary>
    public Audit Audit => Sweep.Audit;
}

/// <summary>One point of a mapping.</summary>
/// <param name="SensorValue">What the sensor measures, in its own unit.</param>
/// <param name="PinVolts">Voltage at the pin, V.</param>
/// <param name="IdealVolts">Voltage wanted there, V.</param>
/// <param name="Code">What the converter reads, 0 to 2^bits − 1; −1 for a pin that does not convert.</param>
/// <param name="ErrorCounts">
/// What the converter reads on its reference as it is, less the counts of <paramref name="IdealVolts"/> on the nominal one, not rounded
/// and not
/// limited to the range; PinVolts − IdealVolts in mV for a pin that does not convert.
/// </param>
public sealed record MappingPoint(double SensorValue, double PinVolts, double IdealVolts, double Code, double ErrorCounts)
{
    /// <summary>What firmware computes less what is measured, in the sensor's unit, the converter's step left out; null for a pin that
    /// does not convert.</summary>
    public double? ReadingError { get; init; }

    /// <summary>By how much the reading moves for one count, in the sensor's unit.</summary>
    public double? ReadingStep { get; init; }

    /// <summary>The largest error with half a step of the converter, as a magnitude.</summary>
    internal double? LargestReadingError => Math.Abs(ReadingError ?? 0) + 0.5 * ReadingStep;
}

/// <summary>How far what firmware computes may be off what is measured.</summary>
/// <param name="Unit">Symbol of the sensor's unit, in which all of these are.</param>
/// <param name="Largest">Largest error, half a step of the converter included, as a magnitude.</param>
/// <param name="LargestAt">Where that is.</param>
/// <param name="Offset">What firmware computes there less what is measured, the converter's step left out.</param>
/// <param name="Step">The most that the reading moves for one count: the resolution where it is coarsest.</param>
/// <param name="StepAt">Where that is.</param>
/// <param name="Residual">Largest departure of the firmware's line or table from the nominal circuit.</param>
/// <param name="Entries">Entries of the firmware's table; 0 for a line.</param>
public sealed record ReadingAccuracy(string Unit, double Largest, double LargestAt, double Offset,
    double Step, double StepAt, double Residual, int Entries);
