using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.Engine.Waveforms;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Sensors;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>How a sensor that gives a share of a voltage is wired to what it is a share of.</summary>
public abstract record SensorWiring
{
    /// <summary>The nodes beside those of the sensor itself.</summary>
    public abstract ImmutableArray<string> Nodes { get; }

    /// <summary>The same with its wires to one node led to another.</summary>
    internal abstract SensorWiring Rewired(string from, string to);

    /// <summary>What it may be off by.</summary>
    /// <param name="sensor">The sensor's name.</param>
    internal virtual IEnumerable<ErrorSource> ErrorSources(string sensor) => [];

    /// <summary>The element that drives the sensor's node.</summary>
    internal abstract Element ToElement(Sensor sensor, string node, Waveform quantity);
}

/// <summary>A sensor that gives a share of a rail's voltage, so that it moves with a converter on the same rail.</summary>
/// <param name="Rail">The rail.</param>
public sealed record ShareOfRail(string Rail) : SensorWiring
{
    /// <summary>The numbers of a Hall sensor's data sheet, where the share was said by them; else null.</summary>
    public HallSheet? Hall { get; init; }

    /// <summary>Whether what is measured is the voltage itself: what it is with the rail at its own.</summary>
    public bool IsOfVoltage { get; init; }

    /// <inheritdoc/>
    public override ImmutableArray<string> Nodes => [Rail];

    internal override SensorWiring Rewired(string from, string to) => Rail == from ? this with { Rail = to } : this;

    internal override Element ToElement(Sensor sensor, string node, Waveform quantity) =>
        new SensingShare(sensor.Name, node, sensor.Other, Rail, quantity, sensor.Law!) { SeriesOhms = sensor.SourceOhms };
}

/// <summary>What a data sheet says of a linear Hall sensor whose output moves with its supply.</summary>
/// <param name="VoltsPerUnit">Its sensitivity at that supply, V for a unit of the field; negative for the other pole.</param>
/// <param name="AtVolts">The supply that the sensitivity is stated at, V.</param>
/// <param name="Rest">Its output without a field, as a share of the supply.</param>
/// <param name="Linear">The shares of the supply between which it is linear.</param>
public sealed record HallSheet(double VoltsPerUnit, double AtVolts, double Rest, Span Linear)
{
    /// <summary>Where a linear output is taken to end, as a share of the supply (common practice, no source).</summary>
    public static Span UsualLinear { get; } = new(0.05, 0.95);

    /// <summary>The share of the supply in a field.</summary>
    /// <param name="field">The field, in the sensor's unit.</param>
    public double Share(double field) => Rest + VoltsPerUnit / AtVolts * field;
}

/// <summary>A potentiometer whose wiper follows what is measured: the share of its track below the wiper.</summary>
/// <param name="Ohms">Its track, ohm.</param>
/// <param name="Top">Node of its upper end; the lower one is the sensor's other terminal.</param>
public sealed record Track(double Ohms, string Top) : SensorWiring
{
    /// <summary>How far the whole track may be off, a fraction either way; null where that is not written.</summary>
    public double? Tolerance { get; init; }

    internal override IEnumerable<ErrorSource> ErrorSources(string sensor)
    {
        var usual = UsualSpread.Potentiometer;
        return ErrorSource.Scale(sensor + " track" + (Tolerance is null ? $" ({usual.Text} taken)" : ""), ErrorKind.Sensor,
            Tolerance ?? usual.Amount, new VariedNumber(sensor, SensingNetwork.Scale));
    }

    /// <inheritdoc/>
    public override ImmutableArray<string> Nodes => [Top];

    internal override SensorWiring Rewired(string from, string to) => Top == from ? this with { Top = to } : this;

    internal override Element ToElement(Sensor sensor, string node, Waveform quantity) =>
        new SensingNetwork(sensor.Name, quantity, sensor.Law!, [new(node, sensor.Other, 0, Ohms), new(Top, node, Ohms, -Ohms)]);
}

/// <summary>A bridge of four arms, two of which rise while two fall: between its outputs it gives a share of its excitation.</summary>
/// <param name="Ohms">Each arm at the operating point, ohm.</param>
/// <param name="Top">Node of the excitation's plus.</param>
/// <param name="Bottom">Node of its minus.</param>
/// <param name="GivesVolts">What it gives at the upper end of the span, V.</param>
/// <param name="ForVolts">For this excitation, V.</param>
public sealed record Bridge(double Ohms, string Top, string Bottom, double GivesVolts, double ForVolts) : SensorWiring
{
    /// <summary>The highest excitation that it stands, V; null where that is not said.</summary>
    public double? MostVolts { get; init; }

    /// <inheritdoc/>
    public override ImmutableArray<string> Nodes => [Top, Bottom];

    internal override SensorWiring Rewired(string from, string to) =>
        this with { Top = Top == from ? to : Top, Bottom = Bottom == from ? to : Bottom };

    /// <summary>The share of the excitation over a span: a straight line through nothing at nothing.</summary>
    /// <param name="span">The span, in the quantity's unit.</param>
    public StraightLaw LawOver(Span span) => new(span, GivesVolts / ForVolts * span.Low / span.High, GivesVolts / ForVolts, Unit.None);

    internal override Element ToElement(Sensor sensor, string node, Waveform quantity) =>
        new SensingNetwork(sensor.Name, quantity, sensor.Law!,
    [
        new(node, Bottom, Ohms, Ohms), new(Top, node, Ohms, -Ohms), new(sensor.Other, Bottom, Ohms, -Ohms),
            new(Top, sensor.Other, Ohms, Ohms),
    ]);
}
