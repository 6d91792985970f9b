using FrontEndSim.FrontEnds;
using static FrontEndSim.FrontEnds.ProblemKind;

namespace FrontEndSim.Language.Text;

/// <summary>
/// Why something cannot be built, solved or judged, in words: the one place for the reasons that stages, disturbances and studies give as
/// data. They speak of what the author of a file wrote, so that a diagnostic and a page say the same.
/// </summary>
public static class ProblemWords
{
    /// <summary>What is wrong and what mends it.</summary>
    public static string Of(Problem problem)
    {
        var (what, suggestion) = Split(problem);
        return suggestion == "" ? what : what + " " + suggestion;
    }

    /// <summary>What is wrong in a sentence, and what to change in another, empty where nothing is to be said of it.</summary>
    public static (string What, string Suggestion) Split(Problem p) => p.Kind switch
    {
        Unsolved => (p.Engine ?? "", ""),
        NoSuch => ($"There is no {p.Other} named {p.Subject}.", p.Known.IsEmpty ? "" : $"Known: {string.Join(", ", p.Known)}."),
        NoneAtAll => ($"There is no {p.Other} named {p.Subject}. The circuit has no {p.Other}.", ""),
        NotBreakable => ($"There is nothing named {p.Subject} that could be broken.", ""),
        NotMeasured => ($"The {p.Other} of stage {p.Subject} cannot be measured in the circuit.", ""),
        _ => Disturbance(p) ?? Requirement(p) ?? Study(p) ?? Design(p) ?? Setting(p) ?? Outside(p) ?? Conditioning(p) ?? Amplifier(p)
            ?? Guard(p) ?? Shifter(p) ?? throw new ArgumentException($"No words for {p.Kind}.", nameof(p)),
    };

    private const string LeaveOne = "Leave out one of them.", NameRail = "Name the rail that the offset is taken from.",
        OtherSign = "Take the offset from a rail of the other sign.";

    private static (string, string)? Disturbance(Problem p) => p.Kind switch
    {
        NoNodeToTouch => ($"There is no node {p.Subject} that {p.Other} could touch.", ""),
        ShortedToItself => ($"A short joins two nodes, but both are {p.Subject}.", ""),
        SensorIsResistance => ($"\"{p.Other}\" happens to what gives a voltage or a current of its own, and {p.Subject} is a "
            + "resistance.", ""),
        SourceIsNotSteady => ($"\"{p.Other}\" can happen to a steady source only, but {p.Subject} has a waveform of its own.", ""),
        ReversedSupplyUnknown => ($"Sensor {p.Subject} has a supply, and what it makes of a reversed one is not known.", ""),
        NothingDrives => ($"\"{p.Other}\" happens to what drives a node, but no rail and no sensor drives {p.Subject}.", ""),
        _ => null,
    };

    private static (string, string)? Requirement(Problem p) => p.Kind switch
    {
        NoPinFollows => ($"\"{p.Other}\" cannot be judged: no pin that converts follows a sensor.", ""),
        StageWithoutOpAmp => ($"\"{p.Other}\" cannot be judged: stage {p.Subject} has no op amp.", ""),
        NoEvents => ($"\"{p.Other}\" cannot be judged: the circuit has no event.", ""),
        NothingToBreak => ($"\"{p.Other}\" cannot be judged: the circuit has nothing that could be broken.", ""),
        NoRatedPower => ($"\"{p.Other}\" cannot be judged: {p.Subject} has no rated power.", ""),
        RailIsActedOn => ($"Rail {p.Subject} is itself what the event acts on, so that nothing can be pushed into it.", ""),
        _ => null,
    };

