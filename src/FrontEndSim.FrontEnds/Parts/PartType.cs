using FrontEndSim.FrontEnds.Parts.Fits;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>A type that parts are bought by: its name, the numbers of its data sheet, and what its model makes of each.
/// Immutable.</summary>
/// <param name="Name">Registered type number, class, or a name of the user's.</param>
/// <param name="Source">Where its numbers come from.</param>
public abstract record PartType(string Name, string Source)
{
    /// <summary>The kind of part, as a circuit file names it where a type is described: "npn".</summary>
    public abstract string Kind { get; }

    /// <summary>Every number that is known of it, those that a model was fitted to first.</summary>
    public abstract ImmutableArray<TypeFigure> Figures { get; }

    /// <summary>The type itself, whose numbers no piece contradicts.</summary>
    /// <exception cref="DataSheetException">Two of them contradict each other, or one is not possible.</exception>
    public virtual PartType Checked() => this;
}

/// <summary>A number of a type.</summary>
/// <param name="What">What it is: "current gain at 10 mA".</param>
/// <param name="Value">Its value, in the unit.</param>
/// <param name="Unit">Symbol of its unit; empty for a plain number.</param>
public sealed record TypeFigure(string What, double Value, string Unit)
{
    /// <summary>Whether it is a limit that single pieces stay on one side of, and not a typical value.</summary>
    public bool IsLimit { get; init; }

    /// <summary>What the model makes of it; null where nothing is fitted to it.</summary>
    public double? Fitted { get; init; }

    /// <summary>How far the model is from it, relative; null where nothing is fitted to it.</summary>
    public double? Residual => Fitted / Value - 1;

    /// <summary>A number that no model is fitted to; none where it is not stated.</summary>
    /// <param name="what">What it is.</param>
    /// <param name="value">Its value; zero, infinite or null where it is not stated.</param>
    /// <param name="unit">Symbol of its unit.</param>
    public static IEnumerable<TypeFigure> Stated(string what, double? value, string unit)
    {
        if (value is { } given && given != 0 && double.IsFinite(given))
            yield return new(what, given, unit) { IsLimit = true };
    }
}
