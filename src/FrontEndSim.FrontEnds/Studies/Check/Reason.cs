using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies.Bias;
using FrontEndSim.FrontEnds.Studies.Boards;
using FrontEndSim.FrontEnds.Studies.Budget;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.FrontEnds.Studies.Faults;
using FrontEndSim.FrontEnds.Studies.Levels;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Respond;

namespace FrontEndSim.FrontEnds.Studies.Check;

/// <summary>What decides a requirement: where, when, and with which numbers.</summary>
public abstract record Reason
{
    /// <summary>The circumstance that decides, where a search for the worst found it; null elsewhere.</summary>
    internal virtual Occasion? WhereItDecides => null;
}

/// <summary>What reaches a pin.</summary>
/// <param name="Where">Where it comes nearest to a rating or goes furthest beyond.</param>
/// <param name="Exposure">What reaches the pin there.</param>
/// <param name="Beyond">In how many events a rating is broken.</param>
/// <param name="Events">How many events were looked at.</param>
public sealed record PinReason(Occasion Where, PinExposure Exposure, int Beyond, int Events) : Reason
{
    internal override Occasion? WhereItDecides => Where;
}

/// <summary>Where a mapping is furthest off.</summary>
/// <param name="Sensor">Name of the sensor.</param>
/// <param name="Pin">Name of the pin.</param>
/// <param name="Worst">The point with the largest error.</param>
/// <param name="Cause">The part that makes most of it; null where none stands out or the error is small enough.</param>
public sealed record MappingReason(string Sensor, string Pin, MappingPoint Worst, MappingCause? Cause) : Reason
{
    /// <summary>Symbol of the unit in which the sensor measures.</summary>
    public string SensorUnit { get; init; } = "V";

    /// <summary>What the charge of analog switches adds once they have opened; empty where none does.</summary>
    public ImmutableArray<HoldPedestal> Pedestals { get; init; } = [];

    /// <summary>The reference of the converter, where that it is off makes more of the error than the voltage of the pin; null
    /// elsewhere.</summary>
    public ReferenceOff? Reference { get; init; }
}

/// <summary>A rail that a converter measures against and that does not stand where firmware takes it to.</summary>
/// <param name="Rail">Name of the rail.</param>
/// <param name="Volts">Its voltage, V.</param>
/// <param name="NominalVolts">What firmware takes it for, V.</param>
public sealed record ReferenceOff(string Rail, double Volts, double NominalVolts);

/// <summary>Where what firmware computes is furthest off what is measured.</summary>
/// <param name="Sensor">Name of the sensor.</param>
/// <param name="Pin">Name of the pin.</param>
/// <param name="Spread">The error, and what makes it so.</param>
public sealed record ReadingReason(string Sensor, string Pin, ReadingSpread Spread) : Reason;

/// <summary>The op amp that comes nearest to one of its limits.</summary>
/// <param name="Headroom">How near it comes.</param>
/// <param name="IsOutput">Whether its output's swing decides; else the common mode of its inputs.</param>
public sealed record HeadroomReason(OpAmpHeadroom Headroom, bool IsOutput) : Reason
{
    /// <summary>"upper" or "lower": the side of the limit.</summary>
    public string Side => IsOutput ? Headroom.SwingSide : Headroom.CommonModeSide;

    /// <summary>What the sensor measures there, in its own unit.</summary>
    public double SensorValue => IsOutput ? Headroom.SwingAt : Headroom.CommonModeAt;
}

/// <summary>The comparator whose lower input comes nearest to a limit of the common mode.</summary>
/// <param name="Comparator">Name of the part.</param>
/// <param name="Volts">How far the lower of its two inputs is inside, V; negative where it is outside.</param>
/// <param name="InputVolts">Where that input stands, V.</param>
/// <param name="Side">"upper" or "lower": the limit that is nearer.</param>
public sealed record ComparatorReason(string Comparator, double Volts, double InputVolts, string Side) : Reason
{
    /// <summary>What the first sensor measures there, in its own unit; null without one.</summary>
    public double? SensorValue { get; init; }

    /// <summary>Symbol of that unit.</summary>
    public string SensorUnit { get; init; } = "V";
}

