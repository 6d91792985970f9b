using System.Globalization;
using System.Text;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Events;

/// <summary>What an event, or the operating point, does from one circumstance.</summary>
/// <param name="Where">The circumstance.</param>
public sealed record SurvivalRun(Occasion Where)
{
    /// <summary>What reaches each pin; empty where nothing could be computed.</summary>
    public ImmutableArray<PinExposure> Pins { get; init; } = [];

    /// <summary>What each part bears of each of its ratings; empty where nothing could be computed.</summary>
    public ImmutableArray<PartLoad> Loads { get; init; } = [];

    /// <summary>What the nodes reach of which something is required.</summary>
    public ImmutableArray<NodeExposure> Nodes { get; init; } = [];

    /// <summary>What the rails take of which something is required.</summary>
    public ImmutableArray<RailTake> Rails { get; init; } = [];

    /// <summary>How far each rail is moved; empty where nothing could be computed.</summary>
    public ImmutableArray<RailExposure> Lifts { get; init; } = [];

    /// <summary>What is driven through each sensor of which nothing says what it withstands; empty at rest.</summary>
    public ImmutableArray<SensorDriven> Driven { get; init; } = [];

    /// <summary>The largest lasting current of a supply, coil or contact that nothing limits; null where none carries much.</summary>
    public UnlimitedCurrent? Unlimited { get; init; }

    /// <summary>What could not be computed, or is beyond what its audit allows; null where all could.</summary>
    public NotComputed? Problem { get; init; }

    /// <summary>What the run took, in steps times elements; 0 at rest.</summary>
    internal long StepElements { get; init; }
}

/// <summary>An event, or the operating point, at the worst circumstances that were found.</summary>
/// <param name="Runs">Every circumstance looked at, the nominal one first.</param>
/// <param name="Deciding">The event where a pin comes nearest to a rating; null for the operating point, or where nothing could be
/// computed.</param>
public sealed record Survival(ImmutableArray<SurvivalRun> Runs, EventResult? Deciding)
{
    /// <summary>How near each objective of the search comes to its limit, and where.</summary>
    internal ImmutableArray<WorstPlace> Worst { get; init; } = [];

    /// <summary>How many of what is moved are moved always.</summary>
    internal int Ends { get; init; }
}

/// <summary>Where an objective of a search comes nearest to its limit.</summary>
/// <param name="Score">How near: 1 at the limit.</param>
/// <param name="At">The end of all that is moved.</param>
internal sealed record WorstPlace(double Score, ImmutableArray<int> At);

/// <summary>
/// Looks for the worst circumstance of an event or of the operating point: temperature ends, sensors at the ends of their spans, rails and
/// zener voltages at the ends of their tolerances. Each is moved alone, both ways, since what is off at nominal may act at one end only;
/// what each pin and part suffers most by is then put together, and near a limit moved once more from there until it stays. Where that
/// leaves something near a limit, parts are moved to the ends of their tolerances as well. What stands at rest already, and an event does
/// not add to, is the operating point's: the event is run at that one's worst corner.
/// </summary>
internal static class SurvivalStudy
{
    // Pins and parts that stay this far from their limits with everything moved alone are not driven further: moved together, what moves
    // them would have to work together more than threefold.
    private const double Concerning = 0.3;

    // What changes this little of a limit, far from it, is less than any part is known to.
    private const double Negligible = 1e-4;

    // How near a limit tolerances of parts are looked at, at least and at most: four times the widest of them.
    private const double LeastReach = 0.1, MostReach = 0.3, ReachOverTolerance = 4;

    // What the clamps of a pin carry is what others leave over, and a small tolerance may double it: looked at from here on.
    private const double InjectionReach = 0.1;

    // Moved anew from a worst corner as often at most.
    private const int MostRefinements = 3;

    // What one search may run, in steps times elements: some minutes. What is left then is not known.
    private const long MostStepElements = 200_000_000;

    // Runs at a time: each keeps all of itself until it is read, and more than there are processors gain nothing.
    private static readonly SemaphoreSlim Runs = new(Environment.ProcessorCount);

