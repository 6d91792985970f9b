using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies.Boards;
using FrontEndSim.FrontEnds.Studies.Faults;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.Language.Binding.Scopes;
using FrontEndSim.Language.Syntax;
using Span = FrontEndSim.FrontEnds.Quantities.Span;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary>A requirement in words.</summary>
/// <param name="Form">Its form, after the subject.</param>
/// <param name="Make">The requirement of a statement in that form, with its text; null after a complaint.</param>
/// <param name="Write">The words that are read as a requirement, subject included; null where it is of another kind.</param>
internal sealed record RequirementWords(Addition Form, Func<StatementSyntax, Scope, string,
    Requirement?> Make, Func<Requirement, string?> Write);

/// <summary>What may be required: a new requirement is a new line here.</summary>
internal static class Requirements
{
    private static Piece OnBoards => new Maybe("on", new OneOf(new Addition("every", "board"),
        new Phrase(new Blank("board-share", Shape.Percent, "a percentage, such as 95%"), "of", "boards")));

    private static Piece AfterCalibration => new Maybe(new Addition("after", "calibration"));

    private static Piece InEvents => new Maybe(new Phrase("in", new OneOf(new Addition("every", "event"),
        new Phrase("event", new Blank("event", Shape.Text, "an event's name in double quotes")))));

    public static ImmutableArray<RequirementWords> All { get; } =
    [
        new(new Addition("inside", "rating", new Maybe(new OneOf(
            new Phrase("in", new OneOf(new Phrase("every", "event"),
                new Phrase("event", new Blank("event", Shape.Text, "an event's name in double quotes")))),
            new Addition("with", "any", "single", "fault")))), InsideRating, r => r switch
            {
                InsideRating { Event: null } every => $"{every.Pin} inside rating in every event",
                InsideRating one => $"{one.Pin} inside rating in event {ValueText.Quoted(one.Event)}",
                InsideRatingWithSingleFault single => $"{single.Pin} inside rating with any single fault",
                _ => null,
            }),
        new(new Addition("mapping", "error", "under", Blank.Of("counts", Unit.Count), OnBoards, AfterCalibration), MappingError,
            r => r is MappingError m ? $"{m.Pin} mapping error under {ValueText.Number(m.MaximumCounts)} counts{Boards(m.Boards)}" : null),
        new(new Addition("reading", "error", "under", new Blank("largest", Shape.Measured, "an error in the sensor's unit, such as 0.5 C"),
                new Maybe("over", new Blank("part-of-span", Shape.MeasuredRange, "a part of the sensor's span, such as 0 C .. 70 C")),
                OnBoards, AfterCalibration),
                    ReadingError,
            r => r is FirmwareError e ? $"{e.Of} reading error under {ValueText.Measured(e.Maximum, e.UnitText)}"
                + (e.Over is { } over ? " over " + ValueText.Measured(over, e.UnitText) : "") + Boards(e.Boards) : null),
        new(new Addition("settles", "to", new Blank("settled", Shape.Value, "an error, such as 1 counts or 1 mV"),
                "within", Blank.Of("settling-time", Unit.Seconds)), Settles,
            r => r is SettlingTime t ? $"{t.Pin} settles to {Written(t.Within)} within {ValueText.Seconds(t.MaximumSeconds)}" : null),
        new(new Addition("within", new Blank("band", Shape.Range, "two voltages, such as 0 V .. 3.3 V", Unit.Volts), InEvents), Within,
            r => r is NodeWithin n ? $"{n.Node} within {ValueText.Of(n.Volts)}{Written(n.Where)}" : null),
        new(new Addition("takes", "under", Blank.Of("amps", Unit.Amps), InEvents), Takes,
            r => r is RailTakes t ? $"{t.Rail} takes under {ValueText.Of(t.MaximumAmps, "A")}{Written(t.Where)}" : null),
        new(new Addition("headroom", "over", Blank.Of("volts", Unit.Volts)), Headroom,
            r => r is Headroom h ? $"{h.Stage} headroom over {ValueText.Volts(h.MinimumVolts)}" : null),
        new(new Addition("power", "under", new Blank("share", Shape.Value, "a percentage, such as 50%", Unit.Percent)), PartPower,
            r => r is PartPower p ? $"{p.Part} power under {ValueText.Percent(p.MaximumShare)}" : null),
        new(new Addition("noise", new OneOf(new Phrase("margin", "over", Blank.Of("margin-volts", Unit.Volts)),
            new Phrase("under", new Blank("rms", Shape.Value, "a root mean square, such as 0.5 counts or 100 uV")))), NoiseMarginOrNoise,
            r => r switch
            {
                NoiseMargin n => $"{n.Pin} noise margin over {ValueText.Volts(n.MinimumVolts)}",
                NoiseUnder n => $"{n.Pin} noise under {Written(n.Maximum)}",
                _ => null,
            }),
        new(new Addition("hum", "under", new Blank("hum-left", Shape.Value, "an error either way, such as 2 counts or 1 mV")), HumUnder,
            r => r is HumUnder h ? $"{h.Pin} hum under {Written(h.Maximum)}" : null),
        new(new Addition("delay", "under", Blank.Of("seconds", Unit.Seconds)), EdgeDelay,
            r => r is EdgeDelay d ? $"{d.Pin} delay under {ValueText.Seconds(d.MaximumSeconds)}" : null),
        new(new Addition("clean", "edges"), CleanEdges, r => r is CleanEdges c ? $"{c.Pin} clean edges" : null),
        new(new Addition("sensor", "fault", "detectable"), FaultsDetectable,
            r => r is FaultsDetectable { Scope: DetectionScope.Sensors } d ? $"{d.Pin ?? Every} sensor fault detectable" : null),
        new(new Addition("fault", "detectable"), FaultsDetectable,
            r => r is FaultsDetectable { Scope: DetectionScope.All } d ? $"{d.Pin ?? Every} fault detectable" : null),
        new(new Addition("part", "inside", "rating", new Maybe("in", "every", "event")), EveryPart,
            r => r is PartsInsideRating { Text: not "" } ? $"{Every} part inside rating" : null),
    ];

