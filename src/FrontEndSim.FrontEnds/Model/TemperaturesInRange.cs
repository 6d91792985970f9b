using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>No part is hotter than parts of its kind are made for, beside those whose ratings say so by themselves.</summary>
public sealed record TemperaturesInRange() : Requirement("")
{
    /// <summary>Where a part has an end of its own.</summary>
    internal static IEnumerable<Requirement> Implied(FrontEnd frontEnd) =>
        frontEnd.AllParts.Any(p => p.MostAmbientCelsius is not null) ? [new TemperaturesInRange()] : [];

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        var frontEnd = solved.FrontEnd;
        double celsius = frontEnd.CelsiusRange?.High ?? frontEnd.Celsius;
        var where = new Occasion { Celsius = celsius };
        Quantity Of(double value) => RatingKind.Temperature.Of(value);
        ImmutableArray<PartBeyond> parts =
        [
            .. frontEnd.AllParts.Where(p => p.MostAmbientCelsius is not null)
                .Select(p => new PartLoad(p.Name, p.Word, p.ValueText, RatingKind.Temperature, Of(celsius),
                    Of(p.MostAmbientCelsius!.Value)))
                .OrderByDescending(l => l.Share).Select(l => new PartBeyond(l, where, 0)),
        ];
        var worst = parts[0].Part;
        return new(this, worst.Share > 1 ? Verdict.NotMet : Verdict.Met,
            new PartsReason(worst, where, [.. parts.Where(p => p.Part.Share > 1)]))
        {
            Found = worst.Found,
            Limit = worst.Limit,
            Margin = worst.Limit - worst.Found,
        };
    }
}