    /// <summary>Looks at one circumstance alone.</summary>
    /// <param name="solved">The front end.</param>
    /// <param name="fault">The event; null for the operating point.</param>
    /// <param name="where">The circumstance; what of it the front end does not have is left out.</param>
    /// <param name="cancel">Stops the solver.</param>
    public static Survival At(SolvedFrontEnd solved, FaultEvent? fault, Occasion where, CancellationToken cancel)
    {
        var search = new Search(solved, fault, cancel);
        search.Solve([search.At(where)]);
        return search.Result();
    }

    /// <summary>Finds the worst circumstances.</summary>
    /// <param name="solved">The front end.</param>
    /// <param name="fault">The event; null for the operating point.</param>
    /// <param name="cancel">Stops the solver.</param>
    public static Survival Run(SolvedFrontEnd solved, FaultEvent? fault, CancellationToken cancel)
    {
        var search = new Search(solved, fault, cancel);
        var nominal = new int[search.Dimensions.Length];
        // Nominal first: all others start from where it rests.
        search.Solve([nominal]);
        search.Solve([.. search.Neighbours(nominal)]);
        int objectives = search.Of(nominal).Scores.Length;
        var own = Enumerable.Range(0, objectives).Where(search.IsOfEvent).ToHashSet();
        var corners = own.Order().Where(o => search.Worst(o) > Concerning)
            .Select(o => (Objective: o, At: Steepest(search, nominal, o))).ToList();
        // What hardly moves a pin or part that is safe goes along with what moves another: one run for both.
        corners = [.. Joined([.. corners.Select(c => (c.Objective, c.At, IsFree: Free(search, nominal, c.Objective)))])];
        search.Solve([.. corners.Select(c => c.At)]);
        // Near a limit and not beyond it, where moving all that moves it may reach the limit: there the verdict hangs on the corner.
        corners = [.. corners.Where(c => search.Worst(c.Objective) is var worst && (search.IsInjection(c.Objective) ? worst > InjectionReach
            : worst > 0.7 && worst + MightAdd(search, nominal, c.Objective) >= 1))];
        for (int round = 0; round < MostRefinements && corners.Count > 0; round++)
        {
            corners = [.. corners.Where(c => search.Worst(c.Objective) < 1)];
            search.Solve([.. corners.SelectMany(c => search.Neighbours(c.At))]);
            corners = [.. corners.Select(c => (c.Objective, At: Steepest(search, c.At, c.Objective), Was: c.At))
                .Where(c => !c.At.SequenceEqual(c.Was)).Select(c => (c.Objective, c.At))];
            search.Solve([.. corners.Select(c => c.At)]);
        }
        double reach = 1 - Math.Clamp(ReachOverTolerance * search.WidestTolerance, LeastReach, MostReach);
        bool IsNear(int objective, double worst) => worst < 1 && worst > (search.IsInjection(objective) ? InjectionReach : reach);
        search.Solve([.. Enumerable.Range(0, objectives).Where(o => !own.Contains(o)).Select(search.AtRest)
            .OfType<WorstPlace>().Where(rest => rest.Score > reach).Select(rest => search.Placed(rest.At))]);
        // What only joins the others there is the event's after all.
        own.UnionWith(Enumerable.Range(0, objectives).Where(search.IsOfEvent));
        var near = Corners(search, [.. own.Order().Where(o => IsNear(o, search.Worst(o)) && !search.IsHeld(o, search.WorstAt(o)))]);
        // A resistance moves little: what its upper end takes away its lower end adds. A junction may conduct at one end only.
        (int Dimension, int End)[] moves = [.. Enumerable.Range(search.Ends, search.Dimensions.Length - search.Ends).SelectMany(d =>
            search.Dimensions[d].IsStraight ? new[] { (d, 1) } : [(d, 1), (d, -1)])];
        search.Estimate(near, moves);
        // Where all together fall short of what each was said to do, each is tried by itself.
        near = Together(search, near, moves);
        search.Solve([.. near.SelectMany(c => moves.Select(m => Moved(c.At, m.Dimension, m.End)))]);
        Together(search, near, moves);
        return search.Result();
    }

    /// <summary>A corner for each objective where it is worst, or hardly less: one for as many as may be.</summary>
    private static List<(int Objective, int[] At)> Corners(Search search, int[] objectives)
    {
        var found = new List<(int Objective, int[] At)>();
        foreach (int o in objectives)
        {
            double worst = search.Worst(o);
            int[]? fits = worst > 1 - 10 * Negligible ? null
                : found.Select(c => c.At).FirstOrDefault(at => search.Of(at).Scores[o] >= worst - Negligible);
            found.Add((o, fits ?? search.WorstAt(o)));
        }
        return found;
    }

