using FrontEndSim.FrontEnds.Uncertainty;
using static FrontEndSim.FrontEnds.Tests.Uncertainty.Functions;

namespace FrontEndSim.FrontEnds.Tests.Uncertainty;

/// <summary>
/// The worked examples of the guides. All expected numbers are from memory of JCGM 100:2008 and JCGM 101:2008; those that
/// have a closed form are given it.
/// </summary>
public class GuideExampleTests
{
    // JCGM 100 annex H.1: an end gauge compared with a standard of 50 mm, in nm and °C. Inputs ls, d, αs, θ, δα, δθ;
    // the limits of the last two are 1e-6 and 0.05 (printed there as 0.58e-6 and 0.029 after division by √3).
    private static readonly MeasurementFunction EndGauge = Of(6, x => x[0] + x[1] - x[0] * (x[4] * x[3] + x[2] * x[5]));

    private static readonly InputQuantity[] EndGaugeInputs =
    [
        Normal("standard", 50_000_623, 25, 18), Normal("comparison", 215, 9.7, 25.6), Normal("expansion", 11.5e-6, 1.2e-6),
        Normal("temperature", -0.1, 0.41), Normal("difference of expansion", 0, 1e-6 / Math.Sqrt(3), 50),
            Normal("difference of temperature", 0, 0.05 / Math.Sqrt(3), 2),
    ];

    [Fact]
    public void The_end_gauge_of_JCGM_100_H1_has_a_length_of_50_000838_mm_and_a_standard_uncertainty_of_32_nm()
    {
        var result = LinearPropagation.Through(EndGauge, EndGaugeInputs)[0];
        Assert.Equal(838, result.Estimate - 50e6, 0.5);
        Assert.Equal(32, result.StandardUncertainty, 0.5);
        // H.1.3: the contributions, nm: 25, 9.7, 0, 0, 2.9, 16.6.
        double[] expected = [25, 9.7, 0, 0, 2.9, 16.6];
        for (int k = 0; k < expected.Length; k++)
            Assert.Equal(expected[k], Math.Abs(result.Contributions[k].Effect), 0.05);
    }

    [Fact]
    public void The_end_gauge_of_JCGM_100_H1_has_16_effective_degrees_of_freedom_and_an_expanded_uncertainty_of_93_nm()
    {
        var result = LinearPropagation.Through(EndGauge, EndGaugeInputs)[0];
        Assert.Equal(16, Math.Floor(result.DegreesOfFreedom));
        // t for 99 % and 16 degrees of freedom, table G.2; the guide multiplies it by the standard uncertainty as rounded, 32 nm.
        double factor = result.ExpandedUncertainty(0.99) / result.StandardUncertainty;
        Assert.Equal(2.92, factor, 0.005);
        Assert.Equal(93, factor * Math.Round(result.StandardUncertainty), 0.5);
    }

    [Fact]
    public void The_gauge_block_of_JCGM_101_9_5_spreads_by_36_nm_when_distributions_are_propagated()
    {
        // Table 10 of the guide: t for the standard and the three parts of the comparison, rectangle, normal and arcsine for
        // expansion and temperatures, rectangles with inexact limits (6.4.3) for the differences.
        var function = Of(11, x =>
        {
            double theta = x[5] + 0.5 * Math.Sin(2 * Math.PI * x[6]);
            double expansion = x[7] * x[8], warmth = x[9] * x[10];
            return x[0] + x[1] + x[2] + x[3] - x[0] * (expansion * theta + x[4] * warmth) - 50e6;
        });
        InputQuantity[] inputs =
        [
            new("standard", new StudentInput(50_000_623, 25, 18)), new("comparison", new StudentInput(215, 6, 24)),
            new("random effects", new StudentInput(0, 4, 5)), new("systematic effects", new StudentInput(0, 7, 8)),
            Rectangular("expansion", 9.5e-6, 13.5e-6), Normal("mean temperature", -0.1, 0.2), Rectangular("cycle", 0, 1),
            Rectangular("limit of expansion", 0.9e-6, 1.1e-6), Rectangular("place in it", -1, 1),
            Rectangular("limit of warmth", 0.025, 0.075), Rectangular("place in that", -1, 1),
        ];
        var result = MonteCarlo.Propagate(function, inputs, new MonteCarloSettings { Probability = 0.99, MostBatches = 6 })[0];
        Assert.Equal(838, result.Mean, 1.0);
        Assert.Equal(36, result.StandardUncertainty, 0.6);
        Assert.Equal(745, result.Shortest.Low, 4.0);
        Assert.Equal(932, result.Shortest.High, 4.0);
    }

