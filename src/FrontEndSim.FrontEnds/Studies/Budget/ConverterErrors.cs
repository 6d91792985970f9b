using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Uncertainty;

namespace FrontEndSim.FrontEnds.Studies.Budget;

/// <summary>What a pin's converter is off by itself, as sources of error among the others. A reading and the two of its calibration have
/// their own step, noise and place on the converter's curve.</summary>
/// <param name="pin">The pin.</param>
/// <param name="inputs">The sources of error, which these are added to. Their order decides what is drawn.</param>
/// <param name="isCalibrated">Whether the two readings of a calibration are looked at too.</param>
internal sealed class ConverterErrors(Pin pin, List<ErrorQuantity> inputs, bool isCalibrated)
{
    // Places among the inputs; −1 for what there is not.
    private int _quantisation = -1, _noise = -1, _offset = -1, _gain = -1, _linearity = -1;

    /// <summary>Adds the converter's step.</summary>
    public void AddStep()
    {
        if (pin.Converter is not null)
            _quantisation = Add("quantisation", new RectangularInput(-0.5, 0.5), ErrorKind.Quantisation, isCalibrated);
    }

    /// <summary>Adds the noise of one reading, counts rms.</summary>
    public void AddNoise(double counts)
    {
        if (counts > 0)
            _noise = Add("noise", new NormalInput(0, counts), ErrorKind.Noise, isCalibrated);
    }

    /// <summary>Adds what its data sheet says of offset, gain and linearity.</summary>
    public void AddStated()
    {
        _offset = Limits("offset error", pin.Converter?.OffsetErrorCounts, false);
        _gain = Limits("gain error", pin.Converter?.GainErrorCounts, false);
        _linearity = Limits("linearity", pin.Converter?.LinearityCounts, isCalibrated);
    }

    /// <summary>What step and noise add to a reading (0), or to one of the two of the calibration (1, 2), counts.</summary>
    public double StepAndNoise(double[] x, int which) => At(x, _quantisation, which) + At(x, _noise, which);

    /// <summary>What offset, gain and linearity add to a reading, counts.</summary>
    public double Stated(double[] x, double counts, int which) =>
        At(x, _offset, 0) + (_gain < 0 ? 0 : x[_gain] * (counts / pin.Converter!.Codes)) + At(x, _linearity, which);

    /// <summary>What offset alone adds to a reading, counts.</summary>
    public double OffsetOf(double[] x) => At(x, _offset, 0);

    private static double At(double[] x, int place, int which) => place < 0 ? 0 : x[place + which];

    private int Limits(string name, double? either, bool ofEach) =>
        either is > 0 ? Add(name, new RectangularInput(-either.Value, either.Value), ErrorKind.Converter, ofEach) : -1;

    private int Add(string name, InputDistribution distribution, ErrorKind kind, bool ofEach)
    {
        int place = inputs.Count;
        inputs.Add(new(pin.Name + " " + name, distribution, kind));
        if (ofEach)
            inputs.AddRange(Enum.GetValues<CalibrationReading>()
                .Select(r => new ErrorQuantity(name, distribution, ErrorKind.Calibration) { Reading = r }));
        return place;
    }
}
