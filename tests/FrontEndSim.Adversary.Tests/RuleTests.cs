using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.Reporting.Words;
using static FrontEndSim.Adversary.Tests.Rule;

namespace FrontEndSim.Adversary.Tests;

/// <summary>The rules that circuits of this corpus found missing: by how much each is broken, against closed forms by hand.</summary>
public class RuleTests
{
    private const string Converter = "\npin adc at PIN\n    type converter-3v3 on VDD\n    converts 12 bits over 0 V .. VDD\n";

    [Theory]
    [InlineData(25)]
    [InlineData(65)]
    public void What_electrolytes_leak_shares_the_voltage_of_capacitors_in_series(double celsius)
    {
        // 0.01·C·V of 100 µF and 35 V is 35 µA, 1 Mohm, and twice that for each 20 K (IEC 60384-4); the balance is 10 Mohm.
        double leak = 1e6 / Math.Pow(2, (celsius - 25) / 20), lower = 10e6, upper = 1 / (1 / 10e6 + 1 / leak);
        var found = Of<PartsInsideRating>(Check($"""
            temperature {celsius} C
            rail V60 60 V tolerance 0%
            capacitor C1 from V60 to M 100 uF dielectric electrolytic rated 35 V
            capacitor C2 from M to GND 100 uF dielectric electrolytic rated 35 V
            resistor R1 from V60 to M 10M 0%
            resistor R2 from M to GND 10M 0%
            """));
        Assert.False(found.Met);
        Assert.Equal(60 * lower / (lower + upper) / 35, Assert.IsType<PartsReason>(found.Reason).Part.Share, 1e-3);
    }

    [Theory]
    [InlineData(3.3e-9, 1e5)]
    [InlineData(3.3e-9, 1e7)]
    [InlineData(1e-9, 1e6)]
    public void Hum_through_a_capacitance_drives_a_clamp_by_its_current(double farads, double ohms)
    {
        // The clamp holds the line: i = √2·V·2πf·C, less what the source takes at a diode's voltage.
        double crest = Math.Sqrt(2) * 230 * 2 * Math.PI * 50 * farads;
        var found = Of<InsideRating>(Check($"""
            rail VDD 3.3 V tolerance 0% sinks
            sensor probe drives IN span 0 V .. 3 V source {ohms} ohm hum 230 V at 50 Hz through {farads * 1e12} pF
            resistor R1 from IN to PIN 1k 1%
            {Converter}    injection 50 uA
            """));
        Assert.False(found.Met);
        var pin = Assert.IsType<PinReason>(found.Reason).Exposure;
        Assert.InRange(pin.InjectionAmps, 0.995 * (crest - 4 / ohms), 1.001 * crest + 4 / ohms);
    }

    [Fact]
    public void Hum_rides_on_both_levels_of_a_logic_pin()
    {
        CheckResult With(string hum) => Check($"""
            rail VCC 5 V tolerance 0%
            sensor out drives IN span 0 V .. 5 V source 100 ohm 0% {hum}
            resistor R1 from IN to PIN 1k 0%
            pin level at PIN type cmos-hc-hysteresis on VCC
            """);
        double without = Of<NoiseMargin>(With("")).Found!.Value.Value, with = Of<NoiseMargin>(With("hum 0.2 V at 50 Hz")).Found!.Value.Value;
        Assert.Equal(Math.Sqrt(2) * 0.2, without - with, 1e-3);
        Assert.False(Of<NoiseMargin>(With("hum 1 V at 50 Hz")).Met);
    }

    [Fact]
    public void A_level_that_a_weak_transistor_does_not_reach_is_not_guaranteed()
    {
        // A 2N7000 may have a threshold of 3 V (registered from 0.8 V to 3 V): at 2.9 V it is off, and the output stands at its supply.
        var found = Of<NoiseMargin>(Check("""
            rail VCC 5 V tolerance 0%
            sensor cmd drives IN span 0 V .. 2.9 V source 100 ohm
            transistor Q1 2N7000 drain PIN gate IN source GND
            resistor R1 from VCC to PIN 10 ohm 1%
            pin level at PIN type cmos-hc-hysteresis on VCC
            """));
        Assert.False(found.Met);
    }

    [Fact]
    public void A_contact_that_closes_on_a_capacitor_carries_its_charge()
    {
        // 10 µF at 5 V through 0.1 ohm: over the first microsecond, one time constant, V/R·(1 − 1/e) in the mean.
        var found = Of<ContactWetted>(Check("""
            rail VCC 5 V tolerance 0%
            sensor door from D to GND contact 100 mohm wets 0.1 mA .. 100 mA
            resistor R1 from VCC to D 4k7 1%
            capacitor C1 from D to GND 10 uF 10% rated 16 V
            pin level at D type cmos-hc-hysteresis on VCC
            """));
        Assert.False(found.Met);
        Assert.Equal(50 * (1 - Math.Exp(-1)), found.Found!.Value.Value, 0.5);
    }

