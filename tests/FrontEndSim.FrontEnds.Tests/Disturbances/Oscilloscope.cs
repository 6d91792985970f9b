using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Disturbances;

namespace FrontEndSim.FrontEnds.Tests.Disturbances;

/// <summary>A generator on a load, and the measures that the standards take of what it gives. Times in s from the start.</summary>
internal sealed class Oscilloscope
{
    private readonly Trace _wave;
    private readonly double _peak, _peakTime;

    private Oscilloscope(Trace wave)
    {
        _wave = wave;
        var (when, highest) = wave.Maximum();
        var (whenLowest, lowest) = wave.Minimum();
        (_peakTime, _peak) = highest > -lowest ? (when, highest) : (whenLowest, lowest);
    }

    /// <summary>Voltage across a load.</summary>
    public static Oscilloscope Volts(Disturbance disturbance, double loadOhms, double until) =>
        new(Run(disturbance, loadOhms, until).Voltage("OUT"));

    /// <summary>Current into a load.</summary>
    public static Oscilloscope Amps(Disturbance disturbance, double loadOhms, double until) =>
        new(Run(disturbance, loadOhms, until).Current("load"));

    /// <summary>Voltage of a generator across a load.</summary>
    /// <param name="generator">Its elements by its name and its output.</param>
    /// <param name="loadOhms">The load, ohm.</param>
    /// <param name="until">Length, s.</param>
    public static Oscilloscope Of(Func<string, string, IEnumerable<Element>> generator, double loadOhms, double until) =>
        new(Run(generator, loadOhms, until).Voltage("OUT"));

    private static TransientResult Run(Disturbance disturbance, double loadOhms, double until) =>
        Run((name, node) => disturbance.ToElements(name, node), loadOhms, until);

    private static TransientResult Run(Func<string, string, IEnumerable<Element>> generator, double loadOhms, double until) =>
        new Circuit([new Resistor("load", "OUT", Circuit.Ground, loadOhms), .. generator("generator", "OUT")]).Compile()
            .RunTransient(until);

    /// <summary>Its integral over the run.</summary>
    public double Charge => _wave.Integral();

    /// <summary>The largest value either way, with its sign.</summary>
    public double Peak => _peak;

    public double PeakTime => _peakTime;

    public double At(double time) => _wave.At(time);

    /// <summary>The largest swing against the peak's direction, as a share of the peak.</summary>
    public double Undershoot => _peak > 0 ? -_wave.Minimum().Value / _peak : -_wave.Maximum().Value / _peak;

    /// <summary>The first time that a share of the peak is reached.</summary>
    public double Rising(double share) => _wave.Crossings(share * _peak)[0];

    /// <summary>The first time after the peak that a share of it is left.</summary>
    public double Falling(double share) => _wave.Crossings(share * _peak).First(t => t > _peakTime);

    /// <summary>From 10 % to 90 % of the peak.</summary>
    public double RiseTime => Rising(0.9) - Rising(0.1);

    /// <summary>From half to half of the peak.</summary>
    public double Width => Falling(0.5) - Rising(0.5);

    /// <summary>From 10 % to 10 % of the peak.</summary>
    public double TenthWidth => Falling(0.1) - Rising(0.1);

    /// <summary>Times at which a level is passed upwards in the peak's direction.</summary>
    public double[] Strikes(double share)
    {
        double sign = Math.Sign(_peak), level = share * _peak;
        var slope = _wave.Derivative();
        return [.. _wave.Crossings(level).Where(t => sign * slope.At(t) > 0)];
    }
}
