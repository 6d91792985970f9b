namespace FrontEndSim.Reporting.Pages;

/// <summary>Types of the catalogue that were asked for.</summary>
/// <param name="Types">The types.</param>
public sealed record TypeSheets(ImmutableArray<TypeSheet> Types);

/// <summary>What is known of a type of part or pin.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Kind">What it is: "zener", "opamp", "pin".</param>
/// <param name="Summary">What it is, in a line; empty where its name says it.</param>
/// <param name="Numbers">Every number that is known of it.</param>
/// <param name="Source">Where they come from.</param>
public sealed record TypeSheet(string Name, string Kind, string Summary, ImmutableArray<TypeNumber> Numbers, string Source);

/// <summary>A number of a type.</summary>
/// <param name="What">What it is.</param>
/// <param name="Value">Its value, in the unit.</param>
/// <param name="Unit">The unit; empty for a plain number.</param>
/// <param name="Source">Where it comes from.</param>
public sealed record TypeNumber(string What, double Value, string Unit, string Source)
{
    /// <summary>Whether it is a largest value rather than a typical one.</summary>
    public bool IsLimit { get; init; }

    /// <summary>What the fitted model makes of it, in the unit; null where nothing is fitted.</summary>
    public double? Fitted { get; init; }

    /// <summary>How far the model is from it, relative; null where nothing is fitted.</summary>
    public double? Residual { get; init; }
}
