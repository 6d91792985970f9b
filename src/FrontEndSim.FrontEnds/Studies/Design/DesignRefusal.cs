namespace FrontEndSim.FrontEnds.Studies.Design;

/// <summary>A kind of stage that is not possible, and why.</summary>
/// <param name="Stage">Name of the kind.</param>
/// <param name="Change">What would make it possible; null where the reason says it, or nothing is known.</param>
public abstract record DesignRefusal(string Stage, DesignChange? Change);

/// <summary>What would make a kind of stage possible.</summary>
public enum DesignChange
{
    /// <summary>A negative rail, or a stage that does not invert.</summary>
    NegativeRail,

    /// <summary>A further rail, or other classes of op amp.</summary>
    OtherRail,

    /// <summary>A negative rail, an op amp that comes nearer to ground, or a span that starts higher.</summary>
    RoomAtGround,

    /// <summary>A lower negative rail, or an op amp that comes nearer to it.</summary>
    LowerRail,

    /// <summary>A higher positive rail, an op amp that comes nearer to it, or a span that ends lower.</summary>
    HigherRail,
}

/// <summary>The first of two stages inverts, and nothing feeds it below ground.</summary>
/// <param name="Stage">Name of the kind.</param>
/// <param name="Between">What the span would be between the two stages at equal gain, V.</param>
public sealed record NoNegativeRail(string Stage, Span Between) : DesignRefusal(Stage, DesignChange.NegativeRail);

/// <summary>No class of op amp works between the rails.</summary>
/// <param name="Stage">Name of the kind.</param>
/// <param name="Needs">What each class needs between its supply pins.</param>
public sealed record NoSupply(string Stage, ImmutableArray<SupplyNeed> Needs) : DesignRefusal(Stage, DesignChange.OtherRail);

/// <summary>What a class of op amp needs between its supply pins.</summary>
/// <param name="OpAmp">Name of the class.</param>
/// <param name="LowestVolts">The least, V.</param>
/// <param name="HighestVolts">The most, V.</param>
public sealed record SupplyNeed(string OpAmp, double LowestVolts, double HighestVolts);

/// <summary>The inputs leave their common-mode range.</summary>
/// <param name="Stage">Name of the kind.</param>
/// <param name="Change">What would make it possible.</param>
/// <param name="OpAmp">Name of the class.</param>
/// <param name="Positive">Name of the positive rail.</param>
/// <param name="Negative">Name of the negative rail.</param>
/// <param name="SensorValue">Voltage of the sensor there, V.</param>
/// <param name="Rail">The rail that they come too near to.</param>
/// <param name="BeyondVolts">By how much, V.</param>
public sealed record InputsOutOfRange(string Stage, DesignChange? Change, string OpAmp, string Positive,
    string Negative, double SensorValue, string Rail,
    double BeyondVolts) : DesignRefusal(Stage, Change);

/// <summary>The output stops short of what is wanted.</summary>
/// <param name="Stage">Name of the kind.</param>
/// <param name="Change">What would make it possible.</param>
/// <param name="OpAmp">Name of the class.</param>
/// <param name="Positive">Name of the positive rail.</param>
/// <param name="Negative">Name of the negative rail.</param>
/// <param name="SensorValue">Voltage of the sensor there, V.</param>
/// <param name="WantedVolts">What the output would have to be, V.</param>
/// <param name="FoundVolts">Where it stops, V.</param>
public sealed record OutputOutOfRange(string Stage, DesignChange? Change, string OpAmp, string Positive,
    string Negative, double SensorValue, double WantedVolts,
    double FoundVolts) : DesignRefusal(Stage, Change);

/// <summary>Nominal parts keep the op amp inside its range, and parts and rails at the ends of their tolerances do not.</summary>
/// <param name="Stage">Name of the kind.</param>
/// <param name="Change">What would make it possible.</param>
/// <param name="OpAmp">Name of the class.</param>
/// <param name="Positive">Name of the positive rail.</param>
/// <param name="Negative">Name of the negative rail.</param>
/// <param name="SensorValue">What the sensor measures there, in its own unit.</param>
/// <param name="IsInput">Whether its inputs leave their common mode, else its output its swing.</param>
/// <param name="Rail">The rail that it comes too near to.</param>
/// <param name="BeyondVolts">By how much, V.</param>
public sealed record OutOfRangeAtCorner(string Stage, DesignChange? Change, string OpAmp, string Positive,
    string Negative, double SensorValue, bool IsInput, string Rail, double BeyondVolts) : DesignRefusal(Stage, Change);

/// <summary>The stage says that it cannot be built.</summary>
/// <param name="Stage">Name of the kind.</param>
/// <param name="Problem">What the stage says.</param>
public sealed record NotBuilt(string Stage, Problem Problem) : DesignRefusal(Stage, null);

/// <summary>The engine finds no solution.</summary>
/// <param name="Stage">Name of the kind.</param>
/// <param name="Problem">What the solver says.</param>
public sealed record NotSolved(string Stage, Problem Problem) : DesignRefusal(Stage, null);
