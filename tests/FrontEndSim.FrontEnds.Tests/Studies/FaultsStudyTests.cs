using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.FrontEnds.Studies.Faults;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Tests.Studies;

/// <summary>Single faults of a pin guard. Expected voltages are dividers and drops on paper.</summary>
public sealed class FaultsStudyTests
{
    private static readonly FaultEvent Plus24 = new("24 V at the terminal", "LEVEL", new StepTo(24, 1, 1e-3, 50e-3));

    // 4.7 kohm, a zener of 5.1 V and a Schottky to VDD; the pin stands 2 mA. The zener draws little below 4 V and the
    // Schottky leaks some microamperes into the pin's node: the dividers below hold to some 50 mV.
    private static readonly FrontEnd Guarded = FrontEndOf.Of(FrontEndOf.Guard(
        [("from.input", "LEVEL"), ("series.value", FrontEndOf.Ohm(4700)), ("pulldown.value", FrontEndOf.Ohm(47e3)), ("zener.type", "5V1"),
            ("schottky-high.type", "1N5817"), ("schottky-high.rail", "VDD")])) with
    {
        Sensors = [new Sensor("probe", "LEVEL", new Span(0.2, 2), 1e3)],
        Events = [Plus24],
    };

    private static readonly Lazy<FaultsResult> All = new(() => FaultsStudy.Run(Guarded));

    private static FaultRow With(string text) => All.Value.Faults.Single(f => f.Text == text);

    [Fact]
    public void Every_part_rail_and_sensor_is_broken_in_each_way_it_can_break()
    {
        string[] expected =
        [
            "guard.R open", "guard.R short", "guard.Rp open", "guard.Rp short",
            "guard.Dz open", "guard.Dz short", "guard.Dz reversed", "guard.Dh open", "guard.Dh short", "guard.Dh reversed",
            "rail VP lost", "rail VP open", "rail VN lost", "rail VN open", "rail VDD lost", "rail VDD open",
            "sensor probe open", "sensor probe shorted to GND", "sensor probe shorted to VP", "sensor probe shorted to VN",
                "sensor probe shorted to VDD",
        ];
        Assert.Equal(expected, All.Value.Faults.Select(f => f.Text));
    }

    [Fact]
    public void The_whole_guard_stands_the_fault()
    {
        var whole = Assert.Single(All.Value.Whole);
        Assert.True(whole.Survives);
        // 2 V through 5.7 kohm onto 47 kohm.
        Assert.Equal(2 * 47 / 52.7, whole.AtHighEnd!.HighestVolts, 0.05);
    }

    [Fact]
    public void With_the_series_resistor_shorted_the_terminal_stands_at_the_pin()
    {
        var row = With("guard.R short");
        Assert.False(row.Survives);
        Assert.Equal(2 * 47 / 48.0, row.AtHighEnd!.HighestVolts, 0.05);
        Assert.Equal(Plus24, row.WorstEvent);
        Assert.True(row.InWorstEvent!.UpperMarginVolts < 0 || row.InWorstEvent.InjectionMarginAmps < 0);
        Assert.Equal("24 V at the terminal", row.Where!.Event);
    }

    [Fact]
    public void A_short_at_the_pin_reads_zero_and_harms_nothing()
    {
        var row = With("guard.Dz short");
        Assert.True(row.Survives);
        Assert.Equal(0, row.AtHighEnd!.HighestVolts, 1e-3);
    }

    [Fact]
    public void A_diode_mounted_the_wrong_way_round_conducts_from_its_rail()
    {
        // VDD of 3.3 V through a Schottky drop onto the pin, whatever the sensor says; the sensor pulls against it.
        var row = With("guard.Dh reversed");
        Assert.InRange(row.AtLowEnd!.HighestVolts, 2.9, 3.3);
    }

    [Fact]
    public void A_pin_whose_supply_is_off_is_held_to_a_rating_that_has_gone_down_with_it()
    {
        var row = With("rail VDD lost");
        Assert.Equal(0.3, row.AtHighEnd!.UpperRatingVolts!.Value, 1e-3);
    }

    [Fact]
    public void A_rail_that_nothing_feeds_is_lifted_by_the_clamp_and_that_is_a_finding()
    {
        // 24 V through 4.7 kohm and the Schottky: with nothing but a zener of 5.1 V at the pin the rail goes up to it.
        var row = With("rail VDD open");
        Assert.False(row.Survives);
        Assert.InRange(row.InWorstEvent!.SupplyHighestVolts!.Value, 4, 6);
        Assert.True(row.Deciding!.SupplyMarginVolts < 0);
    }

    [Fact]
    public void An_open_sensor_leaves_the_pin_at_its_pull_down()
    {
        // A power Schottky leaks some microamperes from VDD (common practice, no source): 10 uA into 47 kohm at most.
        Assert.InRange(With("sensor probe open").AtHighEnd!.HighestVolts, 0, 0.47);
        // 0.1 ohm to 3.3 V, then 4.7 kohm onto 47 kohm; at 3 V a zener of 5.1 V may draw up to 20 uA (its data sheets give 2 uA at 2 V;
        // from memory), which takes 20 uA * 4.3 kohm away.
        Assert.InRange(With("sensor probe shorted to VDD").AtHighEnd!.HighestVolts, 3.3 * 47 / 51.7 - 20e-6 * 4.3e3, 3.3 * 47 / 51.7);
    }

    private static FaultRow OpenSensor(params (string Key, object Value)[] settings) => FaultsStudy.Run(FrontEndOf.Of(FrontEndOf.Guard(
        [("from.input", "IN"), ("series.value", FrontEndOf.Ohm(4700)), .. settings])) with
    {
        Rails = [FrontEndOf.Supply],
        Sensors = [new Sensor("probe", "IN", new Span(0.2, 2), 1e3)],
        Pins = [FrontEndOf.Adc with { LeakageAmps = 100e-9 }],
    }).Faults.Single(f => f.Text == "sensor probe open");

