using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.Reporting.Blocks;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting.Pages;

/// <summary>The verdict: first whether the requirements are met, then why, then what it rests on.</summary>
public static class CheckPage
{
    /// <summary>The page.</summary>
    /// <param name="check">The check.</param>
    /// <param name="details">Whether the reason of what is met is given too, and every column.</param>
    public static Page Of(CheckResult check, bool details) => new(check.Title,
        [
            Headline(check), Scope(check), Requirements(check), Reasons(check, details),
            new Lines(
            [
                .. check.Mappings.Select(m => new Line("Mapping", details
                    ? string.Join("\n", m.Headroom.Select(MappingWords.Headroom).Prepend(MappingWords.Sentence(m)))
                    : MappingWords.Sentence(m))),
                .. check.Costs.Where(c => !c.Parts.IsEmpty && (details || c.Dearest is not null))
                    .Select(c => new Line("Cost", CostWords.Of(c))),
                .. check.Logic.Select(l => new Line("Levels", LogicBlocks.Summary(l))),
            ]),
            EventsPage.Summary(check.Events, details),
            new Lines([AuditWords.Of(check.KirchhoffShare, check.Events.IsEmpty ? null : check.EnergyImbalance, null)]),
            Warnings(check),
            new Cautions(check.Cautions),
            new Lines(details || check.Requirements.IsEmpty ? []
                : [new("More", "--details: the reasons of what is met, headroom, what the clamps carry.")]) { Media = Media.Screen },
        ])
    {
        Data = new Table("",
            [new("requirement"), new("met", ColumnKind.Standing), new("found"), new("limit"), new("margin"), new("reason"), new("remedy")],
            [
                .. check.Judged().Select(r => (ImmutableArray<Cell>)
                [
                    RequirementWords.Of(r.Requirement), Standings.Of(r.Verdict), RequirementWords.Found(r),
                        RequirementWords.Limit(r), RequirementWords.Margin(r),
                    RequirementWords.Reason(r), RequirementWords.Remedy(r),
                ]),
            ]),
    };

    /// <summary>The verdict alone, with the reason of each requirement: the beginning of a report.</summary>
    public static ImmutableArray<Block> Verdict(CheckResult check) =>
        [Headline(check), Scope(check), Requirements(check), Reasons(check, details: true), Warnings(check)];

    private static Headline Headline(CheckResult check)
    {
        // What holds of every circuit is counted where it does not.
        int all = check.Requirements.Length, implied = check.Implied.Count(r => !r.Met),
            failed = check.Requirements.Count(r => r.Verdict == FrontEnds.Studies.Check.Verdict.NotMet),
            unknown = check.Requirements.Count(r => r.Verdict == FrontEnds.Studies.Check.Verdict.NotKnown);
        string also = implied == 0 ? "" : $", nor {(implied == 1 ? "is" : "are")} {implied} that every circuit has";
        string scope = check.Scope is { } covers ? $" ({ScopeWords.Brief(covers)})" : "";
        string open = unknown == 0 ? "" : $"{(failed == 0 ? "" : "; ")}{Of(unknown)} {(unknown == 1 ? "is" : "are")} not known";
        return new(all == 0 && check.Verdict == FrontEnds.Studies.Check.Verdict.Met ? Standing.None : Standings.Of(check.Verdict),
            failed + unknown == 0 && implied > 0 ? check.Verdict == FrontEnds.Studies.Check.Verdict.NotMet
                ? "A part, a pin or an op amp is beyond its limits, though no requirement asks." : "Something could not be computed."
            : failed + unknown == 0 && !check.Problems.IsEmpty ? "Something could not be computed."
            : all == 0
                ? "No requirement is written; parts and pins keep their ratings. Write one, such as: require adc mapping error under 4 "
                + "counts"
            : failed + unknown == 0 ? all switch
            {
                1 => $"The requirement is met{scope}.",
                2 => $"Both requirements are met{scope}.",
                _ => $"All {all} requirements are met{scope}.",
            }
            : $"{(failed == 0 ? "" : $"{Of(failed)} {(failed == 1 ? "is" : "are")} not met{also}")}{open}{scope}.");

        string Of(int count) => all == 1 ? "The requirement" : $"{count} of {all} requirements";
    }

    private static Table Requirements(CheckResult check) => new("",
        [new("", ColumnKind.Standing), new("requirement"), new("found", ColumnKind.Number),
            new("limit", ColumnKind.Number), new("margin", ColumnKind.Number)],
        [
            .. Shown(check, false).Select(r => (ImmutableArray<Cell>)
                [Standings.Of(r.Verdict), RequirementWords.Of(r.Requirement), RequirementWords.Found(r),
                    RequirementWords.Limit(r), RequirementWords.Margin(r)]),
        ]);

    private static Lines Reasons(CheckResult check, bool details) => new(
        [
            .. Shown(check, details).Where(r => details || !r.Met).SelectMany(r => (Line[])
            [
                new("Why", $"{RequirementWords.Of(r.Requirement)}: {RequirementWords.Reason(r)}"), .. RequirementWords.Remedy(r) == ""
                    ? [] : new[] { new Line("To mend", RequirementWords.Remedy(r)) },
            ]),
        ]);

    private static IEnumerable<RequirementResult> Shown(CheckResult check, bool details) =>
        check.Requirements.Concat(check.Implied.Where(r => details || !r.Met));

    private static Lines Scope(CheckResult check) => new(
        [
            .. check.Scope is { } scope ? new[] { new Line("Scope", ScopeWords.Of(scope)) } : [],
            .. check.Accepted.Select(a => new Line("Accepted", ScopeWords.Of(a))),
            .. check.Problems.Select(p => new Line("? Unknown", ScopeWords.Of(p)) { Standing = Standing.Warning }),
        ]);

    private static Lines Warnings(CheckResult check) =>
        new([.. check.Warnings.Select(w => new Line("! Warning", WarningWords.Of(w)) { Standing = Standing.Warning })]);
}
