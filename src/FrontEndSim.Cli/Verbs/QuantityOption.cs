using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.Language.Binding;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Cli.Verbs;

/// <summary>An option whose value is a quantity with its unit, as a circuit file writes it: --from "-1.2 V".</summary>
internal sealed class QuantityOption : Option<string?>
{
    private readonly Unit _unit;

    public QuantityOption(string name, Unit unit, string description) : base(name)
    {
        _unit = unit;
        HelpName = unit == Unit.Seconds ? "TIME" : unit == Unit.Ohm ? "RESISTANCE" : unit == Unit.Hertz
            ? "FREQUENCY" : unit == Unit.Percent ? "PERCENT"
            : unit == Unit.Amps ? "CURRENT" : unit == Unit.Celsius ? "TEMPERATURE" : "VOLTAGE";
        Description = description;
    }

    /// <summary>The value in SI units, or null if the option is not given.</summary>
    /// <exception cref="InputException">It is no quantity, or one of another unit.</exception>
    public double? Value(ParseResult line)
    {
        if (line.GetValue(this) is not { } text)
            return null;
        // "0.1" may be meant as a tenth of a percent or as a tenth.
        if (_unit == Unit.Percent && !text.TrimEnd().EndsWith('%'))
            throw new InputException($"{Name} '{text}': a percentage is needed here, such as 0.5%");
        var (value, problem) = QuantityReader.Read(text, _unit, Name);
        return value ?? throw new InputException($"{Name} '{text}': {Words(problem!)}");
    }

    /// <summary>The value in a sensor's own unit, or null if the option is not given.</summary>
    /// <param name="line">The command line.</param>
    /// <param name="unit">Symbol of the sensor's unit.</param>
    /// <exception cref="InputException">It is no value in that unit.</exception>
    public double? ValueIn(ParseResult line, string unit)
    {
        if (unit == _unit.Symbol || line.GetValue(this) is not { } text)
            return Value(line);
        var (value, problem) = QuantityReader.ReadMeasured(text, unit, Name);
        return value ?? throw new InputException($"{Name} '{text}': {Words(problem!)}");
    }

    /// <summary>What is wrong with a quantity and what would be right, in one line.</summary>
    internal static string Words(Diagnostic problem) => problem.Message
        + (problem.Suggestion is { } suggestion ? $" Try {suggestion}." : problem.Expected is { } expected
            ? $" Expected: {expected}." : "");
}
