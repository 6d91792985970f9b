namespace FrontEndSim.Reporting.Blocks;

/// <summary>A table with typed columns: what is shown on a screen and what a spreadsheet gets come from the same cells.</summary>
/// <param name="Caption">What it shows, in a line; empty where the heading above says it.</param>
/// <param name="Columns">The columns.</param>
/// <param name="Rows">Rows of as many cells as there are columns.</param>
public sealed record Table(string Caption, ImmutableArray<Column> Columns, ImmutableArray<ImmutableArray<Cell>> Rows) : Block;

/// <summary>A column of a table.</summary>
/// <param name="Heading">What it holds, without the unit.</param>
/// <param name="Kind">What its cells are.</param>
/// <param name="Unit">Unit of its numbers, without prefix; "%" for a fraction; empty for none, or where each cell has its own.</param>
public sealed record Column(string Heading, ColumnKind Kind = ColumnKind.Words, string Unit = "")
{
    /// <summary>Significant digits of its numbers for a person. Comma-separated values have them all.</summary>
    public int Digits { get; init; } = 4;

    /// <summary>Where it is shown.</summary>
    public Media Media { get; init; } = Media.All;

    /// <summary>Whether it stands to the right, as numbers do.</summary>
    public bool IsRight => Kind is ColumnKind.Number or ColumnKind.Plain or ColumnKind.Signed;

    /// <summary>The heading with the unit, where the cells do not carry it.</summary>
    public string HeadingWithUnit => Unit is "" or "%" || Kind is not (ColumnKind.Plain or ColumnKind.Signed)
        ? Heading : $"{Heading} ({Unit})";
}

/// <summary>What the cells of a column are.</summary>
public enum ColumnKind
{
    /// <summary>Words.</summary>
    Words,

    /// <summary>Numbers, each shown with the prefix that suits it and the unit.</summary>
    Number,

    /// <summary>Numbers shown without prefix; the unit stands in the heading.</summary>
    Plain,

    /// <summary>Errors and differences, shown with their sign; the unit stands in the heading.</summary>
    Signed,

    /// <summary>How something stands.</summary>
    Standing,

    /// <summary>Shares of a whole, drawn as bars.</summary>
    Bar,

    /// <summary>Room for a person to write a number in.</summary>
    Entry,
}

/// <summary>A cell: words, a number, or a standing; what a column of its kind needs.</summary>
public readonly record struct Cell
{
    /// <summary>Words; what is written behind the number where there is one; null for none.</summary>
    public string? Words { get; init; }

    /// <summary>The number, in the column's unit; null for none.</summary>
    public double? Number { get; init; }

    /// <summary>Unit of the number where it is not the column's.</summary>
    public string? Unit { get; init; }

    /// <summary>How something stands.</summary>
    public Standing Standing { get; init; }

    /// <summary>Length of a bar, 1 for the whole; null for none.</summary>
    public double? Share { get; init; }

    /// <summary>Words.</summary>
    public static implicit operator Cell(string? words) => new() { Words = words };

    /// <summary>A number.</summary>
    public static implicit operator Cell(double number) => new() { Number = number };

    /// <summary>A number, or an empty cell.</summary>
    public static implicit operator Cell(double? number) => new() { Number = number };

    /// <summary>A standing, with the writer's own word for it.</summary>
    public static implicit operator Cell(Standing standing) => new() { Standing = standing };
}
