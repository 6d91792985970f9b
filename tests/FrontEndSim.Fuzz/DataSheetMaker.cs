using System.Text;

namespace FrontEndSim.Fuzz;

/// <summary>Part types as a hurried reader of data sheets types them in: mostly plausible, sometimes with a prefix or a column
/// mistaken.</summary>
internal static class DataSheetMaker
{
    /// <summary>A circuit with one such part in it.</summary>
    public static byte[] Make(Random random)
    {
        string kind = Draw.Of(random, "diode", "zener", "schottky", "led", "opamp");
        var text = new StringBuilder("circuit \"A part from its data sheet\"\nrail VP 9 V\nrail VN -9 V\nrail VDD 3.3 V\n");
        text.Append("sensor probe drives IN span 0 V .. 3 V source 220 ohm\n");
        text.Append($"part X is {kind}\n");
        foreach (string line in kind == "opamp" ? OpAmp(random) : Diode(kind, random))
            text.Append("    ").Append(line).Append('\n');
        text.Append(kind == "opamp" ? "opamp U1 X plus IN minus OUT output OUT on VP and VN\nresistor R1 from OUT to PIN 4k7\n"
            : $"resistor R1 from IN to PIN 4k7\n{kind} D1 from {Draw.Of(random, "GND to PIN", "PIN to VDD", "PIN to GND")} X\n");
        text.Append("pin adc at PIN\n    rated -0.3 V .. VDD + 0.3 V\n    converts 12 bits over 0 V .. VDD\n");
        text.Append("event \"24 V\" at IN step to 24 V source 1 ohm at 1 ms for 5 ms\n");
        text.Append("require adc mapping error under 30 counts\nrequire adc inside rating in every event\n");
        return Seeds.Bytes(text.ToString());
    }

    private static IEnumerable<string> Diode(string kind, Random random)
    {
        string most = random.Next(3) == 0 ? " at most" : "";
        double amps = Draw.Decades(random, 1e-6, 0.1), volts = kind == "led" ? 1.5 + random.NextDouble() : 0.1 + 0.7 * random.NextDouble();
        for (int i = random.Next(kind == "zener" ? 0 : 1, 5); i > 0; i--, amps *= Draw.Decades(random, 2, 30),
            volts *= 1 + 0.4 * random.NextDouble())
            yield return $"forward {Slipped(random, volts, "V")} at {Slipped(random, amps, "A")}{most}";
        if (kind == "zener")
        {
            double zener = Draw.Decades(random, 2, 100);
            yield return $"zener {Slipped(random, zener, "V")} at {Slipped(random, Draw.Decades(random, 1e-3, 0.1), "A")}";
            for (int i = random.Next(3); i > 0; i--)
                yield return $"impedance "
                    + $"{Slipped(random, Draw.Decades(random, 1, 1000), "ohm")} at "
                    + $"{Slipped(random, Draw.Decades(random, 1e-4, 0.1), "A")}{most}";
        }
        double reverse = Draw.Decades(random, 1, 60), leak = Draw.Decades(random, 1e-9, 1e-4);
        for (int i = random.Next(3); i > 0; i--, reverse *= 1.5, leak *= Draw.Decades(random, 1, 5))
            yield return $"leakage {Slipped(random, leak, "A")} at {Slipped(random, reverse, "V")}{most}";
        if (kind is not "zener" && random.Next(2) == 0)
            yield return $"stands {Slipped(random, Draw.Decades(random, 5, 1000), "V")}";
        if (random.Next(2) == 0)
            yield return $"capacitance {Slipped(random, Draw.Decades(random, 1e-12, 1e-8), "F")}";
        if (random.Next(3) == 0)
            yield return $"rated {Slipped(random, Draw.Decades(random, 0.1, 10), "W")}";
    }

    private static IEnumerable<string> OpAmp(Random random)
    {
        yield return $"like {Draw.Of(random, "bipolar-general", "jfet-input", "precision-bipolar", "rail-to-rail-cmos")}";
        string[] lines =
        [
            $"gain {FormattableString.Invariant($"{Draw.Decades(random, 10, 1e7):G4}")}", $"bandwidth {Slipped(random, Draw.Decades(random, 1e4, 1e8), "Hz")}",
            $"slew {Slipped(random, Draw.Decades(random, 1e4, 1e8), "V/s")}",
                $"offset {Slipped(random, Draw.Decades(random, 1e-6, 1e-2), "V")}",
            $"bias {Slipped(random, Draw.Decades(random, 1e-12, 1e-6), "A")}",
                $"input {Slipped(random, Draw.Decades(random, 1e5, 1e13), "ohm")}",
            $"output {Slipped(random, Draw.Decades(random, 1, 1000), "ohm")}",
                $"limit {Slipped(random, Draw.Decades(random, 1e-3, 0.1), "A")}",
            $"swing {Slipped(random, 1.5 * random.NextDouble(), "V")} from high {Slipped(random, 1.5 * random.NextDouble(), "V")} from low",
            $"common-mode {Slipped(random, 2 * random.NextDouble(), "V")} from high {Slipped(random, 2 * random.NextDouble(), "V")} "
                + $"from low",
            $"supply 3 V .. {Slipped(random, 30, "V")}", $"draws {Slipped(random, 1e-3, "A")}",
        ];
        foreach (string line in lines.Where(_ => random.Next(2) == 0))
            yield return line;
    }

    private static string Slipped(Random random, double value, string unit) =>
        Draw.Text(random.Next(25) == 0 ? value * Math.Pow(1000, random.Next(-2, 3)) : value, unit);
}
