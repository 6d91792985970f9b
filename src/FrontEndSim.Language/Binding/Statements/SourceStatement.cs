using FrontEndSim.Engine.Waveforms;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.Language.Binding.Scopes;
using FrontEndSim.Language.Syntax;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary><c>source V1 from A to GND 5 V</c> or <c>source I1 from GND to A 4 mA</c>, with one waveform that starts from there.</summary>
internal sealed class SourceStatement : PartStatement
{
    private const string VoltsOrAmps = "volts-or-amps";

    private static readonly AnyOrder Edges =
        new(new Addition("rise", Blank.Of("rise-time", Unit.Seconds)), new Addition("fall", Blank.Of("fall-time", Unit.Seconds)),
        new Addition("every", Blank.Of("period", Unit.Seconds)));

    public override string Keyword => "source";

    public override string Summary =>
        "A source on the bench: of a voltage, with from as its plus terminal, or of a current, pushed into to. What is given holds until "
        + "a waveform starts.";

    protected override ImmutableArray<Piece> Head => [NewName("source"), .. Terminals, Level(VoltsOrAmps)];

    public override ImmutableArray<Addition> Additions { get; } =
    [
        new("resistance", Blank.Of("ohms", Unit.Ohm)),
        new("sinks"),
        new("sine", Level("amplitude"), "at", Blank.Of("frequency", Unit.Hertz)),
        new("step", "to", Level("stepped"), "at", Blank.Of("step-start", Unit.Seconds),
            new Maybe("rise", Blank.Of("step-rise", Unit.Seconds))),
        new("pulse", "to", Level("pulsed"), "at", Blank.Of("pulse-start", Unit.Seconds), "for", Blank.Of("width", Unit.Seconds), Edges),
        new("decay", "from", Level("peak"), "at", Blank.Of("decay-start", Unit.Seconds),
            "rising", "with", Blank.Of("rise-constant", Unit.Seconds), "falling", "with", Blank.Of("fall-constant", Unit.Seconds)),
        new("point", Level("value"), "at", Blank.Of("time", Unit.Seconds)) { MayRepeat = true },
    ];

    private static Blank Level(string name) => new(name, Shape.Value, "a voltage, such as 5 V, or a current, such as 4 mA");

    private static readonly string[] Shapes = ["sine", "step", "pulse", "decay", "point"];

