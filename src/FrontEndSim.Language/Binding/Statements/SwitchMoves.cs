using FrontEndSim.Engine.Waveforms;
using FrontEndSim.Language.Binding.Scopes;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary>How a switch moves: <c>open</c>, <c>closed</c>, <c>closes at 1 ms</c>, <c>opens at 2 ms</c>.</summary>
internal static class SwitchMoves
{
    /// <summary>The words.</summary>
    public static ImmutableArray<Addition> Words { get; } =
    [
        new("open"), new("closed"),
        new("closes", "at", Blank.Of("closing", Unit.Seconds)),
        new("opens", "at", Blank.Of("opening", Unit.Seconds)),
    ];

    /// <summary>1 for closed and 0 for open, against time; null after a complaint.</summary>
    public static Waveform? Read(StatementSyntax statement, Scope scope)
    {
        double? closing = scope.Positive(statement["closing"]), opening = scope.Positive(statement["opening"]);
        bool startsOpen = statement.Has("open") || (closing is { } c && !(opening < c)), startsClosed = statement.Has("closed")
            || (opening is { } o && !(closing < o));
        if (startsOpen == startsClosed)
        {
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.SwitchUndecided, startsOpen
                ? "The switch is both open and closed at the start." : "It is not said whether the switch is open or closed.",
                "open, closed, closes at TIME or opens at TIME");
            return null;
        }
        (double Time, double Value)[] moves =
            [.. new[] { (Time: closing ?? 0, Value: 1.0), (Time: opening ?? 0, Value: 0.0) }.Where(m => m.Time > 0).OrderBy(m => m.Time)];
        double value = startsClosed ? 1 : 0;
        var points = ImmutableArray.CreateBuilder<(double, double)>();
        foreach (var (time, next) in moves)
        {
            points.Add((time, value));
            points.Add((time, value = next));
        }
        return points.Count == 0 ? new Constant(value) : new PiecewiseLinear(points.ToImmutable());
    }

    /// <summary>The words that say it, with a blank ahead of each.</summary>
    public static string Write(Waveform closed)
    {
        if (closed is not PiecewiseLinear wave)
            return closed.At(0) > 0.5 ? " closed" : " open";
        // Each move is a pair of points at one time: the second says which way it goes.
        return string.Concat(wave.Points.Where((_, k) => k % 2 == 1)
            .Select(m => $" {(m.Value > 0.5 ? "closes" : "opens")} at {ValueText.Seconds(m.Time)}"));
    }
}
