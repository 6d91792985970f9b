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
    private readonly QuantityOption _acquisition = new("--acquisition", Unit.Seconds,
        "Acquisition time, such as \"2 us\": the largest source resistance that the sampling capacitor settles from in it.");
    private readonly QuantityOption _source = new("--source", Unit.Ohm,
        "Resistance of a plain source at the pin, such as \"10 kohm\": the acquisition time that it needs.");
    private readonly PlotOption _plot = new("the steps and the response against frequency");

    public RespondVerb()
        : base("respond",
        "Shows how a pin follows its sensor: step and settling to half a count, corner frequency, attenuation, sampling capacitor.",
        "respond circuits/rain-tank.fes --rate \"1 kHz\" --plot respond.png")
    {
        foreach (var option in new Option[] { _pin, _rate, _acquisition, _source, _plot })
            Options.Add(option);
    }

    protected override Answer Run(FrontEnd frontEnd, ParseResult line, CancellationToken cancel)
    {
        _plot.Check(line);
        double? rate = _rate.Value(line);
        if (rate <= 0)
            throw new InputException("--rate must be above 0 Hz");
        double? acquisition = _acquisition.Value(line), source = _source.Value(line);
        if (acquisition <= 0 || source < 0)
            throw new InputException("--acquisition must be above 0 s, and --source not below 0 ohm");
        var pin = _pin.Pin(line, frontEnd);
        if ((acquisition ?? source) is not null && pin is not { Sampling: not null, Converter: not null })
            throw new InputException($"pin {pin.Name} does not sample: give it a converter and 'samples FARADS through OHMS for SECONDS'");
        var solved = new SolvedFrontEnd(frontEnd);
        var respond = RespondStudy.Run(solved, pin.Name, sampleHertz: rate, acquisitionSeconds: acquisition, sourceOhms: source,
            cancel: cancel);
        if (LogicStudy.Reads(frontEnd, pin))
            respond = respond with { Levels = solved.Logic(pin.Name, cancel) };
        var page = RespondPage.Of(frontEnd.Title, pin, respond);
        _plot.Write(line, page, cancel);
        return Answer.Of(ExitCode.Met, page, respond);
    }
}
