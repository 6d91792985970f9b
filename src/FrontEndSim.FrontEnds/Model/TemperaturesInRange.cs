using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>No part is hotter or colder than parts of its kind are made for, beside those whose ratings say so by themselves.</summary>
public sealed record TemperaturesInRange() : Requirement("")
{
    /// <summary>Where a part has an end of its own.</summary>
    internal static IEnumerable<Requirement> Implied(FrontEnd frontEnd) =>
        frontEnd.AllParts.Any(p => p.MostAmbientCelsius is not null || p.LeastAmbientCelsius is not null)
            ? [new TemperaturesInRange()] : [];

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        var frontEnd = solved.FrontEnd;
        double hottest = frontEnd.CelsiusRange?.High ?? frontEnd.Celsius, coldest = frontEnd.CelsiusRange?.Low ?? frontEnd.Celsius;
        static PartBeyond At(Part part, double celsius, double limit) => new(new(part.Name, part.Word, part.ValueText,
            RatingKind.Temperature, RatingKind.Temperature.Of(celsius), RatingKind.Temperature.Of(limit)),
            new Occasion { Celsius = celsius }, 0);
        // How far beyond its end each is, in kelvins, those beyond it first.
        (PartBeyond Part, double Beyond)[] parts =
        [
            .. frontEnd.AllParts.SelectMany(p => ((PartBeyond, double)[])
            [
                .. p.MostAmbientCelsius is { } most ? [(At(p, hottest, most), hottest - most)] : Array.Empty<(PartBeyond, double)>(),
                .. p.LeastAmbientCelsius is { } least ? [(At(p, coldest, least), least - coldest)] : Array.Empty<(PartBeyond, double)>(),
            ]).OrderByDescending(x => x.Item2),
        ];
        var (worst, beyond) = parts[0];
        return new(this, beyond > 0 ? Verdict.NotMet : Verdict.Met,
            new PartsReason(worst.Part, worst.Where, [.. parts.Where(p => p.Beyond > 0).Select(p => p.Part)]))
        {
            Found = worst.Part.Found,
            Limit = worst.Part.Limit,
            Margin = RatingKind.Temperature.Of(-beyond),
        };
    }
}
