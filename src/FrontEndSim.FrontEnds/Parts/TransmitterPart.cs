using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>
/// A loop transmitter: 4 mA to 20 mA for a command of 1 V to 5 V, drawn from its loop supply, whose voltage it cannot exceed.
/// (IEC 60381-1 has 4 mA to 20 mA, IEC 60381-2 has 1 V to 5 V; from memory.)
/// </summary>
/// <param name="Name">Part name.</param>
/// <param name="Command">Node of the command.</param>
/// <param name="Into">Node that the current is driven into.</param>
/// <param name="Supply">Node of the loop supply.</param>
public sealed record TransmitterPart(string Name, string Command, string Into, string Supply) : Part(Name)
{
    /// <summary>Loop current for a volt of command, S.</summary>
    public const double Siemens = 4e-3;

    /// <summary>What it needs across itself at least to drive its current, V; null where that is not known.</summary>
    public double? AcrossVolts { get; init; }

    // Where the loop is open the transmitter saturates about a diode's drop from its supply.
    private static readonly DiodeModel Compliance = new()
    {
        SaturationAmps = 1e-14,
        EmissionCoefficient = 1,
        ActivationVolts = 1.12, // diffusion in silicon (Sze)
        TemperatureExponent = 3,
        SeriesOhms = 1,
    };

    /// <inheritdoc/>
    public override DrivenLoop? Loop => new(Command, Into, Supply, AcrossVolts);

    /// <inheritdoc/>
    public override string Word => "transmitter";

    /// <inheritdoc/>
    public override string ValueText => "4 mA for 1 V";

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals => [new("command", Command), new("loop", Into), new("supply", Supply)];

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements() =>
    [
        new ControlledCurrentSource(Name, Supply, Into, Command, Circuit.Ground, Siemens),
        new Diode(Name + ".compliance", Into, Supply, Compliance),
    ];
}
