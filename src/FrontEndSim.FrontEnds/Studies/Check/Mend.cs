using FrontEndSim.FrontEnds.Quantities;

namespace FrontEndSim.FrontEnds.Studies.Check;

/// <summary>Something that would bring a requirement nearer to its limit or inside of it.</summary>
/// <param name="Kind">What to do.</param>
/// <param name="Subject">Name of the part, pin, rail, stage or sensor to do it to.</param>
public sealed record Mend(MendKind Kind, string Subject)
{
    /// <summary>The value now; null where there is none to speak of.</summary>
    public Quantity? From { get; init; }

    /// <summary>The value to change it to, or the change; null where none is known.</summary>
    public Quantity? To { get; init; }

    /// <summary>What stands against <see cref="To"/>, such as the current that a resistor would limit; null where there is nothing.</summary>
    public Quantity? For { get; init; }

    /// <summary>A type, node or rail that it concerns; null where there is none.</summary>
    public string? Other { get; init; }
}

/// <summary>The kinds of <see cref="Mend"/>.</summary>
public enum MendKind
{
    /// <summary>Give the pin the ratings of its data sheet.</summary>
    RatePin,

    /// <summary>Give the rail something that takes the current.</summary>
    LoadRail,

    /// <summary>Put a guard with an upper clamp in front of the pin; To is a series resistor that limits From to For.</summary>
    GuardPinAbove,

    /// <summary>The same with a lower clamp.</summary>
    GuardPinBelow,

    /// <summary>Raise a series resistor from From to To; For is the current that it carries.</summary>
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

    /// <summary>More supply for the op amp at side Other.</summary>
    MoreSwing,

    /// <summary>Less loading of the stages upon each other.</summary>
    LessLoading,

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

    /// <summary>A second way for the node that the resistor holds.</summary>
    SecondWay,

    /// <summary>A limit to what the signal pushes into pin Other while the rail is off.</summary>
    LimitWhileOff,

    /// <summary>Rails for the op amp that pin Other can take, or less output current.</summary>
    SofterOpAmp,

    /// <summary>A limit to what reaches the pin with fault Other.</summary>
    LimitInFault,

    /// <summary>A part of rating To.</summary>
    HigherRating,

    /// <summary>A lower voltage at the pin when the sensor, Other, stands at For.</summary>
    LowerLevel,

    /// <summary>More of the sensor's voltage, For, at the pin.</summary>
    HigherLevel,

    /// <summary>Less capacitance or resistance at the pin, by a factor of To.</summary>
    Faster,

    /// <summary>The levels first: they are not reached at all.</summary>
    LevelsFirst,

    /// <summary>A gate with hysteresis: type Other.</summary>
    Hysteresis,

    /// <summary>Ripple below To at the sensor.</summary>
    LessRipple,

    /// <summary>More capacitance at the pin.</summary>
    Slower,
}
