namespace FrontEndSim.FrontEnds.Sensors;

/// <summary>A formula in the quantity, as the circuit file has it.</summary>
/// <param name="Formula">Its text.</param>
/// <param name="Gives">What it gives: volts, ohm or amperes.</param>
/// <param name="Function">Its value for a quantity; not a number where it has none.</param>
public sealed record FormulaLaw(string Formula, Unit Gives, Func<double, double> Function) : SensorLaw
{
    /// <inheritdoc/>
    public override Unit Output => Gives;

    /// <inheritdoc/>
    public override string Text => Formula;

    private protected override double Value(double quantity, double celsius, double first, double second) => Function(quantity);
}
