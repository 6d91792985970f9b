using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Faults;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;
using FrontEndSim.Reporting.Pages;

namespace FrontEndSim.Cli.Verbs;

/// <summary>faults: what reaches the pins when one part, rail or sensor is broken.</summary>
internal sealed class FaultsVerb() : Verb("faults",
    "Breaks each part, rail and sensor in turn and shows what reaches the pins at both ends of the span and in the worst event, and "
        + "whether the code that is read tells the fault from a valid reading. Ends with 1 if a pin does not survive.",
    "faults circuits/greenhouse-probe.fes")
{
    protected override Answer Run(FrontEnd frontEnd, ParseResult line, CancellationToken cancel)
    {
        using var progress = new ProgressLine();
        var solved = new SolvedFrontEnd(frontEnd);
        var faults = FaultsStudy.Run(solved, progress, cancel);
        if (MappingStudy.Mapped(frontEnd).Any(p => p.Converter is not null))
            faults = faults with { Detection = solved.Detection(DetectionScope.All, cancel) };
        return Answer.Of(faults.AllSurvive ? ExitCode.Met : ExitCode.NotMet, FaultsPage.Of(faults), faults);
    }
}
