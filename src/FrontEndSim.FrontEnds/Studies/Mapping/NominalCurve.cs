using FrontEndSim.FrontEnds.Sensors;

namespace FrontEndSim.FrontEnds.Studies.Mapping;

/// <summary>What nominal parts make at a pin of what a sensor gives: a smooth curve through solved points.</summary>
internal sealed class NominalCurve
{
    private readonly TableLaw _volts;

    /// <summary>The curve through points; of points that the sensor gives the same for, the first counts.</summary>
    /// <param name="points">What the sensor gives, and the voltage at the pin, V; two different ones at least.</param>
    public NominalCurve(IEnumerable<(double Given, double Volts)> points) =>
        _volts = Through(points.Select(p => new SensorPoint(p.Given, p.Volts)));

    /// <summary>The voltage at the pin, V.</summary>
    /// <param name="given">What the sensor gives: volts, ohm or amperes.</param>
    public double Volts(double given) => _volts.At(given);

    /// <summary>Lowest and highest voltage of the points, V.</summary>
    public Span Range => new(_volts.Points.Min(p => p.Output), _volts.Points.Max(p => p.Output));

    /// <summary>Whether the points reach more than one voltage.</summary>
    public bool Moves => _volts.Points.Max(p => p.Output) > _volts.Points.Min(p => p.Output);

    /// <summary>A curve through points in any order, those dropped that do not ascend by more than rounding.</summary>
    internal static TableLaw Through(IEnumerable<SensorPoint> points)
    {
        SensorPoint[] sorted = [.. points.OrderBy(p => p.Quantity)];
        double least = 1e-12 * Math.Max(Math.Abs(sorted[0].Quantity), Math.Abs(sorted[^1].Quantity));
        var kept = ImmutableArray.CreateBuilder<SensorPoint>();
        foreach (var point in sorted)
        {
            if (kept.Count == 0 || point.Quantity - kept[^1].Quantity > least)
                kept.Add(point);
        }
        if (kept.Count < 2)
            kept.Add(new(kept[0].Quantity + Math.Max(1, Math.Abs(kept[0].Quantity)), kept[0].Output));
        return new TableLaw(kept.ToImmutable(), Unit.Volts);
    }
}
