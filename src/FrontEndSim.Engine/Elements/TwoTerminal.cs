namespace FrontEndSim.Engine.Elements;

/// <summary>A part between two nodes.</summary>
/// <param name="Name">Part name.</param>
/// <param name="From">Node where positive current enters.</param>
/// <param name="To">Node where it leaves.</param>
public abstract record TwoTerminal(string Name, string From, string To) : Element(Name)
{
    /// <inheritdoc/>
    public override ImmutableArray<string> Terminals => [From, To];

    /// <inheritdoc/>
    public override Element Between(Func<string, string> renamed) => this with { From = renamed(From), To = renamed(To) };
}

/// <summary>A part that is steered by the difference of two inputs and fed from two supply pins.</summary>
/// <param name="Name">Part name.</param>
/// <param name="Plus">Non-inverting input.</param>
/// <param name="Minus">Inverting input.</param>
/// <param name="Output">Output.</param>
/// <param name="PositiveRail">Node of the positive supply pin.</param>
/// <param name="NegativeRail">Node of the negative supply pin.</param>
public abstract record Differential(string Name, string Plus, string Minus, string Output, string PositiveRail, string NegativeRail)
    : Element(Name)
{
    /// <inheritdoc/>
    public override ImmutableArray<string> Terminals => [Plus, Minus, Output, PositiveRail, NegativeRail];

    /// <inheritdoc/>
    public override Element Between(Func<string, string> renamed) => this with
    {
        Plus = renamed(Plus),
        Minus = renamed(Minus),
        Output = renamed(Output),
        PositiveRail = renamed(PositiveRail),
        NegativeRail = renamed(NegativeRail),
    };

    internal override bool HasGain => true;
}
