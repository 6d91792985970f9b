using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Parts.Fits;
using FrontEndSim.Language.Binding.Scopes;

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
        if (Make(new PartReader(statement, scope)) is { } part)
        {
            scope.Add(part, statement.Span);
            if (part.UsualTolerance is not null && !statement.Has("tolerance"))
                scope.Builder.WithoutTolerance.Add(part.Name);
        }
    }

    /// <summary>How types of such a part are described; empty for one that has no types, or none of a file's own.</summary>
    public virtual ImmutableArray<SheetWords> Sheets => [];

    /// <summary>The parts that no shipped stage makes: a template's parts are written for themselves.</summary>
    public override IEnumerable<StatementText> Write(FrontEnd frontEnd) =>
        frontEnd.Parts.Concat(frontEnd.Stages.Where(s => s.Request is null).SelectMany(s => s.Parts)).Select(Write).OfType<StatementText>();

    /// <summary>The statement of a part; null for a part of another kind.</summary>
    protected abstract StatementText? Write(Part part);

    /// <summary>The part, or null after a complaint.</summary>
    protected abstract Part? Make(PartReader read);
}

/// <summary>A statement that is a part of one kind, filled up with what is said of it besides.</summary>
/// <param name="details">What may be said of it besides.</param>
internal abstract class PartStatement<TPart>(params ImmutableArray<Detail<TPart>> details) : PartStatement where TPart : Part
{
    public override ImmutableArray<Addition> Additions { get; } = [.. details.Select(d => d.Words)];

    protected ImmutableArray<Detail<TPart>> Details { get; } = details;

    protected sealed override Part? Make(PartReader read) => Detail<TPart>.FillUp(Of(read), Details, read);

    protected sealed override StatementText? Write(Part part) => part is TPart mine && LineOf(mine) is { } line
        ? new(string.Join(' ', [line, .. Details.Select(d => d.Written?.Invoke(mine)).OfType<string>()])) : null;

    /// <summary>The part that the head of its line makes, or null after a complaint.</summary>
    protected abstract TPart? Of(PartReader read);

    /// <summary>The head of its line; null where another statement writes the part.</summary>
    protected abstract string? LineOf(TPart part);
}

/// <summary>Reads the line of a part.</summary>
internal sealed class PartReader(StatementSyntax statement, Scope scope) : FigureReader(blank => statement[blank], scope)
{
    public StatementSyntax Statement => statement;

    public string Name { get; } = scope.FullName(statement.Token("name"));

    public string From => Node("from");

    public string To => Node("to");

    public string Node(string blank) => Scope.Node(statement.Token(blank));

    /// <summary>The type that is named; null after a complaint.</summary>
    /// <param name="what">What a person calls the kind.</param>
    public TType? Type<TType>(string what) where TType : PartType => Scope.Builder.FindType<TType>(statement.Token("type"), what);

    /// <summary>A value with its tolerance; null after a complaint.</summary>
    public Toleranced? Toleranced(string blank) => Scope.Toleranced(statement[blank], statement["tolerance"]);
}

/// <summary>A part of two ends that is a type of the catalogue, or one that the file describes.</summary>
/// <param name="keyword">The first word of its line.</param>
/// <param name="what">What it is, in the words of a message.</param>
/// <param name="example">What its type looks like.</param>
/// <param name="details">What may be said of it besides.</param>
internal abstract class TypedPartStatement<TPart, TType>(string keyword, string what, string example,
    params ImmutableArray<Detail<TPart>> details) : PartStatement<TPart>(details) where TPart : Part where TType : PartType
{
    public override string Keyword => keyword;

    protected override ImmutableArray<Piece> Head => [NewName(what), .. Terminals, new Blank("type", Shape.TypeName, example)];

    protected override TPart? Of(PartReader read)
    {
        var (from, to) = (read.From, read.To);
        return read.Type<TType>(what) is { } type ? Of(read.Name, from, to, type) : null;
    }

    /// <summary>The part of a type between two nodes.</summary>
    protected abstract TPart Of(string name, string from, string to, TType type);

    protected override string LineOf(TPart part) =>
        $"{Keyword} {part.Name} from {part.Terminals[0].Node} to {part.Terminals[1].Node} {part.ValueText}";
}

