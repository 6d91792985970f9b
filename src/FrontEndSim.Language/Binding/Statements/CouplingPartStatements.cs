using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.Language.Binding.Scopes;
using FrontEndSim.Language.Forms;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary><c>optocoupler U1 4N25 anode A cathode K collector C emitter GND</c></summary>
internal sealed class OptocouplerStatement : PartStatement
{
    public override string Keyword => "optocoupler";

    public override string Summary => "An optocoupler with a transistor, by its type number.";

    protected override ImmutableArray<Piece> Head =>
    [
        NewName("optocoupler"), new Blank("type", Shape.TypeName, "a type, such as 4N25"), "anode",
            Blank.Node("anode"), "cathode", Blank.Node("cathode"),
        "collector", Blank.Node("collector"), "emitter", Blank.Node("emitter"),
    ];

    protected override Part? Make(StatementSyntax statement, Scope scope, string name)
    {
        string Node(string blank) => scope.Node(statement.Token(blank));
        return scope.Draft.FindType<OptocouplerType>(statement.Token("type"), "optocoupler") is { } type
            ? new OptocouplerPart(name, Node("anode"), Node("cathode"), Node("collector"), Node("emitter"), type) : null;
    }

    protected override StatementText? Write(Part part) => part is not OptocouplerPart u ? null
        : new($"optocoupler {u.Name} {u.Type.Name} anode {u.Anode} cathode {u.Cathode} collector {u.Collector} emitter {u.Emitter}");
}

/// <summary><c>transformer T1 first A to B second C to D 10 mH and 2.5 mH coupling 99%</c>, and common-mode-choke likewise.</summary>
internal sealed class WindingsStatement(bool isChoke) : PartStatement
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

    public override ImmutableArray<Addition> Additions { get; } =
    [
        new("coupling", new Blank("percent", Shape.Value, "a percentage, such as 99%", Unit.Percent)),
        new("resistance", Blank.Of("ohms", Unit.Ohm), new Maybe("and", Blank.Of("second-ohms", Unit.Ohm))),
        new("capacitance", Blank.Of("farads", Unit.Farad)),
        new("carries", Blank.Of("amps", Unit.Amps)),
        new("saturates", "at", Blank.Of("flux", Unit.Weber)),
    ];

    protected override Part? Make(StatementSyntax statement, Scope scope, string name)
    {
        string Node(string blank) => scope.Node(statement.Token(blank));
        var (a, b, c, d) = (Node("first-from"), Node("first-to"), Node("second-from"), Node("second-to"));
        double? second = scope.Positive(statement["second-henries"]), ohms = scope.Positive(statement["ohms"]),
            secondOhms = scope.Positive(statement["second-ohms"]),
            farads = scope.Positive(statement["farads"]), amps = scope.Positive(statement["amps"]),
            flux = scope.Positive(statement["flux"]);
        double? coupling = statement.Has("coupling")
            ? scope.Within(statement["percent"], k => k is > 0 and < 1, "above 0 % and below 100 %") : 0.99;
        if (scope.Positive(statement["henries"]) is not { } first || coupling is null)
            return null;
        var part = new WindingsPart(name, a, b, c, d, first, second ?? first, coupling.Value)
        {
            IsChoke = isChoke,
            Farads = farads ?? 0,
            RatedAmps = amps ?? double.PositiveInfinity,
            SaturationVoltSeconds = flux ?? double.PositiveInfinity,
        };
        return part with { FirstOhms = ohms ?? part.FirstOhms, SecondOhms = secondOhms ?? ohms ?? part.SecondOhms };
    }

    protected override StatementText? Write(Part part) => part is not WindingsPart w || w.IsChoke != isChoke ? null : new(string.Join(' ',
    [
        $"{Keyword} {w.Name} first {w.FirstFrom} to {w.FirstTo} second {w.SecondFrom} to {w.SecondTo} {ValueText.Of(w.FirstHenries, "H")}",
        .. StatementText.If(!isChoke, () => "and " + ValueText.Of(w.SecondHenries, "H")),
        $"coupling {ValueText.Percent(w.Coupling)} resistance {ValueText.Of(w.FirstOhms, "ohm")} and {ValueText.Of(w.SecondOhms, "ohm")}",
        .. StatementText.If(w.Farads > 0, () => "capacitance " + ValueText.Of(w.Farads, "F")),
        .. StatementText.If(double.IsFinite(w.RatedAmps), () => "carries " + ValueText.Of(w.RatedAmps, "A")),
        .. StatementText.If(double.IsFinite(w.SaturationVoltSeconds), () => "saturates at " + ValueText.Of(w.SaturationVoltSeconds, "Vs")),
    ]));
}

