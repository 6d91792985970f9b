using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary>A regulator or a series reference: of one type, they differ in whether their voltage is chosen.</summary>
internal abstract class RegulatedStatement(string what, bool isReference) : PartStatement<RegulatorPart>
{
    public override string Keyword { get; } = what.Replace(' ', '-');

    public override ImmutableArray<SheetWords> Sheets { get; } =
    [
        // Without a limit stated, twice the rated current; a tenth of the dropout is there without a load.
        new SheetWords<RegulatorType>(what.Replace(' ', '-'), read => new(read.Name, 0.1 * read.Positive("drop-volts"),
            read.Positive("drop-volts"), read.Positive("rated-amps"), 2 * read.Positive("rated-amps"), 0, read.Positive("input-volts"),
            read.Source),
        [
            .. isReference ? new Detail<RegulatorType>[]
            {
                new("voltage", Blank.Of("volts", Unit.Volts), (r, x) => r with { ReferenceVolts = x })
                { Needed = "its voltage: voltage VOLTS" },
            } : [],
            new(new("dropout", Blank.Of("drop-volts", Unit.Volts), "at", Blank.Of("rated-amps", Unit.Amps)))
            { Needed = "its dropout: dropout VOLTS at AMPS" },
            new("limit", Blank.Of("limit-amps", Unit.Amps), (r, x) => r with { LimitAmps = x }),
            new("draws", Blank.Of("ground-amps", Unit.Amps), (r, x) => r with { GroundAmps = x }, NumberRule.NotNegative),
            new(new("stands", Blank.Of("input-volts", Unit.Volts))) { Needed = "the input voltage that it stands: stands VOLTS" },
            new("reverse", Blank.Of("reverse-volts", Unit.Volts), (r, x) => r with { MostReverseVolts = x }),
            new("tolerance", new Blank("percent", Shape.Value, "a percentage, such as 2%", Unit.Percent),
                (r, x) => r with { Tolerance = x }, NumberRule.Fraction),
            new("drift", Blank.Of("per-kelvin", Unit.PerKelvin), (r, x) => r with { TempCo = x }, NumberRule.NotNegative),
            new("output", Blank.Of("output-ohms", Unit.Ohm), (r, x) => r with { OutputOhms = x }),
            new("rated", Blank.Of("watts", Unit.Watt), (r, x) => r with { RatedWatts = x }),
        ]),
    ];

    protected override RegulatorPart? Of(PartReader read)
    {
        var (from, to, ground) = (read.From, read.To, read.Node("ground"));
        var type = read.Type<RegulatorType>(what);
        if (type is not null && type.ReferenceVolts is not null != isReference)
        {
            read.Scope.Diagnostics.Error(read.Statement.Token("type").Span, DiagnosticCode.WrongKindOfThing,
                $"{type.Name} is of the kind {type.Kind}, but a {what} is needed here.");
            return null;
        }
        return (type?.ReferenceVolts ?? read.Given("volts")) is { } volts && type is not null
            ? new(read.Name, from, to, ground, type, volts) : null;
    }

    protected override string? LineOf(RegulatorPart r) => r.Type.ReferenceVolts is not null != isReference ? null
        : $"{Keyword} {r.Name} {r.Type.Name} from {r.Input} to {r.Output} ground {r.GroundPin}"
            + (isReference ? "" : " " + ValueText.Volts(r.Volts));
}

/// <summary><c>regulator U1 cmos-low-dropout from V12 to VCC ground GND 3.3 V</c></summary>
internal sealed class RegulatorStatement() : RegulatedStatement("regulator", isReference: false)
{
    public override string Summary => "A linear regulator by its class and its output voltage. It delivers and never takes.";

    protected override ImmutableArray<Piece> Head =>
        [NewName("regulator"), new Blank("type", Shape.TypeName, "a class of regulator, such as cmos-low-dropout"),
            .. Terminals, "ground", Blank.Node("ground"), Blank.Of("volts", Unit.Volts)];
}

/// <summary><c>series-reference U2 series-2V5 from V5 to VREF ground GND</c></summary>
internal sealed class SeriesReferenceStatement() : RegulatedStatement("series reference", isReference: true)
{
    public override string Summary => "A reference of three terminals by its type. It delivers and never takes.";

    protected override ImmutableArray<Piece> Head =>
        [NewName("series reference"), new Blank("type", Shape.TypeName, "a type of series reference, such as series-2V5"),
            .. Terminals, "ground", Blank.Node("ground")];
}

/// <summary><c>reference REF1 from GND to VREF shunt-2V5</c></summary>
internal sealed class ReferenceStatement()
    : TypedPartStatement<ReferencePart, ReferenceType>("reference", "reference", "a type, such as shunt-2V5")
{
    public override string Summary => "A shunt reference by its type; from is the anode, to the cathode. It needs a resistor to a supply.";

    public override ImmutableArray<SheetWords> Sheets { get; } =
    [
        // What is not stated is that of the class of the catalogue.
        new SheetWords<ReferenceType>("reference", read => new(read.Name,
            new Toleranced(read.Positive("volts"), read.Fraction("tolerance", 0.005), 100e-6), 75e-6, 15e-3, 0.5, read.Source),
        [
            new(new("voltage", Blank.Of("volts", Unit.Volts), new Maybe(Blank.Percentage("tolerance"))))
            { Needed = "its voltage: voltage VOLTS" },
            new(new("regulates", "from", Blank.Of("least-amps", Unit.Amps)),
                (r, read) => r with { LeastAmps = read.Positive("least-amps") }),
            new("carries", Blank.Of("most-amps", Unit.Amps), (r, x) => r with { MostAmps = x }),
            new("impedance", Blank.Of("ohms", Unit.Ohm), (r, x) => r with { Ohms = x }),
            new("drift", Blank.Of("per-kelvin", Unit.PerKelvin),
                (r, x) => r with { Volts = r.Volts with { TempCo = x } }, NumberRule.NotNegative),
            new("rated", Blank.Of("watts", Unit.Watt), (r, x) => r with { RatedWatts = x }),
        ]),
    ];

    protected override ReferencePart Of(string name, string from, string to, ReferenceType type) => new(name, from, to, type);
}
