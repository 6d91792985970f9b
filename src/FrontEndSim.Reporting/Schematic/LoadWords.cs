using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.Reporting.Schematic;

/// <summary>Places how much each part takes of its tightest rating beside its name and value, clear of everything else.</summary>
internal static class LoadWords
{
    // Height of a line, and what stands between words in a row.
    private const int Line = 14, Gap = 8;

    /// <summary>The drawing with room for the load of each part that has a rating; a part without it goes
    /// without.</summary>
    /// <param name="drawing">The drawing with all else in it.</param>
    /// <param name="isRated">Whether a part has a rating.</param>
    public static Drawing On(Drawing drawing, Func<Part, bool> isRated)
    {
        List<Area> taken = [.. drawing.Parts.SelectMany(p => p.Filled), .. drawing.Flags.Select(f => f.Area),
            .. drawing.Words.Select(w => w.Area), .. drawing.Wires.Select(w => w.Area)];
        var words = drawing.Words.ToBuilder();
        foreach (var part in drawing.Parts.Select(p => p.Part).Where(isRated))
        {
            if (Candidates(part.Name, [.. drawing.Words.Where(w => w.Owner == part.Name && w.Kind is WordsKind.Name or WordsKind.Value
                && w.Owner == part.Name)]).FirstOrDefault(w => !taken.Any(w.Area.Meets)) is { } placed)
            {
                taken.Add(placed.Area);
                words.Add(placed);
            }
        }
        return drawing with { Words = words.ToImmutable() };
    }

    // Below the lower line and above the upper, then at either end of a line.
    private static IEnumerable<Words> Candidates(string part, Words[] own)
    {
        if (own.Length == 0)
            yield break;
        var (upper, lower) = (own.MinBy(w => w.At.Y)!, own.MaxBy(w => w.At.Y)!);
        yield return new(part, lower.At.Plus(0, Line), lower.Anchor, WordsKind.Load, part);
        yield return new(part, upper.At.Plus(0, -Line), upper.Anchor, WordsKind.Load, part);
        foreach (var w in own)
        {
            yield return new(part, new(w.Area.Right + Gap, w.At.Y), Anchor.Start, WordsKind.Load, part);
            yield return new(part, new(w.Area.Left - Gap, w.At.Y), Anchor.End, WordsKind.Load, part);
        }
        foreach (int aside in (int[])[-24, 24, -48, 48])
        {
            yield return new(part, lower.At.Plus(aside, Line), lower.Anchor, WordsKind.Load, part);
            yield return new(part, upper.At.Plus(aside, -Line), upper.Anchor, WordsKind.Load, part);
        }
    }
}
