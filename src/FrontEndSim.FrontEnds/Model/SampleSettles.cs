using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Respond;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>
/// A sample of the pin, from the other end of the span as after another channel, leaves less than a number of counts over when its time is
/// up.
/// </summary>
/// <param name="Pin">Name of the pin, which samples.</param>
/// <param name="MaximumCounts">What is left over must be below this, counts, above zero.</param>
public sealed record SampleSettles(string Pin, double MaximumCounts) : Requirement("")
{
    internal override bool IsOfOneTemperature => true;

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        var mapping = solved.Mapping(Pin, cancel: cancel);
        var (first, last) = (mapping.Points[0], mapping.Points[^1]);
        var worst = new[] { (At: first.SensorValue, From: last.PinVolts), (At: last.SensorValue, From: first.PinVolts) }
            .Select(e => SamplingStudy.Run(solved, Pin, mapping.Sensor, e.At, e.From, cancel)).MaxBy(s => Math.Abs(s.ErrorVolts))!;
        double counts = Math.Abs(worst.ErrorVolts) / mapping.CountVolts;
        return Below(new(counts, Unit.Count), new(MaximumCounts, Unit.Count), new SamplingReason(Pin, worst, counts, mapping.SensorUnit));
    }
}