    private static string Boards(BoardTarget? boards) => boards is null ? ""
        : $" on {(boards.Share is { } share ? $"{ValueText.Percent(share)} of boards" : "every board")}"
            + (boards.IsCalibrated ? " after calibration" : "");

    private static string Written(Occasions where) => where.Event is { } name ? $" in event {ValueText.Quoted(name)}"
        : where.EveryEvent ? " in every event" : "";

    private static string Written(Quantity quantity) => quantity.Unit == Unit.Count
        ? ValueText.Number(quantity.Value) + " counts" : ValueText.Volts(quantity.Value);

    // The subject of what is required of all pins that read a sensor.
    private const string Every = "every";

    /// <summary>Whether a requirement can be said; what holds without being asked for has no words.</summary>
    public static bool AreSaid(Requirement requirement) => All.Any(w => w.Write(requirement) is not null);

    /// <summary>The words that are read as a requirement, subject included.</summary>
    public static string Write(Requirement requirement) => All.Select(w => w.Write(requirement)).First(text => text is not null)!;

    private static Requirement? EveryPart(StatementSyntax statement, Scope scope, string text)
    {
        if (statement["subject"] is null)
            return new PartsInsideRating(text);
        scope.Diagnostics.Error(statement.Span, DiagnosticCode.Unexpected, "Every part is held to its ratings at once.",
            "every part inside rating, or power under 50% of one part");
        return null;
    }

    private static Requirement? InsideRating(StatementSyntax statement, Scope scope, string text)
    {
        var pin = statement.Token("subject");
        if (!scope.Builder.Use(pin, "pin"))
            return null;
        string? name = null;
        if (statement["event"] is Filled<Token> { Value: var named })
        {
            name = named.Text;
            if (!IsKnown(named, scope))
                return null;
        }
        else if (scope.Builder.Events.Count == 0 && !statement.Has("with"))
            scope.Diagnostics.Warn(statement.Span, DiagnosticCode.NoEvent,
                "The circuit has no event, so this holds of itself.", "an event, such as: event \"24 V on the terminal\" at IN");
        if (scope.Builder.Pins.FirstOrDefault(p => p.Name == pin.Text) is { RatedLow: null, RatedHigh: null, InjectionAmps: null })
        {
            scope.Diagnostics.Error(pin.Span, DiagnosticCode.PinWithoutRating, $"Pin {pin.Text} has no rating that it could be inside of.",
                "rated LOW .. HIGH below the pin, such as rated -0.3 V .. VDD + 0.3 V");
            return null;
        }
        return statement.Has("with") ? new InsideRatingWithSingleFault(pin.Text, text) : new InsideRating(pin.Text, name, text);
    }

