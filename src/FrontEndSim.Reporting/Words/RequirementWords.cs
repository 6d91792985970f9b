using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Faults;

namespace FrontEndSim.Reporting.Words;

/// <summary>How a requirement stands, in words.</summary>
public static class RequirementWords
{
    /// <summary>What is required: as the user wrote it, or as it holds of every circuit.</summary>
    public static string Of(Requirement requirement) => requirement switch
    {
        { Text: { Length: > 0 } written } => written,
        InsideRating { Event: null } pin => $"{pin.Pin} inside rating",
        PartsInsideRating => "every part inside rating",
        SuppliesInRange => "every supply inside its range",
        RailsInRange => "no rail lifted too far",
        TemperaturesInRange => "every part inside its temperatures",
        SuppliesRegulate => "every regulator and reference at its voltage",
        RegulatorsStable => "every regulator with its output capacitor",
        CurrentsDriven => "every transmitter drives its current",
        SampleSettles s => $"{s.Pin} samples settle to under {Figures.Plain(s.MaximumCounts, "counts", 3)}",
        CleanEdges edges => $"{edges.Pin} clean edges",
        NoiseMargin margin => $"{margin.Pin} levels guaranteed",
        LevelHeld held => $"{held.Pin} level guaranteed",
        PulsesCounted pulses => $"{pulses.Pin} counts every pulse",
        ContactWetted contact => $"contact {contact.Sensor} carries its current",
        OpAmpsInRange => "every op amp inside its range",
        ComparatorsInRange => "every comparator inside its range",
        OpAmpsStable => "every op amp stable",
        StagesAsAsked => "every stage as asked for",
        FaultsDetectable { Scope: DetectionScope.Alarms } alarms => $"{alarms.Pin} tells alarm levels from measurements",
        _ => throw new ArgumentException($"No words for {requirement.GetType().Name}.", nameof(requirement)),
    };

    /// <summary>"met", "not met", "not known".</summary>
    public static string Of(Verdict verdict) => verdict switch
    {
        Verdict.Met => "met",
        Verdict.NotMet => "not met",
        _ => "not known",
    };

    /// <summary>What was found.</summary>
    public static string Found(RequirementResult r) => r.Reason switch
    {
        StabilityReason s => s.PhaseMarginDegrees is { } degrees ? Figures.Plain(degrees, "°", 3) : "unstable",
        StepReason s => Figures.Of(s.Simulated, s.Unit, 4),
        SingleFaultReason fault => $"{r.Found?.Value:0} of {fault.Faults} faults break it",
        DetectionReason fault => $"{r.Found?.Value:0} of {fault.Faults} faults read as valid",
        CleanEdgesReason when r.Found is { } found => found.Unit == Unit.None ? LogicWords.Changes(found.Value)
            : found.Unit == Unit.Volts ? Amounts.Of(found) + " apart"
            : double.IsInfinity(found.Value) ? "never guaranteed" : Amounts.Of(found) + " between the levels",
        PulsesReason { Worst: { IsCounted: false } missed } => missed.ChangesInPeriod == 2 ? "level not reached"
            : $"{Figures.Plain(missed.ChangesInPeriod, "", 3)} changes a period",
        PulsesReason => Amounts.Of(r.Found, "") + " at a level",
        _ => Amounts.Of(r.Found, "not known"),
    };

    /// <summary>The limit.</summary>
    public static string Limit(RequirementResult r) => r.Reason switch
    {
        CleanEdgesReason when r.Limit is { Value: 1 } limit && limit.Unit == Unit.None => "1 change",
        PinReason => Amounts.Of(r.Limit, "no rating"),
        StepReason s => $"{Figures.Of(s.ByHand, s.Unit, 4)} ± {Figures.Of(s.Allowed, s.Unit, 2)}",
        StabilityReason => r.Limit is { } least ? Figures.Plain(least.Value, "°", 3) : "",
        PulsesReason => "2 changes",
        _ => Amounts.Of(r.Limit, "not known"),
    };

