using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Tests;

public class EventStudyTests
{
    private static readonly FaultEvent Plus24 = new("24 V at the terminal", "LEVEL", new StepTo(24, 1, 1e-3, 50e-3));

    private static FrontEnd GuardAlone(params (string Key, object Value)[] settings) =>
        FrontEndOf.Of(FrontEndOf.Guard([("from.input", "LEVEL"), .. settings])) with
        {
            Sensors = [new Sensor("probe", "LEVEL", new Span(0, 3.3), 100e3)],
        };

    [Fact]
    public void What_is_driven_through_a_sensors_own_output_is_told_and_held_against_what_it_withstands()
    {
        // Ohm's law: from 24 V through 0.1 ohm and 1 ohm into 1.5 V.
        const double amps = (24 - 1.5) / 1.1;
        var front = GuardAlone(("series.value", FrontEndOf.Ohm(4700))) with
        {
            Sensors = [new Sensor("probe", "LEVEL", new Span(0, 3), 1) { WithstandsAmps = 20e-3 }],
            Events = [Plus24 with { Disturbance = new StepTo(24, 0.1, 1e-3) }],
        };
        var sensor = EventStudy.Run(front, front.Events[0]).Parts.Single(p => p.Part.Name == "probe");
        Assert.Equal(amps, sensor.PeakAmps, 1e-3 * amps);
        Assert.Equal(amps / 20e-3, sensor.Share!.Value, 1e-3 * amps / 20e-3);
        var parts = CheckStudy.Run(front).Implied.Single(r => r.Requirement is PartsInsideRating);
        Assert.False(parts.Met);
        Assert.Contains(Assert.IsType<PartsReason>(parts.Reason).Beyond, b => b.Part.Part == "probe");
        // Where nothing says what it withstands, the scope says how much it carries: most from 24 V into 0 V.
        var scope = CheckStudy.Run(front with { Sensors = [front.Sensors[0] with { WithstandsAmps = null }] }).Scope!;
        Assert.Equal("probe", scope.Driven!.Sensor);
        Assert.Equal(24 / 1.1, scope.Driven.Amps, 0.02);
    }

    // Ohm's law: a bridge of four arms of R between its excitation is R, a track is itself, and a resistance dissipates most where it is
    // as large as what feeds it: V²/4R.
    [Fact]
    public void What_a_sensor_dissipates_is_held_against_its_power_and_its_excitation()
    {
        PartLoad Worst(Sensor sensor, params ReadOnlySpan<Part> parts) => Assert.IsType<PartsReason>(CheckStudy.Run(new FrontEnd
        {
            Title = "Warm",
            Rails = [new Rail("VP", 24)],
            Sensors = [sensor],
            Parts = [.. parts],
        }).Implied.Single(r => r.Requirement is PartsInsideRating).Reason).Beyond.Single(b => b.Part.Part == "s").Part;
        var bridge = new Bridge(350, "VP", "GND", 2e-3, 1);
        var cell = new Sensor("s", "SP", new Span(0, 20), 0) { Other = "SN", UnitText = "kg", Law = bridge.LawOver(new Span(0, 20)), Wiring = bridge };
        var load = new ResistorPart("R", "SP", "SN", 1e6);
        var excited = Worst(cell, load);
        Assert.Equal((RatingKind.Voltage, 24.0 / 15), (excited.Kind, Math.Round(excited.Share, 9)));
        var warm = Worst(cell with { RatedWatts = 1, Wiring = bridge with { MostVolts = 30 } }, load);
        Assert.Equal(RatingKind.Power, warm.Kind);
        Assert.Equal(24.0 * 24 / 350, warm.Share, 1e-3);
        var bead = new Sensor("s", "A", new Span(20, 100), 0) { Quantity = "temperature", UnitText = "°C", Law = new ThermistorLaw(10e3, 25, 3977) };
        double hot = 10e3 * Math.Exp(3977 * (1 / 373.15 - 1 / 298.15));
        var heated = Worst(bead, new ResistorPart("R", "VP", "A", hot) { RatedWatts = 10 });
        Assert.Equal(24.0 * 24 / (4 * hot) / 0.1, heated.Share, 0.01);
    }

