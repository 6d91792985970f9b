using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Faults;
using FrontEndSim.Language.Writing;

namespace FrontEndSim.Language.Tests;

/// <summary>Sensors with a quantity and a unit of their own.</summary>
public class SensorTests
{
    private const string Bench = """
        circuit "bench"
        rail VDD 3.3 V
        resistor R1 from VDD to IN 10k
        pin adc at IN converts 12 bits over 0 V .. VDD

        """;

    private static Sensor Only(string line) => Reading.FrontEnd(Bench + line).Sensors.Single();

    [Fact]
    public void A_thermistor_is_read_with_its_tolerances()
    {
        var sensor = Only("sensor bath of temperature -20 C .. 80 C from IN to GND thermistor 10 kohm 1% at 25 C beta 3977 K 0.75%");
        Assert.Equal(("temperature", "°C", new Span(-20, 80), "IN", "GND"),
            (sensor.Quantity, sensor.UnitText, sensor.Span, sensor.Node, sensor.Other));
        Assert.Equal(new ThermistorLaw(new(10_000, 0.01), 25, new(3977, 0.0075)), sensor.Law);
    }

    [Theory]
    [InlineData("of level 0 mm .. 3000 mm drives IN gives 0.5 V .. 2.5 V source 1k", "mm", 1500, 1.5)]
    [InlineData("of light 0 lx .. 2000 lx drives IN gives 0 A .. 20 uA", "lx", 1000, 10e-6)]
    [InlineData("of humidity 0% .. 100% drives IN gives 0.8 V .. 2.4 V source 1k", "%", 0.5, 1.6)]
    [InlineData("of speed 0 km/h .. 40 km/h drives IN gives 2 V .. 1 V source 1k", "km/h", 10, 1.75)]
    [InlineData("of current 4 mA .. 20 mA drives IN", "mA", 12, 12e-3)]
    [InlineData("of temperature 0 C .. 50 C drives IN follows 500 mV + 10 mV * temperature source 1k", "°C", 25, 0.75)]
    [InlineData("of temperature 0 C .. 50 C from IN to GND follows 10 kohm * exp(3977 * (1 / (temperature + 273.15) - 1 / 298.15))", "°C",
        25, 10_000)]
    [InlineData("of angle 0 deg .. 90 deg drives IN potentiometer 5 kohm from VDD to GND over 5% .. 95%", "deg", 45, 0.5)]
    [InlineData("of pressure 0 bar .. 10 bar drives IN gives 10% .. 90% of VDD source 1k", "bar", 10, 0.9)]
    [InlineData("of field -30 mT .. 30 mT drives IN hall 60 mV per mT at 5 V on VDD source 1k", "mT", 10, 0.62)]
    [InlineData("of field -30 mT .. 30 mT drives IN hall -40 mV per mT at 3.3 V on VDD rests at 45% linear over 4% .. 96% source 1k", "mT",
        10, 0.45 - 0.4 / 3.3)]
    [InlineData("of force 0 N .. 50 N drives IN against VDD bridge 350 ohm from VDD to GND gives 2 mV for 1 V", "N", 25, 1e-3)]
    [InlineData("of weight 0 kg .. 4 kg drives IN follows 10 mV * weight^2 source 1k", "kg", 3, 0.09)]
    [InlineData("of temperature 0 C .. 100 C from IN to GND platinum 1 kohm", "°C", 100, 1385.05)]
    public void Any_quantity_becomes_volts_ohm_or_amperes(string words, string unit, double at, double output)
    {
        var sensor = Only("sensor s " + words);
        Assert.Equal(unit, sensor.UnitText);
        Assert.Equal(output, sensor.OutputAt(at), output * 1e-5);
    }

    [Theory]
    [InlineData("0 V .. VDD", 0, 1)]
    [InlineData("10% * VDD .. VDD * 0.9", 0.1, 0.9)]
    [InlineData("VDD / 10 .. VDD - VDD / 10", 0.1, 0.9)]
    public void A_span_in_proportion_to_a_rail_moves_with_it_and_is_a_voltage_all_the_same(string span, double low, double high)
    {
        var sensor = Only($"sensor s drives IN span {span} source 1k");
        Assert.Equal("VDD", Assert.IsType<ShareOfRail>(sensor.Wiring).Rail);
        Assert.True(sensor.IsVoltage);
        Assert.Equal(low * 3.3, sensor.Span.Low, 1e-12);
        Assert.Equal(high * 3.3, sensor.OutputAt(sensor.Span.High), 1e-12);
        var written = Reading.FrontEnd(FrontEndText.Of(Reading.FrontEnd(Bench + $"sensor s drives IN span {span} source 1k")))
            .Sensors.Single();
        Assert.Equal(sensor.Wiring, written.Wiring);
        var (law, again) = ((StraightLaw)sensor.Law!, (StraightLaw)written.Law!);
        Assert.Equal(law.AtLow, again.AtLow, 1e-12);
        Assert.Equal(law.AtHigh, again.AtHigh, 1e-12);
    }