    /// <summary>The distance between the two.</summary>
    public static string Margin(RequirementResult r) => r.Reason switch
    {
        StabilityReason => r.Margin is { } degrees ? Figures.Plain(degrees.Value, "°", 3) : "",
        StepReason s => Figures.Of(s.Allowed - Math.Abs(s.Simulated - s.ByHand), s.Unit, 3),
        SingleFaultReason => r.Met ? "all survived" : $"{r.Found?.Value:0} too many",
        DetectionReason d => !r.Met ? $"{d.Hidden.Length} too many"
            : d.Deciding?.MarginCounts is { } counts ? Amounts.Counts(counts) + " beyond valid codes" : "none does harm",
        CleanEdgesReason when r.Met => r.Margin is { } ripple ? Amounts.Of(ripple) + " more ripple" : "none needed",
        CleanEdgesReason when r.Margin is { } changes && changes.Unit == Unit.None =>
            changes.Value < 0 ? $"{-changes.Value:0} too many" : $"{changes.Value:0} too few",
        PulsesReason { Worst.IsCounted: false } => "none",
        CleanEdgesReason or EdgeDelayReason => Amounts.Of(r.Margin, "none"),
        _ => Amounts.Of(r.Margin, "unknown"),
    };

    /// <summary>What decides, in a sentence or several.</summary>
    public static string Reason(RequirementResult r) => r.Reason switch
    {
        PinReason pin => $"{Figures.Sentence(OccasionWords.Of(pin.Where))}: {PinWords.Of(pin.Exposure)}"
            + (pin.Events > 1 && pin.Beyond > 1 ? $" {pin.Beyond} of {pin.Events} events break a rating." : ""),
        MappingReason mapping => Of(mapping),
        ReadingReason reading => Of(reading),
        HeadroomReason headroom => Of(headroom),
        ComparatorReason comparator => Of(comparator),
        SingleFaultReason fault => Of(fault, r.Met),
        PartReason part => Of(part),
        PartsReason parts => Of(parts),
        StabilityReason stability => Of(stability),
        StepReason s =>
            $"The {s.What} of stage {s.Stage} is {Figures.Of(s.Simulated, s.Unit, 4)} in the circuit and "
            + $"{Figures.Of(s.ByHand, s.Unit, 4)} by hand; "
            + $"{Figures.Of(s.Allowed, s.Unit, 2)} either way is allowed.",
        SupplyReason { Reference: { } rail } s => $"{s.Subject} converts against {rail} at {Amounts.Volts(s.Volts)}, which may stand "
            + $"{(s.MarginVolts < 0 ? "no further than" : "as far as")} {Amounts.Volts(s.LimitVolts)} with its supply where it is.",
        SupplyReason s =>
            $"{s.Subject} is fed with {Amounts.Volts(s.Volts)} and works {(s.IsLower ? "from" : "up to")} {Amounts.Volts(s.LimitVolts)}.",
        RailLiftReason rail => Of(rail),
        RegulationReason { IsLower: false } s => $"{Figures.Sentence(OccasionWords.Of(s.Where))}, rails at the upper end of their "
            + $"tolerance, "
            + $"{s.Part} is lifted to {Amounts.Volts(s.Volts)}, as it delivers and never takes; what it feeds is taken to stand "
            + $"{Amounts.Volts(s.LimitVolts)}.",
        RegulationReason s => $"{Figures.Sentence(OccasionWords.Of(s.Where))}, rails at the lower end of their tolerance, {s.Part} gives "
            + $"{Amounts.Volts(s.Volts)}; while it regulates it gives {Amounts.Volts(s.LimitVolts)} at least.",
        StarvedReason s => $"{Figures.Sentence(OccasionWords.Of(s.Where))}, rails at the lower end of their tolerance, {s.Part} carries "
            + $"{Amounts.Amps(s.Amps)}; by its sheet it regulates from {Amounts.Amps(s.LeastAmps)}.",
        OutputCapacitorReason s => Of(s),
        ComplianceReason s => Of(s),
        HumReason hum => HumWords.Of(hum.Pin, hum.Worst),
        SamplingReason s => Of(s),
        BoardReason boards => Of(boards),
        NodeReason node => Of(node),
        RailReason rail =>
            $"{Figures.Sentence(OccasionWords.Of(rail.Where))} the circuit pushes up to {Amounts.Amps(rail.Take.Amps)} into rail "
            + $"{rail.Take.Rail}; so much it has to take to hold its voltage.",
        SettlingReason settling => Of(settling),
        NoiseReason noise => $"With {noise.Sensor} at {Place(noise.SensorValue, noise.SensorUnit, bare: true)} the noise of "
            + $"one reading is {Figures.Of(noise.Noise.RmsVolts, "V", 3)} rms over all of its band"
            + (noise.Noise.Parts.IsEmpty ? "." : ": " + string.Join(", ",
                noise.Noise.Parts.Take(MostSources).Select(p => $"{p.Part} {Figures.Of(p.RmsVolts, "V", 2)}")) + "."),
        DetectionReason detection => DetectionWords.Of(detection),
        NothingToJudge => "There is nothing that it could be broken by.",
        NoiseMarginReason margin =>
            $"With {margin.Sensor} at {Place(margin.Level.SensorValue, margin.SensorUnit)} pin {margin.Pin} stands at "
            + $"{Amounts.Volts(margin.Level.PinVolts)} and reads "
            + $"{(margin.IsLow ? "low below" : "high above")} {Amounts.Volts(margin.Level.LimitVolts)}: "
                + $"{Amounts.Volts(margin.Level.MarginVolts)} of margin, "
            + $"{Amounts.Volts(margin.Level.WorstMarginVolts)} with all tolerances in their worst case.",
        HeldLevelReason held =>
            $"Nothing that is measured moves {held.Pin}: its input stands at {Amounts.Volts(held.Level.Volts)} and reads "
            + $"{(held.Level.IsLow ? "low below" : "high above")} {Amounts.Volts(held.Level.LimitVolts)}; "
            + $"{Amounts.Volts(held.Level.WorstMarginVolts)} of margin with all tolerances in their worst case.",
        EdgeDelayReason delay => Of(delay),
        CleanEdgesReason edges => LogicWords.Of(edges),
        PulsesReason pulses => LogicWords.Of(pulses),
        WettingReason contact => $"Closed, contact {contact.Sensor} carries {Amounts.Amps(contact.Amps)} with rails at the end of their "
            + $"tolerance; it is {(contact.IsTaken ? "taken to be " : "")}made for {Amounts.Amps(contact.Made.Low)} .. "
            + $"{Amounts.Amps(contact.Made.High)}.",
        NotComputed problem => ScopeWords.Of(problem),
        _ => throw new ArgumentException($"No words for {r.Reason.GetType().Name}.", nameof(r)),
    };

