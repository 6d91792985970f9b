using System.Text;

namespace FrontEndSim.Fuzz;

/// <summary>
/// Front ends as people build them: a sensor, a stage or two, perhaps parts drawn by hand, a guard, a pin, events and requirements. All
/// can be read; nearly all are to be solved.
/// </summary>
internal static class FrontEndMaker
{
    /// <summary>One front end.</summary>
    public static byte[] Make(Random random)
    {
        var text = new StringBuilder("circuit \"A made-up front end\"\n");
        double vdd = Draw.Of(random, "3.3", "5", "2.5") switch { "5" => 5, "2.5" => 2.5, _ => 3.3 }, vp = random.Next(5, 16);
        string supply = random.Next(3) switch
        {
            0 => "",
            1 => $" resistance {Draw.Preferred(random, 0.1, 30, "ohm")}",
            _ => $" source-only resistance {Draw.Preferred(random, 0.1, 3, "ohm")}"
        };
        text.Append(FormattableString.Invariant($"rail VDD {vdd} V tolerance {random.Next(1, 6)}%{supply}\nrail VP {vp} V{(random.Next(3) == 0 ? " resistance 1 ohm" : "")}\nrail VN -{vp} V\n"));
        if (random.Next(4) == 0)
            text.Append(FormattableString.Invariant($"temperature {random.Next(-40, 125)} C\n"));
        int what = random.Next(6);
        string terminal = "IN", unit = "", node;
        bool isDriven = true;
        if (what == 0)
        {
            node = LogicMaker.Make(text, random, out isDriven);
        }
        else if (what <= 2)
        {
            (terminal, unit) = SensorMaker.Make(text, random, out isDriven);
            node = "SENSE";
        }
        else
        {
            node = Voltage(text, random, vdd);
        }
        for (int i = what == 0 ? 0 : random.Next(3); i > 0; i--)
            node = random.Next(3) == 0 ? Filter(text, random, node, i) : ByHand(text, random, node, i);
        Guard(text, random, node);
        if (random.Next(3) == 0)
            text.Append($"resistor Rload from VDD to GND {Draw.Preferred(random, 47, 1e5, "ohm")}\n");
        if (what > 2 && random.Next(2) == 0)
            Beside(text, random, node, vdd);
        text.Append(BesideMaker.Make(random, terminal, node));
        bool counts = text.ToString().Contains(" Hz\n    contact", StringComparison.Ordinal)
            || text.ToString().Contains("    pulses ", StringComparison.Ordinal);
        if (what == 0)
            LogicMaker.Pin(text, random, vdd, counts);
        else
            Converter(text, random, unit, text.ToString());
        if (what > 2 && random.Next(4) == 0)
            text.Append($"pin other at IN\n    converts 12 bits over 0 V .. VDD\n    samples 14 pF through 1k5 for 3 us\n    "
                + $"{Draw.Of(random, "input-resistance 100k", "switched-input 1 pF at 250 kHz", "capacitance 10 pF")}\nscan turns reads "
                + $"adc, other{Draw.Of(random, "", " every 20 us", " discards 1", " every 20 us discards 1")}\n");
        for (int i = random.Next(4); i > 0; i--)
            text.Append($"event \"event {i}\" {EventMaker.Make(random, terminal, node, isDriven)}\n");
        text.Append($"event \"24 V\" at {terminal} step to 24 V source 1 ohm at 1 ms for 3 ms\n");
        text.Append($"require "
            + $"{(what == 0 ? "input" : "adc")} inside rating {(random.Next(12) == 0 ? "with any single fault" : "in every event")}\n");
        return Seeds.Bytes(text.ToString());
    }

    private static string Voltage(StringBuilder text, Random random, double vdd)
    {
        bool bipolar = random.Next(3) == 0;
        double high = bipolar ? 1.5 : vdd, low = bipolar ? -1.5 : 0;
        string source = random.Next(6) == 0 ? "" : $" source {Draw.Preferred(random, 1, 1e6, "ohm")}";
        text.Append(FormattableString.Invariant($"sensor probe drives IN span {low} V .. {high} V{source}\n"));
        return bipolar || random.Next(3) == 0 ? Shift(text, random, vdd) : "IN";
    }