    private static int[] Moved(int[] from, int dimension, int end)
    {
        int[] moved = [.. from];
        moved[dimension] = end;
        return moved;
    }

    // Moved together parts bring at least this share of what they bring one by one.
    private const double TogetherShare = 0.75;

    /// <summary>Tries each part at its worse end for an objective, seen from a corner. Returns the corners where that falls short of what
    /// each part alone is said to do.</summary>
    private static List<(int Objective, int[] At)> Together(Search search, List<(int Objective, int[] At)> near,
        IReadOnlyList<(int Dimension, int End)> moves)
    {
        var joint = near.Select(c =>
        {
            int[] at = [.. c.At];
            double said = search.Of(c.At).Scores[c.Objective];
            foreach (var (dimension, end, adds) in Worse(search, c, moves))
            {
                at[dimension] = end;
                said += adds;
            }
            return (Corner: c, At: at, Said: said);
        }).ToArray();
        search.Solve([.. joint.Select(j => j.At)]);
        return [.. joint.Where(j =>
        {
            double here = search.Of(j.Corner.At).Scores[j.Corner.Objective];
            return search.Of(j.At).Scores[j.Corner.Objective] - here < TogetherShare * (j.Said - here) - Negligible;
        }).Select(j => j.Corner)];
    }

    /// <summary>The worse end of each part that brings an objective nearer to its limit, and by how much; of a straight one whose upper end
    /// alone was tried, the other where that makes it better.</summary>
    private static IEnumerable<(int Dimension, int End, double Adds)> Worse(Search search, (int Objective, int[] At) from,
        IEnumerable<(int Dimension, int End)> moves)
    {
        double here = search.Of(from.At).Scores[from.Objective];
        return moves.Select(m => (m.Dimension, m.End, Adds: search.Estimated(from, m) - here))
            .Select(m => search.Dimensions[m.Dimension].IsStraight && m.Adds < 0 ? (m.Dimension, End: -m.End, Adds: -m.Adds) : m)
            .Where(m => m.Adds > Negligible).GroupBy(m => m.Dimension).Select(ends => ends.MaxBy(m => m.Adds));
    }

    /// <summary>How far all that moves an objective might bring it, were each to do threefold what it does alone.</summary>
    private static double MightAdd(Search search, int[] nominal, int objective) => 3 * Alone(search, nominal, objective).Sum();

    /// <summary>What each dimension alone changes of an objective at most, either way.</summary>
    private static double[] Alone(Search search, int[] nominal, int objective)
    {
        var most = new double[nominal.Length];
        foreach (int[] moved in search.Neighbours(nominal))
        {
            int d = Array.FindIndex(moved, m => m != 0);
            most[d] = Math.Max(most[d], Math.Abs(search.Of(moved).Scores[objective] - search.Of(nominal).Scores[objective]));
        }
        return most;
    }

    /// <summary>The dimensions that hardly move an objective which cannot reach its limit.</summary>
    private static bool[] Free(Search search, int[] nominal, int objective)
    {
        double[] alone = Alone(search, nominal, objective);
        double worst = search.Worst(objective);
        bool isSafe = worst + 3 * alone.Sum() < 1 || worst - 3 * alone.Sum() > 1;
        return [.. alone.Select(a => isSafe && a < Negligible)];
    }

    /// <summary>Corners that differ in what is free only are made one.</summary>
    private static IEnumerable<(int Objective, int[] At)> Joined(IReadOnlyList<(int Objective, int[] At, bool[] IsFree)> corners)
    {
        var kept = new List<int[]>();
        foreach (var (objective, at, isFree) in corners.OrderBy(c => c.IsFree.Count(f => f)))
        {
            int[]? fits = kept.FirstOrDefault(k => Enumerable.Range(0, at.Length).All(d => isFree[d] || k[d] == at[d]));
            if (fits is null)
                kept.Add(fits = [.. at.Select((end, d) => isFree[d] ? 0 : end)]);
            yield return (objective, fits);
        }
    }