    [Theory]
    [InlineData("0.5 V .. VDD")]
    [InlineData("0 V .. VDD - 0.1 V")]
    [InlineData("0 V .. VDD * VDD / 4 V")]
    public void A_span_that_follows_a_rail_in_another_way_is_answered(string span) =>
        Assert.Equal("FES313", Reading.OnlyDiagnostic(Bench + $"sensor s drives IN span {span} source 1k").Code);

    [Fact]
    public void What_a_rail_strays_is_no_error_of_a_sensor_whose_span_is_of_that_rail()
    {
        // Both the sensor and the converter are 5 % high or low together: half a count is left of 4096.
        var frontEnd = Reading.FrontEnd("""
            circuit "ratiometric"
            rail VDD 5 V tolerance 5%
            sensor s drives IN span 0 V .. VDD
            resistor R1 from IN to PIN 1k 1%
            pin adc at PIN converts 12 bits over 0 V .. VDD
            require adc mapping error under 1 counts on every board
            """);
        var result = CheckStudy.Run(frontEnd, cancel: TestContext.Current.CancellationToken).Requirements.Single();
        Assert.InRange(result.Found!.Value.Value, 0.5, 0.6);
    }

    [Fact]
    public void A_table_stands_in_the_file_or_beside_it()
    {
        var written =
            (TableLaw)Only("sensor s of temperature 0 C .. 50 C from IN to GND\n    at 0 C gives 32555 ohm\n    at 25 C gives 10 "
                + "kohm\n    at 50 C gives 3605 ohm").Law!;
        Assert.Equal([new(0, 32555), new(25, 10_000), new(50, 3605)], written.Points);
        string folder = Directory.CreateTempSubdirectory("table").FullName;
        try
        {
            File.WriteAllText(Path.Combine(folder, "ntc.csv"), "temperature (C),resistance (kohm)\n50,3.605\n25,10\n0,32.555\n");
            string path = Path.Combine(folder, "test.fes");
            var result = Binding.CircuitFile.Load(new Text.SourceFile(path,
                Bench + "sensor s of temperature 0 C .. 50 C from IN to GND table \"ntc.csv\" in kohm"));
            Assert.Equal(written.Points, ((TableLaw)result.FrontEnd!.Sensors.Single().Law!)
                .Points.Select(p => new SensorPoint(p.Quantity, Math.Round(p.Output, 6))));
        }
        finally
        {
            Directory.Delete(folder, true);
        }
    }

