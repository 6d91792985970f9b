using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Reporting.Words;

/// <summary>What a verdict covers, in words.</summary>
public static class ScopeWords
{
    /// <summary>Temperatures, tolerances, supplies, events.</summary>
    public static string Of(VerdictScope scope) =>
        string.Join(", ", scope.Celsius.Select(c => Figures.Plain(c, "°C", 3))) + (scope.IsTemperatureGiven ? "" : " only")
        + $"; {(scope.Events.IsEmpty ? "no event" : scope.Events.Length == 1 ? "1 event" : $"{scope.Events.Length} events")}"
            + (scope.AreSuppliesOff ? ", supplies on and off" : scope.AreSuppliesOn ? ", supplies on" + Off(scope.Unpowered) : "")
            + (scope.Strays is { } s ? $", leads of {Figures.Of(s.LeadHenries, "H", 3)}, strays of {Figures.Of(s.AcrossFarads, "F", 3)} "
                + $"across and {Figures.Of(s.GroundFarads, "F", 3)} to ground" : "") + "; "
            + $"{Readings(scope)}{(scope.LeavesOutCourse ? " while its own sources and switches stand still" : "")}"
            + (scope.Boards.IsEmpty ? "" : $" ({string.Join(", ", scope.Boards.Select(Of))})")
            + (scope.ExactReferences.IsEmpty ? "" : $", what {Figures.And([.. scope.ExactReferences])} "
                + $"{(scope.ExactReferences.Length == 1 ? "converts" : "convert")} against taken as exact (no gain-error given)")
            + "; ratings over the span"
        + (scope.Rails.IsEmpty && scope.Spreads.IsEmpty ? ""
            : $"s and tolerances of {string.Join(", ", scope.Rails.Concat(scope.Spreads))}")
        + (scope.Driven is { } driven ? $"; not the output of {driven.Sensor}, which carries {Figures.Of(driven.Amps, "A", 3)} "
            + (driven.Event is { } during ? $"in \"{during}\"" : "at the operating point") + " (what it withstands is not written)" : "")
        + (scope.Unlimited is { } most ? $"; not the current of {most.Part}, {Figures.Of(most.Amps, "A", 3)} "
            + (most.Event is { } name ? $"in \"{name}\"" : "at the operating point") + " (what it may be is not written)" : "")
        + (scope.NoiseUncounted.IsEmpty ? "" : $"; not the noise of {Figures.And([.. scope.NoiseUncounted])} itself")
        + (scope.ColdUnknown.IsEmpty ? "" : $"; not what cold leaves of {Figures.And([.. scope.ColdUnknown])}")
        + (scope.SeriesUnjudged.IsEmpty ? ""
            : $"; not the series resistance of the output capacitor of {Figures.And([.. scope.SeriesUnjudged])}")
        + (scope.BounceTaken.IsEmpty ? ""
            : $"; a bounce of {Figures.Time(scope.BounceSeconds)} taken for {Figures.And([.. scope.BounceTaken])}")
        + (scope.RailsTaken.IsEmpty ? "" : $" (±{Figures.Of(scope.RailTolerance, "%", 3)} taken for {Figures.And([.. scope.RailsTaken])})")
        + ".";

    /// <summary>The same in a few words, for the verdict's own line: "25 °C only, 2 events, supplies on, nominal readings".</summary>
    public static string Brief(VerdictScope scope) =>
        (scope.Celsius.Length > 1 ? $"{Figures.Plain(scope.Celsius[0], "°C", 3)} to {Figures.Plain(scope.Celsius[^1], "°C", 3)}"
            : Figures.Plain(scope.Celsius[0], "°C", 3) + (scope.IsTemperatureGiven ? "" : " only"))
        + $", {(scope.Events.IsEmpty ? "no event" : Figures.Counted(scope.Events.Length, "event", "events"))}"
        + (scope.AreSuppliesOff ? ", supplies on and off" : scope.AreSuppliesOn ? ", supplies on" : "")
        + (scope.OnEveryBoard.IsEmpty && scope.OnMostBoards.IsEmpty ? ", nominal readings" : ", readings of boards");

    private static string Off(UnpoweredPin? off) => off is null ? ""
        : $" (off, with no event, {off.Pin} has {Amount(off.Found)} of {Amount(off.Limit)})";

    private static string Amount(Quantity amount) => Figures.Of(amount.Value, amount.Symbol, 3);

    private static string Readings(VerdictScope scope)
    {
        string[] judged =
        [
            .. scope.OnEveryBoard.IsEmpty ? [] : new[] { $"{Figures.And([.. scope.OnEveryBoard])} on every board" },
            .. scope.OnMostBoards.IsEmpty ? [] : new[] { $"{Figures.And([.. scope.OnMostBoards])} on a share of boards" },
        ];
        return judged is [] ? "nominal readings" : $"reading error of {Figures.And(judged)}, else nominal readings";
    }

    private static string Of(BoardBound bound) => bound.IsAnywhere ? $"{bound.Pin} tells nothing of {bound.Sensor} on some board"
        : $"{bound.Pin} within {Figures.Of(bound.Largest, bound.Unit, 2)} on every board";

    /// <summary>What is accepted, and why.</summary>
    public static string Of(AcceptedLoad accepted)
    {
        string rating = $"its rated {accepted.Acceptance.Rating}", part = accepted.Acceptance.Part;
        string found = accepted.Load is { } load ? $" ({Figures.Of(load.Share, "%", 3)} {OccasionWords.Of(accepted.Where!)})" : "";
        return (accepted.Load is { Share: <= 1 } ? $"{part} would be accepted beyond {rating}, and is inside of it{found}"
            : $"{part} beyond {rating}{found}, all else judged as if it held") + $": {accepted.Acceptance.Reason}";
    }

    /// <summary>What could not be computed.</summary>
    public static string Of(NotComputed problem) =>
        (problem.Where is { } where ? Figures.Sentence(OccasionWords.Of(where)) + ": " : "") + problem.Flaw switch
        {
            SolutionFlaw.NotFinite => "A number is not finite.",
            SolutionFlaw.Unbalanced => "The audit of the solution is beyond what it may leave over.",
            SolutionFlaw.TooLong => "This was not looked at any more, nor was what comes after it, as the event takes so long to follow. "
                + "A shorter event, or fewer things that have tolerances, can be looked at in full.",
            _ => ProblemWords.Of(problem.Problem!),
        };
}