    [Fact]
    public void The_sum_of_four_rectangles_of_JCGM_101_9_2_3_lies_within_3_88_with_95_percent()
    {
        double limit = Math.Sqrt(3);
        InputQuantity[] inputs = [.. Enumerable.Range(1, 4).Select(k => Rectangular($"X{k}", -limit, limit))];
        var function = Of(4, x => x.Sum());
        var drawn = MonteCarlo.Propagate(function, inputs, new MonteCarloSettings { SettledDigits = 3 })[0];
        // Closed form: 2√3·(2 − (3/5)^(1/4)), from the tail of the sum of four uniforms.
        double exact = 2 * Math.Sqrt(3) * (2 - Math.Pow(0.6, 0.25));
        Assert.Equal(3.88, exact, 0.005);
        Assert.Equal(exact, drawn.Interval.High, 0.03);
        Assert.Equal(-exact, drawn.Interval.Low, 0.03);
        Assert.Equal(2, drawn.StandardUncertainty, 0.01);
        Assert.Equal(3.92, LinearPropagation.Through(function, inputs)[0].ExpandedUncertainty(0.95), 0.005);
    }

    [Fact]
    public void One_dominant_rectangle_of_JCGM_101_9_2_4_makes_the_normal_interval_too_wide()
    {
        double unit = Math.Sqrt(3);
        InputQuantity[] inputs =
            [.. Enumerable.Range(1, 3).Select(k => Rectangular($"X{k}", -unit, unit)), Rectangular("X4", -10 * unit, 10 * unit)];
        var function = Of(4, x => x.Sum());
        var drawn = MonteCarlo.Propagate(function, inputs)[0];
        Assert.Equal(17.0, drawn.Interval.High, 0.15);
        Assert.Equal(-17.0, drawn.Interval.Low, 0.15);
        Assert.Equal(10.1, drawn.StandardUncertainty, 0.1);
        Assert.Equal(19.9, LinearPropagation.Through(function, inputs)[0].ExpandedUncertainty(0.95), 0.05);
    }

    [Fact]
    public void The_weight_of_JCGM_101_9_3_spreads_wider_than_a_straight_line_says()
    {
        // Inputs: reference mass and its departure (mg), density of air, of the weight and of the reference (kg/m³).
        var function = Of(5, x => (x[0] + x[1]) * (1 + (x[2] - 1.2) * (1 / x[3] - 1 / x[4])) - 100_000);
        InputQuantity[] inputs =
        [
            Normal("reference", 100_000, 0.050), Normal("departure", 1.234, 0.020), Rectangular("air", 1.10, 1.30),
            Rectangular("weight", 7000, 9000), Rectangular("reference density", 7950, 8050),
        ];
        var line = LinearPropagation.Through(function, inputs)[0];
        Assert.Equal(1.2340, line.Estimate, 0.00005);
        Assert.Equal(0.0539, line.StandardUncertainty, 0.00005);
        var drawn = MonteCarlo.Propagate(function, inputs)[0];
        Assert.Equal(0.0754, drawn.StandardUncertainty, 0.0008);
        Assert.Equal(1.0834, drawn.Shortest.Low, 0.006);
        Assert.Equal(1.3825, drawn.Shortest.High, 0.006);
    }

    [Fact]
    public void The_power_loss_of_JCGM_101_9_4_at_a_reflection_of_zero_cannot_be_propagated_by_a_straight_line()
    {
        // The sum of two squares of normals is exponential: mean and deviation 2σ², shortest 95 % interval 0 to −2σ²·ln 0.05.
        var function = Of(2, x => x[0] * x[0] + x[1] * x[1]);
        InputQuantity[] inputs = [Normal("real", 0, 0.005), Normal("imaginary", 0, 0.005)];
        Assert.Equal(0, LinearPropagation.Through(function, inputs)[0].StandardUncertainty);
        var drawn = MonteCarlo.Propagate(function, inputs)[0];
        Assert.Equal(50e-6, drawn.Mean, 1e-6);
        Assert.Equal(50e-6, drawn.StandardUncertainty, 1e-6);
        Assert.Equal(0, drawn.Shortest.Low, 1e-6);
        Assert.Equal(-50e-6 * Math.Log(0.05), drawn.Shortest.High, 4e-6);
    }
}