    [Theory]
    [InlineData("of temperature -20 C .. 80 C from IN to GND", "FES365")] // no law
    [InlineData("drives IN thermistor 10k at 25 C beta 3977", "FES365")] // nothing that is measured
    [InlineData("of temperature -20 C .. 80 C from IN to GND platinum 1k gives 1 kohm .. 2 kohm", "FES365")] // two laws
    [InlineData("of temperature -20 C .. 80 C drives IN platinum 1k", "FES365")] // a resistance stands between nodes
    [InlineData("of temperature -20 C .. 80 C from IN to GND gives 1 V .. 2 V", "FES365")] // a voltage drives one
    [InlineData("of temperature -20 C .. 900 C from IN to GND platinum 1k", "FES366")] // IEC 60751 ends at 850 °C
    [InlineData("of temperature -20 C .. 80 C from IN to GND platinum 1k class D", "FES350")]
    [InlineData("of level 0 mm .. 10 mm from IN to GND platinum 1k", "FES315")] // millimetres are no temperature
    [InlineData("of angle -5 deg .. 5 deg drives IN follows 1 V * angle^2", "FES367")] // the same at both ends
    [InlineData("of angle -5 deg .. 9 deg drives IN follows 1 V * angle^2", "FES367")] // turns at 0
    [InlineData("of temperature 0 C .. 50 C from IN to GND\n    at 0 C gives 30k\n    at 25 C gives 10k\n    at 50 C gives 12k", "FES367")]
    // the table ends at 25 °C
    [InlineData("of temperature 0 C .. 50 C from IN to GND\n    at 0 C gives 30k\n    at 25 C gives 10k", "FES366")]
    [InlineData("of temperature 0 C .. 50 C from IN to GND\n    at 0 C gives 30k\n    at 25 C gives 1 V", "FES315")]
    [InlineData("of temperature 0 C .. 50 C from IN to GND table \"nowhere.csv\" in ohm", "FES368")]
    [InlineData("of temperature 0 C .. 50 C drives IN follows 10 mV * heat", "FES318")]
    [InlineData("of temperature 0 C .. 50 C drives IN follows 10 * temperature", "FES315")]
    // nobody says what the cold junction is known to
    [InlineData("of temperature 0 C .. 400 C drives IN thermocouple K source 1k", "FES365")]
    [InlineData("of force 0 N .. 50 N drives IN bridge 350 ohm from VDD to GND gives 2 mV for 1 V", "FES365")] // one output alone
    [InlineData("of force 0 N .. 50 N drives IN against VDD bridge 350 ohm from EXC to GND gives 2 mV for 1 V", "FES370")] // no excitation
    [InlineData("of temperature 0 C .. 50 C from IN to LOST platinum 1k", "FES370")] // its current goes nowhere
    [InlineData("of light 0 lx .. 50 lx drives LOST gives 0 A .. 1 uA", "FES370")]
    [InlineData("of pressure 0 bar .. 10 bar drives IN gives 10% .. 110% of VDD", "FES310")]
    [InlineData("of temperature 50 C .. 0 C drives IN gives 0 V .. 1 V", "FES312")]
    [InlineData("of temperature 0 C .. 50 mm drives IN gives 0 V .. 1 V", "FES315")]
    public void A_sensor_that_makes_no_sense_is_answered_in_one_line(string words, string code) =>
        Assert.Equal(code, Reading.Load(Bench + "sensor s " + words).Diagnostics.Single(d => d.IsError).Code);

    [Fact]
    public void The_track_of_a_potentiometer_is_all_the_path_that_its_wiper_needs() => Assert.DoesNotContain(Reading.Load(
        "circuit \"t\"\nrail VDD 3.3 V\nsensor s of angle 0 deg .. 90 deg drives W potentiometer 5 kohm from VDD to GND\n"
            + "pin adc at W converts 12 bits over 0 V .. VDD").Diagnostics, d => d.IsError);

    [Theory]
    [InlineData("VDD", null)]
    [InlineData("Vdd", "FES409")]
    public void A_node_named_nearly_like_a_rail_is_warned_of(string node, string? code) => Assert.Equal(code, Reading.Load(
        "circuit \"t\"\nrail VDD 3.3 V\nsensor s drives IN span 0 V .. 3 V source 1 kohm\nschottky D1 from IN to " + node
            + " BAT54\ncapacitor C1 from " + node + " to GND 100 nF\nresistor R1 from IN to VDD 10k").Diagnostics.SingleOrDefault()?.Code);

    [Fact]
    public void A_track_of_which_one_end_leads_nowhere_carries_nothing() => Assert.Equal("FES370", Reading.Load(
        "circuit \"t\"\nrail VDD 3.3 V\nsensor s of angle 0 deg .. 90 deg drives W potentiometer 5 kohm from LOST to GND\n"
            + "pin adc at W converts 12 bits over 0 V .. VDD").Diagnostics.Single(d => d.IsError).Code);

    [Theory]
    [InlineData("require adc reading error under 0.5 C", null)]
    [InlineData("require adc reading error under 0.5 C over 0 C .. 70 C", null)]
    [InlineData("require adc reading error under 5 mm", "FES315")]
    [InlineData("require adc reading error under 0 C", "FES310")]
    [InlineData("require adc reading error under 100 C", "FES310")] // as wide as the span: it holds of itself
    [InlineData("require adc reading error under 0.5 C over 0 C .. 90 C", "FES310")]
    [InlineData("require adc mapping error under 3 counts", "FES369")]
    public void A_reading_is_required_in_the_sensors_own_unit(string line, string? code)
    {
        var result = Reading.Load(Bench + "sensor bath of temperature -20 C .. 80 C from IN to GND thermistor 10k at 25 C beta 3977\n"
            + line);
        Assert.Equal(code, result.Diagnostics.FirstOrDefault(d => d.IsError)?.Code);
    }