    private static (string, string)? Study(Problem p) => p.Kind switch
    {
        NoPulses => ($"Sensor {p.Subject} gives no pulses.", ""),
        CountsNoPulses => ($"Pin {p.Subject} counts no pulses.", ""),
        RangeReversed => ($"The input range {p.Subject} of a converter is empty or reversed.", ""),
        DoesNotFollow => ($"Pin {p.Subject} does not follow sensor {p.Other}" + p.Found switch
        {
            { } volts when volts.Unit == Unit.Volts => $": at the operating point it stands at {volts} all over its span.",
            { } gain => $": the DC gain is {SiText.Format(gain.Value, "V/V")}.",
            null => ", so its codes say nothing of it.",
        }, p.Found?.Unit != Unit.Volts ? ""
            : "What alternates is read over whole periods: alternates at HERTZ below the sensor, and a reading of the pin as rms."),
        HardlyFollows => ($"Pin {p.Subject} hardly follows sensor {p.Other}: between the two readings of the calibration it rises by "
            + $"{SiText.Format(p.Found!.Value.Value, "%", 3)} of what is wanted.", "Mend the mapping first."),
        NotMonotone => ($"What reading {p.Subject} computes does not only rise or only fall with sensor {p.Other}.", ""),
        AmplitudeNotTold => ($"Pin {p.Subject} does not rise and fall with sensor {p.Other} over a period, so that samples over a period "
            + "do not tell its amplitude.", ""),
        ReadingOfStillPin => ($"Reading {p.Subject} has a pin that does not follow its sensor.", ""),
        CalibrationPlaces => ("A calibration needs two places on the span, the lower first: 10 % and 90 %, for example.", ""),
        BelowAbsoluteZero => ("A budget needs temperatures above absolute zero.", ""),
        TooWideForWholeNumbers => ("The sensor's span is too wide for a conversion in whole numbers.", ""),
        NoReadings => ("There are no readings to compare.", ""),
        ReadingOfAnother => ($"Reading {p.Subject} is of sensor {p.Other}, and {p.Known[0]} was set.", ""),
        DoesNotConvert => ($"Pin {p.Subject} does not convert, so it has no code.", ""),
        NowhereToLand => ($"Nothing says where sensor {p.Subject} is to land: no stage maps it and pin {p.Other} does not convert.", ""),
        DoesNotAlternate => ($"Sensor {p.Subject} neither alternates nor is excited.", ""),
        NoSensorReaches => ($"No sensor reaches pin {p.Subject}.", ""),
        NoLogicLevels => ($"Pin {p.Subject} has no logic levels: give it a type such as cmos-hc.", ""),
        RippleTooFast => ($"A change of sensor {p.Subject} that takes {p.Found} has {Count(p.Low, "periods")} of its ripple in it; "
            + $"at most {p.High} are simulated: give a shorter edge or a slower ripple.", ""),
        SampleRate => ($"A sampling rate lies above 0 Hz and up to {p.High}.", ""),
        SamplesTooFast => ($"At {p.Found} a sample comes every {SiText.Format(1 / p.Found!.Value.Value, "s", 3)}, but pin {p.Subject} "
            + $"connects its capacitor for {SiText.Format(1 / p.High!.Value.Value, "s")}: the rate must be below "
            + $"{SiText.Format(p.High.Value.Value, "Hz", 3)}.", ""),
        NoSamplingCapacitor => ($"Pin {p.Subject} has no sampling capacitor: give it one, with its switch's resistance and the time for "
            + "which it is connected.", ""),
        NoPin => ("The circuit has no pin, so there is nothing that a fault could reach.", ""),
        _ => null,
    };

