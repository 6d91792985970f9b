using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.Engine.Waveforms;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Check;

namespace FrontEndSim.FrontEnds.Tests.Parts;

/// <summary>Analog switches, instrumentation amplifiers in one part and series references, cold, at room temperature and hot.</summary>
public class SwitchAndInAmpTests
{
    private static readonly double[] Temperatures = [-40, 25, 85];

    private static OperatingPoint Rest(double celsius, Part part, params Element[] elements) =>
        new Circuit([.. elements, .. part.At(celsius).ToElements()], celsius).Compile().SolveOperatingPoint();

    private static AnalogSwitchPart Switch(string type, Waveform closed) =>
        new("K", "A", "B", "VDD", "GND", PartCatalogue.Standard.Find<AnalogSwitchType>(type)!, closed);

    public static TheoryData<string> Switches => [.. PartCatalogue.Standard.Types.OfType<AnalogSwitchType>().Select(t => t.Name)];

    // The sheets that the catalogue names.
    [Theory, MemberData(nameof(Switches))]
    public void An_analog_switch_has_its_resistance_when_closed_and_leaks_within_its_limits_when_open(string name)
    {
        foreach (double celsius in Temperatures)
        {
            var closed = Switch(name, new Constant(1));
            var point = Rest(celsius, closed, new VoltageSource("S", "VDD", "GND", 3), new VoltageSource("V", "A", "GND", 1),
                new Resistor("R", "B", "GND", 10e3));
            double amps = point.Nodes["B"] / 10e3;
            Assert.Equal(closed.Type.Ohms, (1 - point.Nodes["B"]) / amps, 0.02 * closed.Type.Ohms);
            var open = Rest(celsius, Switch(name, new Constant(0)), new VoltageSource("S", "VDD", "GND", 3),
                new VoltageSource("V", "A", "GND", 1), new Resistor("R", "B", "GND", 1e5));
            Assert.InRange(Math.Abs(open.Nodes["B"] / 1e5), 0, 1.01 * closed.Type.LeakageAt(celsius) + 1e-10);
        }
        var type = PartCatalogue.Standard.Find<AnalogSwitchType>(name)!;
        Assert.Equal(type.HotLeakageAmps, type.LeakageAt(85), 1e-3 * type.HotLeakageAmps);
    }

    [Fact]
    public void A_switch_that_opens_leaves_its_charge_on_a_capacitor()
    {
        // ΔV = Q/C: 5 pC on 1 nF and the terminal's own 8 pF.
        var opening = Switch("hc-analog-switch", new PiecewiseLinear([(1e-6, 1), (1e-6, 0)]));
        var run = new Circuit([new VoltageSource("S", "VDD", "GND", 4.5), new VoltageSource("V", "A", "GND", 2),
            new Capacitor("C", "B", "GND", 1e-9),
            new Resistor("R", "B", "GND", 1e9), .. opening.ToElements()]).Compile().RunTransient(3e-6);
        Assert.Equal(-5e-12 / 1.008e-9, run.Voltage("B").At(2e-6) - run.Voltage("B").At(0.9e-6), 1e-4);
    }

    private static InAmpPart InAmp(string type) =>
        new("U", "P", "M", "OUT", "REF", "VP", "VN", PartCatalogue.Standard.Find<InAmpType>(type)!) { GainPins = ("GP", "GM") };

    private static Element[] Around(double supply, double plus, double minus, double ohms) =>
    [
        new VoltageSource("SP", "VP", "GND", supply), new VoltageSource("SN", "VN", "GND", -supply),
            new VoltageSource("VPLUS", "P", "GND", plus),
        new VoltageSource("VMINUS", "M", "GND", minus), new VoltageSource("VREF", "REF", "GND", 0.25), new Resistor("RG", "GP", "GM", ohms),
    ];

    // Gain equations of the sheets that the catalogue names.
    [Theory]
    [InlineData("precision-in-amp", 499, 5)]
    [InlineData("precision-in-amp", 5.49e3, 5)]
    [InlineData("zero-drift-in-amp", 1e3, 2.5)]
    public void Its_output_is_the_reference_and_the_gain_times_the_difference(string name, double ohms, double supply)
    {
        var part = InAmp(name);
        foreach (double celsius in Temperatures)
        {
            double gain = part.Type.Gain(ohms), difference = 0.8 / gain;
            var point = Rest(celsius, part, Around(supply, 0.3 + difference, 0.3, ohms));
            Assert.Equal(0.25 + 0.8, point.Nodes["OUT"], 1e-3 * 0.8);
        }
    }

