using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>Where something must hold.</summary>
/// <param name="EveryEvent">Whether in every event, beside the operating point over the span and what the circuit's own
/// sources and switches do.</param>
/// <param name="Event">Name of the only event that is meant; null where none is.</param>
public readonly record struct Occasions(bool EveryEvent, string? Event)
{
    /// <summary>The circumstances that are meant, at their worst. What a node or a rail does while nothing is supplied is not
    /// asked.</summary>
    internal ImmutableArray<SurvivalRun> Of(SolvedFrontEnd solved, CancellationToken cancel)
    {
        var runs = Event is { } name ? solved.Survival(solved.FrontEnd.FindEvent(name), cancel).Runs
            : EveryEvent ? solved.Everywhere(cancel)
            // What its own sources and switches do is service.
            : [.. solved.AtRest(cancel).Runs, .. solved.InCourse(cancel)?.Runs ?? []];
        return [.. runs.Where(r => !r.Where.AreSuppliesOff)];
    }
}

/// <summary>A node stays between two voltages against ground.</summary>
/// <param name="Node">The node.</param>
/// <param name="Volts">The voltages, V, both ends included.</param>
/// <param name="Where">Where it must.</param>
/// <param name="Text">The requirement in words.</param>
public sealed record NodeWithin(string Node, Span Volts, Occasions Where, string Text) : Requirement(Text)
{
    /// <inheritdoc/>
    public override string? Happening => Where.Event;

    /// <inheritdoc/>
    public override Requirement In(string happening) => this with { Where = new(false, happening) };

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        var runs = Where.Of(solved, cancel);
        var nodes = runs.SelectMany(r => r.Nodes.Where(n => n.Node == Node).Select(n => (r.Where, Node: n))).ToList();
        if (Where.Event is null)
            nodes.AddRange(OverSpans(solved, cancel));
        var problem = runs.Select(r => r.Problem).FirstOrDefault(p => p is not null);
        if (nodes.Count == 0)
            return new(this, Verdict.NotKnown, problem is null ? new NotComputed(null, new(ProblemKind.NoSuch, Node, "node")) : problem);
        double Margin(NodeExposure n) => Math.Min(Volts.High - n.HighestVolts, n.LowestVolts - Volts.Low);
        var (where, worst) = nodes.MinBy(n => Margin(n.Node));
        bool isHigh = Volts.High - worst.HighestVolts <= worst.LowestVolts - Volts.Low;
        var result = new RequirementResult(this, Margin(worst) >= 0 ? Verdict.Met : Verdict.NotMet, new NodeReason(where, worst, isHigh))
        {
            Found = new(isHigh ? worst.HighestVolts : worst.LowestVolts, Unit.Volts),
            Limit = new(isHigh ? Volts.High : Volts.Low, Unit.Volts),
            Margin = new(Margin(worst), Unit.Volts),
        };
        return result.Met && problem is not null ? new(this, Verdict.NotKnown, problem) : result;
    }

    // Between both ends of a span and its middle a node may stand further out, as behind a rectifier.
    private IEnumerable<(Occasion, NodeExposure)> OverSpans(SolvedFrontEnd solved, CancellationToken cancel) =>
        solved.Temperatures().SelectMany(at => at.FrontEnd.Sensors.Select(s =>
        {
            var sweep = at.Sweep(s.Name, Studies.Mapping.SweepStudy.Grid(s.Span.Low, s.Span.High, 101), refine: true, cancel);
            double[] volts = sweep.Voltage(Node);
            int high = Array.IndexOf(volts, volts.Max()), low = Array.IndexOf(volts, volts.Min());
            var where = new Occasion { Celsius = solved.FrontEnd.CelsiusRange is null ? null : at.FrontEnd.Celsius };
            return (where, new NodeExposure(Node, volts[high], 0, volts[low], 0)
            {
                HighestSensor = Place(high),
                LowestSensor = Place(low)
            });

            SensorPlace Place(int k) => new(s.Name, sweep.Values[k], s.UnitText);
        }));
}

/// <summary>What a rail has to take so that it holds its voltage stays under a limit.</summary>
/// <param name="Rail">Name of the rail.</param>
/// <param name="MaximumAmps">The current must be below this, A, above zero.</param>
/// <param name="Where">Where it must.</param>
/// <param name="Text">The requirement in words.</param>
public sealed record RailTakes(string Rail, double MaximumAmps, Occasions Where, string Text) : Requirement(Text)
{
    /// <inheritdoc/>
    public override string? Happening => Where.Event;

    /// <inheritdoc/>
    public override Requirement In(string happening) => this with { Where = new(false, happening) };

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        var runs = Where.Of(solved.Holding(Rail), cancel);
        var rails = runs.SelectMany(r => r.Rails.Where(x => x.Rail == Rail).Select(x => (r.Where, Rail: x))).ToArray();
        var problem = runs.Select(r => r.Problem).FirstOrDefault(p => p is not null);
        if (rails.Length == 0)
        {
            return new(this, Verdict.NotKnown,
                problem ?? new NotComputed(null, new(ProblemKind.RailIsActedOn, Rail)));
        }
        var (where, worst) = rails.MaxBy(r => r.Rail.Amps);
        var result = Below(new(worst.Amps, Unit.Amps), new(MaximumAmps, Unit.Amps), new RailReason(where, worst));
        return result.Met && problem is not null ? new(this, Verdict.NotKnown, problem) : result;
    }
}
