using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>
/// No rail is lifted beyond what its devices stand, at the operating point and in every event, supplies that are lost left to float as
/// well: most
/// supplies only deliver, and what a clamp pushes into them beyond their load lifts them. A rail that an event itself strikes is meant to
/// be moved, and one that feeds a rated pin counts against that pin.
/// </summary>
public sealed record RailsInRange() : Requirement("")
{
    /// <summary>Where a supply is judged.</summary>
    internal static IEnumerable<Requirement> Implied(FrontEnd frontEnd) =>
        frontEnd.Supplies.Any(r => Judges(frontEnd, r)) ? [new RailsInRange()] : [];

    private static bool Judges(FrontEnd frontEnd, Rail rail) => rail.Volts.Value != 0 && !frontEnd.Pins.Any(p =>
        (p.RatedHigh is not null || p.RatedLow is not null || p.InjectionAmps is not null)
        && (p.ClampRail == rail.Name || p.Converter?.Span.High.Rail == rail.Name));

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        var frontEnd = solved.FrontEnd;
        var runs = solved.Everywhere(cancel);
        var all = runs.SelectMany(r => r.Lifts.Where(x => Judges(frontEnd, x.Rail) && !Strikes(frontEnd, r.Where, x.Rail))
            .Select(x => new RailLiftReason(r.Where, x.Rail.Name,
                Math.CopySign(x.LastingVolts, x.FurthestVolts == Math.Abs(x.HighestVolts) ? x.HighestVolts : x.LowestVolts),
                x.Rail.HighestVolts))).ToArray();
        var worst = all.MaxBy(r => r.Share);
        if (worst is { IsBeyond: true })
        {
            worst = worst with
            {
                OtherEvents = all.Where(r => r.Rail == worst.Rail && r.IsBeyond).Select(r => r.Where.Event).Distinct()
                    .Count(e => e is not null && e != worst.Where.Event),
            };
        }
        var problem = runs.Select(r => r.Problem).FirstOrDefault(p => p is not null);
        if (problem is not null && worst is not { IsBeyond: true })
            return new(this, Verdict.NotKnown, problem);
        return worst is null ? new(this, Verdict.Met, new NothingToJudge())
            : new(this, worst.IsBeyond ? Verdict.NotMet : Verdict.Met, worst)
            {
                Found = new(Math.Abs(worst.Volts), Unit.Volts),
                Limit = new(worst.LimitVolts, Unit.Volts),
                Margin = new(worst.LimitVolts - Math.Abs(worst.Volts), Unit.Volts),
            };
    }

    private static bool Strikes(FrontEnd frontEnd, Occasion where, Rail rail) => where.Event is { } name
        && frontEnd.Events.FirstOrDefault(e => e.Name == name) is { } fault && (fault.Node == rail.Name
            || fault.Disturbance is Together together && together.Others.Any(o => o.Node == rail.Name))
        && !fault.Disturbance.Loses(fault.Node).Contains(rail.Name);
}