    private static MappingError? MappingError(StatementSyntax statement, Scope scope, string text)
    {
        var pin = statement.Token("subject");
        if (!scope.Builder.Use(pin, "pin") || scope.Positive(statement["counts"]) is not { } counts)
            return null;
        if (scope.Builder.Pins.FirstOrDefault(p => p.Name == pin.Text) is { Converter: null } && !scope.Diagnostics.HasErrors)
        {
            scope.Diagnostics.DoesNotConvert(pin.Span, pin.Text, "it has no counts");
            return null;
        }
        if (Mapped(pin.Text, scope.Builder) is { IsVoltage: false } sensor
            && scope.Builder.Pins.First(p => p.Name == pin.Text).Wanted is null
            && scope.Builder.Stages.All(s => s.Mapping?.Sensor != sensor.Name))
        {
            scope.Diagnostics.Error(pin.Span, DiagnosticCode.NoSensorAtPin,
                $"Nothing says where sensor {sensor.Name} is to land on pin {pin.Text}, so the mapping has no error.",
                $"maps {sensor.Name} onto LOW .. HIGH below the pin, or what the reading has to be: require {pin.Text} reading error "
                    + $"under 1 {(sensor.UnitText == "°C" ? "C" : sensor.UnitText)}");
            return null;
        }
        return !CanFail(pin, counts, statement["counts"]!, scope) ? null
            : Boards(statement, scope) is { } boards ? new MappingError(pin.Text, counts, text) { Boards = boards.Target } : null;
    }

    /// <summary>Whether a pin could be off by so many counts at all; complains where it could not, as the requirement then holds of
    /// itself.</summary>
    private static bool CanFail(Token pin, double counts, Filled blank, Scope scope)
    {
        if (scope.Builder.Pins.FirstOrDefault(p => p.Name == pin.Text)?.Converter is not { } converter || counts < converter.Codes)
            return true;
        scope.Diagnostics.Error(blank.Span, DiagnosticCode.OutOfRange,
            $"Pin {pin.Text} has {ValueText.Number(converter.Codes)} codes in all, so this holds of itself.", "a small part of that");
        return false;
    }

    private static bool IsKnown(Token named, Scope scope)
    {
        if (scope.Builder.Events.Any(e => e.Name == named.Text))
            return true;
        scope.Diagnostics.UnknownEvent(named, scope.Builder.Events.Select(e => e.Name).ToList());
        return false;
    }

    /// <summary>What is asked of the boards, which may be nothing; null after a complaint.</summary>
    private static (BoardTarget? Target, bool)? Boards(StatementSyntax statement, Scope scope)
    {
        bool isCalibrated = statement.Has("after");
        if (statement["board-share"] is not { } blank)
            return (statement.Has("every") || isCalibrated ? new BoardTarget(null, isCalibrated) : null, true);
        if (scope.Fraction(blank) is not { } share)
            return null;
        // Half of the boards are above the middle; of what one board in a thousand does, trials say little.
        if (share is >= 0.5 and <= 0.999)
            return (new BoardTarget(share, isCalibrated), true);
        scope.Diagnostics.Error(blank.Span, DiagnosticCode.OutOfRange,
            "A share of boards lies between 50% and 99.9%.", "95%, or: on every board");
        return null;
    }

