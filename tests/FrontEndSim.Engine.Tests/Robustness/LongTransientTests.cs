using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.Engine.Tests.Robustness;

/// <summary>Transients that would record more than they may, last for ages, or are stopped.</summary>
public class LongTransientTests
{
    private static Circuit Filter(Waveform source) => new(
        [new VoltageSource("S", "IN", "GND", source), new Resistor("R", "IN", "OUT", 1e3), new Capacitor("C", "OUT", "GND", 1e-7)]);

    [Fact]
    public void A_record_that_is_merged_stays_within_the_share_that_its_audit_states()
    {
        // Fine steps of a slow sine, as an accuracy of 1e-9 takes, hold far more than a drawing at 1e-8 needs.
        var settings = new SolverSettings { Accuracy = 1e-7, LongestStep = 1e-6, MostRecordedNumbers = 20_000 };
        var compiled = Filter(new Sine(0, 5, 1e3)).Compile(settings);
        var merged = compiled.RunTransient(5e-3);
        var whole = Filter(new Sine(0, 5, 1e3)).Compile(settings with { MostRecordedNumbers = 10_000_000 }).RunTransient(5e-3);
        Assert.Equal(0, whole.Audit.DrawingShare);
        Assert.True(merged.Audit.DrawingShare > 0);
        Assert.True(4 * merged.Times.Count * 4 <= 24_000);
        double[] times = [.. Enumerable.Range(0, 20_001).Select(k => k * 5e-3 / 20_000)];
        double worst = whole.Voltage("OUT").Sample(times).Zip(merged.Voltage("OUT").Sample(times), (a, b) => Math.Abs(a - b)).Max();
        Assert.True(worst <= 2 * merged.Audit.DrawingShare * 5, $"{worst} V off, {merged.Audit.DrawingShare} stated");
        Assert.True(merged.Audit.IsWithinLimits);
    }

    // 13 million numbers of currents and powers and no more: above what is kept of all parts at once.
    [Fact]
    public void Parts_of_a_long_run_are_read_as_they_are_of_a_short_one()
    {
        var filter = new Circuit(
            [.. Filter(new Sine(0, 5, 1e3)).Elements, .. Enumerable.Range(0, 400).Select(k => new Resistor($"L{k}", "OUT", "GND", 1e6 + k))]);
        var compiled = filter.Compile(new SolverSettings { LongestStep = 1e-6, SolvesEveryPeriod = true });
        TransientResult run = compiled.RunTransient(5e-3), brief = compiled.RunTransient(2e-3);
        Assert.True(2L * 4 * run.Times.Count * filter.Elements.Length > 12_500_000);
        Assert.True(2L * 4 * brief.Times.Count * filter.Elements.Length < 12_500_000);
        Assert.True(run.Audit.IsWithinLimits && run.Audit.LargestAmps > 0);
        foreach (string part in new[] { "S", "R", "C", "L7" })
        {
            Assert.Equal(brief.Current(part).At(1.3e-3), run.Current(part).At(1.3e-3), 1e-12);
            Assert.Equal(brief.Power(part).At(1.3e-3), run.Power(part).At(1.3e-3), 1e-12);
        }
        Assert.Throws<ArgumentException>(() => run.Power("nowhere"));
    }

    [Fact]
    public void A_record_that_cannot_be_merged_ends_with_the_limit_named()
    {
        var e = Assert.Throws<SolveException>(() =>
            Filter(new Sine(0, 5, 1e6)).Compile(new SolverSettings { MostRecordedNumbers = 50_000 }).RunTransient(0.35));
        Assert.Contains("50000 numbers", e.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(1e6)]
    [InlineData(1e12)]
    [InlineData(1e30)]
    [InlineData(1e300)]
    public void A_step_that_lasts_for_ages_ends_with_finite_energies_or_a_refusal(double seconds)
    {
        var compiled = Filter(new Pulse(0, 12, 1e-3, 0, seconds, 0)).Compile();
        try
        {
            var run = compiled.RunTransient(1.1 * seconds);
            Assert.True(double.IsFinite(run.Power("R").Integral()));
            // From 1e12 s on a number tells no tenths of a millisecond apart, the time constant: then the audit says so.
            Assert.True(run.Audit.IsWithinLimits || seconds >= 1e12, $"{run.Audit}");
        }
        catch (SolveException e)
        {
            Assert.Contains("numbers can hold", e.Message, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void A_circuit_whose_numbers_overflow_has_no_operating_point_that_is_shown()
    {
        var circuit = new Circuit([new VoltageSource("S", "A", "GND", 1e200), new Resistor("R", "A", "GND", 1e-200)]);
        Assert.Throws<SolveException>(() => circuit.Compile().SolveOperatingPoint());
    }

    [Fact]
    public void Settings_that_make_no_sense_are_refused_as_they_are_set()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => new SolverSettings { Accuracy = 0 });
        Assert.Throws<ArgumentOutOfRangeException>(() => new SolverSettings { AbsoluteVolts = double.NaN });
        Assert.Throws<ArgumentOutOfRangeException>(() => new SolverSettings { LongestStep = -1 });
        Assert.Throws<ArgumentOutOfRangeException>(() => new SolverSettings { MostSteps = 0 });
    }
}
