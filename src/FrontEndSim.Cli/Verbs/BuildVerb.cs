using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Build;
using FrontEndSim.Reporting;
using FrontEndSim.Reporting.Pages;

namespace FrontEndSim.Cli.Verbs;

/// <summary>build: from the circuit to the bench.</summary>
internal sealed class BuildVerb : Verb
{
    private readonly MeterOptions _meter = new();

    public BuildVerb()
        : base("build", "The sheet for the bench: parts with the ratings they need, order of assembly, points to measure with limits, "
        + "firmware constants, calibration.",
        "build circuits/rain-tank.fes") => _meter.AddTo(this);

    protected override Answer Run(FrontEnd frontEnd, ParseResult line, CancellationToken cancel)
    {
        var meter = _meter.Value(line);
        using var progress = new ProgressLine();
        var sheet = FirmwareText.With(BuildStudy.Run(frontEnd, meter, progress, cancel));
        return Answer.Of(ExitCode.Met, BuildPage.Of(sheet), sheet);
    }
}
