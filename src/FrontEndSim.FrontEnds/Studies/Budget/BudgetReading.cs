using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Respond;
using FrontEndSim.FrontEnds.Studies.Session;
using FrontEndSim.FrontEnds.Uncertainty;

namespace FrontEndSim.FrontEnds.Studies.Budget;

/// <summary>The readings of a pin as a function of every source of error: what the propagations work on.</summary>
internal sealed class BudgetReading
{
    private readonly SolvedFrontEnd _solved;
    private readonly Pin _pin;
    private readonly WantedMapping _wanted;
    private readonly CancellationToken _cancel;
    private readonly ErrorSources _sources;
    // what the sensor measures, ascending, with the two places of the calibration; equal places appear once
    private readonly double[] _volts;
    private readonly int[] _places; // of those asked for, then the two of the calibration
    private readonly ReadBack? _back;
    private readonly double[] _nominal = []; // counts of nominal parts at the two places of the calibration, where firmware reads
    private readonly double[] _warmer = []; // self-heating of the sensor by place, where firmware reads
    private readonly double _lowVolts, _countVolts;
    private readonly ConverterErrors _own;
    private readonly int _settling; // place among the inputs; -1 for none
    private readonly (double Middle, double Half)[] _settlingCounts;
    private readonly Span _span;
    private readonly double[] _means;
    private readonly Dictionary<double, ReadingsByDraw> _readings = []; // by temperature

    /// <summary>The readings of a pin.</summary>
    /// <param name="solved">The front end, at the temperature of the calibration.</param>
    /// <param name="pin">The pin.</param>
    /// <param name="wants">Where its sensor is to land.</param>
    /// <param name="settings">Calibration, and what is taken where nothing is given.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <param name="places">What the sensor measures at the places asked for; null for both ends of its span and the middle.</param>
    /// <param name="back">What firmware computes from counts: errors are then in the sensor's unit; null for errors in counts.</param>
    public BudgetReading(SolvedFrontEnd solved, Pin pin, WantedMapping wants, BudgetSettings settings, CancellationToken cancel,
        IReadOnlyList<double>? places = null, ReadBack? back = null)
    {
        (_solved, _pin, _wanted, _cancel, _back) = (solved, pin, wants, cancel, back);
        var frontEnd = solved.FrontEnd;
        _sources = new ErrorSources(frontEnd, settings.Assumed);
        var sensor = frontEnd.FindSensor(wants.Sensor);
        var span = sensor.Span;
        double[] wanted = [.. places ?? [span.Low, span.Middle, span.High], span.At(settings.Calibration.Low),
            span.At(settings.Calibration.High)];
        _span = span;
        _volts = [.. wanted.Distinct().Order()];
        _places = [.. wanted.Select(v => Array.IndexOf(_volts, v))];

        // The scale of the wanted reading: rails at their nominal voltage.
        double count = _countVolts = MappingStudy.CountVolts(frontEnd, pin);
        _lowVolts = pin.Converter?.Range(frontEnd.Rails).Low ?? 0;
        SpanCounts = Math.Abs(_wanted.Ideal(span.High) - _wanted.Ideal(span.Low)) / _countVolts;

        List<ErrorQuantity> inputs = [.. _sources.All];
        (_settling, _settlingCounts) = (-1, []);
        double noise = solved.Noise(pin, wants.Sensor, cancel).RmsVolts / count;
        _own = new ConverterErrors(pin, inputs, isCalibrated: true);
        _own.AddStep();
        _own.AddStated();
        _own.AddNoise(noise);
        if (pin is { Sampling: not null, Converter: not null })
        {
            _settling = inputs.Count;
            inputs.Add(new(pin.Name + " sampling settle", new RectangularInput(-1, 1), ErrorKind.Settling));
            _settlingCounts = [.. _volts.Select(v =>
            {
                double[] errors = [.. SamplingStudy.OverRange(solved, pin, wants.Sensor, v, cancel).Select(s => s.ErrorVolts / count)];
                return ((errors.Max() + errors.Min()) / 2, (errors.Max() - errors.Min()) / 2);
            })];
        }
        Inputs = [.. inputs];
        _means = [.. inputs.Select(i => i.Distribution.Mean)];
        NoiseVolts = noise * count;
        if (back is null)
            return;
        double[] nominal = At(solved.Reference().FrontEnd.Celsius).Of([_means])[0];
        _nominal = [nominal[First], nominal[Second]];
        _warmer = [.. _places.Select(p => sensor.SelfHeating(
            solved.Rest(SolvedFrontEnd.At(sensor.Name, _volts[p]), cancel).Parts[sensor.Name].Watts))];
    }

    /// <summary>How many places are asked for.</summary>
    private int Count => _places.Length - 2;

    private int First => _places[^2];

    private int Second => _places[^1];

    /// <summary>Every source of error.</summary>
    public ImmutableArray<ErrorQuantity> Inputs { get; }

    /// <summary>Noise of one reading, rms, V.</summary>
    public double NoiseVolts { get; }

    public double SpanCounts { get; }

    public string Unit => _pin.Converter is null ? "mV" : "counts";

    /// <summary>What the sensor measures at a place asked for, in its own unit.</summary>
    public double Value(int place) => _volts[_places[place]];

