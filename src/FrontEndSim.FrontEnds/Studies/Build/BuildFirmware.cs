using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Mapping;

namespace FrontEndSim.FrontEnds.Studies.Build;

/// <summary>Firmware constants from a mapping as it was solved.</summary>
internal static class BuildFirmware
{
    public static FirmwareConstants Of(FrontEnd frontEnd, MappingResult mapping)
    {
        var pin = frontEnd.FindPin(mapping.Pin);
        var converter = pin.Converter!;
        // Codes without rounding, at both ends of the span; code k stands for k + 1/2 counts, the middle of its step.
        var (first, last) = (mapping.Points[0], mapping.Points[^1]);
        double Exact(MappingPoint p) => converter.Counts(p.PinVolts, frontEnd.Rails);
        double slope = (last.SensorVolts - first.SensorVolts) / (Exact(last) - Exact(first));
        double offset = first.SensorVolts - slope * (Exact(first) - 0.5);
        double line = mapping.Points.Max(p => Math.Abs(offset + slope * (Exact(p) - 0.5) - p.SensorVolts));
        var span = mapping.Wanted.Input;
        var (near, far) = (Nearest(mapping, span.At(0.1)), Nearest(mapping, span.At(0.9)));
        return new(mapping.Pin, mapping.Sensor, converter.Bits, slope, offset, first.Code, last.Code, line,
            WholeNumberLine.For(slope, offset, converter.Bits), new(near.SensorVolts, far.SensorVolts, near.Code, far.Code, Math.Abs(slope * mapping.NonlinearityCounts)));
    }

    private static MappingPoint Nearest(MappingResult mapping, double volts) => mapping.Points.MinBy(p => Math.Abs(p.SensorVolts - volts))!;
}
