using System.Text;

namespace FrontEndSim.Fuzz;

/// <summary>What leads to a logic pin: contacts and open collectors, comparators, transistors, gates with indicators.</summary>
internal static class LogicMaker
{
    /// <summary>Writes a sensor that switches, and what brings it to a node; gives the node.</summary>
    /// <param name="text">What is written to.</param>
    /// <param name="random">What decides.</param>
    /// <param name="isDriven">Whether the sensor drives the terminal.</param>
    public static string Make(StringBuilder text, Random random, out bool isDriven)
    {
        isDriven = true;
        if (random.Next(4) == 0)
        {
            isDriven = false;
            text.Append($"sensor probe of distance 0 mm .. 10 mm from IN to GND\n    gives "
                + $"{Draw.Preferred(random, 0.1, 500, "ohm")} .. {Draw.Preferred(random, 1e5, 1e8, "ohm")}\n");
            text.Append($"stage read is open-collector-input\n    from IN to LEVEL\n    rail VDD\n    wets "
                + $"{Draw.Preferred(random, 1e-4, 1e-2, "A")}\n    shunt {Draw.Preferred(random, 1e-9, 1e-6, "F")}\n");
            return "LEVEL";
        }
        if (random.Next(3) == 0)
        {
            isDriven = false;
            string contact =
                $"contact {Draw.Preferred(random, 0.01, 10, "ohm")} bounces for {Draw.Text(Draw.Decades(random, 1e-4, 1e-2), "s")}";
            text.Append(random.Next(3) switch
            {
                0 => $"sensor probe from IN to GND\n    {contact} wets 0.1 mA .. 100 mA\n",
                1 => $"sensor probe of flow 1 l/min .. 30 l/min from IN to GND\n    gives 0 Hz .. "
                    + $"{Draw.Text(Draw.Decades(random, 1, 200), "Hz")}\n    {contact}\n    duty 20% .. 60%\n",
                _ => $"sensor probe of flow 1 l/min .. 30 l/min from IN to GND\n    gives 7 Hz .. "
                    + $"{Draw.Text(Draw.Decades(random, 10, 1e5), "Hz")}\n    pulses 10 Mohm .. 100 ohm\n",
            });
            text.Append($"stage read is open-collector-input\n    from IN to LEVEL\n    rail VDD\n    wets "
                + $"{Draw.Preferred(random, 1e-4, 1e-2, "A")}\n    shunt {Draw.Preferred(random, 1e-9, 1e-6, "F")}\n");
            return "LEVEL";
        }
        string high = Draw.Of(random, "3.3 V", "5 V", "12 V", "24 V");
        text.Append($"sensor probe drives IN\n    span 0 V .. {high}\n    source {Draw.Preferred(random, 1, 1e4, "ohm")}\n");
        if (random.Next(2) == 0)
            text.Append($"    edge {Draw.Text(Draw.Decades(random, 1e-6, 0.02), "s")}\n");
        switch (random.Next(4))
        {
            case 0:
                text.Append($"stage turn is transistor-switch\n    from IN to LEVEL\n    transistor "
                    + $"{Draw.Of(random, "2N3904", "2N2222A", "2N7000")}\n    rail VDD\n    high 3 V\n    low 0.2 V\n");
                return "LEVEL";
            case 1:
                bool isOpen = random.Next(2) == 0;
                text.Append($"stage full is hysteresis-comparator\n    from IN to LEVEL\n    comparator "
                    + $"{(isOpen ? "open-collector" : "push-pull-cmos")} on VDD and GND\n");
                text.Append($"    upper 2 V\n    lower "
                    + $"{Draw.Of(random, "1.5 V", "1.9 V", "1 V")}\n    offset from VDD\n{(isOpen ? "    high VDD\n" : "")}");
                return "LEVEL";
            case 2:
                text.Append($"stage share is divider\n    from IN to LEVEL\n    ratio {Draw.Of(random, "0.1", "0.25", "0.6")}\n");
                return "LEVEL";
            default:
                return "IN";
        }
    }

    /// <summary>Writes the pin, what else reads its node, and what must hold of it.</summary>
    public static void Pin(StringBuilder text, Random random, double vdd, bool counts)
    {
        string family = Draw.Of(random, "cmos-hc", "cmos-hc-hysteresis", vdd == 3.3 ? "lvttl" : "cmos-hc");
        text.Append($"pin input at PIN type {family} on VDD{(counts ? " counts pulses for 1 s within 0.1%" : "")}\n");
        if (counts)
            text.Append("require input reading error under 5 l/min\n");
        if (random.Next(2) == 0)
            text.Append($"stage show is logic-input\n    from PIN to SHOWN\n    gate "
                + $"{family} on VDD\n{Draw.Of(random, "", "    inverts\n")}"
                + "    indicator-high red at 1 mA\n    resistors E24 5%\n");
        text.Append($"require input {Draw.Of(random, "noise margin over 0.2 V", "delay under 5 ms", "clean edges")}\n");
    }
}