/// <summary><c>resistor R1 from A to B 4k7 1%</c></summary>
internal sealed class ResistorStatement() : PartStatement<ResistorPart>(
    new(new("size", new Blank("style", Shape.TypeName, "a size, such as chip-0805")),
        (r, read) => r with { Size = SizeOf((PartReader)read) })
    {
        Written = r => r.Size is { } size ? "size " + size.Name : null,
    },
    new("rated", Blank.Of("watts", Unit.Watt), (r, x) => r with { RatedWatts = x })
    {
        Written = r => r.GivenWatts is { } watts ? "rated " + ValueText.Of(watts, "W") : null,
    },
    new("pulse", Blank.Of("joules", Unit.Joule), (r, x) => r with { PulseJoules = x })
    {
        Written = r => r.PulseJoules is { } joules ? "pulse " + ValueText.Of(joules, "J") : null,
    },
    new("drift", Blank.Of("per-kelvin", Unit.PerKelvin), (r, x) => r with { Ohms = r.Ohms with { TempCo = x } }, NumberRule.NotNegative)
    {
        Written = r => r.Ohms.TempCo is { } drift ? "drift " + ValueText.PerKelvin(drift) : null,
    })
{
    public override string Keyword => "resistor";

    public override string Summary =>
        "A resistor with its tolerance, style and size, rated power and pulse energy, and temperature coefficient.";

    protected override ImmutableArray<Piece> Head => [NewName("resistor"), .. Terminals, Blank.Of("ohms", Unit.Ohm), Tolerance];

    protected override ResistorPart? Of(PartReader read)
    {
        var (from, to) = (read.From, read.To);
        return read.Toleranced("ohms") is { } ohms ? new(read.Name, from, to, ohms) : null;
    }

    protected override string LineOf(ResistorPart r) => $"resistor {r.Name} from {r.From} to {r.To} {ValueText.Of(r.Ohms, "ohm")}";

    private static ResistorSize? SizeOf(PartReader read)
    {
        var asked = read.Statement.Token("style");
        return ResistorSize.Find(asked.Text)
            ?? read.Scope.Builder.RefuseType<ResistorSize>(asked, "size of resistor", [.. ResistorSize.All.Select(s => s.Name)]);
    }
}

