using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.Language.Binding.Scopes;
using FrontEndSim.Language.Syntax;
using Span = FrontEndSim.FrontEnds.Quantities.Span;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary>How a sensor becomes electrical, in words.</summary>
/// <param name="Form">Its form.</param>
/// <param name="Make">The law of a sensor in that form; null after a complaint.</param>
/// <param name="Write">The lines that are read as a law; null where it is of another kind.</param>
internal sealed record SensorLawWords(Addition Form, Func<MeasuredRange, Span, StatementSyntax,
    Scope, SensorLaw?> Make, Func<SensorLaw, Sensor, string[]?> Write);

/// <summary>The laws that a sensor may have: a new law is a new entry here.</summary>
internal static class SensorLaws
{
    private const string Electrical = "a voltage, a resistance, a current, a capacitance, a charge "
        + "or a frequency, such as 0.5 V, 10 kohm, 4 mA, "
        + "180 pF, 0.5 nAs or 210 Hz";

    private const string ElectricalWords = "volts, ohm, amperes, farads, As or Hz";

    private static readonly ImmutableArray<Unit> Electricals = [Unit.Volts, Unit.Ohm, Unit.Amps, Unit.Farad, Unit.Coulomb, Unit.Hertz];

    public static ImmutableArray<SensorLawWords> All { get; } =
    [
        new(new("gives", new Blank("outputs", Shape.Range, Electrical), new Maybe("of", Blank.Node("whole"))), Straight,
            (law, s) => law is not StraightLaw l ? null
                : [s.Wiring switch
                {
                    ShareOfRail { Hall: { } hall } share => $"hall {ValueText.Volts(hall.VoltsPerUnit)} per {s.UnitText} at "
                        + $"{ValueText.Volts(hall.AtVolts)} on {share.Rail} rests at {ValueText.Percent(hall.Rest)} linear over "
                        + $"{ValueText.Percent(hall.Linear.Low)} .. {ValueText.Percent(hall.Linear.High)}",
                    ShareOfRail share => $"gives {ValueText.Percent(l.AtLow)} .. {ValueText.Percent(l.AtHigh)} of {share.Rail}",
                    Track t =>
                        $"potentiometer {ValueText.Ohms(t.Ohms)}{(t.Tolerance is { } off ? " " + ValueText.Percent(off) : "")} "
                        + $"from {t.Top} to {s.Other}" + (l is { AtLow: 0, AtHigh: 1 } ? ""
                            : $" over {ValueText.Percent(l.AtLow)} .. {ValueText.Percent(l.AtHigh)}"),
                    Bridge b =>
                        $"bridge {ValueText.Ohms(b.Ohms)} from {b.Top} to {b.Bottom} gives {ValueText.Volts(b.GivesVolts)} for "
                        + $"{ValueText.Volts(b.ForVolts)}",
                    _ => $"gives {ValueText.Of(l.AtLow, l.Gives.Symbol)} .. {ValueText.Of(l.AtHigh, l.Gives.Symbol)}",
                }, .. Sensitivity(l.SensitivityError),
                    .. StatementText.If(l.DarkAmps > 0, () => "dark-current " + ValueText.Of(l.DarkAmps, "A"))]),
        new(new("potentiometer", Blank.Of("track-ohms", Unit.Ohm), new Maybe(Blank.Percentage("track-tolerance")),
                "from", Blank.Node("track-top"), "to", Blank.Node("track-bottom"),
                new Maybe("over", new Blank("travel", Shape.Range, "a percentage, such as 5%", Unit.Percent))), Potentiometer, (_, _) =>
                    null),
        new(new("hall", Blank.Of("hall-volts", Unit.Volts), "per", new Blank("hall-unit", Shape.Name, "the sensor's unit, such as mT"),
                "at", Blank.Of("hall-supply", Unit.Volts), "on", Blank.Node("hall-rail"),
                new Maybe("rests", "at", Blank.Percentage("hall-rest")),
                new Maybe("linear", "over", new Blank("hall-linear", Shape.Range, "a percentage, such as 5%", Unit.Percent))), OfHall,
            (_, _) => null),
        new(new("bridge", Blank.Of("arm-ohms", Unit.Ohm), "from", Blank.Node("bridge-top"), "to", Blank.Node("bridge-bottom"),
                "gives", Blank.Of("bridge-volts", Unit.Volts), "for", Blank.Of("excitation-volts", Unit.Volts)), OfBridge, (_, _) => null),
        new(new("at", new Blank("point", Shape.Measured, "a value in the sensor's unit, such as 25 C"),
            "gives", new Blank("output", Shape.Value, Electrical)) { MayRepeat = true }, Table,
            (law, s) => law is TableLaw { File: null } t
                ? [.. t.Points.Select(p =>
                    $"at {ValueText.Measured(p.Quantity, s.UnitText)} gives {ValueText.Of(p.Output, t.Gives.Symbol)}"),
                    .. Sensitivity(t.SensitivityError)] : null),
        new(new("table", new Blank("table-file", Shape.Text, "a file of values in double quotes"),
            "in", new Blank("table-unit", Shape.Name, "the unit of its second column, such as ohm")), FileTable,
            (law, _) => law is TableLaw { File: { } file } t
                ? [$"table {ValueText.Quoted(file)} in {t.FileUnit}", .. Sensitivity(t.SensitivityError)] : null),
        new(new("thermistor", Blank.Of("nominal-ohms", Unit.Ohm), new Maybe(Blank.Percentage("ohms-tolerance")),
            "at", Blank.Of("nominal-celsius", Unit.Celsius),
                "beta", new Blank("beta-kelvin", Shape.Value, "a plain number of kelvin, such as 3977", Unit.None),
                    new Maybe("K"), new Maybe(Blank.Percentage("beta-tolerance"))), Thermistor,
            (law, _) =>
                law is ThermistorLaw t
                ? [$"thermistor {ValueText.Of(t.Ohms, "ohm")} at {ValueText.Measured(t.AtCelsius, "°C")} beta "
                + $"{ValueText.Number(t.B.Value)} K"
                + (t.B.Tolerance > 0 ? " " + ValueText.Percent(t.B.Tolerance) : "")] : null),
        new(new("steinhart-hart", "a", Coefficient("coefficient-a"), "b", Coefficient("coefficient-b"),
            "c", Coefficient("coefficient-c"), new Maybe(Blank.Percentage("steinhart-tolerance"))), SteinhartHart,
            (law, _) =>
                law is SteinhartHartLaw s ? [$"steinhart-hart a {ValueText.Number(s.A)} b {ValueText.Number(s.B)} c {ValueText.Number(s.C)}"
                + (s.OhmsTolerance > 0 ? " " + ValueText.Percent(s.OhmsTolerance) : "")] : null),
        new(new("platinum", Blank.Of("zero-ohms", Unit.Ohm), new Maybe("class", new Blank("class", Shape.Name, "AA, A, B or C"))), Platinum,
            (law, _) => law is PlatinumLaw p ? [$"platinum {ValueText.Ohms(p.Ohms)}{(p.Class is null ? "" : " class " + p.Class)}"] : null),
        new(new("thermocouple", new Blank("couple", Shape.Name, "a type: K, J or T")), Thermocouple,
            (law, _) => law is ThermocoupleLaw t
                ? [$"thermocouple {t.Type.Name}", .. StatementText.If(t.ColdJunctionError > 0, () =>
                    $"cold-junction within {ValueText.Measured(t.ColdJunctionError, "°C")}"),
                    .. StatementText.If(t.IsJunctionMeasured, () => "cold-junction measured")] : null),
        new(new("follows", new Blank("formula", Shape.Value, "a formula in what is measured, such as 10 mV * temperature")), Formula,
            (law, _) => law is FormulaLaw f ? [$"follows {f.Formula}"] : null),
    ];

