using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>No part is hotter or colder than parts of its kind are made for, beside those whose ratings say so by themselves.</summary>
public sealed record TemperaturesInRange() : Requirement("")
{
    /// <summary>Where a part has an end of its own.</summary>
    internal static IEnumerable<Requirement> Implied(FrontEnd frontEnd) =>
        Ends(frontEnd).Any() ? [new TemperaturesInRange()] : [];

    // Chips for industry and vehicles that a pin belongs to (typical, from memory), °C.
    private const double LeastChipCelsius = -40, MostChipCelsius = 125;

    private static IEnumerable<(string Name, string Word, string Value, double? Most, double? Least)> Ends(FrontEnd frontEnd) =>
    [
        .. frontEnd.AllParts.Where(p => p.MostAmbientCelsius is not null || p.LeastAmbientCelsius is not null)
            .Select(p => (p.Name, p.Word, p.ValueText, p.MostAmbientCelsius, p.LeastAmbientCelsius)),
        .. frontEnd.OwnPins.Where(p => p.Type is not null)
            .Select(p => (p.Name, "pin", p.Type!.Type.Name, (double?)MostChipCelsius, (double?)LeastChipCelsius)),
    ];

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        var frontEnd = solved.FrontEnd;
        double hottest = frontEnd.CelsiusRange?.High ?? frontEnd.Celsius, coldest = frontEnd.CelsiusRange?.Low ?? frontEnd.Celsius;
        static PartBeyond At(string name, string word, string value, double celsius, double limit) => new(new(name, word, value,
            RatingKind.Temperature, RatingKind.Temperature.Of(celsius), RatingKind.Temperature.Of(limit)),
            new Occasion { Celsius = celsius }, 0);
        // How far beyond its end each is, in kelvins, those beyond it first.
        (PartBeyond Part, double Beyond)[] parts =
        [
            .. Ends(frontEnd).SelectMany(p => ((PartBeyond, double)[])
            [
                .. p.Most is { } most ? [(At(p.Name, p.Word, p.Value, hottest, most), hottest - most)]
                    : Array.Empty<(PartBeyond, double)>(),
                .. p.Least is { } least ? [(At(p.Name, p.Word, p.Value, coldest, least), least - coldest)]
                    : Array.Empty<(PartBeyond, double)>(),
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