    [Theory]
    [InlineData("of temperature -20 C .. 80 C from IN to GND thermistor 10 kohm 1% at 25 C beta 3977 K 0.75%")]
    [InlineData("of temperature -20 C .. 80 C from IN to VDD steinhart-hart a 0.001129148 b 0.000234125 c 8.76741e-08 1%")]
    [InlineData("of temperature 0 C .. 400 C from IN to GND platinum 1 kohm class A source 400 mohm")]
    [InlineData("of temperature 0 C .. 400 C drives IN against GND thermocouple K cold-junction within 1 C accuracy 1.5 C plus 0.4% "
        + "source 10 ohm")]
    [InlineData("of humidity 0% .. 100% drives IN gives 800 mV .. 2.4 V sensitivity-error 2% capacitance 1 nF source 1 kohm")]
    [InlineData("of temperature 0 C .. 50 C drives IN follows 500 mV + 10 mV * temperature source 1 kohm")]
    [InlineData("of angle 0 deg .. 90 deg drives IN potentiometer 5 kohm from VDD to GND over 5% .. 95%")]
    [InlineData("of angle 0 deg .. 90 deg drives IN potentiometer 5 kohm 10% from VDD to GND over 5% .. 95%")]
    [InlineData("of pressure 0 bar .. 10 bar drives IN gives 10% .. 90% of VDD sensitivity-error 1% source 1 kohm")]
    [InlineData("of force 0 N .. 50 N drives IN against VDD bridge 350 ohm from VDD to GND gives 2 mV for 1 V")]
    [InlineData("of temperature -20 C .. 80 C from IN to GND thermistor 10 kohm at 25 C beta 3977 K dissipation 7 mW/K")]
    [InlineData("of pressure 0 bar .. 10 bar drives IN gives 10% .. 90% of VDD withstands 20 mA source 1 kohm")]
    [InlineData("of force 0 N .. 50 N drives IN against VDD bridge 350 ohm from VDD to GND gives 2 mV for 1 V rated 400 mW stands 12 V")]
    [InlineData("of temperature -20 C .. 80 C from IN to GND thermistor 10 kohm at 25 C beta 3977 K rated 50 mW")]
    public void A_sensor_is_written_as_it_is_read(string words)
    {
        var before = Reading.FrontEnd(Bench + "sensor s " + words);
        var after = Reading.FrontEnd(FrontEndText.Of(before));
        var (a, b) = (before.Sensors.Single(), after.Sensors.Single());
        Assert.Equal(a with { Law = null }, b with { Law = null });
        Assert.Equal(a.Law!.Text, b.Law!.Text);
        Assert.All((double[])[a.Span.Low, a.Span.Middle, a.Span.High],
            x => Assert.Equal(a.OutputAt(x), b.OutputAt(x), 1e-9 * Math.Abs(a.OutputAt(x))));
        Assert.Equal((a.Law.OffsetError, a.Law.ProportionalError), (b.Law.OffsetError, b.Law.ProportionalError));
    }

    [Theory]
    [InlineData("2^3^2 * 1 ohm", 512)]
    [InlineData("2^-1 * 1 kohm", 500)]
    [InlineData("-(-2)^3 * 1 kohm", 8000)]
    [InlineData("(3 V)^2 / 1 mW", 9000)]
    [InlineData("2 * 3^2 * 1 ohm", 18)]
    public void Values_are_raised_to_powers(string value, double ohms) =>
        Assert.Equal(ohms, Reading.FrontEnd("circuit \"x\"\nsource V1 from A to GND 1 V\nresistor R2 from A to GND " + value)
            .Part<FrontEnds.Parts.ResistorPart>("R2").Ohms.Value, 1e-9);

    [Theory]
    [InlineData("(3 V)^0.5", "FES317")]
    [InlineData("2^(1 V)", "FES317")]
    public void A_unit_is_raised_to_whole_powers_alone(string value, string code) =>
        Assert.Equal(code, Reading.Load("circuit \"x\"\nlet A = " + value
            + "\nsource V1 from A1 to GND 1 V\nresistor R2 from A1 to GND A").Diagnostics.First(d => d.IsError).Code);

