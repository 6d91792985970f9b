using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.Language.Binding.Scopes;
using FrontEndSim.Language.Forms;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary><c>suppressor S1 from GND to IN 24V two-way</c></summary>
internal sealed class SuppressorStatement()
    : TypedPartStatement<SuppressorType>("suppressor", "suppressor", "a stand-off voltage, such as 24V")
{
    public override string Summary => "A suppressor by its stand-off voltage; from is the anode, to the cathode of a one-way one.";

    public override ImmutableArray<Addition> Additions { get; } = [new("two-way")];

    protected override Part Of(string name, string from, string to, SuppressorType type, StatementSyntax statement) =>
        new SuppressorPart(name, from, to, type, statement.Has("two-way"));

    protected override StatementText? Write(Part part) =>
        part is SuppressorPart s ? Written(s.Name, s.From, s.To, s.Type, s.IsTwoWay ? " two-way" : "") : null;
}

/// <summary><c>varistor V1 from A to B disk-7mm-22V</c></summary>
internal sealed class VaristorStatement() : TypedPartStatement<VaristorType>("varistor", "varistor", "a type, such as disk-7mm-22V")
{
    public override string Summary => "A metal-oxide varistor by its disk and its voltage at a milliampere.";

    protected override Part Of(string name, string from, string to, VaristorType type, StatementSyntax statement) =>
        new VaristorPart(name, from, to, type);

    protected override StatementText? Write(Part part) => part is VaristorPart v ? Written(v.Name, v.From, v.To, v.Type) : null;
}

/// <summary><c>gas-arrester G1 from A to B 90V</c></summary>
internal sealed class GasArresterStatement()
    : TypedPartStatement<GasArresterType>("gas-arrester", "gas arrester", "a spark-over voltage, such as 90V")
{
    public override string Summary => "A gas arrester with two electrodes by its spark-over voltage.";

    protected override Part Of(string name, string from, string to, GasArresterType type, StatementSyntax statement) =>
        new GasArresterPart(name, from, to, type);

    protected override StatementText? Write(Part part) => part is GasArresterPart g ? Written(g.Name, g.From, g.To, g.Type) : null;
}

/// <summary><c>polymer-fuse F1 from A to B 200 mA resistance 1 ohm stands 30 V</c></summary>
internal sealed class PolymerFuseStatement : PartStatement
{
    public override string Keyword => "polymer-fuse";

    public override string Summary => "A polymer fuse, before it trips, by the current that it holds for ever at 23 °C.";

    protected override ImmutableArray<Piece> Head => [NewName("polymer fuse"), .. Terminals, Blank.Of("amps", Unit.Amps)];

    public override ImmutableArray<Addition> Additions { get; } =
        [new("resistance", Blank.Of("ohms", Unit.Ohm)), new("stands", Blank.Of("volts", Unit.Volts)),
            new("breaks", Blank.Of("fault-amps", Unit.Amps))];

    protected override Part? Make(StatementSyntax statement, Scope scope, string name)
    {
        var (from, to) = Ends(statement, scope);
        double? ohms = scope.Positive(statement["ohms"]), volts = scope.Positive(statement["volts"]),
            fault = scope.Positive(statement["fault-amps"]);
        if (scope.Positive(statement["amps"]) is not { } amps)
            return null;
        var part = new PolymerFusePart(name, from, to, amps);
        return part with { Ohms = ohms ?? part.Ohms, RatedVolts = volts ?? part.RatedVolts, FaultAmps = fault ?? part.FaultAmps };
    }

    protected override StatementText? Write(Part part) => part is not PolymerFusePart f ? null
        : new($"polymer-fuse {f.Name} from {f.From} to {f.To} {ValueText.Of(f.HoldAmps, "A")} resistance {ValueText.Of(f.Ohms, "ohm")} "
            + $"stands {ValueText.Volts(f.RatedVolts)} breaks {ValueText.Of(f.FaultAmps, "A")}");
}

/// <summary><c>bead B1 from A to B 600 ohm 25% resistance 0.3 ohm carries 0.5 A</c></summary>
internal sealed class FerriteBeadStatement : PartStatement
{
    public override string Keyword => "bead";

