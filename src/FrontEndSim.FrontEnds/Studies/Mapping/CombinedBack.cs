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

    // The number is held within whole steps of a power of two, of which the span has so many at least and twice as many at most, and so
    // many more at either end: boards read beyond the span as well.
    private const int LeastSteps = 128, StepsBeyond = 2;

    private readonly CombinedReading _reading;
    private readonly (ReadBack Couple, ReadBack Cold)? _couple;

    private CombinedBack(CombinedReading reading, (ReadBack, ReadBack)? couple) => (_reading, _couple) = (reading, couple);

    /// <summary>Coefficients in (number − Middle)/Half, lowest power first; empty for a cold junction.</summary>
    public ImmutableArray<double> Coefficients { get; private init; } = [];

    /// <summary>The middle of the numbers over the span.</summary>
    public double Middle { get; private init; }

    /// <summary>Half of their width.</summary>
    public double Half { get; private init; } = 1;

    /// <summary>The power of two of the steps that the number is held within: its lowest is <see cref="FirstStep"/> of them.</summary>
    public int StepPower { get; private init; }

    /// <summary>The lowest number, in steps.</summary>
    public long FirstStep { get; private init; }

    /// <summary>How many steps the highest is above it.</summary>
    public int Steps { get; private init; }

    /// <summary>Where numbers are cut off: just beyond those of the span.</summary>
    public Span Numbers => new(Math.ScaleB(FirstStep, StepPower), Math.ScaleB(FirstStep + Steps, StepPower));

    /// <summary>Largest departure of the nominal circuit, in the sensor's unit.</summary>
    public double Residual { get; private init; }

    /// <summary>Counts of each pin of the nominal circuit over the span; empty for a cold junction.</summary>
    public ImmutableArray<double[]> Counts { get; private init; } = [];

    /// <summary>What firmware computes, in the sensor's unit; beyond the span as at its nearer end, where the formula has no value (zero by
    /// zero) as at the upper end of its numbers.</summary>
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
        double number = _reading.Expression!.Of(shares);
        return At(double.IsNaN(number) ? Numbers.High : number);
    }

    /// <summary>What is measured, in the sensor's unit.</summary>
    /// <param name="number">What the formula gives.</param>
    public double At(double number) => Unbounded(Math.Clamp(number, Numbers.Low, Numbers.High));

    /// <summary>What one count more of one pin makes, in the sensor's unit, as a magnitude.</summary>
    /// <param name="counts">Counts of each pin.</param>
    /// <param name="codes">Codes of each converter.</param>
    /// <param name="pin">Place of the pin.</param>
    public double Step(double[] counts, double[] codes, int pin)
    {
        double[] more = [.. counts.Select((c, k) => k == pin ? c + 0.5 : c)], less = [.. counts.Select((c, k) => k == pin ? c - 0.5 : c)];
        return Math.Abs(Value(more, codes) - Value(less, codes));
    }

    /// <summary>The polynomial, beyond the numbers of the span as well.</summary>
    /// <param name="number">What the formula gives.</param>
    public double Unbounded(double number) => Polynomial((number - Middle) / Half);

    private double Polynomial(double t)
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
        double[][] counts = [.. sweep.Points.Select((_, k) => pins.Select((pin, p) =>
            pin.Converter!.Counts(read[p][k].Nodes[pin.Node], n => read[p][k].Nodes[n])).ToArray())];
        var found = counts.Select((c, k) => (Value: sweep.Values[k],
            Number: reading.Expression!.Of([.. c.Zip(pins, (count, pin) => count / pin.Converter!.Codes)]))).ToArray();
        double first = found[0].Number, last = found[^1].Number;
        for (int k = 1; k < found.Length; k++)
        {
            if (!((found[k].Number - found[k - 1].Number) * Math.Sign(last - first) > 0))
                throw new StudyProblemException(new(ProblemKind.NotMonotone, reading.Name, sensor.Name));
        }
        var curve = NominalCurve.Through(found.Select(f => new SensorPoint(f.Number, f.Value)));
        double middle = 0.5 * (first + last), half = 0.5 * Math.Abs(last - first);
        ImmutableArray<double> coefficients =
            [.. FirmwarePolynomial.Powers(FirmwarePolynomial.Chebyshev(t => curve.At(middle + half * t))[..(Degree + 1)])];
        int power = (int)Math.Floor(Math.Log2(2 * half / LeastSteps));
        long from = (long)Math.Floor(Math.ScaleB(Math.Min(first, last), -power)) - StepsBeyond;
        long to = (long)Math.Ceiling(Math.ScaleB(Math.Max(first, last), -power)) + StepsBeyond;
        CombinedBack Made(double residual) => new(reading, null)
        {
            Middle = middle,
            Half = half,
            Coefficients = coefficients,
            StepPower = power,
            FirstStep = from,
            Steps = (int)(to - from),
            Counts = [.. counts],
            Residual = residual,
        };
        var made = Made(0);
        return Made(found.Max(f => Math.Abs(made.At(f.Number) - f.Value)));
    }
}