/// <summary>The single fault that comes nearest to a rating of the pin or breaks it most.</summary>
/// <param name="Deciding">What it does.</param>
/// <param name="Breaking">The other faults that break a rating, in the order of the study.</param>
/// <param name="Faults">How many faults were looked at.</param>
public sealed record SingleFaultReason(FaultRow Deciding, ImmutableArray<SingleFault> Breaking, int Faults) : Reason;

/// <summary>The part that bears most of a rating, of all parts and everywhere.</summary>
/// <param name="Part">The part, and how much of which rating.</param>
/// <param name="Where">Where that is.</param>
/// <param name="Beyond">Every part that is beyond a rating and not accepted, at its worst, the worst first.</param>
public sealed record PartsReason(PartLoad Part, Occasion Where, ImmutableArray<PartBeyond> Beyond) : Reason
{
    internal override Occasion? WhereItDecides => Where;
}

/// <summary>A part beyond one of its ratings.</summary>
/// <param name="Part">The part, and how much of which rating.</param>
/// <param name="Where">Where that is worst.</param>
/// <param name="OtherEvents">In how many other events it is beyond it.</param>
public sealed record PartBeyond(PartLoad Part, Occasion Where, int OtherEvents);

/// <summary>A feedback loop that grows, or that is near to it.</summary>
/// <param name="OpAmp">The op amp in it; null where none stands out.</param>
/// <param name="Where">The operating point.</param>
public sealed record StabilityReason(string? OpAmp, Occasion Where) : Reason
{
    /// <summary>Rate at which a mode grows, 1/s; null where none does.</summary>
    public double? GrowthPerSecond { get; init; }

    /// <summary>Frequency of the mode, zero where it does not oscillate; of the crossover of the loop gain where none grows, Hz.</summary>
    public double Hertz { get; init; }

    /// <summary>Nodes of the feedback path, those that take most part first; empty where no mode grows.</summary>
    public ImmutableArray<string> Path { get; init; } = [];

    /// <summary>The least phase margin, degrees; null where a mode grows.</summary>
    public double? PhaseMarginDegrees { get; init; }

    /// <summary>Damping ratio that the phase margin stands for, or that of the least damped mode that the loops make far from their
    /// crossovers, between 0 (it rings without end) and 1 (it does not ring); null where it does not ring, or a mode grows.</summary>
    public double? DampingRatio { get; init; }
}

/// <summary>A line of a stage's hand calculation that the circuit is furthest from, against what is allowed.</summary>
/// <param name="Stage">Name of the stage.</param>
/// <param name="What">What the line computes.</param>
/// <param name="ByHand">Its result, in its unit.</param>
/// <param name="Simulated">The same in the circuit.</param>
/// <param name="Allowed">How far the two may be apart, above zero.</param>
/// <param name="Unit">Symbol of the unit; empty for a plain number.</param>
public sealed record StepReason(string Stage, string What, double ByHand, double Simulated, double Allowed, string Unit) : Reason
{
    /// <summary>The distance over what is allowed.</summary>
    public double Share => Math.Abs(Simulated - ByHand) / Allowed;
}

/// <summary>What comes nearest to an end of the supply voltages that it works at.</summary>
/// <param name="Subject">Name of the part or pin.</param>
/// <param name="Volts">Its supply, V.</param>
/// <param name="LimitVolts">The nearer end, V.</param>
/// <param name="IsLower">Whether that is the lower end.</param>
public sealed record SupplyReason(string Subject, double Volts, double LimitVolts, bool IsLower) : Reason
{
    /// <summary>The rail that a pin converts against, where that stands too far above the pin's own supply; null for a supply.</summary>
    public string? Reference { get; init; }

    /// <summary>The distance inside of it, V, negative beyond.</summary>
    public double MarginVolts => IsLower ? Volts - LimitVolts : LimitVolts - Volts;
}

