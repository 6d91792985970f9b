using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Parts.Fits;

namespace FrontEndSim.FrontEnds.Tests.Parts;

/// <summary>Regulators and references against the sheets of their classes (named in the catalogue).</summary>
public class SupplyPartTests
{
    private static RegulatorPart Regulator(string name, double volts) =>
        new("U", "IN", "OUT", "GND", PartCatalogue.Standard.Find<RegulatorType>(name)!, volts);

    private static (double Volts, double Taken) At(RegulatorPart part, double input, double load)
    {
        var point = new Circuit([new VoltageSource("V", "IN", "GND", input), new CurrentSource("L", "OUT", "GND", load),
            new Resistor("R", "OUT", "GND", 1e6), .. part.ToElements()])
            .Compile().SolveOperatingPoint();
        return (point.Nodes["OUT"], -point.Parts["V"].Amps);
    }

    [Theory]
    [InlineData("cmos-low-dropout", 3.3, 0.25, 0.35)] // MCP1700 class: 350 mV at 250 mA
    [InlineData("pnp-low-dropout", 5, 0.1, 0.45)]     // LP2950 class: 450 mV at 100 mA
    [InlineData("npn-low-dropout", 3.3, 0.8, 1.3)]    // LM1117 class: 1.3 V at 0.8 A
    [InlineData("standard-100mA", 5, 0.1, 1.7)]       // 78L05 class
    public void A_regulator_regulates_above_its_dropout_and_follows_its_input_below(string name, double volts, double amps, double drop)
    {
        var part = Regulator(name, volts);
        Assert.Equal(volts, At(part, volts + drop + 0.5, amps / 10).Volts, 0.02 * volts);
        Assert.Equal(volts - 0.5 - drop, At(part, volts - 0.5, amps).Volts, 0.01);
        Assert.Equal(amps + part.Type.GroundAmps, At(part, volts + drop + 1, amps).Taken, 0.05 * amps);
        // Shorted it delivers its limit and no more.
        var shorted = new Circuit([new VoltageSource("V", "IN", "GND", volts + 2), new Resistor("R", "OUT", "GND", 0.01),
            .. part.ToElements()]).Compile().SolveOperatingPoint();
        Assert.InRange(shorted.Parts["U"].Amps, 0.8 * part.Type.LimitAmps, part.Type.LimitAmps);
    }

    [Fact]
    public void What_is_pushed_into_an_output_lifts_it_and_flows_back_into_a_dead_input()
    {
        // None of the classes sinks: 5 mA into an output that only a milliampere loads lifts it until something else takes it.
        var part = Regulator("cmos-low-dropout", 3.3);
        double Lifted(params Element[] more) => new Circuit([new CurrentSource("I", "GND", "OUT", 5e-3),
            new Resistor("R", "OUT", "GND", 3.3e3), .. more, .. part.ToElements()])
            .Compile().SolveOperatingPoint().Nodes["OUT"];
        Assert.True(Lifted(new VoltageSource("V", "IN", "GND", 5)) > 5); // until the diode to the input conducts
        var dead = new Circuit([new VoltageSource("V", "OUT", "GND", 3.3), new Resistor("R", "IN", "GND", 1e3), .. part.ToElements()])
            .Compile().SolveOperatingPoint();
        Assert.InRange(dead.Nodes["IN"], 2.5, 2.8); // a diode's drop below its output
    }

    [Fact]
    public void A_reference_stands_at_its_voltage_from_its_least_current_on_and_falls_below()
    {
        // LM4040 class: 75 µA at least, 15 mA at most, 0.5 ohm (from memory).
        var part = new ReferencePart("D", "GND", "A", PartCatalogue.Standard.Find<ReferenceType>("shunt-2V5")!);
        double Volts(double amps) => new Circuit([new CurrentSource("I", "GND", "A", amps), .. part.ToElements()]).Compile()
            .SolveOperatingPoint().Nodes["A"];
        Assert.Equal(2.5, Volts(100e-6), 2.5 * 0.002);
        Assert.Equal(2.5 + 0.5 * 10e-3, Volts(10e-3), 4e-3);
        Assert.True(Volts(5e-6) < 2.45);
        Assert.Equal(2.5 * 1.005, new Circuit([new CurrentSource("I", "GND", "A", 1e-3), .. part.AtLimit(true)!.Value.Part.ToElements()])
            .Compile().SolveOperatingPoint().Nodes["A"], 5e-3);
    }

    [Fact]
    public void A_reference_that_carries_less_than_it_needs_is_refused() =>
        Assert.Contains("regulates from", Assert.Throws<DataSheetException>(() =>
        (PartCatalogue.Standard.Find<ReferenceType>("shunt-2V5")! with { MostAmps = 50e-6 }).Checked()).Message);

    [Fact]
    public void A_regulator_comes_up_with_its_input_and_its_energies_balance()
    {
        var run = new Circuit([new VoltageSource("V", "IN", "GND", new Step(0, 6, 1e-4, 1e-3)) { SeriesOhms = 0.1 },
            new Capacitor("C", "OUT", "GND", 1e-6), new Resistor("R", "OUT", "GND", 100),
            .. Regulator("cmos-low-dropout", 3.3).ToElements()]).Compile().RunTransient(3e-3);
        Assert.Equal(3.3, run.Voltage("OUT").At(3e-3), 0.02);
        Assert.InRange(run.Voltage("OUT").Maximum().Value, 3.2, 3.31);
        Assert.InRange(run.Audit.EnergyImbalance, 0, 1e-3);
    }
}
