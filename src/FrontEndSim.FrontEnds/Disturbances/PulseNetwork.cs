using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.FrontEnds.Disturbances;

/// <summary>
/// The two ends of a generator that discharges a capacitor. A capacitor charged to V behaves as an uncharged one in series
/// with a source that steps to V when it is let loose, so nothing stirs before.
/// </summary>
internal static class PulseNetwork
{
    /// <summary>The capacitor and the resistor across its discharge.</summary>
    /// <param name="name">Name of the generator, which its source bears.</param>
    /// <param name="shaped">Node after the capacitor.</param>
    /// <param name="volts">What the capacitor is charged to, as a step (or ramp) at the start.</param>
    /// <param name="farads">Its capacitance, F.</param>
    /// <param name="ohms">Resistor across the discharge, from <paramref name="shaped"/> to <paramref name="below"/>, ohm.</param>
    /// <param name="below">The node that the generator stands on: ground, or the supply that it is in series with.</param>
    public static IEnumerable<Element> Charge(string name, string shaped, Waveform volts, double farads,
        double ohms, string below = Circuit.Ground) =>
    [
        new VoltageSource(name, name + ".charged", below, volts),
        new Capacitor(name + ".C", name + ".charged", shaped, farads),
        new Resistor(name + ".R1", shaped, below, ohms),
    ];

    /// <summary>
    /// A capacitor that discharges through a resistor of its own and the source resistance, as generators of vehicle pulses do:
    /// both its durations, open and into a load as large as the source, then come out right.
    /// </summary>
    /// <param name="name">Name of the generator.</param>
    /// <param name="below">The node that it stands on.</param>
    /// <param name="output">The node after the source resistance.</param>
    /// <param name="peak">Peak of the open circuit above <paramref name="below"/>, V.</param>
    /// <param name="rise">From 10 % to 90 %, s, short beside the duration.</param>
    /// <param name="duration">From 10 % of the peak to 10 % of the peak with the circuit open, s.</param>
    /// <param name="loaded">Duration into a load as large as the source, over that with the circuit open; below 1.</param>
    /// <param name="sourceOhms">Source resistance, ohm.</param>
    /// <param name="start">When it strikes, s.</param>
    public static IEnumerable<Element> Discharging(string name, string below, string output, double peak, double rise, double duration,
        double loaded, double sourceOhms, double start)
    {
        // Loaded, R1 lies parallel to the source and the load: (2R)/(R1 + 2R) = loaded.
        double r1 = 2 * sourceOhms * (1 / loaded - 1);
        // From 10 % to 90 % is 0.8 of the ramp; its last 90 % belong to the duration; and while it lasts the capacitor loses a little.
        double ramp = rise / 0.8, decay = (duration - 0.9 * ramp) / Math.Log(10), kept = decay / ramp * (1 - Math.Exp(-ramp / decay));
        string shaped = name + ".shaped";
        return
        [
            .. Charge(name, shaped, new Step(0, peak / kept, start, ramp), decay / r1, r1, below),
            new Resistor(name + ".Ri", shaped, output, sourceOhms),
        ];
    }

    /// <summary>What connects the generator to the circuit from its start on.</summary>
    /// <param name="name">Name of the generator.</param>
    /// <param name="output">Its last node.</param>
    /// <param name="node">The node where it strikes.</param>
    /// <param name="ohms">Resistance between the two, ohm.</param>
    /// <param name="start">When it is connected, s.</param>
    /// <param name="seconds">For how long, s; infinity for ever.</param>
    public static Element Output(string name, string output, string node, double ohms, double start,
        double seconds = double.PositiveInfinity) =>
        new Switch(name + ".output switch", output, node, double.IsFinite(seconds)
            ? new Pulse(0, 1, start, 0, seconds, 0) : new Step(0, 1, start))
        {
            // A milliohm is nothing beside two ohms and keeps the switch's law finite; an open one isolates.
            ClosedOhms = Math.Max(ohms, 1e-3),
            OpenOhms = 1e12,
        };

    /// <summary>
    /// A supply that feeds the node at the operating point and lets go of it while something else holds it higher, as the supply of a
    /// pulse generator
    /// does behind its diode.
    /// </summary>
    /// <param name="name">Name of the generator.</param>
    /// <param name="node">The node that it feeds.</param>
    /// <param name="volts">Its voltage, V, at least 0.</param>
    public static Element Supply(string name, string node, double volts) =>
        new VoltageSource(name + ".supply", node, Circuit.Ground, volts) { SeriesOhms = SupplyOhms, SourceOnly = true };

    /// <summary>A battery with its lines, ohm (from memory).</summary>
    public const double SupplyOhms = 0.05;
}
