using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies;
using FrontEndSim.FrontEnds.Studies.Respond;

namespace FrontEndSim.FrontEnds.Tests.Studies;

public class RespondTests
{
    private const double Ohms = 1e3, Farads = 100e-9, TimeConstant = Ohms * Farads;

    /// <summary>A sensor behind 1 kohm, and a pin of 12 bits over 3.3 V with a capacitor beside it.</summary>
    private static FrontEnd OnePole(double farads = Farads, Sampling? sampling = null) => new()
    {
        Title = "One pole",
        Rails = [new Rail("VDD", 3.3)],
        Sensors = [new Sensor("source", "PIN", new Span(0.5, 2.5), Ohms)],
        Parts = [new CapacitorPart("C1", "PIN", "GND", farads)],
        Pins =
        [
            new Pin("adc", "PIN")
            {
                HasClamps = false,
                Farads = 0,
                Converter = new Converter(12, new LevelSpan(new Level(null, 0), new Level("VDD", 0))),
                Sampling = sampling,
            },
        ],
    };

    private static readonly RespondResult Result = RespondStudy.Run(OnePole(), "adc", sampleHertz: 10e3);

    [Fact]
    public void The_corner_of_one_pole_is_one_over_two_pi_RC() =>
        Assert.Equal(1 / (2 * Math.PI * TimeConstant), Result.Frequency.CornerHertz, 1e-3);

    [Fact]
    public void One_pole_lets_through_one_over_root_of_one_plus_the_frequency_ratio_squared_at_half_the_sampling_rate()
    {
        double ratio = 2 * Math.PI * 5e3 * TimeConstant;
        Assert.Equal(10 * Math.Log10(1 + ratio * ratio), Result.Frequency.HalfRateAttenuation!.Value, 1e-6);
        var last = Result.Frequency.Points[^1];
        Assert.Equal(-90, last.Degrees, 0.01);
    }

    [Fact]
    public void One_pole_settles_to_half_a_count_after_the_logarithm_of_the_step_in_half_counts()
    {
        double half = 3.3 / 8192;
        Assert.Equal(half, Result.HalfCountVolts, 1e-12);
        double expected = TimeConstant * Math.Log(2 / half);
        Assert.Equal(expected, Result.Up.SettlingSeconds, 1e-3 * expected);
        Assert.Equal(expected, Result.Down.SettlingSeconds, 1e-3 * expected);
        Assert.Equal(TimeConstant * Math.Log(9), Result.Up.RiseSeconds, 1e-3 * TimeConstant);
        Assert.Equal(0, Result.Up.Overshoot, 1e-5);
        Assert.Equal((0.5, 2.5), (Math.Round(Result.Up.FromVolts, 9), Math.Round(Result.Up.ToVolts, 9)));
    }

    [Fact]
    public void Without_a_capacitor_at_the_pin_a_sample_settles_through_both_resistances()
    {
        // 10 kohm of switch and 1 kohm of source, 14 pF: the error decays with their product. 1 fF stands for no capacitor.
        var front = OnePole(1e-15, new Sampling(14e-12, 10e3, 0.5e-6));
        var sample = SamplingStudy.Run(new(front), "adc", "source", 2.5, 0);
        double constant = 11e3 * 14e-12;
        Assert.Equal(-2.5 * Math.Exp(-0.5e-6 / constant), sample.ErrorVolts, 0.01 * 2.5 * Math.Exp(-0.5e-6 / constant));
        double expected = constant * Math.Log(2.5 / (3.3 / 8192));
        Assert.Equal(expected, sample.LongEnoughSeconds, 2e-3 * expected);
    }