    [Fact]
    public void A_contact_beside_a_reading_moves_it()
    {
        // 12 V over 12 ohm and 0.1 ohm lift the probe's ground by 99 mV.
        string text = $"""
            rail V12 12 V tolerance 0%
            rail VDD 3.3 V tolerance 0%
            switch K1 from V12 to H open carries 2 A stands 30 V
            resistor RH from H to SG 12 ohm 0% rated 20 W
            resistor RG from SG to GND 0.1 ohm 0% rated 1 W
            sensor probe drives IN against SG span 0.2 V .. 3 V source 10 ohm
            resistor R1 from IN to PIN 1k 0%
            pin adc at PIN
                converts 12 bits over 0 V .. VDD
                maps probe onto 0.2 V .. 3 V
            require adc mapping error under 20 counts on every board
            """;
        var found = Check(text).Requirements.Single();
        Assert.False(found.Met);
        Assert.Equal(12 * 0.1 / 12.1 / 3.3 * 4096, found.Found!.Value.Value, 2.0);
        // One that chooses a range is no disturbance: with it the pin follows by another slope.
        Assert.True(Check(text.Replace("switch K1 from V12 to H open", "switch K1 from PIN to H open")).Requirements.Single().Met);
    }

    [Fact]
    public void Parts_have_an_end_in_the_cold()
    {
        string text = """
            temperature -50 C
            rail VDD 5 V tolerance 0%
            resistor R1 from VDD to PIN 10k 1%
            resistor R2 from PIN to GND 10k 1%
            """;
        Assert.True(Of<TemperaturesInRange>(Check(text)).Met);
        var cold = Of<TemperaturesInRange>(Check(text + "\ncapacitor C1 from VDD to GND 10 uF dielectric electrolytic rated 16 V"));
        Assert.False(cold.Met);
        Assert.Equal(-10, cold.Margin!.Value.Value, 1e-9);
    }

    [Fact]
    public void An_optocoupler_is_read_with_half_of_its_least_ratio()
    {
        // 5 V − 1.2 V over 330 ohm are 11.4 mA: 20 % of it pull 2.3 mA, half of that 1.15 mA.
        bool Holds(string ohms) => Of<NoiseMargin>(Check($"""
            rail VDD 5 V tolerance 0%
            sensor cmd drives IN span 0 V .. 5 V
            resistor R1 from IN to A 330 ohm 0%
            optocoupler U1 4N25 anode A cathode GND collector PIN emitter GND
            resistor R2 from VDD to PIN {ohms} 0%
            pin level at PIN type cmos-hc-hysteresis on VDD
            """)).Met;
        Assert.True(Holds("4k7"));
        Assert.False(Holds("3k3"));
    }

    [Fact]
    public void An_optocoupler_in_the_dark_carries_what_its_sheet_allows_and_doubles_each_ten_kelvin()
    {
        // 50 nA at 10 V and 25 °C (4N25): at most 2^6 of that at 85 °C, of which its own voltage takes its share.
        var found = Of<NoiseMargin>(Check("""
            temperature 85 C
            rail VDD 10 V tolerance 0%
            sensor cmd drives IN span 0 V .. 5 V
            resistor R1 from IN to A 330 ohm 0%
            optocoupler U1 4N25 anode A cathode GND collector PIN emitter GND
            resistor R2 from VDD to PIN 100k 0% drift 0 ppm/K
            pin level at PIN
                type cmos-4000 on VDD
                leakage 0 nA
            """));
        double dark = 50e-9 * Math.Pow(2, 6), volts = 10 / (1 + dark * 100e3 / 10);
        Assert.Equal(volts - 7, found.Found!.Value.Value, 0.1);
    }

    [Fact]
    public void Ripple_on_a_voltage_that_a_converter_reads_is_in_its_reading()
    {
        var found = Check("""
            rail VDD 3.3 V tolerance 0%
            sensor probe drives PIN span 0.5 V .. 3 V edge 20 ms ripple 0.2 V at 1 kHz
            resistor R1 from PIN to GND 1M 0%
            pin adc at PIN
                unclamped
                converts 12 bits over 0 V .. VDD
                maps probe onto 0.5 V .. 3 V
            require adc mapping error under 20 counts on every board
            """).Requirements.Single();
        Assert.Equal(0.1 / 3.3 * 4096 + 0.5, found.Found!.Value.Value, 0.1);
    }

    [Fact]
    public void Insulation_stands_what_its_makers_say()
    {
        var found = Of<PartsInsideRating>(Check("""
            rail VDD 5 V tolerance 0%
            sensor line drives P span 0 V .. 1 V source 50 ohm
            transformer T1 first P to GND second S to Q 1 H and 1 H resistance 10 ohm and 10 ohm stands 1.5 kV
            resistor R1 from Q to GND 10M 1% size melf-0207 rated 1 W
            accept R1 beyond voltage because "stands for the insulation of the supplies"
            event "between grounds" at Q step to 2 kV source 1 ohm
            """));
        var load = Assert.IsType<PartsReason>(found.Reason).Beyond.Single(b => b.Part.Part == "T1").Part;
        Assert.Equal(2.0 / 1.5, load.Share, 2e-3);
    }

