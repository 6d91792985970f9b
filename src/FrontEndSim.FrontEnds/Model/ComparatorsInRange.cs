using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>
/// The lower input of every comparator is inside the common mode, over the whole span and with rails at the least of their tolerance: above
/// the upper limit the output is right as long as the other input is below it, below the lower one it may turn round whatever the other
/// does (LM393 sheets of TI and onsemi).
/// </summary>
public sealed record ComparatorsInRange() : Requirement("")
{
    /// <summary>Where there is a comparator.</summary>
    internal static IEnumerable<Requirement> Implied(FrontEnd frontEnd) =>
        frontEnd.AllParts.Any(p => p is ComparatorPart) ? [new ComparatorsInRange()] : [];

    internal override bool IsOfOneTemperature => true;

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        var low = solved.With(solved.FrontEnd.WithUsualTolerances().WithRails(r => r.AtLeast()));
        ComparatorPart[] parts = [.. solved.FrontEnd.AllParts.OfType<ComparatorPart>()];
        var worst = new[] { solved, low }.SelectMany(s => new[] { SpanPlace.Low, SpanPlace.Middle, SpanPlace.High }.SelectMany(place =>
        {
            var point = s.Rest(place, cancel);
            var sensor = s.FrontEnd.Sensors.FirstOrDefault();
            return parts.Select(p => Reason(p, point) with
            {
                SensorValue = sensor is null ? null : s.At(place).SensorValue[sensor.Name],
                SensorUnit = sensor?.UnitText ?? "V",
            });
        })).MinBy(r => r.Volts)!;
        return Above(new(worst.Volts, Unit.Volts), new(0, Unit.Volts), worst);
    }

    private static ComparatorReason Reason(ComparatorPart part, OperatingPoint point)
    {
        double high = point.Voltage(part.PositiveRail) - part.Type.Model.CommonModeHighVolts,
            low = point.Voltage(part.NegativeRail) + part.Type.Model.CommonModeLowVolts,
            lower = Math.Min(point.Voltage(part.Plus), point.Voltage(part.Minus));
        return new(part.Name, Math.Min(high - lower, lower - low), lower, lower - low < high - lower ? "lower" : "upper");
    }
}
