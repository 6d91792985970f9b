using System.Collections.Immutable;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.Language.Binding.Scopes;
using FrontEndSim.Language.Forms;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary><c>sensor probe drives IN</c></summary>
internal sealed class SensorStatement : StatementKind
{
    public override string Keyword => "sensor";

    public override string Summary => "What is measured: a voltage over a span, behind a source resistance, that drives a node.";

    protected override ImmutableArray<Piece> Head => [NewName("sensor"), "drives", Blank.Node("node")];

    public override ImmutableArray<Addition> Additions { get; } =
    [
        new("span", new Blank("volts", Shape.Range, UnitWords.Describe(Unit.Volts), Unit.Volts)),
        new("source", Blank.Of("ohms", Unit.Ohm)),
        new("edge", Blank.Of("edge-time", Unit.Seconds)),
        new("ripple", Blank.Of("peak-to-peak", Unit.Volts), "at", Blank.Of("hertz", Unit.Hertz)),
    ];

    public override void Declare(StatementSyntax statement, Scope scope) => scope.Declare(statement.Token("name"), "sensor");

    public override void Bind(StatementSyntax statement, Scope scope)
    {
        if (!scope.Draft.HasRoom(scope.Draft.Sensors.Count, "sensors", statement.Span))
            return;
        string node = scope.Node(statement.Token("node"));
        double? ohms = scope.NotNegative(statement["ohms"]);
        if (!statement.Has("span"))
        {
            if (!statement.HasUnread)
                scope.Diagnostics.Error(statement.Span, DiagnosticCode.SensorWithoutSpan, "The sensor has no span.", "span LOW .. HIGH, such as span -1.2 V .. 1.8 V");
        }
        else if (scope.Span(statement["volts"]) is { } span)
            scope.Draft.Sensors.Add(new Sensor(statement.Token("name").Text, node, span, ohms ?? 0) { EdgeSeconds = scope.Positive(statement["edge-time"]), Ripple = Ripple(statement, scope) });
        scope.Draft.Places[statement.Token("name").Text] = statement.Span;
    }

    private static Ripple? Ripple(StatementSyntax statement, Scope scope)
    {
        if (scope.Positive(statement["peak-to-peak"]) is not { } volts || scope.Positive(statement["hertz"]) is not { } hertz)
            return null;
        if (!statement.Has("edge"))
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.RippleWithoutEdge, "Ripple matters while the sensor changes slowly, but it is not said how slowly.", "edge TIME, such as edge 20 ms");
        return new Ripple(volts, hertz);
    }

    public override IEnumerable<StatementText> Write(FrontEnd frontEnd) => frontEnd.Sensors.Select(s => new StatementText($"sensor {s.Name} drives {s.Node}",
    [
        "span " + ValueText.Of(s.Span),
        .. StatementText.If(s.SourceOhms > 0, () => "source " + ValueText.Ohms(s.SourceOhms)),
        .. StatementText.If(s.EdgeSeconds, edge => "edge " + ValueText.Seconds(edge)),
        .. s.Ripple is { } r ? [$"ripple {ValueText.Volts(r.PeakToPeakVolts)} at {ValueText.Hertz(r.Hertz)}"] : Array.Empty<string>(),
    ]));
}
