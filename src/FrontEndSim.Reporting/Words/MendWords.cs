using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Check;

namespace FrontEndSim.Reporting.Words;

/// <summary>What would mend a requirement, in sentences.</summary>
public static class MendWords
{
    /// <summary>All of them; empty for none.</summary>
    public static string Of(IEnumerable<Mend> mends) => string.Join(" Or ", mends.Select(Of).Select((s, k) => k == 0 ? s : char.ToLowerInvariant(s[0]) + s[1..]));

    private static string Of(Mend m) => m.Kind switch
    {
        MendKind.RatePin => $"Give pin {m.Subject} the ratings from its data sheet.",
        MendKind.LoadRail => $"Give rail {m.Subject} something that takes the current: a load, a zener across it, or a regulator that can sink; or clamp the pin to ground with a "
            + "zener instead.",
        MendKind.GuardPinAbove => Unguarded(m, "a clamp to its rail (schottky-high) or a zener"),
        MendKind.GuardPinBelow => Unguarded(m, "a Schottky diode from ground"),
        MendKind.RaiseResistor => m.To is { } to
            ? $"Raise {m.Subject} from {m.From} to about {to}, which brings the current through the pin's clamp to its rating."
            : $"Raise {m.Subject}, {m.From}: it carries {Amounts.Of(m.For, "")} at the peak.",
        MendKind.LowerZener => $"Choose a lower zener voltage: {m.Subject} ({m.Other}) holds its node at {Amounts.Of(m.For, "")}.",
        MendKind.LargerUpperClamp => $"Choose a larger Schottky diode or a rail that can sink: {m.Subject} drops too much, or rail {m.Other} is lifted.",
        MendKind.LargerLowerClamp => $"Choose a larger Schottky diode: {m.Subject} drops too much below ground.",
        MendKind.AddUpperClamp => $"Clamp node {m.Subject}: a Schottky diode to {m.Other ?? "the pin's supply"} (schottky-high) or a zener.",
        MendKind.AddLowerClamp => $"Add a Schottky diode from ground to node {m.Subject}: nothing but a junction drop bounds it below ground.",
        MendKind.HigherZener => $"Lessen what {m.Subject} draws: a higher zener voltage, or a smaller series resistor ahead of it.",
        MendKind.LessLeakage => $"Lessen what {m.Subject} draws: a type that leaks less, or a smaller series resistor ahead of it.",
        MendKind.RaiseToGround => $"Raise {m.Subject} above {m.From}, or lower the resistance ahead of it: the two divide the signal.",
        MendKind.LessBiasCurrent => $"Add compensation resistors (compensated), use smaller resistors, or an op amp with less bias current than {m.Other} at {m.Subject}.",
        MendKind.FinerValues => $"The values of stage {m.Subject} alone, with ideal parts, are off by {Amounts.Of(m.For, "")}: take a finer series (resistors E192), trim one resistor, "
            + "or calibrate at two points in firmware.",
        MendKind.CalibrateLine => "The line is straight: finer resistor values (E96), or a two-point calibration, would take the error out.",
        MendKind.MoreSwing => $"{m.Subject} runs into its {m.Other} limit: give it more supply, or an op amp whose output comes nearer to its rails.",
        MendKind.LessLoading => "Look at the loading of the stages upon each other and at the resistor values.",
        MendKind.RaiseRail or MendKind.LowerRail => $"Move rail {m.Subject} by {Amounts.Of(m.To, "")} {(m.Kind == MendKind.RaiseRail ? "up" : "down")}, "
            + $"or use an op amp that comes nearer to its rails than {m.Other}.",
        MendKind.SecondClampIfOpen => SecondClamp(m, "open"),
        MendKind.SecondClampIfReversed => SecondClamp(m, "reversed"),
        MendKind.SplitResistor => $"Split {m.Subject} into two resistors in series, so that one short leaves the other.",
        MendKind.SecondWay => $"Give the node that {m.Subject} holds a second way to where it leads, or a limit behind it.",
        MendKind.LimitWhileOff => $"Limit what the signal can push into pin {m.Other} while {m.Subject} is off: a larger series resistor, or a switch that parts the signal.",
        MendKind.SofterOpAmp => $"Supply {m.Subject} from rails that pin {m.Other} can stand, or limit its output current by a larger series resistor ahead of the pin.",
        MendKind.LimitInFault => $"Limit what reaches pin {m.Subject} when {m.Other}: a larger series resistor or a further clamp.",
        MendKind.HigherRating => $"Use a {m.Other} rated {(m.To is { } w ? SiText.Format(w.Value, w.Symbol, 2) : "")} or more for {m.Subject}, or put more resistance ahead of it.",
        MendKind.LowerLevel => $"Bring pin {m.Subject} lower when sensor {m.Other} is at {Amounts.Of(m.For, "")}: a smaller pull-down, or a source that comes nearer to 0 V.",
        MendKind.HigherLevel => $"Let more of the sensor's {Amounts.Of(m.For, "")} reach pin {m.Subject}: a smaller series resistor or a larger pull-down.",
        MendKind.Faster => $"Use a smaller capacitor at pin {m.Subject} or less resistance ahead of it, each by a factor of {(m.To is { } f ? SiText.Plain(f.Value, "", 2) : "")}.",
        MendKind.LevelsFirst => "The levels are not reached at all: mend them first, and require the noise margin to see by how much they miss.",
        MendKind.Hysteresis => $"Use a gate with hysteresis: type {m.Other}.",
        MendKind.LessRipple => $"Bring the ripple below {Amounts.Of(m.To, "")} from peak to peak: a larger capacitor at pin {m.Subject} or more resistance ahead of it takes more of it.",
        MendKind.Slower => $"Use a larger capacitor at pin {m.Subject}.",
        _ => throw new ArgumentException($"No words for {m.Kind}.", nameof(m)),
    };

    private static string Unguarded(Mend m, string clamp) => $"Put a pin-guard in front of pin {m.Subject}, into which nothing limits the current, with {clamp}; a series resistor of {m.To} "
        + $"would hold {Amounts.Of(m.From, "")} to {Amounts.Of(m.For, "")}.";

    private static string SecondClamp(Mend m, string broken) =>
        $"Do not let all rest on {m.Subject}: a second clamp, or a larger series resistor ahead of the pin, would hold when it is {broken}.";
}
