using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.FrontEnds.Disturbances;

/// <summary>A capacitor that discharges through a resistor and a coil.</summary>
/// <param name="Farads">Capacitance, F.</param>
/// <param name="Ohms">Resistance, ohm.</param>
/// <param name="Henries">Inductance, H.</param>
internal sealed record DischargeBranch(double Farads, double Ohms, double Henries);

/// <summary>
/// Charged capacitors that are let loose on one tip, as a person or a discharge gun is. Charge and energy are bounded by the capacitors:
/// a capacitor charged to V behaves as an uncharged one in series with a source that steps to V, and the tip is open until then.
/// </summary>
internal static class DischargeNetwork
{
    // The charging resistor of generators is 50 Mohm to 100 Mohm (from memory); it keeps the capacitors at ground until they strike.
    private const double ChargingOhms = 100e6;

    /// <summary>The elements.</summary>
    /// <param name="name">Name of the generator.</param>
    /// <param name="node">The node that is struck.</param>
    /// <param name="branches">The capacitors, each with its resistor and coil.</param>
    /// <param name="volts">Charging voltage, V.</param>
    /// <param name="start">When it strikes, s.</param>
    /// <param name="rise">How long the arc takes to form, s; zero for a contact.</param>
    public static IEnumerable<Element> Elements(string name, string node, ImmutableArray<DischargeBranch> branches,
        double volts, double start, double rise = 0)
    {
        string charged = name + ".charged", tip = name + ".tip";
        yield return new VoltageSource(name, charged, Circuit.Ground, new Step(0, volts, start, rise));
        for (int k = 0; k < branches.Length; k++)
        {
            string branch = branches.Length == 1 ? name : $"{name}.{k + 1}", store = branch + ".store";
            yield return new Capacitor(branch + ".C", charged, store, branches[k].Farads);
            yield return new Resistor(branch + ".charging", store, Circuit.Ground, ChargingOhms);
            yield return new Inductor(branch + ".L", store, tip, branches[k].Henries) { SeriesOhms = branches[k].Ohms };
        }
        yield return PulseNetwork.Output(name, tip, node, 0, start);
    }
}