    /// <summary>Each dimension at the end that is worst alone, seen from a corner.</summary>
    private static int[] Steepest(Search search, int[] from, int objective)
    {
        int[] at = [.. from];
        foreach (int[] moved in search.Neighbours(from))
        {
            int d = Enumerable.Range(0, at.Length).First(k => moved[k] != from[k]);
            int[] best = [.. from];
            best[d] = at[d];
            if (search.Of(moved).Scores[objective] > search.Of(best).Scores[objective] + Negligible)
                at[d] = moved[d];
        }
        return at;
    }

    /// <summary>What of a dimension is moved: a front end with it at an end (−1 or 1), and how that is said.</summary>
    private sealed record Dimension(Func<FrontEnd, Occasion, int, (FrontEnd, Occasion)> At)
    {
        /// <summary>Whether there is one other state alone, which counts as the upper end.</summary>
        public bool IsOneWay { get; init; }

        /// <summary>Whether what one end does is about the opposite of what the other does.</summary>
        public bool IsStraight { get; init; }
    }

    private sealed record Solution(SurvivalRun Run, double[] Scores, OperatingPoint? Start)
    {
        /// <summary>The scores of where it starts from; null for the operating point itself.</summary>
        public double[]? Resting { get; init; }

        /// <summary>The event as it was run, and for how long, s; null for the operating point.</summary>
        public (FaultEvent Fault, double Seconds)? Ran { get; init; }

        /// <summary>All that the event did; kept for the deciding one only.</summary>
        public Func<EventResult>? Event { get; init; }

        public int[] At { get; init; } = [];

        /// <summary>The rails that stand where their supplies put them, all the time;
        /// none where leads come between them and parts.</summary>
        public ImmutableHashSet<string> HeldRails { get; init; } = [];
    }

    private sealed class Search
    {
        private readonly SolvedFrontEnd _solved;
        private readonly FrontEnd _spread; // the same, with the usual tolerances where none are given
        private readonly FaultEvent? _fault;
        private readonly CancellationToken _cancel;
        private readonly Dictionary<string, Solution> _found = [];
        private readonly List<Solution> _inOrder = [];
        private readonly int _objectives, _pinObjectives, _quantities;
        private readonly NodeWithin[] _nodes;
        private readonly RailTakes[] _rails;
        private readonly Dictionary<int, RatedQuantity> _ratings;
        private (double Tightness, int Place, Func<EventResult> Event)? _deciding;
        private FollowedRun? _nominal;
        private readonly Survival? _rest;
        private readonly ImmutableArray<(string Part, int Rating)> _rated;
        private readonly Dictionary<(string From, int Objective, int Dimension, int End), double> _estimated = [];

        public Search(SolvedFrontEnd solved, FaultEvent? fault, CancellationToken cancel)
        {
            (_solved, _fault, _cancel) = (solved, fault, cancel);
            var frontEnd = solved.FrontEnd;
            _spread = frontEnd.WithUsualTolerances();
            Dimension[] ends = [.. Of(_spread, fault)];
            Ends = ends.Length;
            Dimensions = [.. ends, .. Tolerances(_spread)];
            WidestTolerance = _spread.AllParts.Where(p => p.AtTolerance(true) is not null).Max(p => p.Value?.Amount.Tolerance) ?? 0;
            _nodes = [.. frontEnd.Requirements.OfType<NodeWithin>().Where(r => Concerns(r.Where))];
            // What an event puts in the place of a rail says nothing of what is pushed into it.
            _rails = [.. frontEnd.Requirements.OfType<RailTakes>().Where(r => Concerns(r.Where) && r.Rail != fault?.Node)];
            // In the order of the scores: pins, ratings of parts, nodes, rails, supplies.
            _pinObjectives = PerPin * frontEnd.OwnPins.Count();
            RatedQuantity[] quantities = [.. frontEnd.Rated.SelectMany(p => p.Ratings(frontEnd.Celsius)).Select(r => r.Quantity)];
            _ratings = quantities.Select((q, k) => (Quantity: q, Objective: _pinObjectives + k))
                .ToDictionary(r => r.Objective, r => r.Quantity);
            _quantities = quantities.Length;
            _rated = [.. frontEnd.Rated.SelectMany(p => Enumerable.Range(0, p.Ratings(frontEnd.Celsius).Length).Select(k => (p.Name, k)))];
            _objectives = _pinObjectives + quantities.Length + 2 * _nodes.Length + _rails.Length + frontEnd.Supplies.Length;
            _rest = fault is null ? null : solved.AtRest(cancel);
        }

