using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.Language.Binding.Scopes;
using FrontEndSim.Language.Syntax;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary><c>reading kiln from hot and cold</c>, <c>reading shell from top and bottom by (top - 2 * bottom) / (1 - top)</c></summary>
internal sealed class ReadingStatement : StatementKind
{
    public override string Keyword => "reading";

    public override string Summary =>
        "What firmware computes from the codes of several pins together, or from those of one over whole periods.";

    protected override ImmutableArray<Piece> Head =>
    [
        NewName("reading"), "from", new Blank("first", Shape.Name, "a pin"), new OneOf(
            new Phrase("and", new Blank("second", Shape.Name, "a pin"), new Maybe("and", new Blank("third", Shape.Name, "a pin"))),
            new Phrase("as", new Blank("measure", Shape.Name, "rms, mean, peak or average"), "of",
                new Blank("samples", Shape.Value, "how many codes a period, such as 20", Unit.None), "samples", "a", "period",
                new Maybe("over", new Blank("periods", Shape.Value, "a number of periods, such as 10", Unit.None), "periods"))),
    ];

    public override ImmutableArray<Addition> Additions { get; } =
        [new("by", new Blank("formula", Shape.Value, "a formula in the pins, such as top / bottom"))];

    public override Turn Turn => Turn.Combining;

    public override void Declare(StatementSyntax statement, Scope scope) => scope.Declare(statement.Token("name"), "reading");

    public override void Bind(StatementSyntax statement, Scope scope)
    {
        Token[] words = [.. new[] { "first", "second", "third" }.Where(w => statement[w] is not null).Select(statement.Token)];
        if (words.Any(w => !scope.Builder.Use(w, "pin")) || scope.Diagnostics.HasErrors)
            return;
        var frontEnd = Requirements.Assembled(scope.Builder);
        Pin[] pins = [.. words.Select(w => frontEnd.FindPin(w.Text))];
        if (pins.FirstOrDefault(p => p.Converter is null) is { } deaf)
        {
            scope.Diagnostics.DoesNotConvert(statement.Span, deaf.Name, "firmware reads no code");
            return;
        }
        Sensor?[] sensors = [.. pins.Select(p => MappingStudy.SensorOf(frontEnd, p))];
        if (sensors[0] is not { } sensor)
        {
            scope.Diagnostics.NoSensorReaches(statement.Span, pins[0].Name, "its code says nothing");
            return;
        }
        string name = statement.Token("name").Text;
        if (statement["measure"] is not null)
        {
            if (OverPeriods(name, sensor, pins[0], statement, scope) is { } reading)
                scope.Builder.AlternatingReadings.Add(reading);
            return;
        }
        ImmutableArray<string> names = [.. pins.Select(p => p.Name)];
        if (!statement.Has("formula"))
        {
            if (sensor.Law is ThermocoupleLaw && sensors[1] is { UnitText: "°C", Law.NeedsAmbient: false } && pins.Length == 2)
                scope.Builder.Readings.Add(new(name, sensor.Name, names));
            else
                Refuse(DiagnosticCode.ReadingUndecided, "Without a formula a reading is of a thermocouple at its first pin and of the "
                    + "temperature of its cold junction at its second.", $"by a formula, such as by {names[0]} / {names[1]}");
            return;
        }
        var expression = statement.Get<Expression>("formula");
        if (Formula.Make(expression, [.. names], scope) is not { } formula)
            return;
        if (formula.Unit != Unit.None)
            Refuse(DiagnosticCode.WrongUnit,
                $"The formula gives {UnitWords.Name(formula.Unit)}, but of the shares that pins stand for only a "
                + "plain number can come.", $"such as {names[0]} / {names[1]}");
        else
            scope.Builder.Readings.Add(new(name, sensor.Name, names)
            {
                Formula = expression.Span.File.Line(expression.Span.Line).Substring(expression.Span.Column - 1, expression.Span.Length),
                Expression = Shares(expression, names, scope),
            });

        void Refuse(DiagnosticCode code, string what, string? expected) => scope.Diagnostics.Error(statement.Span, code, what, expected);
    }