/// <summary><c>capacitor C1 from A to B 10n 10%</c></summary>
internal sealed class CapacitorStatement() : PartStatement<CapacitorPart>(
    new(new("dielectric", new Blank("kind", Shape.TypeName, "a dielectric, such as x7r or electrolytic")),
        (c, read) => c with
        {
            Dielectric = Named((PartReader)read, "kind", "dielectric", CapacitorDielectric.Find, CapacitorDielectric.All, d => d.Name),
        })
    {
        Written = c => c.Dielectric is { } dielectric ? "dielectric " + dielectric.Name : null,
    },
    new(new("size", new Blank("body", Shape.TypeName, "a size, such as chip-0603")),
        (c, read) => c with
        {
            Size = Named((PartReader)read, "body", "size of capacitor", CapacitorSize.Find, CapacitorSize.All, s => s.Name),
        })
    {
        Written = c => c.Size is { } size ? "size " + size.Name : null,
    },
    new(new("polarised"), (c, _) => c with { IsStatedPolarised = true })
    {
        Written = c => c.IsStatedPolarised ? "polarised" : null,
    },
    new("reverse", Blank.Of("reverse-volts", Unit.Volts), (c, x) => c with { ReverseVolts = x })
    {
        Written = c => c.ReverseVolts is { } reverse ? "reverse " + ValueText.Volts(reverse) : null,
    },
    new("rated", Blank.Of("volts", Unit.Volts), (c, x) => c with { RatedVolts = x })
    {
        Written = c => c.RatedVolts is { } volts ? "rated " + ValueText.Volts(volts) : null,
    },
    new("leakage", Blank.Of("leakage-ohms", Unit.Ohm), (c, x) => c with { LeakageOhms = x })
    {
        Written = c => double.IsFinite(c.LeakageOhms) ? "leakage " + ValueText.Ohms(c.LeakageOhms) : null,
    },
    new("carries", Blank.Of("amps", Unit.Amps), (c, x) => c with { CarriesAmps = x })
    {
        Written = c => c.CarriesAmps is { } amps ? "carries " + ValueText.Of(amps, "A") : null,
    },
    new("resistance", Blank.Of("ohms", Unit.Ohm), (c, x) => c with { SeriesOhms = x }, NumberRule.NotNegative)
    {
        Written = c => c.SeriesOhms > 0 ? "resistance " + ValueText.Ohms(c.SeriesOhms) : null,
    })
{
    public override string Keyword => "capacitor";

    public override string Summary =>
        "A capacitor with its tolerance, dielectric, size, rated voltage, leakage resistance and series resistance.";

    private static T? Named<T>(PartReader read, string blank, string what, Func<string, T?> find, ImmutableArray<T> all,
        Func<T, string> name) where T : class
    {
        var asked = read.Statement.Token(blank);
        return find(asked.Text) ?? read.Scope.Builder.RefuseType<T>(asked, what, [.. all.Select(name)]);
    }

    protected override ImmutableArray<Piece> Head => [NewName("capacitor"), .. Terminals, Blank.Of("farads", Unit.Farad), Tolerance];

    protected override CapacitorPart? Of(PartReader read)
    {
        var (from, to) = (read.From, read.To);
        if (read.Toleranced("farads") is not { } farads)
            return null;
        if (read.Statement["farads"]!.Span is var written && written.Text.EndsWith('m'))
        {
            read.Scope.Diagnostics.Warn(written, DiagnosticCode.MilliMeant,
                $"{written.Text} is {SiText.Format(farads.Value, "F")}: m stands for milli.",
                $"{written.Text[..^1]}u for microfarads, or {SiText.Format(farads.Value, "F")} if it is meant");
        }
        return new(read.Name, from, to, farads);
    }

    protected override string LineOf(CapacitorPart c) => $"capacitor {c.Name} from {c.From} to {c.To} {ValueText.Of(c.Farads, "F")}";
}

/// <summary><c>inductor L1 from A to B 10 uH 5%</c></summary>
internal sealed class InductorStatement() : PartStatement<InductorPart>(
    new Detail<InductorPart>("resistance", Blank.Of("ohms", Unit.Ohm), (l, x) => l with { SeriesOhms = x }, NumberRule.NotNegative)
    {
        Written = l => "resistance " + ValueText.Ohms(l.SeriesOhms),
    },
    new("carries", Blank.Of("amps", Unit.Amps), (l, x) => l with { CarriesAmps = x })
    {
        Written = l => l.CarriesAmps is { } amps ? "carries " + ValueText.Of(amps, "A") : null,
    },
    new(new("saturates", "at", Blank.Of("saturating", Unit.Amps)), (l, read) => l with { SaturatesAmps = read.Positive("saturating") })
    {
        Written = l => l.SaturatesAmps is { } amps ? "saturates at " + ValueText.Of(amps, "A") : null,
    })
{
    public override string Keyword => "inductor";

    public override string Summary => "An inductor with its tolerance and winding resistance.";

    protected override ImmutableArray<Piece> Head => [NewName("inductor"), .. Terminals, Blank.Of("henries", Unit.Henry), Tolerance];

    protected override InductorPart? Of(PartReader read)
    {
        var (from, to) = (read.From, read.To);
        return read.Toleranced("henries") is { } henries ? new(read.Name, from, to, henries) : null;
    }

    protected override string LineOf(InductorPart l) => $"inductor {l.Name} from {l.From} to {l.To} {ValueText.Of(l.Henries, "H")}";
}

