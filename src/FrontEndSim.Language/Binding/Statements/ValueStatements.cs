using FrontEndSim.FrontEnds.Model;
using FrontEndSim.Language.Binding.Scopes;
using FrontEndSim.Language.Syntax;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary><c>circuit "what it is for"</c></summary>
internal sealed class CircuitStatement : StatementKind
{
    public override string Keyword => "circuit";

    public override string Summary => "Says what the circuit is, in a line. Once, in the main file.";

    protected override ImmutableArray<Piece> Head => [new Blank("title", Shape.Text, "a title in double quotes")];

    public override void Bind(StatementSyntax statement, Scope scope)
    {
        if (!scope.Builder.IsMain(statement.Span))
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.CircuitInIncluded,
                "An included file has no circuit line: only the main file is a circuit.");
        else if (scope.Builder.Title is not null)
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.StatementTwice, "The circuit has a title already.",
                null, "keep one circuit line");
        else
            scope.Builder.Title = statement.Token("title").Text;
    }

    public override IEnumerable<StatementText> Write(FrontEnd frontEnd) => [new($"circuit {ValueText.Quoted(frontEnd.Title)}")];
}

/// <summary><c>include "file"</c>: the files are read before anything is bound, so binding has nothing left to do.</summary>
internal sealed class IncludeStatement : StatementKind
{
    public override string Keyword => "include";

    public override string Summary =>
        "Reads another file as if it stood here: shared rails, lets, parts and templates. The path is relative to the including file.";

    protected override ImmutableArray<Piece> Head => [new Blank("file", Shape.Text, "a file's path in double quotes")];

    public override void Bind(StatementSyntax statement, Scope scope)
    {
    }
}

/// <summary><c>temperature 25 C</c> or <c>temperature -20 C .. 60 C</c></summary>
internal sealed class TemperatureStatement : StatementKind
{
    public override string Keyword => "temperature";

    public override string Summary => "The temperature of all parts, or the range over which all must hold; 25 C if left out.";

    protected override ImmutableArray<Piece> Head =>
        [Blank.Of("lowest", Unit.Celsius), new Maybe(new Mark(".."), Blank.Of("highest", Unit.Celsius))];

    public override void Bind(StatementSyntax statement, Scope scope)
    {
        if (scope.Builder.Celsius is not null)
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.StatementTwice,
                "The circuit has a temperature already.", null, "keep one temperature line");
        else if (scope.Within(statement["lowest"], c => c > -273.15, "above -273.15 °C") is { } low)
        {
            scope.Builder.Celsius = low;
            if (statement.Has("highest") && scope.Within(statement["highest"], c => c > low, "above the lower end") is { } high)
                (scope.Builder.CelsiusRange, scope.Builder.Celsius) = (new Span(low, high), Math.Clamp(25, low, high));
        }
    }

    public override IEnumerable<StatementText> Write(FrontEnd frontEnd) => frontEnd.CelsiusRange is { } range
        ? [new($"temperature {Celsius(range.Low)} .. {Celsius(range.High)}")]
        : frontEnd.Celsius == 25 ? [] : [new($"temperature {Celsius(frontEnd.Celsius)}")];

    private static string Celsius(double celsius) => ValueText.Number(celsius) + " C";
}

/// <summary><c>supplies on and off</c></summary>
internal sealed class SuppliesStatement : StatementKind
{
    public override string Keyword => "supplies";

    public override string Summary =>
        "Says that ratings of pins and parts are judged with all rails off as well, at the operating point and in every event; "
        + "with the supplies on alone if left out.";

    protected override ImmutableArray<Piece> Head => ["on", "and", "off"];

    public override void Bind(StatementSyntax statement, Scope scope)
    {
        if (scope.Builder.AlsoUnpowered)
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.StatementTwice,
                "The supplies are said to be on and off already.", null, "keep one supplies line");
        scope.Builder.AlsoUnpowered = true;
    }

    public override IEnumerable<StatementText> Write(FrontEnd frontEnd) => frontEnd.AlsoUnpowered ? [new("supplies on and off")] : [];
}

/// <summary><c>let NAME = VALUE</c></summary>
internal sealed class LetStatement : StatementKind
{
    public override string Keyword => "let";

    public override string Summary => "Gives a name to a value; the name may be used wherever a value may.";

    protected override ImmutableArray<Piece> Head =>
        [NewName("value"), new Mark("="), new Blank("value", Shape.Value, "a value, such as 4.7 kohm")];

    public override void Declare(StatementSyntax statement, Scope scope)
    {
        var name = statement.Token("name");
        if (name.Text == "K" || UnitWords.FindDivisor(name.Text) is not null)
            scope.Diagnostics.Error(name.Span, DiagnosticCode.NameIsUnit,
                $"{name.Text} is a unit, so a value of that name could be misread.", null, "a longer name");
        else if (scope.Declare(name, "let"))
            scope.Define(name.Text, statement.Get<Expression>("value"), scope);
    }

