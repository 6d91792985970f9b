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
            text.Append($"sensor probe of distance 0 mm .. 10 mm from IN to GND\n    gives {Draw.Preferred(random, 0.1, 500, "ohm")} .. {Draw.Preferred(random, 1e5, 1e8, "ohm")}\n");
            text.Append($"stage read is open-collector-input\n    from IN to LEVEL\n    rail VDD\n    wets {Draw.Preferred(random, 1e-4, 1e-2, "A")}\n    shunt {Draw.Preferred(random, 1e-9, 1e-6, "F")}\n");
            return "LEVEL";
        }
        string high = Draw.Of(random, "3.3 V", "5 V", "12 V", "24 V");
        text.Append($"sensor probe drives IN\n    span 0 V .. {high}\n    source {Draw.Preferred(random, 1, 1e4, "ohm")}\n");
        if (random.Next(2) == 0)
            text.Append($"    edge {Draw.Text(Draw.Decades(random, 1e-6, 0.02), "s")}\n");
        switch (random.Next(4))
        {
            case 0:
                text.Append($"stage turn is transistor-switch\n    from IN to LEVEL\n    transistor {Draw.Of(random, "2N3904", "2N2222A", "2N7000")}\n    rail VDD\n    high 3 V\n    low 0.2 V\n");
                return "LEVEL";
            case 1:
                text.Append($"stage full is hysteresis-comparator\n    from IN to LEVEL\n    comparator {Draw.Of(random, "open-collector", "push-pull-cmos")} on VDD and GND\n");
                text.Append($"    upper 2 V\n    lower {Draw.Of(random, "1.5 V", "1.9 V", "1 V")}\n    offset from VDD\n    high VDD\n");
                return "LEVEL";
            case 2:
                text.Append($"stage share is divider\n    from IN to LEVEL\n    ratio {Draw.Of(random, "0.1", "0.25", "0.6")}\n");
                return "LEVEL";
            default:
                return "IN";
        }
    }

    /// <summary>Writes the pin, what else reads its node, and what must hold of it.</summary>
    public static void Pin(StringBuilder text, Random random, double vdd)
    {
        string family = Draw.Of(random, "cmos-hc", "cmos-hc-hysteresis", vdd == 3.3 ? "lvttl" : "cmos-hc");
        text.Append($"pin input at PIN type {family} on VDD\n");
        if (random.Next(2) == 0)
            text.Append($"stage show is logic-input\n    from PIN to SHOWN\n    gate {family} on VDD\n{Draw.Of(random, "", "    inverts\n")}"
                + "    indicator-high red at 1 mA\n    resistors E24 5%\n");
        text.Append($"require input {Draw.Of(random, "noise margin over 0.2 V", "delay under 5 ms", "clean edges")}\n");
    }
}
