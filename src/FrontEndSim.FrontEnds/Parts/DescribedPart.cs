namespace FrontEndSim.FrontEnds.Parts;

/// <summary>A part of a few numbers, which stand with it or with a type that a file describes once.</summary>
/// <param name="Name">Part name.</param>
public abstract record DescribedPart(string Name) : Part(Name)
{
    /// <summary>Name of its type; null where its numbers are its own.</summary>
    public string? TypeName { get; init; }

    /// <summary>Its numbers, each in its unit.</summary>
    public abstract ImmutableArray<TypeFigure> Figures { get; }

    /// <summary>The number that it is bought by, as text.</summary>
    protected abstract string Bought { get; }

    /// <inheritdoc/>
    public sealed override string ValueText => TypeName ?? Bought;
}

/// <summary>A type that is all the numbers of a part: a model is made of them and nothing is fitted.</summary>
/// <param name="Name">A name of the user's.</param>
/// <param name="Part">A part of the type, between no nodes.</param>
/// <param name="Source">Where its numbers come from.</param>
public sealed record DescribedType<TPart>(string Name, TPart Part, string Source) : PartType(Name, Source) where TPart : DescribedPart
{
    /// <inheritdoc/>
    public override string Kind => Part.Word.Replace(' ', '-');

    /// <inheritdoc/>
    public override ImmutableArray<TypeFigure> Figures => Part.Figures;
}