    private static (string, string)? Design(Problem p) => p.Kind switch
    {
        NoShiftNeeded => ("The span needs no shift, so there is no reference to choose.", ""),
        ReferenceDecided => ($"The reference of stage {p.Subject} is decided already: leave its reference settings open, or do not ask for "
            + "another.", ""),
        NoSensorToDesignFor => ("The circuit has no sensor to design for: give it one, with its span.", ""),
        NoPinToDesignFor => ("The circuit has no pin to design for: give it one, with what it converts.", ""),
        NoPinReads => ($"No pin reads sensor {p.Subject}: give the circuit one at {p.Other}, with what it converts.", ""),
        NoRailFeeds => ($"No rail feeds sensor {p.Subject} through a resistor so that pin {p.Other} reads all of its span: name one no "
            + "higher than what the pin converts up to.", ""),
        NothingFeedsSensor => ($"Sensor {p.Subject} is a resistance that nothing feeds. The resistor ahead of it follows from the sensor "
            + $"alone: write stage divide is sensor-divider, and below it reads {p.Subject} from {p.Other} and best linearity or best "
            + "resolution; its hand calculation then says what it chose.", ""),
        NothingUnfinished => ("Nothing is unfinished: every sensor reaches a pin, and no shifting stage waits for its values.",
            "Leave the stage out, or leave its op amp or resistors open where it says where the span is to land."),
        OutputReachesNoPin => ($"The output {p.Other} of stage {p.Subject} reaches no pin: give the circuit a pin there, or a stage from "
            + $"{p.Other} to its pin.", ""),
        OutputReachesPins => ($"The output {p.Other} of stage {p.Subject} reaches {p.Known.Length} pins ({string.Join(", ", p.Known)}), "
            + "and a design is for one: leave one pin in the circuit.", ""),
        NoneFree => ($"No {p.Subject} is free for a new stage: every {p.Subject} of the circuit is joined to a {p.Other} already.", ""),
        SeveralFree => ($"{p.Known.Length} {p.Subject}s ({string.Join(", ", p.Known)}) are joined to no {p.Other}, and a design is for "
            + "one: finish the others first, or leave a stage unfinished that says its two nodes and where the sensor's span is to "
            + "land.", ""),
        PartsHang => ($"Parts beside the stages hang on {p.Subject}, so it is not clear where the new stage is to go: leave a stage "
            + "unfinished that says its two nodes and where the sensor's span is to land.", ""),
        NotStraight => ($"Sensor {p.Subject} is no straight line of {p.Other}, so no gain and shift make one of it: "
            + "a resistor and the firmware's table read it.", ""),
        NothingArrives => ($"What stands between sensor {p.Subject} and {p.Other} "
            + (p.Low!.Value.Value > p.High!.Value.Value ? "turns its span around" : "lets nothing of it through")
            + $": at {p.Other} it is {p.Low} .. {p.High}.", "Design for what comes before, or change it."),
        NoGuard => ($"No series resistor up to {p.Found} with the Schottky clamps of the catalogue keeps pin {p.Subject} inside its "
            + $"ratings, supplies on and off: ahead of the guard the events reach {p.Low} .. {p.High}.",
            "Allow more injection current, or more volts beyond the rails."),
        NoBits => ($"Pin {p.Subject} does not convert, so nothing says what a stage ahead of it is worth: say how many bits it has, and "
            + "its input range.", ""),
        SpanAboveSupply => ($"The pin's span reaches up to {p.Found}, beyond its supply of {p.High}: lower the span, or raise the "
            + "supply.", ""),
        SpanBelowGround => ($"The pin's span reaches down to {p.Found}, below ground, where no converter pin on a supply of {p.High} "
            + "measures: start it at 0 V or above.", ""),
        SpanBelowRange => ($"The pin's span reaches down to {p.Found}, below its converter's range, which starts at {p.Low}: start it "
            + "there or above.", ""),
        SpanOutsideRails => ($"The pin's span reaches to {p.Found}, outside of the rails ({string.Join(", ", p.Known)}; {p.Low} .. "
            + $"{p.High}): nothing can drive the pin there.", "Add a rail, or narrow the span."),
        _ => null,
    };

    private static (string, string)? Setting(Problem p) => p.Kind switch
    {
        EitherOf => ($"Stage {p.Subject} needs either {p.Known[0]} or {p.Known[1]}.", p.Setting is null ? "Give one of them." : LeaveOne),
        NotBoth => ($"Stage {p.Subject} has both {p.Known[0]} and {p.Known[1]}.", LeaveOne),
        Follows => ($"What {p.Setting} says follows from {p.Other}, which is given.", LeaveOne),
        NeedsSetting => ($"Stage {p.Subject} needs the setting {p.Setting}.", ""),
        NeedsSpanOrSetting => ($"Stage {p.Subject} needs either a wanted span, or its resistors; {p.Setting} is missing.",
            $"Give {p.Setting}, or say where the sensor's span is to land."),
        NothingWanted when p.Other != "" => ($"Stage {p.Subject} needs a wanted span, a {p.Other}, or both its resistors.",
            $"Give a {p.Other}, or both the input's and the ground's resistor."),
        NothingWanted => ($"Stage {p.Subject} says neither where the sensor's span is to land nor its own resistor values.",
            "Say where the sensor's span is to land, or give input, feedback and, with an offset, reference."),
        TwoOfThree => ($"Filter {p.Subject} needs two of resistor, capacitor and corner; the third follows.",
            p.Setting is null ? "Add another, such as a corner of 1 kHz." : LeaveOne),
        NotAbove => ($"{p.Setting} must be above {p.Low}, but is {p.Found}.", ""),
        InWrongOrder => ($"What {p.Setting} says, {p.Found}, is not above what {p.Other} says, {p.Low}.", ""),
        NoPlace => ($"{p.Setting} {p.Found} has no place in this stage: with these settings it has no such part.",
            "Leave it out, or say what makes the part needed."),
        NegativeDrift => ("A temperature coefficient is given as a limit either way, zero or more.", "25 ppm/K stand for ±25 ppm/K."),
        NothingDrifts => ("This stage has no resistor that could drift.", "Leave it out."),
        NothingToChoose => ("All resistors are given with their tolerances; nothing is left to choose from a series.", "Leave it out."),
        NoVoltage => ($"Sensor {p.Subject} gives no voltage, but {p.Setting} is about one.",
            $"Leave {p.Setting} out: the firmware's table makes {p.Other} of what reaches the pin."),
        _ => null,
    };

