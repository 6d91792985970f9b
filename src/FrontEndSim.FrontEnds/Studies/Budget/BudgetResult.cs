using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Uncertainty;

namespace FrontEndSim.FrontEnds.Studies.Budget;

/// <summary>What is asked of an error budget.</summary>
public sealed record BudgetSettings
{
    /// <summary>Name of the sensor; null for the one nearest to the pin.</summary>
    public string? Sensor { get; init; }

    /// <summary>Temperatures to look at, °C; that of the front end is looked at too, since the calibration is done there. Without any,
    /// the ends of the front end's own range, or -40, 25 and 85.</summary>
    public ImmutableArray<double> Celsius { get; init; }

    /// <summary>Where on the span the two readings of the calibration are taken: 0 at its lower end, 1 at its upper; ascending.</summary>
    public CalibrationPlaces Calibration { get; init; } = new(0.1, 0.9);

    /// <summary>What is taken for the spread of parts and rails whose own numbers say nothing.</summary>
    public AssumedSpread Assumed { get; init; } = new();

    /// <summary>
    /// Seed, coverage and effort of the Monte Carlo propagation. Every draw is solved several times; ten batches of a thousand
    /// settle the ends of a 95 % interval to about a fiftieth of its width, and the result says how far they may be off.
    /// </summary>
    public MonteCarloSettings MonteCarlo { get; init; } = new() { BatchDraws = 1000, MostBatches = 10 };

    /// <summary>How many sources are put to their limits together at most: 2 to that power corners.</summary>
    public int CornerSources { get; init; } = 10;

    /// <summary>The same with the temperatures that this front end is looked at where none are asked for.</summary>
    internal BudgetSettings For(FrontEnd frontEnd) => !Celsius.IsDefault ? this
        : this with { Celsius = frontEnd.CelsiusRange is { } range ? [range.Low, range.High] : [-40, 25, 85] };
}

/// <summary>Where the error of a mapping comes from, and how large it can be.</summary>
/// <param name="Sensor">Name of the sensor.</param>
/// <param name="Pin">Name of the pin.</param>
/// <param name="Wanted">The mapping that the readings are held against.</param>
/// <param name="Unit">"counts", or "mV" for a pin that does not convert: the unit of all errors.</param>
/// <param name="SpanCounts">The whole wanted span in that unit.</param>
/// <param name="Points">Before and after calibration, at each temperature and place.</param>
/// <param name="Assumptions">What was taken for granted.</param>
/// <param name="Settings">What was asked for.</param>
public sealed record BudgetResult(string Sensor, string Pin, WantedMapping Wanted, string Unit, double SpanCounts,
    ImmutableArray<BudgetPoint> Points, BudgetAssumptions Assumptions, BudgetSettings Settings)
{
    // Readings that rise by less than nine tenths of what is wanted, or more than its inverse, are bent.
    private const double StraightRise = 0.9;

    /// <summary>How far the nominal reading rises between the two places of the calibration, over what is wanted there.</summary>
    public double CalibrationRise { get; init; } = 1;

    /// <summary>Whether the nominal reading is so far from a straight line, or bounded, that a calibration does not put it right.</summary>
    public bool IsBent => CalibrationRise is not (>= StraightRise and <= 1 / StraightRise);

    /// <summary>Whether it is of a reading that firmware computes from several pins, whose name stands as <see cref="Pin"/>: errors are
    /// then in the sensor's unit, and no calibration is looked at.</summary>
    public bool IsOfReading { get; init; }

    /// <summary>An error in counts as a fraction of the span.</summary>
    public double OfSpan(double counts) => counts / SpanCounts;

    /// <summary>Symbol of the unit in which the sensor measures.</summary>
    public string SensorUnit { get; init; } = "V";

    /// <summary>The point with the widest interval, before or after calibration.</summary>
    public BudgetPoint Worst(bool calibrated) => Points.Where(p => p.IsCalibrated == calibrated)
        .MaxBy(p => Math.Max(Math.Abs(p.Drawn.Interval.Low), Math.Abs(p.Drawn.Interval.High)))!;
}

/// <summary>The error at one place of the span at one temperature.</summary>
/// <param name="Celsius">Temperature, °C.</param>
/// <param name="Place">"zero", "mid" or "full".</param>
/// <param name="SensorValue">What the sensor measures there, in its own unit.</param>
/// <param name="IsCalibrated">Whether readings are corrected by a two-point calibration.</param>
/// <param name="Linear">Estimate and contributions, counts.</param>
/// <param name="Drawn">Distribution by trials, counts.</param>
/// <param name="Worst">Worst case over corners, counts.</param>
public sealed record BudgetPoint(double Celsius, string Place, double SensorValue, bool IsCalibrated, LinearPropagation Linear,
    MonteCarloResult Drawn, WorstCase Worst)
{
    /// <summary>How much of what the sensor measures one count is here, in its own unit; null where the reading does not follow
    /// it.</summary>
    public double? ValuePerCount { get; init; }

    /// <summary>Expanded uncertainty by linear propagation for the probability of the trials, counts.</summary>
    public double ExpandedUncertainty => Linear.ExpandedUncertainty(Drawn.Probability);

    /// <summary>Contributions that matter, the largest first: those of a thousandth of the largest at least.</summary>
    public IEnumerable<BudgetShare> Ranked
    {
        get
        {
            double variance = Math.Pow(Linear.StandardUncertainty, 2);
            return Linear.Contributions.OrderByDescending(c => Math.Abs(c.Effect)).TakeWhile(c => c.Effect * c.Effect > 1e-6 * variance)
                .Select(c => new BudgetShare(c.Input.Name, ((ErrorQuantity)c.Input).Kind, c.Effect, c.Effect * c.Effect / variance)
                {
                    Reading = ((ErrorQuantity)c.Input).Reading,
                });
        }
    }

    /// <summary>The same, summed by kind of source, the largest first.</summary>
    public IEnumerable<ErrorKindShare> ByKind => Ranked.GroupBy(r => r.Kind)
        .Select(g => new ErrorKindShare(g.Key, Math.Sqrt(g.Sum(r => r.Effect * r.Effect)), g.Sum(r => r.Share)))
            .OrderByDescending(g => g.Share);
}

/// <summary>What a source contributes.</summary>
/// <param name="Source">The source: "shift.R1 tolerance".</param>
/// <param name="Kind">What kind of source it is.</param>
/// <param name="Effect">Standard uncertainty that it causes, counts, with the sensitivity's sign.</param>
/// <param name="Share">Its part of the variance, 0 to 1.</param>
public sealed record BudgetShare(string Source, ErrorKind Kind, double Effect, double Share)
{
    /// <summary>The reading of the calibration that it spoils; null for what spoils every reading.</summary>
    public CalibrationReading? Reading { get; init; }
}

/// <summary>What the sources of a kind contribute together.</summary>
/// <param name="Kind">The kind.</param>
/// <param name="Effect">Standard uncertainty that they cause, counts.</param>
/// <param name="Share">Their part of the variance, 0 to 1.</param>
public sealed record ErrorKindShare(ErrorKind Kind, double Effect, double Share);

/// <summary>Where the two readings of a calibration are taken: 0 at the lower end of the span, 1 at the upper.</summary>
/// <param name="Low">The lower place.</param>
/// <param name="High">The upper place.</param>
public readonly record struct CalibrationPlaces(double Low, double High);
