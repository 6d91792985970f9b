using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies.Mapping;

namespace FrontEndSim.FrontEnds.Studies.Build;

/// <summary>Firmware constants from a mapping as it was solved.</summary>
internal static class BuildFirmware
{
    public static FirmwareConstants? Of(FrontEnd frontEnd, MappingResult mapping)
    {
        if (mapping.Back is not { } back || mapping.Reading is not { } accuracy)
            return null;
        var converter = frontEnd.FindPin(mapping.Pin).Converter!;
        var sensor = frontEnd.FindSensor(mapping.Sensor);
        var (first, last) = (mapping.Points[0], mapping.Points[^1]);
        var made = new FirmwareConstants(mapping.Pin, mapping.Sensor, converter.Bits, first.Code, last.Code, back.Residual)
        {
            Quantity = mapping.Quantity,
            SensorUnit = mapping.SensorUnit,
            Step = accuracy.Step,
            StepAt = accuracy.StepAt,
            HasAlarms = sensor.Alarms is not null,
        };
        if (back.Grid is not null)
        {
            return made with
            {
                Table = FirmwareTable.Of(back, converter.Bits, accuracy.Step),
                Polynomial = FirmwarePolynomial.Of(back, converter, accuracy.Step),
                Formula = FirmwareFormula.Of(back, converter, sensor),
            };
        }
        // Code k stands for k + 1/2 counts, the middle of its step.
        double slope = back.Entries[1] - back.Entries[0], offset = back.Entries[0] + 0.5 * slope;
        var line = new FirmwareLine(slope, offset, WholeNumberLine.For(slope, offset, converter.Bits));
        if (sensor.Law is { NeedsAmbient: true })
            return made with
            {
                Line = line,
                LineUnit = sensor.Output.Symbol,
                NeedsAmbient = true,
                Couple = sensor.Law is ThermocoupleLaw law ? FirmwareCouple.Of(law.Type, sensor.Span) : null,
            };
        var (near, far) = (Nearest(mapping, sensor.Span.At(0.1)), Nearest(mapping, sensor.Span.At(0.9)));
        return made with
        {
            Line = line,
            LineUnit = mapping.SensorUnit,
            Calibration = new(near.SensorValue, far.SensorValue, near.Code, far.Code, Math.Abs(slope * mapping.NonlinearityCounts)),
        };
    }

    private static MappingPoint Nearest(MappingResult mapping, double value) => mapping.Points.MinBy(p => Math.Abs(p.SensorValue - value))!;
}
