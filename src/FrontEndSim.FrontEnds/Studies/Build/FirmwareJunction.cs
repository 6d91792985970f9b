using FrontEndSim.FrontEnds.Model;

namespace FrontEndSim.FrontEnds.Studies.Build;

/// <summary>How firmware takes the cold junction of a thermocouple from another pin, in whole numbers.</summary>
/// <param name="Quantity">What the other pin measures, in a word.</param>
/// <param name="ResultUnit">What a whole number of that pin's own function is worth, °C.</param>
/// <param name="Rounding">Largest difference of the reading to the same in floating point at any codes inside of both spans, °C: a bound
/// made of what each part of the way may be off by.</param>
public sealed record FirmwareJunction(string Quantity, double ResultUnit, double Rounding)
{
    // What is looked up and what comes out are hundredths of a degree.
    private const double Hundredth = 0.01;

    /// <summary>Null where a pin has no firmware of its own.</summary>
    internal static FirmwareJunction? Of(CombinedReading reading, ImmutableArray<FirmwareConstants> alone)
    {
        if (alone.FirstOrDefault(f => f.Pin == reading.Pins[0]) is not { Couple: { } couple, Line: { } hot }
            || alone.FirstOrDefault(f => f.Pin == reading.Pins[1]) is not { } cold)
            return null;
        double unit = cold.Table?.ResultUnit ?? cold.Line!.Whole.ResultUnit;
        double celsius = (cold.Table?.Rounding ?? cold.Line!.Whole.RoundingError) + (unit < Hundredth ? 0.5 * Hundredth : 0);
        return new(cold.Quantity, unit, couple.Rounding(1e6 * hot.Whole.RoundingError, celsius));
    }
}
