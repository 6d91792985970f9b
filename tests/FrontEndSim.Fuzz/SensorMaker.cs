using System.Text;

namespace FrontEndSim.Fuzz;

/// <summary>Sensors that measure something in a unit of its own, each by one of its laws, with what brings it to a node.</summary>
internal static class SensorMaker
{
    private static readonly string[] OpAmps = ["jfet-input", "bipolar-general", "precision-bipolar"];

    /// <summary>Writes a sensor and its first stage; its voltage stands at SENSE. Gives its terminal and its unit.</summary>
    /// <param name="text">What is written to.</param>
    /// <param name="random">What decides.</param>
    /// <param name="isDriven">Whether it drives its terminal; a resistance does not.</param>
    public static (string Terminal, string Unit) Make(StringBuilder text, Random random, out bool isDriven)
    {
        isDriven = true;
        string source = random.Next(3) == 0 ? "" : $"    source {Draw.Preferred(random, 0.1, 1e4, "ohm")}\n";
        int law = random.Next(18);
        if (law < 4)
            isDriven = false;
        switch (law)
        {
            case 0:
                Resistive(text, random, "temperature -20 C .. 90 C", FormattableString.Invariant(
                    $"    thermistor {Draw.Preferred(random, 1e3, 1e5, "ohm")} {random.Next(1, 6)}% at 25 C beta {random.Next(2500, 4800)} K 1%\n"));
                return ("SENSE", "C");
            case 1:
                Resistive(text, random, "temperature 0 C .. 300 C", FormattableString.Invariant(
                    $"    platinum {Draw.Of(random, "100 ohm", "500 ohm", "1 kohm")} class {Draw.Of(random, "AA", "A", "B", "C")}\n"));
                return ("SENSE", "C");
            case 2:
                Resistive(text, random, "temperature 0 C .. 100 C",
                    "    steinhart-hart a 1.129148e-3 b 2.34125e-4 c 8.76741e-8 0.2%\n");
                return ("SENSE", "C");
            case 3:
                Resistive(text, random, "level 0 mm .. 1000 mm",
                    $"    gives {Draw.Preferred(random, 1, 1e3, "ohm")} .. {Draw.Preferred(random, 2e3, 1e6, "ohm")}\n");
                return ("SENSE", "mm");
            case 4:
                text.Append(FormattableString.Invariant($"sensor probe of temperature -10 C .. {random.Next(100, 400)} C drives HOT against GND\n"));
                text.Append($"    thermocouple {Draw.Of(random, "K", "J", "T")}\n    cold-junction within 1 C\n{source}");
                Amplify(text, random, "HOT", "GND", "1 V", 80);
                return ("HOT", "C");
            case 5:
                text.Append("sensor probe of force 0 N .. 50 N drives PLUS against MINUS\n");
                text.Append(FormattableString.Invariant(
                    $"    bridge {Draw.Of(random, "120", "350", "1000")} ohm from VDD to GND gives {random.Next(1, 30) / 10.0} mV for 1 V\n"));
                Amplify(text, random, "PLUS", "MINUS", "0.5 V", 300);
                return ("PLUS", "N");
            case 6:
                text.Append($"sensor probe of light 0 lx .. 2000 lx drives LIGHT\n    gives 0 A .. -{Draw.Preferred(random, 1e-6, 1e-4, "A")}\n");
                text.Append($"    capacitance {Draw.Preferred(random, 1e-11, 1e-9, "F")}\n    sensitivity-error 5%\n");
                text.Append($"stage amp is transimpedance\n    from LIGHT to SENSE\n    reaches 2 V\n    opamp {Draw.Of(random, OpAmps)} on VP and VN\n");
                return ("LIGHT", "lx");
            case 7:
                text.Append("sensor probe of current -20 A .. 20 A drives SENSE against MID gives -5 mA .. 5 mA\n");
                text.Append($"resistor Rburden from SENSE to MID {Draw.Preferred(random, 50, 220, "ohm")}\nstage middle is mid-rail\n    from VDD to MID\n");
                text.Append(random.Next(2) == 0 ? "    reservoir 10u\n" : $"    reservoir 100n\n    opamp {Draw.Of(random, OpAmps)} on VP and VN\n");
                return ("SENSE", "A");
            case 8:
                text.Append("sensor probe of angle 0 deg .. 90 deg drives SENSE\n");
                text.Append($"    potentiometer {Draw.Preferred(random, 1e3, 1e5, "ohm")} from VDD to GND over 5% .. 95%\n{source}");
                return ("SENSE", "deg");
            case 9:
                text.Append($"sensor probe of pressure 0 bar .. 10 bar drives SENSE\n    gives 10% .. 90% of VDD\n    accuracy 0.1 bar plus 0.5%\n{source}");
                return ("SENSE", "bar");
            case 11:
                string charge = Draw.Preferred(random, 1e-12, 1e-9, "As"), hertz = Draw.Text(Draw.Decades(random, 10, 1e4), "Hz");
                text.Append($"sensor probe of force 0 N .. 50 N drives CRYSTAL\n    gives 0 pAs .. {charge}\n    alternates at {hertz} 1%{Draw.Of(random, "", " as peak")}\n");
                text.Append($"    capacitance {Draw.Preferred(random, 1e-11, 1e-9, "F")}\nstage amp is charge-amplifier\n    from CRYSTAL to SENSE\n    reaches 1 V for {charge}\n");
                text.Append($"    corner {Draw.Text(Draw.Decades(random, 0.1, 10), "Hz")}\n    opamp {Draw.Of(random, OpAmps)} on VP and VN\n");
                return ("CRYSTAL", "N");
            case 12:
                text.Append($"source VEX from OSC to GND {Draw.Of(random, "0 V", "1 V")} sine 1 V at {Draw.Text(Draw.Decades(random, 100, 1e5), "Hz")}\n");
                text.Append($"sensor probe of humidity 10% .. 90% from OSC to SENSE gives {random.Next(20, 200)} pF .. {random.Next(201, 500)} pF excited by VEX\n");
                text.Append($"resistor Rbias from SENSE to GND {Draw.Preferred(random, 1e5, 1e7, "ohm")}\ncapacitor Cref from SENSE to GND {Draw.Preferred(random, 1e-11, 1e-9, "F")}\n");
                isDriven = false;
                return ("SENSE", "%");
            case 13:
                text.Append("sensor probe of current 0 A .. 10 A drives SENSE against MID gives 0 mA .. 5 mA alternates at 50 Hz 1% as rms\n");
                text.Append($"resistor Rburden from SENSE to MID {Draw.Preferred(random, 50, 220, "ohm")}\nstage middle is mid-rail\n    from VDD to MID\n    reservoir 10u\n");
                return ("SENSE", "A");
            case 14:
                text.Append(FormattableString.Invariant($"sensor probe of pressure -1 bar .. 1 bar drives PLUS against MINUS\n    gives -{random.Next(5, 50)} mV .. 50 mV\n"));
                text.Append($"    common-mode {random.Next(0, 2)} V .. {random.Next(2, 4)} V\n{source}");
                Amplify(text, random, "PLUS", "MINUS", "1 V", 10);
                return ("PLUS", "bar");
            case 15:
                text.Append($"sensor probe of level 0 mm .. 3000 mm drives SENSE\n    gives 0.5 V .. 2.5 V\n{source}    hum {Draw.Preferred(random, 1e-3, 0.1, "V")} at 50 Hz 1%{Draw.Of(random, "", " through 20 pF")}\n");
                text.Append($"    return {Draw.Preferred(random, 0.1, 10, "ohm")} carries 0 mA .. {random.Next(1, 50)} mA\n    ground-offset {random.Next(1, 50)} mV\n");
                return ("SENSE", "mm");
            case 16:
                text.Append($"sensor probe of field -30 mT .. 30 mT drives SENSE\n    hall {random.Next(5, 60)} mV per mT at 5 V on VDD{Draw.Of(random, "", " rests at 50%")}\n{source}");
                return ("SENSE", "mT");
            case 10:
                text.Append("sensor probe of level 0 mm .. 3000 mm drives SENSE\n    at 0 mm gives 0.2 V\n    at 1000 mm gives 0.9 V\n");
                text.Append($"    at 3000 mm gives 2.3 V\n    accuracy 10 mm\n{source}");
                return ("SENSE", "mm");
            default:
                text.Append($"sensor probe of temperature 0 C .. 100 C drives SENSE\n    follows 100 mV + 20 mV * temperature\n{source}");
                return ("SENSE", "C");
        }
    }

