using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Parts.Fits;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.Language.Binding.Scopes;
using FrontEndSim.Language.Forms;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary>The words of a transistor's data sheet.</summary>
internal static class TransistorTypeWords
{
    private static readonly Maybe AtMost = new(new Addition("at", "most"));

    private static readonly ImmutableArray<Addition> Bipolar =
    [
        new("gain", Plain("least-gain"), new Maybe("to", Plain("most-gain")), "at", Blank.Of("amps", Unit.Amps)) { MayRepeat = true },
        new("base", Blank.Of("volts", Unit.Volts), "at", Blank.Of("amps", Unit.Amps),
            new Maybe("with", Blank.Of("base-amps", Unit.Amps))) { MayRepeat = true },
        new("saturation", Blank.Of("volts", Unit.Volts), "at", Blank.Of("amps", Unit.Amps), "with",
            Blank.Of("base-amps", Unit.Amps), AtMost) { MayRepeat = true },
        new("early", Blank.Of("early-volts", Unit.Volts)),
        new("transition", Blank.Of("hertz", Unit.Hertz), "at", Blank.Of("transition-amps", Unit.Amps)),
        new("storage", Blank.Of("storage-time", Unit.Seconds), "at", Blank.Of("storage-amps", Unit.Amps),
            "with", Blank.Of("storage-base-amps", Unit.Amps)),
        new("capacitance", Blank.Of("collector-farads", Unit.Farad), "collector", Blank.Of("emitter-farads", Unit.Farad), "emitter"),
        new("stands", Blank.Of("collector-volts", Unit.Volts)),
        new("collector-base", Blank.Of("collector-base-volts", Unit.Volts)),
        new("emitter-base", Blank.Of("emitter-base-volts", Unit.Volts)),
        new("carries", Blank.Of("rated-amps", Unit.Amps)),
        new("rated", Blank.Of("watts", Unit.Watt)),
        SheetReader.Sheet,
    ];

    private static readonly ImmutableArray<Addition> Mos =
    [
        new("threshold", new Blank("threshold-volts", Shape.Range, UnitWords.Describe(Unit.Volts), Unit.Volts),
            "at", Blank.Of("threshold-amps", Unit.Amps),
            new Maybe("typically", Blank.Of("typical-volts", Unit.Volts))),
        new("resistance", Blank.Of("ohms", Unit.Ohm), "at", Blank.Of("amps", Unit.Amps), "with",
            Blank.Of("gate-volts", Unit.Volts), AtMost) { MayRepeat = true },
        new("leakage", Blank.Of("leakage-amps", Unit.Amps), "at", Blank.Of("leakage-volts", Unit.Volts)),
        new("capacitance", Blank.Of("input-farads", Unit.Farad), "input", Blank.Of("output-farads", Unit.Farad),
            "output", Blank.Of("reverse-farads", Unit.Farad), "reverse"),
        new("body", Blank.Of("body-volts", Unit.Volts), "at", Blank.Of("body-amps", Unit.Amps)),
        new("stands", Blank.Of("drain-volts", Unit.Volts)),
        new("gate", Blank.Of("gate-limit", Unit.Volts)),
        new("carries", Blank.Of("rated-amps", Unit.Amps), new Maybe("pulse", Blank.Of("pulse-amps", Unit.Amps))),
        new("rated", Blank.Of("watts", Unit.Watt)),
        SheetReader.Sheet,
    ];

    /// <summary>The kinds of transistor that a file can describe.</summary>
    public static ImmutableArray<SheetWords> All { get; } =
    [
        new("npn", Bipolar, (s, scope) => BipolarInto(s, scope, Polarity.N)),
            new("pnp", Bipolar, (s, scope) => BipolarInto(s, scope, Polarity.P)),
        new("n-channel", Mos, (s, scope) => MosInto(s, scope, Polarity.N)),
            new("p-channel", Mos, (s, scope) => MosInto(s, scope, Polarity.P)),
    ];

    private static Blank Plain(string name) => new(name, Shape.Value, "a plain number, such as 100", Unit.None);

