using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies.Faults;

namespace FrontEndSim.FrontEnds.Studies.Compare;

/// <summary>A number of the circuit that may be other than planned.</summary>
/// <param name="Number">The engine's number.</param>
/// <param name="Low">Lowest value of the coordinate that is searched.</param>
/// <param name="High">Highest.</param>
/// <param name="Apply">The number, from the planned one and the coordinate.</param>
/// <param name="Describe">The explanation of a coordinate that leaves a mismatch.</param>
internal sealed record Suspect(VariedNumber Number, double Low, double High, Func<double, double,
    double> Apply, Func<double, double, Explanation> Describe);

/// <summary>All that may be other than planned, one thing at a time.</summary>
internal static class CompareSuspects
{
    // No terminal on a board is farther from what is beside it, K.
    private const double MostKelvin = 50;

    /// <summary>Those of a front end.</summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="capacitances">Whether readings could show a capacitance.</param>
    public static IEnumerable<Suspect> Of(FrontEnd frontEnd, bool capacitances)
    {
        foreach (var part in frontEnd.AllParts)
        {
            foreach (var deviation in part.Deviations.Where(d => capacitances || d.Kind != DeviationKind.Capacitance))
                yield return Of(deviation, part.Name, KindOf(deviation.Kind), PartRole.Of(frontEnd, part));
        }
        foreach (var rail in frontEnd.Rails)
        {
            double volts = rail.Volts.Value;
            bool isReference = PartRole.IsReference(frontEnd, rail);
            yield return new(new(rail.Name, VoltageSource.Scale), 0.5, 1.5, (now, x) => now * x,
                (x, left) => new(rail.Name, ExplanationKind.RailVoltage, left, Math.Abs(x - 1) <= rail.Volts.Tolerance * (1 + 1e-9))
                {
                    Fitted = new(volts * x, Unit.Volts),
                    Planned = new(volts, Unit.Volts),
                    IsReference = isReference,
                });
        }
        foreach (var sensor in frontEnd.Sensors)
        {
            if (sensor.Law is ThermocoupleLaw law)
            {
                yield return new(new(sensor.Name, Characteristic.Errors[1]), -MostKelvin, MostKelvin, (_, x) => x,
                    (x, left) => new(sensor.Name, ExplanationKind.ColdJunction, left, Math.Abs(x) <= law.ColdJunctionError)
                    {
                        Fitted = new(x, Unit.Celsius),
                    });
            }
        }
        foreach (var sensor in frontEnd.Sensors.Where(s => s.SourceOhms > 0 && s.Output == Unit.Volts))
        {
            var deviation = Deviation.Resistance(new(sensor.Name, VoltageSource.SourceResistance), sensor.SourceOhms);
            yield return Of(deviation, sensor.Name, ExplanationKind.SourceResistance, null);
        }
    }

    /// <summary>A sensor of a cold junction whose law is off by one at its unit's error, warmer or colder than that junction.</summary>
    public static Suspect OffItsJunction(Sensor sensor) => new(new(sensor.Name, Characteristic.Errors[0]), -MostKelvin, MostKelvin,
        (_, x) => x, (x, left) => new(sensor.Name, ExplanationKind.JunctionSensor, left, Math.Abs(x) <= (sensor.Law?.OffsetError ?? 0))
        {
            Fitted = new(x, Unit.Celsius),
        });

    /// <summary>A pin that leaks up to ten times what its type may, either way.</summary>
    public static Suspect Leaking(Pin pin) => new(new(pin.Name + ".leakage", InputLeakage.Scale), -10, 10, (_, x) => x,
        (x, left) => new(pin.Name, ExplanationKind.PinLeakage, left, Math.Abs(x) <= 1)
        {
            Fitted = new(pin.LeakageAmps * x, Unit.Amps),
            Allowed = new(Math.Abs(pin.LeakageAmps), Unit.Amps),
        });

    private static Suspect Of(Deviation deviation, string name, ExplanationKind kind, PartRole? role) =>
        new(deviation.Number, deviation.Low, deviation.High, deviation.Apply, (x, left) => new(name, kind, left, deviation.IsAllowed(x))
        {
            Fitted = deviation.Fitted(x),
            Planned = deviation.Planned,
            Allowed = deviation.Allowed,
            Role = role,
        });

    private static ExplanationKind KindOf(DeviationKind kind) => kind switch
    {
        DeviationKind.Resistance => ExplanationKind.Resistance,
        DeviationKind.Capacitance => ExplanationKind.Capacitance,
        DeviationKind.OffsetVoltage => ExplanationKind.OffsetVoltage,
        DeviationKind.BiasCurrent => ExplanationKind.BiasCurrent,
        _ => ExplanationKind.Leakage,
    };

    /// <summary>A single fault as an explanation.</summary>
    public static Explanation Of(FrontEnd frontEnd, SingleFault fault, double left)
    {
        var part = frontEnd.AllParts.FirstOrDefault(p => p.Name == fault.Subject);
        return new(fault.Subject, ExplanationKind.Fault, left, false)
        {
            Fault = fault,
            Role = part is null ? null : PartRole.Of(frontEnd, part),
            ValueText = part?.ValueText ?? "",
            IsReference = frontEnd.Rails.FirstOrDefault(r => r.Name == fault.Subject) is { } rail && PartRole.IsReference(frontEnd, rail),
        };
    }
}
