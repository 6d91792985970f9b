namespace FrontEndSim.FrontEnds;

/// <summary>What can stand in the way of a study or of a stage.</summary>
public enum ProblemKind
{
    /// <summary>The engine refuses the circuit or finds no solution: what it says.</summary>
    Unsolved,

    /// <summary>Nothing of the kind Other has the name Subject; those that are known.</summary>
    NoSuch,

    /// <summary>The same, and there is nothing of that kind at all.</summary>
    NoneAtAll,

    /// <summary>Nothing of the name Subject could be broken.</summary>
    NotBreakable,

    /// <summary>There is no node Subject that the node Other could touch.</summary>
    NoNodeToTouch,

    /// <summary>A short joins the node Subject with itself.</summary>
    ShortedToItself,

    /// <summary>The event Other happens to what gives a voltage or a current, and the sensor Subject is a resistance.</summary>
    SensorIsResistance,

    /// <summary>The event Other happens to a steady source, and Subject has a waveform.</summary>
    SourceIsNotSteady,

    /// <summary>What the sensor Subject makes of a reversed supply is not known.</summary>
    ReversedSupplyUnknown,

    /// <summary>The event Other happens to what drives a node, and nothing drives the node Subject.</summary>
    NothingDrives,

    /// <summary>The requirement Other asks for a pin that converts and follows a sensor.</summary>
    NoPinFollows,

    /// <summary>The requirement Other asks for the op amp of stage Subject, which has none.</summary>
    StageWithoutOpAmp,

    /// <summary>The requirement Other asks for events, and there are none.</summary>
    NoEvents,

    /// <summary>The requirement Other asks for single faults, and there is nothing that could break.</summary>
    NothingToBreak,

    /// <summary>The requirement Other asks for the rated power of the part Subject, which has none.</summary>
    NoRatedPower,

    /// <summary>The hand calculation Other of stage Subject cannot be measured in the circuit.</summary>
    NotMeasured,

    /// <summary>The event acts on the rail Subject itself, so that nothing can be pushed into it.</summary>
    RailIsActedOn,

    /// <summary>The sensor Subject gives no pulses.</summary>
    NoPulses,

    /// <summary>The pin Subject counts no pulses.</summary>
    CountsNoPulses,

    /// <summary>The input range Subject of a converter is empty or reversed.</summary>
    RangeReversed,

    /// <summary>The pin Subject does not follow the sensor Other: where it stands, or its DC gain.</summary>
    DoesNotFollow,

    /// <summary>The pin Subject hardly follows the sensor Other: which share of what is wanted it rises by.</summary>
    HardlyFollows,

    /// <summary>What the reading Subject takes does not only rise or only fall with the sensor Other.</summary>
    NotMonotone,

    /// <summary>The pin Subject does not rise and fall with the sensor Other over a period.</summary>
    AmplitudeNotTold,

    /// <summary>The reading Subject has a pin that does not follow its sensor.</summary>
    ReadingOfStillPin,

    /// <summary>A calibration is not asked for at two places, the lower first.</summary>
    CalibrationPlaces,

    /// <summary>A budget is asked for at or below absolute zero.</summary>
    BelowAbsoluteZero,

    /// <summary>The sensor's span is too wide for whole numbers of 64 bit.</summary>
    TooWideForWholeNumbers,

    /// <summary>There are no readings to compare.</summary>
    NoReadings,

    /// <summary>The reading Subject is of the sensor Other, and Known holds the one that was set.</summary>
    ReadingOfAnother,

    /// <summary>The pin Subject does not convert.</summary>
    DoesNotConvert,

    /// <summary>Nothing says where the sensor Subject is to land on the pin Other.</summary>
    NowhereToLand,

    /// <summary>The sensor Subject neither alternates nor is excited.</summary>
    DoesNotAlternate,

    /// <summary>No sensor reaches the pin Subject.</summary>
    NoSensorReaches,

    /// <summary>The pin Subject has no logic levels.</summary>
    NoLogicLevels,

