using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Parts.Fits;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Bias;
using FrontEndSim.FrontEnds.Studies.Events;

namespace FrontEndSim.FrontEnds.Tests.Parts;

/// <summary>Optocouplers, transformers and chokes, cables and bouncing contacts against closed forms and the sheets of their classes.</summary>
public class CouplingPartTests
{
    private static OptocouplerPart Opto(string name) => new("U", "A", "K", "C", "GND", PartCatalogue.Standard.Find<OptocouplerType>(name)!);

    [Theory]
    [InlineData("4N25", 0.2)]
    [InlineData("4N35", 1.0)]
    public void An_optocoupler_s_weakest_piece_has_the_least_ratio_at_its_current(string name, double ratio)
    {
        // Ratio at 10 mA and a collector voltage of 10 V: registration of the series, from memory. The Early effect adds to it.
        var part = Opto(name).AtLimit(false)!.Value.Part;
        var point = new Circuit([new CurrentSource("I", "GND", "A", 10e-3), new Resistor("RK", "K", "GND", 1), new VoltageSource("V", "C", "GND", 10), .. part.ToElements()]).Compile().SolveOperatingPoint();
        Assert.InRange(point.Parts["V"].Amps / -10e-3, 0.95 * ratio, 1.2 * ratio);
        Assert.Equal(1.2, point.Nodes["A"] - point.Nodes["K"], 0.02);
    }

    [Fact]
    public void An_optocoupler_passes_no_direct_current_from_side_to_side()
    {
        var point = new Circuit([new VoltageSource("V", "A", "GND", 500), new Resistor("R", "A", "K", 1e3), new Resistor("RC", "C", "GND", 1e3), .. Opto("4N25").ToElements()])
            .Compile().SolveOperatingPoint();
        Assert.InRange(Math.Abs(point.Parts["V"].Amps), 0, 6e-9); // 500 V over 100 Gohm
    }

    [Fact]
    public void A_common_mode_choke_holds_back_what_both_wires_carry_and_lets_the_difference_pass()
    {
        // L·(1 + k) for what is common to both windings in parallel each, L·(1 − k) for what goes and comes (any text on filters).
        var choke = new WindingsPart("T", "A", "C", "B", "D", 1e-3, 1e-3, 0.99) { FirstOhms = 0.1, SecondOhms = 0.1, IsChoke = true };
        double Ohms(bool common)
        {
            var compiled = new Circuit([new VoltageSource("S", "A", "GND", 0.0), common ? new VoltageSource("S2", "B", "A", 0.0) : new Resistor("RB", "B", "GND", 1e-3),
                common ? new Resistor("RD", "D", "GND", 1e-3) : new Resistor("RCD", "C", "D", 1e-3), .. common ? [new Resistor("RC", "C", "GND", 1e-3)] : Array.Empty<Element>(),
                .. choke.ToElements()]).Compile();
            // Through a millohm, the current is its voltage times a thousand; one winding's for what is common, that of both for the loop.
            var response = compiled.SolveSmallSignal("S", [100e3]);
            return 1 / ((common ? response.Response("C")[0] : response.Response("B")[0]).Magnitude * 1e3);
        }
        Assert.Equal(2 * Math.PI * 100e3 * 1.99e-3, Ohms(common: true), 5);
        Assert.Equal(Math.Sqrt(Math.Pow(2 * Math.PI * 100e3 * 2 * 1e-5, 2) + 0.04), Ohms(common: false), 0.2);
    }

    [Fact]
    public void A_secondary_without_a_way_to_ground_floats_and_gives_its_voltage_all_the_same()
    {
        // 10:1 by turns, k = 0.999; a meter between its ends sees the tenth, and the insulation of 100 Gohm alone holds it against ground.
        var windings = new WindingsPart("T", "A", "GND", "B", "C", 1, 0.01, 0.999) { FirstOhms = 1e-3, SecondOhms = 1e-3 };
        Circuit Made(params Element[] more) => new([new VoltageSource("S", "A", "GND", 0), new Resistor("R", "B", "C", 1e6), .. windings.ToElements(), .. more]);
        var response = Made().Compile().SolveSmallSignal("S", [1e3]);
        Assert.Equal(0.0999, (response.Response("B")[0] - response.Response("C")[0]).Magnitude, 1e-5);
        // With a megohm from one end to ground that end is ground.
        Assert.InRange(Made(new Resistor("RG", "C", "GND", 1e6)).Compile().SolveSmallSignal("S", [1e3]).Response("C")[0].Magnitude, 0, 1e-4);
        // Where neither winding has a way, the nodes are named.
        var adrift = new Circuit([new Resistor("R", "B", "C", 1e6), .. (windings with { FirstTo = "D" }).ToElements(), new Resistor("RG", "E", "GND", 1)]);
        Assert.Contains("no way to GND", Assert.Single(adrift.Problems).Message);
    }