    /// <summary>Where something must hold; null after a complaint.</summary>
    private static Occasions? Where(StatementSyntax statement, Scope scope)
    {
        if (statement["event"] is Filled<Token> { Value: var named })
            return IsKnown(named, scope) ? new Occasions(false, named.Text) : null;
        if (statement.Has("every") && scope.Builder.Events.Count == 0)
            scope.Diagnostics.Warn(statement.Span, DiagnosticCode.NoEvent,
                "The circuit has no event, so this is judged at the operating point alone.",
                "an event, such as: event \"24 V on the terminal\" at IN");
        return new Occasions(statement.Has("every"), null);
    }

    private static NodeWithin? Within(StatementSyntax statement, Scope scope, string text)
    {
        var node = statement.Token("subject");
        if (scope.Span(statement["band"]) is not { } volts || Where(statement, scope) is not { } where)
            return null;
        var known = Nodes(Assembled(scope.Builder)).Distinct().ToList();
        if (known.Contains(node.Text))
            return new NodeWithin(node.Text, volts, where, text);
        if (!scope.Diagnostics.HasErrors)
            scope.Diagnostics.Error(node.Span, DiagnosticCode.UnknownName, $"There is no node named {node.Text}.", null,
                Nearest.Question(node.Text, known));
        return null;
    }

    private static IEnumerable<string> Nodes(FrontEnd frontEnd) => frontEnd.Rails.Select(r => r.Name)
        .Concat(frontEnd.Sensors.SelectMany(s => s.Nodes)).Concat(frontEnd.AllParts.SelectMany(p => p.Nodes))
        .Concat(frontEnd.Pins.Select(p => p.Node));

    private static RailTakes? Takes(StatementSyntax statement, Scope scope, string text)
    {
        var rail = statement.Token("subject");
        return scope.Builder.Use(rail, "rail") && scope.Positive(statement["amps"]) is { } amps && Where(statement, scope) is { } where
            ? new RailTakes(rail.Text, amps, where, text) : null;
    }

    private static SettlingTime? Settles(StatementSyntax statement, Scope scope, string text) =>
        ReadPin(statement, scope) is { } pin && CountsOrVolts(pin, statement["settled"]!, scope) is { } within
            && scope.Positive(statement["settling-time"]) is { } seconds ? new(pin.Name, within, seconds, text) : null;

    private static Requirement? NoiseMarginOrNoise(StatementSyntax statement, Scope scope, string text) =>
        statement["rms"] is not { } rms ? NoiseMargin(statement, scope, text)
        : ReadPin(statement, scope) is { } pin && CountsOrVolts(pin, rms, scope) is { } most ? new NoiseUnder(pin.Name, most, text) : null;

    private static HumUnder? HumUnder(StatementSyntax statement, Scope scope, string text)
    {
        if (ReadPin(statement, scope) is not { } pin || CountsOrVolts(pin, statement["hum-left"]!, scope) is not { } most)
            return null;
        if (scope.Builder.Sensors.Any(s => s.Hum is not null))
            return new(pin.Name, most, text);
        scope.Diagnostics.Error(statement.Span, DiagnosticCode.ReadingUndecided,
            "No sensor has a hum on its line, so that nothing is left of it.", "hum 50 mV at 50 Hz below the sensor, for example");
        return null;
    }

    /// <summary>The pin that is spoken of, which a sensor reaches; null after a complaint.</summary>
    private static Pin? ReadPin(StatementSyntax statement, Scope scope)
    {
        var name = statement.Token("subject");
        if (!scope.Builder.Use(name, "pin") || scope.Diagnostics.HasErrors)
            return null;
        if (Mapped(name.Text, scope.Builder) is not null)
            return scope.Builder.Pins.First(p => p.Name == name.Text);
        scope.Diagnostics.NoSensorReaches(name.Span, name.Text, "there is nothing that it follows");
        return null;
    }

