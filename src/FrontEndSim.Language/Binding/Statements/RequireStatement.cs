using System.Collections.Immutable;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.Language.Binding.Scopes;
using FrontEndSim.Language.Forms;
using FrontEndSim.Language.Syntax;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary><c>require adc inside rating in every event</c></summary>
internal sealed class RequireStatement : StatementKind
{
    public override string Keyword => "require";

    public override string Summary => "What must hold; check says whether it does, and by how much.";

    protected override ImmutableArray<Piece> Head =>
        [new Blank("subject", Shape.Name, "a pin, stage or part"), new OneOf([.. Requirements.All.Select(r => (Piece)r.Form)])];

    public override Turn Turn => Turn.Last;

    public override void Bind(StatementSyntax statement, Scope scope)
    {
        var words = Requirements.All.First(r => statement.Has(r.Form.Name));
        if (IsOfStageToCome(statement.Token("subject").Text, words, scope.Draft))
            return;
        string text = statement.Span.File.Line(statement.Span.Line)
            .Substring(statement.Span.Column - 1 + Keyword.Length, statement.Span.Length - Keyword.Length).Trim();
        if (!scope.Draft.HasRoom(scope.Draft.Requirements.Count, "requirements", statement.Span)
            || words.Make(statement, scope, text) is not { } requirement)
            return;
        scope.Draft.Requirements.Add(requirement);
        scope.Draft.RequirementPlaces[requirement] = statement.Span;
        // What must hold in an event that may come either way must hold in both.
        if (requirement is InsideRating { Event: { } happening } inside && scope.Draft.Twins.TryGetValue(happening, out string? twin))
        {
            var other = inside with { Event = twin, Text = Requirements.Write(inside with { Event = twin }) };
            scope.Draft.Requirements.Add(other);
            scope.Draft.RequirementPlaces[other] = statement.Span;
        }
    }

    /// <summary>Whether it is required of a stage that is still to be designed, so that it can be judged only once the stage is
    /// there.</summary>
    private static bool IsOfStageToCome(string subject, RequirementWords words, Draft draft)
    {
        if (draft.Unfinished is not { } unfinished)
            return false;
        string stage = subject.Split('.')[0];
        if (unfinished.Any(u => u.Request.Name == stage))
            return true;
        // A stage that is left out is known from what is required of it alone.
        bool namesStage = words.Form.Name == "headroom" || subject.Contains('.');
        if (unfinished.Count > 0 || !namesStage || draft.Names.ContainsKey(stage) || (draft.LeftOut ?? stage) != stage)
            return false;
        draft.LeftOut = stage;
        return true;
    }

    public override IEnumerable<StatementText> Write(FrontEnd frontEnd) => frontEnd.Requirements
        .Where(Requirements.AreSaid).Select(r => new StatementText("require " + Requirements.Write(r)));
}

/// <summary>A requirement in words.</summary>
/// <param name="Form">Its form, after the subject.</param>
/// <param name="Make">The requirement of a statement in that form, with its text; null after a complaint.</param>
/// <param name="Write">The words that are read as a requirement, subject included; null where it is of another kind.</param>
internal sealed record RequirementWords(Addition Form, Func<StatementSyntax, Scope, string,
    Requirement?> Make, Func<Requirement, string?> Write);