    /// <summary>What may be said of a sensor beside its law.</summary>
    public static ImmutableArray<Addition> Errors { get; } =
    [
        new("accuracy", new Blank("own-error", Shape.Measured, "an error either way in the sensor's unit, such as 0.5 C"),
            new Maybe("plus", Blank.Percentage("own-share"))),
        new("sensitivity-error", Blank.Percentage("slope-error")),
        new("dark-current", Blank.Of("dark-amps", Unit.Amps)),
        new("cold-junction", new OneOf(new Phrase("within", new Blank("junction-error", Shape.Measured, "an error in C, such as 1 C")),
            "measured")),
    ];

    /// <summary>How a transmitter says that it has failed.</summary>
    public static Addition Alarms { get; } = new("alarm-levels", new OneOf(new Addition("ne43"),
        new Phrase(Blank.Of("low-alarm", Unit.Amps), "and", Blank.Of("high-alarm", Unit.Amps),
            "measuring", new Blank("measuring-amps", Shape.Range, UnitWords.Describe(Unit.Amps), Unit.Amps))));

    /// <summary>How far a transmitter drives its current.</summary>
    public static Addition Driven { get; } =
        new("compliance", Blank.Of("compliance-volts", Unit.Volts), new Maybe("below",
            new Blank("loop-supply", Shape.Name, "a rail")));

