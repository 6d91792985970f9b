using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.Reporting.Plots;

namespace FrontEndSim.Reporting.Pages;

/// <summary>How a sensor lands on a pin, as panels: the mapping with the ideal line and the pin's rating, and the error beneath
/// it.</summary>
public static class MappingPicture
{
    /// <summary>The panels of one mapping.</summary>
    /// <param name="mapping">The mapping.</param>
    /// <param name="pin">The pin.</param>
    public static ImmutableArray<Panel> Panels(MappingResult mapping, Pin pin)
    {
        var points = mapping.Points;
        ImmutableArray<double> sensor = [.. points.Select(p => p.SensorValue)];
        bool converts = pin.Converter is not null;
        string unit = converts ? "counts" : "V";
        double errorUnit = converts ? 1 : 1e-3; // without a converter errors come in mV
        var worst = mapping.Worst;
        // The sweep may hold more points than the mapping; its own values go with its rails.
        ImmutableArray<double> swept = [.. mapping.Sweep.Values];
        bool reads = mapping.Wanted.IsOfNominalParts && points.All(p => p.ReadingError is not null);
        return
        [
            new Panel($"Sensor {mapping.Sensor} onto pin {mapping.Pin}", new("sensor " + mapping.Sensor, mapping.SensorUnit),
                new("pin " + mapping.Pin, "V"),
                [
                    new("simulated", sensor, [.. points.Select(p => p.PinVolts)], CurveLook.Simulated),
                    new(mapping.Wanted.IsOfNominalParts ? "nominal"
                        : "ideal", sensor, [.. points.Select(p => p.IdealVolts)], CurveLook.Ideal),
                ])
            {
                Bands = RatingBand.Of(pin, swept, mapping.Sweep.Voltage),
            },
            // Against nominal parts the pin has no error to show: what firmware makes of it has.
            reads ? OfReading(mapping, sensor) : new Panel($"Error: simulated − {(mapping.Wanted.IsOfNominalParts ? "nominal" : "ideal")}",
                new("sensor " + mapping.Sensor, mapping.SensorUnit), new("error", unit),
                [new("", sensor, [.. points.Select(p => Error(p.ErrorCounts) * errorUnit)], CurveLook.Simulated)])
            {
                Notes = [new($"largest: {SiText.Format(Error(worst.ErrorCounts) * errorUnit, unit)} at "
                    + $"{SiText.Format(worst.SensorValue, mapping.SensorUnit)}",
                    worst.SensorValue, Error(worst.ErrorCounts) * errorUnit)],
                Share = ErrorShare,
            },
        ];

        // Less than a thousandth of a count, or of a millivolt, is rounding.
        static double Error(double counts) => Math.Abs(counts) < 1e-3 ? 0 : counts;
    }

    private const double ErrorShare = 0.65;

    private static Panel OfReading(MappingResult mapping, ImmutableArray<double> sensor)
    {
        var worst = mapping.Points.MaxBy(p => Math.Abs(p.ReadingError!.Value))!;
        return new("Error of what firmware reads, without the converter's step", new("sensor " + mapping.Sensor, mapping.SensorUnit),
            new("error", mapping.SensorUnit),
            [new("", sensor, [.. mapping.Points.Select(p => p.ReadingError!.Value)], CurveLook.Simulated)])
        {
            Notes = [new($"largest: {SiText.Format(worst.ReadingError!.Value, mapping.SensorUnit, 3)} at "
                + $"{SiText.Format(worst.SensorValue, mapping.SensorUnit)}", worst.SensorValue, worst.ReadingError!.Value)],
            Share = ErrorShare,
        };
    }
}
