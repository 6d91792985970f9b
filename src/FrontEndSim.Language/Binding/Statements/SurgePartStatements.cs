using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary><c>suppressor S1 from GND to IN 24V two-way</c></summary>
internal sealed class SuppressorStatement() : TypedPartStatement<SuppressorPart, SuppressorType>(
    "suppressor", "suppressor", "a stand-off voltage, such as 24V",
    new Detail<SuppressorPart>(new("two-way"), (s, _) => s with { IsTwoWay = true }))
{
    public override string Summary => "A suppressor by its stand-off voltage; from is the anode, to the cathode of a one-way one.";

    public override ImmutableArray<SheetWords> Sheets { get; } =
    [
        // Where no leakage is stated, that of the series above 10 V.
        new SheetWords<SuppressorType>("suppressor", read => read.Span("breakdown-volts") is not { } breakdown ? null
            : new(read.Name, read.Positive("stand-off-volts"), breakdown, read.Positive("test-amps"), read.Positive("clamp-volts"),
                read.Positive("clamp-amps"), 5e-6, read.Source)
            {
                PulseWatts = read.Positive("clamp-volts") * read.Positive("clamp-amps"),
            },
        [
            new(new("stand-off", Blank.Of("stand-off-volts", Unit.Volts))) { Needed = "its stand-off voltage: stand-off VOLTS" },
            new(new("breakdown", new Blank("breakdown-volts", Shape.Range, UnitWords.Describe(Unit.Volts), Unit.Volts),
                "at", Blank.Of("test-amps", Unit.Amps)))
            { Needed = "its breakdown voltage: breakdown LEAST .. MOST at AMPS" },
            Clamps<SuppressorType>(),
            new("leakage", Blank.Of("leakage-amps", Unit.Amps), (s, x) => s with { LeakageAmps = x }),
            new("capacitance", Blank.Of("farads", Unit.Farad), (s, x) => s with { Farads = x }),
            new("pulse", Blank.Of("pulse-watts", Unit.Watt), (s, x) => s with { PulseWatts = x }),
            new("rated", Blank.Of("watts", Unit.Watt), (s, x) => s with { RatedWatts = x }),
        ]),
    ];

    /// <summary>What a part against surges clamps at.</summary>
    public static Detail<T> Clamps<T>() where T : class =>
        new(new("clamps", Blank.Of("clamp-volts", Unit.Volts), "at", Blank.Of("clamp-amps", Unit.Amps)))
        {
            Needed = "its clamp voltage: clamps VOLTS at AMPS",
        };

    protected override SuppressorPart Of(string name, string from, string to, SuppressorType type) =>
        new(name, from, to, type, IsTwoWay: false);
}

/// <summary><c>varistor V1 from A to B disk-7mm-22V</c></summary>
internal sealed class VaristorStatement()
    : TypedPartStatement<VaristorPart, VaristorType>("varistor", "varistor", "a type, such as disk-7mm-22V")
{
    public override string Summary => "A metal-oxide varistor by its disk and its voltage at a milliampere.";

    public override ImmutableArray<SheetWords> Sheets { get; } =
    [
        new SheetWords<VaristorType>("varistor", read => new(read.Name,
            new Toleranced(read.Positive("volts"), read.Fraction("tolerance", UsualSpread.Varistor.Amount)), read.Positive("clamp-volts"),
            read.Positive("clamp-amps"), read.Positive("lasting-volts"), read.Positive("surge-amps"), read.Positive("joules"), read.Source),
        [
            new(new("varistor", Blank.Of("volts", Unit.Volts), new Maybe(Blank.Percentage("tolerance"))))
            { Needed = "its voltage at a milliampere: varistor VOLTS" },
            SuppressorStatement.Clamps<VaristorType>(),
            new(new("stands", Blank.Of("lasting-volts", Unit.Volts))) { Needed = "the voltage that may stand at it: stands VOLTS" },
            new(new("surge", Blank.Of("surge-amps", Unit.Amps))) { Needed = "its surge current: surge AMPS" },
            new(new("energy", Blank.Of("joules", Unit.Joule))) { Needed = "the energy that it takes: energy JOULES" },
            new("capacitance", Blank.Of("farads", Unit.Farad), (v, x) => v with { Farads = x }),
            new("rated", Blank.Of("watts", Unit.Watt), (v, x) => v with { RatedWatts = x }),
        ]),
    ];

    protected override VaristorPart Of(string name, string from, string to, VaristorType type) => new(name, from, to, type);
}

