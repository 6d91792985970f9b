using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Stages.Guarding;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Mapping;

namespace FrontEndSim.FrontEnds.Studies.Design;

/// <summary>Stages that fulfil a target, best first, and why others do not.</summary>
/// <param name="Target">The target.</param>
/// <param name="Candidates">The best of each kind of stage and series, by <see cref="DesignCandidate.Cost"/>.</param>
/// <param name="Refusals">The kinds of which no candidate is left, each with its reason.</param>
/// <param name="Assumptions">What was taken for granted.</param>
public sealed record DesignResult(DesignTarget Target, ImmutableArray<DesignCandidate> Candidates, ImmutableArray<DesignRefusal> Refusals,
    ImmutableArray<DesignAssumption> Assumptions);

/// <summary>A stage that fulfils the target, as the engine solves it.</summary>
public sealed record DesignCandidate
{
    /// <summary>The stage.</summary>
    public required Stage Stage { get; init; }

    /// <summary>What it was asked for, all values given: building it again gives the same stage.</summary>
    public required StageRequest Request { get; init; }

    /// <summary>Rails, sensor, stage and pin, without a guard.</summary>
    public required FrontEnd FrontEnd { get; init; }

    /// <summary>Series of its resistors.</summary>
    public required ESeries Series { get; init; }

    /// <summary>Its op amp class; null for none.</summary>
    public OpAmpType? OpAmp { get; init; }

    /// <summary>The rail that its shift is taken from; null for none.</summary>
    public string? Reference { get; init; }

    /// <summary>Mapping with every part at its nominal value.</summary>
    public required MappingResult Mapping { get; init; }

    /// <summary>Largest error with every part at its nominal value, counts, with its sign.</summary>
    public double NominalErrorCounts => Mapping.Worst.ErrorCounts;

    /// <summary>
    /// Largest error over the span's ends and middle with tolerances of resistors and rails and the op amps' offsets and bias
    /// currents all in their worst case, counts; with a potentiometer, once that has been turned until the middle of the span is right.
    /// </summary>
    public required double WorstErrorCounts { get; init; }

    /// <summary>Whether every corner was evaluated; if not, the largest contributions were and the others are added to first
    /// order.</summary>
    public required bool IsWorstExact { get; init; }

    /// <summary>Smallest distance of an op amp from its swing and common-mode limits, V; null without op amps.</summary>
    public double? HeadroomVolts => Mapping.Headroom.IsEmpty ? null : Mapping.Headroom.Min(h => h.Volts);

    /// <summary>Resistance that the sensor sees, ohm; infinite if no current flows.</summary>
    public required double InputOhms { get; init; }

    /// <summary>Share of the sensor's voltage that its source resistance takes: Rs/(Rs + Rin). Counted in, as long as Rs stays what it
    /// is.</summary>
    public required double Loading { get; init; }

    /// <summary>Number of parts.</summary>
    public int PartCount => Stage.Parts.Length;

    /// <summary>Number of different resistor values.</summary>
    public int DistinctValues => Stage.Parts.Where(p => p.IsResistor).Select(r => r.Value!.Amount.Value).Distinct().Count();

    /// <summary>Noise at the pin from 1 Hz to 100 kHz, V rms: resistors, and op amps as far as their class says.</summary>
    public required double NoiseVolts { get; init; }

    /// <summary>Power taken from all rails, the sensor at mid-span, W.</summary>
    public required double SupplyWatts { get; init; }

    /// <summary>
    /// What the candidates are ranked by, lowest first, each term one where it starts to hurt: worst error as a percentage of
    /// full scale, loading as a percentage, noise in counts, power over 100 mW, a tenth for
    /// each part and a twentieth for each different value.
    /// </summary>
    public required double Cost { get; init; }
}

/// <summary>A design that is complete: the stage, a guard if faults were named, the pin, and what is required of them.</summary>
/// <param name="Candidate">The candidate that it is made from.</param>
/// <param name="FrontEnd">All of it.</param>
/// <param name="Guard">How the pin is guarded; null if no fault was named.</param>
/// <param name="Check">Its check.</param>
/// <param name="Notes">What a person should know.</param>
public sealed record CompleteDesign(DesignCandidate Candidate, FrontEnd FrontEnd, DesignGuard? Guard,
    CheckResult Check, ImmutableArray<DesignNote> Notes)
{
    /// <summary>The value of each part by its name.</summary>
    public IReadOnlyDictionary<string, string> PartValues =>
        new OrderedDictionary<string, string>(FrontEnd.AllParts.Select(p => KeyValuePair.Create(p.Name, p.ValueText)));

    /// <summary>The ways to give the stage its reference, the best first; empty if it needs none, or if that was decided.</summary>
    public ImmutableArray<DesignReference> References { get; init; } = [];

    /// <summary>The one that was taken; null if there was no choice.</summary>
    public DesignReference? Reference { get; init; }
}

/// <summary>The guard in front of the pin.</summary>
/// <param name="Request">What the pin-guard stage was asked for.</param>
/// <param name="SeriesOhms">The series resistor, ohm.</param>
/// <param name="Clamp">The Schottky type to supply and ground; null where the pin's own clamps do.</param>
/// <param name="BleederOhms">The resistor from the pin's rail to ground that takes what is pushed into it, ohm; null where none is
/// needed.</param>
/// <param name="Levels">What the events make of the node ahead of the guard.</param>
/// <param name="WorstEvent">Name of the event that comes nearest to a rating.</param>
/// <param name="IsWorstOff">Whether that is with the supplies off.</param>
/// <param name="InjectionAmps">Largest current through the pin's own clamps, A.</param>
/// <param name="SeriesWatts">Highest power of the series resistor, averaged by its heat, W.</param>
/// <param name="SeriesPeakWatts">Its highest power at any moment, W.</param>
/// <param name="SeriesJoules">The most energy that it takes in one event, J.</param>
/// <param name="CostCounts">What the guard costs in accuracy: the largest change of the reading over the span with the pin's leakage, at
/// the file's temperature, counts.</param>
/// <param name="HotCostCounts">The same at 85 °C, where the clamps leak most; the pin's own leakage stays as it is given.</param>
/// <param name="HandCalculation">The hand calculation.</param>
public sealed record DesignGuard(StageRequest Request, double SeriesOhms, string? Clamp,
    double? BleederOhms, GuardLevels Levels, string WorstEvent, bool IsWorstOff,
    double InjectionAmps, double SeriesWatts, double SeriesPeakWatts, double SeriesJoules, double CostCounts,
    double HotCostCounts, ImmutableArray<HandStep> HandCalculation)
{
    /// <summary>Power that a resistor like the series resistor usually stands, W.</summary>
    public double SeriesRatedWatts { get; init; }
}