    public override void Bind(StatementSyntax statement, Scope scope) => scope.Evaluate(statement.Get<Expression>("value"), null);
}

/// <summary><c>rail VDD 3.3 V tolerance 2%</c></summary>
internal sealed class RailStatement : StatementKind
{
    public override string Keyword => "rail";

    public override string Summary => "A supply voltage against ground. The name is also the rail's node, and its voltage in expressions.";

    protected override ImmutableArray<Piece> Head => [NewName("rail"), Blank.Of("volts", Unit.Volts)];

    public override ImmutableArray<Addition> Additions { get; } =
    [
        new("tolerance", new Blank("percent", Shape.Value, "a percentage, such as 5%", Unit.Percent)),
        new("drift", Blank.Of("per-kelvin", Unit.PerKelvin)),
        new("source-only"),
        new("sinks"),
        new("load", Blank.Of("load-amps", Unit.Amps)),
        new("rated", Blank.Of("rated-volts", Unit.Volts)),
        new("delivers", Blank.Of("delivered-amps", Unit.Amps)),
        new("resistance", Blank.Of("ohms", Unit.Ohm)),
    ];

    public override void Declare(StatementSyntax statement, Scope scope)
    {
        var name = statement.Token("name");
        if (UnitWords.FindDivisor(name.Text) is not null)
            scope.Diagnostics.Error(name.Span, DiagnosticCode.NameIsUnit,
                $"{name.Text} is a unit, so a rail of that name could be misread.", null, "a longer name");
        else if (scope.Declare(name, "rail"))
            scope.DefineRail(name.Text, statement.Get<Expression>("volts"));
    }

    public override void Bind(StatementSyntax statement, Scope scope)
    {
        var name = statement.Token("name");
        double? volts = scope.Number(statement["volts"]), tolerance = scope.Fraction(statement["percent"]),
            ohms = scope.NotNegative(statement["ohms"]),
            drift = scope.NotNegative(statement["per-kelvin"]);
        bool sourceOnly = statement.Has("source-only"), sinks = statement.Has("sinks");
        double? load = scope.NotNegative(statement["load-amps"]), rated = scope.Number(statement["rated-volts"]);
        if (rated is { } most && volts is { } given && !(most / given >= 1))
        {
            scope.Diagnostics.Error(statement["rated-volts"]!.Span, DiagnosticCode.OutOfRange,
                $"What is on rail {name.Text} has to stand its voltage at least.", null, "a voltage of the same sign, as large or larger");
            return;
        }
        if (sourceOnly && sinks)
        {
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.RailUndecided,
                $"Rail {name.Text} is said to sink current, and to deliver it only.", null,
                "keep one of the two");
            return;
        }
        if (!scope.Builder.HasRoom(scope.Builder.Rails.Count, "rails", statement.Span))
            return;
        if (tolerance is null)
            scope.Builder.WithoutTolerance.Add(name.Text);
        if (volts is { } v && scope.Builder.Rails.All(r => r.Name != name.Text))
            scope.Builder.Rails.Add(new Rail(name.Text, new Toleranced(v, tolerance ?? 0, drift))
            {
                SourceOnly = sourceOnly || !sinks && v != 0, // as most regulators
                Sinks = sinks,
                LoadAmps = load ?? 0,
                DeliversAmps = scope.Positive(statement["delivered-amps"]),
                RatedVolts = rated is { } stood ? Math.Abs(stood) : null,
                SeriesOhms = ohms ?? 0,
            });
    }

    public override IEnumerable<StatementText> Write(FrontEnd frontEnd) => frontEnd.Rails.Select(rail => new StatementText(string.Join(' ',
    [
        $"rail {rail.Name} {ValueText.Volts(rail.Volts.Value)}",
        .. StatementText.If(rail.Volts.Tolerance > 0, () => "tolerance " + ValueText.Percent(rail.Volts.Tolerance)),
        .. StatementText.If(rail.Volts.TempCo, drift => "drift " + ValueText.PerKelvin(drift)),
        // A rail that nothing is said of only delivers.
        .. StatementText.If(rail.SourceOnly && rail.Volts.Value == 0, () => "source-only"),
        .. StatementText.If(rail.Sinks || !rail.SourceOnly && rail.Volts.Value != 0, () => "sinks"),
        .. StatementText.If(rail.LoadAmps > 0, () => "load " + ValueText.Of(rail.LoadAmps, "A")),
        .. StatementText.If(rail.RatedVolts, stood => "rated " + ValueText.Volts(Math.CopySign(stood, rail.Volts.Value))),
        .. StatementText.If(rail.DeliversAmps, amps => "delivers " + ValueText.Of(amps, "A")),
        .. StatementText.If(rail.SeriesOhms > 0, () => "resistance " + ValueText.Ohms(rail.SeriesOhms)),
    ])));
}
