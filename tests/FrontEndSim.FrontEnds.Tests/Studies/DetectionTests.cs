using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.FrontEnds.Studies.Faults;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Tests.Studies;

/// <summary>What firmware sees of single faults, against Ohm's law and dividers by hand.</summary>
public class DetectionTests
{
    private static FrontEnd At(Sensor sensor, params Part[] parts) => new()
    {
        Rails = [new("VDD", 3.3)],
        Sensors = [sensor],
        Parts = [.. parts],
        Pins = [new("adc", "IN") { HasClamps = false, Converter = new(12, new(new(null, 0), new("VDD", 0))) }],
    };

    private static Sensor Loop(AlarmLevels? alarms) => new("main", "IN", new Span(0, 10), 0)
    {
        Quantity = "pressure",
        UnitText = "bar",
        Law = new StraightLaw(new Span(0, 10), 4e-3, 20e-3, Unit.Amps),
        Alarms = alarms,
    };

    private static FrontEnd LoopInto(double ohms, double tolerance, AlarmLevels? alarms) =>
        At(Loop(alarms), new ResistorPart("Rb", "IN", "GND", new(ohms, tolerance, 0)));

    private static Detection Seen(FrontEnd frontEnd, DetectionScope scope = DetectionScope.Sensors) =>
        DetectionStudy.Run(new SolvedFrontEnd(frontEnd), scope);

    private static FaultSight Sight(FrontEnd frontEnd, string fault, DetectionScope scope = DetectionScope.Sensors) =>
        Seen(frontEnd, scope).Rows.Single(r => r.Fault.Text == fault).Sight;

    // NAMUR NE 43 (facts: 3.8 .. 20.5 mA measure, 3.6 and 21 mA are failures): into 150 ohm with 0.1 % on an exact 3.3 V.
    [Fact]
    public void Alarm_levels_are_told_from_measurements_by_the_codes_that_Ohms_law_gives()
    {
        var seen = Seen(LoopInto(150, 1e-3, AlarmLevels.Ne43));
        double Code(double amps, double ohms) => Math.Floor(amps * ohms / 3.3 * 4096);
        var band = seen.Bands.Single();
        Assert.Equal((Code(3.8e-3, 150 * 0.999), Code(20.5e-3, 150 * 1.001)), (band.LowCode, band.HighCode));
        Assert.All(seen.Rows, r => Assert.Equal(FaultSight.Detected, r.Sight));
        var low = seen.Rows.Single(r => r.Fault.Mode == FaultMode.AlarmLow);
        Assert.Equal(band.LowCode - Code(3.6e-3, 150 * 1.001), low.MarginCounts);
        // A broken loop gives nothing at all.
        Assert.Equal(band.LowCode, seen.Rows.Single(r => r.Fault.Mode == FaultMode.SensorOpen).MarginCounts);
    }

    [Fact]
    public void A_burden_of_5_percent_lets_no_firmware_tell_3_6_mA_from_3_8_mA()
    {
        // 3.6 mA at +5 % is 3.78 mA of the nominal, 3.8 mA at −5 % is 3.61 mA.
        var frontEnd = LoopInto(150, 0.05, AlarmLevels.Ne43);
        Assert.Equal(FaultSight.Hidden, Sight(frontEnd, "sensor main low alarm"));
        Assert.Equal(Verdict.NotMet, CheckStudy.Run(frontEnd).Implied.Single(r => r.Requirement is FaultsDetectable).Verdict);
    }

    [Fact]
    public void A_burden_that_runs_into_the_end_of_the_converter_hides_the_high_alarm_level()
    {
        // 20.5 mA into 162 ohm are 3.32 V: the converter reads its last code there, and at 21 mA as well.
        Assert.Equal(FaultSight.Hidden, Sight(LoopInto(162, 0, AlarmLevels.Ne43), "sensor main high alarm"));
        Assert.Equal(FaultSight.Detected, Sight(LoopInto(155, 0, AlarmLevels.Ne43), "sensor main high alarm"));
    }

