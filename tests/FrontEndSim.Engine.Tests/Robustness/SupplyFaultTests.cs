using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.Engine.Tests.Robustness;

/// <summary>Stages of each class of op amp with one rail lost, open, reversed, late, or of some ohms under a surge of 170 V.</summary>
public class SupplyFaultTests
{
    private static readonly OpAmpModel Bipolar = new()
    {
        OpenLoopGain = 1e5,
        BiasAmps = 20e-9,
        DropLowVolts = 0.02,
        OutputLimitAmps = 30e-3,
    };

    private static readonly OpAmpModel Jfet = new()
    {
        GainBandwidthHertz = 3e6,
        SlewVoltsPerSecond = 13e6,
        BiasAmps = 30e-12,
        InputOhms = 1e12,
    };

    private static readonly OpAmpModel RailToRail = new()
    {
        OpenLoopGain = 3e5,
        SlewVoltsPerSecond = 0.6e6,
        BiasAmps = 1e-12,
        InputOhms = 1e13,
        DropHighVolts = 0.02,
        DropLowVolts = 0.02,
        OutputOhms = 200,
        SupplyAmps = 100e-6,
    };

    private static readonly string[] Stages = ["follower", "inverting sum", "non-inverting", "comparator with hysteresis"];
    private static readonly string[] Faults = ["lost", "open", "reversed", "late", "of 3 ohm under 170 V"];

    public static TheoryData<string, string, string> All => [.. Stages.SelectMany(s => Faults.SelectMany(f => new[] { "VP", "VN", "VDD" }
        .Select(r => (s, r, f))))];

    [Theory]
    [MemberData(nameof(All))]
    public void A_stage_whose_rail_fails_solves_at_the_operating_point_and_in_time_with_currents_and_energies_in_balance(
        string stage, string rail, string fault)
    {
        foreach (var model in new[] { Bipolar, Jfet, RailToRail })
        {
            var compiled = new Circuit([.. Supplies(rail, fault), .. Stage(stage, model),
                .. Guard]).Compile(new SolverSettings { MostSteps = 50_000 });
            Assert.InRange(compiled.SolveOperatingPoint().Audit.KirchhoffShare, 0, 1e-6);
            var audit = compiled.RunTransient(3e-3).Audit;
            Assert.InRange(audit.KirchhoffShare, 0, 1e-3);
            Assert.InRange(audit.EnergyImbalance, 0, 1e-3);
        }
    }

    private static IEnumerable<Element> Supplies(string failing, string fault)
    {
        bool surge = fault.EndsWith("170 V", StringComparison.Ordinal);
        foreach (var (rail, volts) in new[] { ("VP", 9.0), ("VN", -9.0), ("VDD", 3.3) })
        {
            var good = new VoltageSource(rail, rail, "GND", volts);
            yield return rail != failing ? good : fault switch
            {
                "lost" => good with { Volts = 0 },
                "open" => new Resistor(rail, rail, "GND", 1e9),
                "reversed" => good with { Volts = -volts },
                "late" => good with { SeriesOhms = 0.5, Connected = new Step(0, 1, 1e-3) },
                _ => good with { SeriesOhms = 3, SourceOnly = volts > 0 },
            };
        }
        yield return new VoltageSource("S", "IN", "GND", surge ? new Pulse(1, 170, 1e-3, 1e-6, 1e-3, 1e-6)
            : new Sine(0.5, 1, 1000))
        { SeriesOhms = 100 };
    }

    private static Element[] Stage(string stage, OpAmpModel model) => stage switch
    {
        "follower" => [new OpAmp("U", "IN", "O", "O", "VP", "VN", model)],
        "inverting sum" =>
        [
            new Resistor("R1", "IN", "A", 1e4), new Resistor("R2", "VDD", "A", 3e4), new Resistor("RF", "A", "O", 1e4),
            new OpAmp("U", "GND", "A", "O", "VP", "VN", model),
        ],
        "non-inverting" =>
            [new Resistor("R1", "GND", "A", 1e4), new Resistor("RF", "A", "O", 1e4), new OpAmp("U", "IN", "A", "O", "VP", "VN", model)],
        _ => [new Resistor("R1", "IN", "A", 1e4), new Resistor("RF", "A", "O", 1e5), new OpAmp("U", "A", "GND", "O", "VP", "VN", model)],
    };

    private static readonly DiodeModel Clamp = Junctions.Silicon with { SeriesOhms = 1 };

    private static Element[] Guard =>
    [
        new Resistor("RG", "O", "PIN", 1e3), new Capacitor("CG", "PIN", "GND", 1e-8), new Diode("DH", "PIN", "VDD", Clamp),
        new Diode("DL", "GND", "PIN", Clamp), new Resistor("RL", "PIN", "GND", 1e5),
    ];
}
