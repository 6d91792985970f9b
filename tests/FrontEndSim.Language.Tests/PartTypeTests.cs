using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Parts.Fits;


namespace FrontEndSim.Language.Tests;

public class PartTypeTests
{
    private const string Bench = """
        circuit "bench"
        rail VP 9 V
        rail VN -9 V
        source V1 from IN to GND 1 V
        resistor R1 from IN to OUT 1k

        """;

    [Fact]
    public void Every_class_of_the_catalogue_can_be_written()
    {
        foreach (var type in PartCatalogue.Standard.Types.OfType<AnalogSwitchType>())
            Assert.Equal(type,
                Reading.FrontEnd($"{Bench}analog-switch K1 {type.Name} from OUT to A on VP and GND closed\nresistor R2 from A to GND 1k")
                    .Part<AnalogSwitchPart>("K1").Type);
    }

    [Fact]
    public void A_zener_is_fitted_to_the_numbers_given()
    {
        var type = Reading.FrontEnd(Bench + """
            part Z-GIVEN is zener
                zener 5.1 V at 5 mA
                impedance 40 ohm at 5 mA at most
                leakage 2 uA at 2 V
                tolerance 5%
                drift 100 ppm/K
                rated 0.5 W
                sheet "a made-up data sheet"
            zener Z1 from GND to OUT Z-GIVEN
            """).Part<DiodePart>("Z1").Type;
        Assert.Equal(("Z-GIVEN", DiodeKind.Zener, 0.5, "a made-up data sheet"), (type.Name, type.Kind, type.RatedWatts, type.Source));
        var at = type.Points.Single(p => p.Point.Kind == DataPointKind.ZenerVoltage);
        Assert.Equal(5.1, at.Fitted, 2);
        Assert.Equal(0.05, type.Sheet!.Tolerance);
    }

    [Fact]
    public void A_stage_may_use_a_type_of_the_file()
    {
        var f = Reading.FrontEnd(Bench + """
            part CLAMP is schottky
                forward 0.3 V at 10 mA
                forward 0.38 V at 100 mA
                leakage 1 uA at 10 V
                stands 30 V
            stage guard is pin-guard
                from OUT to PIN
                series 4k7
                schottky CLAMP
            resistor R2 from PIN to GND 1M
            """);
        Assert.Equal("CLAMP", f.Stages.Single().Parts.OfType<DiodePart>().Single().Type.Name);
    }

    [Fact]
    public void An_op_amp_is_like_a_class_but_for_what_is_given()
    {
        var type = Reading.FrontEnd(Bench + """
            part MINE is opamp
                like bipolar-general
                bandwidth 4 MHz
                slew 2 V/us
                offset 0.5 mV
                drift 3 uV/K
                bias 20 nA at most 60 nA
                noise 12 nV and 0.4 pA per root hertz
                swing 1 V from high 0.8 V from low
                supply 5 V .. 30 V
            opamp U1 MINE plus IN minus OUT output OUT on VP and VN
            """).Part<OpAmpPart>("U1").Type;
        var like = PartCatalogue.Standard.FindOpAmp("bipolar-general")!;
        Assert.Equal(like.Model with
        {
            GainBandwidthHertz = 4e6,
            SlewVoltsPerSecond = 2e6,
            BiasAmps = 20e-9,
            DropHighVolts = 1,
            DropLowVolts = 0.8,
            NoiseVolts = 12e-9,
            NoiseAmps = 0.4e-12
        }, type.Model);
        Assert.Equal((0.5e-3, 3e-6, 60e-9, 5.0, 30.0), (type.OffsetVoltsSpread, type.OffsetVoltsPerKelvin, type.BiasAmpsSpread,
            type.LowestSupplyVolts, type.HighestSupplyVolts));
    }

    [Fact]
    public void An_instrumentation_amplifier_like_a_class_keeps_all_of_it_that_is_not_given()
    {
        var type = Reading.FrontEnd(Bench + """
            part MINE is in-amp
                like precision-in-amp
                gain-error 0.1%
            in-amp U1 MINE plus IN minus GND output OUT reference GND on VP and VN
            """).Part<InAmpPart>("U1").Type;
        var like = PartCatalogue.Standard.Find<InAmpType>("precision-in-amp")!;
        Assert.Equal(like with { Name = "MINE", GainError = 0.001, Source = type.Source }, type);
        Assert.NotEqual(like.Input.GainBandwidthHertz, like.Output.GainBandwidthHertz);
    }

