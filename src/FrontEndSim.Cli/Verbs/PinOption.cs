using System.CommandLine;
using FrontEndSim.FrontEnds;

namespace FrontEndSim.Cli.Verbs;

/// <summary>--pin NAME: the pin to look at.</summary>
internal sealed class PinOption : Option<string?>
{
    public PinOption() : base("--pin")
    {
        HelpName = "NAME";
        Description = "The pin to look at; the first that a sensor is mapped onto if not given.";
    }

    /// <summary>The pin asked for, or the first with a mapping.</summary>
    /// <exception cref="InputException">No pin has a mapping.</exception>
    /// <exception cref="StudyProblemException">There is no pin of that name.</exception>
    public Pin Pin(ParseResult line, FrontEnd frontEnd) => line.GetValue(this) is { } name ? frontEnd.FindPin(name)
        : frontEnd.Pins.FirstOrDefault(p => frontEnd.Sensors.Any(s => MappingStudy.Maps(frontEnd, p, s)))
            ?? throw new InputException("no sensor is mapped onto a pin; give a pin a converter (converts 12 bits over 0 V .. VDD), or a stage a mapping");
}
