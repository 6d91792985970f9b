using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;

namespace FrontEndSim.Engine.Tests.ClosedForm;

/// <summary>What an input leaks flows to a supply as long as there is a voltage to drive it.</summary>
public sealed class InputLeakageTests
{
    private const double Amps = 100e-9, Supply = 3.3;

    private static double Pin(double ohms, double volts, double amps) => new Circuit(
    [
        new VoltageSource("V1", "IN", Circuit.Ground, volts), new Resistor("R1", "IN", "PIN", ohms),
        new VoltageSource("VDD", "VDD", Circuit.Ground, Supply), new InputLeakage("leak", "PIN", Circuit.Ground, "VDD", amps),
    ]).Compile().SolveOperatingPoint().Nodes["PIN"];

    /// <summary>Ohm's law.</summary>
    [Theory]
    [InlineData(0.01), InlineData(1.65), InlineData(3.29)]
    public void Between_its_supplies_it_is_the_stated_current_either_way(double volts)
    {
        Assert.Equal(volts - 1e3 * Amps, Pin(1e3, volts, Amps), 1e-9);
        Assert.Equal(volts + 1e3 * Amps, Pin(1e3, volts, -Amps), 1e-9);
    }

    /// <summary>A gigohm would fall a hundred volts: the current ends within kT/q of its supply.</summary>
    [Fact]
    public void An_input_that_next_to_nothing_holds_stands_at_a_supply_and_not_beyond()
    {
        Assert.InRange(Pin(1e9, 1.65, Amps), -0.025, 0);
        Assert.InRange(Pin(1e9, 1.65, -Amps), Supply, Supply + 0.025);
        // Held far beyond, there is nothing left of it.
        Assert.Equal(-1, Pin(1e6, -1, Amps), 1e-9);
        Assert.Equal(5, Pin(1e6, 5, -Amps), 1e-9);
    }
}
