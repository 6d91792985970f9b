using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>A part stays below a share of its rated power: at rest at both ends of the span, and in every event once its heat is averaged.</summary>
/// <param name="Part">Name of the part.</param>
/// <param name="MaximumShare">The share, above zero: 0.5 is half of the rating.</param>
/// <param name="Text">The requirement in words.</param>
/// <param name="SourceLine">Line in the circuit file.</param>
public sealed record PartPower(string Part, double MaximumShare, string Text, int? SourceLine = null) : Requirement(Text, SourceLine)
{
    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null, CancellationToken cancel = default)
    {
        var part = solved.FrontEnd.AllParts.FirstOrDefault(p => p.Name == Part) ?? throw new StudyProblemException($"There is no part named {Part}.");
        var rating = part.Ratings(solved.FrontEnd.Celsius).FirstOrDefault(r => r.Kind == RatingKind.Power)
            ?? throw new StudyProblemException($"\"{Text}\" cannot be judged: {part.Word} {part.Name} has no rated power.");
        var found = new List<(Occasion Where, double Watts)>();
        foreach (var place in new[] { SpanPlace.Low, SpanPlace.High })
        {
            var point = solved.Rest(place, cancel);
            found.Add((new() { Sensors = place }, part.ToElements().Sum(e => point.Parts[e.Name].Watts)));
        }
        found.AddRange(solved.FrontEnd.Events.Select(e => (new Occasion { Event = e.Name, Sensors = SpanPlace.Middle },
            solved.Event(e, cancel).Parts.First(s => s.Part.Name == part.Name).WarmWatts)));
        var (where, watts) = found.MaxBy(f => f.Watts);
        var load = new PartLoad(part.Name, part.Word, part.ValueText, RatingKind.Power, new(watts, Unit.Watt), new(rating.Limit, Unit.Watt)) { ThermalSeconds = part.ThermalSeconds };
        var result = Below(Quantity.Share(load.Share), Quantity.Share(MaximumShare), new PartReason(load, where));
        return result.Met ? result : result with { Mends = [new(MendKind.HigherRating, part.Name) { Other = part.Word, To = new(watts / MaximumShare, Unit.Watt) }] };
    }
}
