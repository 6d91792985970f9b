using System.Collections.Immutable;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies.Build;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Faults;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Tests.Sensors;

/// <summary>Sensors of resistance, current and voltage at a pin, and what firmware makes of the codes, against divider and Ohm's law by
/// hand.</summary>
public class ReadingTests
{
    private static readonly Converter Ratiometric = new(12, new(new(null, 0), new("VDD", 0)));

    /// <summary>A sensor at a pin on 3.3 V, with one resistor beside it.</summary>
    private static FrontEnd At(Sensor sensor, ResistorPart beside, double railTolerance = 0) => new()
    {
        Rails = [new("VDD", new(3.3, railTolerance))],
        Sensors = [sensor],
        Parts = [beside],
        Pins = [new("adc", "IN") { Converter = Ratiometric, HasClamps = false }],
    };

    private static FrontEnd Bath(double ohmsTolerance = 0, double railTolerance = 0) => At(
        new("bath", "IN", new Span(5, 95), 0)
        {
            Quantity = "temperature",
            UnitText = "°C",
            Law = new ThermistorLaw(new(10_000, ohmsTolerance), 25, 3977),
            WattsPerKelvin = 1e6
        },
        new("R", "VDD", "IN", new(3300, 0, 0)), railTolerance);

    [Fact]
    public void A_thermistor_below_a_resistor_divides_the_rail()
    {
        var mapping = MappingStudy.Run(Bath(), "adc");
        Assert.All(mapping.Points, p =>
        {
            double ohms = 10_000 * Math.Exp(3977 * (1 / (p.SensorValue + 273.15) - 1 / 298.15));
            Assert.Equal(3.3 * ohms / (ohms + 3300), p.PinVolts, 1e-9);
        });
    }

    [Fact]
    public void Firmware_reads_the_temperature_back_within_half_a_step_and_the_tables_residual()
    {
        var mapping = MappingStudy.Run(Bath(), "adc");
        var reading = mapping.Reading!;
        // Divider by hand: dT/dcode = 1/(4096·d(r/(r + 3300))/dT), largest at 95 °C: r = 791.6 ohm, dr/dT = −r·3977/T².
        double ohms = 10_000 * Math.Exp(3977 * (1 / 368.15 - 1 / 298.15)), slope = ohms * 3977 / (368.15 * 368.15);
        double step = 1 / (4096 * slope * 3300 / Math.Pow(ohms + 3300, 2));
        Assert.Equal(step, reading.Step, 0.03 * step);
        Assert.Equal(95, reading.StepAt, 1e-9);
        Assert.InRange(reading.Residual, 0, 0.5 * step);
        Assert.InRange(reading.Largest, 0.4 * step, 0.5 * step + reading.Residual);
    }

    [Fact]
    public void A_table_of_firmware_in_whole_numbers_is_off_by_no_more_than_it_says()
    {
        var firmware = BuildStudy.Run(Bath()).Firmware.Single();
        var table = firmware.Table!;
        for (int code = (int)firmware.HighCode; code <= (int)firmware.LowCode; code++)
        {
            // The middle of the code by hand: r = 3300·x/(1 − x) for x of the rail.
            double x = (code + 0.5) / 4096, ohms = 3300 * x / (1 - x), celsius = 1 / (1 / 298.15 + Math.Log(ohms / 10_000) / 3977) - 273.15;
            Assert.Equal(celsius, table.At(code) * table.ResultUnit, firmware.Residual + table.Rounding + 0.05 * firmware.Step);
        }
    }

    [Fact]
    public void The_tolerance_of_a_rail_that_feeds_both_sensor_and_converter_costs_nothing()
    {
        double exact = Spread(Bath()), loose = Spread(Bath(railTolerance: 0.1));
        Assert.Equal(exact, loose, 1e-6);
    }

    [Fact]
    public void The_tolerance_of_a_thermistor_is_so_many_kelvin_of_its_slope()
    {
        // 1 % of R is 0.01·T²/B by the B law: 0.34 K at 95 °C, 0.19 K at 5 °C.
        double more = Spread(Bath(ohmsTolerance: 0.01)) - Spread(Bath());
        Assert.Equal(0.01 * 368.15 * 368.15 / 3977, more, 0.01);
    }

    private static double Spread(FrontEnd frontEnd) => Judged(frontEnd).Found!.Value.Value;

    private static RequirementResult Judged(FrontEnd frontEnd, Span? over = null, double limit = 10) =>
        CheckStudy.Run(frontEnd with { Requirements = [new ReadingError("adc", limit, "°C", over, "adc reading error")] })
            .Requirements.Single();

