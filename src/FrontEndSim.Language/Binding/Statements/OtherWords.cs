namespace FrontEndSim.Language.Binding.Statements;

/// <summary>Words of the trade that a file may try and that the language says in another way: each with a line to write instead.</summary>
internal static class OtherWords
{
    private static readonly (string[] Words, string Kind, string Line)[] All =
    [
        (["npn", "pnp", "bjt", "bipolar"], "npn", "transistor Q1 2N3904 collector C base B emitter E"),
        (["mosfet", "fet", "nmos", "pmos", "n-channel", "p-channel"], "n-channel", "transistor Q1 2N7000 drain D gate G source S"),
        (["op-amp", "opa", "amplifier"], "opamp", "opamp U1 bipolar-general plus P minus M output OUT on VP and VN"),
        (["comp", "lm393", "lm311", "lm339"], "comparator", "comparator U1 open-collector plus P minus M output OUT on VP and GND"),
        (["tvs", "transil", "transorb"], "suppressor",
            "suppressor S1 from GND to IN 24V, with two-way behind it for one that breaks down either way"),
        (["gdt", "arrester", "spark-gap", "gas-tube"], "gas-arrester", "gas-arrester G1 from IN to GND 90V"),
        (["mov", "vdr"], "varistor", "varistor V1 from A to B disk-7mm-22V"),
        (["ptc", "resettable", "polyfuse"], "", "polymer-fuse F1 from A to B 200 mA"),
        (["ferrite", "ferrite-bead"], "", "bead B1 from A to B 600 ohm"),
        (["ldo", "vreg", "7805", "lm317"], "regulator", "regulator U1 cmos-low-dropout from V5 to VCC ground GND 3.3 V"),
        (["vref", "tl431", "lm4040"], "reference", "reference D1 from GND to VREF shunt-2V5"),
        (["opto", "photocoupler"], "optocoupler", "optocoupler U1 4N25 anode A cathode K collector C emitter GND"),
        (["bilateral-switch", "4066", "dg411"], "analog-switch",
            "analog-switch K1 hc-analog-switch from A to OUT on VDD and GND closed"),
        (["mux", "4051", "4052", "selector"], "analog-switch",
            "multiplexer M1 hc-analog-switch from A, B, C to COMMON on VDD and GND"),
        (["inamp", "ina", "instrumentation-amp", "instrumentation-amplifier", "ad620", "ina128", "ina333"], "in-amp",
            "in-amp U1 precision-in-amp plus P minus M output OUT reference GND gain G1 and G2 on VP and VN, with R1 from G1 to G2"),
        (["voltage-reference", "precision-reference", "ref02", "ref3025"], "series-reference",
            "series-reference U1 series-2V5 from V5 to VREF ground GND"),
        (["ct", "current-transformer"], "",
            "sensor heater of current 0 A .. 14 A drives CT against MID gives 0 mA .. 7 mA alternates at 50 Hz as rms"),
        (["photodiode", "ldr", "photoresistor"], "", "sensor sky of light 0 lx .. 2000 lx drives A gives 0 A .. 20 uA capacitance 70 pF"),
        (["hall", "hall-sensor"], "", "sensor magnet of field -30 mT .. 30 mT drives HALL hall 60 mV per mT at 5 V on VDD"),
        (["strain-gauge", "load-cell", "loadcell", "bridge"], "",
            "sensor cell of force 0 N .. 50 N drives SP against SN bridge 350 ohm from VDD to GND gives 2 mV for 1 V"),
        (["thermocouple"], "", "sensor kiln of temperature 20 C .. 400 C drives TC against VREF thermocouple K cold-junction within 1 C"),
        (["pt100", "pt1000", "rtd", "platinum"], "", "sensor kiln of temperature 0 C .. 400 C from A to GND platinum 100 ohm class B"),
        (["ntc", "thermistor"], "", "sensor bath of temperature 0 C .. 80 C from A to GND thermistor 10 kohm at 25 C beta 3977 K"),
        (["transducer", "transmitter"], "", "sensor tank of level 0 mm .. 3000 mm drives A gives 4 mA .. 20 mA"),
        (["piezo", "accelerometer", "microphone"], "",
            "sensor knock of force 0 N .. 5 N drives A gives 0 nAs .. 0.5 nAs alternates at 1 kHz as peak capacitance 470 pF"),
        (["humidity", "capacitive", "moisture"], "",
            "sensor damp of humidity 10% .. 90% from OSC to A gives 160 pF .. 200 pF excited by V1"),
        (["frequency", "turbine", "flowmeter", "tachometer", "encoder", "counter"], "",
            "sensor flow of flow 1 l/min .. 30 l/min drives A gives 7 Hz .. 210 Hz pulses 0 V .. 5 V"),
        (["reed", "reed-switch", "contact", "button", "microswitch"], "", "sensor door from A to GND contact 100 mohm bounces for 5 ms"),
        (["charge-amp", "charge-amplifier"], "", "stage amp is charge-amplifier"),
        (["lm358", "tl072", "op07"], "opamp", "opamp U1 bipolar-general plus P minus M output OUT on VP and VN"),
        (["vsource", "isource", "signal", "oscillator"], "", "source V1 from A to GND 0 V sine 1 V at 1 kHz"),
        (["adc", "gpio", "input", "mcu", "microcontroller", "port"], "", "pin adc at PIN converts 12 bits over 0 V .. VDD"),
        (["sequence", "sequencer", "channels"], "", "scan turns reads first, second"),
        (["jumper", "spst"], "", "switch K1 from A to B closed"),
        (["schmitt", "inverter"], "", "gate U1 cmos-hc-hysteresis from A to B on VCC inverts"),
        (["rectifier"], "diode", "diode D1 from A to B 1N4007"),
        (["bat54", "bat54s"], "schottky", "schottky S1 from A to B BAT54S"),
        (["ground", "earth"], "", "nothing: GND is the ground node and needs no statement"),
        (["line", "coax", "wire", "tline"], "", "cable W1 from A to B return GND 3 metres 120 ohm"),
        (["relay"], "", "switch K1 from A to B closes at 1 ms bounces for 2 ms"),
        (["windings", "coupled-inductors", "xfmr"], "", "transformer T1 first A to B second C to D 10 mH and 2.5 mH"),
        (["res"], "", "resistor R1 from A to B 10 kohm"),
        (["cap", "condenser"], "", "capacitor C1 from A to B 100 nF"),
        (["coil", "choke"], "", "inductor L1 from A to B 10 uH"),
        (["pot", "trimmer"], "", "potentiometer P1 from A to B wiper W 10 kohm"),
        (["supply", "vcc", "vdd", "power"], "", "rail VDD 5 V"),
        (["voltage", "battery", "generator"], "", "source V1 from A to GND 5 V"),
    ];

    /// <summary>The line that says what a word at the left edge meant, or null.</summary>
    public static string? LineFor(string word) => Find(word) is { Line: { } line } ? "such as: " + line : null;

    /// <summary>The kind of part that a word meant after <c>is</c>, or null.</summary>
    public static string? KindFor(string word) =>
        Find(word) is { Kind: { Length: > 0 } kind } && kind != word ? $"did you mean {kind}?" : null;

    private static (string[] Words, string Kind, string Line)? Find(string word)
    {
        foreach (var entry in All)
        {
            if (entry.Words.Contains(word, StringComparer.OrdinalIgnoreCase))
                return entry;
        }
        return null;
    }
}
