using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies.Build;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Mapping;

/// <summary>
/// What firmware makes of the codes of several pins: the number that the formula gives is turned into what is measured by a polynomial
/// that is made of the nominal circuit; a thermocouple's voltage by its type and the temperature that the other pin reads.
/// </summary>
internal sealed class CombinedBack
{
    // Of a smooth characteristic nine powers leave less than a converter shows.
    private const int Degree = 9, Points = 101;

    private readonly CombinedReading _reading;
    private readonly (ReadBack Couple, ReadBack Cold)? _couple;

    private CombinedBack(CombinedReading reading, (ReadBack, ReadBack)? couple) => (_reading, _couple) = (reading, couple);

    /// <summary>Coefficients in (number − Middle)/Half, lowest power first; empty for a cold junction.</summary>
    public ImmutableArray<double> Coefficients { get; private init; } = [];

    /// <summary>The middle of the numbers over the span.</summary>
    public double Middle { get; private init; }

    /// <summary>Half of their width.</summary>
    public double Half { get; private init; } = 1;

    /// <summary>Largest departure of the nominal circuit, in the sensor's unit.</summary>
    public double Residual { get; private init; }

    /// <summary>What firmware computes, in the sensor's unit; beyond the span as at its nearer end.</summary>
    /// <param name="counts">Counts of each pin, in the order of the pins.</param>
    /// <param name="codes">Codes of each converter.</param>
    public double Value(double[] counts, double[] codes)
    {
        if (_couple is var (couple, cold))
        {
            double junction = cold.Value(counts[1], 25);
            return couple.Value(counts[0], junction);
        }
        double[] shares = [.. counts.Zip(codes, (c, all) => Math.Clamp(c / all, 0, 1))];
        return At(Math.Clamp((_reading.Of(shares) - Middle) / Half, -1.05, 1.05));
    }

    /// <summary>What one count more of one pin makes, in the sensor's unit, as a magnitude.</summary>
    /// <param name="counts">Counts of each pin.</param>
    /// <param name="codes">Codes of each converter.</param>
    /// <param name="pin">Place of the pin.</param>
    public double Step(double[] counts, double[] codes, int pin)
    {
        double[] more = [.. counts.Select((c, k) => k == pin ? c + 0.5 : c)], less = [.. counts.Select((c, k) => k == pin ? c - 0.5 : c)];
        return Math.Abs(Value(more, codes) - Value(less, codes));
    }

    private double At(double t)
    {
        double sum = 0;
        for (int k = Coefficients.Length - 1; k >= 0; k--)
            sum = sum * t + Coefficients[k];
        return sum;
    }

    /// <summary>Makes it of the nominal circuit at the temperature of firmware's constants.</summary>
    /// <exception cref="StudyProblemException">The number does not follow the sensor, or a pin reads no cold junction.</exception>
    public static CombinedBack Of(SolvedFrontEnd solved, CombinedReading reading, CancellationToken cancel)
    {
        var reference = solved.Reference();
        var frontEnd = reference.FrontEnd;
        var sensor = frontEnd.FindSensor(reading.Sensor);
        if (reading.Formula is null)
        {
            if (reference.Mapping(reading.Pins[0], cancel: cancel).Back is not { } couple
                || reference.Mapping(reading.Pins[1], cancel: cancel).Back is not { } cold)
                throw new StudyProblemException(new(ProblemKind.ReadingOfStillPin, reading.Name));
            return new(reading, (couple, cold)) { Residual = couple.Residual };
        }
        Pin[] pins = [.. reading.Pins.Select(frontEnd.FindPin)];
        var sweep = reference.Reading(pins[0].Name).Sweep(sensor.Name, SweepStudy.Grid(sensor.Span.Low, sensor.Span.High, Points),
            refine: true, cancel);
        // Pins behind a multiplexer are read one after the other.
        IReadOnlyList<OperatingPoint>[] read = [.. pins.Select(p => reference.Reading(p.Name) == reference.Reading(pins[0].Name)
            ? sweep.Points : reference.Reading(p.Name).Sweep(sensor.Name, sweep.Values, cancel: cancel).Points)];
        var found = sweep.Points.Select((_, k) => (Value: sweep.Values[k], Number: reading.Of([.. pins.Select((pin, p) =>
            pin.Converter!.Counts(read[p][k].Nodes[pin.Node], n => read[p][k].Nodes[n]) / pin.Converter.Codes)]))).ToArray();
        double first = found[0].Number, last = found[^1].Number;
        for (int k = 1; k < found.Length; k++)
        {
            if (!((found[k].Number - found[k - 1].Number) * Math.Sign(last - first) > 0))
                throw new StudyProblemException(new(ProblemKind.NotMonotone, reading.Name, sensor.Name));
        }
        var curve = NominalCurve.Through(found.Select(f => new SensorPoint(f.Number, f.Value)));
        double middle = 0.5 * (first + last), half = 0.5 * Math.Abs(last - first);
        var made = new CombinedBack(reading, null)
        {
            Middle = middle,
            Half = half,
            Coefficients = [.. FirmwarePolynomial.Powers(FirmwarePolynomial.Chebyshev(t => curve.At(middle + half * t))[..(Degree + 1)])],
        };
        return new(reading, null)
        {
            Middle = middle,
            Half = half,
            Coefficients = made.Coefficients,
            Residual = found.Max(f => Math.Abs(made.At((f.Number - middle) / half) - f.Value)),
        };
    }
}
