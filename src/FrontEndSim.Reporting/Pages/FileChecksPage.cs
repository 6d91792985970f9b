using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.Reporting.Blocks;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting.Pages;

/// <summary>Several circuit files, each checked by itself.</summary>
/// <param name="Files">The files, in the order given.</param>
public sealed record FileChecks(ImmutableArray<FileCheck> Files);

/// <summary>A circuit file and its check.</summary>
/// <param name="File">Its name.</param>
/// <param name="ExitCode">What the program would end with for this file alone.</param>
/// <param name="Check">The check; null where there is none.</param>
/// <param name="Problem">Why there is none; empty where there is one.</param>
public sealed record FileCheck(string File, int ExitCode, CheckResult? Check, string Problem);

/// <summary>A line a file, then what failed.</summary>
public static class FileChecksPage
{
    /// <summary>The page.</summary>
    public static Page Of(FileChecks checks)
    {
        int met = checks.Files.Count(f => f.ExitCode == 0), all = checks.Files.Length;
        return new($"{all} circuit files",
            [
                new Headline(met == all ? Standing.Met : checks.Files.Any(f => f.Check?.Verdict == Verdict.NotMet)
                    ? Standing.NotMet : Standing.NotKnown,
                    met == all ? $"All {all} files are met." : $"{all - met} of {all} files {(all - met == 1 ? "is" : "are")} not met."),
                new Table("", [new("", ColumnKind.Standing), new("file"), new("requirements"), new("scope"),
                    new("title") { Media = Media.Paper }],
                    [.. checks.Files.Select(f => (ImmutableArray<Cell>)[Cell(f), f.File, Count(f),
                        f.Check?.Scope is { } scope ? ScopeWords.Brief(scope) : "", f.Check?.Title
                        ?? f.Problem.Split('\n')[0]])]),
                .. checks.Files.Where(f => f.ExitCode != 0)
                    .Select((f, k) => new Section($"file{k}", f.File, f.Check is { } check ? Failures(check) : [new Paragraph(f.Problem)])),
            ])
        {
            Data = new Table("",
                [new("file"), new("requirement"), new("met", ColumnKind.Standing), new("found"),
                    new("limit"), new("margin"), new("reason"), new("remedy")],
                [
                    .. checks.Files.SelectMany(f => f.Check is not { } check ? [[f.File, "", Standing.NotKnown, "", "", "", f.Problem, ""]]
                        : CheckPage.Of(check, details: false).Data!.Rows.Select(r => (ImmutableArray<Cell>)[f.File, .. r])),
                ]),
        };
    }

    /// <summary>The same for a build server.</summary>
    public static string JUnit(FileChecks checks) => Reporting.JUnit.Of(
    [
        .. checks.Files.Select(f => new JUnitSuite(f.File, f.Check is not { } check ? [new(f.File, Standing.NotKnown, f.Problem)] :
        [
            .. check.Judged().Select(r => new JUnitCase(RequirementWords.Of(r.Requirement), Standings.Of(r.Verdict),
                $"found {RequirementWords.Found(r)}, limit {RequirementWords.Limit(r)}. {RequirementWords.Reason(r)}")),
            .. check.Problems.Select(p => new JUnitCase("all that was looked at computed", Standing.NotKnown, ScopeWords.Of(p))),
        ])),
    ]);

    private static Cell Cell(FileCheck f) => f.Check is { } check ? Standings.Of(check.Verdict)
        : new Cell { Standing = Standing.NotMet, Words = "ERROR" };

    private static string Count(FileCheck f) =>
        f.Check is not { } check ? "" : $"{check.Requirements.Count(r => r.Met)} of {check.Requirements.Length}";

    private static ImmutableArray<Block> Failures(CheckResult check) =>
    [
        new Lines(
        [
            .. check.Judged().Where(r => !r.Met).SelectMany(r => (Line[])
            [
                new("", $"{RequirementWords.Of(r.Requirement)}: {RequirementWords.Found(r)}, limit {RequirementWords.Limit(r)}") {
                    Standing = Standings.Of(r.Verdict) },
                new("Why", RequirementWords.Reason(r)), .. RequirementWords.Remedy(r) == "" ? []
                    : new[] { new Line("To mend", RequirementWords.Remedy(r)) },
            ]),
        ]),
    ];
}
