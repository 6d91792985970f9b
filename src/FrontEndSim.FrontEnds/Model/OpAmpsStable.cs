using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>No mode grows about the operating points over the span, at any temperature, and every op amp has phase margin, with
/// capacitors at the ends of their tolerances where it is little.</summary>
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
        var found = At(solved, Places, [], cancel);
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

    /// <summary>The mode that grows, or the least phase margin; null where no loop crosses a gain of one.</summary>
    private static StabilityReason? At(SolvedFrontEnd solved, SpanPlace[] places, ImmutableArray<ToleranceEnd> ends,
        CancellationToken cancel)
    {
        ImmutableArray<AmplifierElement> amps = [.. solved.FrontEnd.AllParts.SelectMany(p => p.Amplifiers)];
        StabilityReason? least = null;
        string[] names = [.. amps.Select(a => a.Name)];
        foreach (var place in places)
        {
            var (growingModes, loops) = solved.Compiled(solved.At(place)).SolveStability(names, solved.Rest(place, cancel), cancel);
            var where = new Occasion { Sensors = place, Ends = ends };
            if (growingModes.FirstOrDefault() is { } growing)
            {
                return new(Owner(amps, growing), where)
                {
                    GrowthPerSecond = growing.RadiansPerSecond.Real,
                    Hertz = growing.Hertz,
                    Path = [.. growing.Unknowns.Where(u => u.Share > Telling).Select(u => u.Name)],
                };
            }
            foreach (var loop in loops)
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
                        DampingRatio = Damping(loop.PhaseMarginDegrees),
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
