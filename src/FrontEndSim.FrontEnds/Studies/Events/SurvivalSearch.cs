using System.Globalization;
using System.Runtime.InteropServices;
using System.Text;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Respond;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Events;

/// <summary>One run of a search.</summary>
/// <param name="Run">What it did.</param>
/// <param name="Scores">How near each objective comes to its limit: 1 there.</param>
/// <param name="Start">Where it rests before; null where nothing could be computed.</param>
internal sealed record SurvivalSolution(SurvivalRun Run, double[] Scores, OperatingPoint? Start)
{
    /// <summary>The scores of where it starts from; null for the operating point itself.</summary>
    public double[]? Resting { get; init; }

    /// <summary>The event as it was run, and for how long, s; null for the operating point.</summary>
    public (FaultEvent Fault, double Seconds)? Ran { get; init; }

    /// <summary>All that the event did; kept for the deciding one only.</summary>
    public Func<EventResult>? Event { get; init; }

    public int[] At { get; init; } = [];

    /// <summary>How much warmer than what is around them junctions get by what they dissipate for ever, K; and the same as they were
    /// solved with.</summary>
    public ImmutableSortedDictionary<string, double> Kelvin { get; init; } = ImmutableSortedDictionary<string, double>.Empty;

    /// <inheritdoc cref="Kelvin"/>
    public ImmutableSortedDictionary<string, double> Warmed { get; init; } = ImmutableSortedDictionary<string, double>.Empty;

    /// <summary>The rails that stand where their supplies put them, all the time;
    /// none where leads come between them and parts.</summary>
    public ImmutableHashSet<string> HeldRails { get; init; } = [];
}

/// <summary>The runs of a search for the worst circumstance, each of them once, with how near each objective comes to its limit: pins,
/// ratings of parts, nodes, rails, supplies.</summary>
internal sealed class SurvivalSearch
{
    // What one search may run, in steps times elements: some minutes. What is left then is not known.
    private const long MostStepElements = 200_000_000;

    private readonly SolvedFrontEnd _solved;
    private readonly FrontEnd _spread; // the same, with the usual tolerances where none are given
    private readonly FaultEvent? _fault;
    private readonly CancellationToken _cancel;
    private readonly Dictionary<string, SurvivalSolution> _found = [];
    private readonly List<SurvivalSolution> _inOrder = [];
    private readonly int _objectives, _pinObjectives;
    private readonly NodeWithin[] _nodes;
    private readonly RailTakes[] _rails;
    private (double Tightness, int Place, Func<EventResult> Event)? _deciding;
    private FollowedRun? _nominal;
    private readonly Survival? _rest;
    private readonly Dictionary<string, int> _ownLimits = []; // the dimension of a part's own limit
    private readonly ImmutableArray<(string Part, int Rating, RatedQuantity Quantity)> _rated;
    private readonly Dictionary<(string From, int Objective, int Dimension, int End), double> _estimated = [];

    public SurvivalSearch(SolvedFrontEnd solved, FaultEvent? fault, CancellationToken cancel)
    {
        (_solved, _fault, _cancel) = (solved, fault, cancel);
        var frontEnd = solved.FrontEnd;
        _spread = frontEnd.WithUsualTolerances();
        Dimension[] ends = [.. Dimension.Ends(_spread, fault,
            s => HumStudy.CrestShare(solved, s, frontEnd.OwnPins.Select(p => p.Node), cancel))];
        Ends = ends.Length;
        Dimensions = [.. ends, .. Dimension.Tolerances(_spread)];
        for (int d = Dimensions.Length - 1; d >= 0; d--)
        {
            if (Dimensions[d].IsTemperature)
                Temperature = d;
            if (Dimensions[d].LimitOf is { } part)
                _ownLimits[part] = d;
        }
        WidestTolerance = _spread.AllParts.Where(p => p.AtTolerance(true) is not null).Max(p => p.Value?.Amount.Tolerance) ?? 0;
        _nodes = [.. frontEnd.Requirements.OfType<NodeWithin>().Where(r => Concerns(r.Where))];
        // What an event puts in the place of a rail says nothing of what is pushed into it.
        _rails = [.. frontEnd.Requirements.OfType<RailTakes>().Where(r => Concerns(r.Where) && r.Rail != fault?.Node)];
        // In the order of the scores: pins, ratings of parts, nodes, rails, supplies.
        _pinObjectives = PerPin * frontEnd.OwnPins.Count();
        _rated = [.. frontEnd.Rated.SelectMany(p => p.Ratings(frontEnd.Celsius).Select((r, k) => (p.Name, k, r.Quantity)))];
        _objectives = _pinObjectives + _rated.Length + 2 * _nodes.Length + _rails.Length + frontEnd.Supplies.Length;
        _rest = fault is null ? null : solved.AtRest(cancel);
    }