    [Fact]
    public void A_secondary_that_floats_is_followed_in_time_and_gives_its_share()
    {
        // 10:1 by turns into 100 ohm: 0.999/10 of 10 V, less what 0.1 ohm, the leak of 2·10⁻³·10 mH and a thousandth of the first's drop take; 50 Hz.
        var windings = new WindingsPart("T", "A", "GND", "B", "C", 1, 0.01, 0.999) { FirstOhms = 0.1, SecondOhms = 0.1 };
        var run = new Circuit([new VoltageSource("S", "A", "GND", new Sine(0, 10, 50)), new Resistor("R", "B", "C", 100), .. windings.ToElements()]).Compile().RunTransient(0.06);
        double[] volts = [.. Enumerable.Range(0, 201).Select(k => 0.04 + k * 1e-4).Select(t => run.Voltage("B").At(t) - run.Voltage("C").At(t))];
        Assert.Equal(0.999 * 100 / 100.1, volts.Max(), 0.01);
        Assert.Equal(-0.999 * 100 / 100.1, volts.Min(), 0.01);
    }

    [Fact]
    public void A_cable_delays_by_its_length_and_reflects_as_the_bounce_diagram_says()
    {
        // 10 m of 50 ohm at 5 ns/m, driven by a 1 V step behind 25 ohm, open at its end: the bounce diagram has 2/3 V launched, 4/3 V at the
        // end after 50 ns, −1/3 of that wave back from the source, 4/3 − 4/9 = 8/9 V at the end after 150 ns, 28/27 V after 250 ns.
        var cable = new CablePart("W", "IN", "OUT", "GND", 10, 50) { OhmsPerMetre = 1e-3 };
        var run = new Circuit([new VoltageSource("S", "S", "GND", new Step(0, 1, 10e-9, 8e-9)), new Resistor("RS", "S", "IN", 25), new Resistor("RL", "OUT", "GND", 1e9), .. cable.ToElements()])
            .Compile().RunTransient(330e-9);
        double From(double a, double b) => Enumerable.Range(0, 50).Average(k => run.Voltage("OUT").At(a + (b - a) * k / 49));
        const double start = 14e-9;
        Assert.Equal(start + 50e-9, run.Voltage("OUT").Crossings(2.0 / 3)[0], 1e-9);
        Assert.Equal(2.0 / 3, run.Voltage("IN").At(start + 50e-9), 0.03);
        Assert.InRange(Math.Abs(run.Voltage("OUT").At(start + 30e-9)), 0, 0.02);
        Assert.Equal(4.0 / 3, From(start + 75e-9, start + 125e-9), 0.04);
        Assert.Equal(8.0 / 9, From(start + 175e-9, start + 225e-9), 0.04);
        Assert.Equal(28.0 / 27, From(start + 275e-9, start + 310e-9), 0.04);
        // Matched, nothing comes back; the loss is that of its wire, R/(2·Z).
        var matched = new Circuit([new VoltageSource("S", "S", "GND", new Step(0, 1, 10e-9, 8e-9)), new Resistor("RS", "S", "IN", 50), new Resistor("RL", "OUT", "GND", 50),
            .. (cable with { OhmsPerMetre = 0.5 }).ToElements()]).Compile().RunTransient(200e-9);
        Assert.Equal(0.5 * Math.Exp(-5.0 / 100), matched.Voltage("OUT").At(100e-9), 0.005);
        // No line rings by itself: from a matched source an open end rises to the whole voltage and not above it, and stays there.
        var open = new Circuit([new VoltageSource("S", "S", "GND", new Step(0, 1, 10e-9, 1e-9)), new Resistor("RS", "S", "IN", 50), new Resistor("RL", "OUT", "GND", 1e9),
            .. cable.ToElements()]).Compile().RunTransient(400e-9);
        Assert.InRange(open.Voltage("OUT").Maximum().Value, 1, 1.03);
        Assert.Equal(10.5e-9 + 50e-9, open.Voltage("OUT").Crossings(0.5)[0], 1e-9);
        Assert.All([75e-9, 100e-9, 150e-9, 400e-9], t => Assert.Equal(1, open.Voltage("OUT").At(t), 0.01));
    }

