using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Faults;

namespace FrontEndSim.FrontEnds.Studies.Compare;

/// <summary>A number of the circuit that may be other than planned.</summary>
/// <param name="Part">Name of the part.</param>
/// <param name="Number">The engine's number.</param>
/// <param name="Low">Lowest value of the coordinate that is searched.</param>
/// <param name="High">Highest.</param>
/// <param name="Apply">The number, from the planned one and the coordinate.</param>
/// <param name="Describe">The fitted value, words for it, and whether it is within tolerance.</param>
internal sealed record Suspect(string Part, VariedNumber Number, double Low, double High, Func<double, double, double> Apply,
    Func<double, (double Fitted, string Words, bool IsWithin)> Describe);

/// <summary>All that may be other than planned, one thing at a time.</summary>
internal static class CompareSuspects
{
    // A wrong part is looked for up to a factor of ten either way; open and short, which are faults, beyond.
    private static readonly double WrongValue = Math.Log(10);

    public static IEnumerable<Suspect> Of(FrontEnd frontEnd)
    {
        foreach (var part in frontEnd.AllParts)
        {
            string role = PartRole.Of(frontEnd, part);
            if (part is ResistorPart r)
                yield return Resistance(r.Name, role, new(r.Name, Resistor.Resistance), r.Ohms);
            if (part is OpAmpPart amp)
            {
                double spread = amp.Type.OffsetVoltsSpread, bias = amp.Type.BiasAmpsSpread;
                yield return new(amp.Name, new(amp.Name, OpAmp.OffsetVoltage), -0.1, 0.1, (_, x) => x, x => (x,
                    $"an input offset of {SiText.Format(x, "V", 3)} at {role} (its class: up to {SiText.Format(spread, "V", 3)} either way)", Math.Abs(x) <= spread));
                double most = Math.Max(10e-6, 10 * bias);
                yield return new(amp.Name, new(amp.Name, OpAmp.BiasCurrent), -most, most, (_, x) => x, x => (x,
                    $"a bias current of {SiText.Format(x, "A", 3)} into each input of {role} (its class: up to {SiText.Format(bias, "A", 3)})", Math.Abs(x) <= bias));
            }
            if (part is DiodePart diode)
            {
                yield return new(diode.Name, new(diode.Name, Diode.LeakageConductance), Math.Log(1e-10), Math.Log(1e-1), (_, x) => Math.Exp(x), x => (Math.Exp(-x),
                    $"{role} leaking like {SiText.Format(Math.Exp(-x), "ohm", 3)} across it", Math.Exp(x) <= 10 * diode.Type.Model.LeakageSiemens));
            }
        }
        foreach (var rail in frontEnd.Rails)
        {
            double volts = rail.Volts.Value;
            string role = PartRole.Of(frontEnd, rail);
            yield return new(rail.Name, new(rail.Name, VoltageSource.Scale), 0.5, 1.5, (now, x) => now * x, x => (volts * x,
                $"{role} {SiText.Format(Math.Abs(volts * (x - 1)), "V", 3)} {(volts * (x - 1) >= 0 ? "high" : "low")}: {SiText.Format(volts * x, "V")} instead of {SiText.Format(volts, "V")}",
                Math.Abs(x - 1) <= rail.Volts.Tolerance * (1 + 1e-9)));
        }
        foreach (var sensor in frontEnd.Sensors.Where(s => s.SourceOhms > 0))
            yield return Resistance(sensor.Name, $"the source resistance of {sensor.Name}", new(sensor.Name, VoltageSource.SourceResistance), sensor.SourceOhms);
    }

    private static Suspect Resistance(string name, string role, VariedNumber number, Toleranced ohms) =>
        new(name, number, -WrongValue, WrongValue, (now, x) => now * Math.Exp(x), x =>
        {
            double share = Math.Exp(x) - 1;
            string by = Math.Abs(share) < 0.5 ? $"{SiText.Format(Math.Abs(share), "%", 2)} {(share < 0 ? "low" : "high")}"
                : $"at {SiText.Format(Math.Exp(x), "", 3)} times what is planned";
            return (ohms.Value * Math.Exp(x), $"{role} {by}: {SiText.Format(ohms.Value * Math.Exp(x), "ohm", 3)} instead of {SiText.Format(ohms.Value, "ohm")}",
                Math.Abs(share) <= ohms.Tolerance * (1 + 1e-9));
        });

    /// <summary>A single fault in words: "the upper clamp of guard (Dh) shorted".</summary>
    public static string Words(FrontEnd frontEnd, SingleFault fault)
    {
        string subject = frontEnd.AllParts.FirstOrDefault(p => p.Name == fault.Subject) is { } part ? $"{PartRole.Of(frontEnd, part)}, {part.ValueText},"
            : frontEnd.Rails.FirstOrDefault(r => r.Name == fault.Subject) is { } rail ? PartRole.Of(frontEnd, rail) : $"sensor {fault.Subject}";
        return subject + fault.Mode switch
        {
            FaultMode.Open or FaultMode.SensorOpen => " open",
            FaultMode.Short => " shorted",
            FaultMode.Reversed => " mounted the wrong way round",
            FaultMode.StuckHigh => " with its output stuck at the positive rail",
            FaultMode.StuckLow => " with its output stuck at the negative rail",
            FaultMode.RailLost => " at 0 V, its supply off",
            FaultMode.RailOpen => " not connected",
            _ => $" shorted to {fault.Other}",
        };
    }
}
