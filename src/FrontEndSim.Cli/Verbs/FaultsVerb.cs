using System.CommandLine;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Faults;
using FrontEndSim.Reporting.Pages;

namespace FrontEndSim.Cli.Verbs;

/// <summary>faults: what reaches the pins when one part, rail or sensor is broken.</summary>
internal sealed class FaultsVerb() : Verb("faults",
    "Breaks each part, rail and sensor in turn and shows what reaches the pins at both ends of the span and in the worst event. Ends with "
        + "1 if a pin does not survive.",
    "faults circuits/greenhouse-probe.fes")
{
    protected override Answer Run(FrontEnd frontEnd, ParseResult line, CancellationToken cancel)
    {
        using var progress = new ProgressLine();
        var faults = FaultsStudy.Run(frontEnd, progress, cancel);
        return Answer.Of(faults.AllSurvive ? ExitCode.Met : ExitCode.NotMet, FaultsPage.Of(faults), faults);
    }
}
