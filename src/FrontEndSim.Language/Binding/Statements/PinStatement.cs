using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Pins;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.Language.Binding.Scopes;
using FrontEndSim.Language.Syntax;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary><c>pin adc at PIN</c></summary>
internal sealed class PinStatement : StatementKind
{
    public override string Keyword => "pin";

    public override string Summary =>
        "The pin that is measured with or protected: its ratings, its converter, its sampling capacitor and its leakage.";

    protected override ImmutableArray<Piece> Head => [NewName("pin"), "at", Blank.Node("node")];

    public override ImmutableArray<Addition> Additions { get; } =
    [
        new("type", new Blank("pin-type", Shape.TypeName, "a type of pin, such as converter-3v3"),
            "on", new Blank("type-rail", Shape.Name, "a rail")),
        new("rated", new Blank("rating", Shape.Range, UnitWords.Describe(Unit.Volts), Unit.Volts)),
        new("injection", Blank.Of("amps", Unit.Amps)),
        new("converts", new Blank("bits", Shape.Value, "a number of bits, such as 12 bits", Unit.None), "bits", "over",
            new Blank("range", Shape.Range, UnitWords.Describe(Unit.Volts), Unit.Volts)),
        new("offset-error", CountsOrShare("offset-counts")),
        new("gain-error", CountsOrShare("gain-counts")),
        new("linearity", CountsOrShare("linearity-counts")),
        new("samples", Blank.Of("farads", Unit.Farad), "through", Blank.Of("ohms", Unit.Ohm), "for", Blank.Of("seconds", Unit.Seconds)),
        new("averages", new Blank("average-count", Shape.Value, "a number of samples, such as 16", Unit.None), "samples", "at",
            Blank.Of("average-hertz", Unit.Hertz)),
        new("counts", "pulses", "for", Blank.Of("gate-time", Unit.Seconds), new Maybe("within", Blank.Percentage("clock-tolerance"))),
        new("leakage", Blank.Of("leakage-amps", Unit.Amps)),
        new("capacitance", Blank.Of("pin-farads", Unit.Farad)),
        new("input-resistance", Blank.Of("input-ohms", Unit.Ohm), new Maybe("to", Blank.Node("input-node"))),
        new("switched-input", Blank.Of("switched-farads", Unit.Farad), "at", Blank.Of("hertz", Unit.Hertz),
            new Maybe("to", Blank.Node("switched-node"))),
        new("supply", new Blank("rail", Shape.Name, "a rail")),
        new("unclamped"),
        new("channel", Blank.Node("channel-node"), "of", new Blank("multiplexer", Shape.Name, "a multiplexer")),
        new("maps", new Blank("sensor", Shape.Name, "a sensor"), "onto",
            new Blank("wanted", Shape.Range, UnitWords.Describe(Unit.Volts), Unit.Volts),
            new Maybe(new Addition("inverted"))),
    ];

    public override Turn Turn => Turn.Second;

    public override void Declare(StatementSyntax statement, Scope scope) => scope.Declare(statement.Token("name"), "pin");

