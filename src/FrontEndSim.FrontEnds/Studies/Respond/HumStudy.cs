using System.Numerics;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Respond;

/// <summary>What the hum on a sensor's line leaves in a reading.</summary>
/// <param name="Sensor">Name of the sensor.</param>
/// <param name="Hum">The hum.</param>
/// <param name="PinVolts">Its peak at the pin, V, with nominal parts.</param>
/// <param name="WorstHertz">The frequency within its tolerance that leaves most, Hz.</param>
/// <param name="Leaves">What averaging leaves of it there, as a share.</param>
/// <param name="LeftVolts">What is left in a reading, V, either way, tolerances of the parts included.</param>
/// <param name="LeftCounts">The same in counts; null for a pin that does not convert.</param>
public sealed record HumLeft(string Sensor, Hum Hum, double PinVolts, double WorstHertz, double Leaves, double LeftVolts,
    double? LeftCounts)
{
    /// <summary>How the pin is sampled; null where that is not said: a reading is then one sample.</summary>
    public Averaging? Averaging { get; init; }

    /// <summary>Its peak at the pin, tolerances of the parts included, V.</summary>
    public double MostPinVolts { get; init; }

    /// <summary>Its peak at the pin, tolerances of the parts included, counts; 0 for a pin that does not convert.</summary>
    public double PeakCounts { get; init; }

    /// <summary>What a mean of many samples lacks where the converter cuts crests off, counts, whatever averaging leaves of a whole
    /// sine; 0 for a single sample.</summary>
    /// <param name="counts">Where the pin stands without hum, counts.</param>
    /// <param name="codes">Codes of the converter.</param>
    public double CutCounts(double counts, double codes) =>
        Averaging is null ? 0 : HumStudy.CutOff(PeakCounts, Math.Min(counts, codes - counts));

    /// <summary>The frequency at which it comes back in the readings, Hz; null where it is not said how often the pin is sampled.</summary>
    public double? FoldedHertz => Averaging?.Folded(WorstHertz);
}

/// <summary>What hum leaves in readings: what the circuit lets through of it, and of that what averaging leaves.</summary>
public static class HumStudy
{
    // Frequencies looked at within the tolerance, both ends included.
    private const int Frequencies = 41;

    /// <summary>The hum of each sensor that reaches a pin.</summary>
    /// <param name="solved">The front end.</param>
    /// <param name="pin">The pin.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="SolveException">No solution was found.</exception>
    public static ImmutableArray<HumLeft> Run(SolvedFrontEnd solved, Pin pin, CancellationToken cancel = default)
    {
        var frontEnd = solved.FrontEnd;
        var reached = SignalPath.Upstream(frontEnd, pin.Node).ToHashSet();
        return
        [
            .. frontEnd.Sensors.Where(s => s.Nodes.Any(reached.Contains))
                .SelectMany(s => Beside(s, pin).Select(h => Of(solved, pin, s, h, cancel))),
        ];
    }

    // What rides on the voltage of a sensor that is read by a converter is in its readings as hum is.
    private static IEnumerable<Hum> Beside(Sensor sensor, Pin pin) =>
    [
        .. sensor.Hum is { } hum ? [hum] : Array.Empty<Hum>(),
        .. sensor.Ripple is { } ripple && pin.Converter is not null
            ? [new(ripple.PeakToPeakVolts / (2 * Math.Sqrt(2)), ripple.Hertz, 0, null)] : Array.Empty<Hum>(),
    ];

    // So slow that every capacitor follows, Hz over that of the hum.
    private const double Slow = 1e-6;

    // What moves a node by less of itself does not reach it.
    private const double Nothing = 1e-9;

