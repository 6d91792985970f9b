using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Parts.Fits;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Events;

namespace FrontEndSim.FrontEnds.Tests.Parts;

/// <summary>What limits surges against the points of its data sheets (named in the catalogue).</summary>
public class SurgePartTests
{
    private static SuppressorType Suppressor(string name) => PartCatalogue.Standard.Find<SuppressorType>(name)!;

    private static double VoltsAt(Part part, double amps, double celsius = 25) =>
        new Circuit([new CurrentSource("I", "GND", "A", amps), .. part.ToElements()], celsius).Compile().SolveOperatingPoint().Nodes["A"];

    private static double AmpsAt(Part part, double volts, double celsius = 25) =>
        -new Circuit([new VoltageSource("SUPPLY", "A", "GND", volts), .. part.ToElements()], celsius).Compile().SolveOperatingPoint()
            .Parts["SUPPLY"].Amps;

    public static TheoryData<string, double, double, double, double, double> Series => new()
    {
        { "5V0", 6.40, 7.00, 10e-3, 9.2, 43.5 }, { "12V", 13.30, 14.70, 1e-3, 19.9, 20.1 }, { "15V", 16.70, 18.50, 1e-3, 24.4, 16.4 },
        { "18V", 20.00, 22.10, 1e-3, 29.2, 13.7 }, { "33V", 36.70, 40.60, 1e-3, 53.3, 7.5 },
    };

    // SMAJ series: Socay and Diodes Inc. data sheets.
    [Theory, MemberData(nameof(Series))]
    public void A_suppressor_breaks_down_between_its_limits_and_clamps_at_its_limit_either_way(string name, double least, double most,
        double test, double clamp, double peak)
    {
        var oneWay = new SuppressorPart("S", "GND", "A", Suppressor(name), false);
        var twoWay = oneWay with { IsTwoWay = true };
        foreach (var part in new[] { oneWay, twoWay })
        {
            Assert.Equal(least, VoltsAt(part.AtLimit(false)!.Value.Part, test), 0.02 * least);
            Assert.Equal(most, VoltsAt(part.AtLimit(true)!.Value.Part, test), 0.02 * most);
            // The conducting junction of a two-way one adds some tenths of a volt at high current.
            Assert.InRange(VoltsAt(part.AtLimit(true)!.Value.Part, peak), 0.97 * clamp, part.IsTwoWay ? clamp + 1 : 1.02 * clamp);
        }
        Assert.InRange(-VoltsAt(oneWay, -35), 1.5, 4); // 3.5 V at 25 to 35 A
        Assert.Equal(-VoltsAt(twoWay, -peak), VoltsAt(twoWay, peak), 1e-3 * clamp);
    }

    [Fact]
    public void A_suppressor_leaks_less_than_its_limit_cold_and_more_where_it_is_hot()
    {
        foreach (string name in (string[])["5V0", "12V", "33V"])
        {
            var part = (SuppressorPart)new SuppressorPart("S", "GND", "A", Suppressor(name), false).AtLimit(false)!.Value.Part;
            double cold = AmpsAt(part, Suppressor(name).StandOffVolts), hot = AmpsAt(part, Suppressor(name).StandOffVolts, 85);
            Assert.InRange(cold, 0.05 * Suppressor(name).LeakageAmps, Suppressor(name).LeakageAmps);
            Assert.True(hot > cold);
        }
    }

    [Theory]
    [InlineData("disk-7mm-18V", 18, 36, 2.5)]
    [InlineData("disk-14mm-33V", 33, 65, 10)]
    [InlineData("disk-14mm-430V", 430, 710, 50)]
    public void A_varistor_has_its_voltage_at_a_milliampere_and_the_largest_piece_its_clamp_voltage(string name, double volts,
        double clamp, double amps)
    {
        var part = new VaristorPart("V", "A", "GND", PartCatalogue.Standard.Find<VaristorType>(name)!);
        Assert.Equal(volts, VoltsAt(part, 1e-3), 0.01 * volts);
        Assert.Equal(-volts, VoltsAt(part, -1e-3), 0.01 * volts);
        Assert.InRange(VoltsAt(part.AtLimit(true)!.Value.Part, amps), 0.98 * clamp, 1.05 * clamp);
        // At the voltage that may stand at it for ever it carries well under the milliampere.
        Assert.InRange(AmpsAt(part, part.Type.LastingVolts), 1e-9, 0.3e-3);
    }

    [Fact]
    public void A_bead_has_its_impedance_at_100_MHz_and_its_wire_for_direct_current()
    {
        var part = new FerriteBeadPart("B", "A", "X", new Toleranced(600, 0.25)) { WireOhms = 0.3 };
        var compiled = new Circuit([new VoltageSource("V", "A", "GND", 0.0), new Resistor("R", "X", "GND", 1), .. part.ToElements()])
            .Compile();
        double Ohms(double hertz) => (1 / compiled.SolveSmallSignal("V", [hertz]).Response("X")[0] - 1).Magnitude;
        Assert.Equal(600, Ohms(100e6), 1.0);
        Assert.InRange(Ohms(1e6), 15, 30); // 2π·f·L below where it turns resistive
        Assert.Equal(0.3, 1 / compiled.SolveSmallSignal("V", [1]).Response("X")[0].Real - 1, 1e-3);
    }

