using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
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
    // A wrong part is looked for up to a factor of ten either way; open and short, which are faults, beyond.
    private static readonly double WrongValue = Math.Log(10);

    public static IEnumerable<Suspect> Of(FrontEnd frontEnd)
    {
        foreach (var part in frontEnd.AllParts)
        {
            var role = PartRole.Of(frontEnd, part);
            if (part is ResistorPart r)
                yield return Resistance(r.Name, ExplanationKind.Resistance, role, new(r.Name, Resistor.Resistance), r.Ohms);
            if (part is OpAmpPart amp)
            {
                double spread = amp.Type.OffsetVoltsSpread, bias = amp.Type.BiasAmpsSpread;
                yield return new(new(amp.Name, OpAmp.OffsetVoltage), -0.1, 0.1, (_, x) => x, (x, left) =>
                    new(amp.Name, ExplanationKind.OffsetVoltage, left, Math.Abs(x) <= spread)
                    {
                        Fitted = new(x, Unit.Volts),
                        Allowed = new(spread, Unit.Volts),
                        Role = role,
                    });
                double most = Math.Max(10e-6, 10 * bias);
                yield return new(new(amp.Name, OpAmp.BiasCurrent), -most, most, (_, x) => x, (x, left) =>
                    new(amp.Name, ExplanationKind.BiasCurrent, left, Math.Abs(x) <= bias)
                    {
                        Fitted = new(x, Unit.Amps),
                        Allowed = new(bias, Unit.Amps),
                        Role = role,
                    });
            }
            if (part is DiodePart diode)
            {
                yield return new(new(diode.Name, Diode.LeakageConductance), Math.Log(1e-10), Math.Log(1e-1), (_, x) => Math.Exp(x),
                    (x, left) => new(diode.Name, ExplanationKind.Leakage, left, Math.Exp(x) <= 10 * diode.Type.Model.LeakageSiemens)
                    {
                        Fitted = new(Math.Exp(-x), Unit.Ohm),
                        Role = role,
                    });
            }
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
        foreach (var sensor in frontEnd.Sensors.Where(s => s.SourceOhms > 0 && s.Output == Unit.Volts))
            yield return Resistance(sensor.Name, ExplanationKind.SourceResistance, null,
                new(sensor.Name, VoltageSource.SourceResistance), sensor.SourceOhms);
    }

    private static Suspect Resistance(string name, ExplanationKind kind, PartRole? role, VariedNumber number, Toleranced ohms) =>
        new(number, -WrongValue, WrongValue, (now, x) => now * Math.Exp(x), (x, left) =>
            new(name, kind, left, Math.Abs(Math.Exp(x) - 1) <= ohms.Tolerance * (1 + 1e-9))
            {
                Fitted = new(ohms.Value * Math.Exp(x), Unit.Ohm),
                Planned = new(ohms.Value, Unit.Ohm),
                Role = role,
            });

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
