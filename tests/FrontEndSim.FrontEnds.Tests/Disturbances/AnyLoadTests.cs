using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Events;

namespace FrontEndSim.FrontEnds.Tests.Disturbances;

/// <summary>Generators into what they really strike: charge and energy are those of their stores, and nothing hangs on a line at
/// rest.</summary>
public sealed class AnyLoadTests
{
    private static readonly Strays None = new(0, 0, 0);

    private static FrontEnd Filter(double sensorOhms, double seriesOhms) => new()
    {
        Sensors = [new Sensor("probe", "IN", new Span(0, 5), sensorOhms)],
        Parts = [new ResistorPart("R1", "IN", "PIN", seriesOhms), new CapacitorPart("C1", "PIN", Circuit.Ground, 100e-9)],
    };

    // By hand, 150 pF charged to 8 kV through 330 ohm onto the terminal: half of the charge goes through 10 kohm into 100 nF at 2.5 V and
    // half
    // into the sensor, 8.44 V and 2.25 mJ; the tip holds 2.7 % more charge than that.
    [Fact]
    public void A_discharge_through_10_kohm_leaves_its_charge_in_the_capacitor_and_its_energy_in_the_resistor()
    {
        var result = EventStudy.Run(Filter(10e3, 10e3), new FaultEvent("e", "IN", new Discharge(8e3, strays: None)));
        Assert.Equal(8.44, result.Transient.Voltage("PIN").Maximum().Value, 0.035 * 8.44);
        Assert.Equal(2.25e-3, result.Parts.Single(p => p.Part.Name == "R1").Joules, 0.05 * 2.25e-3);
    }

    // C1 V1 + C2 V2 over C1 + C2 with nothing else to take it: 14.5 V; the tip adds 2.7 % of the charge.
    [Fact]
    public void A_discharge_shares_its_charge_with_a_capacitor_behind_1_kohm()
    {
        double all = 154.095e-12, shared = (all * 8e3 + 100e-9 * 2.5) / (all + 100e-9);
        var result = EventStudy.Run(Filter(1e9, 1e3), new FaultEvent("e", "IN", new Discharge(8e3, strays: None)));
        Assert.Equal(shared, result.Transient.Voltage("PIN").At(20e-6), 0.005 * shared);
        Assert.InRange(shared / 14.5, 1, 1.05);
    }

    public static TheoryData<string> Coupled => ["burst", "surge", "wave", "discharge", "body"];

    // 100 kohm of line: a load of 50 ohm or of the generator's own resistors would take all of the 2.5 V.
    [Theory, MemberData(nameof(Coupled))]
    public void Nothing_loads_a_line_at_rest(string which)
    {
        Disturbance disturbance = which switch
        {
            "burst" => new Burst(1),
            "surge" => new Surge(SurgeShape.Known[0], 500, 42),
            "wave" => CombinationWave.Through(null, 500),
            "discharge" => new Discharge(8e3),
            _ => new HumanBodyDischarge(2e3),
        };
        var point = Filter(100e3, 10e3).ToCircuit(new Scenario { Event = new FaultEvent("e", "IN", disturbance) }).Compile()
            .SolveOperatingPoint();
        Assert.Equal(2.5, point.Nodes["PIN"], 1e-3);
    }

    // 13.5 V into 24 ohm behind the battery's 0.05 ohm, whatever the pulse's own source resistance.
    [Theory, InlineData("1"), InlineData("2a"), InlineData("2b"), InlineData("3a"), InlineData("3b")]
    public void A_vehicle_pulse_feeds_its_load_before_it_strikes(string name)
    {
        var shape = VehiclePulseShape.Find(name, 12)!;
        Assert.Equal(13.5 * 24 / 24.05, Rest(new VehiclePulse(shape, shape.Levels[^1], 13.5)), 0.01);
    }

    [Fact]
    public void A_load_dump_feeds_its_load_before_it_strikes() =>
        Assert.Equal(13.5 * 24 / 24.05, Rest(new LoadDump(101, 13.5, 0.5, 0.4)), 0.01);

    private static readonly FrontEnd Loaded = new()
    {
        Rails = [new Rail("BAT", 12)],
        Parts = [new ResistorPart("RL", "BAT", Circuit.Ground, 24)],
    };

    private static double Rest(Disturbance disturbance) =>
        Loaded.ToCircuit(new Scenario { Event = new FaultEvent("e", "BAT", disturbance) }).Compile().SolveOperatingPoint().Nodes["BAT"];

    // The rail gives way: 6 V behind 0.01 ohm into 24 ohm. Fighting an ideal 12 V it could not move.
    [Fact]
    public void A_step_takes_the_place_of_a_rail()
    {
        var rail = EventStudy.Run(Loaded, new FaultEvent("crank", "BAT", new StepTo(6, 0.01, 1e-3))).Transient.Voltage("BAT");
        Assert.Equal(12, rail.At(0.5e-3), 0.01);
        Assert.Equal(6 * 24 / 24.01, rail.At(50e-3), 0.01);
    }

    // ISO 16750-2, starting profile of a 12 V system, level II: 4.5 V at first, then 6.5 V with 2 V from peak to peak at 2 Hz.
    [Fact]
    public void The_starting_profile_dips_to_the_levels_of_ISO_16750_2()
    {
        var rail = EventStudy.Run(Loaded, new FaultEvent("crank", "BAT", VehicleSupply.Of("starting", 12, 2))).Transient.Voltage("BAT");
        double load = 24 / 24.05;
        Assert.Multiple(() => Assert.Equal(4.5 * load, rail.At(16e-3), 0.02), () => Assert.Equal(7.5 * load, rail.At(71e-3 + 0.125), 0.02),
            () => Assert.Equal(5.5 * load, rail.At(71e-3 + 0.375), 0.02), () => Assert.Equal(12 * load, rail.At(10.3), 0.02));
    }

    // V²/R of 230 V over whole periods: 5.29 W in 10 kohm.
    [Fact]
    public void Mains_heat_a_resistor_by_their_mean_over_whole_periods()
    {
        var frontEnd = new FrontEnd
        {
            Parts = [new ResistorPart("R1", "IN", Circuit.Ground, 10e3)],
            Sensors = [new Sensor("s", "IN", new Span(0, 1), 1e9)]
        };
        double watts = EventStudy.Run(frontEnd, new FaultEvent("e", "IN", new Mains())).Parts.Single(p => p.Part.Name == "R1").WarmWatts;
        Assert.Equal(230.0 * 230 / 10e3, watts, 0.01 * 5.29);
    }

    [Fact]
    public void A_wave_below_what_an_arrester_fires_at_reaches_nothing_and_says_so()
    {
        var arrester = SurgeCoupling.Find("arrester");
        Assert.Equal(new SilentArrester(300, 200), CombinationWave.Through(arrester, -200).Silent);
        Assert.Null(CombinationWave.Through(arrester, 500).Silent);
        Assert.Empty(CombinationWave.Through(arrester, 200).ToElements("g", "IN"));
    }
}