    [Fact]
    public void A_polymer_fuse_holds_less_where_it_is_hot()
    {
        var part = new PolymerFusePart("F", "A", "B", 0.2);
        Assert.Equal(0.2, part.Ratings(23)[0].Limit, 1e-12);
        // 40 % of the current at 85 °C is usual (from memory).
        Assert.InRange(part.Ratings(85)[0].Limit, 0.3 * 0.2, 0.5 * 0.2);
    }

    private static GasArresterPart Arrester(string name) => new("G", "A", "GND", PartCatalogue.Standard.Find<GasArresterType>(name)!);

    [Theory]
    [InlineData("90V", 100, 450)]
    [InlineData("90V", 1000, 600)]
    [InlineData("230V", 100, 550)]
    [InlineData("230V", 1000, 700)]
    public void An_arrester_strikes_at_a_voltage_that_rises_with_the_rate_of_rise(string name, double voltsPerMicrosecond, double volts)
    {
        // Typical figures at 100 V/µs and 1 kV/µs: T90-A90XFSMD and T90-A230X sheets (Epcos).
        double seconds = 1000 / (voltsPerMicrosecond * 1e6);
        var run = new Circuit([new VoltageSource("S", "S", "GND", new Step(0, 1000, 0, seconds)), new Resistor("R", "S", "A", 50),
            .. Arrester(name).ToElements()]).Compile().RunTransient(2 * seconds);
        Assert.Equal(volts, run.Voltage("A").Maximum().Value, 0.06 * volts);
        Assert.InRange(run.Voltage("A").At(2 * seconds), 9, 13); // about 10 V in the arc
        Assert.InRange(run.Audit.EnergyImbalance, 0, 1e-2);
    }

    [Fact]
    public void An_arrester_glows_at_tens_of_milliamperes_goes_out_when_the_surge_is_over_and_stays_lit_on_a_supply_that_keeps_it()
    {
        double After(double supply, double ohms)
        {
            var run = new Circuit([new VoltageSource("S", "S", "GND", new Pulse(supply, 400, 1e-4, 1e-6, 1e-4, 1e-6)),
                new Resistor("R", "S", "A", ohms), .. Arrester("90V").ToElements()])
                .Compile().RunTransient(20e-3);
            Assert.InRange(run.Voltage("A").At(2e-4), 8, 70);
            return run.Voltage("A").At(20e-3);
        }
        Assert.Equal(48, After(48, 1e3), 0.5);     // under its glow voltage it goes out
        Assert.InRange(After(80, 1e3), 50, 70);    // 20 mA into about 60 V: it stays lit
        Assert.InRange(After(24, 5), 5, 15);       // an ampere and more into about 10 V: it stays in its arc
    }

    [Fact]
    public void An_arrester_at_rest_is_its_insulation_and_a_slow_rise_strikes_it_at_its_own_voltage()
    {
        Assert.Equal(50e-9, AmpsAt(Arrester("90V"), 50), 5e-9);
        var run = new Circuit([new VoltageSource("S", "S", "GND", new Step(0, 130, 0, 0.1)), new Resistor("R", "S", "A", 1e5),
            .. Arrester("90V").ToElements()]).Compile().RunTransient(0.1);
        Assert.InRange(run.Voltage("A").Maximum().Value, 88, 118);
    }

    [Theory]
    [InlineData(2, true)]     // 24 V behind 2 ohm keeps an arc of 10 V alight at 7 A
    [InlineData(1000, false)] // 14 mA at 24 V keep neither arc nor glow
    public void An_arrester_that_its_supply_keeps_lit_is_beyond_its_rating_though_the_surge_is_over(double ohms, bool dies)
    {
        var frontEnd = new FrontEnd
        {
            Title = "a supply",
            Rails = [new Rail("V24", 24) { SeriesOhms = ohms }],
            Parts = [Arrester("90V") with { From = "V24" }, new ResistorPart("R", "V24", "GND", 10e3)],
        };
        var stress = EventStudy.Run(frontEnd, new FaultEvent("surge", "V24", new Surge(SurgeShape.Known[0], 1000, 42)))
            .Parts.Single(p => p.Part.Name == "G");
        Assert.Equal(dies, stress.Share > 1);
    }

    [Fact]
    public void Numbers_that_no_suppressor_or_varistor_has_are_refused()
    {
        string Refusal(Func<PartType> made) => Assert.Throws<DataSheetException>(made).Message;
        var s = Suppressor("24V");
        Assert.Contains("may break down", Refusal(() => (s with { StandOffVolts = 28 }).Checked()));
        Assert.Contains("break down at up to", Refusal(() => (s with { ClampVolts = 29 }).Checked()));
        Assert.Contains("leaks", Refusal(() => (s with { LeakageAmps = 2e-3 }).Checked()));
        var v = PartCatalogue.Standard.Find<VaristorType>("disk-7mm-18V")!;
        Assert.Contains("for ever", Refusal(() => (v with { LastingVolts = 17 }).Checked()));
        Assert.Contains("no more than", Refusal(() => (v with { ClampVolts = 19 }).Checked()));
        Assert.Contains("exponent", Refusal(() => (v with { ClampVolts = 600 }).Checked()));
    }
}