    public override void Bind(StatementSyntax statement, Scope scope)
    {
        var name = statement.Token("name");
        if (!scope.Builder.HasRoom(scope.Builder.Pins.Count, "pins", statement.Span))
            return;
        var at = statement.Token("node");
        string node = scope.Node(at);
        scope.Builder.Probes.Add((node, at.Span, $"pin {name.Text}"));
        scope.Builder.Places[name.Text] = statement.Span;
        var rated = scope.LevelSpan(statement["rating"]);
        bool hasSupply = statement.Has("supply") && scope.Builder.Use(statement.Token("rail"), "rail");
        var channel = Channel(statement, scope);
        if (channel is not null && scope.Builder.Pins.FirstOrDefault(p => p.Node == node && p.SameAs is null
            && p.Channel?.Multiplexer == channel.Multiplexer) is { } first)
        {
            Again(statement, scope, first.Through(name.Text, channel));
            return;
        }
        var typed = Typed(statement, scope, name.Text, node);
        var converter = Converter(statement, scope);
        if (!statement.Has("converts") && ErrorWords.FirstOrDefault(statement.Has) is { } word)
            scope.Diagnostics.DoesNotConvert(statement.Span, name.Text, $"it has no {word}");
        scope.Builder.Pins.Add(typed with
        {
            RatedLow = rated?.Low ?? typed.RatedLow,
            RatedHigh = rated?.High ?? typed.RatedHigh,
            InjectionAmps = scope.Positive(statement["amps"]) ?? typed.InjectionAmps,
            Converter = converter,
            Sampling = Sampling(statement, scope),
            Averaging = Averaging(statement, scope),
            Counting = Counting(statement, scope, typed),
            LeakageAmps = scope.Number(statement["leakage-amps"]) ?? typed.LeakageAmps,
            Farads = scope.NotNegative(statement["pin-farads"]) ?? typed.Farads,
            Load = Load(statement, scope),
            Wanted = Wanted(statement, scope),
            Channel = channel,
            // What stands volts below ground has no diode from there.
            HasClamps = !statement.Has("unclamped") && (rated?.Low ?? typed.RatedLow) is not { Rail: null, Volts: < -1 },
            Supply = hasSupply ? statement.Token("rail").Text : typed.Supply,
        });
    }

    // What a pin of the chip stands and loads, whichever channel is read through it.
    private static readonly string[] OfTheChip =
        ["type", "rated", "injection", "leakage", "capacitance", "input-resistance", "switched-input", "supply", "unclamped"];