    private const int PerPin = 3;

    /// <summary>Whether the operating point is looked at, and no event.</summary>
    public bool IsOfRest => _fault is null;

    private bool Concerns(Occasions where) => _fault is null || _fault.Disturbance is TimePasses ? where.Event is null
        : where.EveryEvent || where.Event == _fault.Name;

    /// <summary>What is moved: the first <see cref="Ends"/> always, tolerances of parts near a limit.</summary>
    public ImmutableArray<Dimension> Dimensions { get; }

    public int Ends { get; }

    public double WidestTolerance { get; }

    public IEnumerable<int[]> Neighbours(int[] at)
    {
        for (int d = 0; d < Ends; d++)
        {
            for (int end = Dimensions[d].IsOneWay ? 0 : -1; end <= 1; end++)
            {
                if (end == at[d])
                    continue;
                int[] moved = [.. at];
                moved[d] = end;
                yield return moved;
            }
        }
    }

    /// <summary>Whether an event brought an objective nearer to its limit than it stands at the operating point, in any run so
    /// far.</summary>
    public bool IsOfEvent(int objective) => _rest is null || RestObjective(objective) is null
        || _inOrder.Any(s => s.Resting is not { } rest || s.Scores[objective] > rest[objective] + SurvivalStudy.Negligible);

    /// <summary>Where the operating point is worst for an objective.</summary>
    public WorstPlace? AtRest(int objective) => RestObjective(objective) is { } k ? _rest!.Worst[k] : null;

    // Pins, ratings and supplies are looked at in every event and at rest; what is required of nodes and rails is not.
    private int? RestObjective(int objective) => objective < _pinObjectives + _rated.Length ? objective
        : objective >= _objectives - _solved.FrontEnd.Supplies.Length ? objective - _objectives + _rest!.Worst.Length : null;

    private RatedQuantity? RatingOf(int objective) =>
        objective - _pinObjectives is >= 0 and var k && k < _rated.Length ? _rated[k].Quantity : null;

    /// <summary>A corner of the operating point, in an event.</summary>
    public int[] Placed(ImmutableArray<int> atRest)
    {
        var at = new int[Dimensions.Length];
        for (int d = 0; d < atRest.Length; d++)
            at[d < _rest!.Ends ? d : d - _rest.Ends + Ends] = atRest[d];
        return at;
    }

    /// <summary>Where an objective is worst.</summary>
    public int[] WorstAt(int objective) => _inOrder.MaxBy(s => s.Scores[objective])!.At;

    public SurvivalSolution Of(int[] at) => _found[Key(at)];

    public double Worst(int objective) => _inOrder.Max(s => s.Scores[objective]);

    public void Solve(IReadOnlyList<int[]> settings)
    {
        int[][] missing = [.. settings.Where(s => !_found.ContainsKey(Key(s))).DistinctBy(Key)];
        bool isTooMuch = _inOrder.Sum(s => s.Run.StepElements) > MostStepElements;
        long longest = _inOrder.Select(s => s.Run.StepElements).DefaultIfEmpty(0).Max();
        var solutions = new SurvivalSolution[missing.Length];
        OnAllCores.For(missing.Length, _cancel, k =>
        {
            using var room = RunRoom.Enter(longest, _cancel);
            solutions[k] = Keep(Solve(missing[k], isTooMuch), _inOrder.Count + k) with { At = missing[k] };
        });
        _solved.Work.Add(solutions.Sum(s => s.Run.StepElements));
        for (int k = 0; k < missing.Length; k++)
        {
            _found[Key(missing[k])] = solutions[k];
            _inOrder.Add(solutions[k]);
        }
    }

    /// <summary>Keeps what the event did where a pin comes nearest to a rating, at the first such place; the traces of all others are
    /// many numbers that nobody asks for.</summary>
    private SurvivalSolution Keep(SurvivalSolution solution, int place)
    {
        if (solution.Event is not { } happened)
            return solution;
        double tightness = solution.Run.Pins.Select(p => p.Tightness).DefaultIfEmpty(0).Min();
        lock (_found)
        {
            if (_deciding is not { } before || tightness < before.Tightness || tightness == before.Tightness && place < before.Place)
                _deciding = (tightness, place, happened);
        }
        return solution with { Event = null };
    }