    private static (string, string)? Outside(Problem p) => p.Kind switch
    {
        Ratio => ($"A divider's ratio lies between 0 and 1, but is {p.Found}.", "A tenth is 0.1."),
        Gain => ($"A gain of {p.Found} is outside of what such a part or stage is made for, {p.Low} to {p.High}.", ""),
        InvertedGain => ($"A gain of {p.Found} is outside of what one such stage is built for, {p.Low} to {p.High}.",
            "Give the gain without its sign; it inverts."),
        Ripple => ($"A ripple of {p.Found} is outside of what such filters are built for, {p.Low} to {p.High}.", ""),
        NoRipple => ($"A {p.Subject} response has no ripple.", "Ask for chebyshev, or leave the ripple out."),
        Poles => ($"An rc-filter has 1 or 2 poles, not {p.Found}.", "Put two filters in a row for more."),
        ShareOfSupply => ($"{p.Found} of a supply is no place for a signal to swing about.", "Half of it is 50 %."),
        Turn => ("A potentiometer is turned between 0 % and 100 %.", "Half way is 50 %."),
        _ => null,
    };

    private static (string, string)? Conditioning(Problem p) => p.Kind switch
    {
        DividerShifts => ($"A divider leaves 0 V at 0 V, but an input of 0 V would have to become {p.Found}.",
            p.Low is { } low ? $"It can map {p.Subject} onto {low} .. {p.High}; a passive-shifter shifts as well."
                : "Take a passive-shifter, which shifts as well."),
        DividerAmplifies => ($"A divider only loses voltage, but a gain of {p.Found} is asked for.",
            "Take a buffer, or a stage with an op amp for a gain above 1."),
        BurdenRatio => ($"A burden turns {p.Low} .. {p.High} into voltages in the same ratio, so the lower end cannot be {p.Found}.",
            $"For an upper end of {p.Wanted} write {p.Wanted * p.Low / p.High} as the lower end."),
        NoMiddle => ($"There is no middle of {p.Subject} at {p.Found} to be made at {p.Other}.", "Name a supply and a node of its own."),
        NoResistance => ($"Sensor {p.Subject} is no resistance.", "A divider with one resistor is for one that is."),
        NoResistanceOfTwoNodes => ($"Sensor {p.Subject} is no resistance between two nodes of its own.",
            "Say for example: from DRIVE to SENSE."),
        RailAtZero => ($"Rail {p.Subject} is at 0 V and gives nothing.", "Name another rail."),
        RailNotPositive => ($"The {p.Other} leads to a positive supply, but {p.Subject} is at {p.Found}.", "Name another rail."),
        LevelNotDivided => ($"{p.Found} cannot be divided from {p.Subject} at {p.High}.", "Name a higher rail, or ask for a lower level."),
        ReferenceNotDivided => ($"{p.Found} through {p.Wanted} are {p.Found * p.Wanted}, which cannot be divided from {p.Subject} at "
            + $"{p.High}.", "Give another reference resistor, or leave it out."),
        DissipationKnown => ($"Sensor {p.Subject} has a dissipation of {p.Found}/K of its own.", LeaveOne),
        NoCurrentInto => ($"No sensor drives a current into node {p.Subject}.", "Give feedback, the resistor itself."),
        CurrentWrongWay => ($"A current of {p.Found} into the input takes the output {(p.Found!.Value.Value > 0 ? "below" : "above")} "
            + $"{p.Low}, not to {p.Wanted}.", "Turn the source round, or name another rail that the output rests at."),
        NoStableCapacitor => ($"No capacitor up to {p.High} leaves {p.Wanted}° of phase margin with this op amp.",
            "Take an op amp with more phase margin of its own, or a smaller feedback resistor."),
        FeedbackCapacitor => ($"That asks for a feedback capacitor of {p.Found}.",
            "A piezoelectric sensor gives some picocoulombs to nanocoulombs: reaches 1 V for 1 nAs."),
        _ => null,
    };