    [Fact]
    public void Alarm_levels_are_those_of_NE_43_or_of_the_transmitter_and_are_written_as_they_are_read()
    {
        const string loop = "sensor main of pressure 0 bar .. 10 bar drives IN gives 4 mA .. 20 mA alarm-levels ";
        var ne43 = Only(loop + "ne43");
        Assert.Equal(AlarmLevels.Ne43, ne43.Alarms);
        // 3.8 mA is an eightieth of 16 mA below 4 mA: 0.125 bar below nothing.
        Assert.Equal(-0.125, ne43.MeasuringSpan.Low, 1e-9);
        Assert.Equal(new AlarmLevels(3.6e-3, 21.6e-3, new Span(3.9e-3, 20.8e-3)),
            Only(loop + "3.6 mA and 21.6 mA measuring 3.9 mA .. 20.8 mA").Alarms);
        Assert.Equal("FES365", Reading.OnlyDiagnostic(Bench + loop.Replace("20 mA", "21 mA") + "ne43").Code);
        Assert.Equal("FES365", Reading.OnlyDiagnostic(Bench
            + "sensor s of level 0 mm .. 10 mm drives IN gives 0 V .. 1 V source 1k alarm-levels ne43").Code);
    }

    [Fact]
    public void A_transmitter_drives_its_current_up_to_a_voltage_or_as_long_as_its_supply_leaves_enough()
    {
        const string loop = "sensor main of pressure 0 bar .. 10 bar drives IN gives 4 mA .. 20 mA compliance ";
        Assert.Equal(new Compliance(10, null), Only(loop + "10 V").Compliance);
        Assert.Equal(new Compliance(9, "VDD"), Only(loop + "9 V below VDD").Compliance);
        Assert.Contains("compliance 9 V below VDD", FrontEndText.Of(Reading.FrontEnd(Bench + loop + "9 V below VDD"), []));
        Assert.Equal("FES304", Reading.OnlyDiagnostic(Bench + loop + "9 V below VLOP").Code);
        Assert.Equal("FES365", Reading.OnlyDiagnostic(Bench
            + "sensor s of level 0 mm .. 10 mm drives IN gives 0 V .. 1 V source 1k compliance 9 V").Code);
    }

    [Fact]
    public void Hum_return_wire_and_averaging_are_written_as_they_are_read()
    {
        const string lines = """
            sensor tank of level 0 mm .. 3000 mm drives IN
                gives 0.5 V .. 2.5 V
                source 1 kohm
                hum 40 mV at 50 Hz 1% through 20 pF
                return 0.8 ohm carries 0 mA .. 15 mA
                ground-offset 5 mV
            pin slow at IN converts 12 bits over 0 V .. VDD averages 16 samples at 800 Hz
            require slow hum under 2 counts
            """;
        var frontEnd = Reading.FrontEnd(Bench + lines);
        var sensor = frontEnd.Sensors.Single();
        Assert.Equal(new Hum(0.04, 50, 0.01, 20e-12), sensor.Hum);
        Assert.Equal(new ReturnWire(0.8, new Span(0, 0.015), 5e-3), sensor.Return);
        Assert.Equal(new Averaging(16, 800), frontEnd.Pins[1].Averaging);
        Assert.Equal(new HumUnder("slow", new(2, Unit.Count), "slow hum under 2 counts"), frontEnd.Requirements.Single());
        string written = FrontEndText.Of(frontEnd, []);
        Assert.All(new[] { "hum 40 mV at 50 Hz 1% through 20 pF", " carries 0 A .. 15 mA", "ground-offset 5 mV",
            "averages 16 samples at 800 Hz" },
            line => Assert.Contains(line, written));
        Assert.Equal("FES372", Reading.OnlyDiagnostic(Bench + lines.Replace("hum 40 mV at 50 Hz 1% through 20 pF", "accuracy 1 mm")).Code);
        Assert.Equal("FES310", Reading.OnlyDiagnostic(Bench
            + "sensor s of field -30 mT .. 30 mT drives IN hall 90 mV per mT at 5 V on VDD source 1k").Code);
        Assert.Equal("FES315", Reading.OnlyDiagnostic(Bench
            + "sensor s of field -30 mT .. 30 mT drives IN hall 60 mV per T at 5 V on VDD source 1k").Code);
        Assert.Contains("hall 60 mV per mT at 5 V on VDD rests at 50% linear over 5% .. 95%",
            FrontEndText.Of(Reading.FrontEnd(Bench
                + "sensor s of field -30 mT .. 30 mT drives IN hall 60 mV per mT at 5 V on VDD source 1k"), []));
    }