    /// <summary>A change of the sensor Subject takes the time Found, in which its ripple has too many periods: how many, and how many
    /// can be.</summary>
    RippleTooFast,

    /// <summary>A sampling rate is zero or too high: the highest.</summary>
    SampleRate,

    /// <summary>At the rate Found a sample comes before the pin Subject has let go of the one before: the highest rate.</summary>
    SamplesTooFast,

    /// <summary>The pin Subject has no sampling capacitor.</summary>
    NoSamplingCapacitor,

    /// <summary>The circuit has no pin that a fault could reach.</summary>
    NoPin,

    /// <summary>The span needs no shift, so there is no reference to choose.</summary>
    NoShiftNeeded,

    /// <summary>The reference of the stage Subject is decided already.</summary>
    ReferenceDecided,

    /// <summary>The circuit has no sensor to design for.</summary>
    NoSensorToDesignFor,

    /// <summary>The circuit has no pin to design for.</summary>
    NoPinToDesignFor,

    /// <summary>The sensor Subject is a resistance that nothing feeds; the rail Other could.</summary>
    NothingFeedsSensor,

    /// <summary>No pin that converts reads the sensor Subject at the node Other.</summary>
    NoPinReads,

    /// <summary>No rail feeds the sensor Subject through a resistor so that the pin Other reads all of its span.</summary>
    NoRailFeeds,

    /// <summary>Nothing is unfinished.</summary>
    NothingUnfinished,

    /// <summary>The output Other of stage Subject reaches no pin.</summary>
    OutputReachesNoPin,

    /// <summary>The output Other of stage Subject reaches several pins: which.</summary>
    OutputReachesPins,

    /// <summary>Every sensor or pin, as Subject says, is joined to one of the other kind, Other, already.</summary>
    NoneFree,

    /// <summary>Several sensors or pins, as Subject says, are joined to none of the other kind, Other: which.</summary>
    SeveralFree,

    /// <summary>Parts beside the stages hang on the node Subject.</summary>
    PartsHang,

    /// <summary>The sensor Subject is no straight line of its quantity Other.</summary>
    NotStraight,

    /// <summary>What stands between the sensor Subject and the node Other lets nothing through or turns the span round: its
    /// ends there.</summary>
    NothingArrives,

    /// <summary>No series resistor up to Found with clamps keeps the pin Subject inside its ratings: from where to where
    /// events reach.</summary>
    NoGuard,

    /// <summary>The pin Subject does not convert, so that nothing says what a stage ahead of it is worth.</summary>
    NoBits,

    /// <summary>The pin's span reaches up to Found, beyond its supply.</summary>
    SpanAboveSupply,

    /// <summary>The pin's span reaches down to Found, below ground, on the supply High.</summary>
    SpanBelowGround,

    /// <summary>The pin's span reaches down to Found, below its converter's range.</summary>
    SpanBelowRange,

    /// <summary>The pin's span reaches to Found, outside of the rails: which, and their ends.</summary>
    SpanOutsideRails,

    /// <summary>The stage Subject needs one of two things, which are known, and has none or both.</summary>
    EitherOf,

    /// <summary>The stage Subject has two things, which are known, of which it can have one.</summary>
    NotBoth,

    /// <summary>What the setting says follows from Other, which is given.</summary>
    Follows,

    /// <summary>The stage Subject needs the setting.</summary>
    NeedsSetting,

    /// <summary>The stage Subject needs the setting where no span is wanted of it.</summary>
    NeedsSpanOrSetting,

    /// <summary>The stage Subject has neither a wanted span nor values of its own.</summary>
    NothingWanted,

    /// <summary>The stage Subject needs two of resistor, capacitor and corner.</summary>
    TwoOfThree,

    /// <summary>A value that has to be above a limit is not.</summary>
    NotAbove,

    /// <summary>What the setting says, Found, is not above what Other says, Low.</summary>
    InWrongOrder,

