using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.Language.Binding.Scopes;
using FrontEndSim.Language.Forms;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary><c>regulator U1 cmos-low-dropout from V12 to VCC ground GND 3.3 V</c></summary>
internal sealed class RegulatorStatement : PartStatement
{
    public override string Keyword => "regulator";

    public override string Summary => "A linear regulator by its class and its output voltage. It delivers and never takes.";

    protected override ImmutableArray<Piece> Head =>
        [NewName("regulator"), new Blank("type", Shape.TypeName, "a class of regulator, such as cmos-low-dropout"),
            .. Terminals, "ground", Blank.Node("ground"), Blank.Of("volts", Unit.Volts)];

    protected override Part? Make(StatementSyntax statement, Scope scope, string name)
    {
        var (from, to) = Ends(statement, scope);
        string ground = scope.Node(statement.Token("ground"));
        var type = Regulators.Find(scope, statement.Token("type"), isReference: false);
        return scope.Positive(statement["volts"]) is { } volts && type is not null
            ? new RegulatorPart(name, from, to, ground, type, volts) : null;
    }

    protected override StatementText? Write(Part part) => part is not RegulatorPart { Type.ReferenceVolts: null } r ? null
        : new($"regulator {r.Name} {r.Type.Name} from {r.Input} to {r.Output} ground {r.GroundPin} {ValueText.Volts(r.Volts)}");
}

/// <summary><c>series-reference U2 series-2V5 from V5 to VREF ground GND</c></summary>
internal sealed class SeriesReferenceStatement : PartStatement
{
    public override string Keyword => "series-reference";

    public override string Summary => "A reference of three terminals by its type. It delivers and never takes.";

    protected override ImmutableArray<Piece> Head =>
        [NewName("series reference"), new Blank("type", Shape.TypeName, "a type of series reference, such as series-2V5"),
            .. Terminals, "ground", Blank.Node("ground")];

    protected override Part? Make(StatementSyntax statement, Scope scope, string name)
    {
        var (from, to) = Ends(statement, scope);
        string ground = scope.Node(statement.Token("ground"));
        return Regulators.Find(scope, statement.Token("type"), isReference: true) is { ReferenceVolts: { } volts } type
            ? new RegulatorPart(name, from, to, ground, type, volts) : null;
    }

    protected override StatementText? Write(Part part) => part is not RegulatorPart { Type.ReferenceVolts: not null } r ? null
        : new($"series-reference {r.Name} {r.Type.Name} from {r.Input} to {r.Output} ground {r.GroundPin}");
}

/// <summary>Regulators and series references are of one type: they differ in whether their voltage is chosen.</summary>
internal static class Regulators
{
    /// <summary>The type of that name; null after a complaint.</summary>
    public static RegulatorType? Find(Scope scope, Token name, bool isReference)
    {
        string what = isReference ? "series reference" : "regulator";
        if (scope.Draft.FindType<RegulatorType>(name, what) is not { } type)
            return null;
        if (type.ReferenceVolts is not null == isReference)
            return type;
        scope.Diagnostics.Error(name.Span, DiagnosticCode.WrongKindOfThing,
            $"{type.Name} is of the kind {type.Kind}, but a {what} is needed here.");
        return null;
    }
}

/// <summary><c>reference REF1 from GND to VREF shunt-2V5</c></summary>
internal sealed class ReferenceStatement() : TypedPartStatement<ReferenceType>("reference", "reference", "a type, such as shunt-2V5")
{
    public override string Summary => "A shunt reference by its type; from is the anode, to the cathode. It needs a resistor to a supply.";

    protected override Part Of(string name, string from, string to, ReferenceType type, StatementSyntax statement) =>
        new ReferencePart(name, from, to, type);

    protected override StatementText? Write(Part part) => part is ReferencePart r ? Written(r.Name, r.From, r.To, r.Type) : null;
}

