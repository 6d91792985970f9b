using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies;
using FrontEndSim.FrontEnds.Studies.Mapping;

namespace FrontEndSim.Cli.Verbs;

/// <summary>--pin NAME: the pin to look at.</summary>
internal sealed class PinOption : Option<string?>
{
    public PinOption() : base("--pin")
    {
        HelpName = "NAME";
        Description = "The pin to look at; if not given the first that a sensor is mapped onto, or else the first.";
    }

    /// <summary>The pin asked for, or the first with a mapping, or the first.</summary>
    /// <exception cref="InputException">There is no pin.</exception>
    /// <exception cref="StudyProblemException">There is no pin of that name.</exception>
    public Pin Pin(ParseResult line, FrontEnd frontEnd) => line.GetValue(this) is { } name ? frontEnd.FindPin(name)
        : frontEnd.Pins.FirstOrDefault(p => frontEnd.Sensors.Any(s => MappingStudy.Maps(frontEnd, p, s)))
            ?? frontEnd.Pins.FirstOrDefault()
            ?? throw new InputException("the circuit has no pin; write one, such as: pin adc at PIN");
}