    [Fact]
    public void A_requirement_over_part_of_the_span_does_not_look_beyond_it()
    {
        // A count is 0.053 °C at 95 °C and 0.026 °C between 35 and 50 °C.
        Assert.Equal(Verdict.Met, Judged(Bath(), new Span(35, 50), 0.02).Verdict);
        Assert.Equal(Verdict.NotMet, Judged(Bath(), null, 0.02).Verdict);
        Assert.Equal("°C", Judged(Bath()).Found!.Value.Symbol);
    }

    [Fact]
    public void A_current_into_a_resistor_is_its_voltage()
    {
        // 0.01 µA for a lux into 100 kohm: 1 mV for a lux.
        var frontEnd = At(new("lamp", "IN", new Span(0, 2000), 0)
        { Quantity = "light", UnitText = "lx", Law = new StraightLaw(new Span(0, 2000), 0, 20e-6, Unit.Amps) },
            new("R", "IN", "GND", 100_000));
        Assert.All(MappingStudy.Run(frontEnd, "adc").Points, p => Assert.Equal(1e-3 * p.SensorValue, p.PinVolts, 1e-9));
    }

    [Fact]
    public void The_gain_to_small_signals_is_the_slope_of_the_sweep_in_volts_for_a_unit_of_the_sensor()
    {
        var frontEnd = Bath();
        var points = MappingStudy.Run(frontEnd, "adc").Points;
        double at = 50, low = points.Last(p => p.SensorValue <= at - 0.5).PinVolts;
        var compiled = frontEnd.ToCircuit(new Scenario { SensorValue = ImmutableDictionary<string, double>.Empty.Add("bath", at) })
            .Compile();
        double gain = compiled.SolveSmallSignal("bath", [0]).Response("IN")[0].Real;
        double ohms = 10_000 * Math.Exp(3977 * (1 / (at + 273.15) - 1 / 298.15));
        Assert.Equal(-3.3 * 3300 / Math.Pow(ohms + 3300, 2) * ohms * 3977 / Math.Pow(at + 273.15, 2), gain, 1e-7);
        Assert.True(low > compiled.SolveOperatingPoint().Nodes["IN"]);
    }

    [Fact]
    public void A_straight_sensor_of_its_own_unit_gets_a_line_in_that_unit()
    {
        // 0.5 V .. 2.5 V over 3000 mm: a count of 3.3 V/4096 is 1.2085 mm.
        var frontEnd = At(new("tank", "IN", new Span(0, 3000), 0)
        { Quantity = "level", UnitText = "mm", Law = new StraightLaw(new Span(0, 3000), 0.5, 2.5, Unit.Volts) },
            new("R", "IN", "GND", 1e6));
        var line = BuildStudy.Run(frontEnd).Firmware.Single();
        Assert.Equal(3.3 / 4096 * 1500, line.Line!.Slope, 1e-6);
        Assert.Equal("mm", line.LineUnit);
        // Code 620 is 620.606 counts less its fraction: its middle, 620.5 counts, is −0.128 mm.
        Assert.Equal((620.5 * 3.3 / 4096 - 0.5) * 1500, line.Line.Offset + 620 * line.Line.Slope, 1e-6);
    }

    [Fact]
    public void A_thermocouple_is_read_right_at_every_temperature_of_its_cold_junction()
    {
        // An ideal amplifier stands before the pin here: the converter itself has a range of 50 mV.
        var frontEnd = At(new("kiln", "IN", new Span(0, 1000), 1)
        { Quantity = "temperature", UnitText = "°C", Law = new ThermocoupleLaw(ThermocoupleType.All.Single(t => t.Name == "K")) },
            new("R", "IN", "GND", 1e9));
        frontEnd = frontEnd with
        {
            CelsiusRange = new Span(0, 50),
            Pins = [frontEnd.Pins[0] with { Converter = new(16, new(new(null, -0.005), new(null, 0.045))) }]
        };
        var result = CheckStudy.Run(frontEnd with { Requirements = [new ReadingError("adc", 0.05, "°C", null, "adc reading error")] })
            .Requirements.Single();
        // A count of 50 mV/65536 is 0.019 °C at 39 µV/°C, so half of one about 0.01 °C.
        Assert.Equal(Verdict.Met, result.Verdict);
        Assert.InRange(result.Found!.Value.Value, 0.009, 0.015);
    }