    [Fact]
    public void An_open_and_a_shorted_thermistor_read_as_the_ends_of_the_converter()
    {
        var bath = At(new("bath", "IN", new Span(5, 95), 0)
        { Quantity = "temperature", UnitText = "°C", Law = new ThermistorLaw(10_000, 25, 3977) },
            new ResistorPart("R", "VDD", "IN", 3300));
        var rows = Seen(bath).Rows.ToDictionary(r => r.Fault.Text);
        Assert.Equal(4095, rows["sensor bath open"].Pins[0].At[0].LowCode);
        Assert.Equal(0, rows["sensor bath shorted to GND"].Pins[0].At[0].HighCode);
        Assert.All(rows.Values, r => Assert.Equal(FaultSight.Detected, r.Sight));
        // The resistor open leaves nothing but the thermistor to ground; shorted it leaves the rail.
        var parts = Seen(bath, DetectionScope.All).Rows.Where(r => r.Fault.Subject == "R").ToArray();
        Assert.Equal([0, 4095], parts.Select(r => r.Pins[0].At[2].HighCode).Order());
    }

    [Fact]
    public void A_sensor_that_uses_all_codes_hides_its_faults_and_one_that_leaves_codes_free_does_not()
    {
        FrontEnd Tank(double low, double high, params Part[] more) => At(new("tank", "IN", new Span(0, 3000), 1000)
        { Quantity = "level", UnitText = "mm", Law = new StraightLaw(new Span(0, 3000), low, high, Unit.Volts) },
            [new ResistorPart("R", "IN", "GND", 1e6), .. more]);
        Assert.Equal(FaultSight.Hidden, Sight(Tank(0, 3.3), "sensor tank open"));
        Assert.Equal(FaultSight.Detected, Sight(Tank(0.3, 3), "sensor tank open"));
        // A filter's capacitor that comes off changes nothing at rest.
        Assert.Equal(FaultSight.Harmless, Sight(Tank(0.3, 3, new CapacitorPart("C", "IN", "GND", 10e-9)), "C open", DetectionScope.All));
    }

    [Fact]
    public void A_pull_down_mends_an_open_wire_and_is_told_with_what_it_costs()
    {
        // Without any resistor the pin's leakage of 100 nA and 1 Gohm of insulation hold an open node anywhere.
        var frontEnd = At(new("tank", "IN", new Span(0, 3000), 1000)
        { Quantity = "level", UnitText = "mm", Law = new StraightLaw(new Span(0, 3000), 0.5, 2.8, Unit.Volts) },
            new ResistorPart("R1", "IN", "PIN", 4700), new ResistorPart("R2", "PIN", "GND", 1e9)) with
        {
            Requirements = [new FaultsDetectable(null, DetectionScope.Sensors, "every sensor fault detectable")],
        };
        frontEnd = frontEnd with { Pins = [frontEnd.Pins[0] with { Node = "PIN", LeakageAmps = -2e-9 }] };
        var result = new SolvedFrontEnd(frontEnd).Mended().Requirements.Single();
        Assert.Equal(Verdict.NotMet, result.Verdict);
        var mend = result.Mends.First();
        Assert.Equal((MendKind.PullDown, "IN"), (mend.Kind, mend.Subject));
        Assert.InRange(mend.To!.Value.Value, 10e3, 10e6);
    }

    [Fact]
    public void Each_wire_of_a_bridge_and_of_a_potentiometer_is_broken_and_shorted_by_itself()
    {
        var cell = new Sensor("cell", "SP", new Span(0, 50), 0)
        { Quantity = "force", UnitText = "N", Other = "SN", Wiring = new Bridge(350, "VDD", "GND", 2e-3, 1) };
        cell = cell with { Law = ((Bridge)cell.Wiring!).LawOver(cell.Span) };
        string[] faults = [.. SingleFault.OfSensor(At(cell), cell).Select(f => f.Text)];
        Assert.Contains("sensor cell wire to SN open", faults);
        Assert.Contains("sensor cell wire to VDD open", faults);
        Assert.Contains("sensor cell wire to SN shorted to VDD", faults);
        Assert.Contains("sensor cell shorted to SN", faults);
        var throttle = new Sensor("throttle", "IN", new Span(0, 90), 0)
        {
            Quantity = "angle",
            UnitText = "deg",
            Law = new StraightLaw(new Span(0, 90), 0.1, 0.9, Unit.None),
            Wiring = new Track(5000, "VDD")
        };
        var board = At(throttle, new ResistorPart("R", "IN", "GND", 1e6));
        // With the top of its track open the wiper lies on ground; with the bottom open on the rail, less 0.25 % for 1 Mohm behind 2.5
        // kohm.
        var rows = Seen(board).Rows.ToDictionary(r => r.Fault.Text);
        Assert.InRange(rows["sensor throttle wire to VDD open"].Pins[0].At[2].HighCode, 0, 1);
        Assert.InRange(rows["sensor throttle wire to GND open"].Pins[0].At[2].LowCode, 4080, 4095);
    }

