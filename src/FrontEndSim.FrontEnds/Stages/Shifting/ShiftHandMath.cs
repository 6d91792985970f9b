using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.FrontEnds.Stages.Shifting;

/// <summary>The lines that the hand calculations of all shifting stages share.</summary>
internal static class ShiftHandMath
{
    /// <summary>A resistance as a person writes it between other numbers.</summary>
    public static string Ohms(double ohms) => SiText.Format(ohms, "ohm");

    /// <summary>A capacitance with its unit.</summary>
    public static string Farads(double farads) => SiText.Format(farads, "F");

    /// <summary>A resistor behind the sensor's source resistance, as formulas call the two: "(R1 + Rs)", or "R1" without
    /// one.</summary>
    public static string WithSource(string resistor, double sourceOhms) => sourceOhms > 0 ? $"({resistor} + Rs)" : resistor;

    /// <summary>Gain and offset wanted; nothing if the resistors were given instead.</summary>
    public static IEnumerable<HandStep> Wanted(ShiftTarget target)
    {
        if (target.Mapping is not { } map)
            yield break;
        yield return new("gain wanted", "G = (Vo,high − Vo,low)/(Vi,high − Vi,low)",
            $"({V(map.Output.High)} − {V(map.Output.Low)})/({V(map.Input.High)} − {V(map.Input.Low)})", target.Gain, "")
        { IsTarget = true };
        yield return new("shift wanted", "Vo(0) = Vo,low − G·Vi,low",
            $"{V(map.Output.Low)} − {SiText.Format(target.Gain, "")}·{V(map.Input.Low)}", target.Offset, "V")
        { IsTarget = true };
    }

    /// <summary>The outputs at both ends of the span; nothing without a mapping.</summary>
    public static IEnumerable<HandStep> Ends(ShiftTarget target, LinearExpectation line)
    {
        if (target.Mapping is not { } map)
            yield break;
        foreach (var (end, input) in new[] { ("lower", map.Input.Low), ("upper", map.Input.High) })
        {
            yield return new($"output at the {end} end", "Vo = G·Vi + Vo(0)",
                $"{SiText.Format(line.Gain, "")}·{V(input)} + {V(line.OffsetVolts)}", line.Output(input), "V");
        }
    }

    /// <summary>What the bias current makes of the resistances at the two inputs: nothing where they are equal.</summary>
    public static IEnumerable<HandStep> Bias(OpAmpNetwork network, OpAmpPart amp)
    {
        double plus = network.PlusOhms, minus = network.MinusOhms, gain = network.NoiseGain, bias = amp.Type.Model.BiasAmps;
        yield return new("resistance at the plus input, to be near that at the minus input", "R+ ≈ R−",
            $"{Ohms(plus)} ≈ {Ohms(minus)}", plus, "ohm")
        { Measure = new ResistanceMeasure(amp.Plus) };
        yield return new("offset that the bias current makes of the difference", "Vb = K·Ib·(R− − R+)",
            $"{SiText.Format(gain, "")}·{SiText.Format(bias, "A")}·({Ohms(minus)} − {Ohms(plus)})", gain * bias * (minus - plus), "V")
        { Measure = new BiasMeasure(amp.Name) };
    }

    /// <summary>A voltage, in brackets if it is negative.</summary>
    public static string V(double volts) => volts < 0 ? $"({SiText.Format(volts, "V")})" : SiText.Format(volts, "V");
}
