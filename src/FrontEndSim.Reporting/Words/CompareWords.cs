using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Compare;
using FrontEndSim.FrontEnds.Studies.Faults;

namespace FrontEndSim.Reporting.Words;

/// <summary>Readings against prediction, in sentences.</summary>
public static class CompareWords
{
    /// <summary>What to make of the readings.</summary>
    public static string Verdict(CompareResult result)
    {
        int outside = result.Readings.Count(c => !c.IsInside), all = result.Readings.Length;
        string state = outside == 0 ? all == 1 ? "The reading is inside its limits." : $"All {all} readings are inside their limits."
            : $"{outside} of {all} readings {(outside == 1 ? "is" : "are")} outside of {(outside == 1 ? "its" : "their")} limits.";
        if (result.Mismatch <= 1)
            return state + " They differ from the prediction by no more than the meter's error: there is nothing to explain.";
        if (result.Likely.IsEmpty)
            return state
                + " No single change of a part, rail or op amp explains the difference: look for wiring, a wrong op amp, or two faults at "
                + "once.";
        double left = result.Explanations[0].Left;
        string fits =
            $" {(outside == 1 && all == 1 ? "It fits" : "They fit")} "
            + $"{string.Join("; or ", result.Likely.Select(e => Of(e) + (e.IsWithinTolerance ? " (within tolerance)" : "")))}.";
        string rest = left <= 1 ? " What is left is within the meter's error."
            : $" Of a difference of {Figures.Plain(result.Mismatch, "", 3)} times the meter's error, {Figures.Plain(left, "", 3)} times "
                + $"is left: "
                + (left > 0.3 * result.Mismatch
                    ? "no single change explains it; look for two faults at once, wiring, or a reading taken wrongly."
                : "most of it is explained.");
        return state + fits + rest + (result.Likely.Length > 1
            ? " These readings cannot tell them apart: read at another node between them, or measure the part itself." : "");
    }

    /// <summary>"the feedback resistor of shift's first stage (Rf1) 4 % low: 39.6 kΩ instead of 41.2 kΩ".</summary>
    public static string Of(Explanation e) => e.Kind switch
    {
        ExplanationKind.Resistance or ExplanationKind.Capacitance => Resistance(PartWords.Of(e.Role!), e),
        ExplanationKind.SourceResistance => Resistance($"the source resistance of {e.Subject}", e),
        ExplanationKind.OffsetVoltage =>
            $"an input offset of {Amounts.Of(e.Fitted!.Value)} at {PartWords.Of(e.Role!)} (its class: up to "
            + $"{Amounts.Of(e.Allowed!.Value)} either way)",
        ExplanationKind.BiasCurrent =>
            $"a bias current of {Amounts.Of(e.Fitted!.Value)} into each input of {PartWords.Of(e.Role!)} (its class: up to "
            + $"{Amounts.Of(e.Allowed!.Value)})",
        ExplanationKind.Leakage => $"{PartWords.Of(e.Role!)} leaking like {Amounts.Of(e.Fitted!.Value)} across it",
        ExplanationKind.PinLeakage =>
            $"pin {e.Subject} leaking {Amounts.Of(e.Fitted!.Value)} (its type: up to {Amounts.Of(e.Allowed!.Value)} either way)",
        ExplanationKind.RailVoltage => Rail(e, e.Fitted!.Value, e.Planned!.Value),
        ExplanationKind.ColdJunction => $"the cold junction of {e.Subject} {Warmer(e)} than the circuit",
        ExplanationKind.JunctionSensor => $"{e.Subject} {Warmer(e)} than the cold junction that it measures",
        ExplanationKind.Meter =>
            $"the meter reading {Figures.Percent(Math.Abs(e.Fitted!.Value.Value - 1), 2)} {(e.Fitted.Value.Value < 1 ? "low" : "high")} "
            + $"everywhere",
        _ => Fault(e, e.Fault!),
    };

    private static string Warmer(Explanation e) =>
        $"{Figures.Of(Math.Abs(e.Fitted!.Value.Value), "°C", 3)} {(e.Fitted.Value.Value < 0 ? "colder" : "warmer")}";

    private static string Resistance(string what, Explanation e)
    {
        var (fitted, planned) = (e.Fitted!.Value, e.Planned!.Value);
        double factor = fitted.Value / planned.Value;
        string by = Math.Abs(factor - 1) < 0.5 ? $"{Figures.Percent(Math.Abs(factor - 1), 2)} {(factor < 1 ? "low" : "high")}"
            : $"at {Figures.Plain(factor, "", 3)} times what is planned";
        return $"{what} {by}: {Amounts.Of(fitted)} instead of {planned}";
    }

    private static string Rail(Explanation e, Quantity fitted, Quantity planned) =>
        $"{Rail(e)} {Figures.Volts(Math.Abs(fitted.Value - planned.Value), 3)} "
        + $"{(fitted.Value >= planned.Value ? "high" : "low")}: {fitted} instead of {planned}";

    private static string Rail(Explanation e) => $"{(e.IsReference ? "the reference" : "rail")} {e.Subject}";

    private static string Fault(Explanation e, SingleFault fault)
    {
        string subject = e.Role is { } role ? $"{PartWords.Of(role)}, {e.ValueText},"
            : fault.Mode is FaultMode.RailLost or FaultMode.RailOpen ? Rail(e) : $"sensor {e.Subject}";
        return subject + fault.Mode switch
        {
            FaultMode.Open or FaultMode.SensorOpen => " open",
            FaultMode.Short => " shorted",
            FaultMode.Reversed => " mounted the wrong way round",
            FaultMode.StuckHigh => " with its output stuck at the positive rail",
            FaultMode.StuckLow => " with its output stuck at the negative rail",
            FaultMode.RailLost => " at 0 V, its supply off",
            FaultMode.RailOpen => " not connected",
            FaultMode.WireOpen => $", its wire to {fault.Other} open",
            FaultMode.AlarmLow => " at its low alarm level",
            FaultMode.AlarmHigh => " at its high alarm level",
            _ when fault.Wire is { } wire => $", its wire to {wire} shorted to {fault.Other}",
            _ => $" shorted to {fault.Other}",
        };
    }
}
