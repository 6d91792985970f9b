using System.Numerics;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies.Boards;
using FrontEndSim.FrontEnds.Studies.Respond;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Tests.Sensors;

/// <summary>What hum and the return wire leave in a reading, against sums over samples and closed forms by hand.</summary>
public class HumTests
{
    // 10 kohm and 1 uF: 15.9 Hz. 0 V .. 5 V are 0 mm .. 1000 mm, and 4096 counts.
    private static FrontEnd Board(Hum? hum, Averaging? averaging, double capacitorTolerance = 0, ReturnWire? wire = null) => new()
    {
        Rails = [new("VDD", new(5, 0, 0))],
        Sensors =
        [
            new("level", "IN", new Span(0, 1000), 0)
            {
                Quantity = "level", UnitText = "mm", Law = new StraightLaw(new(0, 1000), 0, 5, Unit.Volts), Hum = hum, Return = wire,
            },
        ],
        Parts =
        [
            new ResistorPart("R1", "IN", "PIN", new(10e3, 0, 0)), new CapacitorPart("C1", "PIN", "GND", new(1e-6, capacitorTolerance, 0)),
        ],
        Pins = [new("adc", "PIN") { HasClamps = false, Farads = 0, Averaging = averaging,
            Converter = new(12, new(new(null, 0), new("VDD", 0))) }],
    };

    private static HumLeft Left(FrontEnd frontEnd) => HumStudy.Run(new SolvedFrontEnd(frontEnd), frontEnd.Pins[0]).Single();

    private static double Passes(double hertz, double farads = 1e-6) => 1 / Math.Sqrt(1 + Math.Pow(2 * Math.PI * hertz * 10e3 * farads, 2));

    [Theory]
    [InlineData(16, 800, 50)]
    [InlineData(16, 800, 50.5)]
    [InlineData(20, 1000, 60)]
    [InlineData(7, 1000, 1050)]
    [InlineData(4, 80, 50)]
    [InlineData(10, 50, 50)]
    [InlineData(1, 1000, 50)]
    public void A_mean_of_samples_leaves_of_a_sine_what_their_sum_leaves(int count, double rate, double hertz)
    {
        // The mean of N samples of a sine is at most |Σ exp(jωk)|/N, wherever they fall.
        Complex sum = 0;
        for (int k = 0; k < count; k++)
            sum += Complex.Exp(new(0, 2 * Math.PI * hertz / rate * k));
        var averaging = new Averaging(count, rate);
        Assert.Equal(sum.Magnitude / count, averaging.Leaves(hertz), 1e-9);
    }

    [Theory]
    [InlineData(800, 50, 50)]
    [InlineData(80, 50, 30)]
    [InlineData(1000, 1050, 50)]
    [InlineData(50, 50, 0)]
    [InlineData(49, 50, 1)]
    public void What_is_beyond_half_the_rate_comes_back_below_it(double rate, double hertz, double folded) =>
        Assert.Equal(folded, new Averaging(1, rate).Folded(hertz), 1e-9);

    [Fact]
    public void Hum_in_series_with_a_line_reaches_the_pin_through_the_filter_and_one_sample_has_all_of_it()
    {
        var left = Left(Board(new(0.1, 50, 0, null), null));
        double peak = Math.Sqrt(2) * 0.1 * Passes(50);
        Assert.Equal(peak, left.PinVolts, 1e-7);
        Assert.Equal(peak, left.LeftVolts, 1e-7);
        Assert.Equal(peak / 5 * 4096, left.LeftCounts!.Value, 1e-4);
        // The filter's capacitor 10 % low lets more through.
        Assert.Equal(Math.Sqrt(2) * 0.1 * Passes(50, 0.9e-6), Left(Board(new(0.1, 50, 0, null), null, 0.1)).LeftVolts, 1e-6);
    }

