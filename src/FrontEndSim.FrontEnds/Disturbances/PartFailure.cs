using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.FrontEnds.Disturbances;

/// <summary>A part fails while the circuit works: until then it is whole, from then on it is what its way of failing makes of it.</summary>
public sealed record PartFailure : Fault
{
    // Contacts between the circuit and the part as it is whole and as it is broken: next to nothing, and next to no leakage.
    private const double ClosedOhms = 1e-3, OpenOhms = 1e12;

    /// <summary>A failure.</summary>
    /// <param name="part">The part.</param>
    /// <param name="mode">How it fails; one of its <see cref="Part.FailureModes"/>.</param>
    /// <param name="startSeconds">When, s, above zero.</param>
    /// <exception cref="ArgumentException">The start is not above zero.</exception>
    public PartFailure(Part part, FaultMode mode, double startSeconds = 1e-3) : base(startSeconds, null)
    {
        Part = part;
        Mode = mode;
    }

    /// <summary>The part that fails.</summary>
    public Part Part { get; }

    /// <summary>How it fails.</summary>
    public FaultMode Mode { get; }

    /// <inheritdoc/>
    public override FormattableString Words => $"{Part.Name} fails at {new Quantity(StartSeconds, Unit.Seconds)}{Lasts}";

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements(string name, string node, bool isRail = false) =>
        [.. In(Part.Broken(Mode), "broken"), .. Contacts("broken", During(0, 1))];

    /// <inheritdoc/>
    public override IEnumerable<Element> Disturb(IReadOnlyList<Element> undisturbed, string name, string node, Func<string, bool> isRail)
    {
        string[] own = [.. Part.ElementNames];
        return
        [
            .. undisturbed.Where(e => !own.Contains(e.Name)),
            .. undisturbed.Where(e => own.Contains(e.Name)).Select(e => e.Between(n => Inside(n, "whole"))),
            .. Contacts("whole", During(1, 0)),
            .. ToElements(name, node),
        ];
    }

    private IEnumerable<Element> In(IEnumerable<Element> elements, string state) =>
        elements.Select(e => e.Between(n => Inside(n, state)) with { Name = $"{e.Name} {state}" });

    private IEnumerable<Element> Contacts(string state, Engine.Waveforms.Waveform closed) =>
        Part.Nodes.Distinct().Where(n => n != Held).Select(n =>
        new Switch($"{Part.Name} {state} at {n}", n, Inside(n, state), closed) { ClosedOhms = ClosedOhms, OpenOhms = OpenOhms });

    // One end stays where it is, so that what is out of the circuit does not float.
    private string Held => Part.Nodes[0];

    private string Inside(string node, string state) => node == Held ? node : $"{node} in {Part.Name} {state}";
}