    private static void Converter(StringBuilder text, Random random, string unit, string before)
    {
        text.Append($"pin adc at PIN\n    "
            + $"{Draw.Of(random, "type converter-3v3 on VDD", "rated -0.3 V .. VDD + 0.3 V\n    injection 2 mA", "rated -0.5 V .. 5.5 V\n    unclamped")}\n");
        text.Append("    converts 12 bits over 0 V .. VDD\n    samples 14 pF through 1k5 for 3 us\n");
        if (random.Next(3) == 0)
            text.Append($"    averages {random.Next(2, 65)} samples at {Draw.Text(Draw.Decades(random, 100, 1e5), "Hz")}\n");
        if (before.Contains("alternates at", StringComparison.Ordinal) || before.Contains("excited by", StringComparison.Ordinal))
        {
            text.Append($"reading amount from adc as "
                + $"{Draw.Of(random, "rms", "mean", "peak", "average")} of {random.Next(3, 41)} samples a "
                + $"period{Draw.Of(random, "", " over 5 periods")}\n");
            text.Append($"require amount reading error under 5 {unit}\n");
            return;
        }
        text.Append(unit == "" ? "require adc mapping error under 20 counts\n" : $"require adc reading error under 5 {unit}\n");
    }

    /// <summary>Something of its own beside the way from the probe to the pin: each kind of stage that is not drawn on that way.</summary>
    private static void Beside(StringBuilder text, Random random, string node, double vdd)
    {
        string amp = $"    opamp {Draw.Of(random, "rail-to-rail-cmos", "zero-drift-cmos")} on VDD and GND\n";
        text.Append(random.Next(14) switch
        {
            11 => $"sensor knock drives CRYSTAL span -1 V .. 1 V\ncapacitor CKN from CRYSTAL to CHARGED 470 pF\nstage knocked is "
                + $"charge-amplifier\n    from CHARGED to KNOCKED\n    reaches 1 V for 0.5 nAs\n    corner "
                + $"{Draw.Text(Draw.Decades(random, 1, 100), "Hz")}\n    opamp jfet-input on VP and VN\n",
            12 => FormattableString.Invariant($"stage apart is bridge-amplifier\n    from {node} to BRIDGED\n    against GND\n    gain {random.Next(1, 400)}\n    in-amp precision-in-amp on VP and VN\n"),
            0 => $"sensor bath of temperature 5 C .. 95 C from TH to GND thermistor 10 kohm at 25 C beta 3977 K\nstage split is "
                + $"sensor-divider\n    reads bath from VDD\n    best {Draw.Of(random, "linearity", "resolution")}\n",
            1 => $"sensor kiln of temperature 0 C .. 400 C from DR to RE platinum 1 kohm\nstage drive is sensor-current\n    through "
                + $"kiln\n    current {Draw.Text(Draw.Decades(random, 1e-4, 5e-4), "A")}\n    offset from VDD\n{amp}",
            2 => FormattableString.Invariant($"sensor sky of light 0 lx .. 2000 lx drives PD gives 0 A .. -20 uA capacitance {random.Next(10, 300)} pF\nstage light is transimpedance\n    from PD to LUX\n    reaches {0.8 * vdd:G3} V\n{amp}"),
            3 => $"stage middle is mid-rail\n    from VDD to MID\n    reservoir "
                + $"10u\n{Draw.Of(random, "", amp)}resistor RMID from MID to GND {Draw.Preferred(random, 1e3, 1e5, "ohm")}\n",
            4 => $"stage hold is supply-clamp\n    on VDD\n    zener {Draw.Of(random, "5V1", "5V6", "6V2")}\n    takes 5 mA\n    load 1k\n",
            5 => $"stage safe is reverse-protection\n    from VP to SAFE\n    diode "
                + $"{Draw.Of(random, "1N5819", "1N4007")}\n    load 200 mA\nresistor RSAFE from SAFE to GND "
                + $"{Draw.Preferred(random, 100, 1e4, "ohm")}\n",
            6 => "sensor near of distance 0 mm .. 10 mm from NEAR to GND gives 100 ohm .. 3.3 Mohm\nstage contact is "
                + "open-collector-input\n    from NEAR to FELT\n    rail VDD\n    wets 2 mA\n    shunt 100n\n",
            7 => FormattableString.Invariant($"stage trip is hysteresis-comparator\n    from {node} to TOLD\n    comparator open-collector on VP and GND\n    upper {0.6 * vdd:G3} V\n    lower {0.5 * vdd:G3} V\n    offset from VDD\n    high VDD\n"),
            8 => "sensor order drives LOOPED span 1 V .. 5 V\nstage loop is loop-receiver\n    from LOOPED to METERED\n    terminal "
                + "LOOPEND\n    supply VP\n    maps order onto 0.4 V .. 2 V\n    series 10k\n",
            9 => $"stage read is logic-input\n    from "
                + $"{node} to GATED\n    gate {Draw.Of(random, "cmos-hc-hysteresis", "cmos-4000-hysteresis")} on VDD\n",
            10 => $"stage share is divider\n    from "
                + $"{node} to SHARED\n    ratio 0.3\nstage stiff is buffer\n    from SHARED to STIFFENED\n    opamp jfet-input on VP "
                + $"and VN\n",
            _ => $"stage calm is rc-filter\n    from "
                + $"{node} to CALMED\n    resistor 1k\n    corner {Draw.Text(Draw.Decades(random, 10, 1e5), "Hz")}\n    poles "
                + $"{random.Next(1, 3)}\n",
        });
    }