        private const int PerPin = 3;

        private bool Concerns(Occasions where) => _fault is null ? where.Event is null : where.EveryEvent || where.Event == _fault.Name;

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

        /// <summary>Whether an event brought an objective nearer to its limit than it stands at rest, in any run so far.</summary>
        public bool IsOfEvent(int objective) => _rest is null || RestObjective(objective) is null
            || _inOrder.Any(s => s.Resting is not { } rest || s.Scores[objective] > rest[objective] + Negligible);

        /// <summary>Where the operating point is worst for an objective.</summary>
        public WorstPlace? AtRest(int objective) => RestObjective(objective) is { } k ? _rest!.Worst[k] : null;

        // Pins, ratings and supplies are looked at in every event and at rest; what is required of nodes and rails is not.
        private int? RestObjective(int objective) => objective < _pinObjectives + _quantities ? objective
            : objective >= _objectives - _solved.FrontEnd.Supplies.Length ? objective - _objectives + _rest!.Worst.Length : null;

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

        public Solution Of(int[] at) => _found[Key(at)];

        public double Worst(int objective) => _inOrder.Max(s => s.Scores[objective]);

        public void Solve(IReadOnlyList<int[]> settings)
        {
            int[][] missing = [.. settings.Where(s => !_found.ContainsKey(Key(s))).DistinctBy(Key)];
            bool isTooMuch = _inOrder.Sum(s => s.Run.StepElements) > MostStepElements;
            var solutions = new Solution[missing.Length];
            OnAllCores.For(missing.Length, _cancel, k =>
            {
                Runs.Wait(_cancel);
                try
                {
                    solutions[k] = Keep(Solve(missing[k], isTooMuch), _inOrder.Count + k) with { At = missing[k] };
                }
                finally
                {
                    Runs.Release();
                }
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
        private Solution Keep(Solution solution, int place)
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

        /// <summary>Whether an objective is the current into the clamps of a pin.</summary>
        public bool IsInjection(int objective) => objective < _pinObjectives && objective % PerPin == PerPin - 1;

        /// <summary>Whether no tolerance of a part can move an objective: a temperature, or a voltage between rails that stand where their
        /// supplies put them.</summary>
        public bool IsHeld(int objective, int[] at)
        {
            var held = Of(at).HeldRails;
            bool IsHeld(string node) => node == Circuit.Ground || held.Contains(node);
            return _ratings.GetValueOrDefault(objective) switch
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
            Worst = [.. Enumerable.Range(0, _objectives).Select(o => new WorstPlace(Worst(o), [.. WorstAt(o)]))],
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
            _found.TryGetValue(Key(Moved(from.At, move.Dimension, move.End)), out var solved) ? solved.Scores[from.Objective]
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
                unsaid[k] = [.. moves.Where((_, m) => m >= scores.Count || scores[m] is null).Select(m => Moved(at, m.Dimension, m.End))];
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
            FrontEnd Struck(FrontEnd f) => where.IsSensorTornOff ? EventStudy.TornOff(f, _fault!).FrontEnd : f;
            FrontEnd[] changed = [.. moves.Select(m => Struck(At(Moved(at, m.Dimension, m.End)).FrontEnd))];
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
                var (name, rating) = _rated[objective];
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

        private Solution Solve(int[] at, bool isTooMuch)
        {
            var (frontEnd, where) = At(at);
            if (isTooMuch)
                return Unknown(where, new(where, null) { Flaw = SolutionFlaw.TooLong });
            // Nominal is kept for whoever asks again; a corner is solved for this alone.
            var there = ReferenceEquals(frontEnd, _solved.FrontEnd) ? _solved
                : new SolvedFrontEnd(frontEnd) { Near = _inOrder.FirstOrDefault()?.Start };
            try
            {
                return _fault is null ? AtRest(there, where) : InEvent(there, where);
            }
            catch (Exception e) when (e is SolveException or CircuitException)
            {
                return Unknown(where, new(where, Problem.Of(e)));
            }
        }

        private Solution Unknown(Occasion where, NotComputed problem) =>
            new(new(where) { Problem = problem }, new double[_objectives], null);

        private static Scenario Standing(SolvedFrontEnd solved, Occasion where)
        {
            var all = solved.At(where.Sensors!.Value);
            var apart = where.Ends.Where(e => solved.FrontEnd.Sensors.Any(s => s.Name == e.Subject));
            return all with { SensorValue = all.SensorValue.SetItems(apart.Select(e => KeyValuePair.Create(e.Subject, e.Value.Value))) };
        }

        private Solution AtRest(SolvedFrontEnd solved, Occasion where)
        {
            var frontEnd = solved.FrontEnd;
            var point = solved.Rest(Standing(solved, where), _cancel);
            var found = Of(where, [.. frontEnd.OwnPins.Select(p => PinExposures.AtRest(frontEnd, p, point))],
                [.. frontEnd.Rated.SelectMany(p => p.Ratings(frontEnd.Celsius).Select(r => PartLoad.Of(p, RatingStress.At(r, point))))],
                    [.. _nodes.Select(n => NodeExposure.Of(n.Node, point))], [.. _rails.Select(r => RailTake.Of(Rail(frontEnd, r), point))],
                    [.. frontEnd.Supplies.Select(r => EventStudy.Rail(r, point))], point.Audit, point);
            return found with
            {
                Run = found.Run with { Unlimited = Unlimited(frontEnd, null, name => Math.Abs(point.Parts[name].Amps)) },
                HeldRails = [.. frontEnd.Rails.Where(r => IsHeld(r, point.Nodes[r.Name], point.Nodes[r.Name],
                    Math.Abs(point.Parts[r.Name].Amps))).Select(r => r.Name)],
            };
        }

        // What small supplies deliver, and contacts and coils of signals carry, A; and for how long, s (common practice, no source).
        private const double UnlimitedAmps = 0.5, UnlimitedSeconds = 0.1;

        private static UnlimitedCurrent? Unlimited(FrontEnd frontEnd, string? fault, Func<string, double> amps) =>
            frontEnd.Rated.Select(p => p.Unlimited).OfType<string>().Select(name => new UnlimitedCurrent(name, amps(name), fault))
                .Where(c => c.Amps > UnlimitedAmps).MaxBy(c => c.Amps);

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

        private Solution InEvent(SolvedFrontEnd solved, Occasion where)
        {
            var (frontEnd, fault) = (solved.FrontEnd, _fault!);
            if (where.IsSensorTornOff)
                (frontEnd, fault) = EventStudy.TornOff(frontEnd, fault);
            if (where is { AreSuppliesFloating: true, AreSuppliesOff: false })
                fault = fault with { Disturbance = fault.Disturbance.Floating()! };
            if (!ReferenceEquals(frontEnd, solved.FrontEnd))
                solved = new SolvedFrontEnd(frontEnd) { Near = solved.Near };
            var followed = FollowedRun.Of(solved, fault, Standing(solved, where), _nominal, _cancel);
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
                Ran = (fault, run.Times[^1]),
                Run = found.Run with
                {
                    StepElements = (long)run.Audit.StepsTaken * run.Start.Parts.Count,
                    Unlimited = Unlimited(frontEnd, _fault!.Name, name => !run.Has(name) ? 0
                        : Math.Sqrt(run.SquaredCurrent(name).Running().Largest(UnlimitedSeconds) / UnlimitedSeconds)),
                    Driven = [.. frontEnd.SensorOutputs.Where(o => o.Sensor.WithstandsAmps is null && run.Has(o.Name))
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

        private Solution Of(Occasion where, ImmutableArray<PinExposure> pins, ImmutableArray<PartLoad> loads,
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

        private static IEnumerable<Dimension> Of(FrontEnd frontEnd, FaultEvent? fault)
        {
            if (!frontEnd.Sensors.IsEmpty)
                yield return new((f, w, end) => (f, w with { Sensors = end < 0 ? SpanPlace.Low : SpanPlace.High }));
            // Several stand where they like.
            foreach (var sensor in frontEnd.Sensors.Length > 1 ? frontEnd.Sensors : [])
            {
                yield return new((f, w, end) => (f, w with
                {
                    Ends = w.Ends.Add(new(sensor.Name, Quantity.InText(end < 0 ? sensor.Span.Low : sensor.Span.High, sensor.UnitText),
                        end > 0)),
                }));
            }
            foreach (var contact in frontEnd.AllParts.Where(p => p.Turned is not null))
            {
                yield return new((f, w, end) => (f.Replace(f.AllParts.First(p => p.Name == contact.Name), contact.Turned),
                    w with { Turned = w.Turned.Add(contact.Name) }))
                { IsOneWay = true };
            }
            foreach (var (chip, channel) in frontEnd.AllParts.SelectMany(p =>
                p.Selection is { } s ? s.Channels.Where(c => c != s.Selected).Select(c => (p, c)) : []))
            {
                yield return new((f, w, end) => (
                    f.Replace(f.AllParts.First(p => p.Name == chip.Name), chip.Selecting(channel, [])),
                    w with { Selected = w.Selected.RemoveAll(c => c.Multiplexer == chip.Name).Add(new(chip.Name, channel)) }))
                { IsOneWay = true };
            }
            foreach (var track in frontEnd.AllParts.Where(p => p.Contact is { IsAnywhere: true }))
            {
                yield return new((f, w, end) => (
                    f.Replace(f.AllParts.First(p => p.Name == track.Name), track.SlidTo(end < 0 ? 0 : 1)),
                    w with { Ends = w.Ends.Add(new(track.Name, Quantity.InText(end < 0 ? 0 : 100, "%"), end > 0) { Of = "position" }) }));
            }
            if (frontEnd.CelsiusRange is { } range)
            {
                yield return new((f, w, end) =>
                {
                    double celsius = end < 0 ? range.Low : range.High;
                    return (f with { Celsius = celsius }, w with { Celsius = celsius });
                });
            }
            foreach (var rail in frontEnd.Rails.Where(r => r.Volts.Tolerance > 0 && r.PresentVolts is null))
            {
                yield return new((f, w, end) =>
                {
                    double volts = end < 0 ? rail.Volts.Least : rail.Volts.Most;
                    return (f.WithRails(r => r.Name == rail.Name ? r with { PresentVolts = volts } : r),
                        w with { Ends = w.Ends.Add(new(rail.Name, new(volts, Unit.Volts), end > 0)) });
                });
            }
            if (frontEnd.AlsoUnpowered && !frontEnd.Rails.IsEmpty)
            {
                // Held at 0 V by what else they feed, or left alone and lifted by whatever reaches them.
                yield return new((f, w, end) => (
                    f.WithRails(r => end < 0 ? r.Off() : r with { PresentVolts = 0 }),
                    w with
                    {
                        AreSuppliesOff = true,
                        AreSuppliesFloating = end > 0,
                        Ends = w.Ends.RemoveAll(e => f.Rails.Any(r => r.Name == e.Subject)),
                    }));
            }
            foreach (var part in frontEnd.AllParts.Where(p => p.AtLimit(true) is not null))
                yield return OfPart(part.Name, (p, high) => p.AtLimit(high), part.LimitWord);
            // What only events have comes last: a corner of the operating point is one of theirs.
            if (fault is not null && EventStudy.TearsOff(frontEnd, fault))
                yield return new((f, w, end) => (f, w with { IsSensorTornOff = end > 0 })) { IsOneWay = true };
            if (fault?.Disturbance.Floating() is not null && fault.Disturbance.Loses(fault.Node).Any(n =>
                frontEnd.Rails.Any(r => r.Name == n && r.SourceOnly)))
                yield return new((f, w, end) => (f, w.AreSuppliesOff ? w : w with { AreSuppliesFloating = end > 0 })) { IsOneWay = true };
        }

        private static IEnumerable<Dimension> Tolerances(FrontEnd frontEnd) =>
        [
            .. frontEnd.AllParts.Where(p => p.AtTolerance(true) is not null)
                .Select(p => OfPart(p.Name, (part, high) => part.AtTolerance(high)) with { IsStraight = p.Value is not null }),
            .. frontEnd.AllParts.Where(p => p.AtMostLeakage() is not null)
                .Select(p => OfPart(p.Name, (part, _) => part.AtMostLeakage()) with { IsOneWay = true }),
        ];

        private static Dimension OfPart(string name, Func<Part, bool, (Part, Quantity)?> at, string of = "") => new((f, w, end) =>
        {
            var part = f.AllParts.First(p => p.Name == name);
            var (moved, value) = at(part, end > 0)!.Value;
            return (f.Replace(part, moved), w with { Ends = w.Ends.Add(new(name, value, end > 0) { Of = of }) });
        });
    }
}
