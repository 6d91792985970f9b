using System.CommandLine;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.Reporting.Pages;

namespace FrontEndSim.Cli.Verbs;

/// <summary>check: whether the requirements hold.</summary>
internal sealed class CheckVerb : Verb
{
    public const string Pasted = "check circuits/rain-tank.fes";

    private readonly Option<bool> _details = new("--details")
    {
        Description = "Give the reason of every requirement, met or not, how near op amps come to their limits, and every column of the events.",
    };

    public CheckVerb() : base("check", "Says whether the requirements of a circuit file hold, each with its margin and the reason.", Pasted, watches: true) =>
        Options.Add(_details);

    protected override Answer Run(FrontEnd frontEnd, ParseResult line, CancellationToken cancel)
    {
        using var progress = new ProgressLine();
        var check = CheckStudy.Run(frontEnd, progress, cancel);
        return Answer.Of(ExitCode.Of(check.Verdict), CheckPage.Of(check, line.GetValue(_details)), check);
    }
}
