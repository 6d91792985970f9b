using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Session;
using FrontEndSim.Reporting.Pages;

namespace FrontEndSim.Cli.Verbs;

/// <summary>check: whether the requirements are met, of one file or of many.</summary>
internal sealed class CheckVerb : Verb
{
    public const string Pasted = "check circuits/rain-tank.fes";

    private readonly Option<bool> _details = new("--details")
    {
        Description =
            "Give the reason of every requirement, met or not, how near op amps come to their limits, and every column of the events.",
    };

    private readonly Option<string?> _junit = new("--junit")
    {
        HelpName = "FILE",
        Description = "Also write JUnit XML for a build server: a suite a file, a case a requirement."
    };

    public CheckVerb() : base("check", "Says whether the requirements of circuit files are met, each with its margin and the reason.",
        Pasted, watches: true, takesMany: true)
    {
        Options.Add(_details);
        Options.Add(_junit);
    }

    protected override IEnumerable<(string Option, string? Path)> Outputs(ParseResult line) => [(_junit.Name, line.GetValue(_junit))];

    protected override Answer Run(FrontEnd frontEnd, ParseResult line, CancellationToken cancel)
    {
        using var progress = new ProgressLine();
        var check = new SolvedFrontEnd(frontEnd).Settling(cancel).Mended(progress, cancel);
        int code = ExitCode.Of(check.Verdict);
        WriteJUnit(line, new FileChecks([new FileCheck(Files(line)[0], code, check, "")]));
        return Answer.Of(code, CheckPage.Of(check, line.GetValue(_details)), check);
    }

    /// <summary>Every file by itself, on all cores; one that cannot be read or solved hides none of the others.</summary>
    protected override Answer RunMany(string[] files, ParseResult line, CancellationToken cancel)
    {
        string? below = IncludesBelow(line);
        var checks = new FileChecks([.. files.AsParallel().AsOrdered().WithCancellation(cancel).Select(f => Check(f, below, cancel))]);
        WriteJUnit(line, checks);
        return Answer.Of(ExitCode.Gravest(checks.Files.Select(f => f.ExitCode)), FileChecksPage.Of(checks), checks);
    }

    private static FileCheck Check(string file, string? includesBelow, CancellationToken cancel)
    {
        try
        {
            var check = new SolvedFrontEnd(Load(file, includesBelow, tellsWarnings: false).FrontEnd!).Settling(cancel)
                .Mended(cancel: cancel);
            return new(file, ExitCode.Of(check.Verdict), check, "");
        }
        catch (Exception e) when (e is not OperationCanceledException)
        {
            var (code, lines) = Entry.Words(e);
            return new(file, code, null, string.Join('\n', lines));
        }
    }

    private void WriteJUnit(ParseResult line, FileChecks checks)
    {
        if (line.GetValue(_junit) is { } file)
            OutputFile.Write(file, FileChecksPage.JUnit(checks));
    }
}
