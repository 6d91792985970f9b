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
        // The sweep may hold more points than the mapping; its own values go with its rails.
        ImmutableArray<double> swept = [.. mapping.Sweep.Values];
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
            Errors(mapping, sensor),
        ];
    }

    // Against nominal parts the pin has no error to show: what firmware makes of it has.
    private static Panel Errors(MappingResult mapping, ImmutableArray<double> sensor)
    {
        var points = mapping.Points;
        bool reads = mapping.Wanted.IsOfNominalParts && points.All(p => p.ReadingError is not null);
        var (title, unit, digits) = reads ? ("Error of what firmware reads, without the converter's step", mapping.SensorUnit, 3)
            : ($"Error: simulated − {(mapping.Wanted.IsOfNominalParts ? "nominal" : "ideal")}", mapping.Converts ? "counts" : "V", 4);
        var worst = reads ? points.MaxBy(p => Math.Abs(p.ReadingError!.Value))! : mapping.Worst;
        return new(title, new("sensor " + mapping.Sensor, mapping.SensorUnit), new("error", unit),
            [new("", sensor, [.. points.Select(Error)], CurveLook.Simulated)])
        {
            Notes = [new($"largest: {SiText.Format(Error(worst), unit, digits)} at "
                + SiText.Format(worst.SensorValue, mapping.SensorUnit), worst.SensorValue, Error(worst))],
            Share = 0.65,
        };

        // Less than a thousandth of a count, or of the millivolt in which a pin without a converter has its errors, is rounding.
        double Error(MappingPoint p) => reads ? p.ReadingError!.Value
            : Math.Abs(p.ErrorCounts) < 1e-3 ? 0 : p.ErrorCounts * (mapping.Converts ? 1 : 1e-3);
    }
}