    /// <summary>The dimension that moves the limit of the part whose rating an objective is, such as its breakdown voltage; null where it
    /// has none.</summary>
    public int? OwnLimit(int objective) =>
        RatingOf(objective) is not null && _ownLimits.TryGetValue(_rated[objective - _pinObjectives].Part, out int own) ? own : null;

    /// <summary>The dimension of the temperature; null at one temperature.</summary>
    public int? Temperature { get; }

    /// <summary>Whether an objective is the current into the clamps of a pin.</summary>
    public bool IsInjection(int objective) => objective < _pinObjectives && objective % PerPin == PerPin - 1;

    /// <summary>Whether no tolerance of a part can move an objective: a temperature, or a voltage between rails that stand where their
    /// supplies put them.</summary>
    public bool IsHeld(int objective, int[] at)
    {
        var held = Of(at).HeldRails;
        bool IsHeld(string node) => node == Circuit.Ground || held.Contains(node);
        return RatingOf(objective) switch
        {
            Ambient => true,
            VoltageAcross v => IsHeld(v.From) && IsHeld(v.To),
            _ => false,
        };
    }

    // Of a run that is not known nothing that was read is.
    public Survival Result() => new([.. _inOrder.Select(s => s.Run is { Problem: { } problem, Where: var where }
        ? new SurvivalRun(where) { Problem = problem } : s.Run)], _deciding?.Event())
    {
        Worst = [.. Enumerable.Range(0, _objectives)
            .Select(o => new WorstPlace(Worst(o), ImmutableCollectionsMarshal.AsImmutableArray(WorstAt(o))))],
        Ends = Ends,
    };

    /// <summary>Each dimension at the end where a circumstance has it.</summary>
    public int[] At(Occasion wanted) => [.. Dimensions.Select(d =>
        new[] { 1, -1 }.FirstOrDefault(end => IsPart(d.At(_spread, Nominal, end).Item2, wanted)))];

    private Occasion Nominal => new() { Event = _fault?.Name, Sensors = SpanPlace.Middle };

    /// <summary>Whether all that a circumstance differs by from nominal is found in another.</summary>
    private static bool IsPart(Occasion part, Occasion of) => (part.Sensors == SpanPlace.Middle || part.Sensors == of.Sensors)
        && (part.Celsius is null || part.Celsius == of.Celsius)
        && (!part.IsSensorTornOff || of.IsSensorTornOff)
        && (!part.AreSuppliesFloating || of.AreSuppliesFloating)
        && (!part.AreSuppliesOff || of.AreSuppliesOff && part.AreSuppliesFloating == of.AreSuppliesFloating)
        && part.Turned.All(of.Turned.Contains) && part.Selected.All(of.Selected.Contains)
        && part.Ends.All(e => of.Ends.Any(o => (o.Subject, o.Of, o.Value.Unit, o.IsHigh) == (e.Subject, e.Of, e.Value.Unit, e.IsHigh)));

    /// <summary>What a part moved from a corner makes of an objective: as solved, or else as estimated.</summary>
    public double Estimated((int Objective, int[] At) from, (int Dimension, int End) move) =>
        _found.TryGetValue(Key(SurvivalStudy.Moved(from.At, move.Dimension, move.End)), out var solved) ? solved.Scores[from.Objective]
            : _estimated[(Key(from.At), from.Objective, move.Dimension, move.End)];

    /// <summary>Works out what each part moved from a corner makes of its objective, to first order; what cannot be said so is
    /// solved.</summary>
    public void Estimate(IReadOnlyList<(int Objective, int[] At)> near, IReadOnlyList<(int Dimension, int End)> moves)
    {
        var corners = near.GroupBy(c => Key(c.At)).ToArray();
        var unsaid = new int[corners.Length][][];
        OnAllCores.For(corners.Length, _cancel, k =>
        {
            int[] at = corners[k].First().At;
            var scores = _fault is null || Of(at).Ran is not { } ran ? []
                : Changed(at, ran, moves, [.. corners[k].Select(c => c.Objective)]);
            unsaid[k] = [.. moves.Where((_, m) => m >= scores.Count || scores[m] is null)
                .Select(m => SurvivalStudy.Moved(at, m.Dimension, m.End))];
            lock (_estimated)
            {
                foreach (var (m, said) in scores.Index().Where(s => s.Item is not null))
                {
                    foreach (var ((objective, _), score) in corners[k].Zip(said!))
                        _estimated[(corners[k].Key, objective, moves[m].Dimension, moves[m].End)] = score;
                }
            }
        });
        Solve([.. unsaid.SelectMany(u => u)]);
    }

