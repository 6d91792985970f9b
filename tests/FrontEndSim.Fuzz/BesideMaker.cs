namespace FrontEndSim.Fuzz;

/// <summary>What else may stand at the terminal or at a node of the signal, each part with what it needs around it.</summary>
internal static class BesideMaker
{
    /// <summary>The lines of a part with its surroundings; none half of the time.</summary>
    public static string Make(Random random, string terminal, string node) => random.Next(34) switch
    {
        0 => $"suppressor SU1 from GND to {terminal} {Draw.Of(random, "5V0", "12V", "24V", "33V")}{Draw.Of(random, "", " two-way")}\n",
        1 => $"varistor VR1 from {terminal} to GND {Draw.Of(random, "disk-7mm-18V", "disk-14mm-33V", "disk-14mm-430V")}\n",
        7 => $"gas-arrester GA1 from {terminal} to GND 90V\n",
        2 => $"bead BE1 from {node} to BEYOND 600 ohm\npolymer-fuse PF1 from BEYOND to TRIPPED 200 mA\nresistor RPF from TRIPPED to GND "
            + $"10k\n",
        3 => $"regulator RGL {Draw.Of(random, "cmos-low-dropout", "pnp-low-dropout", "standard-100mA")} from VP to REGULATED ground GND "
            + $"3.3 V\nresistor RLR from REGULATED to GND {Draw.Preferred(random, 100, 1e5, "ohm")}\n"
            + $"resistor RRF from REGULATED to REFERRED 1k\nreference RF1 from GND to REFERRED shunt-2V5\n",
        4 => $"resistor ROC from "
            + $"{node} to LIT 1k\noptocoupler OC1 {Draw.Of(random, "4N25", "4N35")} anode LIT cathode GND collector SEEN emitter GND\n"
            + $"resistor RSN from VDD to SEEN 10k\n",
        5 => $"transformer TR1 first "
            + $"{node} to GND second SECOND to GND {Draw.Preferred(random, 1e-4, 1, "H")} and 10 "
            + $"mH{Draw.Of(random, "", " saturates at 1 mVs")}\nresistor RTR from SECOND to GND 1k\n",
        6 => $"cable CB1 from "
            + $"{node} to FAR return GND {random.Next(1, 100)} metres {Draw.Of(random, "50", "120")} ohm\nresistor RCB from FAR to GND "
            + $"{Draw.Preferred(random, 10, 1e5, "ohm")}\n",
        8 => $"fuse FU1 from {node} to FUSED {Draw.Preferred(random, 1e-2, 2, "A")}\nresistor RFU from FUSED to GND "
            + $"{Draw.Preferred(random, 10, 1e5, "ohm")}\n",
        9 => $"common-mode-choke CM1 first "
            + $"{node} to CMA second GND to CMB 1 mH\nresistor RCM from CMA to CMB {Draw.Preferred(random, 10, 1e5, "ohm")}\n"
            + "resistor RCG from CMB to GND 1 ohm\n",
        10 => $"switch SW1 from "
            + $"{node} to TOUCHED {Draw.Of(random, "open", "closed", "closes at 1 ms bounces for 500 us", "opens at 2 ms")}\n"
            + $"resistor RSW from TOUCHED to {Draw.Of(random, "GND", "VDD", "VP")} {Draw.Preferred(random, 10, 1e6, "ohm")}\n",
        11 => $"gate GT1 {Draw.Of(random, "cmos-hc", "cmos-4000-hysteresis", "cmos-hc-hysteresis")} from {node} to GATEOUT on "
            + $"VDD{Draw.Of(random, "", " inverts")}\n"
            + "resistor RGT from GATEOUT to LIT 330 ohm\nled LD1 from LIT to GND green\n",
        12 => $"source SO1 from NOISE to GND 0 V "
            + $"{Draw.Of(random, "sine 1 V at 1 kHz", "pulse to 5 V at 1 ms for 2 ms rise 1 us fall 1 us every 10 ms", "step to 5 V at 1 ms rise 10 us", "decay from 5 V at 10 us rising with 1 us falling with 50 us", "point 1 V at 1 ms")}\n"
            + $"resistor RSO from NOISE to {node} {Draw.Preferred(random, 1e3, 1e7, "ohm")}\n",
        13 => $"multiplexer MX1 "
            + $"{Draw.Of(random, "cmos-4000-analog-switch", "hc-analog-switch", "precision-analog-switch")} from {node}, OTHERA, OTHERB "
            + $"to CHOSEN on VDD and GND{Draw.Of(random, "", " selects OTHERA")}\n"
            + $"resistor RMA from OTHERA to VDD 10k\nresistor RMB from OTHERB to GND "
            + $"{Draw.Preferred(random, 100, 1e6, "ohm")}\nresistor RMC from CHOSEN to GND {Draw.Preferred(random, 1e3, 1e7, "ohm")}\n",
        14 => $"template low-pass from A to B with R = 10k, C = 10n\n    resistor R1 from A to B R 1%\n    capacitor C1 from B to GND C\n"
            + $"stage own is low-pass\n    from "
            + $"{node} to OWN\n    R {Draw.Preferred(random, 100, 1e6, "ohm")}\nresistor ROW from OWN to GND 1M\n",
        15 => $"analog-switch AS1 "
            + $"{Draw.Of(random, "cmos-4000-analog-switch", "hc-analog-switch", "low-voltage-analog-switch", "precision-analog-switch")} from {node} to SWITCHED "
            + $"on VDD and GND {Draw.Of(random, "open", "closed", "closes at 1 ms", "opens at 1 ms")}\nresistor RAS from SWITCHED to "
            + $"GND {Draw.Preferred(random, 100, 1e6, "ohm")}\n",
        16 => $"in-amp IA1 precision-in-amp plus "
            + $"{node} minus GND output AMPLIFIED reference GND{Draw.Of(random, "", " gain GP and GM")} on VP and VN\n"
            + $"resistor RIA from GP to GM "
            + $"{Draw.Preferred(random, 50, 1e5, "ohm")}\nresistor RIB from GP to AMPLIFIED 10Mohm\nresistor RIC from AMPLIFIED to GND "
            + $"{Draw.Preferred(random, 1e3, 1e5, "ohm")}\n",
        17 => $"series-reference SR1 "
            + $"{Draw.Of(random, "series-2V5", "series-5V")} from VP to STIFF ground GND\nresistor RSR from STIFF to GND "
            + $"{Draw.Preferred(random, 100, 1e5, "ohm")}\n",
        _ => "",
    };
}
