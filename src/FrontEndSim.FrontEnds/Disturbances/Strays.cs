using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.FrontEnds.Disturbances;

/// <summary>
/// What nanoseconds make of parts: those that lead to ground or to a rail have the inductance of their leads, those in series with a
/// signal have a capacitance across them, and each node has one to ground. A discharge of 8 kV rises by 30 A/ns and so makes 30 V a
/// nanohenry.
/// </summary>
/// <param name="LeadHenries">Inductance of a part to ground or to a rail, with its track, H, at least 0.</param>
/// <param name="AcrossFarads">Capacitance across a part in series, F, at least 0.</param>
/// <param name="GroundFarads">Capacitance of each node to ground, F, at least 0.</param>
public sealed record Strays(double LeadHenries, double AcrossFarads, double GroundFarads)
{
    /// <summary>
    /// 5 nH: a surface-mount part with some millimetres of track and a via at about 1 nH/mm; 0.2 pF across it; 0.5 pF of pads and some
    /// millimetres of track at about 1 pF/cm (common practice, no source).
    /// </summary>
    public static Strays Usual { get; } = new(5e-9, 0.2e-12, 0.5e-12);

    // Boards, skin effect and radiation leave a ring of a nanosecond a quality of some units (common practice, no source).
    private const double LossOhms = 20;

    /// <summary>The capacitances of nodes to ground.</summary>
    internal IEnumerable<Element> ToGround(IEnumerable<string> nodes) => GroundFarads > 0
        ? nodes.Select(n => new Capacitor(n + ".to ground", n, Circuit.Ground, GroundFarads)) : [];

    /// <summary>A rated quantity of a part as the part itself sees it, its leads outside: the voltage of a capacitor or a diode.</summary>
    /// <param name="part">The part.</param>
    /// <param name="quantity">The quantity, between the nodes that the part is wired to.</param>
    /// <param name="isQuiet">Whether a node is ground or a rail.</param>
    internal RatedQuantity Inside(Part part, RatedQuantity quantity, Func<string, bool> isQuiet)
    {
        if (quantity is not VoltageAcross v || LeadHenries == 0 || part.ToElements().ToArray() is not [var element]
            || isQuiet(v.From) == isQuiet(v.To))
            return quantity;
        string lead = element.Name + ".lead";
        return Leading(element, isQuiet(element.Terminals[0]), lead) is null ? quantity
            : isQuiet(v.From) ? v with { To = lead } : v with { From = lead };
    }

    /// <summary>The elements of a part with its strays.</summary>
    /// <param name="part">The part.</param>
    /// <param name="isQuiet">Whether a node is ground or a rail.</param>
    internal IEnumerable<Element> Around(Part part, Func<string, bool> isQuiet)
    {
        foreach (var element in part.ToElements())
        {
            bool from = isQuiet(element.Terminals[0]), to = element.Terminals.Length == 2 && isQuiet(element.Terminals[1]);
            string hot = element.Terminals[from ? 1 : 0], lead = element.Name + ".lead";
            if (LeadHenries > 0 && from != to && Leading(element, from, lead) is { } leading)
            {
                yield return leading;
                yield return new Inductor(element.Name + ".lead inductance", hot, lead, LeadHenries) { SeriesOhms = 1e-3 };
                yield return new Resistor(element.Name + ".lead loss", hot, lead, LossOhms);
                continue;
            }
            yield return element;
            if (AcrossFarads > 0 && !from && !to && element is Resistor or Inductor && element.Terminals[0] != element.Terminals[1])
                yield return new Capacitor(element.Name + ".stray", element.Terminals[0], element.Terminals[1], AcrossFarads);
        }
    }

    /// <summary>A capacitor or a diode with its lead between it and the node that moves; null for what no lead spoils.</summary>
    private static Element? Leading(Element element, bool isFromQuiet, string lead) => element switch
    {
        Capacitor c => isFromQuiet ? c with { To = lead } : c with { From = lead },
        Diode d => isFromQuiet ? d with { To = lead } : d with { From = lead },
        _ => null,
    };
}
