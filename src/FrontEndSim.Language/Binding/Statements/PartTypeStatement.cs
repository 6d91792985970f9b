using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Parts.Fits;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.Language.Binding.Scopes;
using FrontEndSim.Language.Forms;
using FrontEndSim.Language.Text;

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

    /// <summary>The kinds of part that can be described.</summary>
    public static ImmutableArray<SheetWords> Kinds { get; } = [.. DiodeTypeWords.All, OpAmpTypeWords.Words,
        ComparatorTypeWords.Words, .. TransistorTypeWords.All, .. SurgeTypeWords.All, .. SupplyTypeWords.All, OptocouplerTypeWords.Words,
        AnalogSwitchTypeWords.Words, InAmpTypeWords.Words];

    public override void Declare(StatementSyntax statement, Scope scope)
    {
        var name = statement.Token("name");
        if (scope.Draft.Declare(name.Text, "part", name.Span))
            scope.Draft.OwnTypes[name.Text] = scope.Draft.Names[name.Text];
    }

    public override void Bind(StatementSyntax statement, Scope scope)
    {
        var kind = statement.Token("kind");
        if (Kinds.FirstOrDefault(k => k.Kind == kind.Text) is not { } words)
        {
            string[] known = [.. Kinds.Select(k => k.Kind)];
            scope.Diagnostics.Error(kind.Span, DiagnosticCode.UnknownPartKind,
                $"There is no kind of part {kind.Text} that could be described here.", "one of " + string.Join(", ", known),
                OtherWords.KindFor(kind.Text) ?? Nearest.Question(kind.Text, known));
            return;
        }
        if (statement.WithSettings($"a part of the kind {kind.Text}", words.Settings, scope.Diagnostics) is not { } read)
            return;
        try
        {
            if (words.Into(read, scope) is { } catalogue)
                scope.Draft.Catalogue = catalogue;
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

    private static readonly ImmutableArray<Addition> Common =
    [
        new("forward", Blank.Of("volts", Unit.Volts), "at", Blank.Of("amps", Unit.Amps), AtMost) { MayRepeat = true },
        new("leakage", Blank.Of("amps", Unit.Amps), "at", Blank.Of("volts", Unit.Volts), AtMost) { MayRepeat = true },
        new("capacitance", Blank.Of("farads", Unit.Farad)),
        new("transit", Blank.Of("transit-time", Unit.Seconds)),
        new("rated", Blank.Of("watts", Unit.Watt)),
        new("peak", Blank.Of("peak-amps", Unit.Amps)),
        SheetReader.Sheet,
    ];

    // What may be said of a diode that is not used in breakdown.
    private static readonly ImmutableArray<Addition> Settings = [.. Common, new("stands", Blank.Of("reverse", Unit.Volts))];

    private static readonly ImmutableArray<Addition> ZenerSettings =
    [
        new("zener", Blank.Of("volts", Unit.Volts), "at", Blank.Of("amps", Unit.Amps)) { MayRepeat = true },
        new("impedance", Blank.Of("ohms", Unit.Ohm), "at", Blank.Of("amps", Unit.Amps), AtMost) { MayRepeat = true },
        new("tolerance", new Blank("percent", Shape.Value, "a percentage, such as 5%", Unit.Percent)),
        new("drift", Blank.Of("per-kelvin", Unit.PerKelvin)),
        .. Common,
    ];

    /// <summary>The kinds of diode that a file can describe.</summary>
    public static ImmutableArray<SheetWords> All { get; } =
    [
        .. Enum.GetValues<DiodeKind>().Select(kind =>
            new SheetWords(DiodeFit.Word(kind), kind == DiodeKind.Zener ? ZenerSettings : Settings,
            (statement, scope) => Make(statement, scope, kind) is { } sheet ? scope.Draft.Catalogue.With(sheet) : null)),
    ];

    private static readonly (string Setting, DataPointKind Kind, string Value, string At)[] Curves =
    [
        ("forward", DataPointKind.ForwardVoltage, "volts", "amps"), ("zener", DataPointKind.ZenerVoltage, "volts", "amps"),
        ("impedance", DataPointKind.Impedance, "ohms", "amps"), ("leakage", DataPointKind.Leakage, "amps", "volts"),
    ];

    /// <summary>The data sheet, or null after a complaint.</summary>
    private static DiodeDataSheet? Make(StatementSyntax statement, Scope scope, DiodeKind kind)
    {
        var read = new SheetReader(statement, scope);
        var points = from setting in statement.Settings
                     join curve in Curves on setting.Name equals curve.Setting
                     let line = setting.Phrase!
                     select new DataPoint(curve.Kind, read.Positive(line, curve.Value) ?? 0, read.Positive(line, curve.At) ?? 0,
                         line["at"] is not null);
        var sheet = new DiodeDataSheet(read.Name, kind, [.. points], read.Source)
        {
            Tolerance = read.Fraction("percent") ?? 0,
            TempCo = read.Number("per-kelvin") ?? 0,
            Farads = read.Positive("farads") ?? 0,
            TransitSeconds = read.Positive("transit-time") ?? 0,
            ReverseVolts = read.Positive("reverse") ?? double.PositiveInfinity,
            RatedPeakAmps = read.Positive("peak-amps") ?? double.PositiveInfinity,
        };
        sheet = read.Positive("watts") is { } watts ? sheet with { RatedWatts = watts } : sheet;
        return read.IsComplete ? sheet : null;
    }
}

/// <summary>The words of an op amp's data sheet: a class of the catalogue, and what is different from it.</summary>
internal static class OpAmpTypeWords
{
    /// <summary>How a class of op amp is described.</summary>
    public static SheetWords Words => new("opamp", Settings, (statement, scope) =>
        Make(statement, scope) is { } type ? scope.Draft.Catalogue.With(type) : null);

    private static readonly ImmutableArray<Addition> Settings =
    [
        new("like", new Blank("class", Shape.TypeName, "a class of op amp, such as bipolar-general")),
        new("gain", new Blank("gain-value", Shape.Value, "a plain number, such as 200000", Unit.None)),
        new("bandwidth", Blank.Of("hertz", Unit.Hertz)),
        new("slew", Blank.Of("volts-per-second", Unit.VoltsPerSecond)),
        new("offset", Blank.Of("offset-volts", Unit.Volts)),
        new("drift", new Blank("volts-per-kelvin", Shape.Value, "a voltage per kelvin, such as 5 uV/K", Unit.Volts / Unit.Celsius)),
        new("bias", Blank.Of("bias-amps", Unit.Amps), new Maybe("at", "most", Blank.Of("most-bias-amps", Unit.Amps))),
        new("offset-current", Blank.Of("offset-amps", Unit.Amps)),
        new("noise", Blank.Of("noise-volts", Unit.Volts), new Maybe("and", Blank.Of("noise-amps", Unit.Amps)), "per", "root", "hertz"),
        new("input", Blank.Of("input-ohms", Unit.Ohm)),
        new("output", Blank.Of("output-ohms", Unit.Ohm)),
        new("limit", Blank.Of("limit-amps", Unit.Amps)),
        new("swing", Blank.Of("drop-high", Unit.Volts), "from", "high", Blank.Of("drop-low", Unit.Volts), "from", "low"),
        new("common-mode", Blank.Of("mode-high", Unit.Volts), "from", "high", Blank.Of("mode-low", Unit.Volts), "from", "low"),
        new("supply", new Blank("supply-volts", Shape.Range, UnitWords.Describe(Unit.Volts), Unit.Volts)),
        new("draws", Blank.Of("supply-amps", Unit.Amps)),
        SheetReader.Sheet,
    ];

    /// <summary>The class, or null after a complaint.</summary>
    private static OpAmpType? Make(StatementSyntax statement, Scope scope)
    {
        if (!statement.Has("like"))
        {
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.SettingMissing,
                "An op amp of your own starts from a class of the catalogue.", "like CLASS, such as like bipolar-general");
            return null;
        }
        var like = statement.Token("class");
        if (scope.Draft.Catalogue.FindOpAmp(like.Text) is not { } type)
        {
            scope.Diagnostics.UnknownType(like, "class of op amp", [.. scope.Draft.Catalogue.OpAmpNames]);
            return null;
        }
        var read = new SheetReader(statement, scope);
        var model = type.Model with
        {
            OpenLoopGain = read.NotNegative("gain-value") ?? type.Model.OpenLoopGain,
            GainBandwidthHertz = read.NotNegative("hertz") ?? type.Model.GainBandwidthHertz,
            SlewVoltsPerSecond = read.NotNegative("volts-per-second") ?? type.Model.SlewVoltsPerSecond,
            BiasAmps = read.Number("bias-amps") ?? type.Model.BiasAmps,
            InputOhms = read.NotNegative("input-ohms") ?? type.Model.InputOhms,
            OutputOhms = read.NotNegative("output-ohms") ?? type.Model.OutputOhms,
            OutputLimitAmps = read.NotNegative("limit-amps") ?? type.Model.OutputLimitAmps,
            DropHighVolts = read.NotNegative("drop-high") ?? type.Model.DropHighVolts,
            DropLowVolts = read.NotNegative("drop-low") ?? type.Model.DropLowVolts,
            CommonModeHighVolts = read.Number("mode-high") ?? type.Model.CommonModeHighVolts,
            CommonModeLowVolts = read.Number("mode-low") ?? type.Model.CommonModeLowVolts,
            NoiseVolts = read.NotNegative("noise-volts") ?? type.Model.NoiseVolts,
            NoiseAmps = read.NotNegative("noise-amps") ?? type.Model.NoiseAmps,
            SupplyAmps = read.NotNegative("supply-amps") ?? type.Model.SupplyAmps,
        };
        var supply = read.Span("supply-volts");
        var made = type with
        {
            Name = read.Name,
            Model = model,
            OffsetVoltsSpread = read.NotNegative("offset-volts") ?? type.OffsetVoltsSpread,
            OffsetVoltsPerKelvin = read.NotNegative("volts-per-kelvin") ?? type.OffsetVoltsPerKelvin,
            BiasAmpsSpread = read.NotNegative("most-bias-amps")
                ?? (statement.Has("bias") ? Math.Abs(model.BiasAmps) : type.BiasAmpsSpread),
            OffsetAmpsSpread = read.NotNegative("offset-amps") ?? type.OffsetAmpsSpread,
            LowestSupplyVolts = supply?.Low ?? type.LowestSupplyVolts,
            HighestSupplyVolts = supply?.High ?? type.HighestSupplyVolts,
            Source = statement.Has("source") ? read.Source : $"given in the circuit file, otherwise like {type.Name}",
        };
        return read.IsComplete ? made : null;
    }
}
