using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Sensors;

namespace FrontEndSim.FrontEnds.Studies.Mapping;

/// <summary>
/// What firmware makes of a code: the way back from the converter's counts to what the sensor measures, made of the nominal circuit at its
/// own temperature. A straight sensor is read by a line through both ends of its span, another by a table over the codes that its span
/// reaches, with straight lines between the entries.
/// </summary>
public sealed class ReadBack
{
    /// <summary>Tables are no longer than this.</summary>
    public const int MostEntries = 257;

    private readonly Sensor _sensor;
    private readonly double _codes;
    private readonly bool _throughLaw;

    private ReadBack(Sensor sensor, double codes, bool throughLaw) => (_sensor, _codes, _throughLaw) = (sensor, codes, throughLaw);

    /// <summary>The first code that the table holds, and the counts from one entry to the next as a power of two; null where a line
    /// does.</summary>
    public (long First, int Shift)? Grid { get; private init; }

    /// <summary>
    /// The quantity at each entry of the table; for a line at 0 and at 1 count. Of a thermocouple it is volts, which firmware turns into a
    /// temperature with that of the cold junction.
    /// </summary>
    public ImmutableArray<double> Entries { get; private init; } = [];

    /// <summary>Largest departure from the nominal circuit over the span, in the sensor's unit.</summary>
    public double Residual { get; private init; }

    /// <summary>Codes at the lowest and the highest reading of the span, counts without rounding, ascending.</summary>
    public (double Low, double High) SpanCounts { get; private init; }

    /// <summary>What is measured, and the counts of the nominal circuit there, over the whole span.</summary>
    internal ImmutableArray<(double Value, double Counts)> Points { get; private init; } = [];

    /// <summary>What is measured by the counts, as a smooth curve through these points; null for a line.</summary>
    internal TableLaw? Curve { get; private init; }

    /// <summary>What firmware computes from counts, in the sensor's unit.</summary>
    /// <param name="counts">Counts without rounding; what lies beyond the converter's range reads as its end.</param>
    /// <param name="celsius">Temperature of the circuit, °C, which firmware knows where a cold junction needs it.</param>
    public double Value(double counts, double celsius)
    {
        double table = Raw(Math.Clamp(counts, 0, _codes));
        return _throughLaw ? _sensor.Law!.Inverse(table, Around(_sensor), celsius) : table;
    }

    /// <summary>By how much the reading moves for one count, in the sensor's unit.</summary>
    /// <inheritdoc cref="Value"/>
    public double Step(double counts, double celsius)
    {
        double at = Math.Clamp(counts, 1, _codes - 1);
        return Math.Abs(Value(at + 0.5, celsius) - Value(at - 0.5, celsius));
    }

    private double Raw(double counts)
    {
        if (Grid is not { } grid)
            return Entries[0] + (Entries[1] - Entries[0]) * counts;
        double width = Math.Pow(2, grid.Shift), place = (counts - grid.First) / width;
        int k = Math.Clamp((int)Math.Floor(place), 0, Entries.Length - 2);
        return Entries[k] + (Entries[k + 1] - Entries[k]) * (place - k);
    }

    // A reading beyond the span is told as such, as far as the law goes.
    private static Span Around(Sensor sensor)
    {
        double low = sensor.Span.Low - sensor.Span.Width, high = sensor.Span.High + sensor.Span.Width;
        return sensor.Law!.Validity is { } valid ? new(Math.Max(low, valid.Low), Math.Min(high, valid.High)) : new(low, high);
    }

