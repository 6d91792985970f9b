using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Respond;

/// <summary>From which sources a pin's sampling capacitor settles to half a count, and how long it takes.</summary>
/// <param name="PinOhms">Resistance that the circuit itself drives the pin from at the operating point, sensors at mid-span, ohm.</param>
/// <param name="StartVolts">Voltage that the capacitor holds before, V: the worst of the samples.</param>
/// <param name="SourceVolts">Voltage of the source, V.</param>
/// <param name="AcquisitionSeconds">Acquisition time, s, that <see cref="LargestOhms"/> is of.</param>
/// <param name="LargestOhms">Largest resistance of a plain source at the pin, in the circuit's place, from which the capacitor settles in
/// that time, ohm; zero where the switch alone is too slow.</param>
public sealed record SourceLimits(double PinOhms, double StartVolts, double SourceVolts, double AcquisitionSeconds, double LargestOhms)
{
    /// <summary>The source resistance that was asked about, ohm; null for none.</summary>
    public double? SourceOhms { get; init; }

    /// <summary>Acquisition time that a source of it needs, s; null where none was asked about, infinite where it is too long to be
    /// looked for.</summary>
    public double? NeededSeconds { get; init; }
}

/// <summary>A plain source in the place of all that stands ahead of a pin.</summary>
public static class SourceStudy
{
    // Between a wire and what no pin would be driven from.
    private const double LeastOhms = 1, MostOhms = 100e6;

    // Halvings of the search, on a logarithmic scale: down to a part in a thousand.
    private const int Halvings = 15;

    /// <summary>Searches for the largest source, and times one that is asked about.</summary>
    /// <param name="solved">The front end.</param>
    /// <param name="pin">The pin; it needs a converter and a sampling capacitor.</param>
    /// <param name="samples">What samples of it take in the circuit: the one that has furthest to go is taken.</param>
    /// <param name="acquisitionSeconds">Acquisition time, s; null for the pin's.</param>
    /// <param name="sourceOhms">A source resistance to be timed, ohm; null for none.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="CircuitException">The pin cannot be driven by a source.</exception>
    /// <exception cref="SolveException">No solution was found.</exception>
    public static SourceLimits Run(SolvedFrontEnd solved, Pin pin, ImmutableArray<SamplingResult> samples,
        double? acquisitionSeconds = null, double? sourceOhms = null, CancellationToken cancel = default)
    {
        var worst = samples.MaxBy(s => Math.Abs(s.StartVolts - s.RestVolts))!;
        double seconds = acquisitionSeconds ?? pin.Sampling!.Seconds;
        // It stands alone, without a multiplexer.
        var own = pin.SameAs is { } first ? solved.FrontEnd.FindPin(first) : pin;
        var timed = own with { Name = pin.Name, Channel = null, Sampling = pin.Sampling! with { Seconds = seconds } };
        double Needed(double ohms) => SamplingStudy.Run(new SolvedFrontEnd(new FrontEnd
        {
            Rails = solved.FrontEnd.Rails,
            Sensors = [new Sensor("source", pin.Node, new Span(worst.RestVolts, worst.RestVolts + 1), ohms)],
            Pins = [timed],
            Celsius = solved.FrontEnd.Celsius,
        }), pin.Name, "source", worst.RestVolts, worst.StartVolts, cancel).LongEnoughSeconds;
        double low = Math.Log(LeastOhms), high = Math.Log(MostOhms);
        bool isTooSlow = Needed(LeastOhms) > seconds, isQuick = !isTooSlow && Needed(MostOhms) <= seconds;
        for (int k = 0; k < Halvings && !isTooSlow && !isQuick; k++)
        {
            double middle = (low + high) / 2;
            (low, high) = Needed(Math.Exp(middle)) <= seconds ? (middle, high) : (low, middle);
        }
        return new(Driving(solved, pin, cancel), worst.StartVolts, worst.RestVolts, seconds,
            isTooSlow ? 0 : isQuick ? double.PositiveInfinity : Math.Exp(low))
        {
            SourceOhms = sourceOhms,
            NeededSeconds = sourceOhms is { } ohms ? Needed(Math.Max(ohms, 1e-3)) : null,
        };
    }

    private static double Driving(SolvedFrontEnd solved, Pin pin, CancellationToken cancel)
    {
        string meter = pin.Name + ".meter";
        return solved.Compiled(null, new CurrentSource(meter, Circuit.Ground, pin.Node, 0)).SolveSmallSignal(meter, [0], cancel)
            .Response(pin.Node)[0].Real;
    }
}