    private static string Shift(StringBuilder text, Random random, double vdd)
    {
        string kind = Draw.Of(random, "two-stage-shifter", "single-stage-shifter", "difference-stage", "passive-shifter",
            "passive-shifter");
        // Resistors only lose voltage.
        var (low, high) = kind == "passive-shifter" ? (0.3 * vdd, 0.6 * vdd) : (0.1, vdd - 0.2);
        text.Append(FormattableString.Invariant($"stage shift is {kind}\n    from IN to LEVEL\n    maps probe onto {low:G4} V .. {high:G4} V\n    offset from VDD\n"));
        if (kind == "difference-stage")
            text.Append("    against GND\n");
        if (kind != "passive-shifter")
            text.Append($"    opamp {Draw.Of(random, "jfet-input", "bipolar-general", "precision-bipolar")} on VP and VN\n");
        if (random.Next(3) == 0)
            text.Append($"    resistors {Draw.Of(random, "E12", "E24", "E96")} {Draw.Of(random, "1%", "5%", "0.1%")}\n");
        return "LEVEL";
    }

    private static string Filter(StringBuilder text, Random random, string node, int i)
    {
        string kind = Draw.Of(random, "sallen-key", "multiple-feedback", "sallen-key", "multiple-feedback", "instrumentation-amplifier",
            "precision-rectifier", "peak-hold",
            "transistor-switch", "rc-filter", "buffer", "divider", "reverse-protection", "hysteresis-comparator"), next = "F" + i;
        string opAmp = $"    opamp {Draw.Of(random, "jfet-input", "bipolar-general", "precision-bipolar")} on VP and VN\n";
        string? other = kind switch
        {
            "instrumentation-amplifier" => FormattableString.Invariant($"    against {Draw.Of(random, "GND", "VDD")}\n    gain {random.Next(1, 400) / 4.0}\n    level 1 V\n    offset from VDD\n{opAmp}"),
            "precision-rectifier" => $"    wave {Draw.Of(random, "full", "half")}\n{opAmp}",
            "peak-hold" => $"    hold {Draw.Preferred(random, 1e-9, 1e-7, "F")}\n    decay 10 ms\n{opAmp}",
            "transistor-switch" =>
                $"    transistor {Draw.Of(random, "2N3904", "2N2222A", "2N7000", "2N7002")}\n    rail VDD\n    high 2 V\n    low 0.2 V\n",
            "rc-filter" =>
                $"    resistor {Draw.Preferred(random, 100, 1e6, "ohm")}\n    corner {Draw.Text(Draw.Decades(random, 1, 1e5), "Hz")}\n  "
                    + $"  poles {Draw.Of(random, "1", "2")}\n",
            "buffer" => $"    series 1k\n    pulldown 1M\n{opAmp}",
            "divider" => FormattableString.Invariant($"    ratio 0.{random.Next(1, 10)}\n    impedance {Draw.Preferred(random, 1e3, 1e5, "ohm")}\n"),
            "reverse-protection" => $"    diode {Draw.Of(random, "1N5819", "1N4007")}\n    load 20 mA\n",
            "hysteresis-comparator" =>
                "    comparator push-pull-cmos on VDD and GND\n    upper 1.5 V\n    lower 1 V\n    offset from VDD\n",
            _ => null,
        };
        if (other is not null)
        {
            text.Append($"stage filter{i} is {kind}\n    from {node} to {next}\n{other}");
            return next;
        }
        text.Append($"stage filter{i} is {kind}\n    from {node} to {next}\n    response "
            + $"{Draw.Of(random, "butterworth", "bessel", "chebyshev")}\n");
        text.Append($"    corner {Draw.Text(Draw.Decades(random, 10, 5e4), "Hz")}\n{opAmp}");
        if (kind == "multiple-feedback")
            text.Append(FormattableString.Invariant($"    gain {random.Next(1, 21) / 4.0}\n    about {Draw.Of(random, "GND", "VDD")}\n"));
        if (random.Next(3) == 0)
            text.Append($"    resistors "
                + $"{Draw.Of(random, "E24", "E96")} {Draw.Of(random, "1%", "5%", "0.1%")}\n    capacitors "
                + $"{Draw.Of(random, "E6", "E12", "E24")} 5%\n");
        return next;
    }