    /// <summary>The compliance of a statement that has one; null without or after a complaint.</summary>
    public static Compliance? ComplianceOf(StatementSyntax statement, SensorLaw law, Scope scope)
    {
        if (!statement.Has(Driven.Name) || scope.Positive(statement["compliance-volts"]) is not { } volts)
            return null;
        bool isFed = statement["loop-supply"] is not null;
        if (isFed && !scope.Builder.Use(statement.Token("loop-supply"), "rail"))
            return null;
        if (law is StraightLaw { Gives: var unit, AtLow: >= 0, AtHigh: >= 0 } && unit == Unit.Amps)
            return new(volts, isFed ? statement.Token("loop-supply").Text : null);
        scope.Diagnostics.Error(statement.Span, DiagnosticCode.SensorUndecided,
            "A compliance is of a sensor that drives a current into its node, in a straight line.", "gives 4 mA .. 20 mA, for example");
        return null;
    }

    /// <summary>The alarm levels of a statement that has some; null without or after a complaint.</summary>
    public static AlarmLevels? AlarmsOf(StatementSyntax statement, SensorLaw law, Scope scope)
    {
        if (!statement.Has(Alarms.Name))
            return null;
        var levels = statement.Has("ne43") ? AlarmLevels.Ne43
            : scope.Number(statement["low-alarm"]) is { } low && scope.Number(statement["high-alarm"]) is { } high
                && scope.Span(statement["measuring-amps"]) is { } measuring ? new(low, high, measuring) : null;
        if (levels is null)
            return null;
        string? problem = law is not StraightLaw { Gives: var unit } straight || unit != Unit.Amps
            ? "Alarm levels are of a sensor that gives a current in a straight line."
            : !(levels.LowAmps < levels.Measuring.Low && levels.HighAmps > levels.Measuring.High)
                ? "Alarm levels lie outside of the currents that are measurements."
            : Math.Min(straight.AtLow, straight.AtHigh) < levels.Measuring.Low
                || Math.Max(straight.AtLow, straight.AtHigh) > levels.Measuring.High
                ? $"Over its span the sensor gives {straight.Text}, but its alarm levels leave {Amps(levels.Measuring)} to measurements."
            : null;
        if (problem is null)
            return levels;
        scope.Diagnostics.Error(statement.Span, DiagnosticCode.SensorUndecided, problem,
            "gives 4 mA .. 20 mA and alarm-levels ne43, which leaves 3.8 mA .. 20.5 mA to measurements");
        return null;
    }

    /// <summary>The line that is read as alarm levels.</summary>
    public static string[] Write(AlarmLevels? alarms) => alarms is null ? [] : alarms == AlarmLevels.Ne43 ? ["alarm-levels ne43"]
        : [$"alarm-levels {ValueText.Of(alarms.LowAmps, "A")} and {ValueText.Of(alarms.HighAmps, "A")} measuring {Amps(alarms.Measuring)}"];

    /// <summary>The line that is read as a compliance.</summary>
    public static string[] Write(Compliance? limit) => limit is null ? []
        : [$"compliance {ValueText.Volts(limit.Volts)}{(limit.Supply is null ? "" : " below " + limit.Supply)}"];

    /// <summary>The lines that are read as a law.</summary>
    public static string[] Write(SensorLaw law, Sensor sensor) =>
    [
        .. All.Select(w => w.Write(law, sensor)).First(lines => lines is not null)!,
        .. StatementText.If(law is not PlatinumLaw { Class: not null } && (law.OffsetError > 0 || law.ProportionalError > 0), () =>
            $"accuracy {ValueText.Measured(law.OffsetError, sensor.UnitText)}"
            + (law.ProportionalError > 0 ? " plus " + ValueText.Percent(law.ProportionalError) : "")),
    ];

    private static string Amps(Span amps) => $"{ValueText.Of(amps.Low, "A")} .. {ValueText.Of(amps.High, "A")}";

    private static Blank Coefficient(string name) => new(name, Shape.Value, "a plain number, such as 1.13e-3", Unit.None);

