using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Events;

/// <summary>
/// Looks for the worst circumstance of an event or of the operating point: temperature ends, sensors at the ends of their spans, rails and
/// zener voltages at the ends of their tolerances. Each is moved alone, both ways, since what is off at nominal may act at one end only;
/// what each pin and part suffers most by is then put together, and near a limit moved once more from there until it stays. Where that
/// leaves something near a limit, parts are moved to the ends of their tolerances as well. What stands at the operating point already,
/// and an event does
/// not add to, is the operating point's: the event is run at that one's worst corner.
/// </summary>
internal static class SurvivalStudy
{
    // Pins and parts that stay this far from their limits with everything moved alone are not driven further: moved together, what moves
    // them would have to work together more than threefold.
    private const double Concerning = 0.3;

    // What changes this little of a limit, far from it, is less than any part is known to.
    internal const double Negligible = 1e-4;

    // How near a limit tolerances of parts are looked at, at least and at most: four times the widest of them.
    private const double LeastReach = 0.1, MostReach = 0.3, ReachOverTolerance = 4;

    // What the clamps of a pin carry is what others leave over, and a small tolerance may double it: looked at from here on.
    private const double InjectionReach = 0.1;

    // Moved anew from a worst corner as often at most.
    private const int MostRefinements = 3;

    /// <summary>Looks at one circumstance alone.</summary>
    /// <param name="solved">The front end.</param>
    /// <param name="fault">The event; null for the operating point.</param>
    /// <param name="where">The circumstance; what of it the front end does not have is left out.</param>
    /// <param name="cancel">Stops the solver.</param>
    public static Survival At(SolvedFrontEnd solved, FaultEvent? fault, Occasion where, CancellationToken cancel)
    {
        var search = new SurvivalSearch(solved, fault, cancel);
        search.Solve([search.At(where)]);
        return search.Result();
    }

    /// <summary>Finds the worst circumstances.</summary>
    /// <param name="solved">The front end.</param>
    /// <param name="fault">The event; null for the operating point.</param>
    /// <param name="cancel">Stops the solver.</param>
    public static Survival Run(SolvedFrontEnd solved, FaultEvent? fault, CancellationToken cancel)
    {
        var search = new SurvivalSearch(solved, fault, cancel);
        var nominal = new int[search.Dimensions.Length];
        // Nominal first: all others start from where it rests.
        search.Solve([nominal]);
        search.Solve([.. search.Neighbours(nominal)]);
        search.Solve([.. Onsets(search, nominal)]);
        int objectives = search.Of(nominal).Scores.Length;
        var own = Enumerable.Range(0, objectives).Where(search.IsOfEvent).ToHashSet();
        var corners = own.Order().Where(o => Math.Max(search.Worst(o), Added(search, nominal, o)) > Concerning)
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

    // What changes a part that is off by this share, however little it is of its limit, works on it.
    private const double OnsetShare = 1e-3;

    /// <summary>
    /// At the operating point: each part that breaks down and does not yet, at the least of its breakdown voltage, with all that brings it
    /// nearer, at both ends of the temperature. It carries nothing where one of them alone is moved, and much where all are.
    /// </summary>
    private static IEnumerable<int[]> Onsets(SurvivalSearch search, int[] nominal)
    {
        int objectives = search.IsOfRest ? search.Of(nominal).Scores.Length : 0;
        for (int o = 0; o < objectives; o++)
        {
            if (search.OwnLimit(o) is not { } own || search.Worst(o) > Concerning)
                continue;
            int[] at = Moved(Steepest(search, nominal, o, OnsetShare * search.Of(nominal).Scores[o]), own, -1);
            foreach (int end in search.Temperature is null ? [0] : new[] { -1, 1 })
                yield return search.Temperature is { } warmth ? Moved(at, warmth, end) : at;
        }
    }

    /// <summary>A corner for each objective where it is worst, or hardly less: one for as many as may be.</summary>
    private static List<(int Objective, int[] At)> Corners(SurvivalSearch search, int[] objectives)
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

    internal static int[] Moved(int[] from, int dimension, int end)
    {
        int[] moved = [.. from];
        moved[dimension] = end;
        return moved;
    }

    // Moved together parts bring at least this share of what they bring one by one.
    private const double TogetherShare = 0.75;

    /// <summary>Tries each part at its worse end for an objective, seen from a corner. Returns the corners where that falls short of what
    /// each part alone is said to do.</summary>
    private static List<(int Objective, int[] At)> Together(SurvivalSearch search, List<(int Objective, int[] At)> near,
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
    private static IEnumerable<(int Dimension, int End, double Adds)> Worse(SurvivalSearch search, (int Objective, int[] At) from,
        IEnumerable<(int Dimension, int End)> moves)
    {
        double here = search.Of(from.At).Scores[from.Objective];
        return moves.Select(m => (m.Dimension, m.End, Adds: search.Estimated(from, m) - here))
            .Select(m => search.Dimensions[m.Dimension].IsStraight && m.Adds < 0 ? (m.Dimension, End: -m.End, Adds: -m.Adds) : m)
            .Where(m => m.Adds > Negligible).GroupBy(m => m.Dimension).Select(ends => ends.MaxBy(m => m.Adds));
    }

    /// <summary>What an objective comes to where each dimension adds what its worse end does alone: far inside its limits, each of two
    /// may bring it less near than both together.</summary>
    private static double Added(SurvivalSearch search, int[] nominal, int objective)
    {
        double here = search.Of(nominal).Scores[objective];
        var adds = new double[nominal.Length];
        foreach (int[] moved in search.Neighbours(nominal))
        {
            int d = Array.FindIndex(moved, m => m != 0);
            adds[d] = Math.Max(adds[d], search.Of(moved).Scores[objective] - here);
        }
        return here + adds.Sum();
    }

    /// <summary>How far all that moves an objective might bring it, were each to do threefold what it does alone.</summary>
    private static double MightAdd(SurvivalSearch search, int[] nominal, int objective) => 3 * Alone(search, nominal, objective).Sum();

    /// <summary>What each dimension alone changes of an objective at most, either way.</summary>
    private static double[] Alone(SurvivalSearch search, int[] nominal, int objective)
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
    private static bool[] Free(SurvivalSearch search, int[] nominal, int objective)
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
    private static int[] Steepest(SurvivalSearch search, int[] from, int objective, double least = Negligible)
    {
        int[] at = [.. from];
        foreach (int[] moved in search.Neighbours(from))
        {
            int d = Enumerable.Range(0, at.Length).First(k => moved[k] != from[k]);
            int[] best = [.. from];
            best[d] = at[d];
            if (search.Of(moved).Scores[objective] > search.Of(best).Scores[objective] + least)
                at[d] = moved[d];
        }
        return at;
    }
}
