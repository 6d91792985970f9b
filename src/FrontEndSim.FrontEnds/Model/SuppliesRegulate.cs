using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>Every regulator and reference gives its voltage at the operating point over the span, with the rails at either end of their
/// tolerance: none is in dropout, overloaded, starved or lifted, and through a shunt reference flows what its sheet asks for at
/// least.</summary>
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
        // No voltage shows how little more than nothing is left for a reference that takes what its load does not.
        if (Places.SelectMany(place => Starved(starved, place, cancel)).MinBy(r => r.Amps / r.LeastAmps) is { } least
            && (least.Amps - least.LeastAmps) / least.LeastAmps < worst.MarginVolts / worst.LimitVolts)
        {
            return new(this, least.Amps >= least.LeastAmps ? Verdict.Met : Verdict.NotMet, least)
            {
                Found = new(least.Amps, Unit.Amps),
                Limit = new(least.LeastAmps, Unit.Amps),
                Margin = new(least.Amps - least.LeastAmps, Unit.Amps),
            };
        }
        return new(this, worst.MarginVolts >= 0 ? Verdict.Met : Verdict.NotMet, worst)
        {
            Found = new(worst.Volts, Unit.Volts),
            Limit = new(worst.LimitVolts, Unit.Volts),
            Margin = new(worst.MarginVolts, Unit.Volts),
        };
    }

    private static IEnumerable<StarvedReason> Starved(SolvedFrontEnd solved, SpanPlace place, CancellationToken cancel) =>
        solved.FrontEnd.AllParts.Where(p => p.RegulatesFromAmps is not null).Select(reference =>
        {
            // A piece of the highest voltage leaves least across what feeds it, and most to its load. Each resistor at its nodes goes to
            // the end of its tolerance at which less flows.
            var now = reference.AtLimit(true)?.Part ?? reference;
            double Amps(FrontEnd changed) => now.RegulatingAmps(solved.With(changed).Rest(place, cancel));
            var frontEnd = solved.FrontEnd.Replace(reference, now);
            double amps = Amps(frontEnd);
            Part[] beside = [.. frontEnd.AllParts.Where(p => p.Value?.Unit == Unit.Ohm && p.Nodes.Intersect(now.Nodes).Any(IsInner))];
            foreach (var part in beside)
            {
                foreach (bool high in new[] { true, false })
                {
                    if (part.AtTolerance(high) is { Part: var end } && frontEnd.Replace(part, end) is var changed
                        && Amps(changed) is var less && less < amps)
                    {
                        (frontEnd, amps) = (changed, less);
                        break;
                    }
                }
            }
            return new StarvedReason(new() { Sensors = place }, reference.Name, amps, reference.RegulatesFromAmps!.Value);

            bool IsInner(string node) => node != Circuit.Ground && solved.FrontEnd.Rails.All(r => r.Name != node);
        });

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