    [Fact]
    public void Numbers_that_contradict_each_other_are_both_named()
    {
        var wrong =
            Reading.Load(Bench
                + "part BAD is schottky\n    forward 0.4 V at 10 mA\n    forward 0.3 V at 100 mA\nschottky D1 from GND to OUT BAD")
                    .Diagnostics;
        Assert.Equal("FES357", Assert.Single(wrong).Code);
        Assert.Contains("forward voltage of 400 mV at 10 mA", wrong[0].Message);
        Assert.Contains("forward voltage of 300 mV at 100 mA", wrong[0].Message);
    }

    [Theory]
    [InlineData("part X is transistor", "FES356")]
    [InlineData("part X is diode\n    forwrad 0.7 V at 10 mA", "FES224")]
    [InlineData("part X is diode\n    forward 0.7 A at 10 mA", "FES315")]
    [InlineData("part X is diode", "FES357")]
    [InlineData("part X is opamp\n    gain 1000", "FES352")]
    [InlineData("part X is diode\n    forward 0.7 V at 10 mA\n    rated 1 W\n    rated 2 W", "FES225")]
    public void A_wrong_description_is_answered_once(string text, string code) =>
        Assert.Equal(code, Reading.Load(Bench + text + "\ndiode D1 from GND to OUT X").Diagnostics.First(d => d.IsError).Code);

    [Fact]
    public void A_fuse_a_polymer_fuse_and_a_bead_may_be_types_and_one_of_them_may_differ_in_a_number()
    {
        var f = Reading.FrontEnd(Bench + """
            part QUICK is fuse
                rated      500 mA
                resistance 0.3 ohm
                melts      5 A within 3 ms
                sheet      "a made-up data sheet"
            part RESET is polymer-fuse
                holds  200 mA
                stands 16 V
            part SUPPRESS is bead
                impedance 600 ohm 25%
                carries   1 A
                resistive above 20 MHz
            fuse F1 from OUT to A type QUICK
            polymer-fuse F2 from A to B type RESET resistance 0.6 ohm
            bead B1 from B to PIN type SUPPRESS
            resistor R2 from PIN to GND 1k
            """);
        // I²t: 5 A squared times 3 ms.
        Assert.Equal(new("F1", "OUT", "A", 0.5) { Ohms = 0.3, MeltingIntegral = 25 * 3e-3, TypeName = "QUICK" }, f.Part<FusePart>("F1"));
        Assert.Equal(new("F2", "A", "B", 0.2) { Ohms = 0.6, RatedVolts = 16, TypeName = "RESET" }, f.Part<PolymerFusePart>("F2"));
        Assert.Equal(new("B1", "B", "PIN", new(600, 0.25)) { RatedAmps = 1, ResistiveHertz = 20e6, TypeName = "SUPPRESS" },
            f.Part<FerriteBeadPart>("B1"));
        Assert.Equal("QUICK", f.Part<FusePart>("F1").ValueText);
    }

    [Theory]
    [InlineData("fuse F1 from OUT to GND type SLOW", "There is no fuse SLOW.", "part SLOW is fuse")]
    [InlineData("part SLOW is fuse\n    melts 5 A within 3 ms\nfuse F1 from OUT to GND type SLOW", "SLOW needs what it is bought by: rated AMPS.", null)]
    [InlineData("part SLOW is bead\n    impedance 600 ohm\nfuse F1 from OUT to GND type SLOW", "SLOW is of the kind bead, but a fuse is needed here.", null)]
    public void A_fuse_of_a_type_that_is_not_there_or_not_whole_is_refused(string lines, string what, string? expected)
    {
        var wrong = Reading.OnlyDiagnostic(Bench + lines);
        Assert.Equal(what, wrong.Message);
        if (expected is not null)
            Assert.Contains(expected, wrong.Expected, StringComparison.Ordinal);
    }
}
