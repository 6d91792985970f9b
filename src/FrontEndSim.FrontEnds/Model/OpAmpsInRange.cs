using FrontEndSim.FrontEnds.Studies.Bias;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>Every op amp is inside its output swing and the common mode of its inputs over the whole span, at every temperature, and inside
/// its slew rate where a sensor alternates.</summary>
public sealed record OpAmpsInRange() : Requirement("")
{
    // A saturated output stands at its limit, not beyond it: so near is there.
    private const double AtLimitVolts = 1e-4;

    /// <summary>Where there is an op amp.</summary>
    internal static IEnumerable<Requirement> Implied(FrontEnd frontEnd) =>
        frontEnd.AllParts.Any(p => p.Amplifiers.Any()) ? [new OpAmpsInRange()] : [];

    internal override bool IsOfOneTemperature => true;

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        // Rails at their least leave the least room.
        var low = solved.With(solved.FrontEnd.WithUsualTolerances().WithRails(r => r.AtLeast()));
        SolvedFrontEnd[] modes = solved.FrontEnd.Sensors.All(s => s.CommonMode is null) ? []
            : [.. new[] { false, true }.Select(high => solved.With(solved.FrontEnd with
            {
                Sensors = [.. solved.FrontEnd.Sensors.Select(s => s with { CommonMode = s.CommonMode?.At(high) })],
            }))];
        var readings = new[] { solved, low }.Concat(modes).SelectMany(s => Readings(s, cancel));
        var worst = readings.MinBy(h => h.Volts);
        if (worst is null)
            return new(this, Verdict.Met, new NothingToJudge());
        var reason = new HeadroomReason(worst, worst.SwingVolts <= worst.CommonModeVolts);
        return Above(new(worst.Volts, Unit.Volts), new(AtLimitVolts, Unit.Volts), reason) with
        {
            Limit = new(0, Unit.Volts),
            Margin = new(worst.Volts, Unit.Volts),
        };
    }

    private static IEnumerable<OpAmpHeadroom> Readings(SolvedFrontEnd solved, CancellationToken cancel) =>
        solved.Mappings(cancel).SelectMany(m => m.Headroom)
        .Concat(new[] { SpanPlace.Low, SpanPlace.Middle, SpanPlace.High }.SelectMany(place =>
            BiasStudy.Run(solved, solved.At(place), cancel).Headroom))
        .Concat(OpAmpHeadroom.Alternating(solved, cancel));
}
