namespace FrontEndSim.Reporting.Blocks;

/// <summary>
/// An answer as a person reads it: blocks of data, in order. A page is made once from a study's record; terminal, report, live page
/// and CSV are written from it by writers that know nothing of studies. Immutable.
/// </summary>
/// <param name="Title">What is looked at, in a line.</param>
/// <param name="Blocks">What is said of it, in order.</param>
public sealed record Page(string Title, ImmutableArray<Block> Blocks)
{
    /// <summary>The table that is written as comma-separated values; null where the page has none.</summary>
    public Table? Data { get; init; }
}

/// <summary>Where a block or a column is shown.</summary>
[Flags]
public enum Media
{
    /// <summary>A terminal of a hundred columns.</summary>
    Screen = 1,

    /// <summary>The report and the live page.</summary>
    Paper = 2,

    /// <summary>Comma-separated values.</summary>
    Data = 4,

    /// <summary>Everywhere.</summary>
    All = Screen | Paper | Data,
}

/// <summary>A piece of a page.</summary>
public abstract record Block
{
    /// <summary>Where it is shown.</summary>
    public Media Media { get; init; } = Media.All;
}

/// <summary>Blocks under a heading.</summary>
/// <param name="Id">Unique among its neighbours; a fragment of the page is found by it. Letters, digits and hyphens.</param>
/// <param name="Heading">The heading.</param>
/// <param name="Blocks">What is under it.</param>
public sealed record Section(string Id, string Heading, ImmutableArray<Block> Blocks) : Block;

/// <summary>How something stands to what is asked of it. A word always goes with it: no meaning rests on colour.</summary>
public enum Standing
{
    /// <summary>Nothing is judged.</summary>
    None,

    /// <summary>It is met.</summary>
    Met,

    /// <summary>It is not met.</summary>
    NotMet,

    /// <summary>It could not be computed.</summary>
    NotKnown,

    /// <summary>Something to know, though nothing asks for it.</summary>
    Warning,
}

/// <summary>The verdict of a page, in a sentence; it comes first.</summary>
/// <param name="Standing">How it stands.</param>
/// <param name="Words">A sentence.</param>
public sealed record Headline(Standing Standing, string Words) : Block;

/// <summary>Key figures.</summary>
/// <param name="Figures">Terms and what they are.</param>
public sealed record Facts(ImmutableArray<Fact> Figures) : Block;

/// <summary>A key figure.</summary>
/// <param name="Term">What it is, in a few words.</param>
/// <param name="What">Its value, with its unit.</param>
public sealed record Fact(string Term, string What);

/// <summary>Sentences, each with a word in the margin.</summary>
/// <param name="Items">The lines.</param>
public sealed record Lines(ImmutableArray<Line> Items) : Block;

/// <summary>A sentence or more.</summary>
/// <param name="Word">The word in the margin; empty where the line goes on from the one before it.</param>
/// <param name="Text">The sentence.</param>
public sealed record Line(string Word, string Text)
{
    /// <summary>How what the line speaks of stands; its word is then that of the standing.</summary>
    public Standing Standing { get; init; }
}

/// <summary>A paragraph.</summary>
/// <param name="Text">Its words.</param>
public sealed record Paragraph(string Text) : Block;

/// <summary>A list of sentences.</summary>
/// <param name="Items">The sentences.</param>
/// <param name="IsOrdered">Whether they are steps, one after the other.</param>
public sealed record Sentences(ImmutableArray<string> Items, bool IsOrdered = false) : Block;

/// <summary>What may hurt a person or a part.</summary>
/// <param name="Items">A sentence each.</param>
public sealed record Cautions(ImmutableArray<string> Items) : Block;

/// <summary>Text that is kept as it is: source code, a file.</summary>
/// <param name="Caption">What it is.</param>
/// <param name="Text">The text.</param>
public sealed record Listing(string Caption, string Text) : Block;
