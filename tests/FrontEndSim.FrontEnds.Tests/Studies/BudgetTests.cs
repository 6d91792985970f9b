namespace FrontEndSim.FrontEnds.Tests.Studies;

public class BudgetTests
{
    private const double Tolerance = 0.01;

    /// <summary>0 V to 9.9 V through a third onto a 12-bit converter of 3.3 V; parts without temperature coefficient where not said.</summary>
    private static FrontEnd Divider(double railTolerance = 0) => new()
    {
        Title = "Divider",
        Rails = [new Rail("VDD", new Toleranced(3.3, railTolerance))],
        Sensors = [new Sensor("source", "IN", new Span(0, 9.9), 0)],
        Parts =
        [
            new ResistorPart("R1", "IN", "PIN", new Toleranced(20e3, Tolerance)),
            new ResistorPart("R2", "PIN", "GND", new Toleranced(10e3, Tolerance)),
        ],
        Pins = [new Pin("adc", "PIN") { HasClamps = false, Farads = 5e-12, Converter = new Converter(12, new LevelSpan(new Level(null, 0), new Level("VDD", 0))) }],
    };

    private static readonly BudgetSettings Quick = new() { Celsius = [25, 85], MonteCarlo = new MonteCarloSettings { BatchDraws = 2000, MostBatches = 3 } };

    private static BudgetPoint Point(BudgetResult budget, double celsius, string place, bool calibrated) =>
        budget.Points.Single(p => p.Celsius == celsius && p.Place == place && p.IsCalibrated == calibrated);

    private static double Effect(BudgetPoint point, string source) => point.Linear.Contributions.Single(c => c.Input.Name == source).Effect;

    [Fact]
    public void A_dividers_resistor_contributes_gain_times_one_less_gain_times_tolerance()
    {
        var full = Point(BudgetStudy.Run(Divider(), "adc", Quick), 25, "full", false);
        // g = R2/(R1 + R2): dg/g = ±(1 − g)·dR/R; a tolerance of ±t is rectangular, u = t/√3 (JCGM 100:2008, 4.3.7).
        double expected = 4096 * (1 - 1.0 / 3) * Tolerance / Math.Sqrt(3);
        Assert.Equal(-expected, Effect(full, "R1 tolerance"), 1e-3 * expected);
        Assert.Equal(expected, Effect(full, "R2 tolerance"), 1e-3 * expected);
        Assert.Equal(1 / Math.Sqrt(12), Effect(full, "adc quantisation"), 1e-9);
        Assert.Equal(0, full.Linear.Estimate, 1e-6);
    }

    [Fact]
    public void The_worst_case_of_a_divider_is_its_resistors_at_opposite_limits_and_half_a_count()
    {
        var full = Point(BudgetStudy.Run(Divider(), "adc", Quick), 25, "full", false);
        double high = 1.01 * 10 / (1.01 * 10 + 0.99 * 20), low = 0.99 * 10 / (0.99 * 10 + 1.01 * 20);
        // Half a count, and three times the thermal noise of any resistance across the pin's 5 pF: √(kT/C).
        double rest = 0.5 + 3 * Math.Sqrt(1.380649e-23 * 298.15 / 5e-12) / (3.3 / 4096);
        Assert.Equal(4096 * (3 * high - 1) + rest, full.Worst.High, 0.01);
        Assert.Equal(4096 * (3 * low - 1) - rest, full.Worst.Low, 0.01);
        Assert.True(full.Worst.IsExact);
        Assert.InRange(full.Drawn.Interval.High, 0, full.Worst.High);
        Assert.InRange(full.Drawn.Interval.Low, full.Worst.Low, 0);
    }

