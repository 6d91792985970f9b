using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Studies.Budget;
using FrontEndSim.FrontEnds.Studies.Levels;

namespace FrontEndSim.FrontEnds.Studies.Respond;

/// <summary>How a pin follows its sensor.</summary>
/// <param name="Sensor">Name of the sensor.</param>
/// <param name="Pin">Name of the pin.</param>
/// <param name="HalfCountVolts">Half a count at the pin, V; half a millivolt for a pin that does not convert.</param>
/// <param name="Up">The sensor stepping from the lower end of its span to the upper.</param>
/// <param name="Down">The sensor stepping back.</param>
/// <param name="Frequency">The response to small signals, sensor at mid-span.</param>
/// <param name="Sampling">What samples take, at both ends and the middle of the span, the capacitor holding before what the pin
/// before in the scan leaves, its own sensor at either end of its span, or either end of the range; empty for a pin that does not
/// sample.</param>
public sealed record RespondResult(string Sensor, string Pin, double HalfCountVolts, StepResponse Up, StepResponse Down,
    FrequencyResponse Frequency, ImmutableArray<SamplingResult> Sampling)
{
    /// <summary>
    /// Samples in a row at the sampling rate, from both ends of the span and the end of the range that is further away, with the
    /// capacitor keeping its charge and without; empty where no rate is given or the pin does not sample.
    /// </summary>
    public ImmutableArray<SampleRow> Rows { get; init; } = [];

    /// <summary>What the hum on the sensors' lines leaves in a reading; empty where no hum is given.</summary>
    public ImmutableArray<HumLeft> Hum { get; init; } = [];

    /// <summary>Which sources the sampling capacitor settles from; null for a pin that does not sample.</summary>
    public SourceLimits? Sources { get; init; }

    /// <summary>Symbol of the unit in which the sensor measures.</summary>
    public string SensorUnit { get; init; } = "V";

    /// <summary>Whether the pin is read through a channel of an external multiplexer.</summary>
    public bool IsMultiplexed { get; init; }

    /// <summary>Whether the sensor has two states, so that nothing small moves about a middle.</summary>
    public bool HasStates { get; init; }

    /// <summary>How the pin reads its sensor, for one that reads logic; else null.</summary>
    public LogicResult? Levels { get; init; }

    /// <summary>The noise of one reading.</summary>
    public required PinNoise Noise { get; init; }

    /// <summary>The longer of the two settling times, s.</summary>
    public double SettlingSeconds => Math.Max(Up.SettlingSeconds, Down.SettlingSeconds);
}

/// <summary>A pin's voltage after a step of the sensor.</summary>
/// <param name="StepAt">When the sensor steps, s.</param>
/// <param name="FromVolts">Pin voltage before, V.</param>
/// <param name="ToVolts">Pin voltage long after, V, solved at the operating point.</param>
/// <param name="RiseSeconds">Time from a tenth to nine tenths of the change, s.</param>
/// <param name="SettlingSeconds">Time from the step until the pin comes within half a count of its end and stays there, s; infinity if it
/// does not.</param>
/// <param name="Overshoot">How far it goes beyond its end, as a fraction of the change, at least 0.</param>
/// <param name="Run">The run itself.</param>
/// <param name="Trace">The pin's voltage.</param>
public sealed record StepResponse(double StepAt, double FromVolts, double ToVolts, double RiseSeconds, double SettlingSeconds,
    double Overshoot, TransientResult Run, Trace Trace);

/// <summary>A response to small signals.</summary>
/// <param name="Gain">At the operating point, V/V.</param>
/// <param name="CornerHertz">Where the gain is down by √2, Hz; infinity if nowhere up to the highest frequency.</param>
/// <param name="Points">Gain over the DC gain, in dB, and phase against that of the DC gain, in degrees.</param>
/// <param name="SampleHertz">Sampling rate asked about, Hz; null if none.</param>
/// <param name="HalfRateAttenuation">Attenuation at half of it, dB, positive where the gain is lower than the DC gain.</param>
public sealed record FrequencyResponse(double Gain, double CornerHertz, ImmutableArray<FrequencyPoint> Points, double? SampleHertz,
    double? HalfRateAttenuation);

/// <summary>A point of a response.</summary>
/// <param name="Hertz">Frequency, Hz.</param>
/// <param name="Decibels">Gain over the DC gain, dB.</param>
/// <param name="Degrees">Phase against that of the DC gain, degrees, continuous from 0.</param>
public sealed record FrequencyPoint(double Hertz, double Decibels, double Degrees);