    [Fact]
    public void What_alternates_is_said_by_its_amplitude_and_read_over_whole_periods()
    {
        const string heater = "sensor heater of current 0 A .. 14 A drives IN gives 0 mA .. 7 mA accuracy 0.2 A alternates at 50 Hz 1%";
        const string reading =
            "\nreading amps from adc as rms of 20 samples a period over 10 periods\nrequire amps reading error under 0.5 A over 1 A "
                + ".. 10 A";
        var frontEnd = FrontEndOf(heater + " as rms" + reading);
        var sensor = frontEnd.Sensors.Single();
        Assert.Equal(new Alternation(50, 0.01, Amplitude.Rms, new Span(0, 14)), sensor.Alternation);
        // A sine of 14 A rms goes from -19.8 A to 19.8 A, and gives 0.5 mA for an ampere at any instant.
        Assert.Equal(14 * Math.Sqrt(2), sensor.Span.High, 1e-9);
        Assert.Equal(-5e-3, sensor.OutputAt(-10), 1e-12);
        Assert.Equal(new AlternatingReading("amps", "heater", "adc", Amplitude.Rms, 20, 10), frontEnd.AlternatingReadings.Single());
        Assert.Equal(new AlternatingReadingError("amps", 0.5, "A", new Span(1, 10), "amps reading error under 0.5 A over 1 A .. 10 A"),
            frontEnd.Requirements.Single());
        string written = FrontEndText.Of(frontEnd, []);
        Assert.Contains("sensor heater of current 0 A .. 14 A drives IN", written);
        Assert.Contains("accuracy 0.2 A", written);
        Assert.Contains("alternates at 50 Hz 1% as rms", written);
        Assert.Contains("reading amps from adc as rms of 20 samples a period over 10 periods", written);
        Assert.Equal(10, FrontEndOf(heater.Replace("0 A .. 14 A", "0 A .. 10 A") + " as peak").Sensors.Single().Span.High, 1e-9);
        Assert.Equal("FES365", Reading.OnlyDiagnostic(Bench + heater.Replace("0 mA", "1 mA")).Code);
        Assert.Equal("FES372", Reading.OnlyDiagnostic(Bench + heater[..heater.IndexOf(" alternates", StringComparison.Ordinal)]
            + "\nreading amps from adc as rms of 20 samples a period").Code);
        Assert.Equal("FES372", Reading.OnlyDiagnostic(Bench + heater + "\nreading amps from adc as median of 20 samples a period").Code);

        static FrontEnd FrontEndOf(string lines) => Reading.FrontEnd(Bench + lines);
    }

    [Fact]
    public void Faults_are_required_to_be_detectable_of_every_pin_or_of_one()
    {
        var frontEnd = Reading.FrontEnd(Bench + """
            sensor bath of temperature -20 C .. 80 C from IN to GND platinum 1 kohm
            require every sensor fault detectable
            require every fault detectable
            require adc sensor fault detectable
            """);
        Assert.Equal<Requirement>(
        [
            new FaultsDetectable(null, DetectionScope.Sensors, "every sensor fault detectable"),
            new FaultsDetectable(null, DetectionScope.All, "every fault detectable"),
            new FaultsDetectable("adc", DetectionScope.Sensors, "adc sensor fault detectable"),
        ], frontEnd.Requirements);
        Assert.Equal("FES220", Reading.OnlyDiagnostic(Bench + "sensor s of current 4 mA .. 20 mA drives IN\nrequire every clean edges")
            .Code);
    }

    [Theory]
    [InlineData("sensor cell of force 0 N .. 50 N drives IN against SN bridge 350 ohm from EXC to GND gives 2 mV for 1 V\nresistor "
        + "R2 from SN to GND 1 Mohm\ncapacitor C1 from EXC to GND 1u", "no excitation: nothing feeds EXC")]
    [InlineData("sensor cell of force 0 N .. 50 N drives IN against SN bridge 350 ohm from VDD to VDD gives 2 mV for 1 V\nresistor "
        + "R2 from SN to GND 1 Mohm", "no excitation: both its ends are at VDD")]
    [InlineData("sensor lamp of light 0 lx .. 2000 lx drives X gives 0 A .. 20 uA\ncapacitor C1 from X to GND 1n\nsensor bath of "
        + "temperature 0 C .. 80 C from IN to GND platinum 1 kohm", "no path for its current: at X a capacitor alone is connected")]
    public void A_sensor_without_a_path_for_its_current_and_a_bridge_without_excitation_are_told_so(string lines, string said)
    {
        var only = Reading.OnlyDiagnostic(Bench + lines);
        Assert.Equal("FES370", only.Code);
        Assert.Contains(said, only.Message, StringComparison.Ordinal);
        Assert.NotNull(only.Expected);
    }

    private const string Couple = """
        sensor bath of temperature 20 C .. 420 C drives TC against GND thermocouple K cold-junction measured
        sensor board of temperature 0 C .. 60 C from IN to GND platinum 1 kohm
        resistor R2 from TC to GND 1 Mohm
        pin hot at TC converts 16 bits over 0 V .. 30 mV

        """;

