using System.Runtime.CompilerServices;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.Language.Syntax;
using Span = FrontEndSim.FrontEnds.Quantities.Span;

namespace FrontEndSim.Language.Binding.Scopes;

/// <summary>
/// Where names are looked up: a whole circuit, or one use of a template, in which its ports, parameters and own names come first.
/// </summary>
internal sealed class Scope(FrontEndBuilder builder, Scope? outer = null, string prefix = "")
{
    /// <summary>So deep at most may a value be made of values: it bounds the stack.</summary>
    private const int Deepest = 1000;

    private readonly Dictionary<string, Named> _values = [];
    private readonly Dictionary<string, string> _nodes = [];

    public FrontEndBuilder Builder => builder;

    /// <summary>The scope of the whole circuit.</summary>
    public Scope Whole => outer?.Whole ?? this;

    public DiagnosticList Diagnostics => builder.Diagnostics;

    /// <summary>What stands before the names given in this scope: "guard." in stage guard, nothing outside.</summary>
    public string Prefix => prefix;

    /// <summary>The templates in use around this scope, innermost last.</summary>
    public IReadOnlyList<string> Templates { get; init; } = [];

    /// <summary>Where the parts of this scope go.</summary>
    public List<Part> Parts { get; init; } = builder.Parts;

    /// <summary>Adds a part that a statement makes.</summary>
    public void Add(Part part, SourceSpan span)
    {
        if (!builder.Admit(1, span))
            return;
        Parts.Add(part);
        builder.Places[part.Name] = span;
    }

    /// <summary>Adds a stage; inside a template only its parts, as the template is the stage.</summary>
    public void Add(Stage stage, SourceSpan span)
    {
        if (outer is null)
            builder.Stages.Add(stage);
        else
            Parts.AddRange(stage.Parts);
        foreach (var part in stage.Parts)
            builder.Places.TryAdd(part.Name, span);
    }

    /// <summary>Where a name in a template stands for a node outside of it.</summary>
    public void Connect(string name, string node) => _nodes[name] = node;

    /// <summary>Gives a name to a value that is calculated when it is needed, in a scope of its own.</summary>
    public void Define(string name, Expression value, Scope where) => _values[name] = new Named(value, where, null);

    /// <summary>Gives a rail's name to its voltage, which other values may follow.</summary>
    public void DefineRail(string name, Expression volts) => _values[name] = new Named(volts, this, name);

    /// <summary>Makes a name of this scope known in the circuit; see <see cref="FrontEndBuilder.Declare"/>.</summary>
    public bool Declare(Token name, string what) => builder.Declare(prefix + name.Text, what, name.Span);

    public string FullName(Token name) => prefix + name.Text;

    /// <summary>The circuit's name of a node that the user names.</summary>
    public string Node(Token name)
    {
        string text = name.Text;
        if (_nodes.TryGetValue(text, out string? outside))
            return outside;
        if (text == Circuit.Ground)
            return text;
        if (text.Equals("gnd", StringComparison.OrdinalIgnoreCase) || text.Equals("ground", StringComparison.OrdinalIgnoreCase))
        {
            Diagnostics.Error(name.Span, DiagnosticCode.GroundMisspelt, $"The ground node is written {Circuit.Ground}.",
                null, Circuit.Ground);
            return Circuit.Ground;
        }
        if (builder.Names.TryGetValue(text, out var declaration) && declaration.What == "rail")
        {
            declaration.IsUsed = true;
            return text;
        }
        builder.Nodes.TryAdd(prefix + text, name.Span);
        return prefix + text;
    }

    /// <summary>A value in the blank's unit; null if the blank is empty or after a complaint.</summary>
    public double? Number(Filled? blank) => blank is Filled<Expression> given ? Evaluate(given.Value, given.Unit)?.Quantity.Value : null;

    /// <summary>A value above zero.</summary>
    public double? Positive(Filled? blank) => Within(blank, v => v > 0, "greater than zero");

    /// <summary>A value of zero or more.</summary>
    public double? NotNegative(Filled? blank) => Within(blank, v => v >= 0, "zero or more");

    /// <summary>A value that passes a test; <paramref name="rule"/> completes "This must be …".</summary>
    public double? Within(Filled? blank, Func<double, bool> passes, string rule)
    {
        if (Number(blank) is not { } value)
            return null;
        if (passes(value))
            return value;
        Diagnostics.Error(blank!.Span, DiagnosticCode.OutOfRange,
            $"This must be {rule}, but it is {new Quantity(value, blank.Unit ?? Unit.None)}.");
        return null;
    }