    public override string Summary => "A ferrite bead by its impedance at 100 MHz.";

    protected override ImmutableArray<Piece> Head => [NewName("bead"), .. Terminals, Blank.Of("ohms", Unit.Ohm), Tolerance];

    public override ImmutableArray<Addition> Additions { get; } =
        [new("resistance", Blank.Of("wire-ohms", Unit.Ohm)), new("carries", Blank.Of("amps", Unit.Amps)),
            new("resistive", "above", Blank.Of("hertz", Unit.Hertz))];

    protected override Part? Make(StatementSyntax statement, Scope scope, string name)
    {
        var (from, to) = Ends(statement, scope);
        double? wire = scope.Positive(statement["wire-ohms"]), amps = scope.Positive(statement["amps"]),
            hertz = scope.Positive(statement["hertz"]);
        if (scope.Toleranced(statement["ohms"], statement["tolerance"]) is not { } ohms)
            return null;
        var part = new FerriteBeadPart(name, from, to, ohms);
        return part with
        {
            WireOhms = wire ?? part.WireOhms,
            RatedAmps = amps ?? part.RatedAmps,
            ResistiveHertz = hertz
            ?? part.ResistiveHertz
        };
    }

    protected override StatementText? Write(Part part) => part is not FerriteBeadPart b ? null
        : new($"bead {b.Name} from {b.From} to {b.To} {ValueText.Of(b.Impedance, "ohm")} resistance {ValueText.Of(b.WireOhms, "ohm")} "
            + $"carries {ValueText.Of(b.RatedAmps, "A")} "
            + $"resistive above {ValueText.Of(b.ResistiveHertz, "Hz")}");
}

/// <summary>The words of the data sheets of suppressors and varistors.</summary>
internal static class SurgeTypeWords
{
    /// <summary>The kinds that a file can describe.</summary>
    public static ImmutableArray<SheetWords> All { get; } =
    [
        new("suppressor",
        [
            new("stand-off", Blank.Of("stand-off-volts", Unit.Volts)),
            new("breakdown", new Blank("breakdown-volts", Shape.Range, UnitWords.Describe(Unit.Volts), Unit.Volts),
                "at", Blank.Of("test-amps", Unit.Amps)),
            new("clamps", Blank.Of("clamp-volts", Unit.Volts), "at", Blank.Of("clamp-amps", Unit.Amps)),
            new("leakage", Blank.Of("leakage-amps", Unit.Amps)),
            new("capacitance", Blank.Of("farads", Unit.Farad)),
            new("pulse", Blank.Of("pulse-watts", Unit.Watt)),
            new("rated", Blank.Of("watts", Unit.Watt)),
            SheetReader.Sheet,
        ], Suppressor),
        new("varistor",
        [
            new("varistor", Blank.Of("volts", Unit.Volts), new Maybe(Blank.Percentage("tolerance"))),
            new("clamps", Blank.Of("clamp-volts", Unit.Volts), "at", Blank.Of("clamp-amps", Unit.Amps)),
            new("stands", Blank.Of("lasting-volts", Unit.Volts)),
            new("surge", Blank.Of("surge-amps", Unit.Amps)),
            new("energy", Blank.Of("joules", Unit.Joule)),
            new("capacitance", Blank.Of("farads", Unit.Farad)),
            new("rated", Blank.Of("watts", Unit.Watt)),
            SheetReader.Sheet,
        ], Varistor),
        new("gas-arrester",
        [
            new("strikes", Blank.Of("spark-volts", Unit.Volts), new Maybe(Blank.Percentage("tolerance"))),
            new("impulse", Blank.Of("slow-volts", Unit.Volts), "slow", "and", Blank.Of("fast-volts", Unit.Volts), "fast"),
            new("glows", Blank.Of("glow-volts", Unit.Volts)),
            new("arcs", Blank.Of("arc-volts", Unit.Volts)),
            new("surge", Blank.Of("surge-amps", Unit.Amps)),
            new("capacitance", Blank.Of("farads", Unit.Farad)),
            SheetReader.Sheet,
        ], GasArrester),
    ];