    private static (string, string)? Amplifier(Problem p) => p.Kind switch
    {
        SubtractsItself => ($"Stage {p.Subject} would subtract node {p.Other} from itself.", "Name the other end of the source."),
        SupplyOutside => ($"{p.Subject} works on {p.Low} to {p.High}, not on {p.Found}.", "Name other rails, or another type or class."),
        RailsReversed => ($"The first rail of an op amp is the positive one, but {p.Subject} is not above {p.Other}.",
            $"Name {p.Other} first, then {p.Subject}."),
        InputsAtGround => ($"The inputs of both stages rest at ground, which is outside the common-mode range of {p.Subject} on {p.High} "
            + $"and {p.Low}.", "An inverting stage around ground needs a negative rail."),
        ReferenceBringsTo => ($"With its reference at {p.Found} stage {p.Subject} brings the span onto {p.Low} .. {p.High}.",
            "Ask for that, give gain, or let the reference stand at a rail of another voltage: about RAIL."),
        SeriesBringsTo => ($"The values of {p.Other} come no nearer to the span wanted of stage {p.Subject} than {p.Low} .. {p.High}.",
            "Take a finer series, or give resistors that do."),
        CommonModeUnknown => ($"It is not known at which voltage node {p.Subject} stands, and the span of sensor {p.Other} is against "
            + "ground.", $"Say it, such as: common 2.5 V; or let the sensor stand between {p.Known[0]} and {p.Subject}."),
        ResistorsMissGain => ($"The resistors given to stage {p.Subject} do not make a gain of {p.Wanted}.", "Leave some of them open."),
        NothingMakesLevel => ($"At a difference of zero the output of stage {p.Subject} is to be {p.Found}, and there is nothing to make "
            + "that of.", NameRail),
        NoDividerMakes => ($"The reference would have to be {p.Found}, which no divider makes of {p.Subject} at {p.High}.",
            "Take the offset from a higher rail or one of the other sign, or ask for another span."),
        NoFilterValues => ($"No values of {p.Known[0]} and {p.Known[1]} between 100 ohm and 1 Mohm, 10 pF and 10 µF make filter "
            + $"{p.Subject}.", Finer),
        FilterMisses => ($"The nearest values miss what filter {p.Subject} is asked for by {SiText.Format(p.Found!.Value.Value, "%", 2)}.",
            Finer),
        _ => null,
    };

    private const string Finer = "Take finer series or another impedance, or leave values open.";

