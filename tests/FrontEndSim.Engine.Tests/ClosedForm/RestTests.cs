using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Tests.Reference;


namespace FrontEndSim.Engine.Tests.ClosedForm;

/// <summary>Linear circuits at rest, in closed form.</summary>
public sealed class RestTests
{
    [Theory]
    [InlineData(1.0, 1.0)]
    [InlineData(10e3, 4.7e3)]
    [InlineData(1e9, 1e3)]
    [InlineData(0.01, 10e6)]
    [InlineData(10e6, 10e6)]
    public void An_unloaded_divider_gives_R2_over_R1_plus_R2(double r1, double r2)
    {
        var point = new Circuit([new VoltageSource("source", "in", "GND", 5.0), new Resistor("R1", "in", "out", r1),
            new Resistor("R2", "out", "GND", r2)])
            .Compile().SolveOperatingPoint();
        double expected = 5 * r2 / (r1 + r2);
        // A conductance to ground that the user did not draw would show here.
        Agreement.OfScale("divider", expected, point.Nodes["out"], expected, 1e-12);
        // A current follows from node voltages, so it is known to 1e-9 or to what the last bit of 5 V carries through R1.
        Agreement.AtEachPoint("current of the source", [-5 / (r1 + r2)], [point.Parts["source"].Amps], 1e-9,
            (Math.BitIncrement(5.0) - 5) / r1);
    }

    [Theory]
    [InlineData(-40)]
    [InlineData(25)]
    [InlineData(85)]
    public void A_resistor_follows_its_temperature_coefficient_from_25_degrees(double celsius)
    {
        var point = new Circuit(
            [
                new VoltageSource("source", "in", "GND", 5.0), new Resistor("R1", "in", "out", 10e3) { TempCo = 100e-6 },
                new Resistor("R2", "out", "GND", 10e3) { TempCo = -50e-6 },
            ], celsius).Compile().SolveOperatingPoint();
        double r1 = 10e3 * (1 + 100e-6 * (celsius - 25)), r2 = 10e3 * (1 - 50e-6 * (celsius - 25)), expected = 5 * r2 / (r1 + r2);
        Agreement.OfScale("divider", expected, point.Nodes["out"], expected, 1e-12);
    }

    [Fact]
    public void A_reverse_biased_junction_with_a_gigohm_pull_up_leaks_its_saturation_current_and_no_more()
    {
        // 1e-15 A into 1 Gohm is 1 µV: a helping conductance of 1e-12 S left in the equations would make it 5 mV.
        var point = new Circuit(
        [
            new VoltageSource("source", "in", "GND", 5.0), new Resistor("R", "in", "out", 1e9),
            new Diode("D", "GND", "out", Junctions.Silicon with { SaturationAmps = 1e-15 }),
        ]).Compile().SolveOperatingPoint();
        Agreement.OfScale("drop across the pull-up", 1e-6, 5 - point.Nodes["out"], 5, 2e-10);
    }

    [Fact]
    public void A_bridge_of_resistors_and_a_current_source_solves_by_superposition()
    {
        // Balanced bridge, 3 kohm / 6 kohm each side, 1 mA pushed across the detector arm.
        var point = new Circuit(
        [
            new VoltageSource("source", "top", "GND", 9.0), new CurrentSource("detector", "right", "left", 1e-3),
            new Resistor("R1", "top", "left", 3e3), new Resistor("R2", "left", "GND", 6e3),
            new Resistor("R3", "top", "right", 3e3), new Resistor("R4", "right", "GND", 6e3),
        ]).Compile().SolveOperatingPoint();
        // 6 V each side from the source; ±1 mA into 3 kohm ∥ 6 kohm = 2 kohm.
        Agreement.OfScale("left", 8, point.Nodes["left"], 8, 1e-12);
        Agreement.OfScale("right", 4, point.Nodes["right"], 4, 1e-12);
    }
}
