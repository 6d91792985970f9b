using FrontEndSim.FrontEnds.Uncertainty;
using static FrontEndSim.FrontEnds.Tests.Uncertainty.Functions;

namespace FrontEndSim.FrontEnds.Tests.Uncertainty;

public class WorstCaseTests
{
    [Fact]
    public void The_worst_case_of_a_divider_is_the_corner_with_its_resistors_at_opposite_limits()
    {
        var function = Of(2, x => x[1] / (x[0] + x[1]));
        var worst = WorstCase.Of(function, [Rectangular("upper", 9_900, 10_100), Rectangular("lower", 4_950, 5_050)])[0];
        Assert.True(worst.IsExact);
        Assert.Equal(4, worst.Corners);
        Assert.Equal(4_950.0 / (10_100 + 4_950), worst.Low, 1e-15);
        Assert.Equal(5_050.0 / (9_900 + 5_050), worst.High, 1e-15);
    }

    [Fact]
    public void Where_inputs_are_too_many_the_bound_is_said_to_be_one_and_holds_every_corner()
    {
        // A product of ten factors: the worst corner is known, 1.01^10.
        var function = Of(10, x => x.Aggregate(1.0, (product, factor) => product * factor));
        InputQuantity[] inputs = [.. Enumerable.Range(1, 10).Select(k => Rectangular($"X{k}", 0.99, 1.01))];
        var exact = WorstCase.Of(function, inputs)[0];
        Assert.True(exact.IsExact);
        Assert.Equal(Math.Pow(1.01, 10), exact.High, 1e-12);
        var bound = WorstCase.Of(function, inputs, mostInputs: 6)[0];
        Assert.False(bound.IsExact);
        Assert.Equal(64, bound.Corners);
        // To first order in the four others: 1.01^6·(1 + 4·0.01).
        Assert.Equal(Math.Pow(1.01, 6) * 1.04, bound.High, 1e-12);
        Assert.Equal(Math.Pow(0.99, 6) * 0.96, bound.Low, 1e-12);
    }

    [Fact]
    public void Each_output_has_worst_corners_of_its_own()
    {
        MeasurementFunction function = (draws, fill) => [.. Enumerable.Range(0, draws).Select(draw =>
        {
            double[] x = new double[2];
            fill(draw, x);
            return new[] { x[0] + x[1], x[0] - x[1] };
        })];
        var worst = WorstCase.Of(function, [Rectangular("a", -1, 2), Rectangular("b", -3, 5)]);
        Assert.Equal((-4.0, 7.0), (worst[0].Low, worst[0].High));
        Assert.Equal((-6.0, 5.0), (worst[1].Low, worst[1].High));
    }

    [Fact]
    public void The_same_seed_gives_the_same_draws_and_another_seed_others()
    {
        var function = Of(1, x => x[0]);
        InputQuantity[] inputs = [Normal("x", 0, 1)];
        var first = MonteCarlo.Propagate(function, inputs, new MonteCarloSettings { Seed = 7, MostBatches = 2 })[0];
        Assert.Equal(first, MonteCarlo.Propagate(function, inputs, new MonteCarloSettings { Seed = 7, MostBatches = 2 })[0]);
        Assert.NotEqual(first, MonteCarlo.Propagate(function, inputs, new MonteCarloSettings { Seed = 8, MostBatches = 2 })[0]);
    }
}
