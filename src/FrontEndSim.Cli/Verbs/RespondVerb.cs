using System.CommandLine;
using FrontEndSim.Cli.Screens;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Levels;
using FrontEndSim.FrontEnds.Studies.Respond;
using FrontEndSim.Reporting;

namespace FrontEndSim.Cli.Verbs;

/// <summary>respond: how fast a pin follows its sensor.</summary>
internal sealed class RespondVerb : Verb
{
    private readonly PinOption _pin = new();
    private readonly QuantityOption _rate = new("--rate", Unit.Hertz, "Sampling rate, such as \"1 kHz\": shows the attenuation at half of it, above which signals come back as false ones.");
    private readonly PlotOption _plot = new("the steps and the response against frequency");

    public RespondVerb() : base("respond", "Shows how a pin follows its sensor: step and settling to half a count, corner frequency, attenuation, sampling capacitor.",
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
        var respond = RespondStudy.Run(frontEnd, pin.Name, sampleHertz: rate, cancel: cancel);
        var logic = LogicStudy.Reads(frontEnd, pin) ? LogicStudy.Run(frontEnd, pin.Name, cancel) : null;
        _plot.Write(line, [.. logic is null ? [] : LogicPicture.Panels(logic), .. RespondPicture.Panels(respond)]);
        return new Answer(ExitCode.Met, () => RespondScreen.Of(frontEnd.Title, pin, respond, logic), () => RespondDocument.Json(respond, logic), () => RespondDocument.CsvText(respond));
    }
}
