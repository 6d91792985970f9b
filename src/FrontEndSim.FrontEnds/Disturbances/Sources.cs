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
        return found > 0 ? changed : throw new StudyProblemException(
            $"\"{what}\" happens to what drives a node, but no rail and no sensor drives {node}.");
    }

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
