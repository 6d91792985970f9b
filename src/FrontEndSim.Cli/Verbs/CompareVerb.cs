using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Compare;
using FrontEndSim.Reporting.Pages;

namespace FrontEndSim.Cli.Verbs;

/// <summary>compare: readings from the bench against the prediction.</summary>
internal sealed class CompareVerb : Verb
{
    private readonly Argument<string> _readings = new("READINGS")
    {
        Description =
        "Readings as comma-separated values: the form of sweep --csv, or of build --csv filled in (docs/design-verb.md)."
    };
    private readonly MeterOptions _meter = new();

    public CompareVerb()
        : base("compare",
        "Holds readings against prediction and limits, and says which single change of a part, rail or op amp explains them best.",
        "compare circuits/rain-tank.fes circuits/rain-tank-readings.csv")
    {
        Arguments.Add(_readings);
        _meter.AddTo(this);
    }

    protected override IEnumerable<string> Inputs(ParseResult line) => [line.GetRequiredValue(_readings)];

    protected override Answer Run(FrontEnd frontEnd, ParseResult line, CancellationToken cancel)
    {
        var (sensor, readings) = ReadingsFile.Load(line.GetRequiredValue(_readings), frontEnd);
        var meter = _meter.Value(line);
        using var progress = new ProgressLine();
        var result = CompareStudy.Run(frontEnd, sensor, readings, meter, progress, cancel);
        return Answer.Of(result.IsInside ? ExitCode.Met : ExitCode.NotMet, ComparePage.Of(result), result);
    }
}
