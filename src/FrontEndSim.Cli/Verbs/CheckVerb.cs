using System.CommandLine;
using FrontEndSim.Cli.Screens;
using FrontEndSim.FrontEnds;
using FrontEndSim.Reporting;

namespace FrontEndSim.Cli.Verbs;

/// <summary>check: whether the requirements hold.</summary>
internal sealed class CheckVerb() : Verb("check", "Says whether the requirements of a circuit file hold, each with its margin and the reason.",
    Pasted, watches: true)
{
    public const string Pasted = "check circuits/rain-tank.fes";

    protected override Answer Run(FrontEnd frontEnd, ParseResult line, CancellationToken cancel)
    {
        using var progress = new ProgressLine();
        var check = CheckStudy.Run(frontEnd, progress, cancel);
        return new Answer(check.AllMet ? ExitCode.Met : ExitCode.NotMet,
            () => CheckScreen.Of(check), () => CheckDocument.Json(check), () => CheckDocument.CsvText(check));
    }
}