/// <summary>The regulator or reference that comes nearest to giving too little of its voltage, or that is lifted furthest above
/// it.</summary>
/// <param name="Where">Where that is, with the rails at one end of their tolerance.</param>
/// <param name="Part">Name of the part.</param>
/// <param name="Volts">What it gives, V.</param>
/// <param name="LimitVolts">What it gives at least while it regulates, or what what it feeds is taken to stand, V.</param>
/// <param name="IsLower">Whether it gives too little.</param>
public sealed record RegulationReason(Occasion Where, string Part, double Volts, double LimitVolts, bool IsLower) : Reason
{
    /// <summary>The distance inside of it, V, negative beyond.</summary>
    public double MarginVolts => IsLower ? Volts - LimitVolts : LimitVolts - Volts;
}

/// <summary>The regulator that has least of the capacitance that its sheet asks for at its output.</summary>
/// <param name="Regulator">Name of the regulator.</param>
/// <param name="AskedFarads">The least that the sheet asks for, F.</param>
/// <param name="NominalFarads">What the file has from its output to its ground pin, F.</param>
/// <param name="FoundFarads">The least that is left of it by tolerance, temperature, age and the voltage across it, F.</param>
/// <param name="Volts">The most that the regulator gives, V.</param>
public sealed record OutputCapacitorReason(string Regulator, double AskedFarads, double NominalFarads, double FoundFarads, double Volts)
    : Reason;

/// <summary>The shunt reference that has least of the current that it regulates from.</summary>
/// <param name="Where">Where that is, with the rails at the lower end of their tolerance.</param>
/// <param name="Part">Name of the part.</param>
/// <param name="Amps">What flows through it at least, with the resistors at its nodes at the ends of their tolerances, A.</param>
/// <param name="LeastAmps">What its sheet asks for at least, A.</param>
public sealed record StarvedReason(Occasion Where, string Part, double Amps, double LeastAmps) : Reason;

/// <summary>The transmitter that has least voltage left to drive its current.</summary>
/// <param name="Transmitter">Name of the sensor, or of the part that it commands.</param>
/// <param name="Sensor">Name of the sensor.</param>
/// <param name="SensorValue">What it measures there, in its own unit.</param>
/// <param name="SensorUnit">Symbol of that unit.</param>
/// <param name="Limit">What it needs.</param>
/// <param name="LeftVolts">What is left beyond that with all tolerances in the worst case, V; negative where it is too little.</param>
public sealed record ComplianceReason(string Transmitter, string Sensor, double SensorValue, string SensorUnit, Compliance Limit,
    double LeftVolts) : Reason
{
    /// <summary>Whether what it needs is taken as usual, since the file does not say it.</summary>
    public bool IsTaken { get; init; }

    /// <summary>The voltage across it, or without a named supply the one that it has to drive its current up to, V.</summary>
    public double FoundVolts => Limit.Supply is null ? Limit.Volts - LeftVolts : Limit.Volts + LeftVolts;
}

/// <summary>The hum that leaves most in a reading.</summary>
/// <param name="Pin">Name of the pin.</param>
/// <param name="Worst">What it leaves.</param>
public sealed record HumReason(string Pin, HumLeft Worst) : Reason;

/// <summary>The rail that is lifted nearest to what its devices stand, or furthest beyond.</summary>
/// <param name="Where">Where that is.</param>
/// <param name="Rail">Name of the rail.</param>
/// <param name="Volts">Its voltage there, V.</param>
/// <param name="LimitVolts">What its devices stand, V, as a magnitude.</param>
public sealed record RailLiftReason(Occasion Where, string Rail, double Volts, double LimitVolts) : Reason
{
    internal override Occasion? WhereItDecides => Where;

    /// <summary>In how many other events it is beyond that.</summary>
    public int OtherEvents { get; init; }

    /// <summary>Its voltage over what its devices stand: 1 is all of it.</summary>
    public double Share => Math.Abs(Volts) / LimitVolts;

    /// <summary>Whether it is beyond that by more than the rounding of a mean.</summary>
    public bool IsBeyond => Share > 1 + 1e-6;
}

/// <summary>What a sample leaves over when the sampling capacitor is disconnected.</summary>
/// <param name="Pin">Name of the pin.</param>
/// <param name="Sample">The sample.</param>
/// <param name="Counts">What is left over, counts, as a magnitude.</param>
/// <param name="SensorUnit">Symbol of the unit in which the sensor measures.</param>
public sealed record SamplingReason(string Pin, SamplingResult Sample, double Counts, string SensorUnit) : Reason;

