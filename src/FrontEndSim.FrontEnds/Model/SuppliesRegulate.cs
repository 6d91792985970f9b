using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>Every regulator and reference gives its voltage at the operating point over the span, with the rails at either end of their
/// tolerance: none
/// is in dropout, overloaded, starved or lifted.</summary>
public sealed record SuppliesRegulate() : Requirement("")
{
    private static readonly SpanPlace[] Places = [SpanPlace.Middle, SpanPlace.Low, SpanPlace.High];

    /// <summary>Where anything regulates.</summary>
    internal static IEnumerable<Requirement> Implied(FrontEnd frontEnd) =>
        frontEnd.AllParts.Any(p => p.Regulates is not null) ? [new SuppliesRegulate()] : [];

    internal override bool IsOfOneTemperature => true;

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        var frontEnd = solved.FrontEnd.WithUsualTolerances();
        SolvedFrontEnd starved = solved.With(frontEnd.WithRails(r => r.AtLeast())), fed = solved.With(frontEnd.WithRails(r => r.AtMost()));
        var worst = Places.SelectMany(place => Of(frontEnd, starved, place, true, cancel).Concat(Of(frontEnd, fed, place, false, cancel)))
            .MinBy(r => r.MarginVolts / r.LimitVolts)!;
        return new(this, worst.MarginVolts >= 0 ? Verdict.Met : Verdict.NotMet, worst)
        {
            Found = new(worst.Volts, Unit.Volts),
            Limit = new(worst.LimitVolts, Unit.Volts),
            Margin = new(worst.MarginVolts, Unit.Volts),
        };
    }

    private static IEnumerable<RegulationReason> Of(FrontEnd frontEnd, SolvedFrontEnd solved, SpanPlace place, bool isLower,
        CancellationToken cancel)
    {
        var point = solved.Rest(place, cancel);
        return frontEnd.AllParts.Where(p => p.Regulates is not null).Select(p =>
        {
            var (positive, negative, volts) = p.Regulates!.Value;
            return new RegulationReason(new() { Sensors = place }, p.Name, point.Voltage(positive) - point.Voltage(negative),
                isLower ? volts.Low : Math.Max(volts.High, (1 + LiftAllowed) * volts.Middle), isLower);
        });
    }

    // As of a rail: a tenth above its voltage is where the absolute ratings of most logic begin to matter (common practice, no source).
    private const double LiftAllowed = 0.1;
}