    [Fact]
    public void Clamp_current_and_resistor_power_of_a_24_V_fault_agree_with_the_hand_calculation()
    {
        // By hand: a power Schottky drops about 0.3 V (common practice, no source), so (24 − 3.3 − 0.3) V / 4.701 kohm and I²·R.
        double amps = (24 - 3.3 - 0.3) / 4701, watts = amps * amps * 4700;
        var result = EventStudy.Run(GuardAlone(("series.value", FrontEndOf.Ohm(4700)), ("schottky-high.type", "1N5817"),
            ("schottky-high.rail", "VDD")), Plus24);
        var series = result.Parts.Single(p => p.Part.Name == "guard.R");
        // Once the clamp's own capacitance is charged.
        Assert.Equal(amps, result.Transient.Current("guard.Dh").At(40e-3), 0.02 * amps);
        Assert.Equal(watts, result.Transient.Power("guard.R").At(40e-3), 0.02 * watts);
        // The fault lasts 50 ms, and until then the resistor does next to nothing.
        Assert.Equal(watts * 50e-3, series.Joules, 0.02 * watts * 50e-3);
    }

    [Theory]
    [InlineData(1.0)]
    [InlineData(10.0)]
    public void A_pulse_takes_as_much_of_a_resistors_pulse_rating_as_its_energy_is(double rated)
    {
        // The 50 ms of the fault are short beside the seconds that 1 J or 10 J last at 0.5 W; the lag forgets a little of it.
        var result = EventStudy.Run(GuardAlone(("series.value", FrontEndOf.Ohm(4700)), ("schottky-high.type", "1N5817"),
            ("schottky-high.rail", "VDD"),
            ("rated.value", new Quantity(0.5, Unit.Watt)), ("pulse.value", new Quantity(rated, Unit.Joule))),
                Plus24 with { Disturbance = (StepTo)Plus24.Disturbance with { IsBrief = true } });
        var series = result.Parts.Single(p => p.Part.Name == "guard.R");
        Assert.Equal(series.Joules / rated, PowerOf(series).Share, 0.03 * series.Joules / rated);
        Assert.Equal(rated / 0.5, series.Part.ThermalSeconds, 12);
    }

    [Fact]
    public void A_guard_with_a_schottky_to_the_rail_keeps_a_24_V_fault_inside_the_rating()
    {
        var pin = EventStudy.Run(GuardAlone(("series.value", FrontEndOf.Ohm(4700)), ("schottky-high.type", "1N5817"),
            ("schottky-high.rail", "VDD")), Plus24).Pins[0];
        Assert.True(pin.IsInside);
        Assert.Equal(0, pin.SecondsOutside);
        Assert.InRange(pin.UpperMarginVolts!.Value, 0, 0.2);
    }

    [Fact]
    public void Without_a_clamp_the_pins_own_clamp_takes_the_current_and_the_reason_says_so()
    {
        // By hand: (24 − 3.3 − 0.75) V / (4.701 kohm + some 25 ohm) is twice the 2 mA allowed.
        double amps = (24 - 3.3 - 0.75) / 4726;
        var pin = EventStudy.Run(GuardAlone(("series.value", FrontEndOf.Ohm(4700))), Plus24).Pins[0];
        Assert.False(pin.IsInside);
        Assert.Equal(amps, pin.UpperInjectionAmps, 0.02 * amps);
        Assert.Equal(amps * 50e-3, pin.InjectionCoulombs, 0.03 * amps * 50e-3);
        Assert.Equal(50e-3, pin.SecondsOutside, 1e-3);
        Assert.Equal(3.6, pin.UpperRatingVolts!.Value, 1e-3);
        Assert.Contains(pin.Candidates, m => m.Subject == "guard.R");
    }

