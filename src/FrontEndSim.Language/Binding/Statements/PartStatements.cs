using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Parts.Fits;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.Language.Binding.Scopes;
using FrontEndSim.Language.Forms;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary>A statement that is a part: it gives the part a name and connects its terminals.</summary>
internal abstract class PartStatement : StatementKind
{
    protected static ImmutableArray<Piece> Terminals => ["from", Blank.Node("from"), "to", Blank.Node("to")];

    /// <summary>The name and type of what compares or amplifies, its three signal nodes and its two supply nodes.</summary>
    protected static ImmutableArray<Piece> AmplifierHead(string what, string example) =>
    [
        NewName(what), new Blank("type", Shape.TypeName, example),
        "plus", Blank.Node("plus"), "minus", Blank.Node("minus"), "output", Blank.Node("output"),
        "on", Blank.Node("positive"), "and", Blank.Node("negative"),
    ];

    public override Turn Turn => Turn.Second;

    public override void Declare(StatementSyntax statement, Scope scope) => scope.Declare(statement.Token("name"), Keyword);

    public override void Bind(StatementSyntax statement, Scope scope)
    {
        if (Make(statement, scope, scope.FullName(statement.Token("name"))) is { } part)
        {
            scope.Add(part, statement.Span);
            if (part.UsualTolerance is not null && !statement.Has("tolerance"))
                scope.Draft.WithoutTolerance.Add(part.Name);
        }
    }

    /// <summary>The parts that no shipped stage makes: a template's parts are written for themselves.</summary>
    public override IEnumerable<StatementText> Write(FrontEnd frontEnd) =>
        frontEnd.Parts.Concat(frontEnd.Stages.Where(s => s.Request is null).SelectMany(s => s.Parts)).Select(Write).OfType<StatementText>();

    /// <summary>The statement of a part; null for a part of another kind.</summary>
    protected abstract StatementText? Write(Part part);

    /// <summary>The part, or null after a complaint.</summary>
    protected abstract Part? Make(StatementSyntax statement, Scope scope, string name);

    protected static (string From, string To) Ends(StatementSyntax statement, Scope scope) =>
        (scope.Node(statement.Token("from")), scope.Node(statement.Token("to")));
}

/// <summary>A part of two ends that is a type of the catalogue, or one that the file describes.</summary>
/// <param name="keyword">The first word of its line.</param>
/// <param name="what">What it is, in the words of a message.</param>
/// <param name="example">What its type looks like.</param>
internal abstract class TypedPartStatement<TType>(string keyword, string what, string example) : PartStatement where TType : PartType
{
    public override string Keyword => keyword;

    protected override ImmutableArray<Piece> Head => [NewName(what), .. Terminals, new Blank("type", Shape.TypeName, example)];

    protected override Part? Make(StatementSyntax statement, Scope scope, string name)
    {
        var (from, to) = Ends(statement, scope);
        return scope.Draft.FindType<TType>(statement.Token("type"), what) is { } type ? Of(name, from, to, type, statement) : null;
    }

    /// <summary>The part of a type between two nodes.</summary>
    protected abstract Part Of(string name, string from, string to, TType type, StatementSyntax statement);

    /// <summary>The line of such a part.</summary>
    protected StatementText Written(string name, string from, string to, TType type, string more = "") =>
        new($"{Keyword} {name} from {from} to {to} {type.Name}{more}");
}

/// <summary><c>resistor R1 from A to B 4k7 1%</c></summary>
internal sealed class ResistorStatement : PartStatement
{
    public override string Keyword => "resistor";

    public override string Summary =>
        "A resistor with its tolerance, style and size, rated power and pulse energy, and temperature coefficient.";

    protected override ImmutableArray<Piece> Head => [NewName("resistor"), .. Terminals, Blank.Of("ohms", Unit.Ohm), Tolerance];

    public override ImmutableArray<Addition> Additions { get; } =
    [
        new("size", new Blank("style", Shape.TypeName, "a size, such as chip-0805")),
        new("rated", Blank.Of("watts", Unit.Watt)), new("pulse", Blank.Of("joules", Unit.Joule)),
            new("drift", Blank.Of("per-kelvin", Unit.PerKelvin)),
    ];