    /// <summary>An error at a pin above zero, in counts or volts; null after a complaint.</summary>
    private static Quantity? CountsOrVolts(Pin pin, Filled blank, Scope scope)
    {
        if (blank is not Filled<Expression> { Value: var expression } || scope.Evaluate(expression, null) is not { } value)
            return null;
        var found = value.Quantity;
        if (found.Unit == Unit.Count && pin.Converter is null)
            scope.Diagnostics.DoesNotConvert(expression.Span, pin.Name, "it has no counts",
                "a voltage, or: converts BITS bits over LOW .. HIGH below the pin");
        else if (found.Unit != Unit.Count && found.Unit != Unit.Volts)
            scope.Diagnostics.Error(expression.Span, DiagnosticCode.WrongUnit, $"This is {found}, but counts or a voltage are needed here.",
                "such as 1 counts or 1 mV");
        else if (!(found.Value > 0))
            scope.Diagnostics.Error(expression.Span, DiagnosticCode.OutOfRange, "This must be greater than zero.");
        else if (found.Unit != Unit.Count || pin.Converter is not { } converter || found.Value < converter.Codes)
            return found;
        else
            scope.Diagnostics.Error(expression.Span, DiagnosticCode.OutOfRange,
                $"Pin {pin.Name} has {ValueText.Number(converter.Codes)} codes in all, so this holds of itself.", "a small part of that");
        return null;
    }

    private static Requirement? ReadingError(StatementSyntax statement, Scope scope, string text)
    {
        var pin = statement.Token("subject");
        if (scope.Builder.Pins.FirstOrDefault(p => p.Name == pin.Text) is { Logic: not null, Converter: null } counter)
            return CountedError(counter, statement, scope, text);
        var combined = scope.Builder.Readings.FirstOrDefault(r => r.Name == pin.Text);
        var alternating = scope.Builder.AlternatingReadings.FirstOrDefault(r => r.Name == pin.Text);
        if (combined is null && alternating is null && scope.Builder.Names.TryGetValue(pin.Text, out var named) && named.What == "reading")
            return null;
        string? known = combined?.Sensor ?? alternating?.Sensor;
        if ((known is null ? ReadBy(pin, scope) : scope.Builder.Sensors.First(s => s.Name == known)) is not { } sensor
            || alternating is null && !IsKnownAlone(pin, combined, sensor, scope)
            || scope.Measured(statement["largest"], sensor.UnitText) is not { } largest)
            return null;
        if (!(largest > 0))
        {
            scope.Diagnostics.Error(statement["largest"]!.Span, DiagnosticCode.OutOfRange, "This must be greater than zero.");
            return null;
        }
        var whole = sensor.Alternation is { } wave && alternating is not null ? wave.Amplitudes : sensor.Span;
        if (largest >= whole.Width)
        {
            scope.Diagnostics.Error(statement["largest"]!.Span, DiagnosticCode.OutOfRange,
                $"Sensor {sensor.Name} measures {ValueText.Measured(whole, sensor.UnitText)}, so this holds of nearly any code.",
                "a small part of that");
            return null;
        }
        if (Boards(statement, scope) is not { } boards)
            return null;
        // Every board is what is asked for if nothing else is.
        var target = boards.Target is { Share: null, IsCalibrated: false } ? null : boards.Target;
        if (known is not null && target is not null)
        {
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.ReadingUndecided,
                "A reading from several pins or over periods is judged on every board, without a calibration.",
                "reading error under so much, and no more");
            return null;
        }
        if (statement["part-of-span"] is not { } part)
            return Of(null);
        if (scope.MeasuredSpan(part, sensor.UnitText) is not { } over)
            return null;
        if (over.Low >= whole.Low && over.High <= whole.High)
            return Of(over);
        scope.Diagnostics.Error(part.Span, DiagnosticCode.OutOfRange,
            $"Sensor {sensor.Name} measures {ValueText.Measured(whole, sensor.UnitText)}, so nothing is known beyond that.",
            "a part of that");
        return null;