    [Fact]
    public void Raising_the_series_resistor_as_the_remedy_says_brings_the_injection_current_to_its_rating()
    {
        // 9.5 kohm would do at nominal; with the resistor 5 % low and the sensor torn off it takes the next value of E12 above 10 kohm.
        var failing = GuardAlone(("series.value", FrontEndOf.Ohm(4700)));
        var judged = new SolvedFrontEnd(failing with { Events = [Plus24] }).Mended(cancel: TestContext.Current.CancellationToken)
            .Implied.Single(r => r.Requirement is InsideRating);
        Assert.Equal(12e3, judged.Mends.Single(m => m.Kind == MendKind.RaiseResistor).To!.Value.In(Unit.Ohm), 1);
        var mended = EventStudy.Run(GuardAlone(("series.value", FrontEndOf.Ohm(10e3))), Plus24).Pins[0];
        Assert.True(mended.InjectionMarginAmps >= 0);
    }

    [Fact]
    public void A_negative_fault_is_bounded_by_the_schottky_from_ground()
    {
        var minus = Plus24 with { Disturbance = new StepTo(-24, 1, 1e-3, 50e-3) };
        (string, object) series = ("series.value", FrontEndOf.Ohm(4700));
        var bare = EventStudy.Run(GuardAlone(series), minus).Pins[0];
        var guarded = EventStudy.Run(GuardAlone(series, ("schottky.type", "1N5817")), minus).Pins[0];
        Assert.False(bare.IsInside);
        Assert.Contains(bare.Candidates, m => m.Kind == MendKind.AddLowerClamp);
        Assert.True(guarded.IsInside);
    }

    [Fact]
    public void A_clamp_into_a_rail_that_cannot_sink_lifts_the_rail_and_the_rating_moves_with_it()
    {
        var frontEnd = GuardAlone(("series.value", FrontEndOf.Ohm(4700)), ("schottky-high.type", "1N5817"), ("schottky-high.rail", "VDD"));
        var weak = frontEnd with
        {
            Rails = [FrontEndOf.Plus, FrontEndOf.Minus, FrontEndOf.Supply with { SourceOnly = true, SeriesOhms = 0.1 }],
            Parts = [new ResistorPart("Rload", "VDD", Circuit.Ground, 2200)],
        };
        var pin = EventStudy.Run(weak, Plus24).Pins[0];
        // By hand: 4.34 mA into 2.2 kohm would lift it to 9.5 V, less as it rises: (24 − 0.3)·2.2/6.9 = 7.6 V.
        Assert.Equal(7.6, pin.UpperRatingVolts!.Value - 0.3, 0.2);
        Assert.True(pin.HighestVolts > 7);
        Assert.True(pin.UpperMarginVolts > 0);
    }

    [Fact]
    public void A_surge_leaves_the_energy_in_the_series_resistor_that_the_wave_squared_gives()
    {
        // The clamp holds the pin near 3.6 V: E = R·∫((v − 3.6 V)/(R+Rs))² dt. Capacitor and coil of the generator give a difference
        // of two exponentials, whose constants solve s² + (1/(R1·C) + R/L)·s + (R/R1 + 1)/(L·C) = 0 with R = R2 + R3, and for it ∫v² and
        // ∫v are closed: s²·(Tf/2 + Tr/2 − 2·Tf·Tr/(Tf+Tr)) and s·(Tf − Tr).
        var shape = SurgeShape.Find("1.2/50")!;
        double c = 6.36e-6, r1 = 18.26, l = 10.53e-6, r = 0.899 + 25.22;
        double half = 0.5 * (1 / (r1 * c) + r / l), root = Math.Sqrt(half * half - (r / r1 + 1) / (l * c));
        double tr = 1 / (half + root), tf = 1 / (half - root);
        double top = Math.Log(tf / tr) * tr * tf / (tf - tr), scale = 1 / (Math.Exp(-top / tf) - Math.Exp(-top / tr));
        double squared = Math.Pow(500 * scale, 2) * (tf / 2 + tr / 2 - 2 * tf * tr / (tf + tr)) - 2 * 3.6 * 500 * scale * (tf - tr);
        double joules = 4700 / (4742.0 * 4742) * squared;
        var surge = new FaultEvent("surge", "LEVEL", new Surge(shape, 500, 42));
        var result = EventStudy.Run(GuardAlone(("series.value", FrontEndOf.Ohm(4700)), ("schottky-high.type", "1N5817"),
            ("schottky-high.rail", "VDD")), surge);
        Assert.Equal(joules, result.Parts.Single(p => p.Part.Name == "guard.R").Joules, 0.01 * joules);
        Assert.InRange(result.Audit.EnergyImbalance, 0, 1e-3);
    }