    [Fact]
    public void A_two_point_calibration_takes_all_tolerances_of_a_divider_out()
    {
        var budget = BudgetStudy.Run(Divider(0.02), "adc", Quick);
        var full = Point(budget, 25, "full", true);
        foreach (string source in (string[])["R1 tolerance", "R2 tolerance", "VDD tolerance"])
            Assert.Equal(0, Effect(full, source), 1e-6);
        // What is left at full scale by readings at 10 % and 90 %: the line through them is off by 9/8 of the upper's error and 1/8 of the lower's.
        double step = 1 / Math.Sqrt(12);
        Assert.Equal(9.0 / 8 * step, Math.Abs(Effect(full, "upper calibration reading, quantisation")), 1e-3);
        Assert.Equal(1.0 / 8 * step, Math.Abs(Effect(full, "lower calibration reading, quantisation")), 1e-3);
    }

    [Fact]
    public void What_drifts_after_the_calibration_stays()
    {
        var budget = BudgetStudy.Run(Divider(), "adc", Quick);
        var full = Point(budget, 85, "full", true);
        // 100 ppm/K over 60 K, as for a tolerance of 0.6 %.
        double expected = 4096 * (1 - 1.0 / 3) * 0.006 / Math.Sqrt(3);
        Assert.Equal(expected, Math.Abs(Effect(full, "R1 tempco")), 2e-2 * expected);
        Assert.Equal(0, Effect(Point(budget, 25, "full", true), "R1 tempco"));
        // 50 ppm/K over 60 K of the reference.
        Assert.Equal(4096 * 0.003 / Math.Sqrt(3), Math.Abs(Effect(full, "VDD drift")), 0.1);
    }

    [Fact]
    public void A_reference_two_percent_high_reads_two_percent_low()
    {
        var full = Point(BudgetStudy.Run(Divider(0.02), "adc", Quick), 25, "full", false);
        double expected = 4096 * 0.02 / Math.Sqrt(3);
        Assert.Equal(-expected, Effect(full, "VDD tolerance"), 1e-3 * expected);
        Assert.Equal(BudgetKind.Rail, full.Ranked.First().Kind);
        Assert.Equal(1, full.ByKind.Sum(k => k.Share), 1e-4);
    }

    [Fact]
    public void An_error_in_counts_is_the_same_error_in_sensor_volts_and_percent_of_span()
    {
        var budget = BudgetStudy.Run(Divider(), "adc", Quick);
        Assert.Equal(4096, budget.SpanCounts, 1e-9);
        Assert.Equal(0.01, budget.OfSpan(40.96), 1e-12);
        Assert.Equal(0.099, budget.SensorVolts(40.96), 1e-12);
    }

    [Fact]
    public void The_same_seed_gives_the_same_budget()
    {
        var first = BudgetStudy.Run(Divider(), "adc", Quick).Points.Select(p => p.Drawn).ToArray();
        Assert.Equal(first, BudgetStudy.Run(Divider(), "adc", Quick).Points.Select(p => p.Drawn));
    }

    [Fact]
    public void A_calibration_at_one_place_is_refused()
    {
        var problem = Assert.Throws<StudyProblemException>(() => BudgetStudy.Run(Divider(), "adc", Quick with { Calibration = (0.5, 0.5) }));
        Assert.Contains("two places", problem.Message);
    }

    [Fact]
    public void A_pin_that_does_not_follow_its_sensor_has_no_budget()
    {
        var front = Divider() with { Parts = [new ResistorPart("R1", "IN", "PIN", 10e3), new ResistorPart("R2", "PIN", "GND", 1)] };
        var problem = Assert.Throws<StudyProblemException>(() => BudgetStudy.Run(front, "adc", Quick));
        Assert.Contains("hardly follows", problem.Message);
    }

    [Fact]
    public void A_pin_that_rises_by_three_quarters_of_what_is_wanted_is_warned_of()
    {
        // 10k/(30k + 10k) instead of a third.
        var front = Divider() with { Parts = [new ResistorPart("R1", "IN", "PIN", 30e3), new ResistorPart("R2", "PIN", "GND", 10e3)] };
        Assert.Contains("75 %", Assert.Single(BudgetStudy.Run(front, "adc", Quick).Warnings));
        Assert.Empty(BudgetStudy.Run(Divider(), "adc", Quick).Warnings);
    }
}