    private static (string, string)? Guard(Problem p) => p.Kind switch
    {
        NoPullUp => ($"The output of class {p.Subject} drives both ways and takes no pull-up.", "Leave it out."),
        ThresholdsNotDivided => ($"Thresholds of {p.Low} and {p.High} cannot be divided from {p.Found} with what the output swings.",
            "Take the offset from a higher rail, or ask for less hysteresis."),
        ThresholdsMissed => ($"No values of {p.Other} bring the thresholds of stage {p.Subject} within a tenth of their distance.",
            "Take a finer series or another impedance."),
        IndicatorTakes => ($"The indicator takes {p.Found} at {p.Wanted}, and {p.Subject} has only {p.High}.", ""),
        GateLimits => ($"Through the gate's own {p.Found} no more than {SiText.Format(p.High!.Value.Value, "A", 2)} flow.",
            "Ask for less current."),
        ContactNotRead => ($"With {p.Wanted} the contact stands at {p.Found}, which no gate on {p.High} reads as {p.Other}.",
            p.Other == "low" ? "Take a larger pull-up, or less current." : "Take a smaller pull-up, or more current."),
        DiodeHasNoGate => ("A diode in series has no gate.", "Leave it out, or take a transistor."),
        NotPChannel => ($"{p.Subject} is no p-channel transistor.", "Describe one from its data sheet, or take a diode."),
        PullsUp => ($"{p.Subject} pulls to a positive supply; here one pulls to ground.",
            "Take an npn or an n-channel type, such as 2N3904 or 2N7002."),
        BelowThreshold => ($"{p.Subject} does not turn on with {p.Found}: its threshold is {p.Low}.", "Take a type of a lower threshold."),
        HighDoesNotTurnOn => ($"A high of {p.Found} does not turn {p.Subject} on.", "Divide less, or raise what is a high."),
        LowTurnsOn => ($"A low of {p.Found} leaves {p.High} at the base, where {p.Subject} conducts.",
            "Add hold, a resistor from the base to ground, or lower what is a low."),
        CarriesLess => ($"{p.Subject} carries {p.High} at most, and {p.Found} are asked for.", "Take a larger type."),
        DissipatesMore => ($"{p.Subject} would dissipate {SiText.Format(p.Found!.Value.Value, "W", 3)} of {p.High}.",
            "Take a larger type."),
        NothingTakesCurrent => ($"Stage {p.Subject} has nothing that takes the current.", "Give a zener, a load, or both."),
        DecayResistor => ($"A decay of {p.Wanted} from {p.Wanted / p.Found} takes {p.Found}, and {p.Low} to {p.High} can be "
            + "had.", "Choose another capacitor."),
        _ => null,
    };

    private static (string, string)? Shifter(Problem p) => p.Kind switch
    {
        ReferenceJoinsSubtracted =>
            ("The minus input is taken by the node subtracted, and a reference of this sign would have to join it there.", OtherSign),
        DividedReferenceTooHigh => ($"The divided reference would have to be {p.Found}, more than the {p.High} that {p.Subject} gives.",
            "Take the offset from a higher rail, or use a stage whose reference may have gain."),
        AverageOfOtherSign => ($"Resistors only average voltages: an input of 0 V becomes {p.Found} only with a reference of that sign, "
            + $"and {p.Subject} is at {p.High}.", OtherSign),
        AverageAboveOne => ($"Resistors only lose voltage: the gain of {p.Found} for the sensor"
            + (p.Wanted is { } share ? $" and of {share} for the reference add up to more than 1." : " is above 1."),
            "Use a stage with an op amp, or a smaller span at the output."),
        NoRailNamed => ($"Stage {p.Subject} is to make its reference from a rail, but none is named.", NameRail),
        NoPotentiometer => ($"Stage {p.Subject} says how far a potentiometer is turned, but has none.", "Give the potentiometer's track."),
        NoTurn => ($"No turn of the potentiometer of stage {p.Subject} shifts the span to where it is wanted.",
            "Take a smaller track, another rail, or leave the reference resistor open."),
        NoReference => ($"An input of 0 V has to become {p.Found}, and stage {p.Subject} has no reference to shift it with.", NameRail),
        ResistorWithoutReference => ($"Stage {p.Subject} has a resistor to a reference, and no reference.", NameRail),
        SeriesMissesGain => ($"No values of {p.Other} between 10 ohm and 10 Mohm give stage {p.Subject} the gain of {p.Wanted} wanted.",
            "Choose a finer series or another span."),
        OutputStops => ($"An output of {p.Found} is needed, but {p.Subject} on rail {p.Other} ({p.Wanted}) stops at {p.High ?? p.Low}.",
            $"Take a {(p.High is null ? "lower" : "higher")} rail, an op amp that comes nearer to its rails, or a smaller span."),
        RailCannotShift => ($"The span has to be shifted by {p.Found}, which rail {p.Subject} ({p.High}) cannot give.",
            $"Take the offset from a {(p.Found!.Value.Value > 0 ? "positive" : "negative")} rail."),
        NoResistors => ($"No resistors between {p.Low} and {p.High} give a gain of {p.Wanted} with a shift of {p.Found}.",
            "Choose a smaller gain or another reference rail."),
        NoOpAmpToShare => ($"A {p.Subject} has no op amp whose class and rails a buffer could share.", ""),
        _ => null,
    };

    private static string Count(Quantity? count, string unit) => SiText.Plain(count!.Value.Value, unit, 3);
}
