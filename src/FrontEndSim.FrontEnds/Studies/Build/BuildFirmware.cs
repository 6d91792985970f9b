using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Mapping;

namespace FrontEndSim.FrontEnds.Studies.Build;

/// <summary>Firmware constants from a mapping as it was solved.</summary>
internal static class BuildFirmware
{
    // Codes beyond this are sampled when the rounding is evaluated.
    private const int MostCodes = 1 << 20;

    public static FirmwareConstants Of(FrontEnd frontEnd, MappingResult mapping)
    {
        var pin = frontEnd.FindPin(mapping.Pin);
        var converter = pin.Converter!;
        double low = converter.Span.Low.Resolve(frontEnd.Rails), count = mapping.CountVolts;
        // Codes without rounding, at both ends of the span; code k stands for k + 1/2 counts, the middle of its step.
        var (first, last) = (mapping.Points[0], mapping.Points[^1]);
        double Exact(MappingPoint p) => (p.PinVolts - low) / count;
        double slope = (last.SensorVolts - first.SensorVolts) / (Exact(last) - Exact(first));
        double offset = first.SensorVolts - slope * (Exact(first) - 0.5);
        double line = mapping.Points.Max(p => Math.Abs(offset + slope * (Exact(p) - 0.5) - p.SensorVolts));
        var span = mapping.Wanted.Input;
        var (near, far) = (Nearest(mapping, span.At(0.1)), Nearest(mapping, span.At(0.9)));
        return new(mapping.Pin, mapping.Sensor, converter.Bits, slope, offset, first.Code, last.Code, line,
            Whole(slope, offset, converter.Bits), new(near.SensorVolts, far.SensorVolts, near.Code, far.Code, Math.Abs(slope * mapping.CurvatureCounts)));
    }

    private static MappingPoint Nearest(MappingResult mapping, double volts) => mapping.Points.MinBy(p => Math.Abs(p.SensorVolts - volts))!;

    /// <summary>The factor with the most bits that keeps every product within 31 bits, or within 62 if that costs more than 1 µV.</summary>
    public static WholeNumberLine Whole(double slope, double offset, int bits)
    {
        var narrow = Fit(slope, offset, bits, 31);
        return narrow.RoundingMicrovolts <= Math.Max(1, 0.05 * Math.Abs(slope) * 1e6) ? narrow : Fit(slope, offset, bits, 62);
    }

    private static WholeNumberLine Fit(double slope, double offset, int bits, int room)
    {
        double perCode = Math.Abs(slope) * 1e6;
        int shift = Math.Clamp((int)Math.Floor(room - bits - Math.Log2(Math.Max(perCode, 1e-9)) - 1), 0, 40);
        var line = new WholeNumberLine((long)Math.Round(slope * 1e6 * Math.Pow(2, shift)), shift, (long)Math.Round(offset * 1e6), room == 31, 0);
        long codes = 1L << bits, stride = Math.Max(1, codes / MostCodes);
        double worst = 0;
        for (long code = 0; code < codes; code += stride)
            worst = Math.Max(worst, Math.Abs(line.Microvolts(code) - (offset + slope * code) * 1e6));
        return line with { RoundingMicrovolts = worst };
    }
}