/// <summary><c>cable W1 from A to B return GND 3 metres 120 ohm</c></summary>
internal sealed class CableStatement : PartStatement
{
    public override string Keyword => "cable";

    public override string Summary => "A cable by its length and its wave impedance, with the return that both ends share.";

    protected override ImmutableArray<Piece> Head =>
    [
        NewName("cable"), .. Terminals, "return", Blank.Node("return"),
            new Blank("length", Shape.Value, "a length, such as 3 metres", Unit.None), "metres", Blank.Of("ohms", Unit.Ohm),
    ];

    public override ImmutableArray<Addition> Additions { get; } =
    [
        new("delay", Blank.Of("delay-time", Unit.Seconds), "a", "metre"),
            new("resistance", Blank.Of("wire-ohms", Unit.Ohm), "a", "metre"), new("stands", Blank.Of("volts", Unit.Volts)),
    ];

    protected override Part? Make(StatementSyntax statement, Scope scope, string name)
    {
        var (from, to) = Ends(statement, scope);
        string back = scope.Node(statement.Token("return"));
        double? metres = scope.Positive(statement["length"]), delay = scope.Positive(statement["delay-time"]),
            wire = scope.Positive(statement["wire-ohms"]), volts = scope.Positive(statement["volts"]);
        if (scope.Positive(statement["ohms"]) is not { } ohms || metres is null)
            return null;
        var part = new CablePart(name, from, to, back, metres.Value, ohms);
        return part with
        {
            SecondsPerMetre = delay ?? part.SecondsPerMetre,
            OhmsPerMetre = wire
            ?? part.OhmsPerMetre,
            RatedVolts = volts ?? part.RatedVolts
        };
    }

    protected override StatementText? Write(Part part) => part is not CablePart c ? null
        : new($"cable {c.Name} from {c.From} to {c.To} return {c.Return} {ValueText.Number(c.Metres)} metres {ValueText.Of(c.Ohms, "ohm")} "
            + $"delay {ValueText.Seconds(c.SecondsPerMetre)} a metre resistance {ValueText.Of(c.OhmsPerMetre, "ohm")} a metre stands "
                + $"{ValueText.Volts(c.RatedVolts)}");
}

/// <summary>The words of an optocoupler's data sheet.</summary>
internal static class OptocouplerTypeWords
{
    /// <summary>How a type of optocoupler is described.</summary>
    public static SheetWords Words { get; } = new("optocoupler",
    [
        new("ratio", new Blank("least-ratio", Shape.Value, "a percentage, such as 50%", Unit.Percent),
            new Maybe("to", new Blank("most-ratio", Shape.Value, "a percentage, such as 200%", Unit.Percent)),
            "at", Blank.Of("ratio-amps", Unit.Amps)),
        new("forward", Blank.Of("forward-volts", Unit.Volts)),
        new("carries", Blank.Of("diode-amps", Unit.Amps), new Maybe("and", Blank.Of("collector-amps", Unit.Amps))),
        new("reverse", Blank.Of("reverse-volts", Unit.Volts)),
        new("stands", Blank.Of("collector-volts", Unit.Volts)),
        new("rated", Blank.Of("watts", Unit.Watt)),
        SheetReader.Sheet,
    ], Into);

    private static PartCatalogue? Into(StatementSyntax statement, Scope scope)
    {
        var read = new SheetReader(statement, scope);
        if (read.Required("ratio", "its current transfer ratio: ratio PERCENT at AMPS") is null)
            return null;
        double? least = read.Positive("least-ratio"), most = read.Positive("most-ratio"),
            amps = read.Positive("ratio-amps"), forward = read.Positive("forward-volts"),
            diode = read.Positive("diode-amps"), collector = read.Positive("collector-amps"),
                reverse = read.Positive("reverse-volts"), volts = read.Positive("collector-volts"), watts = read.Positive("watts");
        if (!read.IsComplete)
            return null;
        // Where no largest ratio is stated, five times the least (usual of ungraded types, from memory).
        var type = new OptocouplerType(read.Name, least!.Value, most ?? 5 * least.Value, amps!.Value, read.Source);
        return scope.Draft.Catalogue.With((type with
        {
            ForwardVolts = forward ?? type.ForwardVolts,
            DiodeAmps = diode ?? type.DiodeAmps,
            CollectorAmps = collector ?? type.CollectorAmps,
            DiodeReverseVolts = reverse ?? type.DiodeReverseVolts,
            CollectorVolts = volts ?? type.CollectorVolts,
            RatedWatts = watts ?? type.RatedWatts,
        }).Checked());
    }
}
