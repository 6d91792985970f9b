using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>Every op amp, gate and pin works at the voltage between its supply pins, with the rails at both ends of their
/// tolerance.</summary>
public sealed record SuppliesInRange() : Requirement("")
{
    /// <summary>Whether a front end has anything with a range of supplies.</summary>
    public static bool Concerns(FrontEnd frontEnd) => Fed(frontEnd).Any();

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        var frontEnd = solved.FrontEnd;
        SupplyReason? worst = null;
        foreach (var ends in new[] { frontEnd.WithRails(r => r.AtLeast()), frontEnd.WithRails(r => r.AtMost()) })
        {
            var point = solved.With(ends).Rest(cancel: cancel);
            foreach (var (subject, positive, negative, range) in Fed(frontEnd))
            {
                double volts = point.Voltage(positive) - point.Voltage(negative);
                bool isLow = volts - range.Low < range.High - volts;
                var found = new SupplyReason(subject, volts, isLow ? range.Low : range.High, isLow);
                if (worst is null || found.MarginVolts / range.High < worst.MarginVolts / worst.LimitVolts)
                    worst = found;
            }
        }
        return worst is null ? new(this, Verdict.Met, new NothingToJudge())
            : new(this, worst.MarginVolts >= -Rounding ? Verdict.Met : Verdict.NotMet, worst)
            {
                Found = new(worst.Volts, Unit.Volts),
                Limit = new(worst.LimitVolts, Unit.Volts),
                Margin = new(worst.MarginVolts, Unit.Volts),
            };
    }

    // A supply that stands at its limit is inside: what a resistance of its own takes does not count.
    private const double Rounding = 1e-3;

    private static IEnumerable<(string Subject, string Positive, string Negative, Span Range)> Fed(FrontEnd frontEnd)
    {
        foreach (var amp in frontEnd.AllParts.OfType<OpAmpPart>())
            yield return (amp.Name, amp.PositiveRail, amp.NegativeRail,
                new(amp.Type.LowestSupplyVolts, Math.Max(amp.Type.HighestSupplyVolts, amp.Type.MostSupplyVolts ?? 0)));
        foreach (var gate in frontEnd.AllParts.OfType<GatePart>())
            yield return (gate.Name, gate.Rail, Circuit.Ground, gate.Type.Supply);
        foreach (var pin in frontEnd.Pins)
        {
            if (pin is { SupplyRange: { } range, Type.Rail: { } rail })
                yield return (pin.Name, rail, Circuit.Ground, range);
        }
    }
}
