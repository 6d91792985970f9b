using FrontEndSim.FrontEnds.Model;
using static FrontEndSim.FrontEnds.Stages.Shifting.ShiftHandMath;

namespace FrontEndSim.FrontEnds.Stages.Guarding;

/// <summary>The voltages that events reach ahead of a guard, V, with the supplies on and with all of them at 0 V.</summary>
/// <param name="Low">Lowest, supplies on.</param>
/// <param name="High">Highest, supplies on.</param>
/// <param name="LowOff">Lowest, supplies off.</param>
/// <param name="HighOff">Highest, supplies off.</param>
public sealed record GuardLevels(double Low, double High, double LowOff, double HighOff);

/// <summary>The hand calculation of a guard's series resistor.</summary>
internal static class GuardHandMath
{
    /// <summary>The resistor that would do if the pin's own clamp took it all, and what the one chosen costs.</summary>
    /// <param name="pin">The pin.</param>
    /// <param name="rails">The rails that its ratings move with.</param>
    /// <param name="levels">What reaches the guard.</param>
    /// <param name="ohms">The series resistor that was chosen, ohm.</param>
    public static ImmutableArray<HandStep> Of(Pin pin, IEnumerable<Rail> rails, GuardLevels levels, double ohms)
    {
        var steps = ImmutableArray.CreateBuilder<HandStep>();
        if (pin is { InjectionAmps: { } injection, RatedHigh: { } high, RatedLow: { } low })
        {
            string amps = SiText.Format(injection, "A");
            double top = high.Resolve(rails), bottom = low.Resolve(rails);
            (string What, double Volts, string Formula, string Substitution)[] drives =
            [
                ("supplies on", levels.High - top, "R = (Vlevel − Vrated)/Iinj", $"({V(levels.High)} − {V(top)})/{amps}"),
                ("supplies on", bottom - levels.Low, "R = (Vrated − Vlevel)/Iinj", $"({V(bottom)} − {V(levels.Low)})/{amps}"),
                ("supplies off", levels.HighOff - high.Volts, "R = (Vlevel − Vrated)/Iinj",
                    $"({V(levels.HighOff)} − {V(high.Volts)})/{amps}"),
                ("supplies off", low.Volts - levels.LowOff, "R = (Vrated − Vlevel)/Iinj", $"({V(low.Volts)} − {V(levels.LowOff)})/{amps}"),
            ];
            var worst = drives.MaxBy(d => d.Volts);
            steps.Add(new($"series resistor if the pin's own clamp takes it all, {worst.What}", worst.Formula, worst.Substitution,
                worst.Volts / injection, "ohm"));
        }
        double leakage = Math.Abs(pin.LeakageAmps);
        if (leakage > 0)
        {
            steps.Add(new("error that the pin's leakage makes of the one chosen", "Ve = Ileak·R",
                $"{SiText.Format(leakage, "A")}·{SiText.Format(ohms, "ohm")}", leakage * ohms, "V"));
        }
        return steps.ToImmutable();
    }
}