/// <summary>The words of the data sheets of regulators and references.</summary>
internal static class SupplyTypeWords
{
    /// <summary>The kinds that a file can describe.</summary>
    public static ImmutableArray<SheetWords> All { get; } =
    [
        new("regulator", OfRegulator, (statement, scope) => Regulator(statement, scope, isReference: false)),
        new("series-reference", [new("voltage", Blank.Of("volts", Unit.Volts)), .. OfRegulator],
            (statement, scope) => Regulator(statement, scope, isReference: true)),
        new("reference",
        [
            new("voltage", Blank.Of("volts", Unit.Volts), new Maybe(Blank.Percentage("tolerance"))),
            new("regulates", "from", Blank.Of("least-amps", Unit.Amps)),
            new("carries", Blank.Of("most-amps", Unit.Amps)),
            new("impedance", Blank.Of("ohms", Unit.Ohm)),
            new("drift", Blank.Of("per-kelvin", Unit.PerKelvin)),
            new("rated", Blank.Of("watts", Unit.Watt)),
            SheetReader.Sheet,
        ], Reference),
    ];

    private static ImmutableArray<Addition> OfRegulator =>
    [
        new("dropout", Blank.Of("drop-volts", Unit.Volts), "at", Blank.Of("rated-amps", Unit.Amps)),
        new("limit", Blank.Of("limit-amps", Unit.Amps)),
        new("draws", Blank.Of("ground-amps", Unit.Amps)),
        new("stands", Blank.Of("input-volts", Unit.Volts)),
        new("reverse", Blank.Of("reverse-volts", Unit.Volts)),
        new("tolerance", new Blank("percent", Shape.Value, "a percentage, such as 2%", Unit.Percent)),
        new("drift", Blank.Of("per-kelvin", Unit.PerKelvin)),
        new("output", Blank.Of("output-ohms", Unit.Ohm)),
        new("rated", Blank.Of("watts", Unit.Watt)),
        SheetReader.Sheet,
    ];

    private static PartCatalogue? Regulator(StatementSyntax statement, Scope scope, bool isReference)
    {
        var read = new SheetReader(statement, scope);
        if (isReference && read.Required("voltage", "its voltage: voltage VOLTS") is null)
            return null;
        if (read.Required("dropout", "its dropout: dropout VOLTS at AMPS") is null
            || read.Required("stands", "the input voltage that it stands: stands VOLTS") is null)
            return null;
        double? drop = read.Positive("drop-volts"), amps = read.Positive("rated-amps"),
            limit = read.Positive("limit-amps"), ground = read.NotNegative("ground-amps"),
            input = read.Positive("input-volts"), reverse = read.Positive("reverse-volts"),
                tolerance = read.Fraction("percent"), drift = read.NotNegative("per-kelvin"),
            output = read.Positive("output-ohms"), watts = read.Positive("watts"), volts = isReference ? read.Positive("volts") : null;
        if (!read.IsComplete)
            return null;
        // Without a limit stated, twice the rated current; a tenth of the dropout is there without a load.
        var type = new RegulatorType(read.Name, 0.1 * drop!.Value, drop.Value, amps!.Value, limit
            ?? 2 * amps.Value, ground ?? 0, input!.Value, read.Source);
        if (type.LimitAmps < type.RatedAmps)
        {
            throw new FrontEnds.Parts.Fits.DataSheetException(
                $"{read.Name} limits at {SiText.Format(type.LimitAmps, "A")}, below the {SiText.Format(type.RatedAmps, "A")} that its "
                + $"dropout is stated at.");
        }
        return scope.Draft.Catalogue.With(type with
        {
            ReferenceVolts = volts,
            MostReverseVolts = reverse ?? type.MostReverseVolts,
            Tolerance = tolerance ?? type.Tolerance,
            TempCo = drift ?? type.TempCo,
            OutputOhms = output ?? type.OutputOhms,
            RatedWatts = watts ?? type.RatedWatts,
        });
    }

    private static PartCatalogue? Reference(StatementSyntax statement, Scope scope)
    {
        var read = new SheetReader(statement, scope);
        if (read.Required("voltage", "its voltage: voltage VOLTS") is null)
            return null;
        double? volts = read.Positive("volts"), tolerance = read.Fraction("tolerance"),
            least = read.Positive("least-amps"), most = read.Positive("most-amps"),
            ohms = read.Positive("ohms"), drift = read.NotNegative("per-kelvin"), watts = read.Positive("watts");
        if (!read.IsComplete)
            return null;
        // What is not stated is that of the class of the catalogue.
        var type = new ReferenceType(read.Name, new Toleranced(volts!.Value, tolerance ?? 0.005, drift ?? 100e-6), least
            ?? 75e-6, most ?? 15e-3, ohms ?? 0.5, read.Source);
        return scope.Draft.Catalogue.With((watts is { } w ? type with { RatedWatts = w } : type).Checked());
    }
}
