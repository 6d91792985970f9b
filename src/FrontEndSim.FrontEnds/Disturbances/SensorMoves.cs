using FrontEndSim.Engine.Circuits;

namespace FrontEndSim.FrontEnds.Disturbances;

/// <summary>What a sensor measures jumps from one value to another, or it says so.</summary>
public sealed record SensorMoves : Fault
{
    /// <summary>A jump.</summary>
    /// <param name="sensor">Name of the sensor.</param>
    /// <param name="from">What it measures before, in its own unit.</param>
    /// <param name="to">What it measures or says after.</param>
    /// <param name="startSeconds">When, s, above zero.</param>
    /// <exception cref="ArgumentException">The start is not above zero.</exception>
    public SensorMoves(string sensor, double from, double to, double startSeconds = 1e-3) : base(startSeconds, null) =>
        (Sensor, From, To) = (sensor, from, to);

    /// <summary>Name of the sensor.</summary>
    public string Sensor { get; }

    /// <summary>What it measures before, in its own unit.</summary>
    public double From { get; }

    /// <summary>What it measures or says after.</summary>
    public double To { get; }

    /// <inheritdoc/>
    public override FormattableString Words => $"{Sensor} goes from {Quantity.Number(From)} to {Quantity.Number(To)}{Lasts}";

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements(string name, string node, bool isRail = false) => [];

    /// <inheritdoc/>
    public override IEnumerable<Element> Disturb(IReadOnlyList<Element> undisturbed, string name, string node, Func<string, bool> isRail) =>
        [.. undisturbed.Select(e => Model.Sensor.Following(e, Sensor, During(From, To)) ?? e)];
}