    [Fact]
    public void With_a_large_capacitor_at_the_pin_a_sample_shares_charge_and_recovers_slowly()
    {
        // Charge is shared at once, then both recover together with R·(C + Cs): far too slow for 3 µs.
        var front = OnePole(Farads, new Sampling(14e-12, 1, 3e-6));
        var sample = SamplingStudy.Run(new(front), "adc", "source", 2.5, 0);
        double expected = -2.5 * 14e-12 / (Farads + 14e-12) * Math.Exp(-3e-6 / (Ohms * (Farads + 14e-12)));
        Assert.Equal(expected, sample.ErrorVolts, 2e-3 * Math.Abs(expected));
    }

    [Fact]
    public void A_capacitor_that_keeps_its_charge_comes_nearer_with_every_sample()
    {
        // No capacitor at the pin: each sample takes the error down by the same exponential.
        var front = OnePole(1e-15, new Sampling(14e-12, 10e3, 0.2e-6));
        var row = SamplingStudy.InARow(new(front), "adc", "source", 2.5, 0, 100e3, 4, keepsCharge: true);
        double factor = Math.Exp(-0.2e-6 / (11e3 * 14e-12));
        for (int k = 0; k < 4; k++)
            Assert.Equal(-2.5 * Math.Pow(factor, k + 1), row.ErrorVolts[k], 0.01 * 2.5 * Math.Pow(factor, k + 1));
    }

    [Fact]
    public void A_capacitor_that_another_channel_charges_drags_the_pin_until_as_much_flows_in_as_is_taken()
    {
        // Charge balance: each sample shares charge with the pin's capacitor, which recovers through the source during the sample
        // (both capacitors) and after it (its own).
        const double sampled = 14e-12, seconds = 3e-6, hertz = 20e3;
        var front = OnePole(Farads, new Sampling(sampled, 1, seconds));
        var row = SamplingStudy.InARow(new(front), "adc", "source", 2.5, 0, hertz, 6, keepsCharge: false);
        double during = Math.Exp(-seconds / (Ohms * (Farads + sampled))), after = Math.Exp(-(1 / hertz - seconds) / (Ohms * Farads)),
            pin = 0;
        for (int k = 0; k < 6; k++)
        {
            double read = (Farads * pin - sampled * 2.5) / (Farads + sampled) * during;
            Assert.Equal(read, row.ErrorVolts[k], 5e-3 * Math.Abs(read));
            pin = read * after;
        }
        Assert.True(Math.Abs(row.ErrorVolts[5]) > 2 * Math.Abs(row.ErrorVolts[0]));
    }

    [Fact]
    public void Samples_that_would_overlap_are_refused()
    {
        var problem = Assert.Throws<StudyProblemException>(() => RespondStudy.Run(OnePole(Farads, new Sampling(14e-12, 1, 3e-6)), "adc",
            sampleHertz: 400e3));
        Assert.Equal(1 / 3e-6, problem.Problem.High!.Value.In(Unit.Hertz), 1e-3);
        Assert.Equal(4, RespondStudy.Run(OnePole(Farads, new Sampling(14e-12, 1, 3e-6)), "adc", sampleHertz: 10e3).Rows.Length);
        Assert.Empty(Result.Rows);
    }

    [Fact]
    public void The_noise_of_any_resistance_across_a_capacitor_is_root_of_kT_over_C()
    {
        // Johnson and Nyquist: a pole's bandwidth of π/2 times its corner cancels the resistance out.
        double expected = Math.Sqrt(1.380649e-23 * 298.15 / Farads);
        Assert.Equal(expected, Result.Noise.RmsVolts, 2e-3 * expected);
        Assert.Equal(Result.Noise.RmsVolts, Assert.Single(Result.Noise.Parts).RmsVolts, 1e-12);
    }

    [Fact]
    public void A_pin_that_does_not_sample_says_what_to_add()
    {
        var problem = Assert.Throws<StudyProblemException>(() => SamplingStudy.Run(new(OnePole()), "adc", "source", 1, 0));
        Assert.Equal(ProblemKind.NoSamplingCapacitor, problem.Problem.Kind);
        Assert.Empty(Result.Sampling);
    }
}