    [Fact]
    public void Whole_periods_leave_nothing_and_mains_off_by_a_percent_what_their_sum_leaves()
    {
        Assert.Equal(0, Left(Board(new(0.1, 50, 0, null), new(16, 800))).LeftVolts, 1e-9);
        var off = Left(Board(new(0.1, 50, 0.01, null), new(16, 800)));
        // At 49.5 Hz the filter lets more through and the mean leaves as much: π·0.99 of a period.
        double leaves = Math.Abs(Math.Sin(Math.PI * 49.5 * 16 / 800) / (16 * Math.Sin(Math.PI * 49.5 / 800)));
        Assert.Equal(49.5, off.WorstHertz, 1e-9);
        Assert.Equal(Math.Sqrt(2) * 0.1 * Passes(49.5) * leaves, off.LeftVolts, 1e-7);
        Assert.Equal(49.5, off.FoldedHertz!.Value, 1e-9);
    }

    [Theory]
    [InlineData(4096 - 100)]
    [InlineData(10)]
    [InlineData(2048)]
    public void A_mean_of_samples_lacks_what_the_converter_cuts_off_their_crests(double counts)
    {
        // The mean of what lies beyond the range, summed over one period; at 2048 the whole sine is inside.
        var hum = Left(Board(new(1, 50, 0, null), new(16, 800)));
        double lacks = Math.Abs(Enumerable.Range(0, 100_000).Select(k => counts + hum.PeakCounts * Math.Sin(2 * Math.PI * k / 1e5))
            .Average(c => c - Math.Clamp(c, 0, 4096)));
        Assert.Equal(lacks, hum.CutCounts(counts, 4096), 1e-4);
        Assert.Equal(0, Left(Board(new(1, 50, 0, null), null)).CutCounts(counts, 4096));
    }

    [Fact]
    public void Mains_beside_a_line_push_their_current_through_what_the_line_is_driven_from()
    {
        // 230 V through 100 pF onto 10 kohm, nothing else: 230·ωRC/√(1 + (ωRC)²).
        var frontEnd = Board(new(230, 50, 0, 100e-12), null) with { Parts = [new ResistorPart("R1", "IN", "PIN", new(1, 0, 0))] };
        frontEnd = frontEnd with { Sensors = [frontEnd.Sensors[0] with { SourceOhms = 10e3 }] };
        double x = 2 * Math.PI * 50 * 10e3 * 100e-12;
        Assert.Equal(Math.Sqrt(2) * 230 * x / Math.Sqrt(1 + x * x), Left(frontEnd).PinVolts, 1e-6);
    }

    [Fact]
    public void Hum_the_return_wire_and_grounds_apart_are_part_of_a_readings_error()
    {
        double Error(FrontEnd frontEnd)
        {
            var solved = new SolvedFrontEnd(frontEnd);
            return solved.Spread(solved.Mapping("adc"))!.Largest;
        }

        double exact = Error(Board(null, null));
        // 5 mV are 1 mm.
        double hum = Math.Sqrt(2) * 0.1 * Passes(50) / 5e-3;
        Assert.Equal(exact + hum, Error(Board(new(0.1, 50, 0, null), null)), 1e-2);
        Assert.Equal(exact + 20e-3 / 5e-3, Error(Board(null, null, wire: new(0, null, 20e-3))), 1e-2);
        // 0 mA to 100 mA in 0.4 ohm: firmware knows the 20 mV of the middle, not the 20 mV either way about it.
        Assert.Equal(exact + 20e-3 / 5e-3, Error(Board(null, null, wire: new(0.4, new(0, 0.1), 0))), 1e-2);
    }

    [Fact]
    public void Hum_is_on_every_board_and_on_a_share_of_them()
    {
        double On(Hum? hum, BoardTarget boards)
        {
            var solved = new SolvedFrontEnd(Board(hum, null));
            return solved.Boards(solved.Mapping("adc"), boards, true, null).Largest;
        }

        // 5 mV are 1 mm.
        double left = Math.Sqrt(2) * 0.1 * Passes(50) / 5e-3;
        foreach (var boards in new[] { new BoardTarget(null, true), new BoardTarget(0.95, false) })
            Assert.Equal(left, On(new(0.1, 50, 0, null), boards) - On(null, boards), 1e-2);
    }
}
