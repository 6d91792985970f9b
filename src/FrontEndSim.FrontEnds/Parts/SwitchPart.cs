using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>A switch or jumper, open or closed.</summary>
/// <param name="Name">Part name.</param>
/// <param name="From">One contact.</param>
/// <param name="To">The other.</param>
/// <param name="Closed">1 for closed and 0 for open, against time.</param>
public sealed record SwitchPart(string Name, string From, string To, Waveform Closed) : Part(Name)
{
    /// <inheritdoc/>
    public override string Word => "switch";

    /// <inheritdoc/>
    public override string Symbol => ValueText + " switch";

    /// <inheritdoc/>
    public override string ValueText => Closed.At(0) > 0.5 ? "closed" : "open";

    /// <inheritdoc/>
    public override ImmutableArray<Terminal> Terminals => Ends(From, To);

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements() => [new Switch(Name, From, To, Closed)];
}
