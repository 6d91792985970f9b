using FrontEndSim.FrontEnds.Sensors;

namespace FrontEndSim.FrontEnds.Studies.Build;

/// <summary>
/// The voltage of a thermocouple's type against a junction at 0 °C, at evenly spaced temperatures with straight lines between: for the cold
/// junction forwards, and for the temperature that is measured backwards.
/// </summary>
/// <param name="LowCelsius">Temperature of the first entry, °C.</param>
/// <param name="StepCelsius">From one entry to the next, °C.</param>
/// <param name="Microvolts">Voltage at each entry, µV.</param>
/// <param name="Residual">Largest error of the way back over the span, °C; evaluated, not estimated.</param>
/// <param name="ForwardMicrovolts">Largest error of the way forwards where a cold junction is, µV; evaluated likewise.</param>
/// <param name="LeastSlope">The least that a degree makes over the span, µV.</param>
/// <param name="ColdSlope">The most that a degree of the cold junction makes, µV.</param>
public sealed record FirmwareCouple(int LowCelsius, int StepCelsius, ImmutableArray<long> Microvolts, double Residual,
    double ForwardMicrovolts, double LeastSlope, double ColdSlope)
{
    // Cold junctions are where electronics are, °C.
    private const int ColdLow = -40, ColdHigh = 90;

    // The residual is looked for so often between two entries.
    private const int Samples = 10;

    internal static FirmwareCouple Of(ThermocoupleType type, Span span)
    {
        const int step = 10;
        int low = (int)Math.Floor(Math.Min(span.Low, ColdLow) / step) * step,
            high = (int)Math.Ceiling(Math.Max(span.High, ColdHigh) / step) * step;
        low = Math.Max(low, (int)Math.Ceiling(type.Celsius.Low / step) * step);
        high = Math.Min(high, (int)Math.Floor(type.Celsius.High / step) * step + step);
        var couple = new FirmwareCouple(low, step,
            [.. Enumerable.Range(0, (high - low) / step + 1).Select(k => (long)Math.Round(1e6 * type.Volts(low + k * step)))], 0, 0, 0, 0);
        double residual = 0;
        for (double celsius = span.Low; celsius <= span.High; celsius += (double)step / Samples)
            residual = Math.Max(residual, Math.Abs(0.01 * couple.Hundredths((long)Math.Round(1e6 * type.Volts(celsius))) - celsius));
        double forward = 0, least = double.PositiveInfinity, most = 0;
        for (int k = 0; k + 1 < couple.Microvolts.Length; k++)
        {
            int celsius = low + k * step;
            double slope = (couple.Microvolts[k + 1] - couple.Microvolts[k]) / (double)step;
            if (celsius + step > span.Low && celsius < span.High)
                least = Math.Min(least, slope);
            if (celsius < ColdLow || celsius >= ColdHigh)
                continue;
            most = Math.Max(most, slope);
            for (int j = 0; j < Samples; j++)
            {
                double within = (double)step * j / Samples;
                forward = Math.Max(forward, Math.Abs(couple.Microvolts[k] + slope * within - 1e6 * type.Volts(celsius + within)));
            }
        }
        return couple with { Residual = residual, ForwardMicrovolts = forward, LeastSlope = least, ColdSlope = most };
    }

    /// <summary>What a reading with a cold junction may be off by at most, °C, of what its two parts are.</summary>
    /// <param name="microvolts">What the voltage may be off by, µV.</param>
    /// <param name="celsius">What the temperature of the cold junction may be off by, °C.</param>
    internal double Rounding(double microvolts, double celsius)
    {
        // A quotient towards zero costs a microvolt at most, and what comes out a hundredth of a degree.
        const double forwards = 1, back = 0.01;
        return (microvolts + ForwardMicrovolts + forwards + ColdSlope * celsius) / LeastSlope + Residual + back;
    }

    /// <summary>The temperature of a voltage in hundredths of a degree, as the C does it.</summary>
    /// <param name="microvolts">Voltage against a junction at 0 °C, µV.</param>
    public long Hundredths(long microvolts)
    {
        int k = 0;
        while (k < Microvolts.Length - 2 && microvolts >= Microvolts[k + 1])
            k++;
        return 100L * (LowCelsius + k * StepCelsius)
            + 100L * StepCelsius * (microvolts - Microvolts[k]) / (Microvolts[k + 1] - Microvolts[k]);
    }
}