    private static string[] Sensitivity(double error) => StatementText.If(error > 0, () => "sensitivity-error " + ValueText.Percent(error));

    /// <summary>What an expression gives that must be electrical; null after a complaint.</summary>
    internal static Quantity? Given(Expression? value, Unit? unit, Scope scope)
    {
        if (value is not Expression expression || scope.Evaluate(expression, unit) is not { Quantity: var given })
            return null;
        if (Electricals.Contains(given.Unit))
            return given;
        scope.Diagnostics.Error(expression.Span, DiagnosticCode.WrongUnit,
            $"This is {UnitWords.Name(given.Unit)} ({given}), but a sensor gives {ElectricalWords}.", Electrical);
        return null;
    }

    /// <summary>What a share is a share of; null for a sensor that gives volts, ohm or amperes, or after a complaint.</summary>
    public static SensorWiring? WiringOf(StatementSyntax statement, Scope scope)
    {
        if (statement.Has("whole"))
            return new ShareOfRail(scope.Node(statement.Token("whole")));
        if (statement.Has("hall"))
        {
            return Sheet(statement, scope) is { } sheet ? new ShareOfRail(scope.Node(statement.Token("hall-rail"))) { Hall = sheet } : null;
        }
        if (statement.Has("potentiometer"))
        {
            return scope.Positive(statement["track-ohms"]) is not { } track ? null
                : new Track(track, scope.Node(statement.Token("track-top"))) { Tolerance = scope.Fraction(statement["track-tolerance"]) };
        }
        return statement.Has("bridge") && scope.Positive(statement["arm-ohms"]) is { } arm
            && scope.Number(statement["bridge-volts"]) is { } gives && scope.Positive(statement["excitation-volts"]) is { } excitation
            ? new Bridge(arm, scope.Node(statement.Token("bridge-top")), scope.Node(statement.Token("bridge-bottom")), gives, excitation)
                : null;
    }

    private static double SlopeError(StatementSyntax statement, Scope scope) => scope.Fraction(statement["slope-error"]) ?? 0;

    private static StraightLaw? Potentiometer(MeasuredRange range, Span span, StatementSyntax statement, Scope scope)
    {
        if (!statement.Has("travel"))
            return new(span, 0, 1, Unit.None) { SensitivityError = SlopeError(statement, scope) };
        return scope.Span(statement["travel"]) is not { } travel ? null
            : Share(travel.Low, travel.High, statement["travel"]!.Span, scope)
                ? new(span, travel.Low, travel.High, Unit.None) { SensitivityError = SlopeError(statement, scope) } : null;
    }

    /// <summary>The numbers of a Hall sensor; null after a complaint.</summary>
    private static HallSheet? Sheet(StatementSyntax statement, Scope scope) =>
        scope.Number(statement["hall-volts"]) is { } volts && scope.Positive(statement["hall-supply"]) is { } supply
            ? new(volts, supply, scope.Fraction(statement["hall-rest"]) ?? 0.5,
                statement["hall-linear"] is { } linear && scope.Span(linear) is { } range ? range : HallSheet.UsualLinear) : null;

    private static StraightLaw? OfHall(MeasuredRange range, Span span, StatementSyntax statement, Scope scope)
    {
        if (Sheet(statement, scope) is not { } hall)
            return null;
        var unit = statement.Token("hall-unit");
        if (unit.Text != range.High.UnitText)
        {
            scope.Diagnostics.Error(unit.Span, DiagnosticCode.WrongUnit,
                $"The sensor's span is in {range.High.UnitText}, but its sensitivity is per {unit.Text}.", "per " + range.High.UnitText);
            return null;
        }
        double low = hall.Share(span.Low), high = hall.Share(span.High);
        if (Math.Min(low, high) >= hall.Linear.Low && Math.Max(low, high) <= hall.Linear.High)
            return new(span, low, high, Unit.None) { SensitivityError = SlopeError(statement, scope) };
        scope.Diagnostics.Error(statement.Span, DiagnosticCode.OutOfRange,
            $"Over its span the sensor would give {ValueText.Percent(low)} .. {ValueText.Percent(high)} of its supply, but it is linear "
            + $"over {ValueText.Percent(hall.Linear.Low)} .. {ValueText.Percent(hall.Linear.High)}.", "a smaller span or sensitivity");
        return null;
    }