    /// <summary>The stage has no part that the value of the setting could be of.</summary>
    NoPlace,

    /// <summary>A temperature coefficient is below zero.</summary>
    NegativeDrift,

    /// <summary>The stage has no resistor that could drift.</summary>
    NothingDrifts,

    /// <summary>All resistors are given with their tolerances, and a series besides.</summary>
    NothingToChoose,

    /// <summary>The sensor Subject gives no voltage, which the setting is about; its quantity is Other.</summary>
    NoVoltage,

    /// <summary>The ratio of a divider is not between 0 and 1.</summary>
    Ratio,

    /// <summary>A gain is outside of what such a stage is built for.</summary>
    Gain,

    /// <summary>The gain of a stage that inverts is outside of what it is built for.</summary>
    InvertedGain,

    /// <summary>A ripple is outside of what filters are built for.</summary>
    Ripple,

    /// <summary>The filter response Subject has no ripple.</summary>
    NoRipple,

    /// <summary>A filter of passive sections has a number of poles that it cannot have.</summary>
    Poles,

    /// <summary>A share of a supply is no place for a signal to swing about.</summary>
    ShareOfSupply,

    /// <summary>A potentiometer is turned further than it can be.</summary>
    Turn,

    /// <summary>A divider would have to shift: what 0 V becomes, and from where to where it can map the sensor Subject.</summary>
    DividerShifts,

    /// <summary>A divider would have to amplify.</summary>
    DividerAmplifies,

    /// <summary>A burden keeps the ratio of the currents from Low to High, so that the lower end cannot be Found where the upper is
    /// Wanted.</summary>
    BurdenRatio,

    /// <summary>The rail Subject at Found has no middle that could be made at the node Other.</summary>
    NoMiddle,

    /// <summary>The sensor Subject is no resistance.</summary>
    NoResistance,

    /// <summary>The sensor Subject is no resistance between two nodes of its own.</summary>
    NoResistanceOfTwoNodes,

    /// <summary>The rail Subject is at 0 V.</summary>
    RailAtZero,

    /// <summary>The rail Subject at Found leads to what needs a positive supply: Other.</summary>
    RailNotPositive,

    /// <summary>The level Found cannot be divided from the rail Subject at High.</summary>
    LevelNotDivided,

    /// <summary>What the current Found makes across the resistor Wanted cannot be divided from the rail Subject at High.</summary>
    ReferenceNotDivided,

    /// <summary>The sensor Subject has a dissipation of its own per kelvin.</summary>
    DissipationKnown,

    /// <summary>No sensor drives a current into the node Subject.</summary>
    NoCurrentInto,

    /// <summary>The current Found takes the output away from Low, where it rests, on the other side than Wanted.</summary>
    CurrentWrongWay,

    /// <summary>No capacitor up to High leaves the phase margin Wanted, degrees.</summary>
    NoStableCapacitor,

    /// <summary>The feedback capacitor of a charge amplifier would have to be Found.</summary>
    FeedbackCapacitor,

    /// <summary>The stage Subject would subtract the node Other from itself.</summary>
    SubtractsItself,

    /// <summary>The type Subject works on other supplies: the one found and the limits.</summary>
    SupplyOutside,

    /// <summary>The rail Subject is to be the positive one and is not above the rail Other.</summary>
    RailsReversed,

    /// <summary>Inputs at ground are outside of the common mode of the class Subject on rails from Low to High.</summary>
    InputsAtGround,

    /// <summary>With its reference at Found the stage Subject brings the span onto another: its ends.</summary>
    ReferenceBringsTo,

    /// <summary>The series Other brings the span of stage Subject no nearer to the wanted one: its ends.</summary>
    SeriesBringsTo,

    /// <summary>It is not known at which voltage the node Subject stands, and the span of sensor Other is against ground; the input is
    /// known.</summary>
    CommonModeUnknown,

    /// <summary>The resistors given to the stage Subject do not make the gain wanted.</summary>
    ResistorsMissGain,