/// <summary>What may be required: a new requirement is a new line here.</summary>
internal static class Requirements
{
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
        new(new Addition("mapping", "error", "under", Blank.Of("counts", Unit.Count)), MappingError,
            r => r is MappingError m ? $"{m.Pin} mapping error under {ValueText.Of(m.MaximumCounts, "counts")}" : null),
        new(new Addition("reading", "error", "under", new Blank("largest", Shape.Measured, "an error in the sensor's unit, such as 0.5 C"),
                new Maybe("over", new Blank("part-of-span", Shape.MeasuredRange, "a part of the sensor's span, such as 0 C .. 70 C"))),
                    ReadingError,
            r => r is ReadingError e
                ? $"{e.Pin} reading error under "
                + $"{ValueText.Measured(e.Maximum, e.UnitText)}{(e.Over is { } over ? " over " + ValueText.Measured(over, e.UnitText) : "")}" : null),
        new(new Addition("headroom", "over", Blank.Of("volts", Unit.Volts)), Headroom,
            r => r is Headroom h ? $"{h.Stage} headroom over {ValueText.Volts(h.MinimumVolts)}" : null),
        new(new Addition("power", "under", new Blank("share", Shape.Value, "a percentage, such as 50%", Unit.Percent)), PartPower,
            r => r is PartPower p ? $"{p.Part} power under {ValueText.Percent(p.MaximumShare)}" : null),
        new(new Addition("noise", "margin", "over", Blank.Of("margin-volts", Unit.Volts)), NoiseMargin,
            r => r is NoiseMargin n ? $"{n.Pin} noise margin over {ValueText.Volts(n.MinimumVolts)}" : null),
        new(new Addition("delay", "under", Blank.Of("seconds", Unit.Seconds)), EdgeDelay,
            r => r is EdgeDelay d ? $"{d.Pin} delay under {ValueText.Seconds(d.MaximumSeconds)}" : null),
        new(new Addition("clean", "edges"), CleanEdges, r => r is CleanEdges c ? $"{c.Pin} clean edges" : null),
    ];

    /// <summary>Whether a requirement can be said; what holds without being asked for has no words.</summary>
    public static bool AreSaid(Requirement requirement) => All.Any(w => w.Write(requirement) is not null);

    /// <summary>The words that are read as a requirement, subject included.</summary>
    public static string Write(Requirement requirement) => All.Select(w => w.Write(requirement)).First(text => text is not null)!;

    private static Requirement? InsideRating(StatementSyntax statement, Scope scope, string text)
    {
        var pin = statement.Token("subject");
        if (!scope.Draft.Use(pin, "pin"))
            return null;
        string? name = null;
        if (statement["event"] is { Value: Token named })
        {
            name = named.Text;
            if (scope.Draft.Events.All(e => e.Name != name))
            {
                var known = scope.Draft.Events.Select(e => e.Name).ToList();
                scope.Diagnostics.UnknownEvent(named, known);
                return null;
            }
        }
        else if (scope.Draft.Events.Count == 0 && !statement.Has("with"))
            scope.Diagnostics.Warn(statement.Span, DiagnosticCode.NoEvent,
                "The circuit has no event, so this holds of itself.", "an event, such as: event \"24 V on the terminal\" at IN");
        if (scope.Draft.Pins.FirstOrDefault(p => p.Name == pin.Text) is { RatedLow: null, RatedHigh: null, InjectionAmps: null })
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
        if (!scope.Draft.Use(pin, "pin") || scope.Positive(statement["counts"]) is not { } counts)
            return null;
        if (scope.Draft.Pins.FirstOrDefault(p => p.Name == pin.Text) is { Converter: null } && !scope.Diagnostics.HasErrors)
        {
            scope.Diagnostics.Error(pin.Span, DiagnosticCode.PinWithoutConverter,
                $"Pin {pin.Text} does not convert, so it has no counts.", "converts BITS bits over LOW .. HIGH below the pin");
            return null;
        }
        if (Mapped(pin.Text, scope.Draft) is { IsVoltage: false } sensor && scope.Draft.Pins.First(p => p.Name == pin.Text).Wanted is null
            && scope.Draft.Stages.All(s => s.Mapping?.Sensor != sensor.Name))
        {
            scope.Diagnostics.Error(pin.Span, DiagnosticCode.NoSensorAtPin,
                $"Nothing says where sensor {sensor.Name} is to land on pin {pin.Text}, so the mapping has no error.",
                $"maps {sensor.Name} onto LOW .. HIGH below the pin, or what the reading has to be: require {pin.Text} reading error "
                    + $"under 1 {(sensor.UnitText == "°C" ? "C" : sensor.UnitText)}");
            return null;
        }
        return new MappingError(pin.Text, counts, text);
    }

    private static ReadingError? ReadingError(StatementSyntax statement, Scope scope, string text)
    {
        var pin = statement.Token("subject");
        if (!scope.Draft.Use(pin, "pin") || scope.Diagnostics.HasErrors)
            return null;
        if (scope.Draft.Pins.First(p => p.Name == pin.Text).Converter is null)
        {
            scope.Diagnostics.Error(pin.Span, DiagnosticCode.PinWithoutConverter,
                $"Pin {pin.Text} does not convert, so firmware reads no code.", "converts BITS bits over LOW .. HIGH below the pin");
            return null;
        }
        if (Mapped(pin.Text, scope.Draft) is not { } sensor)
        {
            scope.Diagnostics.Error(pin.Span, DiagnosticCode.NoSensorAtPin, $"No sensor reaches pin {pin.Text}, so its code says nothing.");
            return null;
        }
        if (scope.Measured(statement["largest"], sensor.UnitText) is not { } largest)
            return null;
        if (!(largest > 0))
        {
            scope.Diagnostics.Error(((MeasuredExpression)statement["largest"]!.Value)
                .Span, DiagnosticCode.OutOfRange, "This must be greater than zero.");
            return null;
        }
        if (statement["part-of-span"] is not { } part)
            return new ReadingError(pin.Text, largest, sensor.UnitText, null, text);
        if (scope.MeasuredSpan(part, sensor.UnitText) is not { } over)
            return null;
        if (over.Low >= sensor.Span.Low && over.High <= sensor.Span.High)
            return new ReadingError(pin.Text, largest, sensor.UnitText, over, text);
        scope.Diagnostics.Error(((MeasuredRange)part.Value)
            .Span, DiagnosticCode.OutOfRange,
            $"Sensor {sensor.Name} measures {ValueText.Measured(sensor.Span, sensor.UnitText)}, so nothing is known beyond that.",
            "a part of that");
        return null;
    }

    /// <summary>The sensor that reaches a pin, as far as the file was read; null for none.</summary>
    private static Sensor? Mapped(string pin, Draft draft)
    {
        var frontEnd = new FrontEnd
        {
            Rails = [.. draft.Rails],
            Sensors = [.. draft.Sensors],
            Stages = [.. draft.Stages],
            Parts = [.. draft.Parts],
            Pins = [.. draft.Pins]
        };
        return frontEnd.Pins.FirstOrDefault(p => p.Name == pin) is { } target ? MappingStudy.SensorOf(frontEnd, target) : null;
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
        if (!scope.Draft.Use(pin, "pin"))
            return null;
        if (scope.Draft.Pins.FirstOrDefault(p => p.Name == pin.Text) is { Logic: null } && !scope.Diagnostics.HasErrors)
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
        if (!scope.Draft.Use(stage, "stage") || scope.NotNegative(statement["volts"]) is not { } volts)
            return null;
        if (scope.Draft.Stages.FirstOrDefault(s => s.Name == stage.Text) is { } built && !built.Parts.Any(p => p is OpAmpPart))
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
        var parts = scope.Draft.Parts.Concat(scope.Draft.Stages.SelectMany(s => s.Parts)).ToList();
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
        if (scope.Evaluate((Expression)statement["share"]!.Value, Unit.Percent) is not { } share)
            return null;
        if (share is { IsPercent: true, Quantity.Value: > 0 })
            return new PartPower(name.Text, share.Quantity.Value, text);
        scope.Diagnostics.Error(((Expression)statement["share"]!.Value).Span, share.IsPercent ? DiagnosticCode.OutOfRange
            : DiagnosticCode.PercentageNeeded, "A share of the rated power above zero is needed.", "a percentage, such as 50%");
        return null;
    }
}