    /// <summary>How far the nominal reading rises between the two places of the calibration, over what is wanted there.</summary>
    public double CalibrationRise()
    {
        double[] nominal = At(_solved.FrontEnd.Celsius).Of([_means])[0];
        return (nominal[Second] - nominal[First]) / (Ideal(Count + 1, _wanted) - Ideal(Count, _wanted));
    }

    /// <summary>
    /// The errors at the places asked for, as read and then as calibrated at the front end's own temperature.
    /// </summary>
    public MeasurementFunction Errors(double celsius) => Errors([celsius], [false, true]);

    /// <summary>The errors by temperature, °C, then as read or calibrated, then by place.</summary>
    public MeasurementFunction Errors(IReadOnlyList<double> celsius, IReadOnlyList<bool> calibrated)
    {
        ReadingsByDraw reference = At(_solved.FrontEnd.Celsius);
        ReadingsByDraw[] now = [.. celsius.Select(At)];
        WantedMapping[] wanted = [.. celsius.Select(c => _wanted with { Celsius = c })];
        return (draws, inputs) =>
        {
            var values = new double[draws][];
            Parallel.For(0, draws, new ParallelOptions { CancellationToken = _cancel }, draw =>
            {
                values[draw] = [.. _means];
                inputs(draw, values[draw]);
            });
            double[][][] readings = [.. now.Select(n => n.Of(values))];
            double[][] before = calibrated.Contains(true) ? reference.Of(values) : readings[0];
            return [.. values.Select((x, draw) =>
            {
                var errors = new double[now.Length * calibrated.Count * Count];
                int next = 0;
                for (int t = 0; t < now.Length; t++)
                {
                    foreach (bool isCalibrated in calibrated)
                    {
                        for (int place = 0; place < Count; place++)
                        {
                            errors[next++] = Error(readings[t][draw], isCalibrated ? before[draw] : null, x, place, wanted[t],
                                celsius[t]);
                        }
                    }
                }
                return errors;
            })];
        };
    }

    /// <summary>The readings at a temperature, °C.</summary>
    private ReadingsByDraw At(double celsius)
    {
        if (_readings.TryGetValue(celsius, out var kept))
            return kept;
        var trials = _solved.AtCelsius(celsius).Compiled()
            .PrepareTrials(_wanted.Sensor, _volts, _sources.Numbers, [_pin.Node, .. _pin.Converter?.References ?? []], cancel: _cancel);
        return _readings[celsius] = new(trials, _pin, _sources, celsius, _cancel);
    }

    private double Error(double[] reading, double[]? before, double[] x, int place, WantedMapping wanted, double celsius)
    {
        double read = Read(reading, x, place, before is not null) + _own.StepAndNoise(x, 0);
        if (before is not null)
        {
            double first = Read(before, x, Count, true) + _own.StepAndNoise(x, 1),
                second = Read(before, x, Count + 1, true) + _own.StepAndNoise(x, 2);
            double low = _back is null ? Ideal(Count, _wanted) : _nominal[0], high = _back is null
                ? Ideal(Count + 1, _wanted) : _nominal[1];
            // Two readings that are alike, as at an end of the converter, give no slope: firmware can correct nothing by them.
            if (second != first)
                read = low + (read - first) * (high - low) / (second - first);
        }
        return _back is null ? read - Ideal(place, wanted) : _back.Value(read, celsius) - Value(place) + _warmer[place];
    }

    /// <summary>A reading before its step and noise, with what the sampling capacitor lacks and the converter's own errors. What lies
    /// beyond the converter's range reads as its end: no calibration brings it back.</summary>
    private double Read(double[] reading, double[] x, int place, bool isLimited)
    {
        double read = reading[_places[place]] + Settling(x, place);
        // The place of a calibration reading keeps the non-linearity that the calibration saw.
        int seen = _places[place] == First ? 1 : _places[place] == Second ? 2 : 0;
        read += _own.Stated(x, reading[_places[place]], seen);
        return isLimited && _pin.Converter is { } converter ? Math.Clamp(read, 0, converter.Codes) : read;
    }

    private double Settling(double[] x, int place) =>
        _settling < 0 ? 0 : _settlingCounts[_places[place]].Middle + x[_settling] * _settlingCounts[_places[place]].Half;

    private double Ideal(int place, WantedMapping wanted) => (wanted.Ideal(_volts[_places[place]]) - _lowVolts) / _countVolts;

    // A reading that moves by fewer counts over the whole span, at the slope of a place, does not follow the sensor there.
    private const double LeastFollowed = 1e-3;

    /// <summary>How much of what the sensor measures one count is at a place asked for, in the sensor's unit; null where the reading
    /// does not follow it.</summary>
    public double? ValuePerCount(int place, double celsius)
    {
        if (_wanted is { IsOfNominalParts: false, Law: null or { IsStraight: true } })
            return _span.Width / SpanCounts;
        var wanted = _wanted with { Celsius = celsius };
        double at = Value(place), step = 1e-4 * _span.Width;
        // Towards the inside of the span, where the curve is known.
        double other = at >= _span.High ? at - step : at + step;
        double counts = Math.Abs(wanted.Ideal(other) - wanted.Ideal(at)) / _countVolts;
        return counts * _span.Width / step >= LeastFollowed ? step / counts : null;
    }
}