    /// <summary>What mends it, each tried, or what stands in the way; empty if nothing needs mending or nothing was tried.</summary>
    public static string Remedy(RequirementResult r) => MendWords.Of(r);

    private static string Kind(PartLoad part) => part.ValueText == "" ? part.Word : $"{part.Word} {part.ValueText}";

    private static string Of(OutputCapacitorReason s)
    {
        string farads = Figures.Of(s.NominalFarads, "F", 3), left = Figures.Of(s.FoundFarads, "F", 3);
        string there = s.NominalFarads <= 0 ? "none stands there"
            : left == farads ? $"{farads} stand there"
            : $"{left} are left of the {farads} there by tolerance, temperature, age and {Amounts.Volts(s.Volts)} across them";
        return $"The sheet of {s.Regulator} asks for {Figures.Of(s.AskedFarads, "F", 3)} from its output to its ground pin; {there}"
            + (s.FoundFarads < s.AskedFarads ? ", with which it may oscillate." : ".");
    }

    private static string Of(MappingReason m)
    {
        var worst = m.Worst;
        if (!m.Pedestals.IsEmpty)
        {
            return $"The error is {Error(m, worst.ErrorCounts)} at {Place(worst.SensorValue, m.SensorUnit)} before "
                + $"{Figures.And([.. m.Pedestals.Select(p => p.Switch)])} "
                + $"{(m.Pedestals.Length == 1 ? "opens" : "open")}; the charge that "
                + $"{(m.Pedestals.Length == 1 ? "it leaves" : "they leave")} "
                + $"behind moves pin {m.Pin} by {Figures.Of(m.Pedestals.Sum(p => p.Volts), "V", 3)}.";
        }
        if (Math.Abs(worst.ErrorCounts) < 1e-3)
            return $"The error stays {Error(m, worst.ErrorCounts)} over the whole span.";
        string stands = $"The largest error is {Error(m, worst.ErrorCounts)} at {Place(worst.SensorValue, m.SensorUnit)}, where ";
        // Where the pin itself is right, the converter's reference is not.
        string reason = stands + (m.Reference is { } reference
            ? $"{reference.Rail}, which the converter of {m.Pin} measures against, stands at {Figures.Of(reference.Volts, "V", 5)} and "
                + $"firmware takes it for {Figures.Of(reference.NominalVolts, "V", 5)}."
            : $"pin {m.Pin} stands at {Figures.Of(worst.PinVolts, "V", 5)} instead of {Figures.Of(worst.IdealVolts, "V", 5)}.");
        return m.Cause is not { } cause ? reason
            : $"{reason} {(cause.WithoutBias ? "With no bias current in" : "Without")} {cause.Part.Name} ({cause.Part.Word} "
                + $"{cause.Part.ValueText}) it would be "
                + $"{Error(m, cause.RemainingCounts)}.";
    }

