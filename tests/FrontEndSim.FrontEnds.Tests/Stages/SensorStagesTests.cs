using System.Collections.Immutable;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Explain;

namespace FrontEndSim.FrontEnds.Tests.Stages;

/// <summary>Stages of sensors that are no voltage: transimpedance, dividers and currents of resistive sensors, middles of
/// supplies.</summary>
public class SensorStagesTests
{
    private static readonly ImmutableArray<Rail> Rails = [new("VP", 9), new("VN", -9), new("VDD", 3.3)];

    private static Stage Build(string kind, Sensor sensor, params (string Key, object Value)[] settings)
    {
        var values = new Dictionary<string, object>();
        if (kind != "mid-rail")
            (values["opamp.type"], values["opamp.positive"], values["opamp.negative"]) = ("ideal", "VP", "VN");
        foreach (var (key, value) in settings)
            values[key] = value;
        return Asked.Of(kind, "s", values, Rails, [sensor],
            PartCatalogue.Standard with { OpAmps = [IdealOpAmp.Type, .. PartCatalogue.Standard.OpAmps] }).Build();
    }

    private static FrontEnd With(Sensor sensor, params Stage[] stages) => new() { Rails = Rails, Sensors = [sensor], Stages = [.. stages] };

    private static Quantity Of(double value, Unit unit) => new(value, unit);

    private static double Ohms(Stage stage, string name) =>
        stage.Parts.OfType<ResistorPart>().Single(r => r.Name == "s." + name).Ohms.Value;

    private static RequirementResult Implied<T>(FrontEnd frontEnd) where T : Requirement =>
        CheckStudy.Run(frontEnd, cancel: TestContext.Current.CancellationToken).Implied.Single(r => r.Requirement is T);

    private static Sensor Photodiode(double farads, double amps = -20e-6) =>
        new("lamp", "IN", new Span(0, 2000), 0)
        {
            Quantity = "light",
            UnitText = "lx",
            Law = new StraightLaw(new(0, 2000), 0, amps, Unit.Amps),
            Farads = farads
        };

    private static Stage Amplifier(Sensor sensor, string opAmp, params (string Key, object Value)[] more) =>
        Build("transimpedance", sensor, [("from.input", "IN"), ("from.output", "OUT"), ("opamp.type", opAmp), .. more]);

    [Fact]
    public void A_transimpedance_stage_gives_the_current_times_its_resistor()
    {
        var sensor = Photodiode(100e-12);
        var stage = Amplifier(sensor, "ideal", ("reaches.value", Of(3, Unit.Volts)));
        Assert.Equal(150e3, Ohms(stage, "Rf")); // 3 V/20 µA, of E96
        double[] outputs = With(sensor, stage).ToCircuit().Compile().Sweep("lamp", [0, 1000, 2000]).Voltage("OUT");
        Assert.Equal(0, outputs[0], 1e-9);
        Assert.Equal(1.5, outputs[1], 1e-9);
        Assert.Equal(3, outputs[2], 1e-9);
    }

    // Where the noise gain of Rf, Cf and Cs crosses GBW/f: with a single pole, 90° less the arc tangent of f/fz and more that of f/fp. The
    // crossing is a
    // root of (GBW/f)²·(1 + (f/fp)²) = 1 + (f/fz)², a quadratic in f².
    [Theory]
    [InlineData(150e3, 10e-12, 100e-12)]
    [InlineData(1e6, 2.2e-12, 30e-12)]
    [InlineData(10e3, 47e-12, 1e-9)]
    public void Its_phase_margin_is_that_of_the_noise_gain_crossing(double rf, double cf, double cs)
    {
        const double gbw = 10e6;
        var sensor = Photodiode(cs, -1e-6);
        var type = IdealOpAmp.Like(IdealOpAmp.Model with { GainBandwidthHertz = gbw, OpenLoopGain = 1e9 });
        var stage = Asked.Of("transimpedance", "s", new Dictionary<string, object>
        {
            ["from.input"] = "IN",
            ["from.output"] = "OUT",
            ["feedback.value"] = Of(rf, Unit.Ohm),
            ["capacitor.value"] = Of(cf, Unit.Farad),
            ["opamp.type"] = "ideal",
            ["opamp.positive"] = "VP",
            ["opamp.negative"] = "VN",
        }, Rails, [sensor], PartCatalogue.Standard with { OpAmps = [type] }).Build();
        double fp = 1 / (2 * Math.PI * rf * cf), fz = 1 / (2 * Math.PI * rf * (cf + cs));
        // y²/fz² + y·(1 − gbw²/fp²) − gbw² = 0 for y = f².
        double a = 1 / (fz * fz), b = 1 - gbw * gbw / (fp * fp), y = (-b + Math.Sqrt(b * b + 4 * a * gbw * gbw)) / (2 * a),
            f = Math.Sqrt(y);
        double margin = 90 + (Math.Atan(f / fp) - Math.Atan(f / fz)) * 180 / Math.PI;
        var steps = ExplainStudy.Run(With(sensor, stage), cancel: TestContext.Current.CancellationToken).Stages[0].Steps;
        var crossing = steps.Single(s => s.Step.What.StartsWith("crossing", StringComparison.Ordinal));
        var found = steps.Single(s => s.Step.What.StartsWith("phase margin", StringComparison.Ordinal));
        Assert.Equal(f, crossing.Step.Result, 1e-3 * f);
        Assert.Equal(margin, found.Step.Result, 0.1);
        Assert.Equal(margin, found.Simulated!.Value, 0.1);
    }