        Requirement Of(Span? part) => alternating is not null
            ? new AlternatingReadingError(alternating.Name, largest, sensor.UnitText, part, text)
            : combined is null ? new ReadingError(pin.Text, largest, sensor.UnitText, part, text) { Boards = target }
            : new CombinedReadingError(combined.Name, largest, sensor.UnitText, part, text);
    }

    /// <summary>Of a pin that counts pulses.</summary>
    private static CountedReadingError? CountedError(Pin pin, StatementSyntax statement, Scope scope, string text)
    {
        var subject = statement.Token("subject");
        if (!scope.Builder.Use(subject, "pin") || scope.Diagnostics.HasErrors)
            return null;
        if (pin.Counting is null || Mapped(pin.Name, scope.Builder)?.Pulses is not { } train)
        {
            scope.Diagnostics.Error(subject.Span, DiagnosticCode.NoSensorAtPin, pin.Counting is null
                ? $"It is not said for how long pulses at pin {pin.Name} are counted, so they say nothing."
                : $"No sensor with pulses reaches pin {pin.Name}, so what it counts says nothing.",
                pin.Counting is null ? "counts pulses for 1 s below the pin, for example"
                    : "gives 7 Hz .. 210 Hz pulses 0 V .. 5 V, for example");
            return null;
        }
        var over = statement["part-of-span"] is { } part ? scope.MeasuredSpan(part, train.UnitText) : null;
        if (scope.Measured(statement["largest"], train.UnitText) is not { } largest
            || statement["part-of-span"] is not null && over is null)
            return null;
        if (largest >= train.Measured.Width)
        {
            scope.Diagnostics.Error(statement["largest"]!.Span, DiagnosticCode.OutOfRange,
                $"The sensor measures {ValueText.Measured(train.Measured, train.UnitText)}, so this holds of nearly any count.",
                "a small part of that");
            return null;
        }
        if (largest > 0 && (over is not { } some || some.Low >= train.Measured.Low && some.High <= train.Measured.High))
            return new(pin.Name, largest, train.UnitText, over, text);
        scope.Diagnostics.Error(statement.Span, DiagnosticCode.OutOfRange, largest > 0
            ? $"The sensor measures {ValueText.Measured(train.Measured, train.UnitText)}, so nothing is known beyond that."
            : "This must be greater than zero.");
        return null;
    }

    /// <summary>Whether a pin alone says what is measured; complains where the cold junction is measured at another.</summary>
    private static bool IsKnownAlone(Token pin, CombinedReading? combined, Sensor sensor, Scope scope)
    {
        if (combined is not null || sensor.Law is not ThermocoupleLaw { IsJunctionMeasured: true })
            return true;
        var reading = scope.Builder.Readings.FirstOrDefault(r => r.Pins[0] == pin.Text);
        scope.Diagnostics.Error(pin.Span, DiagnosticCode.ReadingUndecided,
            $"The cold junction of {sensor.Name} is measured at another pin, so pin {pin.Text} alone says no temperature.",
            reading is null ? $"a line such as reading NAME from {pin.Text} and COLD-PIN"
                : $"require {reading.Name} reading error under ...");
        return false;
    }

    /// <summary>The sensor that a pin reads; null after a complaint.</summary>
    private static Sensor? ReadBy(Token pin, Scope scope)
    {
        if (!scope.Builder.Use(pin, "pin") || scope.Diagnostics.HasErrors)
            return null;
        if (scope.Builder.Pins.First(p => p.Name == pin.Text).Converter is null)
        {
            scope.Diagnostics.DoesNotConvert(pin.Span, pin.Text, "firmware reads no code");
            return null;
        }
        if (Mapped(pin.Text, scope.Builder) is { } sensor)
            return sensor;
        scope.Diagnostics.NoSensorReaches(pin.Span, pin.Text, "its code says nothing");
        return null;
    }

    /// <summary>The sensor that reaches a pin, as far as the file was read; null for none.</summary>
    private static Sensor? Mapped(string pin, FrontEndBuilder builder)
    {
        var frontEnd = Assembled(builder);
        return frontEnd.Pins.FirstOrDefault(p => p.Name == pin) is { } target ? MappingStudy.SensorOf(frontEnd, target) : null;
    }

    /// <summary>What leads to the pins, as far as the file was read.</summary>
    internal static FrontEnd Assembled(FrontEndBuilder builder) => new()
    {
        Rails = [.. builder.Rails],
        Sensors = [.. builder.Sensors],
        Stages = [.. builder.Stages],
        Parts = [.. builder.Parts],
        Pins = [.. builder.Pins],
    };

    private static FaultsDetectable? FaultsDetectable(StatementSyntax statement, Scope scope, string text)
    {
        var faults = statement.Has("sensor") ? DetectionScope.Sensors : DetectionScope.All;
        if (statement["subject"] is not null)
        {
            var pin = statement.Token("subject");
            return ReadBy(pin, scope) is null ? null : new(pin.Text, faults, text);
        }
        if (scope.Builder.Pins.Any(p => p.Converter is not null && Mapped(p.Name, scope.Builder) is not null))
            return new(null, faults, text);
        if (!scope.Diagnostics.HasErrors)
        {
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.NoSensorAtPin,
                "No pin that converts reads a sensor, so no code could show a fault.",
                    "a pin that converts, at a node that a sensor reaches");
        }
        return null;
    }

    private static NoiseMargin? NoiseMargin(StatementSyntax statement, Scope scope, string text) =>
        LogicPin(statement, scope) is { } pin && scope.NotNegative(statement["margin-volts"]) is { } volts ? new(pin, volts, text) : null;

    private static EdgeDelay? EdgeDelay(StatementSyntax statement, Scope scope, string text) =>
        LogicPin(statement, scope) is { } pin && scope.Positive(statement["seconds"]) is { } seconds ? new(pin, seconds, text) : null;

    private static CleanEdges? CleanEdges(StatementSyntax statement, Scope scope, string text) =>
        LogicPin(statement, scope) is { } pin ? new(pin, text) : null;

    /// <summary>The name of the pin that is spoken of, or null after a complaint.</summary>
    private static string? LogicPin(StatementSyntax statement, Scope scope)
    {
        var pin = statement.Token("subject");
        if (!scope.Builder.Use(pin, "pin"))
            return null;
        if (scope.Builder.Pins.FirstOrDefault(p => p.Name == pin.Text) is { Logic: null } && !scope.Diagnostics.HasErrors)
        {
            scope.Diagnostics.Error(pin.Span, DiagnosticCode.PinWithoutLogic, $"Pin {pin.Text} has no logic levels.",
                "type FAMILY on RAIL below the pin, FAMILY one of " + string.Join(", ", LogicFamily.Names));
            return null;
        }
        return pin.Text;
    }

    private static Headroom? Headroom(StatementSyntax statement, Scope scope, string text)
    {
        var stage = statement.Token("subject");
        if (!scope.Builder.Use(stage, "stage") || scope.NotNegative(statement["volts"]) is not { } volts)
            return null;
        if (scope.Builder.Stages.FirstOrDefault(s => s.Name == stage.Text) is { } built && !built.Parts.Any(p => p.Amplifier is not null))
        {
            scope.Diagnostics.Error(stage.Span, DiagnosticCode.StageWithoutOpAmp,
                $"Stage {stage.Text} has no op amp, so there is no headroom to speak of.");
            return null;
        }
        return new Headroom(stage.Text, volts, text);
    }

    private static PartPower? PartPower(StatementSyntax statement, Scope scope, string text)
    {
        var name = statement.Token("subject");
        var parts = scope.Builder.Parts.Concat(scope.Builder.Stages.SelectMany(s => s.Parts)).ToList();
        if (parts.FirstOrDefault(p => p.Name == name.Text) is not { } part)
        {
            if (!scope.Diagnostics.HasErrors)
                scope.Diagnostics.Error(name.Span, DiagnosticCode.UnknownName, $"There is no part named {name.Text}.",
                    null, Nearest.Question(name.Text, parts.Select(p => p.Name)));
            return null;
        }
        if (!part.Ratings().Any(r => r.Kind == RatingKind.Power))
        {
            scope.Diagnostics.Error(name.Span, DiagnosticCode.PartWithoutRating,
                $"{name.Text} is a {part.Word}, for which no power rating is known.");
            return null;
        }
        if (scope.Evaluate(statement.Get<Expression>("share"), Unit.Percent) is not { } share)
            return null;
        if (share is { IsPercent: true, Quantity.Value: > 0 })
            return new PartPower(name.Text, share.Quantity.Value, text);
        scope.Diagnostics.Error(statement["share"]!.Span, share.IsPercent ? DiagnosticCode.OutOfRange
            : DiagnosticCode.PercentageNeeded, "A share of the rated power above zero is needed.", "a percentage, such as 50%");
        return null;
    }
}
