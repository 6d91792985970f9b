namespace FrontEndSim.Reporting.Plots;

/// <summary>
/// A panel is data with names and units, and nothing of how it is drawn: one pair of axes with its curves, bands and
/// notes. Immutable.
/// </summary>
/// <param name="Title">One line above the panel.</param>
/// <param name="Across">The horizontal axis.</param>
/// <param name="Up">The vertical axis.</param>
/// <param name="Curves">Curves in the order in which they are drawn, later ones on top.</param>
public sealed record Panel(string Title, Axis Across, Axis Up, ImmutableArray<Curve> Curves)
{
    /// <summary>Bands behind the curves, such as a pin's rating.</summary>
    public ImmutableArray<Band> Bands { get; init; } = [];

    /// <summary>Points worth a word, such as the highest voltage.</summary>
    public ImmutableArray<Note> Notes { get; init; } = [];

    /// <summary>Height against the other panels of the same picture, above zero.</summary>
    public double Share { get; init; } = 1;

    /// <summary>The panel with the decimal logarithms of what is drawn along logarithmic axes.</summary>
    internal Panel Unrolled()
    {
        if (!Across.IsLogarithmic && !Up.IsLogarithmic)
            return this;
        double X(double x) => Across.IsLogarithmic ? Math.Log10(x) : x;
        double Y(double y) => Up.IsLogarithmic ? Math.Log10(y) : y;
        return this with
        {
            Curves = [.. Curves.Select(c => c with { X = [.. c.X.Select(X)], Y = [.. c.Y.Select(Y)] })],
            Notes = [.. Notes.Select(n => n with { X = X(n.X), Y = Y(n.Y) })],
            Bands = [.. Bands.Select(b => b with { X = [.. b.X.Select(X)], Low = Edge(b.Low), High = Edge(b.High) })],
        };

        BandEdge? Edge(BandEdge? edge) => edge is null ? null : edge with { Y = [.. edge.Y.Select(Y)] };
    }
}

/// <summary>An axis: what it shows and the SI unit of its numbers, without prefix.</summary>
/// <param name="Name">What is shown, such as "pin ADC".</param>
/// <param name="Unit">Unit of the numbers given, such as "V" or "s"; drawn with the prefix that suits the range.</param>
public sealed record Axis(string Name, string Unit)
{
    /// <summary>Whether the axis is logarithmic; its numbers are then above zero.</summary>
    public bool IsLogarithmic { get; init; }

    /// <summary>The number that stands at a place of the axis: the place itself, or ten to its power.</summary>
    internal double Plain(double place) => IsLogarithmic ? Math.Pow(10, place) : place;
}

/// <summary>A curve through points.</summary>
/// <param name="Label">Written at the curve.</param>
/// <param name="X">Horizontal values, in the axis's unit.</param>
/// <param name="Y">Vertical values, as many.</param>
/// <param name="Look">How it is drawn.</param>
public sealed record Curve(string Label, ImmutableArray<double> X, ImmutableArray<double> Y, CurveLook Look);

/// <summary>Looks that stay distinct without colour.</summary>
public enum CurveLook
{
    /// <summary>What the simulation found: a heavy solid line.</summary>
    Simulated,

    /// <summary>What it is compared with: a thin broken line.</summary>
    Ideal,
}

/// <summary>A band between two edges that may move along the horizontal axis.</summary>
/// <param name="X">Horizontal values, at least two, ascending.</param>
/// <param name="Low">Lower edge; null for a band that goes down to the end of the axis.</param>
/// <param name="High">Upper edge; null for a band that goes up to the end of the axis.</param>
public sealed record Band(ImmutableArray<double> X, BandEdge? Low, BandEdge? High)
{
    /// <summary>Whether its edges are limits, so that what a curve does beyond them is marked.</summary>
    public bool IsLimit { get; init; } = true;
}

/// <summary>An edge of a band.</summary>
/// <param name="Label">Written at the edge.</param>
/// <param name="Y">Its height at each horizontal value, in the vertical axis's unit.</param>
public sealed record BandEdge(string Label, ImmutableArray<double> Y);

/// <summary>A marked point with a word at it.</summary>
/// <param name="Text">The word.</param>
/// <param name="X">Horizontal value.</param>
/// <param name="Y">Vertical value.</param>
public sealed record Note(string Text, double X, double Y);