    // A voltage is called by its name, another quantity by its unit.
    private static string Place(double value, string unit, bool bare = false) =>
        unit == "V" && !bare ? $"a sensor voltage of {Amounts.Volts(value)}" : Figures.Of(value, unit);

    // So many sources are named: the rest is small beside them.
    private const int MostSources = 4;

    private static string Of(ReadingReason reading)
    {
        var a = reading.Spread;
        string At(double value, int digits = 3) => Figures.Of(value, a.Unit, digits);
        return $"With {reading.Sensor} at {At(a.LargestAt, 4)} firmware reads up to {At(a.Largest)} too much or too little with all "
            + $"tolerances in the worst case, {At(a.Nominal)} with nominal parts: "
            + $"{string.Join(", ", a.Sources.Take(MostSources).Select(x => $"{x.Name} {At(x.Effect, 2)}"))}."
            + (a.HasSensorError ? "" : " The file does not say what the sensor itself may be off by, so it is taken to be exact.");
    }

    private static string Of(BoardReason board)
    {
        var a = board.Spread;
        string Error(double value, int digits = 3) => a.Unit == "counts" ? Amounts.Counts(value) : Figures.Of(value, a.Unit, digits);
        string boards = a.Target.Share is { } share ? $"On {Figures.Percent(share, 3)} of boards" : "On every board";
        return $"{boards}{(a.Target.IsCalibrated ? ", calibrated by two readings," : "")} the error stays within {Error(a.Largest)}"
            + (a.Target.Share is null ? ", worst at " : $" all over the span, by {a.Trials} trials; it spreads most at ")
            + $"{Place(a.LargestAt, board.SensorUnit)} and {Figures.Plain(a.Celsius, "°C", 3)}, {Error(a.Nominal)} with nominal parts: "
            + $"{string.Join(", ", a.Sources.Take(MostSources).Select(x => $"{x.Name} {Error(x.Effect, 2)}"))}."
            + (a.HasSensorError ? "" : " The file does not say what the sensor itself may be off by, so it is taken to be exact.");
    }

    private static string Of(NodeReason node)
    {
        var (volts, at, sensor) = node.IsHigh ? (node.Exposure.HighestVolts, node.Exposure.HighestAt, node.Exposure.HighestSensor)
            : (node.Exposure.LowestVolts, node.Exposure.LowestAt, node.Exposure.LowestSensor);
        string where = Figures.Sentence(OccasionWords.Of(node.Where))
            + (sensor is { } s ? $", {s.Sensor} at {Place(s.Value, s.Unit, bare: true)}," : "");
        return $"{where} node {node.Exposure.Node} {(node.IsHigh ? "rises" : "falls")} to {Figures.Of(volts, "V", 4)}{At(node.Where, at)}.";
    }

    private static string At(Occasion where, double seconds) => where.Event is null ? "" : $" at {Figures.Time(seconds)}";

    private static string Of(SettlingReason settling)
    {
        var s = settling.Slowest;
        string parts = s.Ends.IsEmpty ? "with nominal parts"
            : "with " + string.Join(", ", s.Ends.Select(e => $"{e.Subject} at {Figures.Of(e.Value.Value, e.Value.Symbol, 4)}"))
                + $"; {Figures.Time(s.NominalSeconds)} with nominal parts";
        return $"After a {(s.Rises ? "rise" : "fall")} of {s.Sensor} over all of its span pin {settling.Pin} "
            + (double.IsInfinity(s.Seconds) ? $"does not settle to within {Amounts.Of(settling.Within)}"
                : $"stays within {Amounts.Of(settling.Within)} of its end "
                + $"{Figures.Time(s.Seconds)} later")
            + $", {parts}.";
    }

    private static string Error(MappingReason m, double error) => m.Worst.Code < 0 ? Amounts.Volts(error * 1e-3) : Amounts.Counts(error);