    [Fact]
    public void A_potentiometer_divides_its_rail_and_does_not_feel_its_tolerance()
    {
        // A third of the way up a track of 9 kohm: 3 kohm below and 6 kohm above, loaded with 6 kohm: 2 kohm over 8 kohm of 3.3 V.
        var frontEnd = At(new("throttle", "IN", new Span(0, 90), 0)
        {
            Quantity = "angle",
            UnitText = "deg",
            Law = new StraightLaw(new Span(0, 90), 0, 1, Unit.None),
            Wiring = new Track(9000, "VDD")
        },
            new("R", "IN", "GND", 6000));
        var point = frontEnd.ToCircuit(new Scenario { SensorValue = ImmutableDictionary<string, double>.Empty.Add("throttle", 30) })
            .Compile().SolveOperatingPoint();
        Assert.Equal(3.3 * 2 / 8, point.Nodes["IN"], 1e-6);
        RequirementResult Read(double tolerance) => CheckStudy.Run(frontEnd with
        {
            Rails = [new("VDD", new(3.3, tolerance))],
            Requirements = [new ReadingError("adc", 30, "deg", null, "")],
        }).Requirements.Single();
        Assert.Equal(Read(0).Found!.Value.Value, Read(0.1).Found!.Value.Value, 1e-6);
    }

    [Fact]
    public void A_line_through_both_ends_of_a_loaded_track_departs_by_what_the_load_bends_it()
    {
        // x of a track of 9 kohm into 6 kohm gives x/(1 + 1.5·x·(1 − x)); firmware's line takes that share for x itself.
        var frontEnd = At(new("throttle", "IN", new Span(0, 90), 0)
        {
            Quantity = "angle",
            UnitText = "deg",
            Law = new StraightLaw(new Span(0, 90), 0, 1, Unit.None),
            Wiring = new Track(9000, "VDD")
        },
            new("R", "IN", "GND", 6000));
        double bent = Enumerable.Range(0, 21).Select(k => k / 20.0).Max(x => 90 * Math.Abs(x / (1 + 1.5 * x * (1 - x)) - x));
        Assert.Equal(bent, new SolvedFrontEnd(frontEnd).Mapping("adc").Reading!.Residual, 1e-3 * bent);
    }

    [Fact]
    public void A_sensor_that_gives_a_share_of_a_rail_moves_with_it()
    {
        var frontEnd = At(new("pressure", "IN", new Span(0, 10), 1000)
        {
            Quantity = "pressure",
            UnitText = "bar",
            Law = new StraightLaw(new Span(0, 10), 0.1, 0.9, Unit.None),
            Wiring = new ShareOfRail("VDD")
        }, new("R", "IN", "GND", 9000));
        // Half of 3.3 V behind 1 kohm into 9 kohm; 3.0 V of rail give a tenth less in proportion.
        double On(double rail) => (frontEnd with { Rails = [new("VDD", 3.3) { PresentVolts = rail }] })
            .ToCircuit(new Scenario { SensorValue = ImmutableDictionary<string, double>.Empty.Add("pressure", 5) }).Compile()
                .SolveOperatingPoint().Nodes["IN"];
        Assert.Equal(0.5 * 3.3 * 0.9, On(3.3), 1e-6);
        Assert.Equal(0.5 * 3.0 * 0.9, On(3.0), 1e-6);
    }

    [Fact]
    public void A_bridge_gives_its_share_of_the_excitation_between_its_outputs_on_half_of_it()
    {
        var cell = new Sensor("cell", "SP", new Span(0, 50), 0)
        { Quantity = "force", UnitText = "N", Other = "SN", Wiring = new Bridge(350, "EXC", "GND", 2e-3, 1) };
        cell = cell with { Law = ((Bridge)cell.Wiring!).LawOver(cell.Span) };
        var frontEnd = new FrontEnd { Rails = [new("EXC", 5)], Sensors = [cell], Parts = [new ResistorPart("R", "SP", "SN", 1e9)] };
        var nodes = frontEnd.ToCircuit(new Scenario { SensorValue = ImmutableDictionary<string, double>.Empty.Add("cell", 25) }).Compile()
            .SolveOperatingPoint().Nodes;
        // Half of 2 mV/V at 5 V; all four arms move alike, so that the common mode stays at 2.5 V.
        Assert.Equal(5e-3, nodes["SP"] - nodes["SN"], 1e-8);
        Assert.Equal(2.5, (nodes["SP"] + nodes["SN"]) / 2, 1e-9);
    }

