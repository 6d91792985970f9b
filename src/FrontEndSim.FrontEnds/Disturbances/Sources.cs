using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;
using FrontEndSim.FrontEnds.Studies;

namespace FrontEndSim.FrontEnds.Disturbances;

/// <summary>What drives a node among the elements of a circuit: a rail, a sensor or a source part between the node and ground.</summary>
internal static class Sources
{
    /// <summary>The elements with what drives the node changed into something else, or taken out.</summary>
    /// <param name="elements">The elements.</param>
    /// <param name="node">The node.</param>
    /// <param name="what">What happens, for the message.</param>
    /// <param name="change">What a source becomes.</param>
    /// <exception cref="StudyProblemException">Nothing drives the node.</exception>
    public static IReadOnlyList<Element> Changed(IReadOnlyList<Element> elements, string node, string what,
        Func<VoltageSource, IEnumerable<Element>> change)
    {
        int found = 0;
        Element[] changed = [.. elements.SelectMany(e =>
            e is VoltageSource { To: Circuit.Ground } source && source.From == node && found++ >= 0 ? change(source) : [e])];
        return found > 0 ? changed : throw new StudyProblemException(new(ProblemKind.NothingDrives, node, what));
    }

    /// <summary>Whether a rail, a source part or a sensor that is given by its voltage drives the node.</summary>
    public static bool IsDriven(IReadOnlyList<Element> elements, string node) =>
        elements.Any(e => e is VoltageSource { To: Circuit.Ground, Law: null } source && source.From == node);

    /// <summary>Whether a sensor of that name that is given by its voltage drives the node.</summary>
    public static bool IsDrivenBy(IReadOnlyList<Element> elements, string node, string name) =>
        elements.Any(e => e is VoltageSource { To: Circuit.Ground, Law: null } source && source.From == node && source.Name == name);

    /// <summary>The sensor with a law of its own that ends at a node: the element that follows what it measures, and all its elements; null
    /// where there is none.</summary>
    /// <param name="elements">The elements.</param>
    /// <param name="node">The node.</param>
    /// <param name="name">Name of the sensor; null for the first.</param>
    public static (Element Sensing, Element[] All)? SensorAt(IReadOnlyList<Element> elements, string node, string? name = null)
    {
        foreach (var sensing in elements.Where(e => name is null ? Follows(e) : e.Name == name))
        {
            Element[] all = [.. elements.Where(e => e == sensing || e.Name.StartsWith(sensing.Name + ".", StringComparison.Ordinal))];
            if (all.Any(e => e.Terminals.Contains(node)))
                return (sensing, all);
        }
        return null;
    }

    private static bool Follows(Element element) => element is SensingResistor or SensingCapacitor or SensingNetwork or SensingShare
        or VoltageSource { Law: not null } or CurrentSource { Law: not null };

    /// <summary>The two ends of a sensor that may be mixed up; null where it has no two that are alike.</summary>
    public static (string First, string Second)? Ends(Element sensing, Element[] all) => sensing switch
    {
        SensingNetwork { Arms: [var lower, var upper] } => (lower.To, upper.From),
        // The outputs of a bridge, which may lie behind a resistance.
        SensingNetwork { Arms.Length: > 2 } bridge =>
            (all.OfType<Resistor>().FirstOrDefault(r => r.From == bridge.Arms[0].From)?.To ?? bridge.Arms[0].From, bridge.Arms[2].From),
        // A charge stands behind the sensor's own capacitance.
        VoltageSource charge when all.OfType<Capacitor>().FirstOrDefault(c => c.From == charge.From) is { } own => (own.To, charge.To),
        SensingResistor or SensingCapacitor or VoltageSource or CurrentSource => (sensing.Terminals[0], sensing.Terminals[1]),
        _ => null,
    };

    /// <summary>The elements without what drives the node.</summary>
    /// <exception cref="StudyProblemException">Nothing drives the node.</exception>
    public static IReadOnlyList<Element> Removed(IReadOnlyList<Element> elements, string node, string what) =>
        Changed(elements, node, what, _ => []);

    /// <summary>The elements with what drives the node connected until something takes its place, and again after that.</summary>
    /// <param name="elements">The elements.</param>
    /// <param name="node">The node.</param>
    /// <param name="what">What happens, for the message.</param>
    /// <param name="start">When it gives way, s.</param>
    /// <param name="seconds">For how long, s; null for ever.</param>
    /// <exception cref="StudyProblemException">Nothing drives the node.</exception>
    public static IReadOnlyList<Element> ConnectedUntil(IReadOnlyList<Element> elements, string node,
        string what, double start, double? seconds) =>
        Changed(elements, node, what, s =>
        [
            // A source that is connected for a time needs a resistance; a milliohm changes nothing else.
            s with
            {
                SeriesOhms = Math.Max(s.SeriesOhms, 1e-3),
                Connected = seconds is { } d ? new Pulse(1, 0, start, 0, d, 0) : new Step(1, 0, start),
            },
            // Between the two nothing else may hold the node: its insulation does.
            new Resistor(s.Name + ".insulation", node, Circuit.Ground, 1e9),
        ]);

    /// <summary>The elements with what drives the node behind an inductance; unchanged where nothing does.</summary>
    /// <param name="elements">The elements.</param>
    /// <param name="node">The node.</param>
    /// <param name="henries">The inductance, H.</param>
    public static IReadOnlyList<Element> Decoupled(IReadOnlyList<Element> elements, string node, double henries) =>
        elements.Any(e => e is VoltageSource { To: Circuit.Ground } source && source.From == node)
            ? Changed(elements, node, "", s =>
            [
                s with { From = s.Name + ".fed" },
                new Inductor(s.Name + ".decoupling", s.Name + ".fed", node, henries) { SeriesOhms = 1e-3 },
            ])
            : elements;
}
