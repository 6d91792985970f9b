using FrontEndSim.Engine;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.FrontEnds;

/// <summary>
/// The two ends of a generator that discharges a capacitor. A capacitor charged to V behaves as an uncharged one in series
/// with a source that steps to V when it is let loose, so nothing stirs before.
/// </summary>
internal static class PulseNetwork
{
    /// <summary>The capacitor and the resistor across its discharge.</summary>
    /// <param name="name">Name of the generator, which its source bears.</param>
    /// <param name="charged">Node between source and capacitor.</param>
    /// <param name="shaped">Node after the capacitor.</param>
    /// <param name="volts">What the capacitor is charged to, as a step (or ramp) at the start.</param>
    /// <param name="farads">Its capacitance, F.</param>
    /// <param name="ohms">Resistor from <paramref name="shaped"/> to ground, ohm.</param>
    public static IEnumerable<Element> Charge(string name, string charged, string shaped, Waveform volts, double farads, double ohms) =>
    [
        new VoltageSource(name, charged, Circuit.Ground, volts),
        new Capacitor(name + ".C", charged, shaped, farads),
        new Resistor(name + ".R1", shaped, Circuit.Ground, ohms),
    ];

    /// <summary>What connects the generator to the circuit from its start on.</summary>
    /// <param name="name">Name of the generator.</param>
    /// <param name="output">Its last node.</param>
    /// <param name="node">The node where it strikes.</param>
    /// <param name="ohms">Resistance between the two, ohm.</param>
    /// <param name="start">When it is connected, s.</param>
    public static Element Output(string name, string output, string node, double ohms, double start) =>
        new Switch(name + ".output switch", output, node, new Step(0, 1, start))
        {
            // A milliohm is nothing beside two ohms and keeps the switch's law finite; an open one isolates.
            ClosedOhms = Math.Max(ohms, 1e-3), OpenOhms = 1e12,
        };
}
