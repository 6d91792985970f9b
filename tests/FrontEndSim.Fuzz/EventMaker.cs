namespace FrontEndSim.Fuzz;

/// <summary>What may happen at the terminal, at a node or at a supply.</summary>
internal static class EventMaker
{
    /// <summary>The words of an event after its name.</summary>
    /// <param name="random">What decides.</param>
    /// <param name="terminal">The node where the cable is.</param>
    /// <param name="node">A node further inside.</param>
    /// <param name="isDriven">Whether a sensor drives the terminal; a resistance does not.</param>
    public static string Make(Random random, string terminal, string node, bool isDriven) => random.Next(22) switch
    {
        0 when isDriven => $"at {terminal} open",
        1 when isDriven => $"at {terminal} reversed",
        2 => $"at VDD lost{Draw.Of(random, "", " falling in 100 us")}",
        3 => "at VP lost",
        4 => "at VN open",
        5 => $"at VDD late by {Draw.Text(Draw.Decades(random, 1e-4, 0.05), "s")} rising in 1 ms",
        6 => $"at {node} short to {Draw.Of(random, "GND", "VP", "VN", "VDD")} through {Draw.Preferred(random, 0.01, 100, "ohm")}",
        7 => $"at {terminal} surge {Draw.Of(random, "1.2/50", "10/700")} peak {Draw.Of(random, "500 V", "-1 kV", "2 kV")} source 42 "
            + $"ohm{Either(random)}",
        8 => $"at {terminal} combination-wave level {random.Next(1, 5)} coupled "
            + $"{Draw.Of(random, "signal-line", "line-to-ground", "line-to-line")}",
        9 => $"at {terminal} discharge level {random.Next(1, 5)}{Draw.Of(random, "", " air", " leads 10 nH")}{Either(random)}",
        10 => $"at {terminal} burst level {random.Next(1, 5)} repeating {Draw.Of(random, "5 kHz", "100 kHz")}",
        11 when isDriven =>
            $"at {terminal} vehicle-pulse {Draw.Of(random, "1", "2a", "3a", "3b")} system 12 V level {random.Next(1, 5)} supply 13.5 V",
        12 => $"at {terminal} mains-pickup 230 V frequency {Draw.Of(random, "50", "60")} Hz through 100 pF",
        13 => $"at {terminal} human-body {Draw.Of(random, "500 V", "2 kV", "-4 kV")}{Either(random)}",
        14 => $"at {terminal} radio-pickup level {random.Next(1, 4)} frequency {Draw.Of(random, "150 kHz", "1 MHz", "27 MHz", "80 MHz")}",
        15 => $"at VP load-dump peak "
            + $"{random.Next(40, 110)} V supply 12 V source {Draw.Preferred(random, 0.5, 8, "ohm")} for {random.Next(40, 400)} "
            + $"ms{Draw.Of(random, "", " suppressed to 35 V")}",
        16 => $"at VP supply-test "
            + $"{Draw.Of(random, "starting system 12 V level 2", "momentary-drop system 12 V", "jump-start system 12 V", "alternating system 12 V level 1 frequency 50 Hz")}",
        17 => $"at {terminal} mains {Draw.Of(random, "120", "230")} V frequency 50 Hz phase {random.Next(0, 181)} source "
            + $"{Draw.Preferred(random, 0.1, 100, "ohm")}",
        18 => $"at {terminal} step to {random.Next(-60, 61)} V source {Draw.Preferred(random, 0.1, 1000, "ohm")} at 2 ms with VDD lost "
            + $"at 1 ms, VP lost at 1 ms",
        19 => $"at {terminal} step to {random.Next(10, 61)} V source 1 ohm for {Draw.Text(Draw.Decades(random, 1e-5, 0.05), "s")} "
            + $"only{Either(random)}",
        _ => $"at {terminal} step to {random.Next(-400, 401)} V source {Draw.Preferred(random, 0.1, 1000, "ohm")} at "
            + $"{Draw.Text(Draw.Decades(random, 1e-6, 0.01), "s")} for {Draw.Text(Draw.Decades(random, 1e-6, 0.1), "s")}",
    };

    private static string Either(Random random) => random.Next(4) == 0 ? " either way" : "";
}