/// <summary>What the firmware sees of single faults.</summary>
/// <param name="Deciding">The fault that looks most like a valid reading, or the one that comes nearest to one; null where all that could
/// be computed do no harm.</param>
/// <param name="Hidden">The faults that cannot be told from a valid reading, in the order of the study.</param>
/// <param name="Unknown">Those of which it could not be computed.</param>
/// <param name="Harmless">How many leave the reading as right as it is on any board.</param>
/// <param name="Faults">How many were looked at.</param>
/// <param name="Bands">The codes that are valid readings, of each pin.</param>
public sealed record DetectionReason(DetectionRow? Deciding, ImmutableArray<DetectionRow> Hidden, ImmutableArray<DetectionRow> Unknown,
    int Harmless, int Faults, ImmutableArray<ValidBand> Bands) : Reason;

/// <summary>Nothing was found to look at, so that nothing can be broken.</summary>
public sealed record NothingToJudge : Reason;

/// <summary>What a part bears against one of its ratings.</summary>
/// <param name="Part">The part, and how much of which rating.</param>
/// <param name="Where">Where that is.</param>
public sealed record PartReason(PartLoad Part, Occasion Where) : Reason
{
    internal override Occasion? WhereItDecides => Where;
}

/// <summary>The level of a logic pin that has less in hand.</summary>
/// <param name="Sensor">Name of the sensor.</param>
/// <param name="Pin">Name of the pin.</param>
/// <param name="IsLow">Whether it is the low level.</param>
/// <param name="Level">The level.</param>
public sealed record NoiseMarginReason(string Sensor, string Pin, bool IsLow, LogicLevel Level) : Reason
{
    /// <summary>Symbol of the unit in which the sensor measures.</summary>
    public string SensorUnit { get; init; } = "V";
}

/// <summary>The level of a logic input that no sensor moves.</summary>
/// <param name="Pin">Name of the pin, or of the gate.</param>
/// <param name="Level">The level.</param>
public sealed record HeldLevelReason(string Pin, HeldLevel Level) : Reason;

/// <summary>The slower of the two sudden changes.</summary>
/// <param name="Sensor">Name of the sensor.</param>
/// <param name="Pin">Name of the pin.</param>
/// <param name="Rises">Whether the pin rises.</param>
/// <param name="LimitVolts">The level that it has to pass, V.</param>
/// <param name="DelaySeconds">When it has passed it for good, s; infinity if it does not.</param>
public sealed record EdgeDelayReason(string Sensor, string Pin, bool Rises, double LimitVolts, double DelaySeconds) : Reason;

/// <summary>The pulses that come least well to the counter.</summary>
/// <param name="Sensor">Name of the sensor.</param>
/// <param name="Pin">Name of the pin.</param>
/// <param name="Pulses">All that was looked at.</param>
/// <param name="Worst">The one that decides.</param>
/// <param name="BounceSeconds">For how long the contact that makes them bounces, s; zero for none.</param>
public sealed record PulsesReason(string Sensor, string Pin, PulsesResult Pulses, PulsePassage Worst, double BounceSeconds) : Reason;

/// <summary>The current of a closed contact.</summary>
/// <param name="Sensor">Name of the sensor.</param>
/// <param name="Amps">What it carries at its worst, A.</param>
/// <param name="Made">What it is made for, A.</param>
public sealed record WettingReason(string Sensor, double Amps, Span Made) : Reason
{
    /// <summary>Whether nothing says what it is made for, so that what is usual was taken.</summary>
    public bool IsTaken { get; init; }
}

/// <summary>The change that the gate makes most of, or that passes most slowly.</summary>
/// <param name="Sensor">Name of the sensor.</param>
/// <param name="Pin">Name of the pin.</param>
/// <param name="Type">Name of the pin's type.</param>
/// <param name="Edge">The change.</param>
/// <param name="RippleLimitVolts">Ripple that the least hysteresis covers, V from peak to peak at the sensor; null without ripple or
/// hysteresis.</param>
public sealed record CleanEdgesReason(string Sensor, string Pin, string Type, EdgeNumbers Edge, double? RippleLimitVolts) : Reason;

