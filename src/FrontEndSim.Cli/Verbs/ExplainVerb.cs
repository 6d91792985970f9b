using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Explain;
using FrontEndSim.Reporting.Pages;

namespace FrontEndSim.Cli.Verbs;

/// <summary>explain: the hand math beside the simulation.</summary>
internal sealed class ExplainVerb : Verb
{
    private readonly Option<string?> _stage = new("--stage") { HelpName = "NAME", Description = "The stage to explain; all if not given." };

    public ExplainVerb()
        : base("explain", "Writes the hand calculation of each stage beside what the simulation makes of it, and says why they differ.",
        "explain circuits/rain-tank.fes --stage shift") => Options.Add(_stage);

    protected override Answer Run(FrontEnd frontEnd, ParseResult line, CancellationToken cancel)
    {
        var only = line.GetValue(_stage) is { } name ? frontEnd.FindStage(name) : null;
        var explained = ExplainStudy.Run(frontEnd, only?.Name, cancel);
        if (explained.Stages.IsEmpty && explained.Mappings.IsEmpty)
            throw new InputException(
                "the circuit has no stage and maps no sensor onto a pin, so there is nothing to explain; see "
                    + "docs/language.md for the stages");
        return Answer.Of(ExitCode.Met, ExplainPage.Of(frontEnd.Title, explained), explained);
    }
}
