using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Parts.Fits;
using FrontEndSim.Language.Binding.Scopes;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary><c>part Z36 is zener</c>, with the numbers of its data sheet below it.</summary>
internal sealed class PartTypeStatement : StatementKind
{
    public override string Keyword => "part";

    public override string Summary =>
        "A type of part of your own, from the numbers on its data sheet; it is then named like those of the catalogue.";

    protected override ImmutableArray<Piece> Head =>
        [new Blank("name", Shape.TypeName, "a name for the type"), "is",
            new Blank("kind", Shape.Name, "a kind of part, such as zener, npn or opamp")];

    public override bool SettingsDependOnNames => true;

    public override void Declare(StatementSyntax statement, Scope scope)
    {
        var name = statement.Token("name");
        if (scope.Builder.Declare(name.Text, "part", name.Span))
            scope.Builder.OwnTypes[name.Text] = scope.Builder.Names[name.Text];
    }

    // A cable, a switch, a transformer: the few numbers of such a part are said where it stands.
    private static string? OnItsOwnLine(string word) => StatementKinds.All.FirstOrDefault(k => k.Keyword == word) is PartStatement found
        ? $"its numbers stand on its own line: {found.Form}" : null;

    public override void Bind(StatementSyntax statement, Scope scope)
    {
        var kind = statement.Token("kind");
        if (StatementKinds.Sheets.FirstOrDefault(k => k.Kind == kind.Text) is not { } words)
        {
            string[] known = [.. StatementKinds.Sheets.Select(k => k.Kind)];
            scope.Diagnostics.Error(kind.Span, DiagnosticCode.UnknownPartKind,
                $"There is no kind of part {kind.Text} that could be described here.", "one of " + string.Join(", ", known),
                OtherWords.KindFor(kind.Text) ?? OnItsOwnLine(kind.Text) ?? Nearest.Question(kind.Text, known));
            return;
        }
        if (statement.WithSettings($"a part of the kind {kind.Text}", words.Settings, scope.Diagnostics) is not { } read)
            return;
        try
        {
            if (words.Into(read, scope) is { } catalogue)
                scope.Builder.Catalogue = catalogue;
        }
        catch (DataSheetException e)
        {
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.ImpossibleSheet, e.Message);
        }
    }
}

/// <summary>The words of a diode's data sheet.</summary>
internal static class DiodeTypeWords
{
    private static readonly Maybe AtMost = new(new Addition("at", "most"));

    private static readonly ImmutableArray<Detail<DiodeDataSheet>> Common =
    [
        Curve("forward", "volts", Unit.Volts, "amps", Unit.Amps, AtMost), Curve("leakage", "amps", Unit.Amps, "volts", Unit.Volts, AtMost),
        new("capacitance", Blank.Of("farads", Unit.Farad), (d, x) => d with { Farads = x }),
        new("transit", Blank.Of("transit-time", Unit.Seconds), (d, x) => d with { TransitSeconds = x }),
        new("rated", Blank.Of("watts", Unit.Watt), (d, x) => d with { RatedWatts = x }),
        new("peak", Blank.Of("peak-amps", Unit.Amps), (d, x) => d with { RatedPeakAmps = x }),
    ];

    private static readonly ImmutableArray<Detail<DiodeDataSheet>> OfZener =
    [
        Curve("zener", "volts", Unit.Volts, "amps", Unit.Amps), Curve("impedance", "ohms", Unit.Ohm, "amps", Unit.Amps, AtMost),
        new("tolerance", new Blank("percent", Shape.Value, "a percentage, such as 5%", Unit.Percent),
            (d, x) => d with { Tolerance = x }, NumberRule.Fraction),
        new("drift", Blank.Of("per-kelvin", Unit.PerKelvin), (d, x) => d with { TempCo = x }, NumberRule.Any),
        .. Common,
    ];

    private static readonly (string Setting, DataPointKind Kind, string Value, string At)[] Curves =
    [
        ("forward", DataPointKind.ForwardVoltage, "volts", "amps"), ("zener", DataPointKind.ZenerVoltage, "volts", "amps"),
        ("impedance", DataPointKind.Impedance, "ohms", "amps"), ("leakage", DataPointKind.Leakage, "amps", "volts"),
    ];

    /// <summary>How a kind of diode is described.</summary>
    public static SheetWords Of(DiodeKind kind) => new SheetWords<DiodeDataSheet>(DiodeFit.Word(kind),
        read => new(read.Name, kind,
            [.. from l in read.EachLine()
                join curve in Curves on l.Setting equals curve.Setting
                select new DataPoint(curve.Kind, l.Line.Positive(curve.Value), l.Line.Positive(curve.At), l.Line.Has("at"))], read.Source),
        kind == DiodeKind.Zener ? OfZener
            : [.. Common, new("stands", Blank.Of("reverse", Unit.Volts), (d, x) => d with { ReverseVolts = x })])
    {
        Added = (catalogue, sheet) => catalogue.With(sheet),
    };

