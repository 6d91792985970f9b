namespace FrontEndSim.Browser.Tests;

/// <summary>Schematics of parts that no shipped stage has, as a browser draws them.</summary>
public class SchematicTests(Chromium chromium)
{
    public static TheoryData<string, string> Circuits => new()
    {
        {
            "potentiometers", """
            potentiometer RV1 from IN to GND wiper W 10 kohm at 50%
            resistor R1 from W to PIN 10 kohm 1%
            capacitor C1 from PIN to GND 100 nF
            potentiometer RV2 from VDD to GND wiper PIN 1 Mohm at 50%
            resistor R9 from PIN to TRIM 100 kohm
            potentiometer RV3 from TRIM to GND wiper GND 1 Mohm at 50%
            """
        },
        {
            "long values in a row", """
            resistor R1 from IN to A 10.5 kohm 0.1%
            resistor R2 from A to B 249 kohm 0.1%
            resistor R3 from B to PIN 1.02 Mohm 0.1%
            resistor R4 from PIN to GND 4.99 Mohm 0.1%
            capacitor C1 from PIN to GND 470 nF 10%
            capacitor C2 from PIN to VDD 2.2 uF 10%
            """
        },
        {
            "long values at an op amp", """
            rail VP 9 V
            rail VN -9 V
            resistor R1 from IN to SUM 1.02 Mohm 0.05%
            resistor R2 from VDD to SUM 1.37 Mohm 0.05%
            resistor R3 from SUM to PIN 1.65 Mohm 0.05%
            opamp U1 precision-bipolar plus REF minus SUM output PIN on VP and VN
            resistor R4 from VDD to REF 1.37 Mohm 0.05%
            resistor R5 from REF to GND 1.37 Mohm 0.05%
            """
        },
        {
            "gates and indicators", """
            rail VCC 5 V
            gate U1 cmos-hc-hysteresis from IN to PIN on VCC inverts
            resistor R1 from PIN to A 1k6
            led D1 from A to GND red
            led D2 from B to PIN red
            resistor R2 from VCC to B 1k6
            """
        },
        {
            "a gate and a level indicator", """
            rail VCC 5 V
            gate U1 cmos-hc from IN to OUT on VCC
            led D1 from OUT to PIN red
            resistor R1 from PIN to GND 1k6
            """
        },
        {
            "a user's template", """
            template low-pass from A to B with R = 10k, C = 10n, node FOOT
                resistor  R1 from A to B R 1%
                capacitor C1 from B to FOOT C
            stage calm is low-pass
                from IN to PIN
                FOOT GND
            """
        },
        {
            "a difference stage with a buffered reference", """
            rail VP 9 V
            rail VN -9 V
            stage d is difference-stage
                from IN to PIN
                maps knob onto 0.2 V .. 3 V
                offset from VDD
                buffered
                opamp jfet-input on VP and VN
            """
        },
        {
            "two sensors and two pins", """
            rail VP 9 V
            rail VN -9 V
            sensor other drives IN2
                span 0 V .. 3 V
                source 1k
            resistor R1 from IN to SUM 10k
            resistor R2 from IN2 to SUM 10k
            resistor R3 from SUM to OUT 10k
            opamp U1 jfet-input plus GND minus SUM output OUT on VP and VN
            resistor R5 from OUT to PIN 10k
            resistor R6 from OUT to P2 10k
            pin second at P2
            resistor R7 from P2 to GND 100k
            capacitor C9 from VDD to GND 100n
            """
        },
        {
            "every two-ended part", """
            inductor L1 from IN to A 10 uH 10%
            switch S1 from A to B closed
            source V1 from C to B 1 V resistance 1 ohm
            resistor R1 from C to PIN 1 kohm
            zener D1 from GND to PIN 3V6
            diode D2 from PIN to VDD 1N4148
            schottky D3 from GND to PIN 1N5817
            """
        },
    };

    [Theory, MemberData(nameof(Circuits))]
    public async Task A_schematic_has_its_words_clear_of_lines_and_of_one_another(string what, string parts)
    {
        string text = "circuit \"" + what + "\"\nrail VDD 3.3 V\nsensor knob drives IN\n    span 0 V .. 3 V\n" + parts
            + "\npin adc at PIN\n";
        var page = await chromium.Open(address: chromium.ReportOf(what, text));
        Assert.Equal(1, await page.Locator("svg.schematic").CountAsync());
        Assert.Empty(await PageChecks.Cut(page));
        Assert.DoesNotContain(await PageChecks.Crowded(page), w => w.StartsWith(what, StringComparison.Ordinal));
        Assert.Empty(await PageChecks.Crossed(page));
    }
}