    [Fact]
    public void The_capacitor_that_is_chosen_keeps_it_stable_and_without_one_it_is_not()
    {
        var sensor = Photodiode(500e-12);
        var chosen = With(sensor, Amplifier(sensor, "jfet-input", ("reaches.value", Of(3, Unit.Volts))));
        Assert.True(Implied<OpAmpsStable>(chosen).Met);
        var without = With(sensor, Amplifier(sensor, "jfet-input", ("reaches.value", Of(3, Unit.Volts)),
            ("capacitor.value", Of(1e-15, Unit.Farad))));
        Assert.False(Implied<OpAmpsStable>(without).Met);
    }

    [Fact]
    public void A_current_that_takes_the_output_the_other_way_is_refused() =>
        Assert.Throws<StageProblemException>(() => Amplifier(Photodiode(0), "ideal", ("reaches.value", Of(-3, Unit.Volts))));

    private static Sensor Bath(double low, double high) => new("bath", "SENSE", new Span(low, high), 0)
    {
        Quantity = "temperature",
        UnitText = "°C",
        Law = new ThermistorLaw(new(10e3), 25, new(3977)),
    };

    // The inflection of the divided voltage lies at Tm where R = Rm·(B − 2·Tm)/(B + 2·Tm) (common in makers' notes on thermistors, from
    // memory): over a narrow span about Tm
    // that is the straightest.
    [Fact]
    public void The_straightest_divider_of_a_thermistor_has_its_inflection_in_the_middle()
    {
        var stage = Build("sensor-divider", Bath(25, 35), ("reads.sensor", "bath"), ("reads.rail", "VDD"), ("best.aim", "linearity"),
            ("resistors.series", "E192"));
        const double t = 30 + 273.15, b = 3977;
        double middle = 10e3 * Math.Exp(b * (1 / t - 1 / 298.15));
        Assert.Equal(middle * (b - 2 * t) / (b + 2 * t), Ohms(stage, "R"), 0.015 * middle);
    }

    [Theory]
    [InlineData(1e3, 2e3)]
    [InlineData(1, 1e6)]
    [InlineData(910, 2.7e3)]
    [InlineData(10, 2e3)]
    public void For_linearity_a_divider_of_any_resistance_is_found(double low, double high)
    {
        // A resistance that is a straight line bends its divider less the larger the resistor is: the largest of those that are tried.
        var sensor = new Sensor("tank", "SENSE", new Span(0, 1000), 0) { Other = "GND", Quantity = "level", UnitText = "mm", Law = new StraightLaw(new(0, 1000), low, high, Unit.Ohm) };
        var stage = Build("sensor-divider", sensor, ("reads.sensor", "tank"), ("reads.rail", "VDD"), ("best.aim", "linearity"), ("resistors.series", "E192"));
        Assert.Equal(30 * high, Ohms(stage, "R"), 0.02 * 30 * high);
    }

