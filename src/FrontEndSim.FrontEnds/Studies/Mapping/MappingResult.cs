using System.Collections.Immutable;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Bias;

namespace FrontEndSim.FrontEnds.Studies.Mapping;

/// <summary>How a sensor's span lands on a pin.</summary>
/// <param name="Sensor">Name of the sensor that was swept.</param>
/// <param name="Pin">Name of the pin.</param>
/// <param name="Wanted">The mapping that it is held against.</param>
/// <param name="CountVolts">Voltage of one count, V, on the nominal reference.</param>
/// <param name="Points">Points in order of the sensor's voltage, both ends of the span included.</param>
/// <param name="Headroom">Op amps, in the order of the parts.</param>
/// <param name="Sweep">The sweep itself.</param>
public sealed record MappingResult(string Sensor, string Pin, WantedMapping Wanted, double CountVolts, ImmutableArray<MappingPoint> Points,
    ImmutableArray<OpAmpHeadroom> Headroom, SweepResult Sweep)
{
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
        - GainErrorCounts * (p.SensorVolts - Points[0].SensorVolts) / (Points[^1].SensorVolts - Points[0].SensorVolts)).MaxBy(Math.Abs);

    /// <summary>The point with the largest error, either way.</summary>
    public MappingPoint Worst => Points.MaxBy(p => Math.Abs(p.ErrorCounts))!;

    /// <summary>The audit of the sweep.</summary>
    public Audit Audit => Sweep.Audit;
}

/// <summary>One point of a mapping.</summary>
/// <param name="SensorVolts">Voltage of the sensor without load, V.</param>
/// <param name="PinVolts">Voltage at the pin, V.</param>
/// <param name="IdealVolts">Voltage wanted there, V.</param>
/// <param name="Code">What the converter reads, 0 to 2^bits − 1; −1 for a pin that does not convert.</param>
/// <param name="ErrorCounts">
/// What the converter reads on its reference as it is, less the counts of <paramref name="IdealVolts"/> on the nominal one, not rounded and not
/// limited to the range; PinVolts − IdealVolts in mV for a pin that does not convert.
/// </param>
public sealed record MappingPoint(double SensorVolts, double PinVolts, double IdealVolts, double Code, double ErrorCounts);
