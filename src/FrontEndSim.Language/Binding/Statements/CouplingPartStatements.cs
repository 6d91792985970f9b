using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary><c>optocoupler U1 4N25 anode A cathode K collector C emitter GND</c></summary>
internal sealed class OptocouplerStatement : PartStatement<OptocouplerPart>
{
    public override string Keyword => "optocoupler";

    public override string Summary => "An optocoupler with a transistor, by its type number.";

    public override ImmutableArray<SheetWords> Sheets { get; } =
    [
        // Where no largest ratio is stated, five times the least (usual of ungraded types, from memory).
        new SheetWords<OptocouplerType>("optocoupler", read => new(read.Name, read.Positive("least-ratio"),
            read.Positive("most-ratio", 5 * read.Positive("least-ratio")), read.Positive("ratio-amps"), read.Source),
        [
            new(new("ratio", new Blank("least-ratio", Shape.Value, "a percentage, such as 50%", Unit.Percent),
                new Maybe("to", new Blank("most-ratio", Shape.Value, "a percentage, such as 200%", Unit.Percent)),
                "at", Blank.Of("ratio-amps", Unit.Amps)))
            { Needed = "its current transfer ratio: ratio PERCENT at AMPS" },
            new("forward", Blank.Of("forward-volts", Unit.Volts), (u, x) => u with { ForwardVolts = x }),
            new(new("carries", Blank.Of("diode-amps", Unit.Amps), new Maybe("and", Blank.Of("collector-amps", Unit.Amps))),
                (u, read) => u with
                {
                    DiodeAmps = read.Positive("diode-amps"),
                    CollectorAmps = read.Positive("collector-amps", u.CollectorAmps),
                }),
            new("reverse", Blank.Of("reverse-volts", Unit.Volts), (u, x) => u with { DiodeReverseVolts = x }),
            new("stands", Blank.Of("collector-volts", Unit.Volts), (u, x) => u with { CollectorVolts = x }),
            new("rated", Blank.Of("watts", Unit.Watt), (u, x) => u with { RatedWatts = x }),
        ]),
    ];

    protected override ImmutableArray<Piece> Head =>
    [
        NewName("optocoupler"), new Blank("type", Shape.TypeName, "a type, such as 4N25"), "anode",
            Blank.Node("anode"), "cathode", Blank.Node("cathode"),
        "collector", Blank.Node("collector"), "emitter", Blank.Node("emitter"),
    ];

    protected override OptocouplerPart? Of(PartReader read) => read.Type<OptocouplerType>("optocoupler") is { } type
        ? new(read.Name, read.Node("anode"), read.Node("cathode"), read.Node("collector"), read.Node("emitter"), type) : null;

    protected override string LineOf(OptocouplerPart u) =>
        $"optocoupler {u.Name} {u.Type.Name} anode {u.Anode} cathode {u.Cathode} collector {u.Collector} emitter {u.Emitter}";
}