    [Fact]
    public void The_divider_of_the_largest_change_has_the_geometric_mean_and_lands_where_it_is_said()
    {
        var sensor = Bath(0, 80);
        var stage = Build("sensor-divider", sensor, ("reads.sensor", "bath"), ("reads.rail", "VDD"), ("resistors.series", "E192"));
        double Thermistor(double c) => 10e3 * Math.Exp(3977 * (1 / (c + 273.15) - 1 / 298.15));
        double r = Ohms(stage, "R"), mean = Math.Sqrt(Thermistor(0) * Thermistor(80));
        Assert.Equal(mean, r, 0.006 * mean); // half a step of E192
        double[] volts = With(sensor, stage).ToCircuit().Compile().Sweep("bath", [0, 80]).Voltage("SENSE");
        Assert.Equal(3.3 * Thermistor(0) / (r + Thermistor(0)), volts[0], 1e-9);
        Assert.Equal(3.3 * Thermistor(80) / (r + Thermistor(80)), volts[1], 1e-9);
        Assert.True(Implied<StagesAsAsked>(With(sensor, stage)).Met);
    }

    [Fact]
    public void A_current_through_platinum_makes_a_line_of_its_resistance()
    {
        var sensor = new Sensor("kiln", "DRIVE", new Span(0, 400), 0)
        { Other = "SENSE", Quantity = "temperature", UnitText = "°C", Law = new PlatinumLaw(1000) };
        var stage = Build("sensor-current", sensor, ("through.sensor", "kiln"), ("current.value", Of(0.5e-3, Unit.Amps)),
            ("offset.rail", "VDD"));
        double[] at = [0, 100, 400], volts = With(sensor, stage).ToCircuit().Compile().Sweep("kiln", at).Voltage("DRIVE");
        double reference = 3.3 * Ohms(stage, "Rb") / (Ohms(stage, "Ra") + Ohms(stage, "Rb")), amps = reference / Ohms(stage, "Rref");
        Assert.Equal(0.5e-3, amps, 0.005e-3);
        // IEC 60751: 1000.0, 1385.1 and 2470.9 ohm at 0, 100 and 400 °C.
        double[] table = [1000.0, 1385.1, 2470.9];
        for (int k = 0; k < at.Length; k++)
            Assert.Equal(reference + amps * table[k], volts[k], amps * 0.06);
        Assert.True(Implied<StagesAsAsked>(With(sensor, stage)).Met);
    }

    [Fact]
    public void A_transformer_s_current_swings_about_the_middle_of_the_supply()
    {
        var sensor = new Sensor("mains", "CT", new Span(-20, 20), 0)
        { Other = "MID", Quantity = "current", UnitText = "A", Law = new StraightLaw(new(-20, 20), -10e-3, 10e-3, Unit.Amps) };
        var stage = Build("mid-rail", sensor, ("from.rail", "VDD"), ("from.output", "MID"), ("reservoir.value", Of(10e-6, Unit.Farad)));
        var frontEnd = With(sensor, stage) with { Parts = [new ResistorPart("Rb", "CT", "MID", new(150))] };
        double[] volts = frontEnd.ToCircuit().Compile().Sweep("mains", [-20, 0, 20]).Voltage("CT");
        Assert.Equal(0.15, volts[0], 1e-9);
        Assert.Equal(1.65, volts[1], 1e-9);
        Assert.Equal(3.15, volts[2], 1e-9);
        Assert.True(Implied<StagesAsAsked>(frontEnd).Met);
        // A burden to ground in place of one to the node pulls it away.
        Assert.False(Implied<StagesAsAsked>(frontEnd with
        { Parts = [new ResistorPart("Rb", "CT", "MID", new(150)), new ResistorPart("slip", "MID", "GND", new(10e3))] }).Met);
    }

    [Theory]
    [InlineData(100, 3.3e6, true)]
    [InlineData(100, 5e3, false)] // a contact that leaks so much is never read as high
    public void A_contact_is_read_by_a_pull_up_or_refused(double closed, double open, bool reads)
    {
        var sensor = new Sensor("near", "IN", new Span(0, 10), 0)
        { Quantity = "distance", UnitText = "mm", Law = new StraightLaw(new(0, 10), closed, open, Unit.Ohm) };
        Stage Contact() => Build("open-collector-input", sensor, ("from.input", "IN"), ("from.output", "OUT"), ("rail.supply", "VDD"),
            ("wets.value", Of(1e-3, Unit.Amps)));
        if (!reads)
        {
            Assert.Throws<StageProblemException>(Contact);
            return;
        }
        var stage = Contact();
        double[] volts = With(sensor, stage).ToCircuit().Compile().Sweep("near", [0, 10]).Voltage("OUT");
        Assert.Equal(3.3 * closed / (closed + Ohms(stage, "Rp")), volts[0], 1e-9);
        Assert.Equal(3.3 * open / (open + Ohms(stage, "Rp")), volts[1], 1e-9);
        Assert.True(Implied<StagesAsAsked>(With(sensor, stage)).Met);
    }