    [Fact]
    public void It_clips_inside_where_neither_input_nor_output_is_at_a_limit()
    {
        // 100 times 20 mV about 3 V on ±5 V: the first amplifier would have to stand at 4 V and stops 1.2 V below 5 V, or some 10 mV
        // before, by its output's resistance. The other one sees what it leaves at the gain resistor (superposition).
        const double ohms = 499;
        var part = InAmp("precision-in-amp");
        double half = part.Type.GainOhms / 2, plus = 3.01, minus = 2.99;
        double Stopped(double stop) => 0.25 + stop - minus - (minus - (stop * ohms + minus * half) / (ohms + half)) * half / ohms;
        var point = Rest(25, part, Around(5, plus, minus, ohms));
        Assert.InRange(point.Nodes["OUT"], Stopped(3.76), Stopped(3.8));
        Assert.True(point.Nodes["OUT"] < 0.25 + 0.95 * part.Type.Gain(ohms) * 0.02);

        var frontEnd = new FrontEnd
        {
            Title = "clipping inside",
            Rails = [new Rail("VP", 5), new Rail("VN", -5), new Rail("VMINUS", 2.99)],
            Sensors = [new Sensor("bridge", "P", new Span(2.99, 3.01), 100)],
            Parts = [part with { Minus = "VMINUS", Reference = "GND" }, new ResistorPart("RG", "GP", "GM", ohms),
                new ResistorPart("RL", "OUT", "GND", 10e3)],
            Pins = [new Pin("adc", "OUT") { Wanted = new("bridge", new Span(2.99, 3.01), new Span(0, 2)),
                Converter = new(12, new(new(null, 0), new("VP", 0))) }],
        };
        var range = CheckStudy.Run(frontEnd, cancel: TestContext.Current.CancellationToken)
            .Implied.Single(r => r.Requirement is OpAmpsInRange);
        Assert.Equal(Verdict.NotMet, range.Verdict);
        Assert.Equal("U.plus amplifier", Assert.IsType<HeadroomReason>(range.Reason).Headroom.OpAmp);
    }

    [Theory]
    [InlineData("precision-in-amp", 73)]
    [InlineData("zero-drift-in-amp", 80)]
    public void A_piece_at_the_limit_of_its_rejection_lets_so_much_of_the_common_mode_through(string name, double decibels)
    {
        // Rejection at a gain G is G times that at a gain of one (any text on instrumentation amplifiers).
        var part = InAmp(name);
        var source = part.ErrorSources(new()).Single(s => s.Name == "U common-mode rejection");
        Element[] off = [.. part.ToElements().Select(e => e is Resistor r
            && source.Numbers.Any(n => n.Element == r.Name) ? r with { Ohms = r.Ohms * (1 + source.Distribution.High) } : e)];
        double At(double common) => new Circuit([.. off, .. Around(2.5, common, common, 1e3)]).Compile().SolveOperatingPoint().Nodes["OUT"];
        Assert.Equal(Math.Pow(10, -decibels / 20), Math.Abs(At(0.5) - At(-0.5)), 0.02 * Math.Pow(10, -decibels / 20));
    }

    [Theory]
    [InlineData("series-2V5", 2.5, 0.25, 25e-3)]   // REF30xx class
    [InlineData("series-3V", 3, 0.25, 25e-3)]
    [InlineData("series-4V096", 4.096, 0.25, 25e-3)]
    [InlineData("series-5V", 5, 3, 10e-3)]         // REF02 class
    public void A_series_reference_stands_at_its_voltage_until_its_input_is_too_low(string name, double volts, double drop, double amps)
    {
        var type = PartCatalogue.Standard.Find<RegulatorType>(name)!;
        var part = new RegulatorPart("U", "IN", "OUT", "GND", type, type.ReferenceVolts!.Value);
        foreach (double celsius in Temperatures)
        {
            double At(double input) => Rest(celsius, part, new VoltageSource("V", "IN", "GND", input),
                new CurrentSource("L", "OUT", "GND", amps)).Nodes["OUT"];
            Assert.Equal(volts, At(volts + drop + 0.2), 2e-3 * volts);
            Assert.Equal(volts - 0.2, At(volts - 0.2 + drop), 0.01);
        }
        Assert.Equal(("series-reference", "series reference"), (type.Kind, part.Word));
    }

    [Fact]
    public void The_pair_of_low_barrier_diodes_drops_a_quarter_of_a_volt_at_a_tenth_of_a_milliampere_and_less_when_hot()
    {
        // BAT54 sheets of Vishay: 240 mV at 0.1 mA at most. A barrier falls by 1 to 2 mV/K at such a current (Sze).
        var type = PartCatalogue.Standard.FindDiode("BAT54S", DiodeKind.Schottky)!;
        double[] volts = [.. Temperatures.Select(t => new Circuit(
            [new CurrentSource("I", "GND", "A", 1e-4), new Diode("D", "A", "GND", type.Model)], t).Compile().SolveOperatingPoint()
                .Nodes["A"])];
        Assert.InRange(volts[1], 0.2, 0.25);
        Assert.InRange((volts[0] - volts[1]) / 65, 0.8e-3, 2e-3);
        Assert.InRange((volts[1] - volts[2]) / 60, 0.8e-3, 2e-3);
    }

    [Fact]
    public void Fuses_beads_chokes_and_cables_carry_a_current_cold_and_hot()
    {
        // Ohm's law of their copper; a polymer fuse holds less the hotter it is (its sheets: nothing at 125 °C).
        ImmutableArray<(Part Part, double Ohms)> parts =
        [
            (new PolymerFusePart("F", "A", "B", 0.2) { Ohms = 1 }, 1), (new FerriteBeadPart("B1", "A", "B", 600) { WireOhms = 0.3 }, 0.3),
        ];
        foreach (double celsius in Temperatures)
        {
            foreach (var (part, ohms) in parts)
            {
                var point = Rest(celsius, part, new VoltageSource("V", "A", "GND", 1), new Resistor("R", "B", "GND", 100));
                Assert.Equal(100 / (100 + ohms), point.Nodes["B"], 0.01);
            }
        }
        double[] holds = [.. Temperatures.Select(t => parts[0].Part.Ratings(t).Single(r => r.Kind == RatingKind.Current).Limit)];
        Assert.True(holds[0] > holds[1] && holds[1] > 2 * holds[2]);
    }
}
