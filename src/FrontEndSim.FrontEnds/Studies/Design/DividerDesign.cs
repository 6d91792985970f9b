using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Stages.Conditioning;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Design;

/// <summary>What the resistor ahead of a resistive sensor is chosen for.</summary>
public enum DividerAim
{
    /// <summary>The straightest curve over the span.</summary>
    Linearity,

    /// <summary>The largest change over the span.</summary>
    Resolution,
}

/// <summary>A resistor that makes a divider of a resistive sensor, as the engine solves it.</summary>
/// <param name="Aim">What it is chosen for.</param>
/// <param name="Series">Name of the series that it is of.</param>
/// <param name="Rail">Name of the rail that it leads to.</param>
/// <param name="Ohms">Its resistance, ohm.</param>
/// <param name="Bend">How far the voltage strays from a straight line over the span, as a share of its change.</param>
/// <param name="SpanVolts">How far the voltage at the pin moves over the span, V.</param>
/// <param name="Step">What a count is where it is the most, in the sensor's unit.</param>
/// <param name="StepAt">Where that is.</param>
/// <param name="LargestError">How far a reading may be off on any board, in the sensor's unit.</param>
/// <param name="LargestErrorAt">Where that is.</param>
/// <param name="SensorWatts">The most that the sensor dissipates over its span, W.</param>
public sealed record DividerCandidate(DividerAim Aim, string Series, string Rail, double Ohms, double Bend, double SpanVolts, double Step,
    double StepAt, double LargestError, double LargestErrorAt, double SensorWatts)
{
    /// <summary>What is asked of the stage.</summary>
    internal StageRequest Request { get; init; } = null!;
}

/// <summary>Resistors for a resistive sensor, the best first.</summary>
/// <param name="Sensor">Name of the sensor.</param>
/// <param name="SensorUnit">Symbol of its unit.</param>
/// <param name="Span">What it measures.</param>
/// <param name="Pin">Name of the pin.</param>
/// <param name="Node">Node that the resistor leads to.</param>
/// <param name="Candidates">One for each aim, series and rail, those with equal resistance once.</param>
/// <param name="Tolerance">Tolerance of the resistor, a fraction.</param>
/// <param name="Aim">What was asked for; null for the least error of a reading.</param>
public sealed record DividerDesign(string Sensor, string SensorUnit, Span Span, string Pin, string Node,
    ImmutableArray<DividerCandidate> Candidates, double Tolerance, DividerAim? Aim);

/// <summary>Chooses the resistor of a sensor-divider.</summary>
public static class DividerDesignStudy
{
    // What leaks through clamps moves a node by less than this over a sensor's span, V.
    private const double Unmoved = 1e-3;

    /// <summary>The sensor that is a resistance to ground which nothing feeds, so that no voltage at it tells what it measures; null for
    /// none.</summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="cancel">Stops the solver.</param>
    public static Sensor? Unfed(FrontEnd frontEnd, CancellationToken cancel = default)
    {
        // What a pin may leak feeds nothing.
        var solved = new SolvedFrontEnd(frontEnd with
        {
            Events = [],
            Requirements = [],
            Pins = [.. frontEnd.Pins.Select(p => p with { LeakageAmps = 0 })],
        });
        return frontEnd.Sensors.FirstOrDefault(s => s is { Wiring: null, Other: Circuit.Ground } && s.Output == Unit.Ohm && IsUnmoved(s));

        bool IsUnmoved(Sensor sensor)
        {
            try
            {
                double At(double value) => solved.Rest(SolvedFrontEnd.At(sensor.Name, value), cancel).Nodes[sensor.Node];
                return Math.Abs(At(sensor.Span.High) - At(sensor.Span.Low)) < Unmoved;
            }
            catch (Exception e) when (e is SolveException or CircuitException)
            {
                return false;
            }
        }
    }

