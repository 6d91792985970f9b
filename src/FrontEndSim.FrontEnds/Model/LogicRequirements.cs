using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Levels;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>Both ends of the sensor's span read as their level with something in hand, all tolerances in their worst case.</summary>
/// <param name="Pin">Name of the pin, which reads logic.</param>
/// <param name="MinimumVolts">The smaller of the two noise margins must be above this, V, at least 0.</param>
/// <param name="Text">The requirement in words.</param>
public sealed record NoiseMargin(string Pin, double MinimumVolts, string Text) : Requirement(Text)
{
    /// <summary>Of every pin that reads logic: what it reads of both ends must be guaranteed on every board.</summary>
    internal static IEnumerable<Requirement> Implied(FrontEnd frontEnd) =>
        frontEnd.LogicInputs.Where(p => LogicStudy.Reads(frontEnd, p)).Select(p => new NoiseMargin(p.Name, 0, ""));

    internal override bool Covers(Requirement implied) => implied is NoiseMargin other && other.Pin == Pin;

    internal override bool IsOfOneTemperature => true;

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        bool isGate = !solved.FrontEnd.HasPin(Pin);
        // A gate deep in a circuit may have nothing to do with the sensor that its wiring leads to.
        if (isGate && LogicStudy.Following(solved, Pin, cancel) is null)
            return new LevelHeld(Pin).Judge(solved, progress, cancel) with { Requirement = this };
        var found = solved.Logic(Pin, cancel);
        bool isLow = found.Low.WorstMarginVolts <= found.High.WorstMarginVolts;
        var level = isLow ? found.Low : found.High;
        var result = Above(new(level.WorstMarginVolts, Unit.Volts), new(MinimumVolts, Unit.Volts),
            new NoiseMarginReason(found.Sensor, Pin, isLow, level) { SensorUnit = found.SensorUnit });
        return result.Met || isGate ? result : result with
        {
            Candidates = [new(isLow ? MendKind.LowerLevel
                : MendKind.HigherLevel, Pin) { Other = found.Sensor, For = new(level.SensorValue, Unit.Volts) }],
        };
    }
}

/// <summary>A logic input that no sensor moves stands at a guaranteed level, all tolerances in their worst case.</summary>
/// <param name="Pin">Name of the pin, or of the gate.</param>
public sealed record LevelHeld(string Pin) : Requirement("")
{
    /// <summary>Of every logic input that no sensor reaches, but where a gate's own output is led back: it oscillates as it is
    /// meant.</summary>
    internal static IEnumerable<Requirement> Implied(FrontEnd frontEnd) => frontEnd.LogicInputs
        .Where(p => !LogicStudy.Reads(frontEnd, p) && !SignalPath.Oscillates(frontEnd, p.Node)).Select(p => new LevelHeld(p.Name));

    internal override bool IsOfOneTemperature => true;

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        var held = solved.Held(Pin, cancel);
        return Above(new(held.WorstMarginVolts, Unit.Volts), new(0, Unit.Volts), new HeldLevelReason(Pin, held));
    }
}

/// <summary>A sudden change of the sensor is at the pin's guaranteed level soon enough.</summary>
/// <param name="Pin">Name of the pin, which reads logic.</param>
/// <param name="MaximumSeconds">The longer of the two delays must be below this, s, above zero.</param>
/// <param name="Text">The requirement in words.</param>
public sealed record EdgeDelay(string Pin, double MaximumSeconds, string Text) : Requirement(Text)
{
    internal override bool IsOfOneTemperature => true;

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        var found = solved.Logic(Pin, cancel);
        var slowest = found.Edges.Where(e => e.IsSudden).MaxBy(e => e.PinDelaySeconds)!;
        double delay = slowest.PinDelaySeconds;
        var result = Below(new(delay, Unit.Seconds), new(MaximumSeconds, Unit.Seconds),
            new EdgeDelayReason(found.Sensor, Pin, slowest.Rises, (slowest.Rises ? found.High : found.Low).LimitVolts, delay));
        return result.Met ? result : result with
        {
            Candidates = double.IsFinite(delay) ? [new(MendKind.Faster, Pin)] : [],
        };
    }
}

/// <summary>A change of the sensor gives one change of the gate behind the pin, the sudden one and the slowest one.</summary>
/// <param name="Pin">Name of the pin, which reads logic.</param>
/// <param name="Text">The requirement in words.</param>
public sealed record CleanEdges(string Pin, string Text) : Requirement(Text)
{
    /// <summary>Of every pin whose input bears only fast edges, and of those that a comparator decides for while its sensor is
    /// slow.</summary>
    internal static IEnumerable<Requirement> Implied(FrontEnd frontEnd) =>
        frontEnd.LogicInputs.Where(p => LogicStudy.Reads(frontEnd, p) && (p.Logic!.Type.SlowestSecondsPerVolt is not null
                || (SignalPath.SensorOf(frontEnd, p)?.EdgeSeconds is not null && frontEnd.AllParts.Any(part => part is ComparatorPart))))
            .Select(p => new CleanEdges(p.Name, ""));

    internal override bool Covers(Requirement implied) => implied is CleanEdges other && other.Pin == Pin;

    internal override bool IsOfOneTemperature => true;

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        if (LogicStudy.Following(solved, Pin, cancel) is not { } found)
            return new(this, Verdict.Met, new NothingToJudge());
        bool isGate = !solved.FrontEnd.HasPin(Pin);
        var worst = found.Edges.Where(e => !e.IsClean).MaxBy(e => e.Changes) ?? found.Edges.MaxBy(e => e.PassageSeconds)!;
        var reason = new CleanEdgesReason(found.Sensor, Pin, found.Pin.Logic!.Type.Name, EdgeNumbers.Of(worst), found.RippleLimitVolts);
        if (worst is { Changes: 1, Undecided: { } slow })
            return new(this, Verdict.NotMet, reason)
            {
                Found = new(slow.Volts, Unit.Volts),
                Limit = new(slow.NoiseVolts, Unit.Volts),
                Margin = new(slow.Volts - slow.NoiseVolts, Unit.Volts),
            };
        // A single change that passes too slowly is judged by its time; all else by the number of changes.
        if (worst.Changes == 1 && !worst.IsClean)
            return Below(new(worst.PassageSeconds, Unit.Seconds), new(worst.SlowestPassageSeconds!.Value, Unit.Seconds),
                reason) with
            { Candidates = Mends(found, worst, isGate) };
        Quantity? margin = worst.Changes != 1 ? Quantity.Number(1 - worst.Changes)
            : found.RippleLimitVolts is { } covered
                ? new(covered - solved.FrontEnd.FindSensor(found.Sensor).Ripple!.PeakToPeakVolts, Unit.Volts) : null;
        return new(this, worst.IsClean ? Verdict.Met : Verdict.NotMet, reason)
        {
            Found = Quantity.Number(worst.Changes),
            Limit = Quantity.Number(1),
            Margin = margin,
            Candidates = worst.IsClean ? [] : Mends(found, worst, isGate),
        };
    }

    // Levels that are not reached are mended first; a gate's input has no pin that could be changed.
    private static ImmutableArray<Mend> Mends(LogicResult found, LogicEdge worst, bool isGate)
    {
        var type = found.Pin.Logic!.Type;
        return isGate || worst.Changes == 0 ? []
            : !type.HasHysteresis ? [new(MendKind.Hysteresis, found.Pin.Name) { Other = type.Name + "-hysteresis" }]
            : [new(found.RippleLimitVolts is not null ? MendKind.LessRipple : MendKind.Slower, found.Pin.Name)];
    }
}