    private static double After(FrontEnd frontEnd, Disturbance disturbance, string node = "IN")
    {
        var run = EventStudy.Run(frontEnd, new FaultEvent("fault", node, disturbance)).Transient;
        return run.Voltage("IN").At(run.Times[^1]);
    }

    [Fact]
    public void Open_and_reversed_happen_to_resistances_currents_and_bridges_too()
    {
        var bath = At(new("bath", "IN", new Span(5, 95), 0)
        { Quantity = "temperature", UnitText = "°C", Law = new ThermistorLaw(10_000, 25, 3977) },
            new ResistorPart("R", "VDD", "IN", 3300));
        Assert.Equal(3.3, After(bath, new OpenSource()), 1e-3);
        Assert.Equal(After(bath, new StepTo(0, 1e12, 1e-3)), After(bath, new ReversedSource()), 1e-4);
        // 12 mA into 100 ohm: 1.2 V, nothing, and the other way.
        var loop = LoopInto(100, 0, null);
        Assert.Equal(0, After(loop, new OpenSource()), 1e-6);
        Assert.Equal(-1.2, After(loop, new ReversedSource()), 1e-4);
        Assert.Equal(0, After(loop, new LostSource()), 1e-3);
        // 1.5 V behind 1 kohm into 2 kohm: 1 V, and −1 V.
        var tank = At(new("tank", "IN", new Span(0, 3000), 1000)
        { Quantity = "level", UnitText = "mm", Law = new StraightLaw(new Span(0, 3000), 0.5, 2.5, Unit.Volts) },
            new ResistorPart("R", "IN", "GND", 2000));
        Assert.Equal(-1, After(tank, new ReversedSource()), 1e-4);
        Assert.Equal(0, After(tank, new LostSource()), 1e-4);
        var cell = new Sensor("cell", "IN", new Span(0, 50), 0)
        { Quantity = "force", UnitText = "N", Other = "SN", Wiring = new Bridge(350, "VDD", "GND", 2e-2, 1) };
        cell = cell with { Law = ((Bridge)cell.Wiring!).LawOver(cell.Span) };
        var bridge = At(cell, new ResistorPart("R", "IN", "SN", 1e6));
        // Half of 20 mV/V of 3.3 V between the outputs: each half of it either side of 1.65 V, and swapped.
        Assert.Equal(1.65 + 0.0165, After(bridge, new StepTo(0, 1e12, 1e-3)), 1e-4);
        Assert.Equal(1.65 - 0.0165, After(bridge, new ReversedSource()), 1e-4);
    }

    [Fact]
    public void A_fault_that_comes_to_pass_ends_where_the_broken_circuit_rests()
    {
        FrontEnd[] boards =
        [
            LoopInto(150, 1e-3, AlarmLevels.Ne43),
            At(new("throttle", "IN", new Span(0, 90), 0)
                { Quantity = "angle", UnitText = "deg", Law = new StraightLaw(new Span(0, 90), 0.1, 0.9, Unit.None),
                    Wiring = new Track(5000, "VDD") },
                new ResistorPart("R", "IN", "GND", 1e6)),
        ];
        foreach (var board in boards)
        {
            foreach (var fault in SingleFault.OfSensor(board, board.Sensors[0]).Where(f => f.Mode != FaultMode.SensorShort))
            {
                double rests = fault.In(board).ToCircuit().Compile().SolveOperatingPoint().Nodes["IN"];
                var happening = fault.Happens(board);
                Assert.Equal(rests, After(board, happening.Disturbance, happening.Node), 2e-3);
            }
        }
    }
}
