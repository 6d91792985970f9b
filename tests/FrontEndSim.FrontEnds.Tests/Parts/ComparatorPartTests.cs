using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.FrontEnds.Tests.Parts;

/// <summary>Comparators against the sheets of their classes (named in the catalogue) and against thresholds worked by hand.</summary>
public class ComparatorPartTests
{
    private static ComparatorType Class(string name) => PartCatalogue.Standard.Find<ComparatorType>(name)!;

    private static Element[] Bench(string type, double plus, double minus, double supply = 5, double pullUp = 5.1e3, string to = "VP") =>
    [
        new VoltageSource("VP", "VP", "GND", supply), new VoltageSource("P", "P", "GND", plus), new VoltageSource("M", "M", "GND", minus),
        new VoltageSource("V5", "V5", "GND", 5), new Resistor("R", to, "OUT", pullUp),
            .. new ComparatorPart("U", "P", "M", "OUT", "VP", "GND", Class(type)).ToElements(),
    ];

    private static double Output(params Element[] parts) => new Circuit(parts).Compile().SolveOperatingPoint().Nodes["OUT"];

    [Fact]
    public void An_open_collector_is_low_by_its_saturation_and_high_by_its_resistor()
    {
        // 150 to 250 mV typical and 400 mV at most at 4 mA, 6 mA at least and 16 mA typical at 1.5 V: TI, onsemi, Fairchild, ST.
        Assert.InRange(Output(Bench("open-collector", 1, 2, pullUp: 1.2e3)), 0.15, 0.4);
        Assert.Equal(5, Output(Bench("open-collector", 2, 1)), 1e-3);
        var shorted = new Circuit([.. Bench("open-collector", 1, 2, pullUp: 100)]).Compile().SolveOperatingPoint();
        Assert.InRange(shorted.Parts["R"].Amps, 6e-3, 18e-3);
    }

    [Fact]
    public void One_input_above_its_range_is_answered_rightly_and_two_are_not_told_apart()
    {
        // Range 0 to V+ − 2 V over temperature; an input above it is no harm while the other is inside: the sheets' common note.
        Assert.InRange(Output(Bench("open-collector", 1, 12)), 0, 0.1);
        Assert.Equal(5, Output(Bench("open-collector", 12, 1)), 1e-2);
        Assert.True(Math.Abs(Output(Bench("open-collector", 8, 12)) - Output(Bench("open-collector", 12, 8))) < 0.5);
        Assert.True(Output(Bench("open-collector", 2, 4, supply: 12)) < 0.2);
    }

    [Fact]
    public void Without_its_supply_an_open_collector_pulls_nothing_down() =>
        Assert.Equal(5, Output(Bench("open-collector", 1, 2, supply: 0, to: "V5")), 1e-2);

    [Theory]
    [InlineData("open-collector", 1.4e-6)]        // 1.3 to 1.5 µs, 100 mV step with 5 mV overdrive, 5.1 kohm to 5 V: TI, onsemi
    [InlineData("quick-open-collector", 200e-9)]  // from memory
    [InlineData("push-pull-cmos", 4e-6)]          // from memory
    public void An_output_follows_after_the_delay_of_its_class(string type, double seconds)
    {
        var run = new Circuit([new VoltageSource("VP", "VP", "GND", 5),
            new VoltageSource("P", "P", "GND", new Step(1.105, 0.995, 1e-5, 1e-9)),
            new VoltageSource("M", "M", "GND", 1), new Resistor("R", "VP", "OUT", 5.1e3),
                .. new ComparatorPart("U", "P", "M", "OUT", "VP", "GND", Class(type)).ToElements()])
            .Compile().RunTransient(5e-5);
        Assert.Single(run.Voltage("OUT").Crossings(2.5));
        Assert.InRange(run.Voltage("OUT").Crossings(2.5)[0] - 1e-5, 0.2 * seconds, 1.5 * seconds);
        Assert.InRange(run.Audit.EnergyImbalance, 0, 1e-3);
    }

    [Fact]
    public void Two_resistors_set_the_thresholds_of_an_open_collector_with_hysteresis()
    {
        // Inverting, 5 V: divider R1 = R2 = 10 kohm at the plus input, R3 = 100 kohm from the output, pull-up 1 kohm (Horowitz and Hill,
        // the
        // comparator with hysteresis, worked by hand): V+ is (5/R1 + Vo'/R3')/(1/R1 + 1/R2 + 1/R3'), with Vo' = 5 V behind R3 + 1 kohm when
        // high and the saturation voltage behind R3 when low.
        double Slow(Waveform wave, double seconds)
        {
            var run = new Circuit([new VoltageSource("VP", "VP", "GND", 5), new VoltageSource("S", "M", "GND", wave),
                new Resistor("R1", "VP", "P", 10e3),
                new Resistor("R2", "P", "GND", 10e3), new Resistor("R3", "OUT", "P", 100e3), new Resistor("R", "VP", "OUT", 1e3),
                .. new ComparatorPart("U", "P", "M", "OUT", "VP", "GND",
                    Class("open-collector") with { Model = Class("open-collector").Model with { BiasAmps = 0 } }).ToElements()])
                .Compile().RunTransient(seconds);
            var crossings = run.Voltage("OUT").Crossings(2.5);
            Assert.Single(crossings);
            return wave.At(crossings[0]);
        }
        double high = (5 / 10e3 + 5 / 101e3) / (2 / 10e3 + 1 / 101e3), low = (5 / 10e3 + 0.24 / 100e3) / (2 / 10e3 + 1 / 100e3);
        Assert.Equal(high, Slow(new Step(2, 3, 0, 0.1), 0.1), 2e-3);
        Assert.Equal(low, Slow(new Step(3, 2, 0, 0.1), 0.1), 2e-3);
    }

    [Fact]
    public void One_with_hysteresis_of_its_own_changes_over_at_half_of_it_either_side()
    {
        // 3.3 mV typical (from memory of the class): ±1.65 mV about the offset.
        double At(double from, double to)
        {
            var wave = new Step(from, to, 0, 0.2);
            var run = new Circuit([new VoltageSource("VP", "VP", "GND", 5), new VoltageSource("S", "P", "GND", wave),
                new VoltageSource("M", "M", "GND", 2),
                new Resistor("R", "OUT", "GND", 1e5), .. new ComparatorPart("U", "P", "M", "OUT", "VP", "GND", Class("push-pull-cmos"))
                    .ToElements()]).Compile().RunTransient(0.2);
            return wave.At(Assert.Single(run.Voltage("OUT").Crossings(2.5))) - 2;
        }
        Assert.Equal(1.65e-3, At(1.99, 2.01), 0.05e-3);
        Assert.Equal(-1.65e-3, At(2.01, 1.99), 0.05e-3);
    }

    [Fact]
    public void An_input_below_ground_and_an_output_above_its_rating_are_told_of()
    {
        var part = new ComparatorPart("U", "P", "M", "OUT", "VP", "GND", Class("open-collector"));
        var kinds = part.Ratings().Select(r => r.Kind).ToHashSet();
        Assert.Superset(new HashSet<RatingKind> { RatingKind.InputCurrent, RatingKind.InputVoltage, RatingKind.SupplyVoltage,
            RatingKind.PeakCurrent, RatingKind.Power, RatingKind.Voltage }, kinds);
        Assert.Equal(36, part.Ratings().First(r => r.Kind == RatingKind.Voltage).Limit);
    }
}