    /// <summary>The way back of a sensor and a converter; null where the reading does not move with the sensor, or goes further aside
    /// than from one end of the span to the other, as behind a rectifier.</summary>
    /// <param name="sensor">The sensor.</param>
    /// <param name="converter">The converter.</param>
    /// <param name="points">What is measured, and the counts of nominal parts there, over the whole span.</param>
    /// <param name="celsius">Temperature of the circuit at these points, °C.</param>
    internal static ReadBack? Of(Sensor sensor, Converter converter, IReadOnlyList<(double Value, double Counts)> points, double celsius)
    {
        double first = points[0].Counts, last = points[^1].Counts;
        double whole = Math.Abs(last - first);
        if (!(whole > 1e-9) || points.Max(p => p.Counts) - points.Min(p => p.Counts) > 2 * whole)
            return null;
        bool throughLaw = sensor.Law is { NeedsAmbient: true };
        double Target((double Value, double Counts) point) => throughLaw ? sensor.OutputAt(point.Value, celsius) : point.Value;
        var reach = (Math.Min(first, last), Math.Max(first, last));
        if (throughLaw || sensor.Law is null or { IsStraight: true })
        {
            double slope = (Target(points[^1]) - Target(points[0])) / (last - first), zero = Target(points[0]) - slope * first;
            return Judged(new(sensor, converter.Codes, throughLaw) { Entries = [zero, zero + slope], SpanCounts = reach });
        }
        // The points that go on in the direction of the whole; where the reading turns back or stands still no table helps.
        double sign = Math.Sign(last - first);
        var kept = new List<SensorPoint>();
        foreach (var (value, counts) in points)
        {
            if (kept.Count == 0 || sign * (counts - kept[^1].Quantity) > 1e-9)
                kept.Add(new(counts, value));
        }
        var curve = NominalCurve.Through(kept);
        var (low, high) = (curve.Points[0].Quantity, curve.Points[^1].Quantity);
        double coarsest = 0;
        for (int k = 0; k + 1 < curve.Points.Length; k++)
            coarsest = Math.Max(coarsest, Math.Abs((curve.Points[k + 1].Output - curve.Points[k].Output)
                / (curve.Points[k + 1].Quantity - curve.Points[k].Quantity)));
        ReadBack? table = null;
        for (int shift = converter.Bits - 1; shift >= 0; shift--)
        {
            long width = 1L << shift, start = (long)Math.Floor(low / width) * width;
            long segments = (long)Math.Ceiling((high - start) / width);
            if (table is not null && segments + 1 > MostEntries)
                break;
            segments = Math.Clamp(segments, 1, MostEntries - 1);
            table = Judged(new(sensor, converter.Codes, false)
            {
                Grid = (start, shift),
                Entries = Fit(curve, start, width, (int)segments),
                SpanCounts = (low, high),
                Curve = curve,
            });
            // Finer than half the coarsest count nobody sees.
            if (table.Residual <= 0.5 * coarsest)
                break;
        }
        return table;

        ReadBack Judged(ReadBack made) => new(made._sensor, made._codes, made._throughLaw)
        {
            Grid = made.Grid,
            Entries = made.Entries,
            SpanCounts = made.SpanCounts,
            Points = [.. points],
            Curve = made.Curve,
            Residual = points.Max(p => Math.Abs(made.Value(p.Counts, celsius) - p.Value)),
        };
    }

    /// <summary>Entries on the curve; the first and the last so that the line between them and their neighbours ends on the curve's
    /// ends.</summary>
    private static ImmutableArray<double> Fit(TableLaw curve, long start, long width, int segments)
    {
        double[] entries = [.. Enumerable.Range(0, segments + 1).Select(k => curve.At(start + (double)width * k))];
        if (segments < 2)
            return [.. entries];
        // Outside of the curve there is nothing to be true to: the end pieces run through the curve's end and the entry inside.
        double low = curve.Points[0].Quantity, high = curve.Points[^1].Quantity;
        double inner = start + width, outer = start + (double)width * (segments - 1), end = start + (double)width * segments;
        if (low > start && inner - low > 1e-3 * width)
            entries[0] = entries[1] + (curve.At(low) - entries[1]) / (low - inner) * (start - inner);
        if (high < end && high - outer > 1e-3 * width)
            entries[^1] = entries[^2] + (curve.At(high) - entries[^2]) / (high - outer) * width;
        return [.. entries];
    }
}