    protected override Part? Make(StatementSyntax statement, Scope scope, string name)
    {
        var (from, to) = Ends(statement, scope);
        ResistorSize? size = null;
        if (statement.Has("size"))
        {
            var asked = statement.Token("style");
            size = ResistorSize.Find(asked.Text);
            if (size is null)
                return scope.Draft.RefuseType<Part>(asked, "size of resistor", [.. ResistorSize.All.Select(s => s.Name)]);
        }
        double? watts = scope.Positive(statement["watts"]), joules = scope.Positive(statement["joules"]),
            drift = scope.NotNegative(statement["per-kelvin"]);
        if (scope.Toleranced(statement["ohms"], statement["tolerance"]) is not { } ohms)
            return null;
        var part = new ResistorPart(name, from, to, ohms with { TempCo = drift }) { PulseJoules = joules, Size = size };
        return watts is { } w ? part with { RatedWatts = w } : part;
    }

    protected override StatementText? Write(Part part) => part is not ResistorPart r ? null : new(string.Join(' ',
    [
        $"resistor {r.Name} from {r.From} to {r.To} {ValueText.Of(r.Ohms, "ohm")}",
        .. r.Size is { } size ? ["size " + size.Name] : Array.Empty<string>(),
        .. StatementText.If(r.GivenWatts, watts => "rated " + ValueText.Of(watts, "W")),
        .. StatementText.If(r.PulseJoules, joules => "pulse " + ValueText.Of(joules, "J")),
        .. StatementText.If(r.Ohms.TempCo, drift => "drift " + ValueText.PerKelvin(drift)),
    ]));
}

/// <summary><c>capacitor C1 from A to B 10n 10%</c></summary>
internal sealed class CapacitorStatement : PartStatement
{
    public override string Keyword => "capacitor";

    public override string Summary => "A capacitor with its tolerance, rated voltage, leakage resistance and series resistance.";

    protected override ImmutableArray<Piece> Head => [NewName("capacitor"), .. Terminals, Blank.Of("farads", Unit.Farad), Tolerance];

    public override ImmutableArray<Addition> Additions { get; } =
        [new("rated", Blank.Of("volts", Unit.Volts)), new("leakage", Blank.Of("leakage-ohms", Unit.Ohm)),
            new("resistance", Blank.Of("ohms", Unit.Ohm))];

    protected override Part? Make(StatementSyntax statement, Scope scope, string name)
    {
        var (from, to) = Ends(statement, scope);
        double? volts = scope.Positive(statement["volts"]), leakage = scope.Positive(statement["leakage-ohms"]),
            ohms = scope.NotNegative(statement["ohms"]);
        if (scope.Toleranced(statement["farads"], statement["tolerance"]) is not { } farads)
            return null;
        if (statement["farads"]!.Span is var written && written.Text.EndsWith('m'))
        {
            scope.Diagnostics.Warn(written, DiagnosticCode.MilliMeant,
                $"{written.Text} is {SiText.Format(farads.Value, "F")}: m stands for milli.",
                $"{written.Text[..^1]}u for microfarads, or {SiText.Format(farads.Value, "F")} if it is meant");
        }
        var part = new CapacitorPart(name, from, to, farads) { LeakageOhms = leakage ?? double.PositiveInfinity, SeriesOhms = ohms ?? 0 };
        return volts is { } v ? part with { RatedVolts = v } : part;
    }

    protected override StatementText? Write(Part part) => part is not CapacitorPart c ? null : new(string.Join(' ',
    [
        $"capacitor {c.Name} from {c.From} to {c.To} {ValueText.Of(c.Farads, "F")}",
        .. StatementText.If(c.RatedVolts, volts => "rated " + ValueText.Volts(volts)),
        .. StatementText.If(double.IsFinite(c.LeakageOhms), () => "leakage " + ValueText.Ohms(c.LeakageOhms)),
        .. StatementText.If(c.SeriesOhms > 0, () => "resistance " + ValueText.Ohms(c.SeriesOhms)),
    ]));
}

/// <summary><c>inductor L1 from A to B 10 uH 5%</c></summary>
internal sealed class InductorStatement : PartStatement
{
    public override string Keyword => "inductor";

    public override string Summary => "An inductor with its tolerance and winding resistance.";

    protected override ImmutableArray<Piece> Head => [NewName("inductor"), .. Terminals, Blank.Of("henries", Unit.Henry), Tolerance];

