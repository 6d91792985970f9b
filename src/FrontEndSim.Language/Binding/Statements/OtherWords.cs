namespace FrontEndSim.Language.Binding.Statements;

/// <summary>Words of the trade that a file may try and that the language says in another way, or whose part is not modelled: each with a
/// line to write instead, and what has to be known of it.</summary>
internal static class OtherWords
{
    // What words mean, the kind of a part that is described by them after "is", the line to write, and what is not modelled.
    private static readonly (string[] Words, string Kind, string Line, string Remark)[] All =
    [
        (["npn", "pnp", "bjt", "bipolar"], "npn", "transistor Q1 2N3904 collector C base B emitter E", ""),
        (["mosfet", "fet", "nmos", "pmos", "n-channel", "p-channel", "power-mosfet"], "n-channel",
            "transistor Q1 2N7000 drain D gate G source S", "one of your own is a part NAME is n-channel or p-channel"),
        (["op-amp", "opa", "amplifier"], "opamp", "opamp U1 bipolar-general plus P minus M output OUT on VP and VN", ""),
        (["comp", "lm393", "lm311", "lm339"], "comparator", "comparator U1 open-collector plus P minus M output OUT on VP and GND", ""),
        (["tvs", "transil", "transorb", "tvs-diode", "esd-diode"], "suppressor",
            "suppressor S1 from GND to IN 24V", "two-way behind it makes one that breaks down either way"),
        (["gdt", "arrester", "spark-gap", "gas-tube", "gas-discharge-tube"], "gas-arrester", "gas-arrester G1 from IN to GND 90V", ""),
        (["mov", "vdr", "metal-oxide-varistor"], "varistor", "varistor V1 from A to B disk-7mm-22V", ""),
        (["ptc", "resettable", "polyfuse"], "", "polymer-fuse F1 from A to B 200 mA",
            "a PTC that measures is a sensor whose table rises: from A to GND, and below it lines such as at 25 C gives 1 kohm"),
        (["ferrite", "ferrite-bead", "ferritebead"], "", "bead B1 from A to B 600 ohm", ""),
        (["ldo", "vreg", "voltage-regulator", "7805", "78l05", "lm317"], "regulator",
            "regulator U1 cmos-low-dropout from V5 to VCC ground GND 3.3 V", ""),
        (["vref", "tl431", "lm4040"], "reference", "reference D1 from GND to VREF shunt-2V5", ""),
        (["opto", "photocoupler", "opto-isolator", "optoisolator"], "optocoupler",
            "optocoupler U1 4N25 anode A cathode K collector C emitter GND", ""),
        (["bilateral-switch", "4066", "dg411"], "analog-switch",
            "analog-switch K1 hc-analog-switch from A to OUT on VDD and GND closed", ""),
        (["mux", "4051", "4052", "selector"], "analog-switch",
            "multiplexer M1 hc-analog-switch from A, B, C to COMMON on VDD and GND", ""),
        (["inamp", "ina", "instrumentation-amp", "instrumentation-amplifier", "ad620", "ina128", "ina333"], "in-amp",
            "in-amp U1 precision-in-amp plus P minus M output OUT reference GND gain G1 and G2 on VP and VN",
            "a resistor from G1 to G2 sets its gain"),
        (["voltage-reference", "precision-reference", "ref02", "ref3025"], "series-reference",
            "series-reference U1 series-2V5 from V5 to VREF ground GND", ""),
        (["ct", "current-transformer"], "",
            "sensor heater of current 0 A .. 14 A drives CT against MID gives 0 mA .. 7 mA alternates at 50 Hz as rms", ""),
        (["photodiode", "ldr", "photoresistor"], "",
            "sensor sky of light 0 lx .. 2000 lx drives A gives 0 A .. 20 uA capacitance 70 pF", ""),
        (["hall", "hall-sensor"], "", "sensor magnet of field -30 mT .. 30 mT drives HALL hall 60 mV per mT at 5 V on VDD", ""),
        (["strain-gauge", "load-cell", "loadcell", "bridge"], "",
            "sensor cell of force 0 N .. 50 N drives SP against SN bridge 350 ohm from VDD to GND gives 2 mV for 1 V", ""),
        (["thermocouple"], "",
            "sensor kiln of temperature 20 C .. 400 C drives TC against VREF thermocouple K cold-junction within 1 C", ""),
        (["pt100", "pt1000", "rtd", "platinum", "ni100"], "",
            "sensor kiln of temperature 0 C .. 400 C from A to GND platinum 100 ohm class B", ""),
        (["ntc", "thermistor"], "", "sensor bath of temperature 0 C .. 80 C from A to GND thermistor 10 kohm at 25 C beta 3977 K", ""),
        (["transducer", "transmitter"], "", "sensor tank of level 0 mm .. 3000 mm drives A gives 4 mA .. 20 mA", ""),
        (["piezo", "accelerometer", "microphone"], "",
            "sensor knock of force 0 N .. 5 N drives A gives 0 nAs .. 0.5 nAs alternates at 1 kHz as peak capacitance 470 pF", ""),
        (["humidity", "capacitive", "moisture"], "",
            "sensor damp of humidity 10% .. 90% from OSC to A gives 160 pF .. 200 pF excited by V1", ""),
        (["frequency", "turbine", "flowmeter", "tachometer", "encoder", "counter"], "",
            "sensor flow of flow 1 l/min .. 30 l/min drives A gives 7 Hz .. 210 Hz pulses 0 V .. 5 V", ""),
        (["reed", "reed-switch", "contact", "button", "microswitch"], "",
            "sensor door from A to GND contact 100 mohm bounces for 5 ms", ""),
        (["charge-amp", "charge-amplifier"], "", "stage amp is charge-amplifier", ""),
        (["lm358", "tl072", "op07"], "opamp", "opamp U1 bipolar-general plus P minus M output OUT on VP and VN", ""),
        (["vsource", "isource", "signal", "oscillator"], "", "source V1 from A to GND 0 V sine 1 V at 1 kHz", ""),
        (["adc", "gpio", "input", "mcu", "microcontroller", "port"], "", "pin adc at PIN converts 12 bits over 0 V .. VDD", ""),
        (["sequence", "sequencer", "channels"], "", "scan turns reads first, second", ""),
        (["jumper", "spst", "push-button"], "", "switch K1 from A to B closed", ""),
        (["schmitt", "inverter"], "", "gate U1 cmos-hc-hysteresis from A to B on VCC inverts", ""),
        (["rectifier", "1n4148", "1n4007"], "diode", "diode D1 from A to B 1N4007", ""),
        (["bat54", "bat54s"], "schottky", "schottky S1 from A to B BAT54S", ""),
        (["ground", "earth"], "", "", "nothing: GND is the ground node and needs no statement"),
        (["line", "coax", "wire", "tline"], "", "cable W1 from A to B return GND 3 metres 120 ohm", ""),
        (["relay"], "", "switch K1 from A to B closes at 1 ms bounces for 2 ms",
            "its coil is an inductor with a resistance and a diode across both, of its own"),
        (["windings", "coupled-inductors", "xfmr"], "", "transformer T1 first A to B second C to D 10 mH and 2.5 mH", ""),
        (["res"], "", "resistor R1 from A to B 10 kohm", ""),
        (["cap", "condenser"], "", "capacitor C1 from A to B 100 nF", ""),
        (["coil", "choke", "ind"], "", "inductor L1 from A to B 10 uH", ""),
        (["pot", "trimmer"], "", "potentiometer P1 from A to B wiper W 10 kohm", ""),
        (["supply", "vcc", "vdd", "power"], "", "rail VDD 5 V", ""),
        (["voltage", "battery", "generator"], "", "source V1 from A to GND 5 V", ""),
        (["bridge-rectifier", "rectifier-bridge"], "", "diode D1 from A to P 1N4007", "four of them make the bridge"),
        (["cmc", "common-mode-filter"], "", "common-mode-choke T1 first A to B second C to D 1 mH", ""),
        (["shunt", "shunt-resistor", "snubber"], "", "resistor R1 from A to B 10 ohm", "a snubber is one in series with a capacitor"),
        (["phototransistor"], "", "sensor sky of light 0 lx .. 2000 lx drives A against VDD gives 0 A .. 1 mA",
            "its saturation is not modelled: keep the node half a volt from its supply"),
        (["darlington", "uln2003"], "npn", "transistor Q1 2N3904 collector C base B emitter M",
            "a second one with its base at M and its collector at C makes the pair"),
        (["led-driver", "lamp", "bulb", "heater", "load"], "",
            "resistor R1 from A to GND 100 ohm", "a filament that warms up is not modelled"),
        (["motor", "solenoid", "loudspeaker", "speaker", "buzzer"], "", "inductor L1 from A to B 10 mH resistance 20 ohm",
            "what moves in it is not modelled: its voltage is a source of your own in series"),
        (["level-shifter", "level-translator"], "", "stage turn is transistor-switch", ""),
        (["voltage-divider", "potential-divider"], "", "stage share is divider", ""),
        (["follower", "voltage-follower"], "", "stage stiff is buffer", ""),
        (["current-sense", "current-sense-amplifier", "difference-amplifier", "diff-amp"], "", "stage amp is difference-stage", ""),
        (["pga", "variable-gain"], "", "in-amp U1 precision-in-amp plus P minus M output OUT reference GND gain G1 and G2 on VP and VN",
            "a gain that firmware sets is one of its gain resistors: draw the circuit once for each"),
        (["low-pass", "lowpass", "anti-alias", "filter"], "", "stage calm is rc-filter",
            "with two poles it may be sallen-key or multiple-feedback"),
        (["current-source", "current-sink"], "", "source I1 from GND to A 1 mA", "one for a platinum resistor is the stage sensor-current"),
        (["isolation-amplifier", "digital-isolator", "isolator"], "optocoupler",
            "optocoupler U1 4N25 anode A cathode K collector C emitter GND", "isolators of other kinds are not modelled"),
        (["dac", "pwm"], "", "source V1 from A to GND 0 V pulse to 3.3 V at 1 us for 50 us every 100 us",
            "a converter's output is not modelled: draw what it gives as a source with its resistance"),
        (["triac", "scr", "thyristor", "diac", "sidac", "sidactor", "igbt", "gto"], "",
            "switch K1 from A to B closes at 1 ms opens at 11 ms",
            "this part is not modelled: neither its gate nor its latching; for a crowbar take a gas-arrester or a suppressor"),
        (["jfet", "depletion", "gan", "sic"], "", "transistor Q1 2N7000 drain D gate G source S",
            "only enhancement MOS transistors are modelled, no junction field-effect ones and none that conduct without a gate voltage"),
        (["crystal", "xtal", "resonator", "quartz"], "", "inductor L1 from A to M 10 mH resistance 50 ohm",
            "a crystal is not modelled: its motional arm is this in series with a capacitor, with one more capacitor across both"),
        (["buck", "boost", "converter", "smps", "dc-dc", "dcdc", "switching-regulator", "charge-pump", "inverting-converter"], "regulator",
            "rail VDD 3.3 V tolerance 2% resistance 0.1 ohm",
            "switching converters are not modelled: what one gives is a rail, its ripple a source in series with what it feeds"),
        (["varactor", "varicap", "tunnel-diode", "pin-diode", "unijunction"], "diode", "diode D1 from A to B 1N4148",
            "this part is not modelled but as a plain diode"),
        (["timer", "555", "flip-flop", "latch", "counter-ic", "nand", "nor", "and-gate", "or-gate", "xor"], "",
            "gate U1 cmos-hc from A to B on VCC inverts", "gates with one input are modelled, and no logic beyond them"),
        (["pll", "vco", "mixer", "multiplier", "log-amp", "ota"], "", "opamp U1 bipolar-general plus P minus M output OUT on VP and VN",
            "this part is not modelled: draw what it loads and what it drives"),
        (["efuse", "hot-swap", "load-switch"], "", "switch K1 from A to B closes at 1 ms",
            "its own limits are not modelled: a fuse or polymer-fuse is judged for what melts or trips it"),
        (["supercapacitor", "supercap", "electrolytic", "tantalum", "mlcc", "ceramic"], "",
            "capacitor C1 from A to B 100 uF 20% rated 16 V",
            "loss of capacitance by bias and age is not modelled"),
        (["solar-cell", "photovoltaic"], "", "sensor sky of light 0 lx .. 2000 lx drives A gives 0 A .. 20 uA dark-current 30 nA", ""),
        (["lvdt", "resolver", "rvdt"], "", "transformer T1 first A to B second C to D 10 mH and 2.5 mH",
            "a coupling that moves is not modelled: draw one circuit for each end of its travel"),
        (["ultrasonic", "radar", "gps", "camera"], "", "sensor tank of level 0 mm .. 3000 mm drives A gives 0.5 V .. 4.5 V",
            "what such a sensor gives at its terminals is what is drawn"),
        (["i2c", "spi", "uart", "can", "rs485", "lin"], "", "pin port at PIN type cmos-hc-hysteresis on VCC",
            "buses and what is said on them are not modelled: a line of one is a logic pin"),
    ];

    /// <summary>The line that says what a word at the left edge meant, with what has to be known of it, or null.</summary>
    public static string? LineFor(string word) => Find(word) switch
    {
        { Line: "", Remark: { } remark } => remark,
        { Line: { } line, Remark: "" } => "such as: " + line,
        { Line: { } line, Remark: { } remark } => $"such as: {line}; {remark}",
        _ => null,
    };

    /// <summary>The kind of part that a word meant after <c>is</c>, or null.</summary>
    public static string? KindFor(string word) =>
        Find(word) is not { } found ? null : found.Kind.Length == 0 ? LineFor(word)
            : found.Kind != word ? $"did you mean {found.Kind}?" : null;

    private static (string[] Words, string Kind, string Line, string Remark)? Find(string word)
    {
        foreach (var entry in All)
        {
            if (entry.Words.Contains(word, StringComparer.OrdinalIgnoreCase))
                return entry;
        }
        return null;
    }
}