/// <summary><c>potentiometer P1 from A to B wiper W 10 kohm at 30%</c></summary>
internal sealed class PotentiometerStatement() : PartStatement<PotentiometerPart>(
    new(new("at", new Blank("position", Shape.Value, "a percentage, such as 30%", Unit.Percent)), (p, read) => p with
    {
        Position = read.Within("position", x => x is >= 0 and <= 1, "from 0 % to 100 %", p.Position),
        IsAnywhere = false,
    })
    {
        Written = p => p.IsAnywhere ? null : "at " + ValueText.Percent(p.Position),
    },
    new("rated", Blank.Of("watts", Unit.Watt), (p, x) => p with { RatedWatts = x })
    {
        Written = p => "rated " + ValueText.Of(p.RatedWatts, "W"),
    },
    new("drift", Blank.Of("per-kelvin", Unit.PerKelvin), (p, x) => p with { Ohms = p.Ohms with { TempCo = x } }, NumberRule.NotNegative)
    {
        Written = p => p.Ohms.TempCo is { } drift ? "drift " + ValueText.PerKelvin(drift) : null,
    })
{
    public override string Keyword => "potentiometer";

    public override string Summary =>
        "A potentiometer; its wiper stands at a part of the way from the first node to the second, in the middle if nothing is said, and "
            + "ratings are then judged at both ends too.";

    protected override ImmutableArray<Piece> Head =>
        [NewName("potentiometer"), .. Terminals, "wiper", Blank.Node("wiper"), Blank.Of("ohms", Unit.Ohm), Tolerance];

    protected override PotentiometerPart? Of(PartReader read)
    {
        var (from, to, wiper) = (read.From, read.To, read.Node("wiper"));
        return read.Toleranced("ohms") is { } ohms ? new(read.Name, from, to, wiper, ohms, 0.5) { IsAnywhere = true } : null;
    }

    protected override string LineOf(PotentiometerPart p) =>
        $"potentiometer {p.Name} from {p.From} to {p.To} wiper {p.Wiper} {ValueText.Of(p.Ohms, "ohm")}";
}

/// <summary><c>diode D1 from A to B 1N4148</c>, and likewise zener and schottky.</summary>
internal sealed class DiodeStatement(DiodeKind kind) : PartStatement<DiodePart>
{
    public override string Keyword => DiodeFit.Word(kind);

    public override string Summary => kind switch
    {
        DiodeKind.Zener => "A zener diode, by its type number or its voltage code; from is the anode, to the cathode.",
        DiodeKind.Schottky => "A Schottky diode, by its type number; from is the anode, to the cathode.",
        DiodeKind.Led => "A light-emitting diode, by its colour or its type; from is the anode, to the cathode.",
        _ => "A silicon diode, by its type number; from is the anode, to the cathode.",
    };

    public override ImmutableArray<SheetWords> Sheets => [DiodeTypeWords.Of(kind)];

    protected override ImmutableArray<Piece> Head =>
        [NewName(Keyword), .. Terminals, new Blank("type", Shape.TypeName,
        kind switch { DiodeKind.Zener => "a type, such as 3V6", DiodeKind.Led => "a type, such as green", _ => "a type, such as 1N4148" })];

    protected override DiodePart? Of(PartReader read)
    {
        var (from, to, builder, type) = (read.From, read.To, read.Scope.Builder, read.Statement.Token("type"));
        if (builder.Catalogue.FindDiode(type.Text, kind) is not { } known)
        {
            string[] names = [.. builder.Catalogue.DiodeNames(kind)];
            return builder.RefuseDiode(type, names) ? null : builder.RefuseType<DiodePart>(type, $"{Keyword} type", names);
        }
        builder.UseType(type.Text);
        return new DiodePart(read.Name, from, to, known);
    }

    protected override string? LineOf(DiodePart d) =>
        d.Type.Kind == kind ? $"{Keyword} {d.Name} from {d.From} to {d.To} {d.Type.Name}" : null;
}