    [Fact]
    public void A_reading_combines_pins_by_a_formula_or_a_couple_with_its_cold_junction()
    {
        var frontEnd = Reading.FrontEnd(Bench + Couple + """
            let k = 2
            reading solder from hot and adc
            reading share from adc and hot by (adc - k * hot) / sqrt(1 - adc)
            require solder reading error under 2 C
            """);
        Assert.Equal(new CombinedReading("solder", "bath", ["hot", "adc"]), frontEnd.Readings[0]);
        Assert.Equal(("board", "(adc - k * hot) / sqrt(1 - adc)"), (frontEnd.Readings[1].Sensor, frontEnd.Readings[1].Formula));
        ShareExpression adc = new PinShare(0);
        Assert.Equal(new Calculation(CalculationKind.Quotient,
            new Calculation(CalculationKind.Difference, adc, new Calculation(CalculationKind.Product, new FixedNumber(2), new PinShare(1))),
            new Calculation(CalculationKind.SquareRoot, new Calculation(CalculationKind.Difference, new FixedNumber(1), adc))), frontEnd.Readings[1].Expression);
        Assert.Equal((0.75 - 2 * 0.25) / 0.5, frontEnd.Readings[1].Expression!.Of([0.75, 0.25]), 1e-12);
        Assert.Equal(new CombinedReadingError("solder", 2, "°C", null, "solder reading error under 2 C"),
            Assert.Single(frontEnd.Requirements));
    }

    [Theory]
    [InlineData("", "no reading combines it")]
    [InlineData("reading solder from adc and hot", "Without a formula")]
    [InlineData("reading solder from hot and adc\nreading x from adc and hot by adc * VDD", "only a plain number can come")]
    [InlineData("reading solder from hot and adc\nrequire hot reading error under 2 C", "measured at another pin")]
    public void A_reading_that_cannot_be_is_refused_in_a_line(string lines, string said) =>
        Assert.Contains(Reading.Load(Bench + Couple + lines).Diagnostics, d => d.Message.Contains(said, StringComparison.Ordinal));

    [Theory]
    [InlineData("sensor door from IN to GND contact 100 mohm open 10 Mohm bounces for 2 ms wets 1 mA .. 100 mA")]
    [InlineData("sensor flow of flow 1 l/min .. 30 l/min drives IN gives 7 Hz .. 210 Hz pulses 0 V .. 5 V duty 40% .. 60% accuracy "
        + "0.1 l/min plus 1% source 1k")]
    [InlineData("sensor flow of flow 1 l/min .. 30 l/min from IN to GND gives 7 Hz .. 210 Hz pulses 10 Mohm .. 100 ohm")]
    [InlineData("sensor rain of rate 0 mm/h .. 100 mm/h from IN to GND gives 0 Hz .. 0.14 Hz contact 150 mohm bounces for 1 ms duty "
        + "0.5% .. 1%")]
    [InlineData("sensor knock of force 0 N .. 5 N drives IN gives 0 nAs .. 0.5 nAs alternates at 1 kHz as peak capacitance 470 pF")]
    [InlineData("source V1 from OSC to GND 0 V sine 1 V at 10 kHz\nsensor damp of humidity 10% .. 90% from OSC to IN gives 160 pF .. "
        + "200 pF excited by V1 accuracy 2%")]
    [InlineData("sensor cell of pressure -1 bar .. 1 bar drives IN against LOW gives -100 mV .. 100 mV common-mode 1 V .. 2 V")]
    public void What_is_told_by_states_pulses_charges_or_capacitances_is_written_as_it_is_read(string line)
    {
        var read = Reading.FrontEnd(Bench + line);
        string written = FrontEndText.Of(read);
        Assert.Equal(read.Sensors.Single(), Reading.FrontEnd(written).Sensors.Single());
    }