    private static string ByHand(StringBuilder text, Random random, string node, int i)
    {
        string next = "N" + i;
        switch (random.Next(10))
        {
            case 0:
                text.Append($"opamp U{i} {Draw.Of(random, "jfet-input", "bipolar-general")} plus {node} minus {next} output {next} on "
                    + $"VP and VN\n");
                break;
            case 1:
                text.Append($"resistor "
                    + $"RA{i} from {node} to S{i} {Draw.Preferred(random, 1e3, 1e6, "ohm")}\nresistor RB{i} from S{i} to {next} "
                    + $"{Draw.Preferred(random, 1e3, 1e6, "ohm")}\n");
                text.Append($"opamp U{i} jfet-input plus GND minus S{i} output {next} on VP and VN\n");
                break;
            case 2:
                text.Append($"resistor "
                    + $"RA{i} from {node} to {next} {Draw.Preferred(random, 10, 1e6, "ohm")}\nzener ZA{i} from M{i} to {next} "
                    + $"{Draw.Of(random, "3V6", "5V1", "6V8", "12V")}\nzener ZB{i} from M{i} to GND 5V1\n");
                break;
            case 3:
                text.Append($"inductor "
                    + $"L{i} from {node} to {next} {Draw.Preferred(random, 1e-6, 0.1, "H")}\ncapacitor C{i} from {next} to GND "
                    + $"{Draw.Preferred(random, 1e-11, 1e-5, "F")}\n");
                break;
            case 4:
                text.Append($"resistor "
                    + $"RA{i} from {node} to {next} {Draw.Preferred(random, 10, 1e6, "ohm")}\ndiode D{i} from {next} to "
                    + $"{Draw.Of(random, "VDD", "VP", "GND")} {Draw.Of(random, "1N4148", "1N4007")}\n");
                break;
            case 5:
                text.Append($"resistor RQ{i} from {node} to B{i} {Draw.Preferred(random, 100, 1e6, "ohm")}\n");
                text.Append(random.Next(3) == 0
                    ? $"transistor Q{i} 2N3906 collector {next} base B{i} emitter VDD\nresistor RL{i} from {next} to GND "
                        + $"{Draw.Preferred(random, 10, 1e5, "ohm")}\n"
                    : $"transistor Q{i} {Draw.Of(random, "2N3904", "2N2222A")} collector {next} base B{i} emitter GND\nresistor RL{i} "
                        + $"from VDD to {next} {Draw.Preferred(random, 10, 1e5, "ohm")}\n");
                break;
            case 6:
                text.Append($"resistor "
                    + $"RG{i} from {node} to G{i} {Draw.Preferred(random, 10, 1e5, "ohm")}\nresistor RS{i} from G{i} to GND "
                    + $"{Draw.Preferred(random, 1e4, 1e6, "ohm")}\n");
                text.Append($"transistor "
                    + $"Q{i} {Draw.Of(random, "2N7000", "2N7002")} drain {next} gate G{i} source GND\nresistor RL{i} from VDD to {next} "
                    + $"{Draw.Preferred(random, 10, 1e5, "ohm")}\n");
                break;
            case 7:
                text.Append($"resistor "
                    + $"RA{i} from VDD to T{i} {Draw.Preferred(random, 1e3, 1e5, "ohm")}\nresistor RB{i} from T{i} to GND "
                    + $"{Draw.Preferred(random, 1e3, 1e5, "ohm")}\n");
                text.Append($"comparator "
                    + $"U{i} {Draw.Of(random, "open-collector", "quick-open-collector", "push-pull-cmos")} "
                    + $"{Draw.Of(random, $"plus {node} minus T{i}", $"plus T{i} minus {node}")} output {next} on VDD and GND\n");
                text.Append($"resistor RL{i} from VDD to {next} {Draw.Preferred(random, 1e3, 1e5, "ohm")}\n");
                if (random.Next(2) == 0)
                    text.Append($"resistor RH{i} from {next} to T{i} {Draw.Preferred(random, 1e4, 1e7, "ohm")}\n");
                break;
            case 8:
                text.Append($"resistor "
                    + $"RA{i} from {node} to {next} {Draw.Preferred(random, 10, 1e6, "ohm")}\nresistor RB{i} from {next} to "
                    + $"{Draw.Of(random, "GND", "VDD", "VN")} {Draw.Preferred(random, 1e3, 1e7, "ohm")}\n");
                break;
            default:
                text.Append($"potentiometer "
                    + $"P{i} from {node} to GND wiper {next} {Draw.Preferred(random, 1e3, 1e6, "ohm")} at {random.Next(0, 101)}%\n");
                break;
        }
        return next;
    }

    private static void Guard(StringBuilder text, Random random, string node)
    {
        string series = Draw.Preferred(random, 10, 1e6, "ohm");
        switch (random.Next(4))
        {
            case 0:
                text.Append($"stage guard is pin-guard\n    from "
                    + $"{node} to PIN\n    series {series}\n    shunt {Draw.Preferred(random, 1e-10, 1e-5, "F")}\n    schottky 1N5711\n "
                    + $"   schottky-high 1N5711 to VDD\n");
                break;
            case 1:
                text.Append($"stage guard is rail-clamp-guard\n    from "
                    + $"{node} to PIN\n    series {series}\n    diodes {Draw.Of(random, "1N5711", "1N5819")} to VDD\n");
                break;
            case 2:
                text.Append($"stage guard is pin-guard\n    from "
                    + $"{node} to PIN\n    series {series}\n    zener {Draw.Of(random, "3V6", "5V1")}\n    pulldown 1M\n");
                break;
            default:
                text.Append($"resistor Rseries from "
                    + $"{node} to PIN {series}\ncapacitor Cshunt from PIN to GND {Draw.Preferred(random, 1e-12, 1e-5, "F")}\n");
                break;
        }
    }
}
