using System.Collections.Immutable;
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
            Headline(check), Requirements(check), Reasons(check, details),
            new Lines(
            [
                .. check.Mappings.Select(m => new Line("Mapping", details ? string.Join("\n", m.Headroom.Select(MappingWords.Headroom).Prepend(MappingWords.Sentence(m))) : MappingWords.Sentence(m))),
                .. check.Costs.Where(c => !c.Parts.IsEmpty).Select(c => new Line("Cost", CostWords.Of(c))),
                .. check.Logic.Select(l => new Line("Levels", LogicBlocks.Summary(l))),
            ]),
            EventsPage.Summary(check.Events, details),
            new Lines([AuditWords.Of(check.KirchhoffShare, check.Events.IsEmpty ? null : check.EnergyImbalance, null)]),
            Warnings(check),
            new Cautions(check.Cautions),
            new Lines(details || check.Requirements.IsEmpty ? [] : [new("More", "--details: the reasons of what is met, headroom, what the clamps carry.")]) { Media = Media.Screen },
        ])
    {
        Data = new Table("",
            [new("requirement"), new("met", ColumnKind.Standing), new("found"), new("limit"), new("margin"), new("reason"), new("remedy")],
            [
                .. check.Requirements.Select(r => (ImmutableArray<Cell>)
                [
                    r.Requirement.Text, Standings.Of(r.Verdict), RequirementWords.Found(r), RequirementWords.Limit(r), RequirementWords.Margin(r),
                    RequirementWords.Reason(r), RequirementWords.Remedy(r),
                ]),
            ]),
    };

    /// <summary>The verdict alone, with the reason of each requirement: the beginning of a report.</summary>
    public static ImmutableArray<Block> Verdict(CheckResult check) => [Headline(check), Requirements(check), Reasons(check, details: true), Warnings(check)];

    private static Headline Headline(CheckResult check)
    {
        int all = check.Requirements.Length, failed = check.Requirements.Count(r => r.Verdict == FrontEnds.Studies.Check.Verdict.NotMet),
            unknown = check.Requirements.Count(r => r.Verdict == FrontEnds.Studies.Check.Verdict.NotKnown);
        string open = unknown == 0 ? "" : $"{(failed == 0 ? "" : "; ")}{Of(unknown)} {(unknown == 1 ? "is" : "are")} not known";
        return new(all == 0 ? Standing.None : Standings.Of(check.Verdict),
            all == 0 ? "No requirement is written, so nothing is judged. Write one, such as: require adc inside rating in every event"
            : failed + unknown == 0 ? all switch { 1 => "The requirement is met.", 2 => "Both requirements are met.", _ => $"All {all} requirements are met." }
            : $"{(failed == 0 ? "" : $"{Of(failed)} {(failed == 1 ? "is" : "are")} not met")}{open}.");

        string Of(int count) => all == 1 ? "The requirement" : $"{count} of {all} requirements";
    }

    private static Table Requirements(CheckResult check) => new("",
        [new("", ColumnKind.Standing), new("requirement"), new("found", ColumnKind.Number), new("limit", ColumnKind.Number), new("margin", ColumnKind.Number)],
        [
            .. check.Requirements.Select(r => (ImmutableArray<Cell>)
                [Standings.Of(r.Verdict), r.Requirement.Text, RequirementWords.Found(r), RequirementWords.Limit(r), RequirementWords.Margin(r)]),
        ]);

    private static Lines Reasons(CheckResult check, bool details) => new(
        [
            .. check.Requirements.Where(r => details || !r.Met).SelectMany(r => (Line[])
            [
                new("Why", $"{r.Requirement.Text}: {RequirementWords.Reason(r)}"), .. r.Mends.IsEmpty ? [] : new[] { new Line("To mend", RequirementWords.Remedy(r)) },
            ]),
        ]);

    private static Lines Warnings(CheckResult check) => new([.. check.Warnings.Select(w => new Line("! Warning", WarningWords.Of(w)) { Standing = Standing.Warning })]);
}
