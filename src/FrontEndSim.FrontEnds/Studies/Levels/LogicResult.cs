using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.FrontEnds.Studies.Levels;

/// <summary>How a logic pin reads its sensor: the levels at both ends of the span, and changes between them.</summary>
/// <param name="Sensor">Name of the sensor.</param>
/// <param name="Pin">The pin.</param>
/// <param name="SupplyVolts">The supply of its gate, V, at the operating point.</param>
/// <param name="Low">The end of the span at which the pin is lower.</param>
/// <param name="High">The end at which it is higher.</param>
/// <param name="Edges">The sensor changing suddenly, up and down; then as slowly as it may, if the file says how slowly.</param>
/// <param name="RippleLimitVolts">
/// Ripple on the sensor that the least hysteresis still covers, V from peak to peak at the sensor's own ripple frequency; null without
/// ripple or hysteresis.
/// </param>
public sealed record LogicResult(string Sensor, Pin Pin, double SupplyVolts, LogicLevel Low,
    LogicLevel High, ImmutableArray<LogicEdge> Edges, double? RippleLimitVolts)
{
    /// <summary>Symbol of the unit in which the sensor measures.</summary>
    public string SensorUnit { get; init; } = "V";

    /// <summary>Whether the sensor has two states, 0 and 1, and which.</summary>
    public SensorStates States { get; init; }

    /// <summary>How its pulses pass; null for a sensor without.</summary>
    public PulsesResult? Pulses { get; init; }

    /// <summary>The smaller of the two noise margins with all tolerances in their worst case, V.</summary>
    public double WorstMarginVolts => Math.Min(Low.WorstMarginVolts, High.WorstMarginVolts);

    /// <summary>The longer of the two delays of a sudden change, s; infinity if the pin never gets there.</summary>
    public double DelaySeconds => Edges.Where(e => e.IsSudden).Max(e => e.PinDelaySeconds);

    /// <summary>Whether every change looked at is clean.</summary>
    public bool IsClean => Edges.All(e => e.IsClean);

    /// <summary>Largest Kirchhoff residual of all solutions, A.</summary>
    public double KirchhoffAmps => Edges.Max(e => e.Run.Audit.KirchhoffAmps);

    /// <summary>Largest Kirchhoff residual of all solutions, each against its largest current.</summary>
    public double KirchhoffShare => Edges.Max(e => e.Run.Audit.KirchhoffShare);

    /// <summary>Largest energy imbalance of all transients, relative.</summary>
    public double EnergyImbalance => Edges.Max(e => e.Run.Audit.EnergyImbalance);
}

/// <summary>What the states 0 and 1 of a sensor are.</summary>
public enum SensorStates
{
    /// <summary>It has none, but a span.</summary>
    None,

    /// <summary>Open and closed.</summary>
    Contact,

    /// <summary>Between pulses and in one.</summary>
    Pulses,
}

/// <summary>The numbers of a <see cref="LogicEdge"/>, without its traces.</summary>
/// <param name="IsSudden">Whether the sensor jumps; else it takes its slowest time, with its ripple.</param>
/// <param name="Rises">Whether the pin goes from low to high.</param>
/// <param name="Changes">How often the gate changes.</param>
/// <param name="PassageSeconds">How long the pin is between its levels, s; infinity if it does not arrive.</param>
/// <param name="SlowestPassageSeconds">How long that may take for a gate without hysteresis, s; null for no limit.</param>
public sealed record EdgeNumbers(bool IsSudden, bool Rises, int Changes, double PassageSeconds, double? SlowestPassageSeconds)
{
    /// <summary>For how long the contact that makes the change bounces, s; zero for none.</summary>
    public double BounceSeconds { get; init; }

    /// <summary>How long the change is taken to last where the file does not say it, s; null where it does.</summary>
    public double? TakenSeconds { get; init; }

    /// <summary>The comparator whose inputs pass each other so slowly that noise decides; null for none.</summary>
    public SlowPassage? Undecided { get; init; }

    /// <summary>The numbers of an edge.</summary>
    public static EdgeNumbers Of(LogicEdge edge) =>
        new(edge.IsSudden, edge.Rises, edge.Changes, edge.PassageSeconds, edge.SlowestPassageSeconds)
        { BounceSeconds = edge.BounceSeconds, TakenSeconds = edge.TakenSeconds, Undecided = edge.Undecided };
}

/// <summary>What a pin reads at one end of the sensor's span.</summary>
/// <param name="SensorValue">What the sensor measures, in its own unit.</param>
/// <param name="PinVolts">The pin's voltage at the operating point, V.</param>
/// <param name="LimitVolts">Below this it reads as low, or above this as high, guaranteed, V.</param>
/// <param name="MarginVolts">The noise margin: how far the pin is beyond the limit on the right side, V; negative on the wrong
/// side.</param>
/// <param name="WorstMarginVolts">The same with all tolerances in their worst case, V.</param>
/// <param name="IsExact">Whether every corner of the tolerances was evaluated; else the worst margin is a bound.</param>
public sealed record LogicLevel(double SensorValue, double PinVolts, double LimitVolts,
    double MarginVolts, double WorstMarginVolts, bool IsExact);

