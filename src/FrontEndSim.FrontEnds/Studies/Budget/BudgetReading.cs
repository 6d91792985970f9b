using System.Collections.Immutable;
using FrontEndSim.Engine;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Mapping;
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
    // what the sensor measures, ascending: zero, calibration, mid, calibration, full; equal places appear once
    private readonly double[] _volts;
    private readonly int[] _places; // of zero, mid, full, and the two of the calibration
    private readonly double _lowVolts, _countVolts;
    private readonly int _quantisation, _noise, _settling, _offset, _gain, _linearity; // place among the inputs; -1 for none
    private readonly (double Middle, double Half)[] _settlingCounts;

    public BudgetReading(SolvedFrontEnd solved, Pin pin, WantedMapping wants, BudgetSettings settings, CancellationToken cancel)
    {
        (_solved, _pin, _wanted, _cancel) = (solved, pin, wants, cancel);
        var frontEnd = solved.FrontEnd;
        _sources = new ErrorSources(frontEnd, settings.Assumed);
        var span = frontEnd.FindSensor(wants.Sensor).Span;
        double[] wanted = [span.Low, span.Middle, span.High, span.At(settings.Calibration.Low), span.At(settings.Calibration.High)];
        _volts = [.. wanted.Distinct().Order()];
        _places = [.. wanted.Select(v => Array.IndexOf(_volts, v))];

        // The scale of the wanted reading: rails at their nominal voltage.
        double count = _countVolts = MappingStudy.CountVolts(frontEnd, pin);
        _lowVolts = pin.Converter?.Range(frontEnd.Rails).Low ?? 0;
        SpanCounts = Math.Abs(Ideal(2, _wanted) - Ideal(0, _wanted));

        List<ErrorQuantity> inputs = [.. _sources.All];
        (_quantisation, _noise, _settling, _settlingCounts) = (-1, -1, -1, []);
        (_offset, _gain, _linearity) = (-1, -1, -1);
        if (pin.Converter is not null)
        {
            _quantisation = inputs.Count;
            var half = new RectangularInput(-0.5, 0.5);
            inputs.Add(new(pin.Name + " quantisation", half, ErrorKind.Quantisation));
            inputs.AddRange(OfCalibration("quantisation", half));
        }
        if (pin.Converter is { OffsetErrorCounts: { } offset and > 0 })
        {
            _offset = inputs.Count;
            inputs.Add(new(pin.Name + " offset error", Limits(offset), ErrorKind.Converter));
        }
        if (pin.Converter is { GainErrorCounts: { } gain and > 0 })
        {
            _gain = inputs.Count;
            inputs.Add(new(pin.Name + " gain error", Limits(gain), ErrorKind.Converter));
        }
        if (pin.Converter is { LinearityCounts: { } linearity and > 0 })
        {
            _linearity = inputs.Count;
            inputs.Add(new(pin.Name + " linearity", Limits(linearity), ErrorKind.Converter));
            inputs.AddRange(OfCalibration("linearity", Limits(linearity)));
        }
        double noise = solved.Noise(pin, wants.Sensor, cancel).RmsVolts / count;
        if (noise > 0)
        {
            _noise = inputs.Count;
            inputs.Add(new(pin.Name + " noise", new NormalInput(0, noise), ErrorKind.Noise));
            inputs.AddRange(OfCalibration("noise", new NormalInput(0, noise)));
        }
        if (pin is { Sampling: not null, Converter: { } converter })
        {
            _settling = inputs.Count;
            inputs.Add(new(pin.Name + " sampling settle", new RectangularInput(-1, 1), ErrorKind.Settling));
            var range = converter.Range(frontEnd.Rails);
            _settlingCounts = [.. _volts.Select(v =>
            {
                double fromLow = solved.Sample(pin.Name, wants.Sensor, v, range.Low, cancel).ErrorVolts / count;
                double fromHigh = solved.Sample(pin.Name, wants.Sensor, v, range.High, cancel).ErrorVolts / count;
                return ((fromLow + fromHigh) / 2, (fromHigh - fromLow) / 2);
            })];
        }
        Inputs = [.. inputs];
        NoiseVolts = noise * count;
    }

    /// <summary>Every source of error.</summary>
    public ImmutableArray<ErrorQuantity> Inputs { get; }

    /// <summary>Noise of one reading, rms, V.</summary>
    public double NoiseVolts { get; }

    public double SpanCounts { get; }

    public string Unit => _pin.Converter is null ? "mV" : "counts";

    /// <summary>What the sensor measures at zero (0), mid (1) or full (2), in its own unit.</summary>
    public double Volts(int place) => _volts[_places[place]];

    /// <summary>How far the nominal reading rises between the two places of the calibration, over what is wanted there.</summary>
    public double CalibrationRise()
    {
        double[] nominal = Readings(_solved.Compiled(), _solved.FrontEnd.Celsius, 1, (_, _) => { })[0];
        return (nominal[_places[4]] - nominal[_places[3]]) / (Ideal(4, _wanted) - Ideal(3, _wanted));
    }

    /// <summary>
    /// The errors at zero, mid and full, as read and then as calibrated at the front end's own temperature.
    /// </summary>
    public MeasurementFunction Errors(double celsius)
    {
        CompiledCircuit now = _solved.AtCelsius(celsius).Compiled(), reference = _solved.Compiled();
        var wanted = _wanted with { Celsius = celsius };
        return (draws, inputs) =>
        {
            double[][] readings = Readings(now, celsius, draws, inputs);
            double[][] before = reference == now ? readings : Readings(reference, _solved.FrontEnd.Celsius, draws, inputs);
            var values = new double[Inputs.Length];
            var errors = new double[draws][];
            for (int draw = 0; draw < draws; draw++)
            {
                SetMeans(values);
                inputs(draw, values);
                errors[draw] = Errors(readings[draw], before[draw], values, wanted);
            }
            return errors;
        };
    }

    private double[] Errors(double[] reading, double[] before, double[] x, WantedMapping wanted)
    {
        double first = Read(before, x, 3) + Own(x, 1), second = Read(before, x, 4) + Own(x, 2);
        double wantedFirst = Ideal(3, _wanted), wantedSecond = Ideal(4, _wanted);
        var errors = new double[6];
        for (int place = 0; place < 3; place++)
        {
            double read = Read(reading, x, place) + Own(x, 0);
            errors[place] = read - Ideal(place, wanted);
            errors[3 + place] = wantedFirst + (read - first) * (wantedSecond - wantedFirst) / (second - first) - Ideal(place, wanted);
        }
        return errors;
    }

    /// <summary>A reading before its step and noise, with what the sampling capacitor lacks and the converter's own errors.</summary>
    private double Read(double[] reading, double[] x, int place)
    {
        double read = reading[_places[place]] + Settling(x, place);
        double share = _gain < 0 ? 0 : reading[_places[place]] / _pin.Converter!.Codes;
        // The place of a calibration reading keeps the non-linearity that the calibration saw.
        int seen = _places[place] == _places[3] ? 1 : _places[place] == _places[4] ? 2 : 0;
        return read + (_offset < 0 ? 0 : x[_offset]) + (_gain < 0 ? 0 : x[_gain] * share) + (_linearity < 0 ? 0 : x[_linearity + seen]);
    }

    /// <summary>What the two readings of the calibration are off by, the lower first.</summary>
    private static IEnumerable<ErrorQuantity> OfCalibration(string name, InputDistribution distribution) =>
        Enum.GetValues<CalibrationReading>().Select(r => new ErrorQuantity(name, distribution, ErrorKind.Calibration) { Reading = r });

    private static RectangularInput Limits(double either) => new(-either, either);

    /// <summary>Step and noise of a reading (0), or of one of the two of the calibration (1, 2).</summary>
    private double Own(double[] x, int which) => (_quantisation < 0 ? 0 : x[_quantisation + which]) + (_noise < 0 ? 0 : x[_noise + which]);

    private double Settling(double[] x, int place) =>
        _settling < 0 ? 0 : _settlingCounts[_places[place]].Middle + x[_settling] * _settlingCounts[_places[place]].Half;

    private double Ideal(int place, WantedMapping wanted) => (wanted.Ideal(_volts[_places[place]]) - _lowVolts) / _countVolts;

    /// <summary>How much of what the sensor measures one count is at zero (0), mid (1) or full (2), in the sensor's unit.</summary>
    public double ValuePerCount(int place, double celsius)
    {
        if (_wanted is { IsOfNominalParts: false, Law: null or { IsStraight: true } })
            return (_volts[_places[2]] - _volts[_places[0]]) / SpanCounts;
        var wanted = _wanted with { Celsius = celsius };
        double span = _volts[_places[2]] - _volts[_places[0]], at = Volts(place), step = 1e-4 * span;
        // Towards the inside of the span, where the curve is known.
        double other = place == 2 ? at - step : at + step;
        return step * _countVolts / Math.Abs(wanted.Ideal(other) - wanted.Ideal(at));
    }

    private void SetMeans(Span<double> values)
    {
        for (int k = 0; k < Inputs.Length; k++)
            values[k] = Inputs[k].Distribution.Mean;
    }

    /// <summary>Readings without rounding, by draw and sensor voltage.</summary>
    private double[][] Readings(CompiledCircuit circuit, double celsius, int draws, TrialNumbers inputs)
    {
        string[] nodes = [_pin.Node, .. _pin.Converter?.References ?? []];
        var solved = circuit.SweepTrials(_wanted.Sensor, _volts, _sources.Numbers, draws, (draw, numbers) =>
        {
            Span<double> values = new double[Inputs.Length];
            SetMeans(values);
            inputs(draw, values);
            _sources.SetAll(values, celsius, numbers);
        }, nodes, cancel: _cancel);
        var readings = new double[draws][];
        for (int draw = 0; draw < draws; draw++)
        {
            readings[draw] = new double[_volts.Length];
            for (int k = 0; k < _volts.Length; k++)
            {
                double volts = solved.Voltage(draw, _pin.Node)[k];
                int d = draw, at = k;
                readings[draw][k] = _pin.Converter?.Counts(volts, rail => solved.Voltage(d, rail)[at]) ?? volts * 1e3;
            }
        }
        return readings;
    }
}