/// <summary><c>transformer T1 first A to B second C to D 10 mH and 2.5 mH coupling 99%</c>, and common-mode-choke likewise.</summary>
internal sealed class WindingsStatement(bool isChoke) : PartStatement<WindingsPart>(
    new(new("coupling", new Blank("percent", Shape.Value, "a percentage, such as 99%", Unit.Percent)), (w, read) => w with
    {
        Coupling = read.Within("percent", k => k is > 0 and < 1, "above 0 % and below 100 %", w.Coupling),
    })
    {
        Written = w => "coupling " + ValueText.Percent(w.Coupling),
    },
    new(new("resistance", Blank.Of("ohms", Unit.Ohm), new Maybe("and", Blank.Of("second-ohms", Unit.Ohm))), (w, read) => w with
    {
        FirstOhms = read.Positive("ohms"),
        SecondOhms = read.Positive("second-ohms", read.Positive("ohms")),
    })
    {
        Written = w => $"resistance {ValueText.Of(w.FirstOhms, "ohm")} and {ValueText.Of(w.SecondOhms, "ohm")}",
    },
    new("capacitance", Blank.Of("farads", Unit.Farad), (w, x) => w with { Farads = x })
    {
        Written = w => w.Farads > 0 ? "capacitance " + ValueText.Of(w.Farads, "F") : null,
    },
    new("carries", Blank.Of("amps", Unit.Amps), (w, x) => w with { RatedAmps = x })
    {
        Written = w => double.IsFinite(w.RatedAmps) ? "carries " + ValueText.Of(w.RatedAmps, "A") : null,
    },
    new("stands", Blank.Of("volts", Unit.Volts), (w, x) => w with { InsulationVolts = x })
    {
        Written = w => "stands " + ValueText.Volts(w.InsulationVolts),
    },
    new(new("saturates", "at", Blank.Of("flux", Unit.Weber)), (w, read) => w with
    {
        SaturationVoltSeconds = read.Positive("flux"),
    })
    {
        Written = w => double.IsFinite(w.SaturationVoltSeconds) ? "saturates at " + ValueText.Of(w.SaturationVoltSeconds, "Vs") : null,
    })
{
    public override string Keyword => isChoke ? "common-mode-choke" : "transformer";

    public override string Summary => isChoke
        ? "Two windings alike on one core, for the current of a line and its return; a winding goes from a near to a far node."
        : "Two windings on one core, each from its start, where its dot is, to its end, with their inductances.";

    protected override ImmutableArray<Piece> Head =>
    [
        NewName(isChoke ? "choke" : "transformer"), "first", Blank.Node("first-from"), "to",
            Blank.Node("first-to"), "second", Blank.Node("second-from"), "to", Blank.Node("second-to"),
        Blank.Of("henries", Unit.Henry), .. isChoke ? Array.Empty<Piece>() : [new Maybe("and", Blank.Of("second-henries", Unit.Henry))],
    ];

    protected override WindingsPart? Of(PartReader read)
    {
        var (a, b, c, d) = (read.Node("first-from"), read.Node("first-to"), read.Node("second-from"), read.Node("second-to"));
        double? second = read.Given("second-henries");
        return read.Given("henries") is { } first ? new(read.Name, a, b, c, d, first, second ?? first, 0.99) { IsChoke = isChoke } : null;
    }

    protected override string? LineOf(WindingsPart w) => w.IsChoke != isChoke ? null
        : $"{Keyword} {w.Name} first {w.FirstFrom} to {w.FirstTo} second {w.SecondFrom} to {w.SecondTo} {ValueText.Of(w.FirstHenries, "H")}"
            + (isChoke ? "" : " and " + ValueText.Of(w.SecondHenries, "H"));
}

/// <summary><c>cable W1 from A to B return GND 3 metres 120 ohm</c></summary>
internal sealed class CableStatement() : PartStatement<CablePart>(
    new(new("delay", Blank.Of("delay-time", Unit.Seconds), "a", "metre"),
        (c, read) => c with { SecondsPerMetre = read.Positive("delay-time") })
    {
        Written = c => $"delay {ValueText.Seconds(c.SecondsPerMetre)} a metre",
    },
    new(new("resistance", Blank.Of("wire-ohms", Unit.Ohm), new Maybe(Blank.Percentage("wire-tolerance")), "a", "metre"), (c, read) => c with
    {
        OhmsPerMetre = read.Positive("wire-ohms"),
        Tolerance = read.Has("wire-tolerance") ? read.Fraction("wire-tolerance", 0) : null,
    })
    {
        Written = c => $"resistance {ValueText.Of(c.OhmsPerMetre, "ohm")}"
            + (c.Tolerance is { } off ? " " + ValueText.Percent(off) : "") + " a metre",
    },
    new("stands", Blank.Of("volts", Unit.Volts), (c, x) => c with { RatedVolts = x })
    {
        Written = c => "stands " + ValueText.Volts(c.RatedVolts),
    })
{
    public override string Keyword => "cable";

    public override string Summary => "A cable by its length and its wave impedance, with the return that both ends share.";

    protected override ImmutableArray<Piece> Head =>
    [
        NewName("cable"), .. Terminals, "return", Blank.Node("return"),
            new Blank("length", Shape.Value, "a length, such as 3 metres", Unit.None), "metres", Blank.Of("ohms", Unit.Ohm),
    ];

    protected override CablePart? Of(PartReader read)
    {
        var (from, to, back, metres) = (read.From, read.To, read.Node("return"), read.Given("length"));
        return read.Given("ohms") is { } ohms && metres is { } length ? new(read.Name, from, to, back, length, ohms) : null;
    }

    protected override string LineOf(CablePart c) =>
        $"cable {c.Name} from {c.From} to {c.To} return {c.Return} {ValueText.Number(c.Metres)} metres {ValueText.Of(c.Ohms, "ohm")}";
}