    /// <summary>A tolerance or other percentage as a fraction, from 0 up to but without 100 %; null if the blank is empty or after a
    /// complaint.</summary>
    public double? Fraction(Filled? blank)
    {
        if (blank is not Filled<Expression> given || Evaluate(given.Value, Unit.None) is not { } value)
            return null;
        var span = given.Span;
        if (!value.IsPercent && value.Quantity.Value != 0)
            Diagnostics.Error(span, DiagnosticCode.PercentageNeeded, "This is a plain number, but a percentage is needed.",
                "a percentage, such as 5%", $"{value.Quantity}%");
        else if (value.Quantity.Value is < 0 or >= 1)
            Diagnostics.Error(span, DiagnosticCode.OutOfRange,
                $"A percentage here runs from 0 % up to 100 %, but this is {SiText.Format(value.Quantity.Value, "%")}.");
        else
            return value.Quantity.Value;
        return null;
    }

    /// <summary>A value with an optional tolerance, above zero.</summary>
    public Toleranced? Toleranced(Filled? blank, Filled? tolerance) =>
        Positive(blank) is { } value ? new Toleranced(value, Fraction(tolerance) ?? 0) : null;

    /// <summary>A range from a lower to a higher value.</summary>
    public Span? Span(Filled? blank)
    {
        if (blank is not Filled<RangeExpression> { Value: var range, Unit: var unit } || Evaluate(range.Low, unit) is not { } low
            || Evaluate(range.High, unit) is not { } high)
            return null;
        if (low.Quantity.Value < high.Quantity.Value)
            return new Span(low.Quantity.Value, high.Quantity.Value);
        Diagnostics.Error(range.Span, DiagnosticCode.RangeReversed,
            $"A range runs from a lower to a higher value, but {low.Quantity} .. {high.Quantity} does not.",
            null, low.Quantity.Value == high.Quantity.Value ? null : $"{high.Quantity} .. {low.Quantity}");
        return null;
    }

    /// <summary>A value in a sensor's unit; null if the blank is empty or after a complaint.</summary>
    /// <param name="blank">The blank.</param>
    /// <param name="unit">Symbol of the unit.</param>
    public double? Measured(Filled? blank, string unit)
    {
        return blank is Filled<MeasuredExpression> given ? Measured(given.Value, unit) : null;
    }

    private double? Measured(MeasuredExpression measured, string unit)
    {
        if (measured.In(unit) is { } value && double.IsFinite(value))
            return CanBeComputedWith(value, measured.Span) ? value : null;
        Diagnostics.Error(measured.Span, DiagnosticCode.WrongUnit,
            $"This is in {(measured.UnitText == "" ? "no unit" : measured.UnitText)}, but {unit} is needed here.",
            $"a value in {unit}", ValueText.Measured(measured.Value, unit));
        return null;
    }

    /// <summary>A range in a sensor's unit; null if the blank is empty or after a complaint.</summary>
    public Span? MeasuredSpan(Filled? blank, string unit)
    {
        if (blank is not Filled<MeasuredRange> { Value: var range } || Measured(range.Low, unit) is not { } low
            || Measured(range.High, unit) is not { } high)
            return null;
        if (low < high)
            return new Span(low, high);
        Diagnostics.Error(range.Span, DiagnosticCode.RangeReversed,
            $"A range runs from a lower to a higher value, but {range.Low} .. {range.High} does not.",
            null, low == high ? null : $"{range.High} .. {range.Low}");
        return null;
    }

    /// <summary>A range whose ends may follow a rail.</summary>
    public LevelSpan? LevelSpan(Filled? blank)
    {
        if (Span(blank) is null || blank is not Filled<RangeExpression> { Value: var range })
            return null;
        return Level(range.Low) is { } low && Level(range.High) is { } high ? new LevelSpan(low, high) : null;
    }

    /// <summary>
    /// A range of volts that may follow a rail in proportion: the rail is null for one that does not. Null if the blank is empty or after
    /// a complaint.
    /// </summary>
    public (Span Volts, string? Rail, double AtLow, double AtHigh)? FollowingSpan(Filled? blank)
    {
        if (Span(blank) is not { } volts || blank is not Filled<RangeExpression> { Value: var range, Unit: var unit }
            || Evaluate(range.Low, unit) is not { } low || Evaluate(range.High, unit) is not { } high)
            return null;
        if (!low.UsesRail && !high.UsesRail)
            return (volts, null, 0, 0);
        string? rail = (low.Share ?? high.Share)?.Rail;
        if (rail is not null && ShareOf(low) is { } atLow && ShareOf(high) is { } atHigh)
            return (volts, rail, atLow, atHigh);
        Diagnostics.Error(range.Span, DiagnosticCode.NoLevel,
            "What follows a rail follows it in proportion, at both ends.",
            "such as 0 V .. VDD or 10% * VDD .. 90% * VDD; plain volts for what does not move with a rail");
        return null;

        // Nothing is nothing of any rail.
        double? ShareOf(Value end) => end.Share is { } share ? (share.Rail == rail ? share.Of : null)
            : !end.UsesRail && end.Quantity.Value == 0 ? 0 : null;
    }

