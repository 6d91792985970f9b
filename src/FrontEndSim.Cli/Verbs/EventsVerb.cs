using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;
using FrontEndSim.Reporting.Pages;

namespace FrontEndSim.Cli.Verbs;

/// <summary>events: what reaches the pins when something happens.</summary>
internal sealed class EventsVerb : Verb
{
    private readonly Option<string?> _event =
        new("--event") { HelpName = "NAME", Description = "The event to run; all in the file if not given." };
    private readonly QuantityOption _until =
        new("--until", Unit.Seconds, "Where to end, such as \"200 us\"; late enough to show the event if not given.");
    private readonly PointsOption _points =
        new("How many evenly spaced times in --csv and --json, both ends included; the solver's own steps if not given.");
    private readonly ShowOption _show = new();
    private readonly PlotOption _plot = new("each pin's voltage against time with its rating, a panel an event");

    public EventsVerb()
        : base("events", "Runs the events of a circuit file and shows what reaches the pins and which parts take the energy.",
        "events circuits/rain-tank.fes --plot events.png")
    {
        foreach (var option in new Option[] { _event, _until, _points, _show, _plot })
            Options.Add(option);
    }

    protected override Answer Run(FrontEnd frontEnd, ParseResult line, CancellationToken cancel)
    {
        _plot.Check(line);
        if (frontEnd.Events.IsEmpty)
            throw new InputException("the circuit has no event; write one, such as: event \"24 V on the input\" at IN");
        FaultEvent[] events = line.GetValue(_event) is { } name ? [frontEnd.FindEvent(name)] : [.. frontEnd.Events];
        double? until = _until.Value(line);
        if (until <= 0)
            throw new InputException("--until must be above 0 s");
        EventResult[] results = new EventResult[events.Length];
        using (var progress = new ProgressLine())
        {
            for (int k = 0; k < events.Length; k++)
            {
                progress.Report(new((double)k / events.Length, events[k].Name));
                results[k] = EventStudy.Worse(frontEnd, events[k], until, cancel: cancel);
            }
        }
        var nodes = _show.Nodes(line, frontEnd, [.. results.Select(r => r.Transient.Start)]);
        int? points = line.GetValue(_points);
        var runs = new EventRuns(frontEnd.Title,
            [.. results.Select(r => r.Showing(points is { } n ? SweepStudy.Grid(0, r.Transient.End, n)
                : r.Transient.TimesToDraw(), nodes))])
        {
            SettlesTo = new SolvedFrontEnd(frontEnd).Settled(cancel: cancel)?.Length,
        };
        var page = EventsPage.Of(runs);
        _plot.Write(line, page, cancel);
        return Answer.Of(ExitCode.Met, page, runs);
    }
}
