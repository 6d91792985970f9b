using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary>A part of two ends whose few numbers stand on its line, or below a type that the file describes.</summary>
/// <param name="keyword">The first word of its line, and the kind of its types.</param>
/// <param name="number">The number that it is bought by, as a type says it.</param>
/// <param name="details">What may be said of it besides.</param>
internal abstract class DescribedPartStatement<TPart>(string keyword, Addition number, params ImmutableArray<Detail<TPart>> details)
    : PartStatement<TPart>(details) where TPart : DescribedPart
{
    public override string Keyword => keyword;

    public override ImmutableArray<SheetWords> Sheets =>
    [
        new SheetWords<DescribedType<TPart>>(keyword,
            read => Of("", "", "", read) is { } part && Detail<TPart>.FillUp(part, Details, read) is { } whole
                ? new(read.Name, (TPart)((DescribedPart)whole with { TypeName = read.Name }), read.Source) : null,
            [
                new(number) { Needed = $"what it is bought by: {number}" },
                .. Details.Select(d => new Detail<DescribedType<TPart>>(d.Words)),
            ]),
    ];

    protected override ImmutableArray<Piece> Head =>
    [
        NewName(keyword), .. Terminals,
        new OneOf(new Phrase("type", new Blank("type", Shape.TypeName, "a type that the file describes")), new Phrase(number.Rest)),
    ];

    protected sealed override TPart? Of(PartReader read)
    {
        var (from, to) = (read.From, read.To);
        if (!read.Has("type"))
            return Of(read.Name, from, to, read);
        return read.Type<DescribedType<TPart>>(keyword) is { } type ? Of(type.Part, read.Name, from, to) : null;
    }

    /// <summary>The part of the number that it is bought by, or null after a complaint.</summary>
    protected abstract TPart? Of(string name, string from, string to, FigureReader read);

    /// <summary>A part of a type between two nodes.</summary>
    protected abstract TPart Of(TPart type, string name, string from, string to);
}