    [Fact]
    public void A_sensors_own_source_resistance_strays_by_a_fifth_unless_it_is_written()
    {
        // 10 kohm into 90 kohm: 3 V·0.9, and 90/(90 + 12) of 3 V with a fifth more.
        double Found(string tolerance) => Check($"""
            rail VDD 3.3 V tolerance 0%
            sensor probe drives PIN span 0 V .. 3 V source 10 kohm {tolerance}
            resistor R1 from PIN to GND 90 kohm 0% drift 0 ppm/K
            pin adc at PIN
                unclamped
                converts 12 bits over 0 V .. VDD
                maps probe onto 0 V .. 2.7 V
            require adc mapping error under 1 counts on every board
            """).Requirements.Single().Found!.Value.Value;
        double Counts(double share) => 3 * Math.Abs(90 / (90 + 10 * (1 - share)) - 0.9) / 3.3 * 4096;
        Assert.Equal(Counts(0.2) + 0.5, Found(""), 0.3);
        Assert.Equal(Counts(0.01) + 0.5, Found("1%"), 0.3);
    }

    [Fact]
    public void A_capacitor_of_any_kind_leaks()
    {
        // 1 µF of class 2: 100 s over it are 100 Mohm (IEC 60384-22). Behind 10 Mohm 1/11 of 2 V is lost.
        var found = Check("""
            rail VDD 3.3 V tolerance 0%
            sensor probe drives IN span 0 V .. 2 V
            resistor R1 from IN to PIN 10 Mohm 0% drift 0 ppm/K
            capacitor C1 from PIN to GND 1 uF 10%
            pin adc at PIN
                unclamped
                converts 12 bits over 0 V .. VDD
                maps probe onto 0 V .. 2 V
            require adc mapping error under 1 counts on every board
            """).Requirements.Single();
        Assert.Equal(2.0 / 11 / 3.3 * 4096 + 0.5, found.Found!.Value.Value, 1.0);
    }

    [Fact]
    public void What_a_supply_or_a_sensor_carries_at_rest_beyond_what_is_usual_is_said()
    {
        // 5 V over 10 ohm and 100 ohm at 0 °C: 45 mA in a platinum resistor.
        var scope = Check($"""
            rail VDD 5 V tolerance 0%
            sensor kiln of temperature 0 C .. 100 C from PIN to GND platinum 100 ohm class A
            resistor R1 from VDD to PIN 10 ohm 0% rated 0.5 W
            pin adc at PIN converts 12 bits over 0 V .. VDD
            """).Scope!;
        Assert.Equal(("kiln", (string?)null), (scope.Driven!.Sensor, scope.Driven.Event));
        Assert.Equal(5 / 110.0, scope.Driven.Amps, 1e-4);
    }

    [Fact]
    public void The_op_amp_of_a_peak_hold_stands_at_its_limit_between_peaks()
    {
        var check = Check("""
            rail VP 9 V tolerance 2%
            rail VN -9 V tolerance 2%
            rail VDD 5 V tolerance 1% load 5 mA
            sensor knock of knock 0 V .. 2 V drives IN gives 0 V .. 2 V alternates at 1 kHz as peak source 50 ohm hum 5 mV at 50 Hz
            stage top is peak-hold
                from IN to HELD
                hold 100n
                decay 100 ms
                opamp jfet-input on VP and VN
            resistor R1 from HELD to PIN 10k 1%
            pin adc at PIN
                type converter-5v on VDD
                converts 12 bits over 0 V .. VDD
            reading loud from adc as average of 20 samples a period over 10 periods
            require loud reading error under 0.3 V
            """);
        Assert.True(Of<OpAmpsInRange>(check).Met);
        Assert.True(check.Requirements.Single().Met);
    }

    [Theory]
    [InlineData(0.1, false)]
    [InlineData(0.05, false)]
    [InlineData(0.005, true)]
    public void The_inputs_of_a_comparator_without_hysteresis_part_by_their_slope_over_five_delays(double seconds, bool clean)
    {
        // 3 V in that time, and 1.4 µs of the LM393 class.
        double parted = 3 / seconds * 5 * 1.4e-6;
        var found = Of<CleanEdges>(Check($"""
            rail VCC 5 V tolerance 0%
            sensor level drives IN span 0 V .. 3 V source 1 kohm edge {seconds * 1e3} ms
            resistor R1 from VCC to REF 10k 0%
            resistor R2 from REF to GND 4k7 0%
            comparator U1 open-collector plus IN minus REF output OUT on VCC and GND
            resistor R3 from VCC to OUT 4k7 0%
            pin full at OUT type cmos-hc-hysteresis on VCC
            """));
        Assert.Equal(clean, found.Met);
        if (!clean)
            Assert.Equal(parted, Assert.IsType<CleanEdgesReason>(found.Reason).Edge.Undecided!.Volts, 0.02 * parted);
    }