    private static StraightLaw? OfBridge(MeasuredRange range, Span span, StatementSyntax statement, Scope scope)
    {
        if (WiringOf(statement, scope) is not Bridge bridge)
            return null;
        if (span.High > 0 && Math.Abs(bridge.GivesVolts) > 0 && Math.Abs(bridge.GivesVolts) < 0.5 * bridge.ForVolts)
            return bridge.LawOver(span) with { SensitivityError = SlopeError(statement, scope) };
        scope.Diagnostics.Error(statement.Span, DiagnosticCode.OutOfRange, span.High > 0
            ? "A bridge gives a small share of its excitation at the upper end of its span, less than half of it."
            : "The upper end of a bridge's span has to be above zero.", "such as gives 2 mV for 1 V");
        return null;
    }

    /// <summary>Whether both ends are shares from 0 % to 100 %; complains if not.</summary>
    private static bool Share(double low, double high, SourceSpan span, Scope scope)
    {
        if (low is >= 0 and <= 1 && high is >= 0 and <= 1)
            return true;
        scope.Diagnostics.Error(span, DiagnosticCode.OutOfRange, "A share lies from 0% to 100%.");
        return false;
    }

    private static StraightLaw? Straight(MeasuredRange range, Span span, StatementSyntax statement, Scope scope)
    {
        if (statement.Has("whole"))
        {
            return statement["outputs"] is Filled<RangeExpression> { Value: var shares }
                && scope.Evaluate(shares.Low, Unit.None) is { } from && scope.Evaluate(shares.High, Unit.None) is { } to
                && Share(from.Quantity.Value, to.Quantity.Value, shares.Span, scope)
                    ? new(span, from.Quantity.Value, to.Quantity.Value, Unit.None) { SensitivityError = SlopeError(statement, scope) }
                        : null;
        }
        if (statement["outputs"] is not Filled<RangeExpression> { Value: var outputs } || Given(outputs.Low, null, scope) is not { } low
            || Given(outputs.High, low.Unit, scope) is not { } high)
            return null;
        return new(span, low.Value, high.Value, low.Unit) { SensitivityError = scope.Fraction(statement["slope-error"]) ?? 0 };
    }

    private static TableLaw? Table(MeasuredRange range, Span span, StatementSyntax statement, Scope scope)
    {
        var lines = statement.Settings.Where(s => s.Name == "at").Select(s => s.Phrase).OfType<PhraseSyntax>().ToList();
        if (statement.Head["point"] is not null)
            lines.Insert(0, statement.Head);
        var points = ImmutableArray.CreateBuilder<SensorPoint>();
        Unit? unit = null;
        foreach (var line in lines)
        {
            if (scope.Measured(line["point"], range.High.UnitText) is not { } at
                || Given((line["output"] as Filled<Expression>)?.Value, unit, scope) is not { } given)
                return null;
            unit = given.Unit;
            points.Add(new(at, given.Value));
        }
        return Made(points.ToImmutable(), unit ?? Unit.Ohm, statement, scope);
    }

    private static TableLaw? FileTable(MeasuredRange range, Span span, StatementSyntax statement, Scope scope)
    {
        var (file, word) = (statement.Token("table-file"), statement.Token("table-unit"));
        if (UnitWords.Find(word.Text) is not var (unit, power) || !Electricals.Contains(unit))
        {
            scope.Diagnostics.Error(word.Span, DiagnosticCode.WrongUnit,
                $"{word.Text} is no unit of what a sensor gives: {ElectricalWords}.", "such as mV, ohm, kohm, uA or pF");
            return null;
        }
        if (PairsFile.Table.Read(file, scope.Diagnostics) is not { } pairs)
            return null;
        double share = range.High.UnitText == "%" ? 0.01 : 1, scale = Math.Pow(10, power);
        return Made([.. pairs.Select(p => new SensorPoint(share * p.First, scale * p.Second))], unit, statement, scope) is { } law
            ? law with { File = file.Text, FileUnit = word.Text } : null;
    }

