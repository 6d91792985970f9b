using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Build;

/// <summary>What firmware computes from codes that it takes over whole periods, in floating point.</summary>
/// <param name="Reading">Name of the reading.</param>
/// <param name="Sensor">Name of the sensor.</param>
/// <param name="Pin">Name of the pin.</param>
/// <param name="Quantity">What is measured, in a word.</param>
/// <param name="Unit">Symbol of its unit.</param>
/// <param name="Bits">Resolution of the converter.</param>
/// <param name="Said">How large what is measured is said to be; null for what stands still and is excited.</param>
/// <param name="Taken">What is made of the codes.</param>
/// <param name="Hertz">Frequency of the sensor, Hz.</param>
/// <param name="Samples">Codes of a reading.</param>
/// <param name="EverySeconds">Time from one to the next, s.</param>
/// <param name="Factor">What a count is at most, in the sensor's unit.</param>
/// <param name="Residual">Largest departure of the nominal circuit over the span, in the sensor's unit.</param>
public sealed record FirmwareAlternating(string Reading, string Sensor, string Pin, string Quantity, string Unit, int Bits, Amplitude? Said,
    Amplitude Taken, double Hertz, int Samples, double EverySeconds, double Factor, double Residual)
{
    /// <summary>What is made of the counts.</summary>
    public required CountsBack Back { get; init; }

    /// <summary>The same as C, where somebody wrote it; else empty.</summary>
    public string C { get; init; } = "";

    internal static FirmwareAlternating Of(SolvedFrontEnd solved, AlternatingReading reading, CancellationToken cancel)
    {
        var sensor = solved.FrontEnd.FindSensor(reading.Sensor);
        var nominal = AlternatingStudy.Run(solved.Reference(), reading, cancel);
        double hertz = solved.FrontEnd.HertzOf(sensor)!.Value;
        return new(reading.Name, reading.Sensor, reading.Pin, sensor.Quantity, sensor.UnitText,
            solved.FrontEnd.FindPin(reading.Pin).Converter!.Bits, nominal.Said, reading.Taken, hertz, reading.Samples,
            1 / (hertz * reading.SamplesInPeriod), nominal.Factor, nominal.Points.Max(p => Math.Abs(p.ReadingError)))
        {
            Back = nominal.Back,
        };
    }
}
