using FrontEndSim.FrontEnds.Model;

namespace FrontEndSim.FrontEnds.Studies.Check;

/// <summary>A change of one thing that may bring a requirement inside its limit.</summary>
/// <param name="Kind">What to do.</param>
/// <param name="Subject">Name of the part, pin, rail, stage or sensor to do it to.</param>
public sealed record Mend(MendKind Kind, string Subject)
{
    /// <summary>The value now; null where there is none to speak of.</summary>
    public Quantity? From { get; init; }

    /// <summary>The value to change it to, or the change; null where none is known.</summary>
    public Quantity? To { get; init; }

    /// <summary>What stands against <see cref="To"/>, such as the current that a resistor would limit; null where there is
    /// nothing.</summary>
    public Quantity? For { get; init; }

    /// <summary>A type, node or rail that it concerns; null where there is none.</summary>
    public string? Other { get; init; }

    /// <summary>The type of the part that is added or takes the place of another; null where there is none.</summary>
    public string? Type { get; init; }

    /// <summary>The requirement's margin once it is applied; null where it was not tried.</summary>
    public Quantity? Margin { get; init; }

    /// <summary>By how much the largest error of any mapping grows with it, counts, negative where it falls; null where nothing is
    /// mapped.</summary>
    public double? CostCounts { get; init; }
}

/// <summary>Why nothing that was tried mends a requirement.</summary>
/// <param name="Tried">How many changes were tried.</param>
/// <param name="Mend">The first that would mend the requirement itself; null where none does.</param>
/// <param name="Breaks">The requirement that is then no longer met; null where none does.</param>
public sealed record MendObstacle(int Tried, Mend? Mend, Requirement? Breaks)
{
    /// <summary>Whether more could have been tried, but events take too long to be followed once more for each.</summary>
    public bool IsCutShort { get; init; }
}

/// <summary>The kinds of <see cref="Mend"/>.</summary>
public enum MendKind
{
    /// <summary>A capacitor To from the output of op amp Subject to its inverting input.</summary>
    FeedbackCapacitor,

    /// <summary>A resistor To between the output of op amp Subject and the capacitor Other that loads it.</summary>
    IsolateLoad,

    /// <summary>A resistor To from the rail to ground, which takes the current.</summary>
    LoadRail,

    /// <summary>Put a series resistor To and a clamp in front of the pin, to rail Other.</summary>
    GuardPinAbove,

    /// <summary>The same with a lower clamp.</summary>
    GuardPinBelow,

    /// <summary>Raise a resistor from From to To.</summary>
    RaiseResistor,

    /// <summary>A lower zener voltage; For is what it holds its node at.</summary>
    LowerZener,

    /// <summary>A larger diode as the upper clamp, to rail Other.</summary>
    LargerUpperClamp,

    /// <summary>A larger diode as the lower clamp.</summary>
    LargerLowerClamp,

    /// <summary>An upper clamp at the node, to rail Other.</summary>
    AddUpperClamp,

    /// <summary>A lower clamp at the node.</summary>
    AddLowerClamp,

    /// <summary>A zener of a higher voltage, which draws less.</summary>
    HigherZener,

    /// <summary>A diode that leaks less.</summary>
    LessLeakage,

    /// <summary>Raise a resistor to ground above From: it divides the signal.</summary>
    RaiseToGround,

    /// <summary>Less bias current: compensation, smaller resistors, or another class than Other.</summary>
    LessBiasCurrent,

    /// <summary>Finer values in the stage, which leave For with ideal parts.</summary>
    FinerValues,

    /// <summary>Finer values anywhere, or a two-point calibration: the line is straight.</summary>
    CalibrateLine,

    /// <summary>Move the rail up by To, or take another class than Other.</summary>
    RaiseRail,

    /// <summary>Move the rail down by To, or take another class than Other.</summary>
    LowerRail,

    /// <summary>A second clamp, or a larger series resistor, for when the diode is open.</summary>
    SecondClampIfOpen,

    /// <summary>The same for when it is reversed.</summary>
    SecondClampIfReversed,

    /// <summary>Two resistors in series instead of one.</summary>
    SplitResistor,

    /// <summary>A part of rating To.</summary>
    HigherRating,

    /// <summary>A lower voltage at the pin when the sensor, Other, stands at For.</summary>
    LowerLevel,

    /// <summary>More of the sensor's voltage, For, at the pin.</summary>
    HigherLevel,

    /// <summary>Less capacitance or resistance at the pin, by a factor of To.</summary>
    Faster,

    /// <summary>A gate with hysteresis: type Other.</summary>
    Hysteresis,

    /// <summary>Ripple below To at the sensor.</summary>
    LessRipple,

    /// <summary>More capacitance at the pin.</summary>
    Slower,

    /// <summary>Throw To readings of each pin of a scan away before the one that is kept.</summary>
    DummyReading,

    /// <summary>Connect the sampling capacitor for To.</summary>
    LongerAcquisition,

    /// <summary>A capacitor of To from the pin to ground, which shares its charge with the sampling capacitor.</summary>
    PinCapacitor,

    /// <summary>A resistor To from rail Other to node Subject, which takes it out of what is valid once nothing else holds it.</summary>
    PullUp,

    /// <summary>A resistor To from node Subject to ground, likewise.</summary>
    PullDown,

    /// <summary>A smaller share of the converter's range for the sensor's span, From .. To, so that codes at both ends mean a
    /// fault.</summary>
    ReserveBand,
}
