using System.CommandLine;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Levels;
using FrontEndSim.FrontEnds.Studies.Respond;
using FrontEndSim.FrontEnds.Studies.Session;
using FrontEndSim.Reporting.Pages;

namespace FrontEndSim.Cli.Verbs;

/// <summary>respond: how fast a pin follows its sensor.</summary>
internal sealed class RespondVerb : Verb
{
    private readonly PinOption _pin = new();
    private readonly QuantityOption _rate = new("--rate", Unit.Hertz,
        "Sampling rate, such as \"1 kHz\": shows the attenuation at half of it, above which signals come back as false ones.");
    private readonly PlotOption _plot = new("the steps and the response against frequency");

    public RespondVerb()
        : base("respond",
        "Shows how a pin follows its sensor: step and settling to half a count, corner frequency, attenuation, sampling capacitor.",
        "respond circuits/rain-tank.fes --rate \"1 kHz\" --plot respond.png")
    {
        foreach (var option in new Option[] { _pin, _rate, _plot })
            Options.Add(option);
    }

    protected override Answer Run(FrontEnd frontEnd, ParseResult line, CancellationToken cancel)
    {
        _plot.Check(line);
        double? rate = _rate.Value(line);
        if (rate <= 0)
            throw new InputException("--rate must be above 0 Hz");
        var pin = _pin.Pin(line, frontEnd);
        var solved = new SolvedFrontEnd(frontEnd);
        var respond = RespondStudy.Run(solved, pin.Name, sampleHertz: rate, cancel: cancel);
        if (LogicStudy.Reads(frontEnd, pin))
            respond = respond with { Levels = solved.Logic(pin.Name, cancel) };
        var page = RespondPage.Of(frontEnd.Title, pin, respond);
        _plot.Write(line, page);
        return Answer.Of(ExitCode.Met, page, respond);
    }
}