/// <summary><c>gas-arrester G1 from A to B 90V</c></summary>
internal sealed class GasArresterStatement()
    : TypedPartStatement<GasArresterPart, GasArresterType>("gas-arrester", "gas arrester", "a spark-over voltage, such as 90V")
{
    public override string Summary => "A gas arrester with two electrodes by its spark-over voltage.";

    public override ImmutableArray<SheetWords> Sheets { get; } =
    [
        // What is not stated is that of the 90 V class.
        new SheetWords<GasArresterType>("gas-arrester", read => new(read.Name,
            new Toleranced(read.Positive("spark-volts"), read.Fraction("tolerance", UsualSpread.GasArrester.Amount)),
            read.Positive("slow-volts"), read.Positive("fast-volts"), 60, 10, 5000, read.Source),
        [
            new(new("strikes", Blank.Of("spark-volts", Unit.Volts), new Maybe(Blank.Percentage("tolerance"))))
            { Needed = "its spark-over voltage: strikes VOLTS" },
            new(new("impulse", Blank.Of("slow-volts", Unit.Volts), "slow", "and", Blank.Of("fast-volts", Unit.Volts), "fast"))
            { Needed = "what it lets through: impulse VOLTS slow and VOLTS fast" },
            new("glows", Blank.Of("glow-volts", Unit.Volts), (g, x) => g with { GlowVolts = x }),
            new("arcs", Blank.Of("arc-volts", Unit.Volts), (g, x) => g with { ArcVolts = x }),
            new("surge", Blank.Of("surge-amps", Unit.Amps), (g, x) => g with { SurgeAmps = x }),
            new("capacitance", Blank.Of("farads", Unit.Farad), (g, x) => g with { Farads = x }),
        ]),
    ];

    protected override GasArresterPart Of(string name, string from, string to, GasArresterType type) => new(name, from, to, type);
}

/// <summary><c>polymer-fuse F1 from A to B 200 mA resistance 1 ohm stands 30 V</c></summary>
internal sealed class PolymerFuseStatement() : DescribedPartStatement<PolymerFusePart>("polymer-fuse",
    new("holds", Blank.Of("amps", Unit.Amps)),
    new("resistance", Blank.Of("ohms", Unit.Ohm), (f, x) => f with { Ohms = x })
    {
        Written = f => "resistance " + ValueText.Of(f.Ohms, "ohm"),
    },
    new("stands", Blank.Of("volts", Unit.Volts), (f, x) => f with { RatedVolts = x })
    {
        Written = f => "stands " + ValueText.Volts(f.RatedVolts),
    },
    new("breaks", Blank.Of("fault-amps", Unit.Amps), (f, x) => f with { FaultAmps = x })
    {
        Written = f => "breaks " + ValueText.Of(f.FaultAmps, "A"),
    })
{
    public override string Summary => "A polymer fuse, before it trips, by the current that it holds for ever at 23 °C.";

    protected override PolymerFusePart? Of(string name, string from, string to, FigureReader read) =>
        read.Given("amps") is { } amps ? new(name, from, to, amps) : null;

    protected override PolymerFusePart Of(PolymerFusePart type, string name, string from, string to) =>
        type with { Name = name, From = from, To = to };

    protected override string LineOf(PolymerFusePart f) => $"polymer-fuse {f.Name} from {f.From} to {f.To} {ValueText.Of(f.HoldAmps, "A")}";
}

/// <summary><c>bead B1 from A to B 600 ohm 25% resistance 0.3 ohm carries 0.5 A</c></summary>
internal sealed class FerriteBeadStatement() : DescribedPartStatement<FerriteBeadPart>("bead",
    new("impedance", Blank.Of("ohms", Unit.Ohm), new Maybe(Blank.Percentage("tolerance"))),
    new("resistance", Blank.Of("wire-ohms", Unit.Ohm), (b, x) => b with { WireOhms = x })
    {
        Written = b => "resistance " + ValueText.Of(b.WireOhms, "ohm"),
    },
    new("carries", Blank.Of("amps", Unit.Amps), (b, x) => b with { RatedAmps = x })
    {
        Written = b => "carries " + ValueText.Of(b.RatedAmps, "A"),
    },
    new(new("resistive", "above", Blank.Of("hertz", Unit.Hertz)), (b, read) => b with { ResistiveHertz = read.Positive("hertz") })
    {
        Written = b => "resistive above " + ValueText.Of(b.ResistiveHertz, "Hz"),
    })
{
    public override string Summary => "A ferrite bead by its impedance at 100 MHz.";

    protected override FerriteBeadPart? Of(string name, string from, string to, FigureReader read) =>
        read.Given("ohms") is { } ohms ? new(name, from, to, new(ohms, read.Fraction("tolerance", 0))) : null;

    protected override FerriteBeadPart Of(FerriteBeadPart type, string name, string from, string to) =>
        type with { Name = name, From = from, To = to };

    protected override string LineOf(FerriteBeadPart b) => $"bead {b.Name} from {b.From} to {b.To} {ValueText.Of(b.Impedance, "ohm")}";
}