    // The scores of objectives with each part moved; null for a part of which they cannot be said.
    private IReadOnlyList<double[]?> Changed(int[] at, (FaultEvent Fault, double Seconds) ran,
        IReadOnlyList<(int Dimension, int End)> moves, int[] objectives)
    {
        var (there, where) = At(at);
        FrontEnd Struck(FrontEnd f) =>
            Warmed(where.IsSensorTornOff ? EventStudy.TornOff(f, _fault!).FrontEnd : f, Of(at).Warmed);
        FrontEnd[] changed = [.. moves.Select(m => Struck(At(SurvivalStudy.Moved(at, m.Dimension, m.End)).FrontEnd))];
        var solved = new SolvedFrontEnd(Struck(there)) { Near = _inOrder.FirstOrDefault()?.Start };
        try
        {
            return [.. solved.Changed(ran.Fault, ran.Seconds, Standing(solved, where), changed, _cancel)
                .Zip(changed, (run, f) => run is null ? null : objectives.Select(o => Score(o, f, ran.Fault, run)).ToArray())];
        }
        catch (SolveException)
        {
            return [];
        }
    }

    private double Score(int objective, FrontEnd frontEnd, FaultEvent fault, TransientResult run)
    {
        if (objective < _pinObjectives)
            return Scores(PinExposures.Reached(frontEnd, frontEnd.OwnPins.ElementAt(objective / PerPin), run))[objective % PerPin];
        objective -= _pinObjectives;
        if (objective < _rated.Length)
        {
            var (name, rating, _) = _rated[objective];
            var part = frontEnd.Rated.First(p => p.Name == name);
            return PartStresses.Stress(frontEnd, part, part.Ratings(frontEnd.Celsius)[rating], run, fault.Disturbance).Share;
        }
        objective -= _rated.Length;
        if (objective < 2 * _nodes.Length)
            return Scores(NodeExposure.Of(_nodes[objective / 2].Node, run), _nodes[objective / 2])[objective % 2];
        objective -= 2 * _nodes.Length;
        if (objective < _rails.Length)
            return RailTake.Of(Rail(frontEnd, _rails[objective]), run).Amps / _rails[objective].MaximumAmps;
        var supply = frontEnd.Supplies[objective - _rails.Length];
        return EventStudy.Rail(supply, run.Voltage(supply.Name)).LiftShare;
    }

    // The front end with all that is moved, and what that is called.
    private (FrontEnd FrontEnd, Occasion Where) At(int[] at)
    {
        var (frontEnd, where) = (at.All(end => end == 0) ? _solved.FrontEnd : _spread, Nominal);
        for (int d = 0; d < at.Length; d++)
        {
            if (at[d] != 0)
                (frontEnd, where) = Dimensions[d].At(frontEnd, where, at[d]);
        }
        return (frontEnd, where);
    }

    private SurvivalSolution Solve(int[] at, bool isTooMuch)
    {
        var (frontEnd, where) = At(at);
        if (isTooMuch)
            return Unknown(where, new(where, null) { Flaw = SolutionFlaw.TooLong });
        // Nominal is kept for whoever asks again; a corner is solved for this alone.
        var there = ReferenceEquals(frontEnd, _solved.FrontEnd) ? _solved
            : new SolvedFrontEnd(frontEnd) { Near = _inOrder.FirstOrDefault()?.Start };
        try
        {
            var found = At(there, where);
            for (int times = 0; times < MostWarmings && found.Kelvin.Any(k =>
                Math.Abs(k.Value - found.Warmed.GetValueOrDefault(k.Key)) > LeastKelvin); times++)
            {
                var warmer = found.Kelvin;
                found = At(new(Warmed(frontEnd, warmer)) { Near = there.Near ?? found.Start }, WarmedIn(where, frontEnd, warmer)) with
                {
                    Warmed = warmer,
                };
            }
            return found;
        }
        catch (Exception e) when (e is SolveException or CircuitException)
        {
            return Unknown(where, new(where, Problem.Of(e)));
        }
    }

