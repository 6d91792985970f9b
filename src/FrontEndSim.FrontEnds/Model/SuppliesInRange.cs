using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>Every op amp, gate and pin works at the voltage between its supply pins, and no pin converts against more than its
/// own supply, with the rails at both ends of their tolerance.</summary>
public sealed record SuppliesInRange() : Requirement("")
{
    /// <summary>Where anything has a range of supplies.</summary>
    internal static IEnumerable<Requirement> Implied(FrontEnd frontEnd) =>
        Fed(frontEnd).Any() || References(frontEnd).Any() ? [new SuppliesInRange()] : [];

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        var frontEnd = solved.FrontEnd.WithUsualTolerances();
        SupplyReason? worst = null;
        foreach (var ends in new[] { frontEnd.WithRails(r => r.AtLeast()), frontEnd.WithRails(r => r.AtMost()) })
        {
            var point = solved.With(ends).Rest(cancel: cancel);
            foreach (var (subject, positive, negative, range) in Fed(frontEnd))
            {
                double volts = point.Voltage(positive) - point.Voltage(negative);
                bool isLow = volts - range.Low < range.High - volts;
                Take(new SupplyReason(subject, volts, isLow ? range.Low : range.High, isLow), range.High);
            }
            foreach (var (pin, reference, supply) in References(frontEnd))
            {
                double limit = point.Voltage(supply) + AboveSupplyVolts;
                Take(new SupplyReason(pin, point.Voltage(reference), limit, false) { Reference = reference }, limit);
            }
        }
        return worst is null ? new(this, Verdict.Met, new NothingToJudge())
            : new(this, worst.MarginVolts >= -Rounding ? Verdict.Met : Verdict.NotMet, worst)
            {
                Found = new(worst.Volts, Unit.Volts),
                Limit = new(worst.LimitVolts, Unit.Volts),
                Margin = new(worst.MarginVolts, Unit.Volts),
            };

        void Take(SupplyReason found, double most)
        {
            if (worst is null || found.MarginVolts / most < worst.MarginVolts / worst.LimitVolts)
                worst = found;
        }
    }

    // How far what a converter measures against may stand above its supply: as far as any of its pins (sheets of microcontrollers, from
    // memory).
    private const double AboveSupplyVolts = 0.3;

    private static IEnumerable<(string Pin, string Reference, string Supply)> References(FrontEnd frontEnd) =>
        from pin in frontEnd.Pins
        let supply = pin.Type?.Rail ?? pin.Supply ?? pin.RatedHigh?.Rail
        let converter = pin.Converter
        where supply is not null && converter is not null
        from reference in converter.References
        where reference != supply
        select (pin.Name, reference, supply);

    // A supply that stands at its limit is inside: what a resistance of its own takes does not count.
    private const double Rounding = 1e-3;

    private static IEnumerable<(string Subject, string Positive, string Negative, Span Range)> Fed(FrontEnd frontEnd)
    {
        foreach (var part in frontEnd.AllParts)
        {
            if (part.WorkingSupply is var (positive, negative, range))
                yield return (part.Name, positive, negative, range);
        }
        foreach (var pin in frontEnd.Pins)
        {
            if (pin is { SupplyRange: { } volts, Type.Rail: { } rail })
                yield return (pin.Name, rail, Circuit.Ground, volts);
        }
    }
}
