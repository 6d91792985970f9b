using FrontEndSim.FrontEnds.Studies.Explain;

namespace FrontEndSim.Reporting.Words;

/// <summary>Why a simulation is not as calculated by hand, in words.</summary>
public static class ExplainWords
{
    /// <summary>"bias current of shift.U1".</summary>
    public static string Of(RealThing thing) => thing.Kind switch
    {
        RealThingKind.GainAndInputResistance => $"finite gain and input resistance of {thing.Subject}",
        RealThingKind.BiasCurrent => $"bias current of {thing.Subject}",
        RealThingKind.OffsetVoltage => $"offset voltage of {thing.Subject}",
        RealThingKind.SwingLimit => $"swing limit of {thing.Subject}",
        RealThingKind.Bandwidth => $"finite bandwidth of {thing.Subject}",
        RealThingKind.DeliveringRail => $"rail {thing.Subject}, which only delivers and is lifted",
        RealThingKind.Leakage => $"leakage of {thing.Subject}",
        RealThingKind.ResistanceAhead => $"what stands ahead of node {thing.Subject}, which is not without resistance",
        RealThingKind.Load => $"load of {thing.Subject}",
        _ => $"leakage of pin {thing.Subject}",
    };

    /// <summary>"sensor probe" or "node LEVEL".</summary>
    public static string Input(StageExplanation stage) => stage.Input == "" ? "" : (stage.IsFromSensor ? "sensor " : "node ") + stage.Input;

    /// <summary>What makes a line of hand calculation differ; empty where nothing does.</summary>
    public static string Why(ExplainedStep step) =>
        string.Join(", ", step.Causes.Select(c => $"{Signed(c.Effect, step.Step.Unit, 2)} from {Of(c.Thing)}"));

    /// <summary>What makes a stage's output differ from the ideal; empty where nothing is compared.</summary>
    public static string Reason(StageExplanation stage) => stage.Furthest is { } line ? Output(line, stage) + Corner(stage) : "";

    private static string Output(StageLine line, StageExplanation stage)
    {
        double difference = line.DifferenceVolts;
        if (Math.Abs(difference) < 1e-6)
            return "The simulation and the hand calculation agree to a microvolt.";
        string said =
            $"Furthest from the ideal at an input of {Figures.Of(line.InputVolts, "V")}: the simulated output lies "
            + $"{Amounts.Volts(Math.Abs(difference))} "
            + $"{(difference > 0 ? "above" : "below")} it";
        var telling = stage.Causes.Where(c => Math.Abs(c.Volts) > 0.02 * Math.Abs(difference)).Take(4).ToArray();
        if (telling.Length == 0)
            return said + "; nothing that was made ideal by itself explains it.";
        double left = difference - stage.Causes.Sum(c => c.Volts);
        return $"{said}: {string.Join(", ", telling.Select(c => $"{Signed(c.Volts, "V")} from {Of(c.Thing)}"))}"
            + (Math.Abs(left) > 0.05 * Math.Abs(difference) ? $", {Signed(left, "V")} from all of it together." : ".");
    }

    private static string Corner(StageExplanation stage) => stage.Corner is not { } corner ? ""
        : $" The corner lies {Figures.Of(Math.Abs(corner.Hertz), "Hz", 3)} {(corner.Hertz > 0 ? "above" : "below")} the one by hand"
            + (corner.Causes.IsEmpty ? "." : ": " + string.Join(", ", corner.Causes.Select(c => $"{Signed(c.Effect, "Hz")} from "
                + Of(c.Thing).Replace("leakage of", "capacitance and leakage of", StringComparison.Ordinal))) + ".");

    private static string Signed(double value, string unit, int digits = 3) =>
        (value > 0 ? "+" : "-") + Figures.Of(Math.Abs(value), unit, digits);
}