    private static Stage Plain(string kind, Sensor sensor, params (string Key, object Value)[] settings) =>
        Asked.Of(kind, "s", settings.ToDictionary(x => x.Key, x => x.Value), Rails, [sensor]).Build();

    [Fact]
    public void A_diode_against_a_reversed_battery_leaves_all_but_its_registered_forward_voltage()
    {
        // 1N5819: 0.6 V at 1 A (registered). 12 V behind 0.1 ohm, and what leaves 1 A of it.
        var battery = new Sensor("battery", "IN", new(-15, 15), 0.1);
        var stage = Plain("reverse-protection", battery, ("from.input", "IN"), ("from.output", "OUT"), ("diode.type", "1N5819"),
            ("load.amps", Of(0.9, Unit.Amps)));
        var frontEnd = With(battery, stage) with { Parts = [new ResistorPart("RL", "OUT", "GND", new(11.3))] };
        double[] volts = frontEnd.ToCircuit().Compile().Sweep("battery", [-12, 12]).Voltage("OUT");
        Assert.Equal(11.3, volts[1], 1e-3 * 11.3);
        Assert.InRange(volts[0], -0.02, 0);
    }

    [Theory]
    [InlineData(470, 2e-3, 3.3)] // the resistor takes it all: the supply delivers the rest of 7 mA
    [InlineData(3300, 2e-3, 6.6)] // it takes 1 mA at 3.3 V, and 2 mA at twice that
    public void A_supply_that_only_delivers_is_lifted_to_what_a_clamps_resistor_makes_of_the_current(double ohms, double amps,
        double expected)
    {
        var fault = new Sensor("fault", "VDD", new Span(0, 1), 0)
        { Quantity = "fault", UnitText = "1", Law = new StraightLaw(new(0, 1), 0, amps, Unit.Amps) };
        var stage = Plain("supply-clamp", fault, ("on.rail", "VDD"), ("takes.amps", Of(amps, Unit.Amps)),
            ("load.value", Of(ohms, Unit.Ohm)));
        var frontEnd = With(fault, stage) with { Rails = [new("VDD", 3.3) { SourceOnly = true }] };
        Assert.Equal(expected, frontEnd.ToCircuit().Compile().Sweep("fault", [0, 1]).Voltage("VDD")[1], 1e-3 * expected);
    }

    [Fact]
    public void A_transistor_switch_pulls_its_output_to_what_two_resistances_divide()
    {
        // 2N7000: its channel's resistance, 1/(β·(Vgs − Vth)) and what is in series, below the pull-up; the supply where it is off.
        var line = new Sensor("line", "IN", new(0, 12), 1e3);
        var stage = Plain("transistor-switch", line, ("from.input", "IN"), ("from.output", "OUT"), ("transistor.type", "2N7000"),
            ("rail.supply", "VDD"),
            ("pullup.value", Of(1000, Unit.Ohm)), ("high.value", Of(8, Unit.Volts)), ("low.value", Of(0.5, Unit.Volts)),
                ("hold.value", Of(1e6, Unit.Ohm)));
        var type = stage.Parts.OfType<MosPart>().Single().Type;
        double[] volts = With(line, stage).ToCircuit().Compile().Sweep("line", [0, 12]).Voltage("OUT");
        double gate = 12 * 1e6 / (1e6 + 1e3 + stage.Parts.OfType<ResistorPart>().Where(r => r.Nodes.Contains("IN")).Sum(r => r.Ohms.Value));
        double channel = 1 / (type.Model.AmpsPerSquareVolt * (gate - type.Model.ThresholdVolts)) + type.SeriesOhms;
        Assert.Equal(3.3, volts[0], 3.3e-3);
        Assert.Equal(3.3 * channel / (1000 + channel), volts[1], 3.3e-3);
    }
}