    [Fact]
    public void A_lasting_overload_counts_as_its_power_and_a_short_one_as_its_energy()
    {
        var frontEnd = GuardAlone(("series.value", FrontEndOf.Ohm(470)), ("schottky-high.type", "1N5817"), ("schottky-high.rail", "VDD"));
        var lasting = EventStudy.Run(frontEnd, Plus24 with { Disturbance = new StepTo(24, 1, 1e-3) })
            .Parts.Single(p => p.Part.Name == "guard.R");
        var brief = EventStudy.Run(frontEnd, Plus24 with { Disturbance = new StepTo(24, 1, 1e-3, 1e-3) { IsBrief = true } })
            .Parts.Single(p => p.Part.Name == "guard.R");
        // By hand: (20.4 V)²·470/471² is 0.88 W, 3.5 times a quarter watt; a leaded quarter watt stands 20 W for 1 ms (typical, from
        // memory).
        Assert.Equal(3.53, PowerOf(lasting).Share, 0.1);
        Assert.Equal(0.88 / 20, PowerOf(brief).Share, 0.002);
    }

    // 24 V through 100 kohm into 100 µF, ten seconds: 24 V − 22 V·exp(−t/10 s).
    [Theory]
    [InlineData(null, false, 23.5)]
    [InlineData(50e-3, false, 23.5)]
    [InlineData(50e-3, true, 2.11)]
    public void What_still_rises_where_a_run_would_end_is_followed_until_it_rests(double? seconds, bool isBrief, double expected)
    {
        var slow = new FrontEnd
        {
            Sensors = [new Sensor("probe", "IN", new Span(1, 3), 10)],
            Parts = [new ResistorPart("R1", "IN", "PIN", 100e3), new CapacitorPart("C1", "PIN", Circuit.Ground, 100e-6)],
            Pins = [new Pin("adc", "PIN") { HasClamps = false }],
        };
        var run = EventStudy.Run(slow, new("24 V", "IN", new StepTo(24, 1e-3, 1e-3, seconds) { IsBrief = isBrief }));
        Assert.Equal(expected, run.Pins[0].HighestVolts, isBrief ? 0.01 : 0.5);
        // Whoever asks for a time gets that.
        Assert.Equal(24 - 22 * Math.Exp(-0.01), EventStudy.Run(slow, new("24 V", "IN", new StepTo(24, 1e-3, 1e-3)), 0.101)
            .Pins[0].HighestVolts, 0.002);
    }

    [Fact]
    public void A_sensor_of_which_no_source_resistance_is_stated_swallows_no_surge()
    {
        var stiff = new FrontEnd
        {
            Sensors = [new Sensor("probe", "IN", new Span(1, 3), 0)],
            Parts = [new ResistorPart("R1", "IN", "PIN", 1e3), new ResistorPart("R2", "PIN", Circuit.Ground, 1e3)],
            Pins = [new Pin("adc", "PIN") { HasClamps = false }],
        };
        // 500 V open behind 42 ohm into 2 kohm.
        var worse = EventStudy.Worse(stiff, new("surge", "IN", new Surge(SurgeShape.Find("1.2/50")!, 500, 42)));
        Assert.Equal(500 * 1e3 / 2042, worse.Pins[0].HighestVolts, 6.0);
        Assert.True(worse.Where!.IsSensorTornOff);
    }

    private static RatingStress PowerOf(PartStress stress) => stress.Stresses.Single(s => s.Rating.Kind == RatingKind.Power);

    [Fact]
    public void A_pin_without_ratings_is_not_called_safe()
    {
        var bare = GuardAlone(("series.value", FrontEndOf.Ohm(4700))) with { Pins = [new Pin("adc", "PIN")] };
        var pin = EventStudy.Run(bare, Plus24).Pins[0];
        Assert.False(pin.IsInside);
        Assert.False(pin.IsRated);
        Assert.Empty(pin.Candidates);
    }
}