    [Fact]
    public void A_thermistor_that_warms_itself_reads_too_hot_by_its_power_over_its_dissipation_constant()
    {
        var bath = Bath();
        var warm = bath with { Sensors = [bath.Sensors[0] with { WattsPerKelvin = 1e-3 }] };
        // At 45 °C 4323 ohm beside 3300 ohm on 3.3 V: (3.3·4323/7623)²/4323 = 0.81 mW, so 0.81 K.
        double ohms = 10_000 * Math.Exp(3977 * (1 / 318.15 - 1 / 298.15)), watts = Math.Pow(3.3 * ohms / (ohms + 3300), 2) / ohms;
        double Off(FrontEnd f) => MappingStudy.Run(f, "adc").Points.MinBy(p => Math.Abs(p.SensorValue - 45))!.ReadingError!.Value;
        Assert.Equal(watts / 1e-3, Off(warm) - Off(bath), 0.01);
        Assert.True(Spread(warm) - Spread(bath) > 0.5);
    }

    [Fact]
    public void A_sensor_that_comes_off_reads_as_nothing_of_its_span()
    {
        // An open current source gives no current; an open thermistor leaves the pin at its rail.
        var lamp = At(new("lamp", "IN", new Span(0, 2000), 0)
        { Quantity = "light", UnitText = "lx", Law = new StraightLaw(new Span(0, 2000), 1e-6, 20e-6, Unit.Amps) },
                new("R", "IN", "GND", 100_000));
        double Open(FrontEnd f) => new SingleFault(f.Sensors[0].Name, FaultMode.SensorOpen).In(f).ToCircuit().Compile()
            .SolveOperatingPoint().Nodes["IN"];
        Assert.Equal(0, Open(lamp), 1e-9);
        Assert.Equal(3.3, Open(Bath()), 1e-3);
    }

    [Fact]
    public void Where_no_dissipation_constant_is_given_a_platinum_resistor_with_much_current_is_not_called_right()
    {
        // 100 ohm beside 100 ohm on 3.3 V: 16.5 mA and 27 mW, 27 K for a small bead in still air.
        var frontEnd = At(new("shell", "IN", new Span(0, 100), 0)
        { Quantity = "temperature", UnitText = "°C", Law = new PlatinumLaw(100) }, new("R", "VDD", "IN", 100));
        Assert.InRange(Spread(frontEnd), 25, 30);
    }

    [Fact]
    public void Another_sensor_on_the_way_to_the_pin_is_an_error_of_its_reading_from_end_to_end_of_its_span()
    {
        var frontEnd = Bath();
        var both = frontEnd with
        {
            Sensors = [.. frontEnd.Sensors,
            new("lamp", "IN", new Span(0, 2000), 0) { Quantity = "light", UnitText = "lx",
                Law = new StraightLaw(new Span(0, 2000), 0, 20e-6, Unit.Amps) }]
        };
        // 10 µA either way into 10 kohm beside 3.3 kohm at 25 °C are 25 mV of 33 mV/K or so: most of a kelvin, more where it is flatter.
        Assert.InRange(Spread(both) - Spread(frontEnd), 0.3, 5);
    }

    [Theory]
    [InlineData(25, 3)]
    [InlineData(55, 24)]
    public void The_dark_current_of_a_photodiode_reads_as_light_and_doubles_every_10_kelvin(double celsius, double lux)
    {
        // 10 nA for a lux: 30 nA are 3 lx at 25 °C, and eight times that 30 K above it.
        FrontEnd Lamp(double dark) => At(new("lamp", "IN", new Span(0, 2000), 0)
        {
            Quantity = "light",
            UnitText = "lx",
            Law = new StraightLaw(new Span(0, 2000), 0, 20e-6, Unit.Amps) { DarkAmps = dark },
            Other = "VDD"
        },
            new("R", "IN", "GND", new(100_000, 0, 0))) with
        { Celsius = celsius };
        double Off(double dark) => CheckStudy.Run(Lamp(dark) with { Requirements = [new ReadingError("adc", 1000, "lx", null, "")] })
            .Requirements.Single().Found!.Value.Value;
        Assert.Equal(lux, Off(30e-9) - Off(0), 0.01 * lux);
    }

    [Fact]
    public void A_photodiode_that_drives_its_own_anode_high_saturates_as_a_solar_cell()
    {
        // 20 µA into 100 kohm would be 2 V across a diode that conducts: a silicon cell gives half a volt open.
        var cell = At(new("lamp", "IN", new Span(0, 2000), 0)
        { Quantity = "light", UnitText = "lx", Law = new StraightLaw(new Span(0, 2000), 0, 20e-6, Unit.Amps) { DarkAmps = 1e-9 } },
            new("R", "IN", "GND", new(100_000, 0, 0)));
        Assert.InRange(new SolvedFrontEnd(cell).Rest(SpanPlace.High).Voltage("IN"), 0.35, 0.55);
        Assert.Equal(2, new SolvedFrontEnd(cell with { Sensors = [cell.Sensors[0] with { Other = "VDD" }] }).Rest(SpanPlace.High)
            .Voltage("IN"), 1e-3);
    }
}