    protected override Part? Make(PartReader read)
    {
        var (statement, scope, name, from, to) = (read.Statement, read.Scope, read.Name, read.From, read.To);
        double? ohms = scope.NotNegative(statement["ohms"]);
        string[] given = [.. Shapes.Where(statement.Has)];
        if (given.Length > 1)
        {
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.SeveralWaveforms,
                $"A source has one waveform, but {string.Join(" and ", given)} are given.");
            return null;
        }
        var level = statement.Get<Expression>(VoltsOrAmps);
        if (scope.Evaluate(level, null) is not { Quantity: var quantity })
            return null;
        if (quantity.Unit != Unit.Volts && quantity.Unit != Unit.Amps)
        {
            scope.Diagnostics.Error(level.Span, DiagnosticCode.WrongUnit,
                $"This is {UnitWords.Name(quantity.Unit)} ({quantity}), but a source has a voltage or a current.", Level(VoltsOrAmps).What);
            return null;
        }
        if (Wave(statement, scope, given.FirstOrDefault(), quantity) is not { } wave)
            return null;
        if (quantity.Unit == Unit.Volts)
            return new SourcePart(name, from, to, wave, ohms ?? 0) { Sinks = statement.Has("sinks") };
        if (statement.Has("sinks"))
        {
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.WrongUnit,
                "What sinks is a voltage: a current source pushes its current "
                + "whatever stands at its ends.", null, "a voltage, or no sinks");
            return null;
        }
        if (ohms == 0)
        {
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.ShortedCurrentSource,
                "The resistance of a current source stands beside it, so 0 ohm would short it.",
                "a resistance, or none for an ideal source");
            return null;
        }
        return new CurrentSourcePart(name, from, to, wave, ohms ?? double.PositiveInfinity);
    }

    /// <summary>The number in a blank that has to be in the source's own unit.</summary>
    private static double? Same(Filled? blank, Unit unit, Scope scope) =>
        blank is Filled<Expression> given ? scope.Evaluate(given.Value, unit)?.Quantity.Value : null;

    private static Waveform? Wave(StatementSyntax statement, Scope scope, string? shape, Quantity level)
    {
        var (before, unit) = (level.Value, level.Unit);
        double? Number(string blank) => Same(statement[blank], unit, scope);
        double? Positive(string blank) => scope.Positive(statement[blank]);
        double? NotNegative(string blank) => scope.NotNegative(statement[blank]);
        switch (shape)
        {
            case "sine":
                return Number("amplitude") is { } amplitude && Positive("frequency") is { } hertz
                    ? new Sine(before, amplitude, hertz) : null;
            case "step":
                return Number("stepped") is { } after && NotNegative("step-start") is { } start
                    ? new Step(before, after, start, NotNegative("step-rise") ?? 0) : null;
            case "pulse":
                return Pulse(statement, scope, level);
            case "decay":
                if (before != 0)
                {
                    scope.Diagnostics.Error(statement.Span, DiagnosticCode.DecayFromElsewhere,
                        "A source with a decay waveform starts from 0 V.", "0 V in front of decay");
                    return null;
                }
                if (Number("peak") is not { } peak || NotNegative("decay-start") is not { } begin
                    || Positive("rise-constant") is not { } rise
                    || scope.Within(statement["fall-constant"], f => f > rise, "longer than the rise") is not { } fall)
                {
                    return null;
                }
                return new DoubleExponential(peak, rise, fall, begin);
            case "point":
                return Points(statement, scope, level);
            default:
                return new Constant(before);
        }
    }

    private static Pulse? Pulse(StatementSyntax statement, Scope scope, Quantity level)
    {
        double before = level.Value;
        double rise = scope.NotNegative(statement["rise-time"]) ?? 0, fall = scope.NotNegative(statement["fall-time"]) ?? 0;
        if (Same(statement["pulsed"], level.Unit, scope) is not { } high
            || scope.NotNegative(statement["pulse-start"]) is not { } start || scope.Positive(statement["width"]) is not { } width)
            return null;
        if (!statement.Has("every"))
            return new Pulse(before, high, start, rise, width, fall);
        return scope.Within(statement["period"], p => p >= rise + width + fall, "at least as long as rise, width and fall together")
            is { } period
            ? new Pulse(before, high, start, rise, width, fall, period)
            : null;
    }

    private static PiecewiseLinear? Points(StatementSyntax statement, Scope scope, Quantity level)
    {
        var points = ImmutableArray.CreateBuilder<(double Time, double Value)>();
        points.Add((0, level.Value));
        var lines = statement.Settings.Where(s => s.Name == "point").Select(s => s.Phrase!).ToList();
        if (statement.Head["point"] is not null)
            lines.Insert(0, statement.Head);
        foreach (var line in lines)
        {
            double last = points[^1].Time;
            if (Same(line["value"], level.Unit, scope) is not { } value
                || scope.Within(line["time"], t => t >= last, "not before the point above it") is not { } time)
                return null;
            points.Add((time, value));
        }
        return new PiecewiseLinear(points.ToImmutable());
    }

    protected override StatementText? Write(Part part) => part switch
    {
        SourcePart v => Write(v.Name, v.From, v.To, v.Volts, "V", v.SeriesOhms > 0 ? v.SeriesOhms : null, v.Sinks),
        CurrentSourcePart i => Write(i.Name, i.From, i.To, i.Amps, "A", double.IsFinite(i.ParallelOhms) ? i.ParallelOhms : null),
        _ => null,
    };

    private static StatementText Write(string name, string from, string to, Waveform wave, string unit, double? ohms, bool sinks = false)
    {
        string Of(double value) => ValueText.Of(value, unit);
        (double before, string[] shape) = wave switch
        {
            Constant steady => (steady.Value, []),
            Sine s => (s.Offset, [$"sine {Of(s.Amplitude)} at {ValueText.Hertz(s.Frequency)}"]),
            Step s => (s.Before, [$"step to {Of(s.After)} at {ValueText.Seconds(s.Start)} rise {ValueText.Seconds(s.Rise)}"]),
            Pulse p =>
                (p.Low, [$"pulse to {Of(p.High)} at {ValueText.Seconds(p.Start)} for {ValueText.Seconds(p.Width)} rise "
                + $"{ValueText.Seconds(p.Rise)} "
                + $"fall {ValueText.Seconds(p.Fall)}{(double.IsFinite(p.Period) ? " every " + ValueText.Seconds(p.Period) : "")}"]),
            DoubleExponential d =>
                (0, [$"decay from {Of(d.Peak)} at {ValueText.Seconds(d.Start)} rising with {ValueText.Seconds(d.RiseConstant)} "
                + $"falling with {ValueText.Seconds(d.FallConstant)}"]),
            PiecewiseLinear p =>
                (p.Points[0].Value, p.Points.Skip(1).Select(x => $"point {Of(x.Value)} at {ValueText.Seconds(x.Time)}").ToArray()),
            _ => throw new ArgumentException($"No words for the waveform of source {name}."),
        };
        return new($"source {name} from {from} to {to} {Of(before)}",
            [.. StatementText.If(ohms, r => "resistance " + ValueText.Ohms(r)), .. StatementText.If(sinks, () => "sinks"), .. shape]);
    }
}