    public override ImmutableArray<Addition> Additions { get; } = [new("resistance", Blank.Of("ohms", Unit.Ohm))];

    protected override Part? Make(StatementSyntax statement, Scope scope, string name)
    {
        var (from, to) = Ends(statement, scope);
        double? ohms = scope.NotNegative(statement["ohms"]);
        return scope.Toleranced(statement["henries"], statement["tolerance"]) is { } henries
            ? new InductorPart(name, from, to, henries) { SeriesOhms = ohms ?? 0 } : null;
    }

    protected override StatementText? Write(Part part) => part is not InductorPart l ? null
        : new($"inductor {l.Name} from {l.From} to {l.To} {ValueText.Of(l.Henries, "H")} resistance {ValueText.Ohms(l.SeriesOhms)}");
}

/// <summary><c>potentiometer P1 from A to B wiper W 10 kohm at 30%</c></summary>
internal sealed class PotentiometerStatement : PartStatement
{
    public override string Keyword => "potentiometer";

    public override string Summary =>
        "A potentiometer; its wiper stands at a part of the way from the first node to the second, in the middle if nothing is said, and "
            + "ratings are then judged at both ends too.";

    protected override ImmutableArray<Piece> Head =>
        [NewName("potentiometer"), .. Terminals, "wiper", Blank.Node("wiper"), Blank.Of("ohms", Unit.Ohm), Tolerance];

    public override ImmutableArray<Addition> Additions { get; } =
        [new("at", new Blank("position", Shape.Value, "a percentage, such as 30%", Unit.Percent)),
        new("rated", Blank.Of("watts", Unit.Watt)), new("drift", Blank.Of("per-kelvin", Unit.PerKelvin))];

    protected override Part? Make(StatementSyntax statement, Scope scope, string name)
    {
        var (from, to) = Ends(statement, scope);
        string wiper = scope.Node(statement.Token("wiper"));
        double? watts = scope.Positive(statement["watts"]), drift = scope.NotNegative(statement["per-kelvin"]);
        double? position = statement.Has("at") ? scope.Within(statement["position"], p => p is >= 0 and <= 1, "from 0 % to 100 %") : 0.5;
        if (scope.Toleranced(statement["ohms"], statement["tolerance"]) is not { } ohms || position is null)
            return null;
        var part = new PotentiometerPart(name, from, to, wiper, ohms with { TempCo = drift }, position.Value)
        {
            IsAnywhere = !statement.Has("at"),
        };
        return watts is { } w ? part with { RatedWatts = w } : part;
    }

    protected override StatementText? Write(Part part) => part is not PotentiometerPart p ? null : new(string.Join(' ',
    [
        $"potentiometer {p.Name} from {p.From} to {p.To} wiper {p.Wiper} {ValueText.Of(p.Ohms, "ohm")}",
        .. StatementText.If(!p.IsAnywhere, () => "at " + ValueText.Percent(p.Position)),
        "rated " + ValueText.Of(p.RatedWatts, "W"),
        .. StatementText.If(p.Ohms.TempCo, drift => "drift " + ValueText.PerKelvin(drift)),
    ]));
}

/// <summary><c>diode D1 from A to B 1N4148</c>, and likewise zener and schottky.</summary>
internal sealed class DiodeStatement(DiodeKind kind) : PartStatement
{
    public override string Keyword => DiodeFit.Word(kind);

    public override string Summary => kind switch
    {
        DiodeKind.Zener => "A zener diode, by its type number or its voltage code; from is the anode, to the cathode.",
        DiodeKind.Schottky => "A Schottky diode, by its type number; from is the anode, to the cathode.",
        DiodeKind.Led => "A light-emitting diode, by its colour or its type; from is the anode, to the cathode.",
        _ => "A silicon diode, by its type number; from is the anode, to the cathode.",
    };

    protected override ImmutableArray<Piece> Head =>
        [NewName(Keyword), .. Terminals, new Blank("type", Shape.TypeName,
        kind switch { DiodeKind.Zener => "a type, such as 3V6", DiodeKind.Led => "a type, such as green", _ => "a type, such as 1N4148" })];