    private SurvivalSolution At(SolvedFrontEnd there, Occasion where) => _fault is null ? AtRest(there, where) : InEvent(there, where);

    // How often junctions are warmed anew by what they then dissipate, and what less of it moves nothing, K: a hundredth of a voltage.
    private const int MostWarmings = 3;
    private const double LeastKelvin = 10;

    private static FrontEnd Warmed(FrontEnd frontEnd, ImmutableSortedDictionary<string, double> kelvin) =>
        kelvin.Aggregate(frontEnd, (f, k) => f.AllParts.FirstOrDefault(p => p.Name == k.Key) is { } part
            ? f.Replace(part, part.Warmed(k.Value)) : f);

    private static Occasion WarmedIn(Occasion where, FrontEnd frontEnd, ImmutableSortedDictionary<string, double> kelvin) => where with
    {
        Ends = where.Ends.AddRange(kelvin.Select(k => new ToleranceEnd(k.Key, Quantity.InText(frontEnd.Celsius + k.Value, "°C"), true)
        {
            Of = ToleranceEnd.JunctionTemperature,
        })),
    };

    /// <summary>How much warmer than what is around them junctions get by what they dissipate for ever.</summary>
    private static ImmutableSortedDictionary<string, double> Kelvin(FrontEnd frontEnd, Func<Part, double> watts) =>
        frontEnd.AllParts.Where(p => p.KelvinPerWatt > 0).Select(p => (p.Name, Kelvin: p.KelvinPerWatt * watts(p)))
            .Where(k => k.Kelvin > LeastKelvin).ToImmutableSortedDictionary(k => k.Name, k => Math.Min(k.Kelvin, MostKelvin));

    // Beyond, a part is beyond its power as well.
    private const double MostKelvin = 175;

    private SurvivalSolution Unknown(Occasion where, NotComputed problem) =>
        new(new(where) { Problem = problem }, new double[_objectives], null);

    private static Scenario Standing(SolvedFrontEnd solved, Occasion where)
    {
        var all = solved.At(where.Sensors!.Value);
        var apart = where.Ends.Where(e => solved.FrontEnd.Sensors.Any(s => s.Name == e.Subject));
        return all with { SensorValue = all.SensorValue.SetItems(apart.Select(e => KeyValuePair.Create(e.Subject, e.Value.Value))) };
    }

    private SurvivalSolution AtRest(SolvedFrontEnd solved, Occasion where)
    {
        var frontEnd = solved.FrontEnd;
        var point = solved.Rest(Standing(solved, where), _cancel);
        var (period, seconds) = Period(solved, where);
        var found = Of(where, [.. frontEnd.OwnPins.Select(p => PinExposures.AtRest(frontEnd, p, point))],
            [.. frontEnd.Rated.SelectMany(p => p.Ratings(frontEnd.Celsius).Select(r => PartLoad.Of(p,
                RatingStress.At(r, point, p.ThermalSeconds > seconds ? period : []))))],
                [.. _nodes.Select(n => NodeExposure.Of(n.Node, point))], [.. _rails.Select(r => RailTake.Of(Rail(frontEnd, r), point))],
                [.. frontEnd.Supplies.Select(r => EventStudy.Rail(r, point))], point.Audit, point);
        return found with
        {
            Run = found.Run with
            {
                Unlimited = Unlimited(frontEnd, null, name => Math.Abs(point.Parts[name].Amps)),
                Driven = [.. frontEnd.SensorOutputs.Where(o => o.HasUnknownLimit && point.Parts.ContainsKey(o.Name))
                    .Select(o => new SensorDriven(o.Name, Math.Abs(point.Parts[o.Name].Amps), null))],
            },
            Kelvin = Kelvin(frontEnd, p => p.ElementNames.Sum(e => point.Parts[e].Watts)),
            HeldRails = [.. frontEnd.Rails.Where(r => IsHeld(r, point.Nodes[r.Name], point.Nodes[r.Name],
                Math.Abs(point.Parts[r.Name].Amps))).Select(r => r.Name)],
        };
    }

    // Points of a period of what alternates: of a sine through what bends it, its mean power to a few percent, and of a resistor exactly.
    private const int Instants = 16;

