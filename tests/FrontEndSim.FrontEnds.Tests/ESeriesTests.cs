using FrontEndSim.FrontEnds.Quantities;

namespace FrontEndSim.FrontEnds.Tests;

/// <summary>Values printed in IEC 60063 (tables from memory).</summary>
public class ESeriesTests
{
    private static readonly int[] E96Table =
    [
        100, 102, 105, 107, 110, 113, 115, 118, 121, 124, 127, 130, 133, 137, 140, 143, 147, 150, 154, 158, 162, 165, 169, 174, 178, 182,
            187,
        191, 196, 200, 205, 210, 215, 221, 226, 232, 237, 243, 249, 255, 261, 267, 274, 280, 287, 294, 301, 309, 316, 324, 332, 340, 348,
            357,
        365, 374, 383, 392, 402, 412, 422, 432, 442, 453, 464, 475, 487, 499, 511, 523, 536, 549, 562, 576, 590, 604, 619, 634, 649, 665,
            681,
        698, 715, 732, 750, 768, 787, 806, 825, 845, 866, 887, 909, 931, 953, 976,
    ];

    [Fact]
    public void E12_has_the_values_printed_in_the_standard() =>
        Assert.Equal([1.0, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8, 8.2], ESeries.E12.Mantissas);

    [Fact]
    public void E96_has_the_values_printed_in_the_standard() =>
        Assert.Equal(E96Table.Select(v => v / 100.0), ESeries.E96.Mantissas);

    [Fact]
    public void E48_is_every_other_value_of_E96() =>
        Assert.Equal(E96Table.Where((_, k) => k % 2 == 0).Select(v => v / 100.0), ESeries.E48.Mantissas);

    [Fact]
    public void E192_has_920_where_rounding_would_give_919()
    {
        Assert.Equal(192, ESeries.E192.Mantissas.Length);
        Assert.Contains(9.20, ESeries.E192.Mantissas);
        Assert.DoesNotContain(9.19, ESeries.E192.Mantissas);
    }

    [Theory]
    [InlineData(4600, 4700)]
    [InlineData(0.469, 0.47)]
    [InlineData(9.6e-9, 10e-9)]
    [InlineData(1.05e6, 1e6)]
    public void The_nearest_E12_value_is_found_in_any_decade(double wanted, double nearest) =>
        Assert.Equal(nearest, ESeries.E12.Nearest(wanted), 1e-12 * nearest);

    [Fact]
    public void A_range_holds_each_value_once_with_both_ends() =>
        Assert.Equal([10e3, 22e3, 47e3, 100e3], ESeries.E3.Between(10e3, 100e3));
}