    private static PartCatalogue? BipolarInto(StatementSyntax statement, Scope scope, Polarity polarity)
    {
        var read = new SheetReader(statement, scope);
        var gains = read.Each("gain", p => new GainPoint(read.Positive(p, "least-gain")
            ?? 0, read.Positive(p, "amps") ?? 0)
        { Most = read.Positive(p, "most-gain") });
        var bases = read.Each("base", p => new BasePoint(read.Positive(p, "volts") ?? 0, read.Positive(p, "amps")
            ?? 0, read.Positive(p, "base-amps")));
        var saturations = read.Each("saturation", p =>
            new SaturationPoint(read.Positive(p, "volts") ?? 0, read.Positive(p, "amps")
            ?? 0, read.Positive(p, "base-amps") ?? 0, p["at"] is not null));
        var sheet = new BipolarDataSheet(read.Name, polarity, gains, read.Source)
        {
            Bases = bases,
            Saturations = saturations,
            Transition = statement.Has("transition") ? (read.Positive("hertz") ?? 1, read.Positive("transition-amps") ?? 1) : null,
            Storage = statement.Has("storage") ? (read.Positive("storage-time") ?? 1, read.Positive("storage-amps")
                ?? 1, read.Positive("storage-base-amps") ?? 1) : null,
            CollectorFarads = read.Positive("collector-farads") ?? 0,
            EmitterFarads = read.Positive("emitter-farads") ?? 0,
            CollectorVolts = read.Positive("collector-volts") ?? double.PositiveInfinity,
            CollectorBaseVolts = read.Positive("collector-base-volts") ?? double.PositiveInfinity,
            RatedAmps = read.Positive("rated-amps") ?? double.PositiveInfinity,
        };
        sheet = read.Positive("early-volts") is { } early ? sheet with { EarlyVolts = early } : sheet;
        sheet = read.Positive("emitter-base-volts") is { } emitter ? sheet with { EmitterVolts = emitter } : sheet;
        sheet = read.Positive("watts") is { } watts ? sheet with { RatedWatts = watts } : sheet;
        return read.IsComplete ? scope.Draft.Catalogue.With(PartCatalogue.Type(sheet)) : null;
    }

    private static PartCatalogue? MosInto(StatementSyntax statement, Scope scope, Polarity polarity)
    {
        var read = new SheetReader(statement, scope);
        if (read.Required("threshold", "its threshold voltage: threshold LEAST .. MOST at AMPS") is null)
            return null;
        var threshold = read.Span("threshold-volts");
        var on = read.Each("resistance", p => new OnPoint(read.Positive(p, "ohms") ?? 0, read.Positive(p, "amps")
            ?? 0, read.Positive(p, "gate-volts") ?? 0, p["at"] is not null));
        double? amps = read.Positive("threshold-amps");
        if (threshold is null || amps is null)
            return null;
        var sheet = new MosDataSheet(read.Name, polarity, threshold.Value, amps.Value, on, read.Source)
        {
            TypicalThreshold = read.Positive("typical-volts"),
            Farads = (read.Positive("input-farads") ?? 0, read.Positive("output-farads") ?? 0, read.Positive("reverse-farads") ?? 0),
            Leakage = statement.Has("leakage") ? (read.Positive("leakage-amps") ?? 0, read.Positive("leakage-volts") ?? 1) : null,
            DrainVolts = read.Positive("drain-volts") ?? double.PositiveInfinity,
            RatedAmps = read.Positive("rated-amps") ?? double.PositiveInfinity,
            PulseAmps = read.Positive("pulse-amps") ?? double.PositiveInfinity,
        };
        sheet = statement.Has("body") ? sheet with { Body = (read.Positive("body-volts") ?? 1, read.Positive("body-amps") ?? 1) } : sheet;
        sheet = read.Positive("gate-limit") is { } gate ? sheet with { GateVolts = gate } : sheet;
        sheet = read.Positive("watts") is { } watts ? sheet with { RatedWatts = watts } : sheet;
        return read.IsComplete ? scope.Draft.Catalogue.With(PartCatalogue.Type(sheet)) : null;
    }
}