    [Theory]
    [InlineData(25, 100)]
    [InlineData(85, 88)]
    public void A_fuse_carries_two_thousandths_less_a_kelvin(double celsius, double milliamps)
    {
        // 94 mA of 12 V in 128 ohm in all, against 100 mA less 0.2 % for each kelvin above 25 °C.
        var found = Of<PartsInsideRating>(Check($"""
            temperature {celsius} C
            rail V12 12 V tolerance 0%
            fuse F1 from V12 to A 100 mA resistance 1 ohm
            resistor R1 from A to GND 127 ohm 0% rated 5 W
            """));
        Assert.Equal(12.0 / 128 / (milliamps / 1e3), Assert.IsType<PartsReason>(found.Reason).Part.Share, 1e-3);
        Assert.Equal(celsius < 80, found.Met);
    }

    [Theory]
    [InlineData("analog-switch K1 cmos-4000-analog-switch from A to GND on V and GND closed", 4.4, 4.6)]
    [InlineData("comparator K1 quick-open-collector plus A minus GND output O on V and GND", 4.9, 5.1)]
    [InlineData("in-amp K1 precision-in-amp plus A minus GND output O reference GND on V and GND", 4.5, 4.7)]
    public void A_part_works_from_the_least_supply_of_its_class(string part, double under, double over)
    {
        SupplyReason Reason(double volts) => Assert.IsType<SupplyReason>(Of<SuppliesInRange>(Check($"""
            rail V {volts} V tolerance 0%
            resistor R1 from V to A 10k
            resistor R2 from A to GND 10k
            resistor R3 from V to O 10k
            resistor R4 from O to GND 10M
            {part}
            """)).Reason);
        Assert.True(Reason(under) is { IsLower: true, MarginVolts: < 0 });
        Assert.True(Reason(over).MarginVolts > 0);
    }

    [Fact]
    public void A_reference_stands_no_more_than_three_tenths_of_a_volt_above_its_converters_supply()
    {
        RequirementResult With(double volts) => Of<SuppliesInRange>(Check($"""
            rail VDD 3.3 V tolerance 0%
            rail VREF {volts} V tolerance 0%
            sensor probe drives IN span 0 V .. 2 V source 100 ohm
            pin adc at IN type converter-3v3 on VDD converts 12 bits over 0 V .. VREF
            """));
        Assert.True(With(3.5).Met);
        Assert.Equal(-0.1, With(3.7).Margin!.Value.Value, 1e-3);
    }

    [Fact]
    public void A_contact_that_opens_a_coil_has_the_voltage_of_what_is_left_across_it()
    {
        // 0.2 A go on through 2 kohm: 400 V and the supply, against 250 V of small contacts.
        var found = Of<PartsInsideRating>(Check("""
            rail V12 12 V tolerance 0%
            switch K1 from V12 to COIL opens at 2 ms
            inductor L1 from COIL to GND 100 mH resistance 60 ohm carries 1 A
            resistor R1 from COIL to GND 2k 0% size chip-2512 rated 1 W
            """));
        Assert.False(found.Met);
        var part = Assert.IsType<PartsReason>(found.Reason).Beyond.Single(p => p.Part.Part == "K1").Part;
        Assert.Equal((12 + 0.2 * 2000) / 250, part.Share, 0.02);
    }

    [Fact]
    public void An_amplitude_behind_a_slow_amplifier_is_off_by_what_its_bandwidth_strays()
    {
        // |H| = G/√(1 + (G·f/B)²) at G = 101, f = 10 kHz: B of 0.7 MHz in place of 1 MHz leaves 0.8 of it.
        double At(double hertz) => 1 / Math.Sqrt(1 + Math.Pow(101 * 10e3 / hertz, 2));
        double off = 1 - At(0.7e6) / At(1e6);
        var found = Check("""
            rail VDD 3.3 V tolerance 0% sinks
            rail VMID 1.65 V tolerance 0% sinks
            part SLOW is opamp
                like rail-to-rail-cmos
                bandwidth 1 MHz
            sensor mic of sound 0 Pa .. 1 Pa drives IN against VMID gives 0 V .. 10 mV alternates at 10 kHz as peak source 1 ohm
            resistor R0 from IN to VMID 1M 0%
            opamp U1 SLOW plus IN minus M output O on VDD and GND
            resistor R3 from O to M 100k 0%
            resistor R4 from M to VMID 1k 0%
            pin adc at O converts 16 bits over 0 V .. VDD
            reading sound from adc as peak of 100 samples a period over 10 periods
            require sound reading error under 0.1 Pa
            """).Requirements.Single();
        Assert.False(found.Met);
        Assert.InRange(found.Found!.Value.Value, 0.99 * off, off + 0.02);
    }