    protected override Part? Make(StatementSyntax statement, Scope scope, string name)
    {
        var (from, to) = Ends(statement, scope);
        var type = statement.Token("type");
        if (scope.Draft.Catalogue.FindDiode(type.Text, kind) is not { } known)
        {
            return scope.Draft.RefuseDiode(type, [.. scope.Draft.Catalogue.DiodeNames(kind)]) ? null
                : scope.Draft.RefuseType<Part>(type, $"{Keyword} type", [.. scope.Draft.Catalogue.DiodeNames(kind)]);
        }
        scope.Draft.UseType(type.Text);
        return new DiodePart(name, from, to, known);
    }

    protected override StatementText? Write(Part part) =>
        part is DiodePart d && d.Type.Kind == kind ? new($"{Keyword} {d.Name} from {d.From} to {d.To} {d.Type.Name}") : null;
}

/// <summary><c>opamp U1 bipolar-general plus A minus B output C on VP and VN</c></summary>
internal sealed class OpAmpStatement : PartStatement
{
    public override string Keyword => "opamp";

    public override string Summary => "An operational amplifier by its class, its three signal nodes and its two supply nodes.";

    protected override ImmutableArray<Piece> Head => AmplifierHead("op amp", "a class of op amp, such as bipolar-general");

    protected override Part? Make(StatementSyntax statement, Scope scope, string name)
    {
        string Node(string blank) => scope.Node(statement.Token(blank));
        var type = statement.Token("type");
        if (scope.Draft.Catalogue.FindOpAmp(type.Text) is not { } known)
            return scope.Draft.RefuseType<Part>(type, "class of op amp", [.. scope.Draft.Catalogue.OpAmpNames]);
        scope.Draft.UseType(type.Text);
        return new OpAmpPart(name, Node("plus"), Node("minus"), Node("output"), Node("positive"), Node("negative"), known);
    }

    protected override StatementText? Write(Part part) => part is not OpAmpPart u ? null
        : new($"opamp {u.Name} {u.Type.Name} plus {u.Plus} minus {u.Minus} output {u.Output} on {u.PositiveRail} and {u.NegativeRail}");
}

/// <summary><c>gate U1 cmos-hc-hysteresis from A to B on VCC</c></summary>
internal sealed class GateStatement : PartStatement
{
    public override string Keyword => "gate";

    public override string Summary =>
        "A logic gate with one input, by its family; its output follows the input, or is its opposite if it inverts. The input loads and "
        + "stands what the pin at its node says.";

    protected override ImmutableArray<Piece> Head =>
        [NewName("gate"), new Blank("type", Shape.TypeName, "a logic family, such as cmos-hc-hysteresis"),
            .. Terminals, "on", Blank.Node("supply")];

    public override ImmutableArray<Addition> Additions { get; } = [new("inverts")];

    protected override Part? Make(StatementSyntax statement, Scope scope, string name)
    {
        var (from, to) = Ends(statement, scope);
        string supply = scope.Node(statement.Token("supply"));
        return LogicFamily.Of(statement.Token("type"), scope) is { } type
            ? new GatePart(name, from, to, supply, type, statement.Has("inverts")) : null;
    }

    protected override StatementText? Write(Part part) => part is not GatePart g ? null
        : new($"gate {g.Name} {g.Type.Name} from {g.Input} to {g.Output} on {g.Rail}{(g.Inverts ? " inverts" : "")}");
}

/// <summary><c>switch S1 from A to B closes at 1 ms</c></summary>
internal sealed class SwitchStatement : PartStatement
{
    public override string Keyword => "switch";

    public override string Summary => "A switch that stays open or closed, or closes or opens at a time.";

    protected override ImmutableArray<Piece> Head => [NewName("switch"), .. Terminals];

    public override ImmutableArray<Addition> Additions { get; } =
        [.. SwitchMoves.Words, new("bounces", "for", Blank.Of("bounce", Unit.Seconds))];

    protected override Part? Make(StatementSyntax statement, Scope scope, string name)
    {
        var (from, to) = Ends(statement, scope);
        double? bounce = scope.Positive(statement["bounce"]);
        return SwitchMoves.Read(statement, scope) is { } closed
            ? new SwitchPart(name, from, to, closed) { BounceSeconds = bounce ?? 0 } : null;
    }

    protected override StatementText? Write(Part part) => part is not SwitchPart s ? null
        : new($"switch {s.Name} from {s.From} to {s.To}{SwitchMoves.Write(s.Closed)}"
            + (s.BounceSeconds > 0 ? " bounces for " + ValueText.Seconds(s.BounceSeconds) : ""));
}