    /// <summary>Points of a period while sensors alternate, with the crest where a circumstance has it, and how long the slowest takes,
    /// s.</summary>
    private (ImmutableArray<OperatingPoint> Points, double Seconds) Period(SolvedFrontEnd solved, Occasion where)
    {
        Sensor[] alternating = [.. solved.FrontEnd.Sensors.Where(s => s.Alternation is not null)];
        if (alternating.Length == 0)
            return ([], 0);
        var crest = Standing(solved, where);
        return ([.. Enumerable.Range(0, Instants).Select(k => solved.Rest(crest with
        {
            SensorValue = crest.SensorValue.SetItems(alternating.Select(s => KeyValuePair.Create(s.Name,
                crest.SensorValue[s.Name] * Math.Cos(2 * Math.PI * (k + 0.5) / Instants)))),
        }, _cancel))], alternating.Max(s => 1 / s.Alternation!.Hertz));
    }

    // For how long a current that nothing limits is looked at, s (common practice, no source).
    private const double UnlimitedSeconds = 0.1;

    private static UnlimitedCurrent? Unlimited(FrontEnd frontEnd, string? fault, Func<string, double> amps) =>
        frontEnd.Rated.Where(p => p.Unlimited is not null)
            .Select(p => (Usual: p.UsualAmps, Current: new UnlimitedCurrent(p.Unlimited!, amps(p.Unlimited!), fault)))
            .Where(c => c.Current.Amps > c.Usual).OrderByDescending(c => c.Current.Amps / c.Usual).Select(c => c.Current)
            .FirstOrDefault();

    // A supply that delivers a tenth of what its rail draws by itself, or more, is not about to let go of it.
    private const double DeliversShare = 0.1;

    private static bool IsHeld(Rail rail, double lowest, double highest, double leastAmps)
    {
        double set = rail.PresentVolts ?? rail.Volts.Value;
        return Math.Max(Math.Abs(lowest - set), Math.Abs(highest - set)) <= 1e-9 * Math.Abs(set)
            && (!rail.SourceOnly || leastAmps > DeliversShare * rail.LoadAmps);
    }

    private static bool IsHeld(Rail rail, TransientResult run)
    {
        // An event may put something else in the place of the supply.
        if (!run.Start.Parts.ContainsKey(rail.Name))
            return false;
        var (volts, amps) = (run.Voltage(rail.Name), run.Current(rail.Name));
        double least = amps.Minimum().Value, most = amps.Maximum().Value;
        return IsHeld(rail, volts.Minimum().Value, volts.Maximum().Value, least <= 0 && most >= 0 ? 0
            : Math.Min(Math.Abs(least), Math.Abs(most)));
    }

    private static Rail Rail(FrontEnd frontEnd, RailTakes take) => frontEnd.Rails.First(r => r.Name == take.Rail);

    private SurvivalSolution InEvent(SolvedFrontEnd solved, Occasion where)
    {
        var (frontEnd, fault) = (solved.FrontEnd, _fault!);
        if (where.IsSensorTornOff)
            (frontEnd, fault) = EventStudy.TornOff(frontEnd, fault);
        if (where is { AreSuppliesFloating: true, AreSuppliesOff: false })
            fault = fault with { Disturbance = fault.Disturbance.Floating()! };
        if (!ReferenceEquals(frontEnd, solved.FrontEnd))
            solved = new SolvedFrontEnd(frontEnd) { Near = solved.Near };
        var followed = FollowedRun.Of(solved, fault, Standing(solved, where), _nominal?.FollowedSeconds, _cancel);
        // Nominal is run alone and first.
        _nominal ??= followed;
        (fault, var run) = followed;
        var found = Of(where, [.. frontEnd.OwnPins.Select(p => PinExposures.Run(frontEnd, p, fault, run))],
            [.. frontEnd.Rated.SelectMany(p =>
                PartStresses.Stresses(frontEnd, p, run, fault.Disturbance).Select(s => PartLoad.Of(p, s)))],
            [.. _nodes.Select(n => NodeExposure.Of(n.Node, run))], [.. _rails.Select(r => RailTake.Of(Rail(frontEnd, r), run))],
            [.. frontEnd.Supplies.Select(r => EventStudy.Rail(r, run.Voltage(r.Name)))], run.Audit, run.Start);
        return found with
        {
            Resting = Resting(frontEnd, fault, run),
            Ran = (fault, run.End),
            Kelvin = Kelvin(frontEnd, p => PartStresses.LastingWatts(p, run, fault.Disturbance)),
            Run = found.Run with
            {
                StepElements = EventStudy.StepElements(run),
                Unlimited = Unlimited(frontEnd, _fault!.Name, name => !run.Has(name) ? 0
                    : Math.Sqrt(run.SquaredCurrent(name).Running().Largest(UnlimitedSeconds) / UnlimitedSeconds)),
                Driven = [.. frontEnd.SensorOutputs.Where(o => o.HasUnknownLimit && run.Has(o.Name))
                    .Select(o => new SensorDriven(o.Name, PartStresses.Largest(run.Current(o.Name)), _fault!.Name))],
            },
            Event = () => EventStudy.Of(frontEnd, fault, run) with { Where = where, Event = _fault! },
            HeldRails = fault.Disturbance.Strays is null ? [.. frontEnd.Rails.Where(r => IsHeld(r, run)).Select(r => r.Name)] : [],
        };
    }

