using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Disturbances;

namespace FrontEndSim.FrontEnds.Tests.Disturbances;

/// <summary>Discharges of persons into what their standards measure them with, and into what they strike.</summary>
public sealed class DischargeTests
{
    private static void Within(double limit, double expected, double actual) => Assert.InRange(actual / expected, 1 - limit, 1 + limit);

    // ANSI/ESDA/JEDEC JS-001 (from memory): into a short 0.67 A/kV +-10 %, rise 2 ns to 10 ns, decay to 36.8 % in 130 ns to 170 ns;
    // into 500 ohm 0.37 A to 0.55 A at 1 kV, rise 5 ns to 25 ns, decay 160 ns to 240 ns.
    [Theory, InlineData(1e3), InlineData(-4e3)]
    public void A_human_body_discharge_lies_inside_JS_001_into_a_short_and_into_500_ohm(double volts)
    {
        var body = new HumanBodyDischarge(volts, 1e-9);
        var shorted = Oscilloscope.Amps(body, 1e-3, 1e-6);
        var loaded = Oscilloscope.Amps(body, 500, 1e-6);
        double kilovolts = volts / 1e3;
        Assert.Multiple(() => Within(0.10, 0.67 * kilovolts, shorted.Peak), () => Assert.InRange(shorted.RiseTime, 2e-9, 10e-9),
            () => Assert.InRange(shorted.Falling(0.368) - shorted.PeakTime, 130e-9, 170e-9),
            () => Assert.InRange(loaded.Peak / kilovolts, 0.37, 0.55), () => Assert.InRange(loaded.RiseTime, 5e-9, 25e-9),
            () => Assert.InRange(loaded.Falling(0.368) - loaded.PeakTime, 160e-9, 240e-9));
    }

    // Charge is conserved: C1 V1 + C2 V2 over C1 + C2, whatever lies between.
    [Theory, InlineData(100), InlineData(10e3)]
    public void A_human_body_shares_its_charge_with_a_capacitor(double ohms)
    {
        var end = Run(new HumanBodyDischarge(8e3, 1e-9), new Resistor("R", "OUT", "C", ohms), Held("C", 100e-9, 2.5)).Voltage("C");
        double shared = (100e-12 * 8e3 + 100e-9 * 2.5) / (100e-12 + 100e-9);
        Assert.Equal(shared, end.At(40e-6), 1e-3 * shared);
    }

    [Fact]
    public void Nothing_hangs_on_a_line_before_a_person_touches_it()
    {
        // 1 Gohm would show a load of a teraohm as a millivolt in a volt.
        var line = new Circuit([new VoltageSource("V", "OUT", Circuit.Ground, 5.0) { SeriesOhms = 1e9 }, .. new HumanBodyDischarge(8e3)
            .ToElements("g", "OUT")]);
        Assert.Equal(5, line.Compile().SolveOperatingPoint().Nodes["OUT"], 0.01);
    }

    /// <summary>A capacitor that stands at a voltage and is let alone when the discharge strikes.</summary>
    private static Element[] Held(string node, double farads, double volts) =>
    [
        new Capacitor("C", node, Circuit.Ground, farads), new Resistor("leak", node, Circuit.Ground, 1e12),
        new VoltageSource("hold", node, Circuit.Ground, volts) { SeriesOhms = 1, Connected = new Engine.Waveforms.Step(1, 0, 1e-9) },
    ];

    private static TransientResult Run(Disturbance disturbance, Element first, Element[] others) =>
        new Circuit([first, .. others, .. disturbance.ToElements("generator", "OUT")]).Compile().RunTransient(60e-6);
}