    [Fact]
    public void An_optocoupler_gives_less_of_a_small_current()
    {
        // i + k·√i: at a tenth of the stated current 0.6 of the ratio, at a hundredth a sixth (curves of 4N35 sheets, from memory).
        double Share(double amps)
        {
            double k = 0.216 * Math.Sqrt(10e-3 / 0.784), root = (Math.Sqrt(k * k + 4 * amps) - k) / 2;
            return root * root / amps / 0.784;
        }
        Assert.Equal(0.6, Share(1e-3), 0.01);
        Assert.Equal(1 / 6.0, Share(0.1e-3), 0.01);
        // Half of the least ratio, 100 %, at 1 mA: what pulls 4 V through a resistor.
        double amps = 0.5 * Share(1e-3) * 1e-3;
        bool Holds(double ohms) => Of<NoiseMargin>(Check($"""
            rail VDD 5 V tolerance 0%
            sensor cmd drives IN span 0 V .. 5 V
            source I1 from GND to A 1 mA
            transistor Q1 2N7000 drain A gate IN source GND
            resistor R9 from IN to GND 1M
            optocoupler U1 4N35 anode A cathode GND collector PIN emitter GND
            resistor R2 from VDD to PIN {ohms} ohm 0%
            pin level at PIN type cmos-hc-hysteresis on VDD leakage 0 nA
            """)).Met;
        Assert.True(Holds(1.1 * 4.1 / amps));
        Assert.False(Holds(0.9 * 4.0 / amps));
    }

    [Fact]
    public void A_tantalum_capacitor_is_charged_through_an_ohm_in_all()
    {
        RequirementResult With(double ohms) => Of<PartsInsideRating>(Check($"""
            rail V12 12 V tolerance 0%
            switch K1 from V12 to A closes at 1 ms carries 100 A
            resistor R1 from A to B {ohms} ohm 0% rated 5 W pulse 1 J
            capacitor C1 from B to GND 100 uF dielectric tantalum rated 16 V
            resistor R2 from B to GND 1k rated 1 W
            """));
        // Ohm's law, less what the capacitor takes within 10 µs, and the contact's own resistance.
        Assert.False(With(0.5).Met);
        Assert.True(With(1).Met);
    }

    [Fact]
    public void A_converting_pin_of_which_nothing_is_said_stands_five_milliamperes()
    {
        bool Survives(double ohms) => Of<InsideRating>(Check($"""
            rail VDD 3.3 V tolerance 0% sinks
            sensor probe drives IN span 0 V .. 3 V source 100 ohm
            resistor R1 from IN to PIN {ohms} ohm 0% rated 5 W
            pin adc at PIN converts 12 bits over 0 V .. VDD
            event "24 V" at IN step to 24 V source 1 ohm
            """)).Met;
        // 24 V − 3.3 V − 0.8 V.
        Assert.True(Survives(1.1 * 19.9 / 5e-3));
        Assert.False(Survives(0.9 * 19.9 / 5e-3));
    }

    [Theory]
    [InlineData("carries 10 mA", 20e-3)] // twice what it carries (makers' sheets, from memory)
    [InlineData("carries 10 mA saturates at 50 mA", 50e-3)]
    public void A_coil_is_held_to_the_current_at_which_its_core_gives_way(string said, double limit)
    {
        // A step of V into R, L and C in series: V/(ωL)·e^(−αt)·sin ωt, with α = R/2L and ω² = 1/LC − α², is highest at tan ωt = ω/α.
        const double ohms = 20, henries = 1e-3, farads = 1e-6, alpha = ohms / 2 / henries;
        double omega = Math.Sqrt(1 / henries / farads - alpha * alpha), at = Math.Atan(omega / alpha);
        double crest = 10 / (omega * henries) * Math.Exp(-alpha * at / omega) * Math.Sin(at);
        var found = Of<PartsInsideRating>(Check($"""
            source V1 from IN to GND 0 V step to 10 V at 1 ms
            inductor L1 from IN to OUT 1 mH 0% resistance {ohms} ohm {said}
            capacitor C1 from OUT to GND 1 uF 0%
            """));
        Assert.False(found.Met);
        var load = Assert.IsType<PartsReason>(found.Reason).Part;
        Assert.Equal(InductorPart.Saturation, load.Kind);
        Assert.Equal(crest / limit, load.Share, 0.01 * load.Share);
    }