    private static Detail<DiodeDataSheet> Curve(string word, string value, Unit unit, string at, Unit atUnit,
        params ImmutableArray<Piece> more) =>
        new(new(word, [Blank.Of(value, unit), "at", Blank.Of(at, atUnit), .. more]) { MayRepeat = true });
}

/// <summary>The words of an op amp's data sheet: a class of the catalogue, and what is different from it.</summary>
internal static class OpAmpTypeWords
{
    /// <summary>How a class of op amp is described.</summary>
    public static SheetWords Words { get; } = SheetWords<OpAmpType>.Like("opamp", "op amp", "bipolar-general",
        (read, name) => Find(name, read.Scope) is { } like ? like with { Name = read.Name, Source = read.SourceLike(like.Name) } : null,
        OfModel("gain", new Blank("gain-value", Shape.Value, "a plain number, such as 200000", Unit.None),
            (m, x) => m with { OpenLoopGain = x }),
        OfModel("bandwidth", Blank.Of("hertz", Unit.Hertz), (m, x) => m with { GainBandwidthHertz = x }),
        OfModel("slew", Blank.Of("volts-per-second", Unit.VoltsPerSecond), (m, x) => m with { SlewVoltsPerSecond = x }),
        Spread("offset", Blank.Of("offset-volts", Unit.Volts), (u, x) => u with { OffsetVoltsSpread = x }),
        Spread("drift", new Blank("volts-per-kelvin", Shape.Value, "a voltage per kelvin, such as 5 uV/K", Unit.Volts / Unit.Celsius),
            (u, x) => u with { OffsetVoltsPerKelvin = x }),
        new(new("bias", Blank.Of("bias-amps", Unit.Amps), new Maybe("at", "most", Blank.Of("most-bias-amps", Unit.Amps))),
            (u, read) => u with
            {
                Model = u.Model with { BiasAmps = read.Number("bias-amps") },
                BiasAmpsSpread = read.NotNegative("most-bias-amps", Math.Abs(read.Number("bias-amps"))),
            }),
        Spread("offset-current", Blank.Of("offset-amps", Unit.Amps), (u, x) => u with { OffsetAmpsSpread = x }),
        new(new("noise", Blank.Of("noise-volts", Unit.Volts), new Maybe("and", Blank.Of("noise-amps", Unit.Amps)), "per", "root", "hertz"),
            (u, read) => u with
            {
                Model = u.Model with
                {
                    NoiseVolts = read.NotNegative("noise-volts"),
                    NoiseAmps = read.NotNegative("noise-amps", u.Model.NoiseAmps),
                },
            }),
        OfModel("input", Blank.Of("input-ohms", Unit.Ohm), (m, x) => m with { InputOhms = x }),
        new(new("capacitance", Blank.Of("input-farads", Unit.Farad), new Maybe("and", Blank.Of("between-farads", Unit.Farad), "between")),
            (u, read) => u with
            {
                InputFarads = read.NotNegative("input-farads"),
                BetweenFarads = read.NotNegative("between-farads", u.BetweenFarads),
            }),
        OfModel("output", Blank.Of("output-ohms", Unit.Ohm), (m, x) => m with { OutputOhms = x }),
        OfModel("limit", Blank.Of("limit-amps", Unit.Amps), (m, x) => m with { OutputLimitAmps = x }),
        new(SheetReader.Swing,
            (u, read) => u with
            {
                Model = u.Model with { DropHighVolts = read.NotNegative("drop-high"), DropLowVolts = read.NotNegative("drop-low") },
            }),
        new(SheetReader.CommonMode,
            (u, read) => u with
            {
                Model = u.Model with { CommonModeHighVolts = read.Number("mode-high"), CommonModeLowVolts = read.Number("mode-low") },
            }),
        new(new("supply", new Blank("supply-volts", Shape.Range, UnitWords.Describe(Unit.Volts), Unit.Volts)),
            (u, read) => read.Span("supply-volts") is { } volts
                ? u with { LowestSupplyVolts = volts.Low, HighestSupplyVolts = volts.High } : u),
        OfModel("draws", Blank.Of("supply-amps", Unit.Amps), (m, x) => m with { SupplyAmps = x })) with
    {
        Added = (catalogue, type) => catalogue.With(type),
    };

    /// <summary>The class of that name; null after a complaint.</summary>
    public static OpAmpType? Find(Token name, Scope scope)
    {
        var builder = scope.Builder;
        if (builder.Catalogue.FindOpAmp(name.Text) is not { } type)
            return builder.RefuseType<OpAmpType>(name, "class of op amp", [.. builder.Catalogue.OpAmpNames]);
        builder.UseType(name.Text);
        return type;
    }

    private static Detail<OpAmpType> Spread(string word, Blank number, Func<OpAmpType, double, OpAmpType> with) =>
        new(word, number, with, NumberRule.NotNegative);

    private static Detail<OpAmpType> OfModel(string word, Blank number, Func<OpAmpModel, double, OpAmpModel> with) =>
        Spread(word, number, (u, x) => u with { Model = with(u.Model, x) });
}