/// <summary>Where readings are furthest off on the boards that are built.</summary>
/// <param name="Sensor">Name of the sensor.</param>
/// <param name="Pin">Name of the pin.</param>
/// <param name="SensorUnit">Symbol of the unit in which the sensor measures.</param>
/// <param name="Spread">The error, and what makes it so.</param>
public sealed record BoardReason(string Sensor, string Pin, string SensorUnit, BoardSpread Spread) : Reason;

/// <summary>What a node reaches at its worst.</summary>
/// <param name="Where">Where that is.</param>
/// <param name="Exposure">What it reaches.</param>
/// <param name="IsHigh">Whether its highest voltage decides; else the lowest.</param>
public sealed record NodeReason(Occasion Where, NodeExposure Exposure, bool IsHigh) : Reason
{
    internal override Occasion? WhereItDecides => Where;
}

/// <summary>What is pushed into a rail at its worst.</summary>
/// <param name="Where">Where that is.</param>
/// <param name="Take">What it has to take to hold its voltage.</param>
public sealed record RailReason(Occasion Where, RailTake Take) : Reason
{
    internal override Occasion? WhereItDecides => Where;
}

/// <summary>The slowest settling after a full change of the sensor.</summary>
/// <param name="Pin">Name of the pin.</param>
/// <param name="Within">The error that it settles to.</param>
/// <param name="Slowest">The settling.</param>
public sealed record SettlingReason(string Pin, Quantity Within, SlowestSettling Slowest) : Reason;

/// <summary>The largest noise over the span.</summary>
/// <param name="Sensor">Name of the sensor.</param>
/// <param name="Pin">Name of the pin.</param>
/// <param name="SensorValue">What the sensor measures there.</param>
/// <param name="SensorUnit">Symbol of the unit of that.</param>
/// <param name="Noise">The noise, and what makes it.</param>
public sealed record NoiseReason(string Sensor, string Pin, double SensorValue, string SensorUnit, PinNoise Noise) : Reason;

/// <summary>Something could not be computed, so that nothing is known.</summary>
/// <param name="Where">Where that is; null where nothing at all could be computed.</param>
/// <param name="Problem">What the solver or the study says of it; null where a solution was found that is not to be trusted.</param>
public sealed record NotComputed(Occasion? Where, Problem? Problem) : Reason
{
    /// <summary>Why the solution is not to be trusted; null where none was found.</summary>
    public SolutionFlaw? Flaw { get; init; }
}

/// <summary>What is wrong with a solution.</summary>
public enum SolutionFlaw
{
    /// <summary>A number is not finite.</summary>
    NotFinite,

    /// <summary>Its equations are left over by more than they may be.</summary>
    Unbalanced,

    /// <summary>It was not looked for: all that was run before it took as long as one search may take.</summary>
    TooLong,
}

/// <summary>How much a part bears of one of its ratings.</summary>
/// <param name="Part">Name of the part.</param>
/// <param name="Word">What a person calls it: "resistor".</param>
/// <param name="ValueText">Its value: "4.7 kohm 1 %".</param>
/// <param name="Kind">What is limited.</param>
/// <param name="Found">What it bears.</param>
/// <param name="Limit">The rating.</param>
public sealed record PartLoad(string Part, string Word, string ValueText, RatingKind Kind, Quantity Found, Quantity Limit)
{
    /// <summary>Time over which its heat averages a power, s.</summary>
    public double ThermalSeconds { get; init; }

    /// <summary>Duration of the pulse whose limit was held against it, s; null where it is the limit for any time.</summary>
    public double? PulseSeconds { get; init; }

    /// <summary>What it bears over the rating: 1 is all of it.</summary>
    public double Share => Found.Value / Limit.Value;

    /// <summary>What a part bears of a rating.</summary>
    public static PartLoad Of(Part part, RatingStress stress) =>
        new(part.Name, part.Word, part.ValueText, stress.Rating.Kind, stress.Rating.Kind.Of(stress.Found),
            stress.Rating.Kind.Of(stress.Limit))
        {
            ThermalSeconds = part.ThermalSeconds,
            PulseSeconds = stress.Seconds,
        };
}
