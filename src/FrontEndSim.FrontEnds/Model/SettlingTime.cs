using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Respond;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>
/// After its sensor has changed from one end of its span to the other, either way, a pin has settled to within an error in a time, parts
/// at the ends of their tolerances.
/// </summary>
/// <param name="Pin">Name of the pin.</param>
/// <param name="Within">The error, counts or V, above zero.</param>
/// <param name="MaximumSeconds">The time must be below this, s, above zero.</param>
/// <param name="Text">The requirement in words.</param>
public sealed record SettlingTime(string Pin, Quantity Within, double MaximumSeconds, string Text) : Requirement(Text)
{
    internal override bool IsOfOneTemperature => true;

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        var pin = solved.FrontEnd.FindPin(Pin);
        double volts = Within.Unit == Unit.Count ? Within.Value * MappingStudy.CountVolts(solved.FrontEnd, pin) : Within.Value;
        var found = SettlingStudy.Run(solved, Pin, volts, cancel);
        return Below(new(found.Seconds, Unit.Seconds), new(MaximumSeconds, Unit.Seconds), new SettlingReason(Pin, Within, found));
    }
}

/// <summary>The noise of a pin's voltage, or of one reading where it samples, is below a limit.</summary>
/// <param name="Pin">Name of the pin.</param>
/// <param name="Maximum">The root mean square must be below this, counts or V, above zero.</param>
/// <param name="Text">The requirement in words.</param>
public sealed record NoiseUnder(string Pin, Quantity Maximum, string Text) : Requirement(Text)
{
    internal override bool IsOfOneTemperature => true;

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        var pin = solved.FrontEnd.FindPin(Pin);
        var sensor = MappingStudy.Source(solved.FrontEnd, pin, null);
        double unit = Maximum.Unit == Unit.Count ? MappingStudy.CountVolts(solved.FrontEnd, pin) : 1;
        var (value, worst) = new[] { sensor.Span.Low, sensor.Span.Middle, sensor.Span.High }
            .Select(v => (v, Noise: solved.Noise(pin, sensor.Name, v, cancel))).MaxBy(n => n.Noise.RmsVolts);
        return Below(new(worst.RmsVolts / unit, Maximum.Unit), Maximum,
            new NoiseReason(sensor.Name, Pin, value, sensor.UnitText, worst));
    }
}