    [Theory]
    [InlineData(10, 0.25, 50)]
    [InlineData(3000, 0.5, 50)] // 47 ohm in a section: an RC line, which does not ring
    public void A_cable_at_rest_is_the_resistance_of_its_wire_and_is_told_as_one_part(double metres, double ohmsPerMetre, double ohms)
    {
        var frontEnd = new FrontEnd
        {
            Sensors = [new Sensor("S", "IN", new Span(0, 2), 0)],
            Parts = [new CablePart("W", "IN", "OUT", "GND", metres, ohms) { OhmsPerMetre = ohmsPerMetre }, new ResistorPart("R", "OUT", "GND", 1000)],
        };
        var bias = BiasStudy.Run(frontEnd, cancel: TestContext.Current.CancellationToken);
        double wire = metres * ohmsPerMetre, amps = 1 / (1000 + wire);
        Assert.Equal(["IN", "OUT"], bias.NodeVolts.Keys.Order());
        Assert.Equal(["R", "S", "W"], bias.Parts.Keys.Order());
        Assert.Equal(amps * wire, bias.Parts["W"].Volts, 1e-6);
        Assert.Equal(amps * amps * wire, bias.Parts["W"].Watts, 1e-6 * wire);
    }

    [Fact]
    public void What_stands_at_a_part_of_three_terminals_in_an_event_is_the_most_between_any_two()
    {
        // 30 V behind 50 ohm onto 10 ohm of cable, 1 kohm and the sensor's 50 ohm where it stays: by Ohm's law, once its waves are gone.
        var frontEnd = new FrontEnd
        {
            Sensors = [new Sensor("S", "IN", new Span(0, 1), 50)],
            Parts = [new CablePart("W", "IN", "OUT", "GND", 40, 50) { OhmsPerMetre = 0.25 }, new ResistorPart("R", "OUT", "GND", 1000)],
            Pins = [new Pin("adc", "OUT") { HasClamps = false, RatedLow = new(null, -50), RatedHigh = new(null, 50) }],
            Events = [new FaultEvent("step", "IN", new StepTo(30, 50, 1e-6, 1e-3))],
        };
        var stress = EventStudy.Run(frontEnd, frontEnd.Events[0], cancel: TestContext.Current.CancellationToken).Parts.Single(p => p.Part.Name == "W");
        Assert.InRange(stress.PeakVolts, 30.5 / (1 + 50.0 / 50 + 50.0 / 1010) - 0.5, 31);
        Assert.Equal(stress.Stresses.Max(s => s.Found), stress.PeakVolts, 1e-9);
    }

    [Fact]
    public void A_contact_that_bounces_opens_again_within_its_bounce_and_stays_closed_after_it()
    {
        var contact = new SwitchPart("K", "V", "OUT", new PiecewiseLinear([(1e-3, 0), (1e-3, 1)])) { BounceSeconds = 2e-3 };
        var run = new Circuit([new VoltageSource("V", "V", "GND", 5), new Resistor("R", "OUT", "GND", 1e4), .. contact.ToElements()]).Compile().RunTransient(6e-3);
        var crossings = run.Voltage("OUT").Crossings(2.5);
        Assert.True(crossings.Count >= 5 && crossings.Count % 2 == 1);
        Assert.InRange(crossings[0], 1e-3 - 1e-9, 1e-3 + 1e-6);
        Assert.InRange(crossings[^1], 1e-3, 3e-3 + 1e-9);
        Assert.Equal(5, run.Voltage("OUT").At(4e-3), 1e-2);
    }

    [Fact]
    public void A_ratio_that_no_optocoupler_has_is_refused() => Assert.Contains("below its least", Assert.Throws<DataSheetException>(() =>
        (Opto("4N25").Type with { MostRatio = 0.1 }).Checked()).Message);
}