    [Fact]
    public void A_gate_that_nothing_holds_drifts_towards_its_drain()
    {
        // 100 nA at 20 V (2N7000 class, from memory) are 200 Mohm to the drain; a gigohm is what is left of a wire that is off.
        var found = Of<NodeWithin>(Check("""
            rail V1 0.6 V tolerance 0%
            sensor out drives G span 0 V .. 0.1 V source 50 ohm
            transistor Q1 2N7000 drain D gate G source GND
            resistor R1 from V1 to D 10 ohm 0%
            event "its wire comes off" at G open
            require G within -0.2 V .. 0.2 V in event "its wire comes off"
            """));
        Assert.False(found.Met);
        Assert.Equal(0.6 / (1 + 20 / 100e-9 / 1e9), found.Found!.Value.Value, 0.01);
    }

    [Fact]
    public void A_regulator_may_charge_its_capacitor_at_its_own_limit_and_not_go_on_so()
    {
        RequirementResult With(string load) => Of<PartsInsideRating>(Check($"""
            rail V9 9 V tolerance 0% load 1 mA
            regulator U1 standard-100mA from V9 to V5 ground GND 5 V
            capacitor C1 from V5 to GND 47 uF rated 16 V
            resistor R1 from V5 to GND {load} rated 2 W
            event "switched on" at V9 late by 1 ms rising in 1 ms
            """));
        Assert.True(With("1 kohm").Met);
        Assert.False(With("40 ohm").Met); // 125 mA of its 100 mA, for ever
    }

    [Theory]
    [InlineData(1.78, 5, true)] // K = 2.967 with R3 high and R4 low
    [InlineData(1.84, 5, false)] // K = 3.034
    [InlineData(1.84, 1, true)]
    public void A_filter_that_its_resistors_take_to_a_gain_of_three_oscillates(double ratio, double percent, bool met)
    {
        // Equal components and a gain K: ζ = (3 - K)/2 (R. P. Sallen and E. L. Key, IRE Trans. Circuit Theory CT-2, 1955).
        var found = Of<OpAmpsStable>(Check($"""
            rail VP 12 V tolerance 0%
            rail VN -12 V tolerance 0%
            sensor probe drives IN span 0.2 V .. 1.6 V
            resistor R1 from IN to A 10k 0%
            resistor R2 from A to B 10k 0%
            capacitor C1 from A to OUT 10 nF 0%
            capacitor C2 from B to GND 10 nF 0%
            opamp U1 jfet-input plus B minus M output OUT on VP and VN
            resistor R3 from OUT to M {10 * ratio}k {percent}%
            resistor R4 from M to GND 10k {percent}%
            """));
        Assert.Equal(met, found.Met);
        var reason = Assert.IsType<StabilityReason>(found.Reason);
        if (met)
        {
            // The least damped mode is the filter's, not what the phase margin of the op amp stands for.
            Assert.Equal((2 - ratio) / 2, reason.DampingRatio!.Value, 5e-3);
            return;
        }
        Assert.Equal(1 / (2 * Math.PI * 1e4 * 1e-8), reason.Hertz, 20.0);
        Assert.Equal([("R3", true), ("R4", false)], reason.Where.Ends.Select(e => (e.Subject, e.IsHigh)));
    }

    [Theory]
    [InlineData("470 nF", "330 nF", true, 720e-9)] // ±10 %, where nothing is said
    [InlineData("470 nF", "220 nF", false, 621e-9)]
    [InlineData("400 nF 20% dielectric film", "400 nF 20% dielectric c0g", true, 640e-9)] // a good 1 µF may be no more than 639 nF
    [InlineData("400 nF 20% dielectric film", "398 nF 20% dielectric film", false, 638.4e-9)]
    public void A_regulator_has_the_capacitor_that_its_sheet_asks_for(string one, string other, bool met, double farads)
    {
        // 1 µF (MCP1700 class, from memory); both capacitors together.
        var found = Of<RegulatorsStable>(Check($"""
            rail V5 5 V
            regulator U1 cmos-low-dropout from V5 to V33 ground GND 3.3 V
            capacitor C1 from V33 to GND {one}
            capacitor C2 from GND to V33 {other}
            resistor R1 from V33 to GND 10k
            """));
        Assert.Equal(met, found.Met);
        var reason = Assert.IsType<OutputCapacitorReason>(found.Reason);
        Assert.Equal(("U1", 1e-6), (reason.Regulator, reason.AskedFarads));
        Assert.Equal(farads, reason.FoundFarads, 1e-12);
    }

