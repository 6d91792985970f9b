using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Studies;

namespace FrontEndSim.FrontEnds.Disturbances;

/// <summary>A node touches ground, a rail or another node.</summary>
public sealed record ShortTo : Fault
{
    /// <summary>A short.</summary>
    /// <param name="other">The node that it touches.</param>
    /// <param name="ohms">Resistance of the contact, ohm, above zero.</param>
    /// <param name="startSeconds">When, s, above zero.</param>
    /// <param name="durationSeconds">For how long, s, above zero; null for ever.</param>
    /// <exception cref="ArgumentException">A number is outside its range; the message says which.</exception>
    public ShortTo(string other, double ohms = 0.1, double startSeconds = 1e-3, double? durationSeconds = null)
        : base(startSeconds, durationSeconds)
    {
        Other = other;
        Ohms = Positive("The resistance of a short", ohms, "ohm");
    }

    /// <summary>The node that it touches.</summary>
    public string Other { get; }

    /// <summary>Resistance of the contact, ohm.</summary>
    public double Ohms { get; }

    /// <inheritdoc/>
    public override FormattableString Words => $"short to {Other} through {Ohm(Ohms)}{Lasts}";

    /// <inheritdoc/>
    public override IEnumerable<Element> Disturb(IReadOnlyList<Element> undisturbed, string name, string node, Func<string, bool> isRail) =>
        Other == node ? throw new StudyProblemException(new(ProblemKind.ShortedToItself, node))
        : ShortsSupply(isRail(node)) && undisturbed.Any(e => IsStiff(e, node))
            ? [.. Sources.ConnectedUntil(undisturbed, node, Text, StartSeconds, DurationSeconds), .. ToElements(name, node)]
        : Other == Circuit.Ground || undisturbed.Any(e => e.Terminals.Contains(Other)) ? base.Disturb(undisturbed, name, node, isRail)
        : throw new StudyProblemException(new(ProblemKind.NoNodeToTouch, Other, node));

    /// <inheritdoc/>
    public override SourceEffect OnSource(bool isRail) => ShortsSupply(isRail) ? SourceEffect.Alters : base.OnSource(isRail);

    private bool ShortsSupply(bool isRail) => isRail && Other == Circuit.Ground;

    // No supply holds its voltage on a short: its fuse or its limit gives way, and one of which no resistance is stated comes off.
    private static bool IsStiff(Element element, string node) =>
        element is VoltageSource { To: Circuit.Ground, SeriesOhms: 0 } source && source.From == node;

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements(string name, string node, bool isRail = false) =>
        [new Switch(name, node, Other, During(0, 1)) { ClosedOhms = Ohms, OpenOhms = 1e12 }];
}