/// <summary>The level of a logic input that no sensor moves.</summary>
/// <param name="Pin">The input.</param>
/// <param name="IsLow">Whether it is nearer to the low level.</param>
/// <param name="Volts">Its voltage at the operating point, V.</param>
/// <param name="LimitVolts">Below this it reads as low, or above this as high, guaranteed, V.</param>
/// <param name="WorstMarginVolts">How far it is beyond the limit with all tolerances in their worst case, V.</param>
/// <param name="IsExact">Whether every corner of the tolerances was evaluated; else the margin is a bound.</param>
public sealed record HeldLevel(Pin Pin, bool IsLow, double Volts, double LimitVolts, double WorstMarginVolts, bool IsExact);

/// <summary>A change of the sensor from one end of its span to the other, and what the gate behind the pin makes of it.</summary>
/// <param name="IsSudden">Whether the sensor jumps; else it takes its slowest time, with its ripple.</param>
/// <param name="Rises">Whether the pin goes from low to high.</param>
/// <param name="Start">When the sensor starts to change, s.</param>
/// <param name="PinDelaySeconds">From there to the pin's arriving at its guaranteed level, s; infinity if it does not.</param>
/// <param name="GateDelaySeconds">From there to the gate's last change, s; infinity if it does not change.</param>
/// <param name="PassageSeconds">How long the pin is between its levels, where either may be read, s.</param>
/// <param name="SlowestPassageSeconds">How long that may take for a gate without hysteresis, s; null for no limit.</param>
/// <param name="Changes">How often the gate changes: 1 for a clean edge.</param>
/// <param name="Gate">The gate's output, V.</param>
/// <param name="Trace">The pin's voltage, V.</param>
/// <param name="Run">The run itself.</param>
public sealed record LogicEdge(bool IsSudden, bool Rises, double Start, double PinDelaySeconds,
    double GateDelaySeconds, double PassageSeconds,
    double? SlowestPassageSeconds, int Changes, Trace Gate, Trace Trace, TransientResult Run)
{
    /// <summary>For how long the contact that makes the change bounces, s; zero for none.</summary>
    public double BounceSeconds { get; init; }

    /// <summary>How long the change is taken to last where the file does not say it, s; null where it does.</summary>
    public double? TakenSeconds { get; init; }

    /// <summary>The comparator whose inputs pass each other so slowly that noise decides; null for none.</summary>
    public SlowPassage? Undecided { get; init; }

    /// <summary>Whether the gate changes once, is not taken through its threshold more slowly than it is specified for, and no noise
    /// decides.</summary>
    public bool IsClean => Changes == 1 && !(PassageSeconds > SlowestPassageSeconds) && Undecided is null;
}

/// <summary>A comparator whose inputs part by less than the noise of a board while it changes, so that it changes many times.</summary>
/// <param name="Comparator">Its name.</param>
/// <param name="Volts">By how much they part while its output follows, its hysteresis and that of the circuit included, V.</param>
/// <param name="NoiseVolts">The noise, V from crest to crest.</param>
public sealed record SlowPassage(string Comparator, double Volts, double NoiseVolts)
{
    // What a comparator on a board sees without any disturbance: its own noise over its bandwidth and what its output throws back, V from
    // crest to crest (common practice, no source; sheets ask for some millivolts of hysteresis where signals are slow).
    internal const double BoardVolts = 1e-3;

    // From before its change to where its output has followed, in delays of its own.
    private const double Before = 2, After = 3;

    /// <summary>The one of a front end whose inputs part by least, if that is less than the noise; else null.</summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="run">A change of its sensor.</param>
    internal static SlowPassage? In(FrontEnd frontEnd, TransientResult run) =>
        frontEnd.AllParts.OfType<ComparatorPart>().Select(c => Of(c, run)).OfType<SlowPassage>().MinBy(p => p.Volts);

    private static SlowPassage? Of(ComparatorPart part, TransientResult run)
    {
        var output = run.Voltage(part.Output);
        double from = output.At(0), to = output.At(output.End);
        if (output.Crossings((from + to) / 2) is not [var change, ..])
            return null;
        double delay = part.Type.Model.DelaySeconds;
        double Apart(double seconds)
        {
            double at = Math.Clamp(seconds, 0, output.End);
            return run.Voltage(part.Plus).At(at) - run.Voltage(part.Minus).At(at);
        }
        double moved = part.Type.Model.HysteresisVolts + Math.Abs(Apart(change + After * delay) - Apart(change - Before * delay));
        return moved < BoardVolts ? new(part.Name, moved, BoardVolts) : null;
    }
}