    [Theory]
    [InlineData("from IN to GND contact 100 mohm gives 1 ohm .. 2 ohm", "FES365")]
    [InlineData("from IN to GND contact 100 ohm open 10 ohm", "FES310")]
    [InlineData("drives IN contact 100 mohm", "FES365")]
    [InlineData("of flow 1 l/min .. 30 l/min drives IN gives 7 Hz .. 210 Hz", "FES365")]
    [InlineData("of flow 1 l/min .. 30 l/min drives IN gives 7 Hz .. 210 Hz pulses 5 V .. 5 V", "FES310")]
    [InlineData("of flow 1 l/min .. 30 l/min drives IN gives 1 V .. 2 V pulses 0 V .. 5 V", "FES365")]
    [InlineData("of flow 1 l/min .. 30 l/min drives IN gives 7 Hz .. 210 Hz pulses 0 V .. 5 V contact 1 ohm", "FES365")]
    [InlineData("of force 0 N .. 5 N drives IN gives 0 nAs .. 0.5 nAs capacitance 470 pF", "FES365")]
    [InlineData("of force 0 N .. 5 N drives IN gives 0 nAs .. 0.5 nAs alternates at 1 kHz", "FES365")]
    [InlineData("of humidity 10% .. 90% from IN to GND gives 160 pF .. 200 pF", "FES365")]
    [InlineData("of humidity 10% .. 90% from IN to GND gives 160 pF .. 200 pF excited by V9", "FES365")]
    [InlineData("of humidity 10% .. 90% from IN to GND gives 1 kohm .. 2 kohm excited by V9", "FES365")]
    [InlineData("of level 0 mm .. 10 mm drives IN gives 0 V .. 1 V common-mode 1 V .. 2 V", "FES365")]
    public void What_shows_in_changes_alone_says_how_it_changes(string words, string code) =>
        Assert.Equal(code, Reading.Load(Bench + "sensor s " + words).Diagnostics.First(d => d.IsError).Code);

    [Fact]
    public void A_pin_counts_pulses_for_a_time_and_a_reading_error_is_required_of_it()
    {
        const string flow =
            "circuit \"b\"\nrail VCC 5 V\nsensor flow of flow 1 l/min .. 30 l/min drives IN gives 7 Hz .. 210 Hz pulses 0 V .. 5 V\n"
            + "resistor R1 from IN to PIN 1k\npin input at PIN type cmos-hc on VCC";
        string whole = flow + " counts pulses for 2 s within 0.1%\nrequire input reading error under 0.2 l/min over 5 l/min .. 20 l/min";
        string written = FrontEndText.Of(Reading.FrontEnd(whole));
        Assert.Contains("counts pulses for 2 s within 0.1%", written);
        Assert.Contains("require input reading error under 0.2 l/min over 5 l/min .. 20 l/min", written);
        Assert.Equal("FES369", Reading.OnlyDiagnostic(flow + "\nrequire input reading error under 0.2 l/min").Code);
        Assert.Equal("FES344", Reading.OnlyDiagnostic(flow.Replace(" type cmos-hc on VCC", " counts pulses for 1 s\nrail unused 3 V"))
            .Code);
    }

    [Theory]
    [InlineData("30 kHz", 2.653 - 4)] // 0.5 V/µs over 2π·30 kHz against 4 V of peak
    [InlineData("10 kHz", 7.958 - 4)]
    public void An_op_amp_of_what_alternates_is_held_against_its_slew_rate(string hertz, double volts)
    {
        var frontEnd = Reading.FrontEnd($"""
            circuit "follower of a sine"
            rail VP 12 V
            rail VN -12 V
            sensor wave of voltage 0 V .. 4 V drives IN gives 0 V .. 4 V alternates at {hertz} as peak
            opamp U1 bipolar-general plus IN minus OUT output OUT on VP and VN
            resistor R1 from OUT to GND 100k
            """);
        var result = CheckStudy.Run(frontEnd, cancel: TestContext.Current.CancellationToken)
            .Implied.Single(r => r.Requirement is OpAmpsInRange);
        Assert.Equal(volts > 0, result.Met);
        Assert.Equal("slew", Assert.IsType<HeadroomReason>(result.Reason).Side);
        Assert.Equal(volts, result.Margin!.Value.Value, 0.02);
    }

    [Fact]
    public void That_every_part_keeps_its_ratings_can_be_written()
    {
        var frontEnd = Reading.FrontEnd(Bench + "sensor s drives IN span 0 V .. 3 V source 1k\nrequire every part inside rating");
        var result = CheckStudy.Run(frontEnd, cancel: TestContext.Current.CancellationToken);
        Assert.IsType<PartsInsideRating>(result.Requirements.Single().Requirement);
        Assert.DoesNotContain(result.Implied, r => r.Requirement is PartsInsideRating);
        Assert.Contains("require every part inside rating", FrontEndText.Of(frontEnd), StringComparison.Ordinal);
        Assert.Equal("FES220", Reading.OnlyDiagnostic(Bench
            + "sensor s drives IN span 0 V .. 3 V source 1k\nrequire R1 part inside rating").Code);
    }
}
