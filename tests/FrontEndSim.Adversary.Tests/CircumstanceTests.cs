using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Session;
using static FrontEndSim.Adversary.Tests.Rule;

namespace FrontEndSim.Adversary.Tests;

/// <summary>What else may be so than what is drawn: boards with other offsets, several sensors, sources that go on, a plug at any instant,
/// against closed forms by hand.</summary>
public class CircumstanceTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(4.7)]
    public void A_switch_that_opens_leaves_its_charge_on_what_holds(double nanofarads)
    {
        // Q/C: 5 pC on the capacitor, 8 pF of the switch and 5 pF of the pin.
        var found = Check($"""
            rail VDD 5 V tolerance 0%
            sensor probe drives IN span 0.5 V .. 4.5 V source 100 ohm
            analog-switch K1 hc-analog-switch from IN to PIN on VDD and GND closed opens at 1 ms
            capacitor C1 from PIN to GND {nanofarads} nF 5%
            resistor R1 from PIN to GND 1 Gohm 0%
            pin adc at PIN
                unclamped
                leakage 0 nA
                capacitance 5 pF
                converts 12 bits over 0 V .. VDD
                maps probe onto 0.5 V .. 4.5 V
            require adc mapping error under 1 counts
            """).Requirements.Single();
        var reason = Assert.IsType<MappingReason>(found.Reason);
        double expected = -5e-12 / (nanofarads * 1e-9 + 13e-12);
        Assert.Equal(expected, Assert.Single(reason.Pedestals).Volts, 0.02 * Math.Abs(expected));
    }

    [Fact]
    public void An_offset_reaches_the_output_times_the_noise_gain()
    {
        // (1 + R2/R1)·Vos = 11·3 mV between two classes that differ in nothing else.
        double Left(string millivolts) => Of<OpAmpsInRange>(Check($"""
            rail VP 5 V tolerance 0%
            part MINE is opamp
                like rail-to-rail-cmos
                offset {millivolts}
            sensor a drives A span 0.3 V .. 0.4 V source 10 ohm
            resistor R1 from M to GND 10k 0%
            resistor R2 from M to PIN 100k 0%
            opamp U1 MINE plus A minus M output PIN on VP and GND
            pin adc at PIN converts 12 bits over 0 V .. VP
            """)).Margin!.Value.Value;
        Assert.Equal(11 * 3e-3, Left("1 mV") - Left("4 mV"), 0.02 * 11 * 3e-3);
    }

    [Fact]
    public void Two_sensors_at_opposite_ends_take_a_difference_furthest()
    {
        // 3·(1 V − 0 V), of 5 V less a drop of 1.5 V, less four times an offset of 6 mV.
        var found = Of<OpAmpsInRange>(Check("""
            rail VP 5 V tolerance 0%
            rail VN -5 V tolerance 0%
            sensor a drives A span 0 V .. 1 V
            sensor b drives B span 0 V .. 1 V
            resistor R1 from A to P 10k 0%
            resistor R2 from P to GND 30k 0%
            resistor R3 from B to M 10k 0%
            resistor R4 from M to PIN 30k 0%
            opamp U1 jfet-input plus P minus M output PIN on VP and VN
            pin adc at PIN
                unclamped
                converts 12 bits over 0 V .. VP
            """));
        Assert.Equal(5 - 1.5 - 3 - 4 * 6e-3, found.Margin!.Value.Value, 2e-3);
    }

    [Fact]
    public void A_resistor_across_what_alternates_is_heated_by_half_of_its_crest()
    {
        var found = Of<PartsInsideRating>(Check("""
            rail VDD 3.3 V tolerance 0%
            sensor line of voltage 0 V .. 10 V drives IN gives 0 V .. 10 V alternates at 50 Hz
            resistor R1 from IN to GND 500 ohm 0% rated 0.25 W
            resistor R2 from IN to PIN 1M 0%
            resistor R3 from PIN to VDD 10k 0%
            resistor R4 from PIN to GND 10k 0%
            pin adc at PIN converts 12 bits over 0 V .. VDD
            """));
        Assert.Equal(10 * 10 / 500.0 / 0.25, Assert.IsType<PartsReason>(found.Reason).Part.Share, 1e-3);
    }

    [Fact]
    public void What_is_plugged_in_meets_the_crest_and_brings_a_caution()
    {
        // C·V²/2 = 5 mJ in the resistor, which stands 2 mJ; a sine that begins at its zero brings no more than microjoules at a time.
        CheckResult With(double volts) => Check($"""
            source L from LN to GND 0 V
                sine {volts} V at 50 Hz
                resistance 0.1 ohm
            resistor R1 from LN to A 10 ohm 0% rated 20 W pulse 2 mJ
            capacitor C1 from A to GND 1 uF rated 630 V
            """);
        var parts = Assert.IsType<PartsReason>(Of<PartsInsideRating>(With(100)).Reason);
        Assert.Contains(parts.Beyond.Single(b => b.Part.Part == "R1").Where.Ends, e => e is { Subject: "L", Of: "phase" });
        Assert.Contains(With(100).Cautions, c => c.Contains("Mains", StringComparison.Ordinal));
        // 50 V rms are 70.7 V at the crest.
        Assert.Empty(With(70).Cautions);
        Assert.True(Of<PartsInsideRating>(With(70)).Met);
    }

    [Theory]
    [InlineData("", 9)]
    [InlineData("bounces for 1 ms", 9)]
    [InlineData("bounces for 0 s", 1)]
    public void A_contact_of_which_nothing_is_said_bounces(string said, int changes)
    {
        // It opens four times after it has closed.
        var found = Check($"""
            rail VCC 5 V tolerance 0%
            sensor button from PIN to GND contact 100 mohm {said}
            resistor R1 from VCC to PIN 4k7 0%
            pin wake at PIN type cmos-hc-hysteresis on VCC
            require wake clean edges
            """);
        Assert.Equal(changes, found.Requirements.Single().Found!.Value.Value);
        Assert.Equal(said == "" ? ["button"] : [], found.Scope!.BounceTaken.ToArray());
    }

    [Fact]
    public void An_open_capacitor_across_a_feedback_resistor_changes_nothing_at_rest()
    {
        // −R2/R1·V with it and without it.
        var solved = new SolvedFrontEnd(FrontEndOf("""
            rail VP 9 V tolerance 0%
            rail VN -9 V tolerance 0%
            sensor probe drives IN span -2 V .. -1 V
            resistor R1 from IN to M 150k 0%
            resistor R2 from M to PIN 150k 0%
            capacitor C1 from M to PIN 4p7 10%
            opamp U1 jfet-input plus GND minus M output PIN on VP and VN
            pin adc at PIN
                unclamped
                converts 12 bits over 0 V .. 3 V
            """));
        var rows = solved.Faults().Faults;
        var whole = solved.Rest(SpanPlace.High);
        var open = rows.Single(r => r.Fault!.Text == "C1 open").AtHighEnd!;
        Assert.Equal(whole.Nodes["PIN"], open.LowestVolts, 1e-6);
        Assert.Equal(whole.Nodes["PIN"], open.HighestVolts, 1e-6);
    }

    [Fact]
    public void A_follower_that_rings_on_a_capacitor_is_told_what_mends_it()
    {
        string text = """
            rail VP 9 V tolerance 0%
            rail VN -9 V tolerance 0%
            sensor a drives A span 0.5 V .. 3 V source 100 ohm
            opamp U1 jfet-input plus A minus O output O on VP and VN
            capacitor C1 from {0} to GND 10n 10%
            resistor R5 from O to PIN 10k 1%
            pin adc at PIN
                unclamped
                converts 12 bits over 0 V .. 3.3 V
            """;
        var solved = new SolvedFrontEnd(FrontEndOf(text.Replace("{0}", "O")));
        var mend = Of<OpAmpsStable>(solved.Mended()).Mends.First(m => m.Kind == MendKind.IsolateLoad);
        Assert.Equal("C1", mend.Other);
        string mended = $"{text.Replace("{0}", "L")}\nresistor R6 from O to L {mend.To!.Value.Value} ohm 5%";
        Assert.True(Of<OpAmpsStable>(Check(mended)).Met);
    }
}
