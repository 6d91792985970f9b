using System.Collections.Immutable;
using FrontEndSim.Engine;

namespace FrontEndSim.FrontEnds;

/// <summary>The main job: whether a front end fulfils its requirements, each with margin, unit and reason.</summary>
public static class CheckStudy
{
    /// <summary>Runs the mappings and events of the front end and holds its requirements against them.</summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="progress">Told what is being done; may be null.</param>
    /// <param name="cancel">Stops between solver steps.</param>
    /// <exception cref="CircuitException">The circuit cannot be solved as it is.</exception>
    /// <exception cref="SolveException">No solution was found.</exception>
    /// <exception cref="StudyProblemException">A requirement names what is not there, or cannot be judged.</exception>
    public static CheckResult Run(FrontEnd frontEnd, IProgress<StudyProgress>? progress = null, CancellationToken cancel = default)
    {
        var mapped = frontEnd.Pins.Where(p => frontEnd.Sensors.Any(s => MappingStudy.Maps(frontEnd, p, s))).ToArray();
        var logic = frontEnd.Pins.Where(p => LogicStudy.Reads(frontEnd, p)).ToArray();
        double jobs = mapped.Length + logic.Length + frontEnd.Events.Length, done = 0;
        void Tell(string doing) => progress?.Report(new(done++ / Math.Max(1, jobs), doing));

        var mappings = ImmutableArray.CreateBuilder<MappingResult>();
        foreach (var pin in mapped)
        {
            Tell($"mapping onto {pin.Name}");
            mappings.Add(MappingStudy.Run(frontEnd, pin.Name, cancel: cancel));
        }
        var levels = ImmutableArray.CreateBuilder<LogicResult>();
        foreach (var pin in logic)
        {
            Tell($"levels at {pin.Name}");
            levels.Add(LogicStudy.Run(frontEnd, pin.Name, cancel));
        }
        var events = ImmutableArray.CreateBuilder<EventResult>();
        foreach (var fault in frontEnd.Events)
        {
            Tell(fault.Name);
            events.Add(EventStudy.Run(frontEnd, fault, cancel: cancel));
        }
        Tell("done");
        var found = new Findings(frontEnd, mappings.ToImmutable(), events.ToImmutable(), levels.ToImmutable(), progress, cancel);
        return new CheckResult(frontEnd.Title, [.. frontEnd.Requirements.Select(found.Judge)], found.Mappings, found.Logic, found.Events,
            [.. frontEnd.Events.SelectMany(e => Swallowed(frontEnd, e)), .. found.Events.SelectMany(e => Overstress(e).Concat(Lifted(e)))], [.. frontEnd.Events.SelectMany(e => e.Disturbance.Cautions).Distinct()]);
    }

    // What changes or replaces the source acts all the same; a generator beside an ideal source moves nothing.
    private static IEnumerable<string> Swallowed(FrontEnd frontEnd, FaultEvent fault) => fault.Disturbance is SourceFault or VehiclePulse or LoadDump ? []
        : frontEnd.Rails.Where(r => r.Name == fault.Node && r.SeriesOhms == 0).Select(r => $"Rail {r.Name}")
            .Concat(frontEnd.Sensors.Where(s => s.Node == fault.Node && s.SourceOhms == 0).Select(s => $"Sensor {s.Name}"))
            .Select(who => $"{who} holds node {fault.Node} without any resistance, so \"{fault.Name}\" cannot move it: give it its source resistance.");

    private static IEnumerable<string> Overstress(EventResult result) => result.Parts.Where(s => s.Share > 1).Select(s =>
        $"{s.Part.Name} ({s.Part.Word} {s.Part.ValueText}) stands {SiText.Format(s.Share!.Value, "%", 3)} of its rated "
        + $"{Word(s.Tightest!.Kind)} in \"{result.Event.Name}\".");

    // A tenth beyond the nominal voltage is where the absolute ratings of most logic begin to matter (common practice, no source).
    private const double LiftAllowed = 0.1;

    private static IEnumerable<string> Lifted(EventResult result) => result.Rails
        .Where(r => Math.Max(Math.Abs(r.HighestVolts), Math.Abs(r.LowestVolts)) > (1 + LiftAllowed) * Math.Abs(r.Rail.Volts.Value))
        .Select(r => $"Rail {r.Rail.Name} is driven from {SiText.Format(r.AtRest, "V", 3)} to "
            + $"{SiText.Format(Math.Abs(r.HighestVolts) > Math.Abs(r.LowestVolts) ? r.HighestVolts : r.LowestVolts, "V", 3)} in \"{result.Event.Name}\": "
            + "everything on it must stand that, or the rail needs a load or a clamp of its own.");

    private static string Word(RatingKind kind) => kind switch
    {
        RatingKind.Power => "power",
        RatingKind.Voltage => "voltage",
        _ => "peak current",
    };
}