    /// <summary>A reading of what alternates; null after a complaint.</summary>
    private static AlternatingReading? OverPeriods(string name, Sensor sensor, Pin pin, StatementSyntax statement, Scope scope)
    {
        var word = statement.Token("measure");
        Amplitude? taken = word.Text switch
        {
            "rms" => Amplitude.Rms,
            "mean" => Amplitude.Mean,
            "peak" => Amplitude.Peak,
            "average" => Amplitude.Average,
            _ => null,
        };
        if (taken is null)
        {
            scope.Diagnostics.Error(word.Span, DiagnosticCode.ReadingUndecided,
                $"{word.Text} is nothing that is made of codes over a period.", "one of rms, mean, peak and average");
            return null;
        }
        if (sensor.Alternation is null && sensor.ExcitedBy is null)
        {
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.ReadingUndecided,
                $"Sensor {sensor.Name}, which pin {pin.Name} reads, does not alternate, so it has no period.",
                "alternates at 50 Hz below the sensor, for example");
            return null;
        }
        if (scope.Within(statement["samples"], n => n >= 3 && n == Math.Floor(n), "a whole number, at least 3") is not { } samples)
            return null;
        double periods = 1;
        if (statement["periods"] is { } given)
        {
            if (scope.Within(given, n => n >= 1 && n == Math.Floor(n), "a whole number, at least 1") is not { } said)
                return null;
            periods = said;
        }
        if (samples * periods <= AlternatingReading.MostSamples)
            return new(name, sensor.Name, pin.Name, taken.Value, (int)samples, (int)periods);
        scope.Diagnostics.Error(statement.Span, DiagnosticCode.OutOfRange,
            $"A reading is made of {AlternatingReading.MostSamples} codes at most.", "fewer samples or periods");
        return null;
    }

    /// <summary>The formula as data; what else than a pin has a name stands as its number.</summary>
    private static ShareExpression Shares(Expression expression, ImmutableArray<string> pins, Scope scope)
    {
        switch (expression)
        {
            case NameExpression name when pins.IndexOf(name.Name) is >= 0 and var place:
                return new PinShare(place);
            case NegativeExpression negative:
                return new Calculation(CalculationKind.Negative, Shares(negative.Operand, pins, scope));
            case BinaryExpression binary:
                var kind = binary.Operator switch
                {
                    '+' => CalculationKind.Sum,
                    '-' => CalculationKind.Difference,
                    '*' => CalculationKind.Product,
                    '/' => CalculationKind.Quotient,
                    _ => CalculationKind.Power,
                };
                return new Calculation(kind, Shares(binary.Left, pins, scope), Shares(binary.Right, pins, scope));
            case FunctionExpression f when Function(f.Function) is { } function:
                return new Calculation(function, [.. f.Arguments.Select(a => Shares(a, pins, scope))]);
            default:
                return new FixedNumber(scope.Evaluate(expression, null) is { } value ? value.Quantity.Value : 0);
        }
    }

    private static CalculationKind? Function(string name) => name switch
    {
        "exp" => CalculationKind.Exponential,
        "ln" => CalculationKind.NaturalLogarithm,
        "log10" => CalculationKind.DecimalLogarithm,
        "sqrt" => CalculationKind.SquareRoot,
        "abs" => CalculationKind.Magnitude,
        "min" => CalculationKind.Least,
        "max" => CalculationKind.Greatest,
        _ => null,
    };

    public override IEnumerable<StatementText> Write(FrontEnd frontEnd) => frontEnd.Readings.Select(r =>
        new StatementText($"reading {r.Name} from {string.Join(" and ", r.Pins)}",
            [.. StatementText.If(r.Formula is not null, () => "by " + r.Formula)]))
        .Concat(frontEnd.AlternatingReadings.Select(r => new StatementText($"reading {r.Name} from {r.Pin} as "
            + $"{r.Taken switch { Amplitude.Rms => "rms", Amplitude.Mean => "mean", Amplitude.Average => "average", _ => "peak" }} of "
            + $"{r.SamplesInPeriod} samples a period"
            + (r.Periods > 1 ? $" over {r.Periods} periods" : ""), [])));
}