    // In the order of the scores; what is required of nodes and rails is left out.
    private double[] Resting(FrontEnd frontEnd, FaultEvent fault, TransientResult run) =>
    [
        .. frontEnd.OwnPins.SelectMany(p => Scores(PinExposures.AtRest(frontEnd, p, run.Start))),
        .. frontEnd.Rated.SelectMany(p => p.Ratings(frontEnd.Celsius)
            .Select(r => PartStresses.AtStart(frontEnd, p, r, run, fault.Disturbance).Share)),
        .. new double[2 * _nodes.Length + _rails.Length],
        .. frontEnd.Supplies.Select(r => EventStudy.Rail(r, run.Start).LiftShare),
    ];

    private SurvivalSolution Of(Occasion where, ImmutableArray<PinExposure> pins, ImmutableArray<PartLoad> loads,
        ImmutableArray<NodeExposure> nodes, ImmutableArray<RailTake> rails,
        ImmutableArray<RailExposure> lifts, Audit audit, OperatingPoint start)
    {
        double[] scores =
        [
            .. pins.SelectMany(Scores), .. loads.Select(l => l.Share), .. nodes.Zip(_nodes, Scores).SelectMany(s => s),
            .. rails.Zip(_rails, (found, wanted) => found.Amps / wanted.MaximumAmps), .. lifts.Select(r => r.LiftShare),
        ];
        bool isFinite = !scores.Any(double.IsNaN) && pins.All(p => double.IsFinite(p.HighestVolts) && double.IsFinite(p.LowestVolts))
            && loads.All(l => double.IsFinite(l.Found.Value)) && lifts.All(r => double.IsFinite(r.FurthestVolts));
        SolutionFlaw? flaw = !isFinite ? SolutionFlaw.NotFinite : !audit.IsWithinLimits ? SolutionFlaw.Unbalanced : null;
        var problem = flaw is null ? null : new NotComputed(where, null) { Flaw = flaw };
        return new(new(where) { Pins = pins, Loads = loads, Nodes = nodes, Rails = rails, Lifts = lifts, Problem = problem },
            [.. scores.Select(s => double.IsNaN(s) ? 0 : s)], start);
    }

    // 1 at a limit, as for parts: how much of a pin's room is used. A rating of 0 V has a tenth of a volt of it.
    private static double[] Scores(PinExposure pin) =>
        [1 - Room(pin.UpperMarginVolts, pin.UpperRatingVolts), 1 - Room(pin.LowerMarginVolts, pin.LowerRatingVolts),
            pin.InjectionMarginAmps is null ? 0 : pin.InjectionAmps / Math.Max(pin.Pin.InjectionAmps!.Value, LeastAmps)];

    // A rating of no current at all has a nanoampere of it.
    private const double LeastAmps = 1e-9;

    private static double[] Scores(NodeExposure node, NodeWithin wanted) =>
        [1 - (wanted.Volts.High - node.HighestVolts) / (wanted.Volts.Width / 2),
            1 - (node.LowestVolts - wanted.Volts.Low) / (wanted.Volts.Width / 2)];

    private static double Room(double? margin, double? rating) =>
        margin is { } m && rating is { } r ? m / Math.Max(Math.Abs(r), 0.1) : 1;

    // Of a circuit with many parts few are moved at a time.
    private static string Key(int[] at)
    {
        var key = new StringBuilder();
        for (int d = 0; d < at.Length; d++)
        {
            if (at[d] != 0)
                key.Append(CultureInfo.InvariantCulture, $"{d}:{at[d]} ");
        }
        return key.ToString();
    }
}