    private Level? Level(Expression expression)
    {
        if (Evaluate(expression, Unit.Volts) is not { } value)
            return null;
        if (value.AsLevel is { } level)
            return level;
        Diagnostics.Error(expression.Span, DiagnosticCode.NoLevel,
            "A level may be a voltage, or one rail with a voltage added or taken off.", "such as 3.6 V or VDD + 0.3 V");
        return null;
    }

    // Of volts, amperes, ohms, farads, seconds: far beyond what is ever built, and squares and products of them are still numbers.
    private const double Least = 1e-30, Most = 1e18;

    private bool CanBeComputedWith(double value, SourceSpan span)
    {
        if (value == 0 || Math.Abs(value) is >= Least and <= Most)
            return true;
        Diagnostics.Error(span, DiagnosticCode.OutOfRange, "Nothing can be computed with a value of this size.",
            FormattableString.Invariant($"0, or a magnitude from {Least:0e-0} to {Most:0e0}"));
        return false;
    }

    /// <summary>The value of an expression in a unit (any, if null); null after a complaint.</summary>
    public Value? Evaluate(Expression expression, Unit? unit)
    {
        if (Calculate(expression, 0) is not { } value)
            return null;
        if (!double.IsFinite(value.Quantity.Value))
        {
            Diagnostics.Error(expression.Span, DiagnosticCode.NotFinite, "This comes to no finite value.",
                null, "look for a division by zero");
            return null;
        }
        if (!CanBeComputedWith(value.Quantity.Value, expression.Span))
            return null;
        if (unit is null || unit == value.Quantity.Unit)
            return value;
        Diagnostics.Error(expression.Span, DiagnosticCode.WrongUnit,
            $"This is {UnitWords.Name(value.Quantity.Unit)} ({value.Quantity}), but {UnitWords.Name(unit.Value)} is needed here.",
            UnitWords.Describe(unit.Value), WithUnit(expression, value.Quantity, unit.Value));
        return null;
    }

    /// <summary>What a value in the wrong unit may have meant: a number that forgot its unit, or a code of capacitance for an
    /// inductance.</summary>
    private static string? WithUnit(Expression expression, Quantity found, Unit wanted)
    {
        if (expression is not (LiteralExpression or NegativeExpression { Operand: LiteralExpression }))
            return null;
        if (found.Unit == Unit.None && wanted != Unit.None)
            return $"{SiText.Plain(found.Value, "", 15)} {wanted.Symbol.Replace("°", "")}";
        // The letters p, n, u and m of a value code are farad; 10m may have been meant as milliohm.
        return found.Unit == Unit.Farad && (wanted == Unit.Henry || wanted == Unit.Ohm && found.Value >= 1e-3)
            ? SiText.Typed(found.Value, wanted.Symbol).Replace('µ', 'u') : null;
    }

    private Value? Calculate(Expression expression, int depth)
    {
        if (depth > Deepest || !RuntimeHelpers.TryEnsureSufficientExecutionStack())
        {
            Diagnostics.Error(expression.Span, DiagnosticCode.ValueTooDeep, "This value is made of too many steps.");
            return null;
        }
        switch (expression)
        {
            case LiteralExpression literal:
                return new Value(literal.Quantity, literal.IsPercent);
            case UnreadableExpression unreadable:
                Diagnostics.Error(unreadable.Span, DiagnosticCode.NoQuantity, unreadable.Problem, null, unreadable.Suggestion);
                return null;
            case NegativeExpression negative:
                return Calculate(negative.Operand, depth + 1) is { } operand ? -operand : null;
            case BinaryExpression binary:
                return Combine(binary, depth);
            case FunctionExpression function:
                return Apply(function, depth);
            default:
                return LookUp((NameExpression)expression, depth);
        }
    }

