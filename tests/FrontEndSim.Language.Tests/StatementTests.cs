using FrontEndSim.Engine.Waveforms;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.Language.Writing;

namespace FrontEndSim.Language.Tests;

public class StatementTests
{
    private const string Bench = """
        circuit "bench"
        rail VDD 3.3 V
        source V1 from IN to GND 1 V
        resistor R1 from IN to OUT 1k
        resistor R2 from OUT to VDD 1k

        """;

    [Fact]
    public void A_rail_has_a_voltage_a_tolerance_and_a_resistance()
    {
        var rail = Reading.FrontEnd(Bench + "rail VP 9 V tolerance 5% source-only resistance 0.5 ohm\nresistor R3 from VP to OUT 1k")
            .Rails.Single(r => r.Name == "VP");
        Assert.Equal(new Rail("VP", new Toleranced(9, 0.05)) { SourceOnly = true, SeriesOhms = 0.5 }, rail);
    }

    [Fact]
    public void Drift_is_a_limit_either_way_on_rails_potentiometers_and_a_stages_resistors()
    {
        var f = Reading.FrontEnd(Bench + """
            rail VREF 2.5 V drift 20 ppm/K
            potentiometer P1 from VREF to GND wiper OUT 10k drift 50 ppm/K
            sensor s drives A span 0 V .. 1 V
            stage half is divider
                from A to B
                ratio 0.5
                drift 25 ppm/K
            pin p at B
            """);
        Assert.Equal(20e-6, f.Rails.Single(r => r.Name == "VREF").Volts.TempCo);
        Assert.Null(f.Rails.Single(r => r.Name == "VDD").Volts.TempCo);
        Assert.Equal(50e-6, f.Part<PotentiometerPart>("P1").Ohms.TempCo);
        Assert.All(f.Stages.Single().Parts.OfType<ResistorPart>(), r => Assert.Equal(25e-6, r.Ohms.TempCo));
    }