    // A resistance is read by a divider, a constant current, or a resistor to the supply.
    private static void Resistive(StringBuilder text, Random random, string what, string law)
    {
        bool driven = random.Next(3) == 0;
        text.Append($"sensor probe of {what} from SENSE to {(driven ? "RETURN" : "GND")}\n{law}");
        if (what.StartsWith("temperature", StringComparison.Ordinal) && random.Next(3) == 0)
            text.Append($"    dissipation {Draw.Preferred(random, 1e-3, 1e-2, "W")}/K\n");
        text.Append(driven
            ? $"stage drive is sensor-current\n    through probe\n    current {Draw.Preferred(random, 1e-5, 1e-3, "A")}\n    offset from VDD\n"
                + $"    opamp {Draw.Of(random, OpAmps)} on VP and VN\n"
            : random.Next(2) == 0 ? $"stage divide is sensor-divider\n    reads probe from VDD\n    best {Draw.Of(random, "linearity", "resolution")}\n"
            : $"resistor Rpull from VDD to SENSE {Draw.Preferred(random, 100, 1e6, "ohm")} {Draw.Of(random, "0.1%", "1%")}\n");
    }

    private static void Amplify(StringBuilder text, Random random, string plus, string minus, string level, double gain) =>
        text.Append(FormattableString.Invariant($"stage amp is instrumentation-amplifier\n    from {plus} to SENSE\n    against {minus}\n"))
            .Append(FormattableString.Invariant($"    gain {gain * (0.5 + random.NextDouble()):G3}\n    level {level}\n    offset from VDD\n"))
            .Append($"    opamp {Draw.Of(random, OpAmps)} on VP and VN\n");
}
