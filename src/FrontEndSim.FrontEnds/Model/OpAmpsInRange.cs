using System.Globalization;
using FrontEndSim.FrontEnds.Studies.Bias;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Respond;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>Every op amp is inside its output swing and the common mode of its inputs over the whole span, at every temperature, with
/// offsets at their limits, and inside its slew rate where a sensor alternates.</summary>
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
        var readings = new[] { solved, low }.SelectMany(s => Readings(s, cancel)).Concat(AtEndsOfLines(solved, cancel));
        var worst = readings.MinBy(h => h.Volts);
        // What fails with nominal parts needs no other board, and no other time, to fail.
        if (worst is { Volts: > AtLimitVolts })
            worst = HeadroomStudy.OnBoards(low, cancel).Concat(HeadroomStudy.InCourse(low, cancel)).Append(worst).MinBy(h => h.Volts);
        if (worst is null)
            return new(this, Verdict.Met, new NothingToJudge());
        var reason = new HeadroomReason(worst, worst.SwingVolts <= worst.CommonModeVolts);
        return Above(new(worst.Volts, Unit.Volts), new(AtLimitVolts, Unit.Volts), reason) with
        {
            Limit = new(0, Unit.Volts),
            Margin = new(worst.Volts, Unit.Volts),
        };
    }

    /// <summary>With what the sensors' lines bring with them at either end; of hum each amplifier sees as much as reaches it.</summary>
    private static IEnumerable<OpAmpHeadroom> AtEndsOfLines(SolvedFrontEnd solved, CancellationToken cancel)
    {
        var frontEnd = solved.FrontEnd;
        if (!frontEnd.Sensors.Any(s => s.HasLine))
            return [];
        return frontEnd.AllParts.Where(p => p.Amplifiers.Any())
            .Select(p => (p.Name, Shares: string.Join(' ', frontEnd.Sensors.Select(s => HumStudy.CrestShare(solved, s, p.Nodes, cancel)
                .ToString("g2", CultureInfo.InvariantCulture)))))
            .GroupBy(p => p.Shares, p => p.Name).SelectMany(group =>
            {
                double[] shares = [.. group.Key.Split(' ').Select(s => double.Parse(s, CultureInfo.InvariantCulture))];
                return new[] { false, true }.SelectMany(high => Readings(solved.With(frontEnd with
                {
                    Sensors = [.. frontEnd.Sensors.Select((s, k) => s.Lifted(high, shares[k]).Sensor)],
                }), cancel)).Where(h => group.Any(name => h.OpAmp == name || h.OpAmp.StartsWith(name + ".", StringComparison.Ordinal)));
            });
    }

    private static IEnumerable<OpAmpHeadroom> Readings(SolvedFrontEnd solved, CancellationToken cancel) =>
        solved.Mappings(cancel).SelectMany(m => m.Headroom)
        .Concat(new[] { SpanPlace.Low, SpanPlace.Middle, SpanPlace.High }.SelectMany(place =>
            BiasStudy.Run(solved, solved.At(place), cancel).Headroom))
        .Concat(HeadroomStudy.Corners(solved, cancel).SelectMany(corner => BiasStudy.Run(solved, corner, cancel).Headroom))
        .Concat(OpAmpHeadroom.Alternating(solved, cancel));
}