    private Value? Combine(BinaryExpression binary, int depth)
    {
        // Both sides are calculated even if one is wrong, so that the faults of both are told.
        var left = Calculate(binary.Left, depth + 1);
        var right = Calculate(binary.Right, depth + 1);
        if (left is not { } a || right is not { } b)
            return null;
        try
        {
            return Value.Combine(binary.Operator, a, b);
        }
        catch (UnitMismatchException)
        {
            if (binary.Operator == '^')
            {
                Diagnostics.Error(binary.Span, DiagnosticCode.UnitsDiffer, $"{a.Quantity} cannot be raised to {b.Quantity}.",
                    "a plain number as the exponent, a whole one where the base has a unit");
                return null;
            }
            string verb = binary.Operator == '+' ? "be added to" : "be taken from";
            var (first, second) = binary.Operator == '+' ? (a, b) : (b, a);
            string name = UnitWords.Name(first.Quantity.Unit);
            Diagnostics.Error(binary.Span, DiagnosticCode.UnitsDiffer,
                $"{char.ToUpperInvariant(name[0])}{name[1..]} ({first.Quantity}) cannot {verb} {UnitWords.Name(second.Quantity.Unit)} "
                + $"({second.Quantity}).");
            return null;
        }
    }

    private Value? Apply(FunctionExpression function, int depth)
    {
        if (ValueFunction.Find(function.Function) is not { } known)
        {
            Diagnostics.Error(function.Span, DiagnosticCode.UnknownFunction, $"There is no function {function.Function}.",
                "one of " + string.Join(", ", ValueFunction.All.Select(f => f.Name)),
                    Nearest.Question(function.Function, ValueFunction.All.Select(f => f.Name)));
            return null;
        }
        Value?[] given = [.. function.Arguments.Select(a => Calculate(a, depth + 1))];
        if (given.Contains(null))
            return null;
        if (!known.Takes(given.Length))
        {
            Diagnostics.Error(function.Span, DiagnosticCode.UnknownFunction,
                $"{known.Name} takes {(known.IsOfSeveral ? "two values or more" : "one value")}.");
            return null;
        }
        if (known.Of([.. given.Select(v => v!.Value.Quantity)]) is { } quantity)
            return new Value(quantity, given.Any(v => v!.Value.IsPercent), given.Any(v => v!.Value.UsesRail));
        Diagnostics.Error(function.Span, DiagnosticCode.UnitsDiffer,
            $"{known.Name} cannot be taken of {string.Join(" and ", given.Select(v => UnitWords.Name(v!.Value.Quantity.Unit)))}.",
            known.Needs);
        return null;
    }

    private Value? LookUp(NameExpression name, int depth)
    {
        if (_values.TryGetValue(name.Name, out var named))
        {
            if (builder.Names.TryGetValue(prefix + name.Name, out var declared))
                declared.IsUsed = true;
            return Resolve(named, name, depth);
        }
        if (outer is not null)
            return outer.LookUp(name, depth);
        if (builder.MayBeUnread(name.Name))
            return null;
        var known = builder.KnownNames("let", "rail");
        if (builder.Names.TryGetValue(name.Name, out var other))
            Diagnostics.Error(name.Span, DiagnosticCode.NoSuchValue, $"{name.Name} is a {other.What} and has no value.",
                "a value, or the name of a let or a rail");
        else
        {
            Diagnostics.Error(name.Span, DiagnosticCode.NoSuchValue, $"There is no value named {name.Name}.", known.Count == 0
                ? "a value" : "a value, or one of " + string.Join(", ", known.Take(12)),
                ValueCode.Read("0" + name.Name) is not null ? $"0{name.Name}, if it is a value code"
                : name.Name.Contains('-') ? "blanks around the minus sign, if it is one"
                : Nearest.Question(name.Name, known));
        }
        return null;
    }

    private Value? Resolve(Named named, NameExpression name, int depth)
    {
        if (named.IsKnown)
            return named.Known;
        if (named.IsBusy)
        {
            Diagnostics.Error(name.Span, DiagnosticCode.CircularValue, $"The value of {name.Name} depends on itself.");
            return null;
        }
        named.IsBusy = true;
        named.Known = named.Where.Calculate(named.Expression, depth + 1);
        if (named.Rail is { } rail && named.Known is { } volts)
            named.Known = new Value(volts.Quantity, false, true, new Level(rail, 0), new RailShare(rail, 1));
        named.IsBusy = false;
        named.IsKnown = true;
        return named.Known;
    }

    private sealed class Named(Expression expression, Scope where, string? rail)
    {
        public Expression Expression => expression;

        public Scope Where => where;

        /// <summary>The rail whose voltage this is, or null.</summary>
        public string? Rail => rail;

        public Value? Known { get; set; }

        public bool IsKnown { get; set; }

        public bool IsBusy { get; set; }
    }
}