    /// <summary>The table of points in any order; null after a complaint of too few or of two at one place.</summary>
    private static TableLaw? Made(ImmutableArray<SensorPoint> points, Unit unit, StatementSyntax statement, Scope scope)
    {
        ImmutableArray<SensorPoint> sorted = [.. points.OrderBy(p => p.Quantity)];
        string? problem = sorted.Length < 2 ? "A table needs two points at least." : null;
        for (int k = 1; k < sorted.Length && problem is null; k++)
        {
            if (sorted[k].Quantity == sorted[k - 1].Quantity)
                problem = $"The table has two points at {ValueText.Number(sorted[k].Quantity)}.";
        }
        double whole = problem is null ? sorted[^1].Output - sorted[0].Output : 0;
        for (int k = 1; k < sorted.Length && problem is null; k++)
        {
            if (!((sorted[k].Output - sorted[k - 1].Output) * Math.Sign(whole) > 0))
            {
                problem =
                    $"The table turns back: from {ValueText.Number(sorted[k - 1].Quantity)} to {ValueText.Number(sorted[k].Quantity)} it "
                    + $"goes from {ValueText.Of(sorted[k - 1].Output, unit.Symbol)} to {ValueText.Of(sorted[k].Output, unit.Symbol)}, "
                    + "so one output would stand for two readings.";
            }
        }
        if (problem is null)
            return new TableLaw(sorted, unit) { SensitivityError = scope.Fraction(statement["slope-error"]) ?? 0 };
        scope.Diagnostics.Error(statement.Span, sorted.Length < 2 ? DiagnosticCode.SensorUndecided
            : DiagnosticCode.SensorTurns, problem, "outputs that only rise or only fall");
        return null;
    }

    private static ThermistorLaw? Thermistor(MeasuredRange range, Span span, StatementSyntax statement, Scope scope) =>
        scope.Toleranced(statement["nominal-ohms"], statement["ohms-tolerance"]) is { } ohms
            && scope.Within(statement["nominal-celsius"], c => c is >= -55 and <= 300, "from -55 C to 300 C") is { } celsius
        && scope.Toleranced(statement["beta-kelvin"], statement["beta-tolerance"]) is { } beta ? new(ohms, celsius, beta) : null;

    private static SteinhartHartLaw? SteinhartHart(MeasuredRange range, Span span, StatementSyntax statement, Scope scope) =>
        scope.Number(statement["coefficient-a"]) is { } a && scope.Positive(statement["coefficient-b"]) is { } b
            && scope.NotNegative(statement["coefficient-c"]) is { } c
            ? new(a, b, c) { OhmsTolerance = scope.Fraction(statement["steinhart-tolerance"]) ?? 0 } : null;

    private static PlatinumLaw? Platinum(MeasuredRange range, Span span, StatementSyntax statement, Scope scope)
    {
        if (scope.Positive(statement["zero-ohms"]) is not { } ohms)
            return null;
        if (statement["class"] is not Filled<Token> { Value: var name })
            return new PlatinumLaw(ohms);
        if (PlatinumLaw.Classes.Any(c => c.Name == name.Text))
            return PlatinumLaw.OfClass(ohms, name.Text);
        scope.Diagnostics.UnknownType(name, "class of platinum resistor", [.. PlatinumLaw.Classes.Select(c => c.Name)]);
        return null;
    }

    private static ThermocoupleLaw? Thermocouple(MeasuredRange range, Span span, StatementSyntax statement, Scope scope)
    {
        var name = statement.Token("couple");
        if (ThermocoupleType.All.FirstOrDefault(t => t.Name == name.Text) is not { } type)
        {
            scope.Diagnostics.UnknownType(name, "type of thermocouple", [.. ThermocoupleType.All.Select(t => t.Name)]);
            return null;
        }
        return new(type)
        {
            ColdJunctionError = statement.Has("cold-junction")
            ? scope.Measured(statement["junction-error"], "°C") ?? 0 : 0,
            IsJunctionMeasured = statement.Has("cold-junction") && !statement.Has("junction-error"),
        };
    }

    private static FormulaLaw? Formula(MeasuredRange range, Span span, StatementSyntax statement, Scope scope)
    {
        var expression = statement.Get<Expression>("formula");
        string variable = statement.Token("quantity").Text;
        if (Scopes.Formula.Make(expression, [variable], scope) is not { } formula)
            return null;
        if (Electricals.Contains(formula.Unit))
            return new(expression.Span.File.Line(expression.Span.Line)
                .Substring(expression.Span.Column - 1, expression.Span.Length), formula.Unit, formula.Of);
        scope.Diagnostics.Error(expression.Span, DiagnosticCode.WrongUnit,
            $"The formula gives {UnitWords.Name(formula.Unit)}, but a sensor gives {ElectricalWords}.",
            $"a formula such as 10 mV * {variable}, in which {variable} is the plain number of "
                + $"{(range.High.UnitText == "" ? "units" : range.High.UnitText)}");
        return null;
    }
}