    private static string Of(RailLiftReason rail) =>
        $"{Figures.Sentence(OccasionWords.Of(rail.Where))} rail {rail.Rail} stands at {Amounts.Volts(rail.Volts)}; what it feeds is taken "
        + $"to stand {Amounts.Volts(rail.LimitVolts)}"
        + $"{(rail.OtherEvents > 0 ? $", and is beyond that in {rail.OtherEvents} more events" : "")}."
        + (rail.IsBeyond ? " It only delivers: a load or a clamp of its own has to take what is pushed into it." : "");

    private static string Of(ComplianceReason s) =>
        $"At {Place(s.SensorValue, s.SensorUnit)}, all tolerances in the worst case, "
        + (s.Limit.Supply is { } supply
            ? $"{Amounts.Volts(s.FoundVolts)} from {supply} are left across transmitter {s.Transmitter}, which needs "
                + $"{Amounts.Volts(s.Limit.Volts)} to drive its current"
            : $"transmitter {s.Transmitter} has to drive its current up to {Amounts.Volts(s.FoundVolts)} and can up to "
                + Amounts.Volts(s.Limit.Volts))
        + (s.IsTaken ? ", as is usual: the file does not say it." : ".")
        + (s.LeftVolts < 0 ? " A smaller burden or a higher supply leaves it more." : "");

    private static string Of(SamplingReason s) =>
        $"At {Place(s.Sample.SensorValue, s.SensorUnit)}, after {s.Sample.Before ?? "a channel"} at {Amounts.Volts(s.Sample.StartVolts)}, "
        + "the sampling capacitor "
        + $"of pin "
        + $"{s.Pin} is disconnected at {Figures.Of(s.Sample.HeldVolts, "V", 5)} instead of {Figures.Of(s.Sample.RestVolts, "V", 5)}"
        + (double.IsFinite(s.Sample.LongEnoughSeconds) ? $"; {Figures.Time(s.Sample.LongEnoughSeconds)} would bring it within half a count."
            : ".");

    private static string Of(ComparatorReason c)
    {
        string where = c.SensorValue is { } value ? " at " + Place(value, c.SensorUnit) : "";
        string beyond = c.Side == "upper" ? $"Both inputs of {c.Comparator} are" : $"An input of {c.Comparator} is";
        return c.Volts >= 0
            ? $"The lower input of {c.Comparator} stays {Amounts.Volts(c.Volts)} inside the {c.Side} common-mode limit{where}."
            : $"{beyond} beyond the {c.Side} common-mode limit{where}: {Amounts.Volts(c.InputVolts)} is "
                + $"{Amounts.Volts(-c.Volts)} {(c.Side == "upper" ? "above" : "below")} it, and the output may be anything.";
    }

    private static string Of(HeadroomReason h)
    {
        if (h is { IsOutput: true, Side: "slew", Headroom: { Hertz: { } at, PeakVolts: { } moves } })
        {
            return $"The output of {h.Headroom.OpAmp} moves by {Amounts.Volts(moves)} either way at {Figures.Of(at, "Hz", 3)}, where its "
                + $"slew rate lets it move by {Amounts.Volts(moves + h.Headroom.SwingVolts)}.";
        }
        string where = h.Headroom.Hertz is { } hertz ? $"at {Figures.Of(hertz, "Hz", 3)} and the largest amplitude"
            : "at " + Place(h.SensorValue, h.Headroom.SensorUnit);
        where += h.Headroom.IsWithOffsets ? " with offsets and bias currents at their limits"
            : h.Headroom.IsInCourse ? " while the circuit's own sources go on" : "";
        string limit = $"the {h.Side} {(h.IsOutput ? "swing" : "common-mode")} limit {where}.";
        string what = $"The {(h.IsOutput ? "output" : "inputs")} of {h.Headroom.OpAmp}";
        return h.Headroom.Volts switch
        {
            >= LeastDistance => $"{what} {(h.IsOutput ? "comes" : "come")} within {Amounts.Volts(h.Headroom.Volts)} of {limit}",
            > -LeastDistance => $"{what} {(h.IsOutput ? "stands" : "stand")} at {limit}",
            _ => $"{what} {(h.IsOutput ? "is" : "are")} {Amounts.Volts(-h.Headroom.Volts)} beyond {limit}",
        };
    }

    // What is nearer stands at its limit, V.
    private const double LeastDistance = 1e-4;

