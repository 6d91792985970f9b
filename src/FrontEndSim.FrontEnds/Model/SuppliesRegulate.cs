using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>Every regulator and reference gives its voltage at rest over the span, with the rails at the lower end of their tolerance: none
/// is in dropout, overloaded or starved.</summary>
public sealed record SuppliesRegulate() : Requirement("")
{
    private static readonly SpanPlace[] Places = [SpanPlace.Middle, SpanPlace.Low, SpanPlace.High];

    /// <summary>Whether a front end has anything that regulates.</summary>
    public static bool Concerns(FrontEnd frontEnd) => Regulating(frontEnd).Any();

    internal override bool IsOfOneTemperature => true;

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        var frontEnd = solved.FrontEnd.WithUsualTolerances();
        var starved = solved.With(frontEnd.WithRails(r => r.AtLeast()));
        var worst = Places.SelectMany(place =>
        {
            var point = starved.Rest(place, cancel);
            return Regulating(frontEnd).Select(r => new RegulationReason(new() { Sensors = place }, r.Part,
                point.Voltage(r.Plus) - point.Voltage(r.Minus), r.LeastVolts));
        }).MinBy(r => r.Volts / r.LeastVolts)!;
        return new(this, worst.Volts >= worst.LeastVolts ? Verdict.Met : Verdict.NotMet, worst)
        {
            Found = new(worst.Volts, Unit.Volts),
            Limit = new(worst.LeastVolts, Unit.Volts),
            Margin = new(worst.Volts - worst.LeastVolts, Unit.Volts),
        };
    }

    private static IEnumerable<(string Part, string Plus, string Minus, double LeastVolts)> Regulating(FrontEnd frontEnd) =>
        frontEnd.AllParts.Where(p => p.Regulates is not null).Select(p => (p.Name, p.Regulates!.Value.Positive,
            p.Regulates.Value.Negative, p.Regulates.Value.LeastVolts));
}
