using System.Collections.Immutable;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.Language.Syntax;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Language.Binding.Scopes;

/// <summary>A formula in one variable, made of an expression once and evaluated as often as needed.</summary>
/// <param name="Unit">The unit of what it gives.</param>
/// <param name="Of">Its value, SI, for a value of the variable.</param>
internal sealed record Formula(Unit Unit, Func<double, double> Of)
{
    /// <summary>Nothing is deeper than this, which bounds the stack.</summary>
    private const int Deepest = 500;

    /// <summary>Makes a formula; null after a complaint.</summary>
    /// <param name="expression">The expression.</param>
    /// <param name="variable">The word that stands for the variable, a plain number.</param>
    /// <param name="scope">Where all other names are looked up.</param>
    public static Formula? Make(Expression expression, string variable, Scope scope) => Make(expression, variable, scope, 0);

    private static Formula? Make(Expression expression, string variable, Scope scope, int depth)
    {
        if (depth > Deepest)
        {
            scope.Diagnostics.Error(expression.Span, DiagnosticCode.ValueTooDeep, "This value is made of too many steps.");
            return null;
        }
        switch (expression)
        {
            case NameExpression name when name.Name == variable:
                return new(Unit.None, x => x);
            case NegativeExpression negative:
                return Make(negative.Operand, variable, scope, depth + 1) is { } operand ? operand with { Of = x => -operand.Of(x) } : null;
            case BinaryExpression { Operator: '^' } power:
                return Power(power, variable, scope, depth);
            case BinaryExpression binary:
                if (Make(binary.Left, variable, scope, depth + 1) is not { } left
                    || Make(binary.Right, variable, scope, depth + 1) is not { } right)
                    return null;
                return binary.Operator switch
                {
                    '*' => new(left.Unit * right.Unit, x => left.Of(x) * right.Of(x)),
                    '/' => new(left.Unit / right.Unit, x => left.Of(x) / right.Of(x)),
                    _ when left.Unit != right.Unit => Refuse(binary, left.Unit, right.Unit, scope),
                    '+' => left with { Of = x => left.Of(x) + right.Of(x) },
                    _ => left with { Of = x => left.Of(x) - right.Of(x) },
                };
            case FunctionExpression function when ValueFunction.Find(function.Function) is { } known
                && known.Takes(function.Arguments.Length):
                Formula?[] arguments = [.. function.Arguments.Select(a => Make(a, variable, scope, depth + 1))];
                if (arguments.Contains(null))
                    return null;
                Quantity? At(double x) => known.Of([.. arguments.Select(a => new Quantity(a!.Of(x), a.Unit))]);
                if (At(1) is { } sample)
                    return new(sample.Unit, x => At(x)!.Value.Value);
                scope.Diagnostics.Error(function.Span, DiagnosticCode.UnitsDiffer,
                    $"{known.Name} cannot be taken of {string.Join(" and ", arguments.Select(a => UnitWords.Name(a!.Unit)))}.",
                    known.Needs);
                return null;
            default:
                // A literal, a let or a rail: the same for every value of the variable. What is unknown is complained of there.
                return scope.Evaluate(expression, null) is { } value ? new(value.Quantity.Unit, _ => value.Quantity.Value) : null;
        }
    }

    private static Formula? Power(BinaryExpression power, string variable, Scope scope, int depth)
    {
        if (Make(power.Left, variable, scope, depth + 1) is not { } number
            || Make(power.Right, variable, scope, depth + 1) is not { } exponent)
            return null;
        if (number.Unit == Unit.None && exponent.Unit == Unit.None)
            return new(Unit.None, x => Math.Pow(number.Of(x), exponent.Of(x)));
        scope.Diagnostics.Error(power.Span, DiagnosticCode.UnitsDiffer, "In a formula plain numbers alone are raised to a power.",
            "a unit outside of the power, such as 10 kohm * (temperature / 25)^2");
        return null;
    }

    private static Formula? Refuse(BinaryExpression binary, Unit left, Unit right, Scope scope)
    {
        scope.Diagnostics.Error(binary.Span, DiagnosticCode.UnitsDiffer,
            $"{UnitWords.Name(left)} and {UnitWords.Name(right)} cannot be added to or taken from each other.");
        return null;
    }
}
