using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies;
using FrontEndSim.FrontEnds.Studies.Events;

namespace FrontEndSim.FrontEnds.Tests.Disturbances;

/// <summary>Plain faults of sensors and rails on a divider whose voltages are sums on paper.</summary>
public sealed class PlainFaultTests
{
    // 2 V behind 1 kohm into 9 kohm + 10 kohm: 1 V at the tap. A rail of 5 V behind 10 ohm feeds 90 ohm: 4.5 V.
    private static readonly FrontEnd Divider = new()
    {
        Rails = [new Rail("VDD", 5) { SeriesOhms = 10 }],
        Sensors = [new Sensor("probe", "IN", new Span(1, 3), 1e3)],
        Parts =
        [
            new ResistorPart("R1", "IN", "TAP", 9e3), new ResistorPart("R2", "TAP", Circuit.Ground, 10e3),
                new ResistorPart("RL", "VDD", Circuit.Ground, 90),
        ],
    };

    private static TransientResult Run(string node, Disturbance disturbance) =>
        EventStudy.Run(Divider, new FaultEvent("fault", node, disturbance)).Transient;

    private static void Reads(double expected, Trace trace, double at) =>
        Assert.Equal(expected, trace.At(at), 1e-4 * Math.Max(1, Math.Abs(expected)));

    [Fact]
    public void A_broken_sensor_wire_leaves_the_divider_at_ground_and_mended_it_reads_again()
    {
        var tap = Run("IN", new OpenSource(1e-3, 2e-3)).Voltage("TAP");
        Assert.Multiple(() => Reads(1, tap, 0.5e-3), () => Reads(0, tap, 2e-3), () => Reads(1, tap, 3.5e-3));
    }

    [Fact]
    public void A_reversed_sensor_drives_the_divider_negative()
    {
        var tap = Run("IN", new ReversedSource(1e-3)).Voltage("TAP");
        Assert.Multiple(() => Reads(1, tap, 0.5e-3), () => Reads(-1, tap, 2e-3));
    }

    [Fact]
    public void A_sensor_shorted_to_ground_or_to_a_rail_stands_there()
    {
        var ground = Run("IN", new ShortTo(Circuit.Ground, 1, 1e-3)).Voltage("IN");
        // 1 ohm to ground against 1 kohm from 2 V: 2 V / 1001 and a little less for the 19 kohm.
        var rail = Run("IN", new ShortTo("VDD", 1, 1e-3)).Voltage("IN");
        double parallel = 1 / (1 / 1e3 + 1 / 19e3 + 1);
        // The rail is 4.5 V behind 10 ohm parallel 90 ohm, 10 ohm with the contact.
        double atRail = (4.5 / 10 + 2 / 1e3) / (1 / 10.0 + 1 / 1e3 + 1 / 19e3);
        Assert.Multiple(() => Reads(2e-3 * parallel, ground, 2e-3), () => Reads(atRail, rail, 2e-3));
    }

    [Fact]
    public void A_lost_rail_pulls_its_load_down_and_an_open_one_leaves_it_alone()
    {
        var lost = Run("VDD", new LostSource(1e-3, 1e-3) { FallSeconds = 0 }).Voltage("VDD");
        var open = Run("VDD", new OpenSource(1e-3)).Voltage("VDD");
        Assert.Multiple(() => Reads(4.5, lost, 0.5e-3), () => Reads(0, lost, 1.5e-3), () => Reads(4.5, lost, 2.2e-3),
            () => Reads(0, open, 5e-3));
    }

    [Fact]
    public void A_late_rail_starts_from_nothing_and_arrives()
    {
        var rail = Run("VDD", new LateSource(2e-3, 1e-3)).Voltage("VDD");
        Assert.Multiple(() => Reads(0, rail, 0), () => Reads(0, rail, 1.9e-3), () => Reads(2.25, rail, 2.5e-3),
            () => Reads(4.5, rail, 4e-3));
    }

    // 3 V behind 1 kohm into a rail that is held at 0 V till it comes, and into one that nothing but 90 ohm holds: 3 V · 90 / (90 + 1000).
    [Fact]
    public void A_late_rail_that_only_delivers_is_held_till_then_or_floats()
    {
        var fed = Divider with
        {
            Rails = [new Rail("VDD", 5) { SourceOnly = true, SeriesOhms = 10 }],
            Parts = [new ResistorPart("R1", "IN", "VDD", 1e-3), new ResistorPart("RL", "VDD", Circuit.Ground, 90)],
            Sensors = [new Sensor("probe", "IN", new Span(3, 3.0001), 1e3)],
        };
        var late = new LateSource(2e-3, 1e-3);
        Reads(0, EventStudy.Run(fed, new("late", "VDD", late)).Transient.Voltage("VDD"), 1e-3);
        Reads(3 * 90 / 1090.0, EventStudy.Run(fed, new("late", "VDD", late.Floating()!)).Transient.Voltage("VDD"), 1e-3);
    }

