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
        (["line", "coax", "wire"], "", "cable W1 from A to B return GND 3 metres 120 ohm"),
        (["relay", "contact", "button"], "", "switch K1 from A to B closes at 1 ms bounces for 2 ms"),
        (["windings", "coupled-inductors", "xfmr"], "", "transformer T1 first A to B second C to D 10 mH and 2.5 mH"),
        (["ntc", "rtd", "thermistor"], "", "a sensor: see sensor in docs/language.md"),
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
