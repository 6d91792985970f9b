using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Parts.Fits;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary>The words of a transistor's data sheet.</summary>
internal static class TransistorTypeWords
{
    private static readonly Maybe AtMost = new(new Addition("at", "most"));

    private static readonly ImmutableArray<Detail<BipolarDataSheet>> Bipolar =
    [
        new(new("gain", Plain("least-gain"), new Maybe("to", Plain("most-gain")), "at", Blank.Of("amps", Unit.Amps)) { MayRepeat = true }),
        new(new("base", Blank.Of("volts", Unit.Volts), "at", Blank.Of("amps", Unit.Amps),
            new Maybe("with", Blank.Of("base-amps", Unit.Amps))) { MayRepeat = true }),
        new(new("saturation", Blank.Of("volts", Unit.Volts), "at", Blank.Of("amps", Unit.Amps), "with",
            Blank.Of("base-amps", Unit.Amps), AtMost) { MayRepeat = true }),
        new("early", Blank.Of("early-volts", Unit.Volts), (q, x) => q with { EarlyVolts = x }),
        new(new("transition", Blank.Of("hertz", Unit.Hertz), "at", Blank.Of("transition-amps", Unit.Amps)),
            (q, read) => q with { Transition = (read.Positive("hertz"), read.Positive("transition-amps")) }),
        new(new("storage", Blank.Of("storage-time", Unit.Seconds), "at", Blank.Of("storage-amps", Unit.Amps),
            "with", Blank.Of("storage-base-amps", Unit.Amps)), (q, read) => q with
            {
                Storage = (read.Positive("storage-time"), read.Positive("storage-amps"), read.Positive("storage-base-amps")),
            }),
        new(new("capacitance", Blank.Of("collector-farads", Unit.Farad), "collector", Blank.Of("emitter-farads", Unit.Farad), "emitter"),
            (q, read) => q with { CollectorFarads = read.Positive("collector-farads"), EmitterFarads = read.Positive("emitter-farads") }),
        new(new("leakage", Blank.Of("leakage-amps", Unit.Amps), new Maybe("hot", Blank.Of("hot-amps", Unit.Amps), "at",
            Blank.Of("hot-celsius", Unit.Celsius))), (q, read) => q with
            {
                LeakageAmps = read.Positive("leakage-amps"),
                HotLeakage = read.Has("hot-amps") ? (read.Positive("hot-amps"), read.Positive("hot-celsius")) : null,
            }),
        new("stands", Blank.Of("collector-volts", Unit.Volts), (q, x) => q with { CollectorVolts = x }),
        new("collector-base", Blank.Of("collector-base-volts", Unit.Volts), (q, x) => q with { CollectorBaseVolts = x }),
        new("emitter-base", Blank.Of("emitter-base-volts", Unit.Volts), (q, x) => q with { EmitterVolts = x }),
        new("carries", Blank.Of("rated-amps", Unit.Amps), (q, x) => q with { RatedAmps = x }),
        new("rated", Blank.Of("watts", Unit.Watt), (q, x) => q with { RatedWatts = x }),
    ];

    private static readonly ImmutableArray<Detail<MosDataSheet>> Mos =
    [
        new(new("threshold", new Blank("threshold-volts", Shape.Range, UnitWords.Describe(Unit.Volts), Unit.Volts),
            "at", Blank.Of("threshold-amps", Unit.Amps), new Maybe("typically", Blank.Of("typical-volts", Unit.Volts))))
        { Needed = "its threshold voltage: threshold LEAST .. MOST at AMPS" },
        new(new("resistance", Blank.Of("ohms", Unit.Ohm), "at", Blank.Of("amps", Unit.Amps), "with",
            Blank.Of("gate-volts", Unit.Volts), AtMost) { MayRepeat = true }),
        new(new("leakage", Blank.Of("leakage-amps", Unit.Amps), "at", Blank.Of("leakage-volts", Unit.Volts)),
            (q, read) => q with { Leakage = (read.Positive("leakage-amps"), read.Positive("leakage-volts")) }),
        new(new("capacitance", Blank.Of("input-farads", Unit.Farad), "input", Blank.Of("output-farads", Unit.Farad),
            "output", Blank.Of("reverse-farads", Unit.Farad), "reverse"), (q, read) => q with
            {
                Farads = (read.Positive("input-farads"), read.Positive("output-farads"), read.Positive("reverse-farads")),
            }),
        new(new("body", Blank.Of("body-volts", Unit.Volts), "at", Blank.Of("body-amps", Unit.Amps)),
            (q, read) => q with { Body = (read.Positive("body-volts"), read.Positive("body-amps")) }),
        new("stands", Blank.Of("drain-volts", Unit.Volts), (q, x) => q with { DrainVolts = x }),
        new("gate", Blank.Of("gate-limit", Unit.Volts), (q, x) => q with { GateVolts = x }),
        new(new("carries", Blank.Of("rated-amps", Unit.Amps), new Maybe("pulse", Blank.Of("pulse-amps", Unit.Amps))), (q, read) => q with
        {
            RatedAmps = read.Positive("rated-amps"),
            PulseAmps = read.Positive("pulse-amps", q.PulseAmps),
        }),
        new("rated", Blank.Of("watts", Unit.Watt), (q, x) => q with { RatedWatts = x }),
    ];

    /// <summary>The kinds of transistor that a file can describe.</summary>
    public static ImmutableArray<SheetWords> All { get; } =
        [OfBipolar("npn", Polarity.N), OfBipolar("pnp", Polarity.P), OfMos("n-channel", Polarity.N), OfMos("p-channel", Polarity.P)];

    private static Blank Plain(string name) => new(name, Shape.Value, "a plain number, such as 100", Unit.None);

    private static SheetWords<BipolarDataSheet> OfBipolar(string kind, Polarity polarity) => new(kind, read =>
        new(read.Name, polarity,
            read.Each("gain", p => new GainPoint(p.Positive("least-gain"), p.Positive("amps")) { Most = p.Given("most-gain") }),
            read.Source)
        {
            Bases = read.Each("base", p => new BasePoint(p.Positive("volts"), p.Positive("amps"), p.Given("base-amps"))),
            Saturations = read.Each("saturation", p =>
                new SaturationPoint(p.Positive("volts"), p.Positive("amps"), p.Positive("base-amps"), p.Has("at"))),
        }, Bipolar)
    {
        Added = (catalogue, sheet) => catalogue.With(PartCatalogue.Type(sheet)),
    };

    private static SheetWords<MosDataSheet> OfMos(string kind, Polarity polarity) => new(kind, read =>
        read.Span("threshold-volts") is not { } threshold ? null
        : new(read.Name, polarity, threshold, read.Positive("threshold-amps"),
            read.Each("resistance", p => new OnPoint(p.Positive("ohms"), p.Positive("amps"), p.Positive("gate-volts"), p.Has("at"))),
            read.Source)
        {
            TypicalThreshold = read.Given("typical-volts"),
        }, Mos)
    {
        Added = (catalogue, sheet) => catalogue.With(PartCatalogue.Type(sheet)),
    };
}
