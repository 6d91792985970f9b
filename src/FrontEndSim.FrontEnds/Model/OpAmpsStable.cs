using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>No mode grows about the operating points over the span, at any temperature, and every op amp has phase margin, with
/// capacitors at the ends of their tolerances where it is little; nor does a mode that rings grow with parts at the ends of theirs.
/// </summary>
public sealed record OpAmpsStable() : Requirement("")
{
    // With less a step overshoots by more than half (ζ ≈ PM/100: common practice, no source), and a little more load makes it oscillate.
    private const double LeastDegrees = 30;

    // Nodes with less of a mode are not part of its path.
    private const double Telling = 0.05;

    // A junction with less of the most that it carries over the span is idle.
    private const double IdleShare = 0.01;

    private static readonly SpanPlace[] Places = [SpanPlace.Middle, SpanPlace.Low, SpanPlace.High];

    /// <summary>Where there is an op amp.</summary>
    internal static IEnumerable<Requirement> Implied(FrontEnd frontEnd) =>
        frontEnd.AllParts.Any(p => p.Amplifiers.Any()) ? [new OpAmpsStable()] : [];

    internal override bool IsOfOneTemperature => true;

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        var ringing = new List<(SpanPlace Place, Mode Mode)>();
        var result = OfLoops(solved, ringing, cancel);
        return result.Verdict == Verdict.Met && GrowsWithinTolerances(solved, ringing, cancel) is { } grows
            ? Mendable(Result(grows)) : result;
    }

    private RequirementResult OfLoops(SolvedFrontEnd solved, List<(SpanPlace, Mode)> ringing, CancellationToken cancel)
    {
        var found = At(solved, Places, [], cancel, ringing);
        if (found is not { PhaseMarginDegrees: { } degrees } || degrees > ToleranceMatters)
            return Mendable(Result(found));
        // Near the limit capacitors are moved to the ends of their tolerances: each alone, then all that make it worse together.
        var frontEnd = solved.FrontEnd.WithUsualTolerances();
        SpanPlace[] there = [found.Where.Sensors ?? SpanPlace.Middle];
        var worst = frontEnd;
        var ends = ImmutableArray.CreateBuilder<ToleranceEnd>();
        foreach (var part in frontEnd.AllParts.Where(p => p.Value?.Unit == Unit.Farad))
        {
            var tries = (from high in new[] { false, true }
                         let moved = part.AtTolerance(high)
                         where moved is not null
                         select (High: high, Moved: moved.Value,
                             Margin: Margin(At(solved.With(frontEnd.Replace(part, moved.Value.Part)), there, [], cancel)))).ToArray();
            if (tries.Length == 0 || tries.MinBy(t => t.Margin) is var least && least.Margin >= degrees)
                continue;
            worst = worst.Replace(worst.AllParts.First(p => p.Name == part.Name), least.Moved.Part);
            ends.Add(new(part.Name, least.Moved.Value, least.High));
        }
        var corner = ends.Count == 0 ? found : At(solved.With(worst), Places, ends.ToImmutable(), cancel);
        return Mendable(Result(Margin(corner) < degrees ? corner : found));
    }

    // Resistors of 5 % and capacitors of 20 % take a filter of equal components from no more than this to growing.
    private const double LooseDamping = 0.5;

    /// <summary>A mode that rings, as of a filter near the gain at which it oscillates, and grows with parts at the ends of their
    /// tolerances where each alone makes its damping less; null for none. The loop's own phase margin does not tell: it holds far above.
    /// </summary>
    private static StabilityReason? GrowsWithinTolerances(SolvedFrontEnd solved, List<(SpanPlace Place, Mode Mode)> ringing,
        CancellationToken cancel)
    {
        string[] names = [.. solved.FrontEnd.AllParts.SelectMany(p => p.Amplifiers).Select(a => a.Name)];
        var frontEnd = solved.FrontEnd.WithUsualTolerances();
        var done = new List<Mode>();
        foreach (var place in Places)
        {
            // A linear circuit has the same modes all over the span.
            Mode[] here = [.. ringing.Where(r => r.Place == place && r.Mode.DampingRatio < LooseDamping).Select(r => r.Mode)
                .Where(m => !done.Any(d => IsNear(d, m, SameMode)))];
            if (here.Length == 0)
                continue;
            done.AddRange(here);
            var rest = solved.Rest(place, cancel);
            ImmutableArray<Mode> Modes(SolvedFrontEnd of) => of.Compiled(of.At(place)).SolveRinging(names, rest, cancel);
            var moves = (from part in frontEnd.AllParts
                         where part.Value is not null
                         let low = part.AtTolerance(false)
                         let high = part.AtTolerance(true)
                         where low is not null && high is not null
                         select (Part: part, Low: low.Value, High: high.Value,
                             Modes: Modes(solved.With(frontEnd.Replace(part, high.Value.Part))))).ToArray();
            foreach (var mode in here)
            {
                double Damping(ImmutableArray<Mode> modes) => modes.Where(m => IsNear(mode, m, FollowedMode))
                    .MinBy(m => (m.RadiansPerSecond - mode.RadiansPerSecond).Magnitude)?.DampingRatio ?? 1;
                var worst = frontEnd;
                var ends = ImmutableArray.CreateBuilder<ToleranceEnd>();
                double falls = 0;
                foreach (var move in moves)
                {
                    double rise = Damping(move.Modes) - mode.DampingRatio;
                    if (Math.Abs(rise) < Untold)
                        continue;
                    var (part, value) = rise < 0 ? move.High : move.Low;
                    worst = worst.Replace(worst.AllParts.First(p => p.Name == move.Part.Name), part);
                    ends.Add(new(move.Part.Name, value, rise < 0));
                    falls += Math.Abs(rise);
                }
                if (falls > mode.DampingRatio / 2
                    && At(solved.With(worst), [place], ends.ToImmutable(), cancel) is { GrowthPerSecond: not null } grows)
                {
                    return grows;
                }
            }
        }
        return null;
    }

    // How far apart two frequencies of one mode are, of the magnitude: at two places of the span, and with a part moved.
    private const double SameMode = 1e-2, FollowedMode = 0.5;

    // How far from a crossover a mode is not the one that its phase margin stands for.
    private const double FarOctaves = 1;

    // A damping ratio that changes by less is not worth the name of a part.
    private const double Untold = 1e-4;

    private static bool IsNear(Mode a, Mode b, double share) =>
        (a.RadiansPerSecond - b.RadiansPerSecond).Magnitude <= share * a.RadiansPerSecond.Magnitude;

    /// <summary>With what op amps are compensated by, where one rings or oscillates; what latches is wired wrongly.</summary>
    private static RequirementResult Mendable(RequirementResult result) =>
        result is { Verdict: Verdict.NotMet, Reason: StabilityReason { OpAmp: { } amp, Hertz: > 0 } }
            ? result with { Candidates = [new(MendKind.FeedbackCapacitor, amp), new(MendKind.IsolateLoad, amp)] } : result;

    // Beyond this no capacitor of usual tolerance takes it to the limit.
    private const double ToleranceMatters = 2 * LeastDegrees;

    private static double Margin(StabilityReason? reason) => reason is null ? double.PositiveInfinity
        : reason.PhaseMarginDegrees ?? double.NegativeInfinity;

    private RequirementResult Result(StabilityReason? found) => found switch
    {
        null => new(this, Verdict.Met, new NothingToJudge()),
        { PhaseMarginDegrees: { } degrees } => Above(Quantity.Number(degrees), Quantity.Number(LeastDegrees), found),
        _ => new(this, Verdict.NotMet, found),
    };

    /// <summary>The mode that grows, or the least phase margin; null where no loop crosses a gain of one. What rings is added to a list.
    /// </summary>
    private static StabilityReason? At(SolvedFrontEnd solved, SpanPlace[] places, ImmutableArray<ToleranceEnd> ends,
        CancellationToken cancel, List<(SpanPlace, Mode)>? ringing = null)
    {
        ImmutableArray<AmplifierElement> amps = [.. solved.FrontEnd.AllParts.SelectMany(p => p.Amplifiers)];
        StabilityReason? least = null;
        string[] names = [.. amps.Select(a => a.Name)];
        foreach (var place in places)
        {
            var stability = solved.Compiled(solved.At(place)).SolveStability(names, solved.Rest(place, cancel), cancel);
            ringing?.AddRange(stability.Ringing.Select(m => (place, m)));
            var where = new Occasion { Sensors = place, Ends = ends };
            if (stability.Growing.FirstOrDefault() is { } growing)
            {
                return new(Owner(amps, growing), where)
                {
                    GrowthPerSecond = growing.RadiansPerSecond.Real,
                    Hertz = growing.Hertz,
                    Path = [.. growing.Unknowns.Where(u => u.Share > Telling).Select(u => u.Name)],
                };
            }
            // What the loops make far from where they cross a gain of one, no phase margin stands for.
            double? beside = stability.Ringing.Where(m => m.DampingRatio < LooseDamping
                && stability.Loops.All(l => Math.Abs(Math.Log2(m.Hertz / l.CrossoverHertz)) > FarOctaves))
                .Min(m => (double?)m.DampingRatio);
            foreach (var loop in stability.Loops)
            {
                // Feedback that nowhere reaches a gain of one cannot make it ring.
                if (double.IsFinite(loop.PhaseMarginDegrees)
                    && (least is null || loop.PhaseMarginDegrees < least.PhaseMarginDegrees)
                    && !IsOpen(solved, loop.OpAmp, place, cancel))
                {
                    least = new(loop.OpAmp, where)
                    {
                        PhaseMarginDegrees = loop.PhaseMarginDegrees,
                        Hertz = loop.CrossoverHertz,
                        DampingRatio = beside ?? Damping(loop.PhaseMarginDegrees),
                    };
                }
            }
        }
        return least;
    }

    /// <summary>Whether a loop closes through a junction alone that carries next to nothing at a place of the span: a step forward makes it
    /// conduct, one backward opens the loop, and the margin of an infinitely small one tells nothing.</summary>
    private static bool IsOpen(SolvedFrontEnd solved, string opAmp, SpanPlace place, CancellationToken cancel)
    {
        var frontEnd = solved.FrontEnd;
        var ports = frontEnd.AllParts.SelectMany(p => p.Amplifiers).First(a => a.Name == opAmp).Ports;
        Element[] others = [.. frontEnd.AllParts.Where(p => !p.Amplifiers.Any()).SelectMany(p => p.ToElements())];
        bool IsHeld(string node) => node == Circuit.Ground || frontEnd.Rails.Any(r => r.Name == node);
        Diode[] junctions = [.. others.OfType<Diode>().Where(d => d.From == ports.Output && !IsHeld(d.To)
            || d.To == ports.Output && !IsHeld(d.From))];
        if (junctions.Length == 0)
            return false;
        var reached = new HashSet<string> { ports.Output };
        while (others.Except(junctions).FirstOrDefault(e => e.Terminals.Any(reached.Contains)
            && e.Terminals.Any(n => !reached.Contains(n) && !IsHeld(n))) is { } next)
        {
            reached.UnionWith(next.Terminals.Where(n => !IsHeld(n)));
        }
        double Carries(SpanPlace at) => junctions.Max(d => Math.Abs(solved.Rest(at, cancel).Parts[d.Name].Amps));
        return !reached.Contains(ports.Minus) && Carries(place) < IdleShare * Places.Max(Carries);
    }

    /// <summary>The damping ratio that a phase margin below 90° stands for: ζ = sin φ/(2·√cos φ), exact for a loop of second order (any
    /// textbook of control).</summary>
    private static double? Damping(double degrees) => degrees is > 0 and < 90 && degrees * Math.PI / 180 is var phase
        && Math.Sin(phase) / (2 * Math.Sqrt(Math.Cos(phase))) is < 1 and var ratio ? ratio : null;

    private static string? Owner(ImmutableArray<AmplifierElement> amps, Mode mode) => mode.Unknowns
        .Select(u => amps.FirstOrDefault(a => a.Ports.Output == u.Name || u.Name.StartsWith(a.Name, StringComparison.Ordinal))?.Name)
            .FirstOrDefault(n => n is not null);
}
