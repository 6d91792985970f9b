using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.Engine.Tests.Robustness;

/// <summary>What cannot be solved is refused by name before solving, or ends within its bounds.</summary>
public class RefusalTests
{
    private static readonly Element Source = new VoltageSource("S", "A", "GND", 1), Load = new Resistor("R", "A", "GND", 100);

    private static CircuitProblem Refused(params Element[] parts)
    {
        var e = Assert.Throws<CircuitException>(() => new Circuit(parts).Compile());
        return e.Problems[0];
    }

    [Theory]
    [InlineData(0)]
    [InlineData(-47)]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    public void A_resistance_that_is_not_finite_and_positive_is_refused_by_name(double ohms)
    {
        var problem = Refused(Source, new Resistor("R9", "A", "GND", ohms));
        Assert.Equal("R9", problem.Element);
        Assert.Contains("R9", problem.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_source_whose_waveform_is_not_a_number_is_refused() =>
        Assert.Equal("S", Refused(new VoltageSource("S", "A", "GND", new Sine(0, double.NaN, 50)), Load).Element);

    [Fact]
    public void A_loop_of_ideal_sources_names_the_source_that_closes_it() =>
        Assert.Equal("S2", Refused(Source, Load, new VoltageSource("S2", "A", "GND", 2)).Element);

    [Fact]
    public void A_coil_without_resistance_across_a_source_is_a_loop_too() =>
        Assert.Equal("L", Refused(Source, Load, new Inductor("L", "A", "GND", 1e-3)).Element);

    [Fact]
    public void A_node_between_two_capacitors_has_no_way_to_ground() =>
        Assert.Equal("B", Refused(Source, Load, new Capacitor("C1", "A", "B", 1e-9), new Capacitor("C2", "B", "GND", 1e-9)).Node);

    [Fact]
    public void An_island_of_parts_is_named_with_its_nodes()
    {
        var problem = Refused(Source, Load, new Resistor("X", "P", "Q", 1e3));
        Assert.Contains("P, Q", problem.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_circuit_without_ground_is_refused() =>
        Assert.Equal(Circuit.Ground, Refused(new Resistor("R", "A", "B", 1e3)).Node);

    [Fact]
    public void Two_parts_of_one_name_are_refused() => Assert.Equal("R", Refused(Source, Load, new Resistor("R", "A", "GND", 10)).Element);

    [Fact]
    public void A_transient_that_needs_more_steps_than_allowed_ends_and_says_so()
    {
        var circuit = new Circuit([new VoltageSource("S", "A", "GND", new Sine(0, 1, 1e6)), new Resistor("R", "A", "B", 1e3),
            new Capacitor("C", "B", "GND", 1e-10)]);
        var e = Assert.Throws<SolveException>(() => circuit.Compile(new SolverSettings { MostSteps = 50 }).RunTransient(1));
        Assert.Contains("50 steps", e.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_transient_can_be_cancelled_between_steps()
    {
        using var cancel = new CancellationTokenSource();
        cancel.Cancel();
        var circuit = new Circuit([new VoltageSource("S", "A", "GND", new Sine(0, 1, 1e3)), new Resistor("R", "A", "B", 1e3),
            new Capacitor("C", "B", "GND", 1e-10)]);
        Assert.ThrowsAny<OperationCanceledException>(() => circuit.Compile().RunTransient(1, cancel.Token));
    }

    [Fact]
    public void Two_current_sources_in_series_that_disagree_find_no_solution_and_the_node_is_named()
    {
        // The node between them reaches ground through a diode that cannot pass the difference backwards.
        var circuit = new Circuit([
            new CurrentSource("I1", "GND", "A", 1e-3), new CurrentSource("I2", "A", "GND", 2e-3),
            new Diode("D", "A", "GND", Junctions.Silicon)]);
        var e = Assert.Throws<SolveException>(() => circuit.Compile().SolveOperatingPoint());
        Assert.Equal("A", e.Node);
    }
}