/// <summary><c>opamp U1 bipolar-general plus A minus B output C on VP and VN</c></summary>
internal sealed class OpAmpStatement : PartStatement<OpAmpPart>
{
    public override string Keyword => "opamp";

    public override string Summary => "An operational amplifier by its class, its three signal nodes and its two supply nodes.";

    public override ImmutableArray<SheetWords> Sheets => [OpAmpTypeWords.Words];

    protected override ImmutableArray<Piece> Head => AmplifierHead("op amp", "a class of op amp, such as bipolar-general");

    protected override OpAmpPart? Of(PartReader read) => OpAmpTypeWords.Find(read.Statement.Token("type"), read.Scope) is { } type
        ? new(read.Name, read.Node("plus"), read.Node("minus"), read.Node("output"), read.Node("positive"),
            read.Node("negative"), type) : null;

    protected override string LineOf(OpAmpPart u) =>
        $"opamp {u.Name} {u.Type.Name} plus {u.Plus} minus {u.Minus} output {u.Output} on {u.PositiveRail} and {u.NegativeRail}";
}

/// <summary><c>gate U1 cmos-hc-hysteresis from A to B on VCC</c></summary>
internal sealed class GateStatement() : PartStatement<GatePart>(
    new Detail<GatePart>(new Addition("inverts"), (g, _) => g with { Inverts = true }) { Written = g => g.Inverts ? "inverts" : null })
{
    public override string Keyword => "gate";

    public override string Summary =>
        "A logic gate with one input, by its family; its output follows the input, or is its opposite if it inverts. The input loads and "
        + "stands what the pin at its node says.";

    protected override ImmutableArray<Piece> Head =>
        [NewName("gate"), new Blank("type", Shape.TypeName, "a logic family, such as cmos-hc-hysteresis"),
            .. Terminals, "on", Blank.Node("supply")];

    protected override GatePart? Of(PartReader read)
    {
        var (from, to, supply) = (read.From, read.To, read.Node("supply"));
        return LogicFamily.Of(read.Statement.Token("type"), read.Scope) is { } type
            ? new(read.Name, from, to, supply, type, Inverts: false) : null;
    }

    protected override string LineOf(GatePart g) => $"gate {g.Name} {g.Type.Name} from {g.Input} to {g.Output} on {g.Rail}";
}

/// <summary><c>switch S1 from A to B closes at 1 ms</c></summary>
internal sealed class SwitchStatement() : PartStatement<SwitchPart>(
    new Detail<SwitchPart>(new("bounces", "for", Blank.Of("bounce", Unit.Seconds)),
        (s, read) => s with { BounceSeconds = read.Positive("bounce") })
    {
        Written = s => s.BounceSeconds > 0 ? "bounces for " + ValueText.Seconds(s.BounceSeconds) : null,
    },
    new("carries", Blank.Of("amps", Unit.Amps), (s, x) => s with { CarriesAmps = x })
    {
        Written = s => s.CarriesAmps is { } amps ? "carries " + ValueText.Of(amps, "A") : null,
    },
    new("stands", Blank.Of("volts", Unit.Volts), (s, x) => s with { StandsVolts = x })
    {
        Written = s => s.StandsVolts is { } volts ? "stands " + ValueText.Volts(volts) : null,
    })
{
    public override string Keyword => "switch";

    public override string Summary => "A switch that stays open or closed, or closes or opens at a time.";

    public override ImmutableArray<Addition> Additions => [.. SwitchMoves.Words, .. base.Additions];

    protected override ImmutableArray<Piece> Head => [NewName("switch"), .. Terminals];

    protected override SwitchPart? Of(PartReader read)
    {
        var (from, to) = (read.From, read.To);
        return SwitchMoves.Read(read.Statement, read.Scope) is { } closed ? new(read.Name, from, to, closed) : null;
    }

    protected override string LineOf(SwitchPart s) => $"switch {s.Name} from {s.From} to {s.To}{SwitchMoves.Write(s.Closed)}";
}