    [Fact]
    public void No_rail_holds_its_voltage_on_a_short_to_ground_even_one_without_a_resistance()
    {
        var stiff = Divider with { Rails = [new Rail("VDD", 5)] };
        var rail = EventStudy.Run(stiff, new("short", "VDD", new ShortTo(Circuit.Ground, 0.1, 1e-3, 2e-3) { IsBrief = true }))
            .Transient.Voltage("VDD");
        Assert.Multiple(() => Reads(5, rail, 0.5e-3), () => Reads(0, rail, 2e-3), () => Reads(5, rail, 3.9e-3));
    }

    // A capacitor C into R at f: V R w C / sqrt(1 + (w R C)^2); R = 1 kohm parallel 19 kohm.
    [Fact]
    public void Mains_pick_up_is_the_divider_of_its_capacitance_and_the_line()
    {
        var line = Run("IN", new MainsPickUp(230, 50, 1e-9)).Voltage("IN");
        double r = 1 / (1 / 1e3 + 1 / 19e3), x = 2 * Math.PI * 50 * r * 1e-9;
        double expected = Math.Sqrt(2) * 230 * x / Math.Sqrt(1 + x * x);
        Assert.Equal(expected, line.Maximum().Value - 2 * 0.95, 0.01 * expected);
    }

    // IEC 61000-4-6 gives the electromotive force: into 150 ohm half of it. 1 kohm parallel 19 kohm: 950 / (950 + 150).
    [Fact]
    public void Radio_pick_up_divides_between_its_150_ohm_and_the_line()
    {
        var line = Run("IN", new RadioPickUp(3, 10e6)).Voltage("IN");
        double expected = 3 * Math.Sqrt(2) * 1.8 * 950 / (950 + 150);
        Assert.Equal(expected, line.Maximum().Value - 2 * 0.95, 0.01 * expected);
    }

    [Fact]
    public void A_fault_of_a_source_where_there_is_none_is_refused_by_name()
    {
        var problem = Assert.Throws<StudyProblemException>(() => Run("TAP", new OpenSource()));
        Assert.Equal((ProblemKind.NothingDrives, "TAP"), (problem.Problem.Kind, problem.Problem.Subject));
        Assert.Equal(new Problem(ProblemKind.NoNodeToTouch, "NOWHERE", "IN"),
            Assert.Throws<StudyProblemException>(() => Run("IN", new ShortTo("NOWHERE"))).Problem);
    }

    [Fact]
    public void A_vehicle_pulse_takes_the_place_of_what_drives_the_line()
    {
        var shape = VehiclePulseShape.Find("2a", 12)!;
        var line = Run("IN", new VehiclePulse(shape, 50, 13.5, 1e-3)).Voltage("IN");
        // At rest the battery's 0.05 ohm against 19 kohm; the pulse sees nearly the open circuit.
        Assert.Multiple(() => Reads(13.5 * 19e3 / (19e3 + 0.05), line, 0.9e-3), () => Assert.Equal(63.5, line.Maximum().Value, 0.5));
    }

    private static readonly Func<Disturbance>[] Nonsense =
    [
        () => new Discharge(0), () => new Discharge(double.NaN), () => new Discharge(1e3, 0), () => new Burst(1e3, 1), () =>
            new Burst(1e3, 2e6),
        () => new Burst(1e3, bursts: 0), () => new CombinationWave(1e3, 1), () => new CombinationWave(double.PositiveInfinity), () =>
            new CombinationWave(1e3, couplingFarads: 0),
        () => new VehiclePulse(VehiclePulseShape.Find("1", 12)!, 75, 13.5), () => new LoadDump(10, 14, 2, 0.4), () =>
            new LoadDump(101, 14, 2, 0.4, 10),
        () => new LoadDump(101, 14, 0, 0.4), () => new LoadDump(101, 14, 2, 1e-3), () => new OpenSource(-1), () => new LateSource(1e-3, -1),
        () => new ShortTo("GND", 0), () => new MainsPickUp(-1), () => new RadioPickUp(3, 100e6),
    ];

    [Fact]
    public void A_disturbance_that_cannot_be_is_refused_with_a_sentence() =>
        Assert.All(Nonsense, make => Assert.EndsWith(".", Assert.Throws<ArgumentException>(make).Message));
}