    private static string Of(SingleFaultReason fault, bool met)
    {
        string reason = FaultWords.Of(fault.Deciding);
        if (met)
            return $"The nearest is {fault.Deciding.Text}. {reason}";
        string others = fault.Breaking.IsEmpty ? ""
            : $" Also: {string.Join("; ", fault.Breaking.Take(4).Select(f => f.Text))}{(fault.Breaking.Length > 4 ? "; …" : "")}.";
        return $"With {fault.Deciding.Text}: {reason}{others}";
    }

    private static string Of(PartReason part) =>
        $"{Figures.Sentence(OccasionWords.Of(part.Where))} {part.Part.Part} "
        + $"({Kind(part.Part)}) {Verb(part.Part.Kind)} {Amounts.Of(part.Part.Found)} of its rated "
            + $"{Amounts.Of(part.Part.Limit)}, "
        + $"averaged over {Figures.Time(part.Part.ThermalSeconds)}.";

    private static string Of(StabilityReason s) => s.GrowthPerSecond is { } growth
        ? $"{Figures.Sentence(OccasionWords.Of(s.Where))}{(s.OpAmp is { } amp ? " " + amp : " the circuit")} is unstable: the feedback "
            + $"through "
            + $"{string.Join(", ", s.Path.Take(5))} grows by a factor of e in {Figures.Of(1 / growth, "s", 2)}"
            + (s.Hertz > 0 ? $" and oscillates at {Figures.Of(s.Hertz, "Hz", 3)}."
                : "; it latches at a limit, where no meter reads what is computed here.")
        : $"{Figures.Sentence(OccasionWords.Of(s.Where))} the loop of {s.OpAmp} crosses a gain of one at {Figures.Of(s.Hertz, "Hz", 3)} "
            + $"with a phase margin of "
            + $"{Figures.Plain(s.PhaseMarginDegrees!.Value, "°", 3)}"
            + (s.DampingRatio is { } damping ? $"; it rings with a damping ratio of {Figures.Plain(damping, "", 2)}." : ".");

    private static string Of(PartsReason parts) =>
        parts.Beyond.IsEmpty ? $"Nearest to a rating comes {Beyond(new(parts.Part, parts.Where, 0))}."
        : string.Join(" ", parts.Beyond.Take(6).Select(b => Figures.Sentence(Beyond(b)) + "."))
            + (parts.Beyond.Length > 6 ? $" {parts.Beyond.Length - 6} more ratings are exceeded." : "");

    private static string ForHowLong(PartLoad load) => load.PulseSeconds is not { } seconds ? ""
        : seconds > ShortestPulse ? " for " + Figures.Time(seconds) : " at its peak";

    private static string Beyond(PartBeyond b) =>
        $"{b.Part.Part} ({Kind(b.Part)}) "
        + (b.Part.Kind == RatingKind.Temperature ? Surrounded(b.Part)
            : $"{Verb(b.Part.Kind)} {Figures.Percent(b.Part.Share, 3)} of its rated {b.Part.Kind.Word} "
                + $"({Amounts.Of(b.Part.Found)} of {Amounts.Of(b.Part.Limit)}{ForHowLong(b.Part)})")
        + " " + OccasionWords.Of(b.Where)
        + b.OtherEvents switch
        {
            0 => "",
            1 => ", and beyond it in another event",
            _ =>
            $", and beyond it in {b.OtherEvents} other events"
        };

    // A share of degrees says nothing. An end below freezing is the lower one: nothing is made for the cold alone.
    private static string Surrounded(PartLoad load) => $"stands in {Amounts.Of(load.Found)} and is made for "
        + $"{(load.Limit.Value <= 0 ? "down" : "up")} to {Amounts.Of(load.Limit)}";

    // What is shorter is a peak, s.
    private const double ShortestPulse = 1e-12;

    /// <summary>What a part does with what a rating limits.</summary>
    private static string Verb(RatingKind kind) =>
        kind == RatingKind.Power ? "dissipates" : kind.Unit == "A" ? "carries" : kind.Unit == "V" ? "sees" : "takes";

    private static string Of(EdgeDelayReason delay)
    {
        string side = delay.Rises ? $"above {Amounts.Volts(delay.LimitVolts)}, which is guaranteed to read as high (VIH)"
            : $"below {Amounts.Volts(delay.LimitVolts)}, which is guaranteed to read as low (VIL)";
        return double.IsFinite(delay.DelaySeconds)
            ? $"After a jump of sensor {delay.Sensor} pin {delay.Pin} is {side}, {Figures.Time(delay.DelaySeconds)} later."
            : $"Pin {delay.Pin} does not come {side}.";
    }
}
