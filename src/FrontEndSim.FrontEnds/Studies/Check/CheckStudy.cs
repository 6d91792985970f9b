using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.FrontEnds.Studies.Levels;
using FrontEndSim.FrontEnds.Studies.Mapping;

namespace FrontEndSim.FrontEnds.Studies.Check;

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
        ImmutableArray<RequirementResult> judged = [.. frontEnd.Requirements.Select(found.Judge)];
        return new CheckResult(frontEnd.Title, judged, found.Mappings, found.Logic, found.Events,
            [.. frontEnd.Events.SelectMany(e => Swallowed(frontEnd, e)), .. Overstress(found.Events), .. Lifted(found.Events, judged)],
            [.. frontEnd.Events.SelectMany(e => e.Disturbance.Cautions).Distinct()])
        {
            Costs = [.. found.Mappings.Select(m => ProtectionCosts.Of(frontEnd, m, cancel))],
        };
    }

    // What changes or replaces the source acts all the same; a generator beside an ideal source moves nothing.
    private static IEnumerable<string> Swallowed(FrontEnd frontEnd, FaultEvent fault) =>
        frontEnd.Rails.Where(r => r.Name == fault.Node && r.SeriesOhms == 0 && IsBeside(fault, true)).Select(r => $"Rail {r.Name}")
            .Concat(frontEnd.Sensors.Where(s => s.Node == fault.Node && s.SourceOhms == 0 && IsBeside(fault, false)).Select(s => $"Sensor {s.Name}"))
            .Select(who => $"{who} holds node {fault.Node} without any resistance, so \"{fault.Name}\" cannot move it: give it its source resistance.");

    private static bool IsBeside(FaultEvent fault, bool isRail) => fault.Disturbance.OnSource(isRail) == SourceEffect.None;

    /// <summary>A sentence a part that is beyond a rating: the event that is hardest on it, and how many others are beyond as well.</summary>
    private static IEnumerable<string> Overstress(ImmutableArray<EventResult> events) => events
        .SelectMany(e => e.Parts.Where(s => s.Share > 1).Select(s => (e.Event, Stress: s)))
        .GroupBy(x => x.Stress.Part.Name).Select(beyond =>
        {
            var (fault, worst) = beyond.MaxBy(x => x.Stress.Share);
            return $"{worst.Part.Name} ({worst.Part.Word} {worst.Part.ValueText}) stands {SiText.Format(worst.Share!.Value, "%", 3)} of its rated "
                + $"{worst.Tightest!.Kind.Word} in \"{fault.Name}\"{Others(beyond.Count() - 1)}.";
        });

    private static string Others(int count) => count switch { 0 => "", 1 => ", and is beyond a rating in another event", _ => $", and is beyond a rating in {count} other events" };

    // A tenth beyond the nominal voltage is where the absolute ratings of most logic begin to matter (common practice, no source).
    private const double LiftAllowed = 0.1;

    /// <summary>A sentence a rail that is driven too far, unless a requirement that is not met has said so of the pin that it supplies.</summary>
    private static IEnumerable<string> Lifted(ImmutableArray<EventResult> events, ImmutableArray<RequirementResult> judged) => events
        .SelectMany(e => e.Rails.Where(r => Furthest(r) > (1 + LiftAllowed) * Math.Abs(r.Rail.Volts.Value) && !IsSaid(e, r.Rail, judged)).Select(r => (e.Event, Rail: r)))
        .GroupBy(x => x.Rail.Rail.Name).Select(driven =>
        {
            var (fault, worst) = driven.MaxBy(x => Furthest(x.Rail));
            string others = driven.Count() > 1 ? $" (and too far in {driven.Count() - 1} more)" : "";
            return $"Rail {worst.Rail.Name} is driven from {SiText.Format(worst.AtRest, "V", 3)} to "
                + $"{SiText.Format(Math.Abs(worst.HighestVolts) > Math.Abs(worst.LowestVolts) ? worst.HighestVolts : worst.LowestVolts, "V", 3)} in \"{fault.Name}\"{others}: "
                + "everything on it must stand that, or the rail needs a load or a clamp of its own.";
        });

    private static bool IsSaid(EventResult result, Rail rail, ImmutableArray<RequirementResult> judged) => result.Pins.Any(p =>
        p.Pin.ClampRail == rail.Name && p.SupplyMarginVolts < 0
        && judged.Any(j => !j.Met && j.Requirement is InsideRating inside && inside.Pin == p.Pin.Name && (inside.Event ?? result.Event.Name) == result.Event.Name));

    private static double Furthest(RailExposure rail) => Math.Max(Math.Abs(rail.HighestVolts), Math.Abs(rail.LowestVolts));
}
