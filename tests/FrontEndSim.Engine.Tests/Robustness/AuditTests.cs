using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.Engine.Tests.Robustness;

/// <summary>What the audit says of currents that do not add up: the tolerance of the time steps, and against what flows.</summary>
public class AuditTests
{
    /// <summary>500 V behind 42 ohm into a clamp of little resistance: 12 A through a junction whose slope is 460 A/V.</summary>
    private static Audit Surge(double accuracy) => new Circuit(
    [
        new VoltageSource("S", "IN", "GND", new DoubleExponential(500, 4.05e-7, 6.82e-5)) { SeriesOhms = 42 },
        new Diode("D", "IN", "VDD", Junctions.Silicon with { SeriesOhms = 0.5 }),
        new VoltageSource("VDD", "VDD", "GND", 3.3),
    ]).Compile(new SolverSettings { Accuracy = accuracy }).RunTransient(200e-6).Audit;

    [Fact]
    public void The_current_left_over_in_a_surge_is_a_millionth_of_what_flows_whatever_the_tolerance_of_the_steps()
    {
        Audit usual = Surge(1e-5), finer = Surge(1e-8);

        // (500 V − 3.3 V − 0.9 V)/42.5 ohm = 11.66 A (Ohm's law, a drop of 26 mV·ln(11.7/1e-14) = 0.9 V).
        Assert.InRange(usual.LargestAmps, 11.6, 11.7);
        Assert.True(usual.KirchhoffShare < 2e-6);
        Assert.True(finer.KirchhoffShare < 2e-6);
        Assert.True(usual.IsWithinLimits && finer.IsWithinLimits);
    }

    [Fact]
    public void A_circuit_at_rest_is_audited_against_its_largest_current()
    {
        var audit = new Circuit([new VoltageSource("V", "A", "GND", 5.0),
            new Resistor("R", "A", "GND", 1000)]).Compile().SolveOperatingPoint().Audit;
        Assert.Equal(5e-3, audit.LargestAmps, 1e-12);
        Assert.InRange(audit.KirchhoffShare, 0, 1e-12);
    }

    [Fact]
    public void Eleven_percent_of_current_or_110_percent_of_energy_left_over_is_beyond_the_limits_of_an_audit()
    {
        Assert.False(new Audit { KirchhoffAmps = 0.11, LargestAmps = 1 }.IsWithinLimits);
        Assert.False(new Audit { LargestAmps = 1, EnergyImbalance = 1.1 }.IsWithinLimits);
        Assert.True(new Audit { KirchhoffAmps = 1e-6, LargestAmps = 1, EnergyImbalance = 1e-4 }.IsWithinLimits);
    }
}