    private static PartCatalogue? Suppressor(StatementSyntax statement, Scope scope)
    {
        var read = new SheetReader(statement, scope);
        if (read.Required("stand-off", "its stand-off voltage: stand-off VOLTS") is null
            || read.Required("breakdown", "its breakdown voltage: breakdown LEAST .. MOST at AMPS") is null
            || read.Required("clamps", "its clamp voltage: clamps VOLTS at AMPS") is null)
            return null;
        double? standOff = read.Positive("stand-off-volts"), test = read.Positive("test-amps"),
            clamp = read.Positive("clamp-volts"), peak = read.Positive("clamp-amps"),
            leakage = read.Positive("leakage-amps"), farads = read.Positive("farads"),
                pulse = read.Positive("pulse-watts"), watts = read.Positive("watts");
        if (read.Span("breakdown-volts") is not { } breakdown || !read.IsComplete)
            return null;
        // Where no leakage is stated, that of the series above 10 V.
        var type = new SuppressorType(read.Name, standOff!.Value, breakdown, test!.Value, clamp!.Value, peak!.Value, leakage
            ?? 5e-6, read.Source)
        { Farads = farads ?? 0 };
        return scope.Draft.Catalogue.With((type with
        {
            PulseWatts = pulse ?? clamp.Value * peak.Value,
            RatedWatts = watts
            ?? type.RatedWatts
        }).Checked());
    }

    private static PartCatalogue? GasArrester(StatementSyntax statement, Scope scope)
    {
        var read = new SheetReader(statement, scope);
        if (read.Required("strikes", "its spark-over voltage: strikes VOLTS") is null
            || read.Required("impulse", "what it lets through: impulse VOLTS slow and VOLTS fast") is null)
            return null;
        double? spark = read.Positive("spark-volts"), tolerance = read.Fraction("tolerance"),
            slow = read.Positive("slow-volts"), fast = read.Positive("fast-volts"),
            glow = read.Positive("glow-volts"), arc = read.Positive("arc-volts"), surge = read.Positive("surge-amps"),
                farads = read.Positive("farads");
        if (!read.IsComplete)
            return null;
        // What is not stated is that of the 90 V class.
        var type = new GasArresterType(read.Name, new Toleranced(spark!.Value, tolerance ?? UsualSpread.GasArrester.Amount),
            slow!.Value, fast!.Value, glow
            ?? 60, arc ?? 10, surge ?? 5000, read.Source);
        return scope.Draft.Catalogue.With((farads is { } c ? type with { Farads = c } : type).Checked());
    }

    private static PartCatalogue? Varistor(StatementSyntax statement, Scope scope)
    {
        var read = new SheetReader(statement, scope);
        if (read.Required("varistor", "its voltage at a milliampere: varistor VOLTS") is null
            || read.Required("clamps", "its clamp voltage: clamps VOLTS at AMPS") is null
            || read.Required("stands", "the voltage that may stand at it: stands VOLTS") is null
                || read.Required("surge", "its surge current: surge AMPS") is null
            || read.Required("energy", "the energy that it takes: energy JOULES") is null)
            return null;
        double? volts = read.Positive("volts"), tolerance = read.Fraction("tolerance"),
            clamp = read.Positive("clamp-volts"), amps = read.Positive("clamp-amps"),
            lasting = read.Positive("lasting-volts"), surge = read.Positive("surge-amps"),
                joules = read.Positive("joules"), farads = read.Positive("farads"), watts = read.Positive("watts");
        if (!read.IsComplete)
            return null;
        var type = new VaristorType(read.Name, new Toleranced(volts!.Value, tolerance ?? UsualSpread.Varistor.Amount),
            clamp!.Value, amps!.Value, lasting!.Value, surge!.Value, joules!.Value, read.Source)
        { Farads = farads ?? 0 };
        return scope.Draft.Catalogue.With((type with { RatedWatts = watts ?? type.RatedWatts }).Checked());
    }
}