    [Theory]
    [InlineData("1 uF 10% dielectric x7r rated 50 V", 1e-6, 0.7, 25, true)]
    [InlineData("1.5 uF 10% dielectric x5r rated 6.3 V", 1.5e-6, 0.65, 3.15, false)]
    [InlineData("2.2 uF 10% dielectric x7r rated 25 V", 2.2e-6, 0.7, 12.5, true)]
    public void A_regulator_s_capacitor_has_what_is_left_of_it_at_its_voltage(string capacitor, double farads, double left, double half,
        bool met)
    {
        // By hand: tolerance, 15 % by temperature and 10 or 5 % by age; half is lost at half of the rated voltage but for a twentieth, at
        // 3.3 V and 2 %.
        double volts = 3.3 * 1.02, share = 0.05 + 0.95 / (1 + volts / half * (volts / half));
        var check = Check($"""
            rail V5 5 V
            regulator U1 cmos-low-dropout from V5 to V33 ground GND 3.3 V
            capacitor C1 from V33 to GND {capacitor}
            resistor R1 from V33 to GND 10k
            """);
        Assert.Equal(["U1"], check.Scope!.SeriesUnjudged);
        var found = Of<RegulatorsStable>(check);
        var reason = Assert.IsType<OutputCapacitorReason>(found.Reason);
        Assert.Equal(farads, reason.NominalFarads, 1e-12);
        Assert.Equal(farads * left * share, reason.FoundFarads, 1e-12);
        Assert.Equal(met, found.Met);
    }

    [Theory]
    [InlineData("17k 5%", false)]
    [InlineData("10k 5%", true)]
    [InlineData("11k5 5%", false)] // 83 µA with nominal resistors and a nominal piece
    public void A_shunt_reference_has_the_current_that_its_sheet_asks_for(string feeds, bool met)
    {
        // By hand: a piece of 2.5 V and 0.5 %, the rail 5 % low, the resistors at the ends of their tolerances; 75 µA (LM4040 class, from
        // memory). A starved piece falls by 20 mV for e times less current, up to 40 mV, which 9.8 kohm turn into 4 µA more.
        var found = Of<SuppliesRegulate>(Check($"""
            rail VDD 5 V tolerance 5% load 5 mA
            resistor R1 from VDD to REF {feeds}
            reference D1 from GND to REF shunt-2V5
            resistor R2 from REF to GND 22.2k 1%
            """));
        Assert.Equal(met, found.Met);
        if (met)
            return;
        double ohms = feeds[..2] == "17" ? 17e3 : 11.5e3;
        var reason = Assert.IsType<StarvedReason>(found.Reason);
        Assert.Equal(("D1", 75e-6), (reason.Part, reason.LeastAmps));
        double amps = (4.75 - 2.5125) / (ohms * 1.05) - 2.5125 / (22.2e3 * 0.99);
        Assert.InRange(reason.Amps, amps, amps + 4e-6);
    }

    [Fact]
    public void What_flows_into_a_multiplexer_spoils_no_reading_while_nothing_feeds_it()
    {
        RequirementResult With(string supplies, string ends) => Of<PartsInsideRating>(Check($"""
            {supplies}
            rail VDD 5 V tolerance 0% load 1 mA
            sensor a drives A span {ends} source 50 ohm
            sensor b drives B span 0 V .. 4 V source 50 ohm
            resistor R1 from A to A1 10 kohm
            resistor R2 from B to B1 10 kohm
            multiplexer M1 hc-analog-switch from A1, B1 to COM on VDD and GND selects B1
            resistor R3 from COM to GND 10 Mohm
            """));
        Assert.True(With("supplies on and off", "0 V .. 4 V").Met); // 330 µA while it is off
        var beyond = With("", "-4 V .. 4 V"); // the same while it is fed, through the channel that is off
        Assert.False(beyond.Met);
        Assert.Equal(AnalogSwitchType.InjectionInService, Assert.IsType<PartsReason>(beyond.Reason).Part.Kind);
    }

    [Fact]
    public void What_a_polymer_fuse_strays_is_part_of_a_reading()
    {
        // 2 ohm may be 4 ohm; platinum rises by (3.9083e-3 − 2·5.775e-7·T)·100 ohm/K (IEC 60751).
        double With(string inSeries) => Of<ReadingError>(Check($"""
            rail VDD 3.3 V tolerance 0% load 5 mA
            sensor shell of temperature 0 C .. 200 C from S1 to GND platinum 100 ohm class A
            resistor R1 from VDD to TOP 2.2 kohm 0.1%
            {inSeries}
            pin adc at TOP converts 16 bits over 0 V .. VDD
            require adc reading error under 20 C
            """)).Found!.Value.Value;
        double slope = 100 * (3.9083e-3 - 2 * 5.775e-7 * 200);
        Assert.Equal(2 / slope, With("polymer-fuse F1 from TOP to S1 50 mA") - With("resistor F1 from TOP to S1 2 ohm 0%"), 0.1);
    }