    /// <summary>How much of the crest of a sensor's hum reaches nodes, over what came of it if it stood still: 1 where nothing holds it
    /// back, and the most of all nodes.</summary>
    /// <param name="solved">The front end.</param>
    /// <param name="sensor">The sensor, with hum or without.</param>
    /// <param name="nodes">The nodes.</param>
    /// <param name="cancel">Stops the solver.</param>
    internal static double CrestShare(SolvedFrontEnd solved, Sensor sensor, IEnumerable<string> nodes, CancellationToken cancel)
    {
        if (sensor.Hum is not { } hum)
            return 1;
        try
        {
            var (with, added) = hum.Beside(solved.FrontEnd, sensor);
            var circuit = solved.With(with).Compiled(SolvedFrontEnd.At(sensor.Name, sensor.Span.Middle), added);
            var found = circuit.SolveSmallSignal(Hum.SourceOf(sensor), [Slow * hum.Hertz, hum.Hertz], cancel);
            // Through a capacitance nothing comes of what stands still: the current of the crest stands in its place.
            double scale = hum.Farads is null ? 1 : Slow;
            // A clamp that conducts holds the line: what its own capacitance takes of the current, where nothing holds it, is the clamp's.
            var line = hum.Farads is null ? null : found.Response(sensor.Node);
            double Reaches(Complex[] at, int k) => line is null ? at[k].Magnitude : (at[k] / (1 - line[k])).Magnitude;
            return nodes.Where(n => n != Circuit.Ground).Distinct().Select(n => found.Response(n).ToArray())
                .Where(at => Reaches(at, 0) > Nothing * scale)
                .Select(at => Math.Min(1, Reaches(at, 1) * scale / Reaches(at, 0))).DefaultIfEmpty(0).Max();
        }
        catch (SolveException)
        {
            return 1;
        }
    }

    /// <summary>Mean of what a sine of a peak loses where it is cut off so far above its middle: the integral of what is beyond, over a
    /// period.</summary>
    internal static double CutOff(double peak, double room)
    {
        double at = Math.Clamp(room, -peak, peak);
        return peak <= 0 ? 0 : (Math.Sqrt(peak * peak - at * at) - at * Math.Acos(at / peak)) / Math.PI;
    }

    private static HumLeft Of(SolvedFrontEnd solved, Pin pin, Sensor sensor, Hum hum, CancellationToken cancel)
    {
        var frontEnd = solved.FrontEnd;
        double[] hertz = [.. Enumerable.Range(0, hum.Tolerance > 0 ? Frequencies : 1)
            .Select(k => hum.Hertz * (1 + hum.Tolerance * (hum.Tolerance > 0 ? 2.0 * k / (Frequencies - 1) - 1 : 0)))];
        double[] passes = Passes(frontEnd), shares = [.. hertz.Select(f => pin.Averaging?.Leaves(f) ?? 1)];
        int worst = Enumerable.Range(0, hertz.Length).MaxBy(k => passes[k] * shares[k]);
        double loose = LoosePart.Sum(frontEnd, moved => Passes(moved)[worst] / passes[worst] - 1);
        double peak = Math.Sqrt(2) * hum.RmsVolts * passes[worst], left = peak * shares[worst] * (1 + loose);
        return new(sensor.Name, hum, peak, hertz[worst], shares[worst], left,
            pin.Converter is { } c ? left / c.CountVolts(frontEnd.Rails) : null)
        {
            Averaging = pin.Averaging,
            MostPinVolts = peak * (1 + loose),
            PeakCounts = pin.Converter is { } by ? peak * (1 + loose) / by.CountVolts(frontEnd.Rails) : 0,
        };

        // The most over the sensor's span, by frequency.
        double[] Passes(FrontEnd of)
        {
            var (with, added) = hum.Beside(of, sensor);
            var beside = solved.With(with);
            double[] most = new double[hertz.Length];
            foreach (double value in new[] { sensor.Span.Low, sensor.Span.Middle, sensor.Span.High })
            {
                var gains = beside.Compiled(SolvedFrontEnd.At(sensor.Name, value), added)
                    .SolveSmallSignal(Hum.SourceOf(sensor), hertz, cancel).Response(pin.Node);
                for (int k = 0; k < most.Length; k++)
                    most[k] = Math.Max(most[k], gains[k].Magnitude);
            }
            return most;
        }
    }
}
