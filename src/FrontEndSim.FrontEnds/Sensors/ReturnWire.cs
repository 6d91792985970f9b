using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.FrontEnds.Sensors;

/// <summary>The wire from a sensor's other terminal to the node that it is drawn at: what falls along it lifts the sensor.</summary>
/// <param name="Ohms">Its resistance, ohm, at least 0.</param>
/// <param name="Amps">Current that flows in it beside the sensor's own, away from the sensor, A: anything in this range, not below zero;
/// null for none.</param>
/// <param name="OffsetVolts">How far the grounds at its two ends may be apart besides, V, either way, at least 0.</param>
public sealed record ReturnWire(double Ohms, Span? Amps, double OffsetVolts)
{
    private const string Lifted = ".return", Shifted = ".ground";

    /// <summary>Where in their ranges the current and the offset stand: from −1 to 1.</summary>
    private double Place { get; init; }

    /// <summary>The same with both at an end.</summary>
    /// <param name="high">At the upper end, else at the lower one.</param>
    public ReturnWire At(bool high) => this with { Place = high ? 1 : -1 };

    private static readonly Span Unity = new(0, 1);

    /// <summary>The node that a sensor's other terminal stands at.</summary>
    internal static string NodeOf(Sensor sensor) => sensor.Name + Lifted;

    /// <summary>Its elements; the current in it stands at the middle of its range unless it is at an end.</summary>
    internal IEnumerable<Element> ToElements(Sensor sensor)
    {
        string lifted = NodeOf(sensor), shifted = OffsetVolts > 0 ? sensor.Name + Shifted : sensor.Other;
        yield return Ohms > 0 ? new Resistor(sensor.Name + ".return wire", lifted, shifted, Ohms)
            : new VoltageSource(sensor.Name + ".return wire", lifted, shifted, 0);
        if (Amps is { High: > 0 } amps)
            yield return new CurrentSource(sensor.Name + ".return current", Circuit.Ground, lifted,
                amps.Middle + Place * amps.Width / 2);
        // A straight line through nothing that may be off by the offset.
        if (OffsetVolts > 0)
        {
            yield return new VoltageSource(sensor.Name + ".ground offset", shifted, sensor.Other, Place * OffsetVolts)
            {
                Law = new StraightLaw(Unity, 0, 1, Unit.Volts) { OffsetError = OffsetVolts },
            };
        }
    }

    /// <summary>What it may be off by.</summary>
    internal IEnumerable<ErrorSource> ErrorSources(string sensor)
    {
        if (Amps is { High: > 0 } amps)
        {
            double either = amps.Width / (amps.High + amps.Low);
            yield return new(sensor + " return current", ErrorSource.Limits(either), ErrorKind.Sensor,
                [new(sensor + ".return current", CurrentSource.Scale)], (now, x, _) => now * (1 + x));
        }
        if (OffsetVolts > 0)
        {
            yield return new(sensor + " ground offset", ErrorSource.Limits(1), ErrorKind.Sensor,
                [new(sensor + ".ground offset", Characteristic.Errors[0])], (_, x, _) => x);
        }
    }
}
