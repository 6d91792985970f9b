using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;

namespace FrontEndSim.Engine.Tests.Robustness;

/// <summary>
/// Circuits of which one thing is broken, searched for from where the whole one rests: the same solution as from nothing, whatever of the
/// structure changed, found without the ways that begin at nothing.
/// </summary>
public class BrokenCircuitTests
{
    private static readonly OpAmpModel ZeroDrift = new() { OpenLoopGain = 1e7, DropHighVolts = 0.02, DropLowVolts = 0.02 };

    private static readonly DiodeModel Silicon = new() { SaturationAmps = 1e-14, EmissionCoefficient = 1, ActivationVolts = 1.12, TemperatureExponent = 3 };

    // Three op amps make 100 of the millivolts of a bridge; a pin with clamps reads them behind 10 kohm.
    private static IEnumerable<Element> Amplifier(double signal = 3e-3) =>
    [
        new VoltageSource("VP", "VP", Circuit.Ground, 5), new VoltageSource("VDD", "VDD", Circuit.Ground, 3.3),
        new VoltageSource("S", "SP", "SN", signal), new Resistor("Rb1", "VDD", "SN", 350), new Resistor("Rb2", "SN", Circuit.Ground, 350),
        new OpAmp("U1", "SP", "NA", "A", "VP", Circuit.Ground, ZeroDrift), new OpAmp("U2", "SN", "NB", "B", "VP", Circuit.Ground, ZeroDrift),
        new Resistor("Rf1", "A", "NA", 10e3), new Resistor("Rg", "NA", "NB", 2e3), new Resistor("Rf2", "B", "NB", 10e3),
        new Resistor("R1", "B", "MINUS", 10e3), new Resistor("R2", "MINUS", "OUT", 91e3),
        new Resistor("R3", "A", "PLUS", 10e3), new Resistor("R4", "PLUS", "REF", 91e3),
        new VoltageSource("ref", "REF", Circuit.Ground, 0.2),
        new OpAmp("U3", "PLUS", "MINUS", "OUT", "VP", Circuit.Ground, ZeroDrift),
        new Resistor("Rs", "OUT", "PIN", 10e3), new Diode("up", "PIN", "VDD", Silicon),
        new Diode("down", Circuit.Ground, "PIN", Silicon),
    ];

    public static TheoryData<string, bool> Breaks => [.. from part in Amplifier().OfType<Resistor>().Select(r => r.Name)
                                                         from isOpen in new[] { true, false }
                                                         select (part, isOpen)];

    [Theory]
    [MemberData(nameof(Breaks))]
    public void An_amplifier_with_a_resistor_broken_rests_where_it_does_when_nothing_is_known_beforehand(string part, bool isOpen)
    {
        var whole = new Circuit([.. Amplifier()]).Compile().SolveOperatingPoint();
        var broken = new Circuit([.. Amplifier().Select(e => e.Name == part ? Broken((Resistor)e, isOpen) : e)]).Compile();
        Alike(broken.SolveOperatingPoint(), broken.SolveOperatingPoint(whole, default));
    }

    [Fact]
    public void The_inductance_of_leads_changes_the_structure_and_not_where_it_rests()
    {
        var whole = new Circuit([.. Amplifier()]).Compile().SolveOperatingPoint();
        // Each resistor ends at a lead of 10 nH, as where something fast strikes.
        var leads = new Circuit([.. Amplifier().SelectMany(e => e is Resistor r
            ? [r with { To = r.Name + ".lead" }, new Inductor(r.Name + ".L", r.Name + ".lead", r.To, 10e-9)] : new[] { e })]).Compile();
        var found = leads.SolveOperatingPoint(whole, default);
        Alike(leads.SolveOperatingPoint(), found);
        Assert.Equal("Newton from a solution nearby", found.Audit.Method);
    }

    [Theory]
    [InlineData(1e-3)]
    [InlineData(-1e-3)]
    public void An_op_amp_without_feedback_goes_from_rail_to_rail_between_two_points_of_a_sweep(double from)
    {
        // 5 V over a gain of 1e7 is half a microvolt: a two-thousandth of the way.
        Element[] elements =
        [
            new VoltageSource("VP", "VP", Circuit.Ground, 5), new VoltageSource("S", "in", Circuit.Ground, from),
            new OpAmp("U", "in", Circuit.Ground, "out", "VP", Circuit.Ground, ZeroDrift), new Resistor("R", "out", "PIN", 10e3),
            new Diode("up", "PIN", "VDD", Silicon), new VoltageSource("VDD", "VDD", Circuit.Ground, 3.3),
        ];
        var swept = new Circuit(elements).Compile().Sweep("S", [from, -from]);
        for (int k = 0; k < 2; k++)
        {
            double volts = k == 0 ? from : -from;
            var alone = new Circuit([.. elements.Select(e => e.Name == "S" ? new VoltageSource("S", "in", Circuit.Ground, volts) : e)])
                .Compile().SolveOperatingPoint();
            Assert.Equal(alone.Voltage("PIN"), swept.Voltage("PIN")[k], 1e-6);
        }
    }

    [Fact]
    public void A_circuit_of_other_nodes_is_no_start()
    {
        var other = new Circuit([new VoltageSource("V", "a", Circuit.Ground, 1), new Resistor("R", "a", "b", 1e3),
            new Resistor("Q", "b", Circuit.Ground, 1e3)]).Compile().SolveOperatingPoint();
        Assert.DoesNotContain("nearby", new Circuit([.. Amplifier()]).Compile().SolveOperatingPoint(other, default).Audit.Method,
            StringComparison.Ordinal);
    }

    private static Element Broken(Resistor part, bool isOpen) => part with { Ohms = isOpen ? 1e9 : 0.01 };

    private static void Alike(Results.OperatingPoint expected, Results.OperatingPoint found)
    {
        Assert.InRange(found.Audit.KirchhoffShare, 0, 1e-6);
        foreach (var (node, volts) in expected.Nodes)
            Assert.Equal(volts, found.Voltage(node), 1e-6);
    }
}
