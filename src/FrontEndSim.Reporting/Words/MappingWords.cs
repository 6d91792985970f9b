using FrontEndSim.FrontEnds.Studies.Bias;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.Reporting.Blocks;

namespace FrontEndSim.Reporting.Words;

/// <summary>How a span lands on a pin, in words and tables.</summary>
internal static class MappingWords
{
    /// <summary>Whether the pin converts, so that errors are in counts.</summary>
    public static bool Converts(MappingResult m) => m.Points[0].Code >= 0;

    /// <summary>Unit of the errors.</summary>
    public static string Unit(MappingResult m) => Converts(m) ? "counts" : "mV";

    /// <summary>Where the span lands, by how much it is off and why.</summary>
    public static string Sentence(MappingResult m)
    {
        var (first, last, worst) = (m.Points[0], m.Points[^1], m.Worst);
        string codes = Converts(m) ? $", codes {Figures.Whole(first.Code)} .. {Figures.Whole(last.Code)}" : "";
        string wanted = m.Wanted.IsOfNominalParts ? "" : $" (wanted {Figures.Range(first.IdealVolts, last.IdealVolts, "V")})";
        return $"{m.Sensor} {Figures.Range(first.SensorValue, last.SensorValue, m.SensorUnit)} lands on {m.Pin} "
            + $"{Figures.Range(first.PinVolts, last.PinVolts, "V")}{wanted}{codes}\n"
            + (m.Wanted.IsOfNominalParts ? Reading(m) : Line(m) + (m.SensorUnit == "V" ? "" : "\n" + Reading(m)));
    }

    /// <summary>By how much what firmware computes is off, in the sensor's unit.</summary>
    public static string Reading(MappingResult m) => m.Reading is not { } r ? "the code does not follow it"
        : $"firmware reads {m.Quantity} off by at most {Figures.Of(r.Largest, r.Unit, 3)} at {Figures.Of(r.LargestAt, r.Unit)} with "
            + $"nominal parts; a count is at most {Figures.Of(r.Step, r.Unit, 3)}, "
            + $"at {Figures.Of(r.StepAt, r.Unit)}; {(r.Entries == 0 ? "its line" : $"its table of {r.Entries} entries")} departs by "
                + (r.Residual < 1e-3 * r.Step ? "less than 0.001 counts" : Figures.Of(r.Residual, r.Unit, 3));

    private static string Line(MappingResult m)
    {
        var worst = m.Worst;
        return $"off by at most {Figures.Signed(worst.ErrorCounts, Unit(m))} at {Figures.Of(worst.SensorValue, m.SensorUnit)}: offset "
            + $"{Figures.Signed(m.OffsetErrorCounts)}, "
            + $"gain {Figures.Signed(m.GainErrorCounts)}, nonlinearity (INL) {Figures.Signed(m.NonlinearityCounts, Unit(m))}";
    }

    /// <summary>How near an op amp comes to its limits.</summary>
    public static string Headroom(OpAmpHeadroom h) =>
        $"{h.OpAmp}: output {Figures.Volts(h.SwingVolts)} from its {h.SwingSide} limit, inputs {Figures.Volts(h.CommonModeVolts)} from "
            + $"their {h.CommonModeSide} limit, "
        + $"{Figures.Of(h.OutputAmps, "A", 3)} of {Figures.Of(h.OutputLimitAmps, "A", 3)}";

    /// <summary>Readings over the sensor's voltage.</summary>
    /// <param name="m">The mapping.</param>
    /// <param name="points">The points to show.</param>
    /// <param name="caption">Caption of the table.</param>
    public static Table Readings(MappingResult m, IEnumerable<MappingPoint> points, string caption = "") => new(caption,
        [
            new(m.Sensor, ColumnKind.Number, m.SensorUnit), new("pin " + m.Pin, ColumnKind.Number, "V") { Digits = 5 },
            new(m.Wanted.IsOfNominalParts ? "nominal" : "ideal", ColumnKind.Number, "V") { Digits = 5 },
            .. Converts(m) ? [new Column("code", ColumnKind.Plain) { Digits = 10 }]
                : Array.Empty<Column>(), new("error", ColumnKind.Signed, Unit(m)),
            .. ShowsReading(m) ? [new Column("reading off", ColumnKind.Signed, m.SensorUnit),
                new Column("a count is", ColumnKind.Number, m.SensorUnit) { Digits = 3 }] : Array.Empty<Column>(),
        ],
        [
            .. points.Select(p => (ImmutableArray<Cell>)
            [
                p.SensorValue, p.PinVolts, p.IdealVolts, .. Converts(m) ? [p.Code] : Array.Empty<Cell>(), p.ErrorCounts,
                .. ShowsReading(m) ? [p.ReadingError, p.ReadingStep] : Array.Empty<Cell>(),
            ]),
        ]);

    // A voltage is told in counts alone, as its unit is that of the pin.
    private static bool ShowsReading(MappingResult m) => m.SensorUnit != "V" && m.Points.All(p => p.ReadingError is not null);

    /// <summary>Nine points evenly over the span, those computed nearest to them, and the worst.</summary>
    public static IEnumerable<MappingPoint> Typical(MappingResult m)
    {
        double low = m.Points[0].SensorValue, high = m.Points[^1].SensorValue;
        return Enumerable.Range(0, 9).Select(k => m.Points.MinBy(p => Math.Abs(p.SensorValue - (low + (high - low) * k / 8)))!)
            .Append(m.Worst).Distinct().OrderBy(p => p.SensorValue);
    }

    /// <summary>Op amps against their limits, a row each.</summary>
    public static Table Headroom(ImmutableArray<OpAmpHeadroom> headroom, string caption) => new(caption,
        [
            new("op amp"), new("output to swing limit", ColumnKind.Number, "V") { Digits = 3 },
                new("inputs to common-mode limit", ColumnKind.Number, "V") { Digits = 3 },
            new("output current", ColumnKind.Number, "A") { Digits = 3 }, new("its limit", ColumnKind.Number, "A") { Digits = 3 },
        ],
        [
            .. headroom.Select(h => (ImmutableArray<Cell>)
            [
                h.OpAmp, new Cell { Number = h.SwingVolts, Words = $"({h.SwingSide}, at {Figures.Of(h.SwingAt, h.SensorUnit, 3)})" },
                new Cell { Number = h.CommonModeVolts, Words = $"({h.CommonModeSide}, at {Figures.Of(h.CommonModeAt, h.SensorUnit, 3)})" },
                    h.OutputAmps, h.OutputLimitAmps,
            ]),
        ]);
}