    [Theory]
    [InlineData("divider", "ratio 0.5\n    input 10k 1%\n    ground 10k 1%\n    resistors E96 1%", "resistors")]
    [InlineData("divider", "ratio 0.5\n    input 10k 1%\n    impedance 22k", "input")]
    [InlineData("reverse-protection", "diode 1N5819\n    load 8 A", "1N5819")]
    [InlineData("reverse-protection", "diode 1N5819\n    load 0.2 A\n    drift 25 ppm/K", "drift")]
    [InlineData("passive-shifter", "maps s onto 0 V .. 0.5 V\n    input 10k 5%\n    ground 10k 1%\n    reference 10k 1%", "reference")]
    public void A_value_that_would_act_on_nothing_is_refused(string kind, string settings, string named)
    {
        var refused =
            Reading.OnlyDiagnostic(Bench
                + $"sensor s drives A span 0 V .. 1 V\nstage half is {kind}\n    from A to B\n    {settings}\npin p at B\n");
        Assert.Equal("FES353", refused.Code);
        Assert.Contains(named, refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void What_a_stage_says_of_its_sensors_dissipation_is_the_sensors()
    {
        const string text = """
            circuit "A bath"
            rail VDD 3.3 V
            sensor bath of temperature 5 C .. 95 C from SENSE to GND
                thermistor 10 kohm at 25 C beta 3977 K
            stage divide is sensor-divider
                reads bath from VDD
                heats 2 mW per K
            pin wet at SENSE converts 12 bits over 0 V .. VDD
            """;
        // 1 mW over 2 mW/K.
        Assert.Equal(0.5, Reading.FrontEnd(text).Sensors.Single().SelfHeating(1e-3), 1e-12);
        Assert.Equal("FES353", Reading.OnlyDiagnostic(text.Replace("beta 3977 K", "beta 3977 K\n    dissipation 3 mW/K")).Code);
    }

    [Fact]
    public void A_converters_errors_are_counts_or_a_share_of_its_range()
    {
        const string pin = "pin adc at OUT\n    converts 10 bits over 0 V .. VDD\n    ";
        var converter = Reading.FrontEnd(Bench + pin + "offset-error 2 counts\n    gain-error 0.25%").Pins.Single().Converter!;
        Assert.Equal((2.0, 2.56, null), (converter.OffsetErrorCounts!.Value, converter.GainErrorCounts!.Value, converter.LinearityCounts));
        Assert.Equal("FES315", Reading.Load(Bench + pin + "linearity 1 mV").Diagnostics.First(d => d.IsError).Code);
        Assert.Equal("FES315", Reading.Load(Bench + pin + "linearity 1").Diagnostics.First(d => d.IsError).Code);
        Assert.Equal("FES310", Reading.Load(Bench + pin + "linearity -1 counts").Diagnostics.First(d => d.IsError).Code);
        Assert.Equal("FES341", Reading.Load(Bench + "pin adc at OUT\n    linearity 1 counts").Diagnostics.First(d => d.IsError).Code);
    }

    [Fact]
    public void Additions_may_stand_on_the_line_or_below_it()
    {
        string inline = Bench + "sensor s drives IN2 span 0 V .. 1 V source 220 ohm\nresistor R3 from IN2 to OUT 1k";
        string below = Bench + "sensor s drives IN2\n    source 220 ohm\n    span 0 V .. 1 V\nresistor R3 from IN2 to OUT 1k";
        var expected = new Sensor("s", "IN2", new Span(0, 1), 220);
        Assert.Equal(expected, Reading.FrontEnd(inline).Sensors.Single());
        Assert.Equal(expected, Reading.FrontEnd(below).Sensors.Single());
    }

    [Fact]
    public void Parts_in_words_become_parts()
    {
        var f = Reading.FrontEnd("""
            circuit "parts"
            rail VP 9 V
            rail VN -VP
            source V1 from IN to GND 1 V resistance 50 ohm
            resistor R1 from IN to A 4k7 1% rated 0.5 W drift 50 ppm/K
            capacitor C1 from A to GND 10n 10% rated 25 V leakage 1 Gohm resistance 2 ohm
            inductor L1 from A to B 10 uH 20% resistance 0.3 ohm
            resistor RB from B to GND 1k
            potentiometer P1 from VP to GND wiper REF 10 kohm 20% at 30%
            diode D1 from B to VP 1N4148
            zener Z1 from GND to B 5V1
            schottky S1 from GND to A 1N5817
            opamp U1 jfet-input plus REF minus OUT output OUT on VP and VN
            switch K1 from OUT to B closes at 1 ms
            """);
        Assert.Equal(new ResistorPart("R1", "IN", "A", new Toleranced(4700, 0.01, 50e-6)) { RatedWatts = 0.5 }, f.Part<ResistorPart>("R1"));
        Assert.Equal(new CapacitorPart("C1", "A", "GND", new Toleranced(10e-9, 0.1))
        { RatedVolts = 25, LeakageOhms = 1e9, SeriesOhms = 2 }, f.Part<CapacitorPart>("C1"));
        Assert.Equal(new InductorPart("L1", "A", "B", new Toleranced(10e-6, 0.2)) { SeriesOhms = 0.3 }, f.Part<InductorPart>("L1"));
        Assert.Equal(new PotentiometerPart("P1", "VP", "GND", "REF", new Toleranced(10e3, 0.2), 0.3), f.Part<PotentiometerPart>("P1"));
        Assert.Equal(("B", "VP", "1N4148"), (f.Part<DiodePart>("D1").From, f.Part<DiodePart>("D1").To, f.Part<DiodePart>("D1").Type.Name));
        Assert.Equal(DiodeKind.Zener, f.Part<DiodePart>("Z1").Type.Kind);
        Assert.Equal(DiodeKind.Schottky, f.Part<DiodePart>("S1").Type.Kind);
        var opamp = f.Part<OpAmpPart>("U1");
        Assert.Equal(("REF", "OUT", "OUT", "VP", "VN", "jfet-input"),
            (opamp.Plus, opamp.Minus, opamp.Output, opamp.PositiveRail, opamp.NegativeRail, opamp.Type.Name));
        Assert.Equal((0.0, 1.0), (f.Part<SwitchPart>("K1").Closed.At(0.9e-3), f.Part<SwitchPart>("K1").Closed.At(1.1e-3)));
        Assert.Equal(-9, f.Rails.Single(r => r.Name == "VN").Volts.Value);
    }

    [Theory]
    [InlineData("", 0, 2)]
    [InlineData("sine 1 V at 1 kHz", 0.25e-3, 3)]
    [InlineData("step to 5 V at 1 ms rise 2 ms", 2e-3, 3.5)]
    [InlineData("pulse to 5 V at 1 ms for 1 ms", 1.5e-3, 5)]
    [InlineData("pulse to 5 V at 1 ms for 1 ms every 4 ms", 5.5e-3, 5)]
    [InlineData("point 4 V at 2 ms", 1e-3, 3)]
    public void A_source_starts_from_its_voltage_and_follows_its_waveform(string wave, double time, double volts)
    {
        var f = Reading.FrontEnd(Bench + "source V2 from B to GND 2 V\n" + (wave.Length > 0 ? $"    {wave}\n" : "")
            + "resistor R3 from B to OUT 1k");
        Assert.Equal(volts, f.Part<SourcePart>("V2").Volts.At(time), 9);
    }

    [Fact]
    public void A_source_of_amperes_is_a_current_source_whose_waveform_is_in_amperes()
    {
        var f = Reading.FrontEnd(Bench + "source I1 from GND to OUT 4 mA\n    step to 20 mA at 1 ms\n    resistance 1 Mohm");
        var source = f.Part<CurrentSourcePart>("I1");
        Assert.Equal(("GND", "OUT", 1e6), (source.From, source.To, source.ParallelOhms));
        Assert.Equal((4e-3, 20e-3), (source.Amps.At(0.5e-3), source.Amps.At(2e-3)));
        Assert.Contains("a voltage or a current", Reading.OnlyDiagnostic(Bench + "source I1 from GND to OUT 4 ohm").Message);
        Assert.Contains("a current is needed", Reading.OnlyDiagnostic(Bench + "source I1 from GND to OUT 4 mA step to 5 V at 1 ms")
            .Message);
        Assert.Contains("would short it", Reading.OnlyDiagnostic(Bench + "source I1 from GND to OUT 4 mA resistance 0 ohm").Message);
    }

    [Fact]
    public void Several_points_are_joined_by_straight_lines()
    {
        var f = Reading.FrontEnd(Bench + """
            source V2 from B to GND 0 V
                point 1 V at 1 ms
                point 1 V at 2 ms
                point 0 V at 2 ms
            resistor R3 from B to OUT 1k
            """);
        Assert.Equal([(0, 0), (1e-3, 1), (2e-3, 1), (2e-3, 0)], Assert.IsType<PiecewiseLinear>(f.Part<SourcePart>("V2").Volts).Points);
    }

    [Fact]
    public void A_rating_may_follow_a_rail()
    {
        var pin = Reading.FrontEnd(Bench + """
            let margin = 0.3 V
            pin adc at OUT
                rated -margin .. VDD + margin
                injection 2 mA
                converts 12 bits over 0 V .. VDD
                samples 14 pF through 1k5 for 3 us
            """).Pins.Single();
        Assert.Equal(new Level(null, -0.3), pin.RatedLow);
        Assert.Equal(new Level("VDD", 0.3), pin.RatedHigh);
        Assert.Equal(2e-3, pin.InjectionAmps);
        Assert.Equal(new Converter(12, new LevelSpan(new Level(null, 0), new Level("VDD", 0))), pin.Converter);
        Assert.Equal(new Sampling(14e-12, 1500, 3e-6), pin.Sampling);
    }

    [Fact]
    public void Half_a_rail_is_no_level_that_a_rating_can_follow() =>
        Assert.Equal("FES313", Reading.OnlyDiagnostic(Bench + "pin adc at OUT rated 0 V .. VDD * 0.5").Code);

    [Fact]
    public void Requirements_keep_their_words()
    {
        var loaded = Reading.Load(Bench + """
            pin adc at OUT rated 0 V .. VDD converts 10 bits over 0 V .. VDD
            event "24 V on the terminal" at IN step to 24 V source 1 ohm
            require adc inside rating in every event   # always
            require adc inside rating in event "24 V on the terminal"
            require adc mapping error under 4 counts
            require adc inside rating with any single fault
            require R1 power under 50 %
            """);
        Assert.Equal<Requirement>(
        [
            new InsideRating("adc", null, "adc inside rating in every event"),
            new InsideRating("adc", "24 V on the terminal", "adc inside rating in event \"24 V on the terminal\""),
            new MappingError("adc", 4, "adc mapping error under 4 counts"),
            new InsideRatingWithSingleFault("adc", "adc inside rating with any single fault"),
            new PartPower("R1", 0.5, "R1 power under 50 %"),
        ], loaded.FrontEnd!.Requirements);
        Assert.Equal([8, 9, 10, 11, 12], loaded.FrontEnd.Requirements.Select(r => loaded.RequirementPlaces[r].Line));
    }

    [Fact]
    public void Each_disturbance_can_be_written_in_words()
    {
        string[] words =
        [
            "step to 24 V source 1 ohm at 2 ms for 50 ms", "step to 24 V source 1 ohm for 5 ms only",
                "surge 1.2/50 peak 500 V source 42 ohm", "combination-wave peak 500 V source 42 ohm", "discharge -4 kV",
            "burst peak 1 kV repeating 5 kHz times 2", "vehicle-pulse 2a system 12 V peak 37 V supply 13.5 V",
            "load-dump peak 87 V supply 13.5 V source 1 ohm for 200 ms suppressed to 35 V",
                "mains-pickup 230 V frequency 50 Hz through 100 pF",
            "radio-pickup 3 V frequency 10 MHz", "short to VDD", "open", "reversed", "lost for 5 ms", "late by 5 ms",
            "human-body 2 kV leads 2 nH", "discharge 15 kV air network 330 pF 2 kohm stray 0 F",
                "burst peak 1 kV repeating 5 kHz through 33 nF leads 1 nH pads 1 pF",
            "combination-wave peak 1 kV coupled arrester", "combination-wave peak 1 kV", "supply-test starting system 12 V level 2",
            "supply-test alternating system 24 V level 1 frequency 1 kHz", "mains 230 V frequency 50 Hz phase 45",
                "vehicle-pulse 2b system 12 V level 4 supply 13.5 V",
        ];
        var f = Reading.FrontEnd(Bench + string.Join("\n", words.Select((w, i) => $"event \"{i}\" at IN {w}")));
        Disturbance[] expected =
        [
            new StepTo(24, 1, 2e-3, 50e-3), new StepTo(24, 1, 1e-3, 5e-3) { IsBrief = true },
                new Surge(SurgeShape.Find("1.2/50")!, 500, 42), new CombinationWave(500, 42), new Discharge(-4e3),
            new Burst(1e3, 5e3, 2), new VehiclePulse(VehiclePulseShape.Find("2a", 12)!, 37, 13.5), new LoadDump(87, 13.5, 1, 0.2, 35),
                new MainsPickUp(230, 50, 100e-12),
            new RadioPickUp(3, 10e6), new ShortTo("VDD"), new OpenSource(), new ReversedSource(), new LostSource(1e-3, 5e-3),
                new LateSource(5e-3),
            new HumanBodyDischarge(2e3, strays: Strays.Usual with { LeadHenries = 2e-9 }),
            new Discharge(15e3, gun: DischargeGun.Find(330e-12, 2e3), isAir: true, strays: Strays.Usual with { AcrossFarads = 0 }),
            new Burst(1e3, 5e3, couplingFarads: 33e-9, strays: Strays.Usual with { LeadHenries = 1e-9, GroundFarads = 1e-12 }),
            CombinationWave.Through(SurgeCoupling.Find("arrester"), 1e3), CombinationWave.Through(null, 1e3),
                VehicleSupply.Of("starting", 12, 2),
            VehicleSupply.Of("alternating", 24, 1, 1e3), new Mains(230, 50, 45),
                new VehiclePulse(VehiclePulseShape.Find("2b", 12)!, 10, 13.5),
        ];
        Assert.Equal(expected, f.Events.Select(e => e.Disturbance));
        // What is written of a disturbance reads as the same one.
        var again = Reading.FrontEnd(Bench + string.Join("\n", expected.Select((d, i) => $"event \"{i}\" at IN {FrontEndText.Of(d)}")));
        Assert.Equal(expected, again.Events.Select(e => e.Disturbance));
    }

    [Fact]
    public void A_standards_own_test_level_stands_for_its_voltage()
    {
        string[] words =
        [
            "discharge level 4", "burst level 3 repeating 100 kHz", "combination-wave level 2 source 12 ohm",
            "vehicle-pulse 1 system 24 V level 4 supply 27 V", "radio-pickup level 2 frequency 1 MHz",
        ];
        var f = Reading.FrontEnd(Bench + string.Join("\n", words.Select((w, i) => $"event \"{i}\" at IN {w}")));
        Disturbance[] expected =
        [
            new Discharge(8e3), new Burst(1e3, 100e3), new CombinationWave(1e3, 12),
                new VehiclePulse(VehiclePulseShape.Find("1", 24)!, -600, 27), new RadioPickUp(3, 1e6),
        ];
        Assert.Equal(expected, f.Events.Select(e => e.Disturbance));
        Assert.Contains("4 (8 kV)", Reading.OnlyDiagnostic(Bench + "event \"e\" at IN discharge level 5").Message);
    }

    [Fact]
    public void A_combination_wave_goes_through_a_named_coupling_network_or_a_capacitor()
    {
        string[] words = ["combination-wave level 2 coupled line-to-ground", "combination-wave peak -1 kV coupled signal-line at 1 ms",
            "combination-wave peak 500 V source 42 ohm through 0.1 uF"];
        var f = Reading.FrontEnd(Bench + string.Join("\n", words.Select((w, i) => $"event \"{i}\" at IN {w}")));
        Disturbance[] expected = [new CombinationWave(1e3, 12, 10e-6, 9e-6), new CombinationWave(-1e3, 42, 1e-3, 0.5e-6),
            new CombinationWave(500, 42, 10e-6, 0.1e-6)];
        Assert.Equal(expected, f.Events.Select(e => e.Disturbance));
        var wrong = Reading.OnlyDiagnostic(Bench + "event \"e\" at IN combination-wave level 1 coupled signal-lines");
        Assert.Contains("line-to-ground (supply port, from a line to ground)", wrong.Expected);
        Assert.Contains("signal-line?", wrong.Suggestion);
    }

    [Fact]
    public void An_event_that_may_happen_either_way_is_two_and_so_is_what_is_required_of_it()
    {
        var f = Reading.FrontEnd(Bench
            + "pin adc at OUT\n    rated 0 V .. VDD\nevent \"surge\" at IN surge 1.2/50 peak 500 V source 42 ohm either way\n"
            + "require adc inside rating in event \"surge\"");
        Assert.Equal([("surge", 500.0), ("surge, the other way", -500.0)], f.Events.Select(e => (e.Name, e.Disturbance.DriveVolts!.Value)));
        Assert.Equal(["surge", "surge, the other way"], f.Requirements.Cast<InsideRating>().Select(r => r.Event));
        Assert.Contains("no polarity", Reading.OnlyDiagnostic(Bench + "event \"e\" at IN open either way").Message);
    }

    [Fact]
    public void An_event_may_be_several_things()
    {
        var f = Reading.FrontEnd(Bench
            + "event \"e\" at IN\n    step to 24 V source 1 ohm at 5 ms\n    with VDD lost at 1 ms, OUT short to GND at 2 ms");
        Assert.Equal(new Together(new StepTo(24, 1, 5e-3), [("VDD", new LostSource(1e-3)), ("OUT", new ShortTo("GND", 0.1, 2e-3))]),
            f.Events.Single().Disturbance);
    }

    [Fact]
    public void A_burst_on_a_rail_has_the_levels_of_supply_ports()
    {
        var f = Reading.FrontEnd(Bench
            + "event \"a\" at VDD burst level 4 repeating 5 kHz\nevent \"b\" at IN burst level 4 repeating 5 kHz");
        Assert.Equal([4e3, 2e3], f.Events.Select(e => e.Disturbance.DriveVolts!.Value));
    }

    [Theory]
    [InlineData("Model,MSO\nsource,CH1\n\n-1e-3,0\n0,12\n2e-3,\"6\"\n")]
    [InlineData("time (s);volts (V)\n-1e-3;0\n0;12\n2e-3;6")]
    [InlineData("-1e-3\t0\r\n0\t12\r\n2e-3\t6\r\n")]
    public void A_wave_is_read_as_oscilloscopes_save_it(string csv)
    {
        string file = Path.GetTempFileName();
        File.WriteAllText(file, csv);
        var f = Reading.FrontEnd(Bench + $"event \"e\" at IN waveform \"{file}\" source 50 ohm");
        File.Delete(file);
        Assert.Equal(new RecordedWave(file, [(0, 0), (1e-3, 12), (3e-3, 6)], 50), f.Events.Single().Disturbance);
    }

    [Theory]
    [InlineData("1,2\nx,3\n4,5", "line 2 has no time and no volts")]
    [InlineData("names only", "less than two lines")]
    public void A_wave_that_cannot_be_read_is_told_with_its_line(string csv, string told)
    {
        string file = Path.GetTempFileName();
        File.WriteAllText(file, csv);
        string message = Reading.OnlyDiagnostic(Bench + $"event \"e\" at IN waveform \"{file}\" source 50 ohm").Message;
        File.Delete(file);
        Assert.Contains(told, message);
        Assert.Contains("no such file", Reading.OnlyDiagnostic(Bench + "event \"e\" at IN waveform \"nowhere.csv\" source 50 ohm").Message);
    }

    [Fact]
    public void A_let_may_be_used_before_it_is_written() =>
        Assert.Equal(9400, Reading.FrontEnd(Bench + "resistor R3 from OUT to GND twice\nlet twice = 2 * once\nlet once = 4k7")
            .Part<ResistorPart>("R3").Ohms.Value);

    [Fact]
    public void The_temperature_is_25_degrees_unless_given()
    {
        Assert.Equal(25, Reading.FrontEnd(Bench).Celsius);
        Assert.Equal(-40, Reading.FrontEnd(Bench + "temperature -40 C").Celsius);
    }

    [Theory]
    [InlineData("\n")]
    [InlineData("\r\n")]
    [InlineData("\r")]
    public void Line_ends_of_any_system_are_read(string end)
    {
        string text = "\uFEFF" + Bench.ReplaceLineEndings("\n").Replace("\n", end) + "resistor R3 from OUT to GND 1k\trated 1 W # note";
        Assert.Equal(1, Reading.FrontEnd(text).Part<ResistorPart>("R3").RatedWatts);
    }

    [Fact]
    public void Tabs_indent_too() =>
        Assert.Equal(220,
            Reading.FrontEnd(Bench + "sensor s drives IN2\n\tspan 0 V .. 1 V\n\tsource 220 ohm\nresistor R3 from IN2 to OUT 1k")
                .Sensors.Single().SourceOhms);
}