    /// <summary>Nothing makes the output of stage Subject Found at a difference of zero.</summary>
    NothingMakesLevel,

    /// <summary>No divider makes a reference of Found from the rail Subject at High.</summary>
    NoDividerMakes,

    /// <summary>No values of Known, two series, make the filter Subject.</summary>
    NoFilterValues,

    /// <summary>The nearest values miss what the filter Subject is asked for by a share.</summary>
    FilterMisses,

    /// <summary>The output of the class Subject drives both ways and takes no pull-up.</summary>
    NoPullUp,

    /// <summary>Thresholds of Low and High cannot be divided from Found with what the output swings.</summary>
    ThresholdsNotDivided,

    /// <summary>The series Other does not bring the thresholds of the stage Subject near enough.</summary>
    ThresholdsMissed,

    /// <summary>The indicator takes Found at the current Wanted, more than the rail Subject has.</summary>
    IndicatorTakes,

    /// <summary>The gate's own resistance Found lets no more than the current High flow.</summary>
    GateLimits,

    /// <summary>With the resistance Wanted a contact that should be the level Other stands at Found, on the supply High.</summary>
    ContactNotRead,

    /// <summary>A diode in series has no gate.</summary>
    DiodeHasNoGate,

    /// <summary>The type Subject is no p-channel transistor.</summary>
    NotPChannel,

    /// <summary>The type Subject pulls to a positive supply.</summary>
    PullsUp,

    /// <summary>The type Subject does not turn on with Found, below its threshold.</summary>
    BelowThreshold,

    /// <summary>A high of Found does not turn the type Subject on.</summary>
    HighDoesNotTurnOn,

    /// <summary>A low of Found leaves High at the base, where the type Subject conducts.</summary>
    LowTurnsOn,

    /// <summary>The part of value Subject carries less than the current asked for.</summary>
    CarriesLess,

    /// <summary>The part of value Subject would dissipate more than it may.</summary>
    DissipatesMore,

    /// <summary>The stage Subject has nothing that takes the current.</summary>
    NothingTakesCurrent,

    /// <summary>A decay of Wanted takes a resistor of Found, and such cannot be had.</summary>
    DecayResistor,

    /// <summary>A reference of this sign would have to join the node subtracted.</summary>
    ReferenceJoinsSubtracted,

    /// <summary>The divided reference would have to be more than the rail Subject gives.</summary>
    DividedReferenceTooHigh,

    /// <summary>Resistors average: 0 V becomes Found with a rail of that sign only, and the rail Subject is at High.</summary>
    AverageOfOtherSign,

    /// <summary>Resistors lose voltage: the gain Found for the sensor and Wanted for the reference add up to more than 1.</summary>
    AverageAboveOne,

    /// <summary>The stage Subject makes its reference from a rail, and none is named.</summary>
    NoRailNamed,

    /// <summary>The stage Subject says how far a potentiometer is turned, and has none.</summary>
    NoPotentiometer,

    /// <summary>No turn of the potentiometer of stage Subject shifts the span to where it is wanted.</summary>
    NoTurn,

    /// <summary>0 V has to become Found, and the stage Subject has no reference to shift it with.</summary>
    NoReference,

    /// <summary>The stage Subject has a resistor to a reference, and no reference.</summary>
    ResistorWithoutReference,

    /// <summary>No values of the series Other make the gain wanted of the stage Subject.</summary>
    SeriesMissesGain,

    /// <summary>The output would have to be Found, and the class Subject on the rail Other at Wanted stops at High, or at Low.</summary>
    OutputStops,

    /// <summary>The span has to be shifted by Found, which the rail Subject at High cannot give.</summary>
    RailCannotShift,

    /// <summary>No resistors from Low to High make the gain Wanted with the shift Found.</summary>
    NoResistors,

    /// <summary>The kind of stage Subject has no op amp whose class and rails a buffer could share.</summary>
    NoOpAmpToShare,
}