    /// <summary>Ranks resistors for a sensor that nothing feeds.</summary>
    /// <param name="frontEnd">The front end without the resistor.</param>
    /// <param name="sensor">The sensor.</param>
    /// <param name="stage">Name of the stage.</param>
    /// <param name="series">Series of preferred numbers to choose from.</param>
    /// <param name="tolerance">Tolerance of the resistor, a fraction.</param>
    /// <param name="aim">What it is for; null for the least error of a reading, whichever it is chosen for.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="StudyProblemException">No pin reads the sensor, or no rail keeps it inside of the converter's range.</exception>
    /// <exception cref="SolveException">No solution was found.</exception>
    public static DividerDesign Run(FrontEnd frontEnd, Sensor sensor, string stage, ImmutableArray<ESeries> series, double tolerance,
        DividerAim? aim, CancellationToken cancel = default)
    {
        var reached = SignalPath.Upstream(frontEnd, sensor.Node);
        var pin = frontEnd.Pins.FirstOrDefault(p => p.Converter is not null && reached.Contains(p.Node))
            ?? throw new StudyProblemException(new(ProblemKind.NoPinReads, sensor.Name, sensor.Node));
        var requests = from toRail in frontEnd.Rails
                       where toRail.Volts.Value > 0
                       from a in aim is { } one ? [one] : Enum.GetValues<DividerAim>()
                       from s in series
                       select (Aim: a, Series: s, Rail: toRail, Request: new StageRequest(new SensorDivider(), stage, SettingValues.Empty
                           .With(SensorDivider.Reads, (sensor, toRail)).With(SensorDivider.IsStraight, a == DividerAim.Linearity)
                           .With(StageKind.PreferredResistors, (s, tolerance)), frontEnd.Rails, frontEnd.Sensors));
        var candidates = requests.Select(r => Of(frontEnd, sensor, pin, r.Aim, r.Series, r.Rail, r.Request, cancel))
            .OfType<DividerCandidate>().ToArray();
        if (candidates.Length == 0)
            throw new StudyProblemException(new(ProblemKind.NoRailFeeds, sensor.Name, pin.Name));
        double Cost(DividerCandidate c) => aim switch
        {
            DividerAim.Linearity => c.Bend,
            DividerAim.Resolution => -c.SpanVolts,
            _ => c.LargestError,
        };
        return new(sensor.Name, sensor.UnitText, sensor.Span, pin.Name, sensor.Node,
            [.. candidates.OrderBy(Cost).ThenBy(c => c.LargestError).DistinctBy(c => (c.Rail, c.Ohms))], tolerance, aim);
    }

    /// <summary>One of them; null where the pin does not read it over all of its span.</summary>
    private static DividerCandidate? Of(FrontEnd frontEnd, Sensor sensor, Pin pin, DividerAim aim, ESeries series, Rail rail,
        StageRequest request, CancellationToken cancel)
    {
        var stage = request.Build();
        var solved = new SolvedFrontEnd(frontEnd with { Stages = [.. frontEnd.Stages, stage], Events = [], Requirements = [] });
        var mapping = solved.Mapping(pin.Name, sensor.Name, cancel);
        double highest = pin.Converter!.Range(frontEnd.Rails).High;
        if (mapping.Points.Any(p => p.PinVolts > highest) || mapping.Reading is not { } reading)
            return null;
        var spread = solved.Temperatures().Select(t => t.Spread(t.Mapping(pin.Name, sensor.Name, cancel), cancel: cancel)!)
            .MaxBy(s => s.Largest)!;
        double ohms = stage.Parts.Single().Value!.Amount.Value;
        return new(aim, series.Name, rail.Name, ohms, SensorDivider.Bend(sensor, ohms),
            Math.Abs(mapping.Points[^1].PinVolts - mapping.Points[0].PinVolts), reading.Step, reading.StepAt, spread.Largest,
            spread.LargestAt, mapping.Sweep.Points.Max(p => p.Parts[sensor.Name].Watts))
        {
            Request = request,
        };
    }

    /// <summary>What the design keeps on every board, a fifth to spare, on a round number.</summary>
    /// <param name="design">The design.</param>
    /// <param name="candidate">One of its candidates.</param>
    public static Requirement Kept(DividerDesign design, DividerCandidate candidate) =>
        new ReadingError(design.Pin, DesignCompletion.RoundUp(1.2 * candidate.LargestError), design.SensorUnit, null, "");

    /// <summary>What is asked of the stage of a candidate.</summary>
    /// <param name="candidate">The candidate.</param>
    public static StageRequest Asked(DividerCandidate candidate) => candidate.Request;
}