    [Fact]
    public void A_pin_that_nothing_holds_floats_between_its_supplies_and_leakage_takes_it_no_further()
    {
        var row = OpenSensor();
        Assert.True(row.Floats);
        Assert.True(row.Survives);
        // What leaks are junctions to both supplies: it ends some kT/q (25 mV) beyond them (Sze).
        Assert.InRange(row.AtLowEnd!.LowestVolts, -0.03, 0);
        Assert.InRange(row.AtHighEnd!.HighestVolts, 3.3, 3.33);
    }

    [Fact]
    public void A_pull_down_holds_a_pin_that_nothing_drives_within_what_leaks_through_it()
    {
        var row = OpenSensor(("pulldown.value", FrontEndOf.Ohm(1e6)));
        Assert.False(row.Floats);
        // Ohm's law: 100 nA and 3.3 V of 1 Gohm, either way, on 1 Mohm.
        Assert.InRange(row.AtLowEnd!.HighestVolts, 0.100, 0.104);
        Assert.InRange(row.AtLowEnd.LowestVolts, -0.03, 0);
    }

    [Fact]
    public void The_result_does_not_depend_on_the_order_in_which_the_cores_finish()
    {
        var again = FaultsStudy.Run(Guarded);
        Assert.Equal(All.Value.Faults.Select(f => (f.Text, f.Survives, f.Tightness)),
            again.Faults.Select(f => (f.Text, f.Survives, f.Tightness)));
    }

    [Fact]
    public void The_requirement_names_the_fault_that_breaks_it_and_what_would_mend_it()
    {
        var check = CheckStudy.Run(Guarded with
        {
            Requirements =
            [new InsideRatingWithSingleFault("adc", "adc inside rating with any single fault")]
        });
        var judged = Assert.Single(check.Requirements);
        Assert.False(judged.Met);
        Assert.Equal(21, Assert.IsType<SingleFaultReason>(judged.Reason).Faults);
        Assert.NotEmpty(judged.Candidates);
    }

    [Fact]
    public void Cancelling_ends_the_study()
    {
        using var cancel = new CancellationTokenSource();
        cancel.Cancel();
        Assert.ThrowsAny<OperationCanceledException>(() => FaultsStudy.Run(Guarded, null, cancel.Token));
    }

    // By hand: (24 - 3.3 - 0.3) V over 4.701 kohm, squared, times 4.7 kohm is 88.5 mW, lasting: 35 % of a quarter watt.
    [Theory, InlineData(0.40, true), InlineData(0.30, false)]
    public void A_requirement_on_power_is_held_against_the_hand_calculation(double limit, bool met)
    {
        var lasting = Guarded with
        {
            Events = [Plus24 with { Disturbance = new StepTo(24, 1, 1e-3) }],
            Requirements = [new PartPower("guard.R", limit, "guard.R power under a share")],
        };
        var judged = Assert.Single(CheckStudy.Run(lasting).Requirements);
        Assert.Equal(met, judged.Met);
        Assert.Equal("24 V at the terminal", Assert.IsType<PartReason>(judged.Reason).Where.Event);
        // 5 % more where the resistor is at the lower end of its tolerance.
        Assert.Equal(0.354 / 0.95, judged.Found!.Value.Value, 0.354 * 0.02);
    }

    [Fact]
    public void The_mean_power_of_an_event_is_its_energy_over_its_length()
    {
        var stress = EventStudy.Run(Guarded, Plus24).Parts.Single(p => p.Part.Name == "guard.R");
        Assert.Equal(stress.Joules / 76e-3, stress.MeanWatts, 1e-9);
        Assert.True(stress.MeanWatts < stress.PeakWatts);
    }

    public static TheoryData<string> Faults => [.. SingleFault.Of(Guarded).Select(f => f.Text)];

    // What comes to pass ends where what is broken from the first rests: two ways to the same point.
    [Theory, MemberData(nameof(Faults))]
    public void A_fault_that_comes_to_pass_ends_at_the_operating_point_of_the_broken_circuit(string text)
    {
        var fault = SingleFault.Of(Guarded).Single(f => f.Text == text);
        var run = EventStudy.Run(Guarded, fault.Happens(Guarded), until: 0.5).Transient;
        var before = new SolvedFrontEnd(Guarded).Rest();
        var after = new SolvedFrontEnd(fault.In(Guarded)).Rest();
        Assert.Equal(before.Nodes["PIN"], run.Voltage("PIN").At(0), 1e-4);
        Assert.Equal(after.Nodes["PIN"], run.Voltage("PIN").At(0.5), 2e-3 * Math.Max(1, Math.Abs(after.Nodes["PIN"])));
    }

    // A regulator folds back and a fuse blows: ten milliohms do not divide a supply (common practice, no source).
    [Fact]
    public void A_supply_with_a_short_across_it_is_lost()
    {
        var decoupled = Guarded with { Parts = [new CapacitorPart("Cdd", "VDD", Circuit.Ground, 10e-6)] };
        var fault = SingleFault.Of(decoupled).Single(f => f.Text == "Cdd short");
        Assert.Equal(0, new SolvedFrontEnd(fault.In(decoupled)).Rest().Nodes["VDD"], 0.01);
        var run = EventStudy.Run(decoupled, fault.Happens(decoupled), until: 0.5).Transient;
        Assert.Equal(3.3, run.Voltage("VDD").At(0), 1e-3);
        Assert.Equal(0, run.Voltage("VDD").At(0.5), 0.01);
    }
}
