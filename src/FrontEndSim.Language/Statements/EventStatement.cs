using System.Collections.Immutable;
using FrontEndSim.FrontEnds;

namespace FrontEndSim.Language;

/// <summary><c>event "24 V on the sensor terminal" at IN</c>, with what happens on the same line or below it.</summary>
internal sealed class EventStatement : StatementKind
{
    public override string Keyword => "event";

    public override string Summary => "Something that may happen at a node: a fault, or a disturbance from a published standard.";

    protected override ImmutableArray<Piece> Head => [new Blank("name", Shape.Text, "the event's name in double quotes"), "at", Blank.Node("node")];

    public override ImmutableArray<Addition> Additions { get; } = [.. Disturbances.All.Select(d => d.Form)];

    public override Turn Turn => Turn.Second;

    public override void Bind(StatementSyntax statement, Scope scope)
    {
        var name = statement.Token("name");
        var at = statement.Token("node");
        string node = scope.Node(at);
        scope.Draft.Probes.Add((node, at.Span, $"event \"{name.Text}\""));
        if (scope.Draft.Events.Any(e => e.Name == name.Text))
        {
            scope.Diagnostics.Error(name.Span, "FES302", $"There are two events named \"{name.Text}\".", null, "give one of the two another name");
            return;
        }
        DisturbanceWords[] given = [.. Disturbances.All.Where(d => statement.Has(d.Form.Name))];
        if (given.Length != 1)
        {
            scope.Diagnostics.Error(statement.Span, "FES337", given.Length == 0 ? "It is not said what happens in this event." : "An event is one thing that happens, but several are given.",
                "one of: " + string.Join("; ", Additions));
            return;
        }
        try
        {
            if (given[0].Make(statement, scope) is { } disturbance)
                scope.Draft.Events.Add(new FaultEvent(name.Text, node, disturbance));
        }
        catch (ArgumentException e)
        {
            scope.Diagnostics.Error(statement.Span, "FES338", e.Message);
        }
    }
}

/// <summary>A disturbance in words.</summary>
/// <param name="Form">Its form.</param>
/// <param name="Make">The disturbance of a statement in that form; null after a complaint.</param>
internal sealed record DisturbanceWords(Addition Form, Func<StatementSyntax, Scope, Disturbance?> Make);

/// <summary>The disturbances that an event may be: a new one is a new line here.</summary>
internal static class Disturbances
{
    public static ImmutableArray<DisturbanceWords> All { get; } =
    [
        new(new Addition("step", "to", Blank.Of("volts", Unit.Volts), "source", Blank.Of("ohms", Unit.Ohm),
            new Maybe("at", Blank.Of("start", Unit.Seconds)), new Maybe("for", Blank.Of("duration", Unit.Seconds))), Step),
        new(new Addition("surge", new Blank("front", Shape.Value, "a wave, such as 1.2/50"), "peak", Blank.Of("peak", Unit.Volts),
            "source", Blank.Of("ohms", Unit.Ohm), new Maybe("at", Blank.Of("start", Unit.Seconds))), Surge),
    ];

    private static StepTo? Step(StatementSyntax statement, Scope scope)
    {
        bool isLasting = statement["duration"] is null;
        double? start = statement["start"] is { } at ? scope.Positive(at) : 1e-3, duration = scope.Positive(statement["duration"]);
        if (scope.Number(statement["volts"]) is not { } volts || scope.Positive(statement["ohms"]) is not { } ohms || start is null || (duration is null && !isLasting))
            return null;
        return new StepTo(volts, ohms, start.Value, duration);
    }

    private static Surge? Surge(StatementSyntax statement, Scope scope)
    {
        var wave = (Expression)statement["front"]!.Value;
        string text = wave.Span.File.Line(wave.Span.Line).Substring(wave.Span.Column - 1, wave.Span.Length).Replace(" ", "");
        double? start = statement["start"] is { } at ? scope.Positive(at) : 10e-6;
        if (SurgeShape.Find(text) is not { } shape)
        {
            scope.Diagnostics.Error(wave.Span, "FES339", $"There is no surge wave {text}.", "one of " + string.Join(", ", SurgeShape.Known.Select(s => s.Name)));
            return null;
        }
        if (scope.Within(statement["peak"], v => v != 0, "other than zero") is not { } peak || scope.Positive(statement["ohms"]) is not { } ohms || start is null)
            return null;
        return new Surge(shape, peak, ohms, start.Value);
    }
}
