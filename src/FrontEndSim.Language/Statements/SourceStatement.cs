using System.Collections.Immutable;
using FrontEndSim.Engine.Waveforms;
using FrontEndSim.FrontEnds;

namespace FrontEndSim.Language;

/// <summary><c>source V1 from A to GND 5 V</c>, with one waveform that starts from that voltage.</summary>
internal sealed class SourceStatement : PartStatement
{
    private static readonly AnyOrder Edges = new(new Addition("rise", Blank.Of("rise-time", Unit.Seconds)), new Addition("fall", Blank.Of("fall-time", Unit.Seconds)),
        new Addition("every", Blank.Of("period", Unit.Seconds)));

    public override string Keyword => "source";

    public override string Summary => "A voltage source on the bench; from is its plus terminal. The voltage given holds until a waveform starts.";

    protected override ImmutableArray<Piece> Head => [NewName("source"), .. Terminals, Blank.Of("volts", Unit.Volts)];

    public override ImmutableArray<Addition> Additions { get; } =
    [
        new("resistance", Blank.Of("ohms", Unit.Ohm)),
        new("sine", Blank.Of("amplitude", Unit.Volts), "at", Blank.Of("frequency", Unit.Hertz)),
        new("step", "to", Blank.Of("stepped", Unit.Volts), "at", Blank.Of("step-start", Unit.Seconds), new Maybe("rise", Blank.Of("step-rise", Unit.Seconds))),
        new("pulse", "to", Blank.Of("pulsed", Unit.Volts), "at", Blank.Of("pulse-start", Unit.Seconds), "for", Blank.Of("width", Unit.Seconds), Edges),
        new("decay", "from", Blank.Of("peak", Unit.Volts), "at", Blank.Of("decay-start", Unit.Seconds),
            "rising", "with", Blank.Of("rise-constant", Unit.Seconds), "falling", "with", Blank.Of("fall-constant", Unit.Seconds)),
        new("point", Blank.Of("value", Unit.Volts), "at", Blank.Of("time", Unit.Seconds)) { MayRepeat = true },
    ];

    private static readonly string[] Shapes = ["sine", "step", "pulse", "decay", "point"];

    protected override Part? Make(StatementSyntax statement, Scope scope, string name)
    {
        var (from, to) = Ends(statement, scope);
        double? ohms = scope.NotNegative(statement["ohms"]);
        string[] given = [.. Shapes.Where(statement.Has)];
        if (given.Length > 1)
        {
            scope.Diagnostics.Error(statement.Span, "FES335", $"A source has one waveform, but {string.Join(" and ", given)} are given.");
            return null;
        }
        if (scope.Number(statement["volts"]) is not { } volts || Wave(statement, scope, given.FirstOrDefault(), volts) is not { } wave)
            return null;
        return new SourcePart(name, from, to, wave, ohms ?? 0);
    }

    private static Waveform? Wave(StatementSyntax statement, Scope scope, string? shape, double volts)
    {
        double? Number(string blank) => scope.Number(statement[blank]);
        double? Positive(string blank) => scope.Positive(statement[blank]);
        double? NotNegative(string blank) => scope.NotNegative(statement[blank]);
        switch (shape)
        {
            case "sine":
                return Number("amplitude") is { } amplitude && Positive("frequency") is { } hertz ? new Sine(volts, amplitude, hertz) : null;
            case "step":
                return Number("stepped") is { } after && NotNegative("step-start") is { } start ? new Step(volts, after, start, NotNegative("step-rise") ?? 0) : null;
            case "pulse":
                return Pulse(statement, scope, volts);
            case "decay":
                if (volts != 0)
                {
                    scope.Diagnostics.Error(statement.Span, "FES336", "A source with a decay waveform starts from 0 V.", "0 V in front of decay");
                    return null;
                }
                if (Number("peak") is not { } peak || NotNegative("decay-start") is not { } begin || Positive("rise-constant") is not { } rise
                    || scope.Within(statement["fall-constant"], f => f > rise, "longer than the rise") is not { } fall)
                {
                    return null;
                }
                return new DoubleExponential(peak, rise, fall, begin);
            case "point":
                return Points(statement, scope, volts);
            default:
                return new Constant(volts);
        }
    }

    private static Pulse? Pulse(StatementSyntax statement, Scope scope, double volts)
    {
        double rise = scope.NotNegative(statement["rise-time"]) ?? 0, fall = scope.NotNegative(statement["fall-time"]) ?? 0;
        if (scope.Number(statement["pulsed"]) is not { } high || scope.NotNegative(statement["pulse-start"]) is not { } start || scope.Positive(statement["width"]) is not { } width)
            return null;
        if (!statement.Has("every"))
            return new Pulse(volts, high, start, rise, width, fall);
        return scope.Within(statement["period"], p => p >= rise + width + fall, "at least as long as rise, width and fall together") is { } period
            ? new Pulse(volts, high, start, rise, width, fall, period)
            : null;
    }

    private static PiecewiseLinear? Points(StatementSyntax statement, Scope scope, double volts)
    {
        var points = ImmutableArray.CreateBuilder<(double Time, double Value)>();
        points.Add((0, volts));
        var lines = statement.Settings.Where(s => s.Name == "point").Select(s => s.Phrase!).ToList();
        if (statement.Head["point"] is not null)
            lines.Insert(0, statement.Head);
        foreach (var line in lines)
        {
            double last = points[^1].Time;
            if (scope.Number(line["value"]) is not { } value || scope.Within(line["time"], t => t >= last, "not before the point above it") is not { } time)
                return null;
            points.Add((time, value));
        }
        return new PiecewiseLinear(points.ToImmutable());
    }
}