    /// <summary>A pin that is read through one more channel: only what concerns that reading is said again.</summary>
    private static void Again(StatementSyntax statement, Scope scope, Pin pin)
    {
        if (OfTheChip.FirstOrDefault(statement.Has) is { } word)
        {
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.SettingTwice,
                $"Pin {pin.Name} is pin {pin.SameAs}, read through another channel: its {word} is said there.",
                $"{word} below pin {pin.SameAs}");
            return;
        }
        scope.Builder.Pins.Add(pin with
        {
            Converter = statement.Has("converts") ? Converter(statement, scope) : pin.Converter,
            Sampling = statement.Has("samples") ? Sampling(statement, scope) : pin.Sampling,
            Wanted = Wanted(statement, scope),
        });
    }

    private static MultiplexerChannel? Channel(StatementSyntax statement, Scope scope)
    {
        if (!statement.Has("channel"))
            return null;
        var token = statement.Token("multiplexer");
        return scope.Builder.Use(token, "multiplexer") ? new(token.Text, scope.Node(statement.Token("channel-node"))) : null;
    }

    /// <summary>What the pin draws in proportion to its voltage; null for nothing or after a complaint.</summary>
    private static InputLoad? Load(StatementSyntax statement, Scope scope)
    {
        string Other(string blank) => statement[blank] is null ? Circuit.Ground : scope.Node(statement.Token(blank));
        if (statement.Has("input-resistance") && statement.Has("switched-input"))
        {
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.SettingTwice,
                "The pin has an input resistance and a switched input, which is one by another name.", "one of the two");
            return null;
        }
        if (statement.Has("input-resistance"))
            return scope.Positive(statement["input-ohms"]) is { } ohms ? new InputLoad(ohms, Other("input-node")) : null;
        return scope.Positive(statement["switched-farads"]) is { } farads && scope.Positive(statement["hertz"]) is { } hertz
            ? InputLoad.Switched(farads, hertz, Other("switched-node")) : null;
    }

    /// <summary>Where a sensor's span is wanted; null if nothing is wanted or after a complaint.</summary>
    private static WantedMapping? Wanted(StatementSyntax statement, Scope scope)
    {
        if (!statement.Has("maps"))
            return null;
        var name = statement.Token("sensor");
        bool isKnown = scope.Builder.Use(name, "sensor");
        if (scope.Span(statement["wanted"]) is not { } onto || !isKnown
            || scope.Builder.Sensors.FirstOrDefault(s => s.Name == name.Text) is not { } sensor)
            return null;
        return new WantedMapping(sensor.Name, sensor.Span, onto) { IsInverted = statement.Has("inverted") };
    }

    /// <summary>The pin as its type has it, before what is said of it beside; a bare pin without a type or after a complaint.</summary>
    private static Pin Typed(StatementSyntax statement, Scope scope, string name, string node)
    {
        if (!statement.Has("type"))
            return new Pin(name, node);
        var type = statement.Token("pin-type");
        var rail = statement.Token("type-rail");
        bool hasRail = scope.Builder.Use(rail, "rail");
        if (PinType.Find(type.Text) is { } known)
            return hasRail ? known.ToPin(name, node, rail.Text) : new Pin(name, node);
        scope.Diagnostics.UnknownType(type, "type of pin", [.. PinType.All.Select(t => t.Name)]);
        return new Pin(name, node);
    }

    private static Converter? Converter(StatementSyntax statement, Scope scope) =>
        scope.Within(statement["bits"], b => b is >= 1 and <= 32 && b == Math.Floor(b), "a whole number from 1 to 32") is { } bits
        && scope.LevelSpan(statement["range"]) is { } range ? WithErrors(new Converter((int)bits, range), statement, scope) : null;

    private static readonly string[] ErrorWords = ["offset-error", "gain-error", "linearity"];

    private static Blank CountsOrShare(string name) => new(name, Shape.Value, "counts or a share of the range, such as 3 counts or 0.1%");

    private static Converter WithErrors(Converter converter, StatementSyntax statement, Scope scope) => converter with
    {
        OffsetErrorCounts = Counts(statement["offset-counts"], converter, scope),
        GainErrorCounts = Counts(statement["gain-counts"], converter, scope),
        LinearityCounts = Counts(statement["linearity-counts"], converter, scope),
    };

    /// <summary>Counts, or the share of the range in counts; 0 after a complaint.</summary>
    private static double? Counts(Filled? blank, Converter converter, Scope scope)
    {
        if (blank is not Filled<Expression> given || scope.Evaluate(given.Value, null) is not { } value)
            return null;
        var span = given.Span;
        if (value.Quantity.Unit != Unit.Count && !value.IsPercent)
            scope.Diagnostics.Error(span, DiagnosticCode.WrongUnit,
                $"This is {UnitWords.Name(value.Quantity.Unit)} ({value.Quantity}), but counts or a percentage are needed here.",
                "counts or a share of the range, such as 3 counts or 0.1%");
        else if (value.Quantity.Value < 0)
            scope.Diagnostics.Error(span, DiagnosticCode.OutOfRange, "This must be zero or more: it is a limit either way.");
        else
            return value.IsPercent ? value.Quantity.Value * converter.Codes : value.Quantity.Value;
        return null;
    }

    private static Sampling? Sampling(StatementSyntax statement, Scope scope) =>
        scope.Positive(statement["farads"]) is { } farads && scope.NotNegative(statement["ohms"]) is { } ohms
            && scope.Positive(statement["seconds"]) is { } seconds
            ? new Sampling(farads, ohms, seconds) : null;

    /// <summary>How firmware counts its pulses; null where it does not or after a complaint.</summary>
    private static PulseCounting? Counting(StatementSyntax statement, Scope scope, Pin typed)
    {
        if (scope.Positive(statement["gate-time"]) is not { } seconds)
            return null;
        if (typed.Logic is not null)
            return new(seconds, scope.Fraction(statement["clock-tolerance"]) ?? 0);
        scope.Diagnostics.Error(statement.Span, DiagnosticCode.PinWithoutLogic,
            $"Pin {typed.Name} has no logic levels, so it counts no pulses.",
            "type FAMILY on RAIL below the pin, FAMILY one of " + string.Join(", ", LogicFamily.Names));
        return null;
    }

    private static Averaging? Averaging(StatementSyntax statement, Scope scope) =>
        scope.Within(statement["average-count"], n => n is >= 1 and <= FrontEnds.Model.Averaging.MostSamples && n == Math.Floor(n),
            $"a whole number from 1 to {FrontEnds.Model.Averaging.MostSamples}") is { } count
        && scope.Positive(statement["average-hertz"]) is { } hertz ? new((int)count, hertz) : null;

    public override IEnumerable<StatementText> Write(FrontEnd frontEnd) =>
        frontEnd.Pins.Select(pin => pin.SameAs is { } first ? Write(pin, frontEnd.FindPin(first)) : new StatementText(Placed(pin),
    [
        .. pin.Type is { } typed ? [$"type {typed.Type.Name} on {typed.Rail}"] : Array.Empty<string>(),
        .. pin is { RatedLow: { } low, RatedHigh: { } high } ? [$"rated {ValueText.Of(low)} .. {ValueText.Of(high)}"]
            : Array.Empty<string>(),
        .. StatementText.If(pin.InjectionAmps, amps => "injection " + ValueText.Of(amps, "A")),
        .. pin.Converter is { } converter ? Write(converter) : [],
        .. pin.Sampling is { } s
            ? [Write(s)]
            : Array.Empty<string>(),
        .. pin.Averaging is { } mean ? [$"averages {mean.Count} samples at {ValueText.Of(mean.Hertz, "Hz")}"] : Array.Empty<string>(),
        .. pin.Counting is { } counting ? [$"counts pulses for {ValueText.Seconds(counting.GateSeconds)}"
            + (counting.ClockTolerance > 0 ? " within " + ValueText.Percent(counting.ClockTolerance) : "")] : Array.Empty<string>(),
        .. StatementText.If(pin.LeakageAmps != 0 || pin.Type is not null, () => "leakage " + ValueText.Of(pin.LeakageAmps, "A")),
        .. StatementText.If(pin.Farads != Pin.UsualFarads, () => "capacitance " + ValueText.Farads(pin.Farads)),
        .. pin.Load is { } load ? [Write(load)] : Array.Empty<string>(),
        .. StatementText.If(pin.Supply is not null, () => "supply " + pin.Supply),
        .. StatementText.If(!pin.HasClamps, () => "unclamped"),
        .. pin.Wanted is { } w ? [Write(w)] : Array.Empty<string>(),
    ]));

    private static string Placed(Pin pin) => $"pin {pin.Name} at {pin.Node}"
        + (pin.Channel is { } channel ? $" channel {channel.Node} of {channel.Multiplexer}" : "");

    private static StatementText Write(Pin pin, Pin first) => new(Placed(pin),
    [
        .. pin.Converter is { } converter && converter != first.Converter ? Write(converter) : [],
        .. pin.Sampling is { } s && s != first.Sampling ? [Write(s)] : Array.Empty<string>(),
        .. pin.Wanted is { } w ? [Write(w)] : Array.Empty<string>(),
    ]);

    private static string Write(Sampling s) =>
        $"samples {ValueText.Farads(s.Farads)} through {ValueText.Ohms(s.Ohms)} for {ValueText.Seconds(s.Seconds)}";

    private static string Write(WantedMapping w) =>
        $"maps {w.Sensor} onto {ValueText.Of(w.Output)}{(w.IsInverted ? " inverted" : "")}";

    private static string Write(InputLoad load) => (load is { Farads: { } farads, Hertz: { } hertz }
        ? $"switched-input {ValueText.Farads(farads)} at {ValueText.Of(hertz, "Hz")}" : "input-resistance " + ValueText.Ohms(load.Ohms))
        + (load.Other == Circuit.Ground ? "" : " to " + load.Other);

    private static IEnumerable<string> Write(Converter converter) =>
    [
        $"converts {converter.Bits} bits over {ValueText.Of(converter.Span)}",
        .. StatementText.If(converter.OffsetErrorCounts, c => $"offset-error {ValueText.Number(c)} counts"),
        .. StatementText.If(converter.GainErrorCounts, c => $"gain-error {ValueText.Number(c)} counts"),
        .. StatementText.If(converter.LinearityCounts, c => $"linearity {ValueText.Number(c)} counts"),
    ];
}
