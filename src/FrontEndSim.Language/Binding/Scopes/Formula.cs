using FrontEndSim.Language.Syntax;

namespace FrontEndSim.Language.Binding.Scopes;

/// <summary>A formula in one variable or several, made of an expression once and evaluated as often as needed.</summary>
/// <param name="Unit">The unit of what it gives.</param>
/// <param name="OfAll">Its value, SI, for values of the variables in their order.</param>
internal sealed record Formula(Unit Unit, Func<double[], double> OfAll)
{
    /// <summary>Its value, SI, for a value of its only variable.</summary>
    public double Of(double x) => OfAll([x]);

    /// <summary>Nothing is deeper than this, which bounds the stack.</summary>
    private const int Deepest = 500;

    /// <summary>Makes a formula; null after a complaint.</summary>
    /// <param name="expression">The expression.</param>
    /// <param name="variables">The words that stand for the variables, plain numbers.</param>
    /// <param name="scope">Where all other names are looked up.</param>
    public static Formula? Make(Expression expression, string[] variables, Scope scope) => Make(expression, variables, scope, 0);

    private static Formula? Make(Expression expression, string[] variables, Scope scope, int depth)
    {
        if (depth > Deepest)
        {
            scope.Diagnostics.Error(expression.Span, DiagnosticCode.ValueTooDeep, "This value is made of too many steps.");
            return null;
        }
        switch (expression)
        {
            case NameExpression name when Array.IndexOf(variables, name.Name) is >= 0 and var place:
                return new(Unit.None, x => x[place]);
            case NegativeExpression negative:
                return Make(negative.Operand, variables, scope, depth + 1) is { } operand
                    ? operand with { OfAll = x => -operand.OfAll(x) } : null;
            case BinaryExpression { Operator: '^' } power:
                return Power(power, variables, scope, depth);
            case BinaryExpression binary:
                if (Make(binary.Left, variables, scope, depth + 1) is not { } left
                    || Make(binary.Right, variables, scope, depth + 1) is not { } right)
                    return null;
                return binary.Operator switch
                {
                    '*' => new(left.Unit * right.Unit, x => left.OfAll(x) * right.OfAll(x)),
                    '/' => new(left.Unit / right.Unit, x => left.OfAll(x) / right.OfAll(x)),
                    _ when left.Unit != right.Unit => Refuse(binary, left.Unit, right.Unit, scope),
                    '+' => left with { OfAll = x => left.OfAll(x) + right.OfAll(x) },
                    _ => left with { OfAll = x => left.OfAll(x) - right.OfAll(x) },
                };
            case FunctionExpression function when ValueFunction.Find(function.Function) is { } known
                && known.Takes(function.Arguments.Length):
                Formula?[] arguments = [.. function.Arguments.Select(a => Make(a, variables, scope, depth + 1))];
                if (arguments.Contains(null))
                    return null;
                Quantity? At(double[] x) => known.Of([.. arguments.Select(a => new Quantity(a!.OfAll(x), a.Unit))]);
                if (At([.. variables.Select(_ => 1.0)]) is { } sample)
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

    private static Formula? Power(BinaryExpression power, string[] variables, Scope scope, int depth)
    {
        if (Make(power.Left, variables, scope, depth + 1) is not { } number
            || Make(power.Right, variables, scope, depth + 1) is not { } exponent)
            return null;
        if (number.Unit == Unit.None && exponent.Unit == Unit.None)
            return new(Unit.None, x => Math.Pow(number.OfAll(x), exponent.OfAll(x)));
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
