using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Respond;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>
/// A sample of the pin, after the pin before it in its scan or else from the other end of the span, leaves less than a number of counts
/// over when its time is up.
/// </summary>
/// <param name="Pin">Name of the pin, which samples.</param>
/// <param name="MaximumCounts">What is left over must be below this, counts, above zero.</param>
public sealed record SampleSettles(string Pin, double MaximumCounts) : Requirement("")
{
    /// <summary>Of every pin that samples what a sensor maps onto.</summary>
    internal static IEnumerable<Requirement> Implied(FrontEnd frontEnd) =>
        from pin in frontEnd.Pins
        where pin is { Sampling: not null, Converter: not null } && frontEnd.Sensors.Any(s => MappingStudy.Maps(frontEnd, pin, s))
        // What the mapping may be off by, a sample may be; where nothing is asked, half a count, as converters are specified.
        select new SampleSettles(pin.Name, frontEnd.Requirements.Min(r => r.ToleratedCounts(pin.Name)) ?? 0.5);

    internal override bool IsOfOneTemperature => true;

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        var mapping = solved.Mapping(Pin, cancel: cancel);
        var pin = solved.FrontEnd.FindPin(Pin);
        var scan = solved.FrontEnd.ScanOf(Pin);
        var (first, last) = (mapping.Points[0], mapping.Points[^1]);
        SamplingResult[] samples = scan is null
            ? [solved.Sample(Pin, mapping.Sensor, first.SensorValue, last.PinVolts, cancel),
                solved.Sample(Pin, mapping.Sensor, last.SensorValue, first.PinVolts, cancel)]
            : [.. new[] { first, last }.SelectMany(p => SamplingStudy.OverRange(solved, pin, mapping.Sensor, p.SensorValue, cancel))];
        var worst = samples.MaxBy(s => Math.Abs(s.ErrorVolts))!;
        double counts = Math.Abs(worst.ErrorVolts) / mapping.CountVolts;
        var result = Below(new(counts, Unit.Count), new(MaximumCounts, Unit.Count),
            new SamplingReason(Pin, worst, counts, mapping.SensorUnit));
        return result.Met ? result : result with { Candidates = [.. Candidates(pin, scan, worst, mapping.CountVolts)] };
    }

    private IEnumerable<Mend> Candidates(Pin pin, Scan? scan, SamplingResult worst, double countVolts)
    {
        if (scan is not null)
            yield return new(MendKind.DummyReading, scan.Name);
        if (double.IsFinite(worst.LongEnoughSeconds))
            yield return new(MendKind.LongerAcquisition, Pin) { To = new(worst.LongEnoughSeconds, Unit.Seconds) };
        // What shares its charge with the capacitor and moves by less than is allowed.
        yield return new(MendKind.PinCapacitor, Pin)
        {
            To = new(pin.Sampling!.Farads * Math.Abs(worst.StartVolts - worst.RestVolts) / (MaximumCounts * countVolts), Unit.Farad),
        };
    }
}
