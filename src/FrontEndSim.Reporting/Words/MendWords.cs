using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Check;

namespace FrontEndSim.Reporting.Words;

/// <summary>What would mend a requirement, in sentences.</summary>
public static class MendWords
{
    /// <summary>All of them, or what stands in the way; empty where nothing was tried.</summary>
    public static string Of(RequirementResult result) => result.Obstacle is { } obstacle ? Of(obstacle)
        : string.Join(" Or ", result.Mends.Select(m => Of(m) + After(m) + ".")
            .Select((s, k) => k == 0 ? s : char.ToLowerInvariant(s[0]) + s[1..]));

    private static string Of(MendObstacle o) => o is { Mend: { } mend, Breaks: { } broken }
        ? $"No single change of the {o.Tried} tried does it alone: {char.ToLowerInvariant(Of(mend)[0])}{Of(mend)[1..]} would, but then it "
            + $"is {RequirementWords.Of(broken)} that is not met."
        : o switch
        {
            { IsCutShort: true, Tried: 0 } => "No change was tried: the events take too long to be followed once more for each.",
            { IsCutShort: true } => $"No single change of the {o.Tried} tried mends it; others were not tried, as the events take too "
                + "long to be followed once more for each.",
            _ => $"No single change of the {o.Tried} tried mends it.",
        };

    private static string After(Mend m) => (m.Margin, m.CostCounts) switch
    {
        ({ } degrees, var counts) when m.Kind is MendKind.FeedbackCapacitor or MendKind.IsolateLoad =>
            $": {Figures.Plain(degrees.Value, "°", 3)} more than the least phase margin then"
                + (counts is { } cost ? $", {Cost(cost)}" : ""),
        // A number of faults has no margin: there are none left.
        ({ } none, { } counts) when none.Unit == Unit.None && !none.IsShare => $", {Cost(counts)}",
        ({ } margin, { } counts) => $": a margin of {Amounts.Of(margin)} then, {Cost(counts)}",
        ({ } margin, null) => $": a margin of {Amounts.Of(margin)} then",
        _ => "",
    };

    private static string Cost(double counts) => Math.Abs(counts) < 0.01 ? "at a cost under 0.01 counts"
        : counts < 0 ? $"with {Amounts.Counts(-counts)} less of error" : $"at a cost of {Amounts.Counts(counts)}";

    private static string Of(Mend m) => m.Kind switch
    {
        MendKind.FeedbackCapacitor => $"Put {m.To} from the output of {m.Subject} to its inverting input",
        MendKind.IsolateLoad => $"Put {m.To} between the output of {m.Subject} and {m.Other}",
        MendKind.LoadRail => $"Put {m.To} from rail {m.Subject} to ground, which takes the current",
        MendKind.GuardPinAbove => $"Put {m.To} in series with pin {m.Subject} and a {m.Type} from it to {m.Other}",
        MendKind.GuardPinBelow => $"Put {m.To} in series with pin {m.Subject} and a {m.Type} from ground to it",
        MendKind.RaiseResistor or MendKind.RaiseToGround => $"Raise {m.Subject} from {m.From} to {m.To}",
        MendKind.LowerZener or MendKind.HigherZener or MendKind.LargerUpperClamp or MendKind.LargerLowerClamp or MendKind.LessLeakage =>
            $"Use {m.Type} in place of {m.Other} for {m.Subject}",
        MendKind.AddUpperClamp => $"Clamp node {m.Subject} with a {m.Type} to {m.Other}",
        MendKind.AddLowerClamp => $"Clamp node {m.Subject} with a {m.Type} from ground",
        MendKind.LessBiasCurrent => $"Use an op amp {m.Type} in place of {m.Other} for {m.Subject}",
        MendKind.FinerValues => $"Choose the resistors of stage {m.Subject} from {m.Type}",
        MendKind.CalibrateLine => $"Calibrate pin {m.Subject} at two points in firmware",
        MendKind.RaiseRail or MendKind.LowerRail => $"Bring rail {m.Subject} from {m.From} to {m.To}",
        MendKind.SecondClampIfOpen or MendKind.SecondClampIfReversed => $"Put a second {m.Type} beside {m.Subject}",
        MendKind.SplitResistor => $"Take two of {m.To} in series for {m.Subject}, so that one short leaves the other",
        MendKind.HigherRating when m.Type is { } type => $"Use {type} in place of {m.Other} for {m.Subject}",
        MendKind.HigherRating => $"Use a {m.Other} rated {m.To} for {m.Subject}",
        MendKind.LowerLevel or MendKind.HigherLevel or MendKind.Faster => $"Lower {m.Subject} from {m.From} to {m.To}",
        MendKind.Slower or MendKind.LessRipple => $"Raise {m.Subject} from {m.From} to {m.To}",
        MendKind.DummyReading => m.To is { Value: 1 } ? $"Throw the first reading of each pin of {m.Subject} away"
            : $"Throw the first {m.To} readings of each pin of {m.Subject} away",
        MendKind.LongerAcquisition => $"Connect the sampling capacitor of {m.Subject} for {m.To} instead of {m.From}",
        MendKind.PinCapacitor => $"Put {m.To} from pin {m.Subject} to ground",
        MendKind.PullUp => $"Put {m.To} from {m.Other} to {m.Subject}, which takes a node that nothing holds out of the valid codes",
        MendKind.PullDown => $"Put {m.To} from {m.Subject} to ground, which takes a node that nothing holds out of the valid codes",
        MendKind.ReserveBand => $"Let stage {m.Subject} map its sensor onto {m.From} .. {m.To}, so that codes at both ends mean a fault",
        MendKind.Hysteresis => $"Use a gate with hysteresis, type {m.Type}, at pin {m.Subject}",
        _ => throw new ArgumentException($"No words for {m.Kind}.", nameof(m)),
    };
}
