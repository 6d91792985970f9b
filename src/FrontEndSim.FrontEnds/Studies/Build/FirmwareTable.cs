using FrontEndSim.FrontEnds.Studies.Mapping;

namespace FrontEndSim.FrontEnds.Studies.Build;

/// <summary>
/// A table over codes with straight lines between its entries, in whole numbers. Code k stands for k + 1/2 counts. Codes below the first
/// entry
/// and above the last follow the first and the last line.
/// </summary>
/// <param name="First">Counts at the first entry.</param>
/// <param name="Shift">The power of two of the counts from one entry to the next.</param>
/// <param name="Entries">What is measured at each entry, in the sensor's unit.</param>
/// <param name="WholeEntries">The same in whole numbers of <paramref name="ResultUnit"/>.</param>
/// <param name="ResultUnit">What one is worth, in the sensor's unit: 1, 0.1, 0.01, and so on.</param>
/// <param name="ProductBits">Width of a signed integer that holds every product: 32 or 64.</param>
/// <param name="Rounding">Largest difference to the same table in floating point over all codes, in the sensor's unit; evaluated, not
/// estimated.</param>
public sealed record FirmwareTable(long First, int Shift, ImmutableArray<double> Entries,
    ImmutableArray<long> WholeEntries, double ResultUnit, int ProductBits, double Rounding)
{
    // A whole number is worth at most this share of the coarsest count.
    private const double FineEnough = 0.05;

    // Codes beyond this are sampled when the rounding is evaluated.
    private const int MostCodes = 1 << 20;

    /// <summary>What the table gives for a code, in whole numbers of <see cref="ResultUnit"/>: as the C does it.</summary>
    public long At(long code)
    {
        var (from, rise, rest, width) = Place(code);
        return from + rise * rest / width;
    }

    private (long From, long Rise, long Within, long Width) Place(long code)
    {
        // In halves of a count, so that the middle of a step is a whole number.
        long width = 2L << Shift, at = 2 * (code - First) + 1;
        int k = (int)Math.Clamp(at / width, 0, WholeEntries.Length - 2);
        return (WholeEntries[k], WholeEntries[k + 1] - WholeEntries[k], at - k * width, width);
    }

    /// <summary>What a whole number is worth: the largest decimal part of a unit that is fine beside a count.</summary>
    internal static double UnitFor(double coarsestStep) =>
        Math.Pow(10, -Math.Clamp((int)Math.Ceiling(-Math.Log10(FineEnough * coarsestStep)), 0, 9));

    internal static FirmwareTable Of(ReadBack back, int bits, double coarsestStep)
    {
        double unit = UnitFor(coarsestStep);
        var (first, shift) = back.Grid!.Value;
        var table = new FirmwareTable(first, shift, back.Entries, [.. back.Entries.Select(e => (long)Math.Round(e / unit))], unit, 64, 0);
        long last = (1L << bits) - 1, stride = Math.Max(1, (last + 1) / MostCodes);
        double rounding = 0;
        long largest = table.WholeEntries.Max(Math.Abs);
        for (long code = 0; code <= last; code += stride)
        {
            var (_, rise, rest, width) = table.Place(code);
            largest = Math.Max(largest, Math.Max(Math.Abs(rise * rest), Math.Abs(rest)));
            double place = (code + 0.5 - first) / (width / 2);
            int k = Math.Clamp((int)Math.Floor(place), 0, back.Entries.Length - 2);
            rounding = Math.Max(rounding,
                Math.Abs(table.At(code) * unit - (back.Entries[k] + (back.Entries[k + 1] - back.Entries[k]) * (place - k))));
        }
        return table with { ProductBits = largest + 2L * last <= int.MaxValue ? 32 : 64, Rounding = rounding };
    }
}