    [Theory]
    [InlineData("", 0.2)]
    [InlineData(" 5%", 0.05)]
    [InlineData(" 0%", 0)]
    public void What_a_sensors_track_strays_is_part_of_a_reading(string written, double strays)
    {
        // At the upper end the wiper stands at (R + E)/(R + 2E) of the rail; a span of it is R/(R + 2E) and is 100 mm.
        double With(string tolerance) => Of<ReadingError>(Check($"""
            rail VDD 5 V tolerance 0% load 5 mA
            resistor RT from VDD to TOP 2.2 kohm 0%
            resistor RB from BOT to GND 2.2 kohm 0%
            sensor valve of travel 0 mm .. 100 mm drives W potentiometer 10 kohm{tolerance} from TOP to BOT
            resistor R1 from W to PIN 10k 0%
            pin adc at PIN converts 16 bits over 0 V .. VDD
            require adc reading error under 50 mm
            """)).Found!.Value.Value;
        double At(double ohms) => (ohms + 2200) / (ohms + 4400);
        Assert.Equal((At(10e3) - At(10e3 * (1 - strays))) / (10e3 / 14.4e3) * 100, With(written) - With(" 0%"), 0.01);
    }

    [Theory]
    [InlineData("", 2.5e-9)] // half of the class's 5 nA
    [InlineData("offset-current 1 nA", 1e-9)]
    public void What_an_in_amps_bias_currents_differ_by_is_part_of_a_reading(string written, double amps)
    {
        double With(string words) => Of<ReadingError>(Check($"""
            rail VP 9 V tolerance 0%
            rail VN -9 V tolerance 0%
            rail MID 1.25 V tolerance 0% sinks
            sensor pair of potential -10 mV .. 10 mV drives SP against SN gives -10 mV .. 10 mV common-mode -1 uV .. 1 uV
            resistor R1 from SP to A 1 Mohm 0%
            resistor R2 from SN to B 1 Mohm 0%
            part INA is in-amp
                like precision-in-amp
                {words}
            in-amp U1 INA plus A minus B output OUT reference MID gain GP and GM on VP and VN
            resistor RG from GP to GM 499 ohm 0%
            resistor Rs from OUT to PIN 10k 0%
            pin adc at PIN
                rated -0.3 V .. 5.3 V
                injection 2 mA
                converts 16 bits over 0 V .. 2.5 V
            require adc reading error under 5 mV
            """)).Found!.Value.Value;
        Assert.Equal(amps * 1e6 * 1e3, With(written) - With("offset-current 0 A"), 0.02 * amps * 1e9);
    }

    [Theory]
    [InlineData("cable W1 from IN to A return GND 100 metres 120 ohm resistance 0.2 ohm a metre", 25, 0.05)]
    [InlineData("cable W1 from IN to A return GND 100 metres 120 ohm resistance 0.2 ohm 1% a metre", 25, 0.01)]
    [InlineData("cable W1 from IN to A return GND 100 metres 120 ohm resistance 0.2 ohm 0% a metre", -20, 0.1734)] // 45 K of copper
    [InlineData("inductor W1 from IN to A 1 uH resistance 20 ohm", 25, 0.05)]
    public void What_copper_strays_is_part_of_a_reading(string part, double celsius, double strays)
    {
        // 20 ohm of it before 180 ohm: what is read is V·180/(180 + R).
        double With(string line) => Of<ReadingError>(Check($"""
            temperature {celsius} C
            rail VDD 3.3 V tolerance 0% load 5 mA
            sensor probe drives IN span 0 V .. 3 V source 0 ohm
            {line}
            resistor R1 from A to GND 180 ohm 0% drift 0 ppm/K
            resistor R2 from A to PIN 10k 0%
            pin adc at PIN converts 16 bits over 0 V .. 3.3 V
            require adc reading error under 1 V
            """)).Found!.Value.Value;
        // Down, so that the reading is too high: the larger one.
        Assert.Equal(3 * (200 / (200 - 20 * strays) - 1), With(part) - With("resistor W1 from IN to A 20 ohm 0% drift 0 ppm/K"), 0.5e-3);
    }

    [Theory]
    [InlineData(12, 0.05, 13.2)]
    [InlineData(12, 0.1, 13.32)]
    [InlineData(-24, 0.25, 30.24)]
    public void A_rail_may_be_lifted_a_little_above_the_upper_end_of_its_own_tolerance(double volts, double tolerance, double most) =>
        Assert.Equal(most, new Rail("V", new Toleranced(volts, tolerance)).HighestVolts, 1e-9);

    [Theory]
    [InlineData("250 ohm", "R1 beyond its rated power (576 % ", "), all else judged as if it held: a fuse opens")] // 144 V² / 250 ohm
    [InlineData("2.5 kohm", "R1 would be accepted beyond its rated power, and is inside of it (57.6 % ", "): a fuse opens")]
    public void What_is_accepted_is_said_as_it_is(string ohms, string begins, string ends)
    {
        string said = ScopeWords.Of(Assert.Single(Check($"""
            sensor probe drives IN span 0 V .. 12 V source 0 ohm
            resistor R1 from IN to GND {ohms} 0% rated 0.1 W
            accept R1 beyond power because "a fuse opens"
            """).Accepted));
        Assert.StartsWith(begins, said);
        Assert.EndsWith(ends, said);
    }
}
