using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.FrontEnds.Disturbances;

/// <summary>
/// A generator of fast pulses: a store of some nanofarads that a switch discharges into a shaping resistor again and again, behind
/// 50 ohm and a blocking capacitor. What it holds, ½·C·V², is all that a pulse can deliver; between pulses the store is charged anew.
/// </summary>
/// <param name="StoreFarads">The store, F.</param>
/// <param name="SwitchOhms">Resistance of the closed switch, ohm.</param>
/// <param name="FrontFarads">Across the shaping resistor, F: with the switch it makes the front.</param>
/// <param name="ShapingOhms">The shaping resistor, ohm.</param>
/// <param name="BlockingFarads">The blocking capacitor, F.</param>
/// <param name="PeakOfCharge">Peak of the open circuit over the voltage of the store.</param>
internal sealed record FastPulses(double StoreFarads, double SwitchOhms, double FrontFarads,
    double ShapingOhms, double BlockingFarads, double PeakOfCharge)
{
    /// <summary>Resistance that matches a cable, ohm.</summary>
    public const double SourceOhms = 50;

    // Values fitted with SciPy to 5 ns and 50 ns from half to half, or 5 ns and 150 ns from tenth to tenth,
    // into 50 ohm and into 1 kohm at once, with as little stored as that allows; tests measure the waves.
    /// <summary>IEC 61000-4-4.</summary>
    public static FastPulses Burst { get; } = new(2.384860e-9, 7.104680, 8.142030e-10, 14.7261, 10e-9, 0.4885184);

    /// <summary>ISO 7637-2, pulses 3a and 3b.</summary>
    public static FastPulses Vehicle { get; } = new(2.376960e-9, 7.580730, 7.414680e-10, 15.6422, 100e-9, 0.4980150);

    /// <summary>The elements.</summary>
    /// <param name="name">Name of the generator.</param>
    /// <param name="output">The node after the blocking capacitor.</param>
    /// <param name="peak">Peak of the open circuit, V, of either sign.</param>
    /// <param name="start">The first strike, s.</param>
    /// <param name="period">From one to the next, s.</param>
    /// <param name="count">Strikes in a burst.</param>
    /// <param name="burstPeriod">From one burst to the next, s.</param>
    /// <param name="bursts">Number of bursts.</param>
    public IEnumerable<Element> Elements(string name, string output, double peak, double start, double period, int count,
        double burstPeriod = double.PositiveInfinity, int bursts = 1)
    {
        // The pulse is over long before the switch opens, so that it opens on nothing.
        double closed = Math.Min(0.6 * period, 5e-6);
        var strikes = new Repeated(new Pulse(0, 1, 0, 0, closed, 0.1 * closed), start, period, count, burstPeriod, bursts);
        string supply = name + ".charged", store = name + ".store", shaped = name + ".shaped", matched = name + ".matched";
        return
        [
            new VoltageSource(name, supply, Circuit.Ground, peak / PeakOfCharge),
            // Open while the other switch is closed: what is delivered is the store's alone.
            new Switch(name + ".charging switch", supply, store, strikes) { ClosedOhms = 1e12, OpenOhms = 20 },
            new Capacitor(name + ".C", store, Circuit.Ground, StoreFarads),
            new Switch(name + ".switch", store, shaped, strikes) { ClosedOhms = SwitchOhms, OpenOhms = 1e12 },
            new Capacitor(name + ".front", shaped, Circuit.Ground, FrontFarads),
            new Resistor(name + ".shaping", shaped, Circuit.Ground, ShapingOhms),
            new Resistor(name + ".Rm", shaped, matched, SourceOhms),
            new Capacitor(name + ".blocking", matched, output, BlockingFarads),
        ];
    }
}
