using FrontEndSim.FrontEnds.Model;

namespace FrontEndSim.FrontEnds.Studies.Check;

/// <summary>A circumstance in which a front end was looked at.</summary>
public sealed record Occasion
{
    /// <summary>Name of the event; null for the operating point.</summary>
    public string? Event { get; init; }

    /// <summary>Where in its span each sensor stands; null where they stand at the voltages that the result gives.</summary>
    public SpanPlace? Sensors { get; init; }

    /// <summary>Whether the sensor at the event's node is torn off by it.</summary>
    public bool IsSensorTornOff { get; init; }

    /// <summary>Whether supplies that are lost are left to float; else they are held at 0 V.</summary>
    public bool AreSuppliesFloating { get; init; }

    /// <summary>Whether all supplies are off.</summary>
    public bool AreSuppliesOff { get; init; }

    /// <summary>Switches that stand the other way than they are drawn.</summary>
    public ImmutableArray<string> Turned { get; init; } = [];

    /// <summary>Channels that external multiplexers select, where they are other than drawn.</summary>
    public ImmutableArray<MultiplexerChannel> Selected { get; init; } = [];

    /// <summary>Temperature, °C; null for that of the front end.</summary>
    public double? Celsius { get; init; }

    /// <summary>What stands at an end of its tolerance, and at which value; empty for nominal parts and supplies.</summary>
    public ImmutableArray<ToleranceEnd> Ends { get; init; } = [];
}

/// <summary>Something at one end of its tolerance.</summary>
/// <param name="Subject">Name of the rail or part.</param>
/// <param name="Value">Its value there.</param>
/// <param name="IsHigh">Whether it is the upper end.</param>
public sealed record ToleranceEnd(string Subject, Quantity Value, bool IsHigh)
{
    /// <summary>What of the part the value is: "current gain"; empty for what it is bought by, and for a rail's voltage.</summary>
    public string Of { get; init; } = "";

    /// <summary><see cref="Of"/> where it is how warm its junction is.</summary>
    public const string JunctionTemperature = "junction temperature";
}

/// <summary>A place in a sensor's span.</summary>
public enum SpanPlace
{
    /// <summary>The lower end.</summary>
    Low,

    /// <summary>The middle.</summary>
    Middle,

    /// <summary>The upper end.</summary>
    High,
}
