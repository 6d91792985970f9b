using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies;
using FrontEndSim.FrontEnds.Studies.Budget;
using FrontEndSim.FrontEnds.Uncertainty;

namespace FrontEndSim.FrontEnds.Tests.Studies;

public class BudgetTests
{
    private const double Tolerance = 0.01;

    /// <summary>0 V to 9.9 V through a third onto a 12-bit converter of 3.3 V; parts without temperature coefficient where not
    /// said.</summary>
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
        Pins = [new Pin("adc", "PIN") { HasClamps = false, Farads = 5e-12,
            Converter = new Converter(12, new LevelSpan(new Level(null, 0), new Level("VDD", 0))) }],
    };

    /// <summary>The same with as much room above the span as it takes: a code that is at its end no calibration puts right.</summary>
    private static FrontEnd WithRoom(FrontEnd divider) => divider with
    {
        Rails = [divider.Rails[0] with { Volts = divider.Rails[0].Volts with { Value = 6.6 } }],
        Pins =
        [
            divider.Pins[0] with
            {
                Converter = divider.Pins[0].Converter! with { Bits = 13 },
                Wanted = new WantedMapping("source", new Span(0, 9.9), new Span(0, 3.3)),
            },
        ],
    };

    private static readonly BudgetSettings Quick = new()
    { Celsius = [25, 85], MonteCarlo = new MonteCarloSettings { BatchDraws = 2000, MostBatches = 3 } };

    private static BudgetPoint Point(BudgetResult budget, double celsius, string place, bool calibrated) =>
        budget.Points.Single(p => p.Celsius == celsius && p.Place == place && p.IsCalibrated == calibrated);

    private static double Effect(BudgetPoint point, string source, CalibrationReading? reading = null) =>
        point.Linear.Contributions.Single(c => c.Input.Name == source && (c.Input as ErrorQuantity)?.Reading == reading).Effect;

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
        var budget = BudgetStudy.Run(WithRoom(Divider(0.02)), "adc", Quick);
        var full = Point(budget, 25, "full", true);
        foreach (string source in (string[])["R1 tolerance", "R2 tolerance", "VDD tolerance"])
            Assert.Equal(0, Effect(full, source), 1e-6);
        // What is left at full scale by readings at 10 % and 90 %: the line through them is off by 9/8 of the upper's error and 1/8 of the
        // lower's.
        double step = 1 / Math.Sqrt(12);
        Assert.Equal(9.0 / 8 * step, Math.Abs(Effect(full, "quantisation", CalibrationReading.Upper)), 1e-3);
        Assert.Equal(1.0 / 8 * step, Math.Abs(Effect(full, "quantisation", CalibrationReading.Lower)), 1e-3);
    }

    [Fact]
    public void What_a_converter_cannot_read_no_calibration_brings_back()
    {
        // The pin reaches the nominal end of the range; on a board whose reference is 2 % low the code ends there 2 % earlier, and the line
        // of the calibration, which is right below, gives back 0.98 of the span.
        var full = Point(BudgetStudy.Run(Divider(0.02), "adc", Quick), 25, "full", true);
        double divided = 3 * 1.01 * 10 / (1.01 * 10 + 0.99 * 20), expected = 4096 * (0.98 / divided - 1);
        // Beside it half a count of the reading, 9/8 and 1/8 of one of the calibration's, and their noise.
        Assert.InRange(full.Worst.Low, expected - 1.4, expected - 0.6);
    }

    [Fact]
    public void What_drifts_after_the_calibration_stays()
    {
        var budget = BudgetStudy.Run(WithRoom(Divider()), "adc", Quick);
        var full = Point(budget, 85, "full", true);
        // 100 ppm/K over 60 K, as for a tolerance of 0.6 %.
        double expected = 4096 * (1 - 1.0 / 3) * 0.006 / Math.Sqrt(3);
        Assert.Equal(expected, Math.Abs(Effect(full, "R1 tempco")), 2e-2 * expected);
        Assert.Equal(0, Effect(Point(budget, 25, "full", true), "R1 tempco"));
        // 50 ppm/K over 60 K of the reference.
        Assert.Equal(4096 * 0.003 / Math.Sqrt(3), Math.Abs(Effect(full, "VDD drift")), 0.1);
    }

    [Fact]
    public void A_given_temperature_coefficient_goes_before_the_assumed_one()
    {
        var front = Divider() with
        {
            Rails = [new Rail("VDD", new Toleranced(3.3, 0, 0))],
            Parts =
            [
                new ResistorPart("R1", "IN", "PIN", new Toleranced(20e3, Tolerance, 25e-6)),
                new ResistorPart("R2", "PIN", "GND", new Toleranced(10e3, Tolerance, 0)),
            ],
        };
        var budget = BudgetStudy.Run(WithRoom(front), "adc", Quick);
        var full = Point(budget, 85, "full", true);
        // g·(1 − g) again, now for 25 ppm/K over 60 K: 1.5 per mille.
        double expected = 4096 * (1 - 1.0 / 3) * 0.0015 / Math.Sqrt(3);
        Assert.Equal(expected, Math.Abs(Effect(full, "R1 tempco")), 1e-2 * expected);
        Assert.DoesNotContain(full.Linear.Contributions, c => c.Input.Name is "R2 tempco" or "VDD drift");
        Assert.Null(budget.Assumptions.ResistorTempCo);
        Assert.Null(budget.Assumptions.RailTempCo);
        Assert.Equal(100e-6, BudgetStudy.Run(Divider(), "adc", Quick).Assumptions.ResistorTempCo);
    }

    [Fact]
    public void A_calibration_takes_out_a_converters_offset_and_gain_and_leaves_its_linearity()
    {
        var plain = WithRoom(Divider());
        // A gain error of 12 counts at the end of the range is one of 6 at the middle, where the span ends.
        var front = plain with
        {
            Pins = [plain.Pins[0] with { Converter = plain.Pins[0].Converter! with
                { OffsetErrorCounts = 3, GainErrorCounts = 12, LinearityCounts = 2 } }],
        };
        var budget = BudgetStudy.Run(front, "adc", Quick);
        BudgetPoint zero = Point(budget, 25, "zero", false), full = Point(budget, 25, "full", false),
            calibrated = Point(budget, 25, "full", true);
        Assert.Equal(3 / Math.Sqrt(3), Effect(zero, "adc offset error"), 1e-9);
        Assert.Equal(0, Effect(zero, "adc gain error"), 1e-9);
        Assert.Equal(6 / Math.Sqrt(3), Effect(full, "adc gain error"), 1e-6);
        Assert.Equal(2 / Math.Sqrt(3), Effect(full, "adc linearity"), 1e-9);
        // A line through two readings takes offset and gain out; what it leaves of three independent non-linearities, as for their steps.
        Assert.Equal(0, Effect(calibrated, "adc offset error"), 1e-6);
        Assert.Equal(0, Effect(calibrated, "adc gain error"), 1e-3);
        Assert.Equal(2 / Math.Sqrt(3), Math.Abs(Effect(calibrated, "adc linearity")), 1e-3);
        Assert.Equal(9.0 / 8 * 2 / Math.Sqrt(3), Math.Abs(Effect(calibrated, "linearity", CalibrationReading.Upper)), 2e-3);
        Assert.Equal(1.0 / 8 * 2 / Math.Sqrt(3), Math.Abs(Effect(calibrated, "linearity", CalibrationReading.Lower)), 2e-3);
        Assert.True(full.Drawn.StandardUncertainty > Point(BudgetStudy.Run(plain, "adc", Quick), 25, "full", false)
            .Drawn.StandardUncertainty);
    }

    [Fact]
    public void A_calibration_at_the_place_itself_leaves_no_linearity()
    {
        var plain = Divider();
        var front = plain with { Pins = [plain.Pins[0] with { Converter = plain.Pins[0].Converter! with { LinearityCounts = 2 } }] };
        var full = Point(BudgetStudy.Run(front, "adc", Quick with { Calibration = new(0, 1) }), 25, "full", true);
        Assert.Equal(0, Effect(full, "adc linearity"), 1e-9);
        Assert.Equal(0, Effect(full, "linearity", CalibrationReading.Upper), 1e-9);
    }

    [Fact]
    public void The_noise_of_a_non_inverting_amplifier_is_that_of_the_handbook()
    {
        const double en = 18e-9, inoise = 2e-12, source = 20e3, feedback = 90e3, foot = 10e3, bandwidth = 1e6, kelvin = 298.15,
            boltzmann = 1.380649e-23;
        var type = PartCatalogue.Standard.FindOpAmp("jfet-input")! with { Name = "noisy" };
        type = type with
        {
            // The handbook's form knows no capacitance of the inputs.
            InputFarads = 0,
            BetweenFarads = 0,
            Model = type.Model with
            {
                NoiseVolts = en,
                NoiseAmps = inoise,
                GainBandwidthHertz = bandwidth,
                InputOhms = 1e12,
                OutputOhms = 1
            }
        };
        var front = new FrontEnd
        {
            Title = "Amplifier",
            Rails = [new Rail("VP", 12), new Rail("VN", -12), new Rail("VDD", 3.3)],
            Sensors = [new Sensor("source", "IN", new Span(0, 0.3), 0)],
            Parts =
            [
                new ResistorPart("Rs", "IN", "PLUS", source), new ResistorPart("Rf", "OUT", "MINUS", feedback),
                new ResistorPart("Rg", "MINUS", "GND", foot), new OpAmpPart("U1", "PLUS", "MINUS", "OUT", "VP", "VN", type),
            ],
            Pins = [new Pin("adc", "OUT") { HasClamps = false, Farads = 0,
                Converter = new Converter(12, new LevelSpan(new Level(null, 0), new Level("VDD", 0))) }],
        };
        // A handbook form (op amp noise chapters, from memory): every source times its gain to the output, as squares, over π/2 times the
        // corner.
        double gain = 1 + feedback / foot, thermal = 4 * boltzmann * kelvin;
        double density = Math.Pow(gain * en, 2) + Math.Pow(gain * inoise * source, 2) + Math.Pow(inoise * feedback, 2)
            + thermal * source * gain * gain + thermal * foot * Math.Pow(feedback / foot, 2) + thermal * feedback;
        double expected = Math.Sqrt(density * Math.PI / 2 * bandwidth / gain) / (3.3 / 4096);
        Assert.Equal(expected, Effect(Point(BudgetStudy.Run(front, "adc", Quick), 25, "zero", false), "adc noise"), 5e-3 * expected);
    }

    [Fact]
    public void A_bias_current_in_a_budget_over_temperatures_doubles_once_every_ten_kelvin()
    {
        var front = new FrontEnd
        {
            Title = "Follower behind a megohm",
            Rails = [new Rail("VP", 9), new Rail("VN", -9), new Rail("VDD", 3.3)],
            Sensors = [new Sensor("source", "IN", new Span(0, 3), 0)],
            Parts = [new ResistorPart("R1", "IN", "A", 1e6),
                new OpAmpPart("U1", "A", "OUT", "OUT", "VP", "VN", PartCatalogue.Standard.FindOpAmp("jfet-input")!)],
            Pins =
            [
                new Pin("adc", "OUT")
                {
                    HasClamps = false, Farads = 0, Converter = new Converter(12, new LevelSpan(new Level(null, 0), new Level("VDD", 0))),
                },
            ],
        };
        var hot = Point(BudgetStudy.Run(front, "adc", Quick), 85, "zero", false);
        // 30 pA and six doublings are 1.92 nA, on a megohm; at most 20 nA (sheets of the class): a factor of 10.4, of which the budget
        // takes the logarithm.
        const double count = 3.3 / 4096, typical = 30e-12 * 64 * 1e6, most = 20e-9 * 1e6;
        Assert.InRange(-hot.Linear.Estimate * count, typical * 0.98, typical * 1.02);
        Assert.InRange(-hot.Worst.Low * count, most, most + 20e-3); // offset and its drift beside it
    }

    [Theory]
    [InlineData(0.02, 0.02, false)]
    [InlineData(0, 0.05, true)]
    public void A_zener_strays_by_the_tolerance_of_its_sheet(double tolerance, double taken, bool isAssumed)
    {
        var type = PartCatalogue.Standard.FindDiode("3V6", DiodeKind.Zener)!;
        type = type with { Sheet = type.Sheet! with { Tolerance = tolerance } };
        var plain = Divider();
        var front = plain with { Parts = [.. plain.Parts, new DiodePart("Z1", "GND", "PIN", type)] };
        var budget = BudgetStudy.Run(front, "adc", Quick);
        Assert.Equal(new ZenerTolerance("3V6", taken, isAssumed), Assert.Single(budget.Assumptions.Zeners));
        var input = Point(budget, 25, "full", false).Linear.Contributions.Single(c => c.Input.Name == "Z1 zener voltage");
        Assert.Equal(tolerance > 0 ? tolerance : 0.05, input.Input.Distribution.High, 1e-12);
        // A zener of 3.6 V conducts microamperes below 3.3 V: one that is lower bends the top of the range more.
        Assert.True(input.Effect > 1);
    }

    [Fact]
    public void A_reference_two_percent_high_reads_two_percent_low()
    {
        var full = Point(BudgetStudy.Run(Divider(0.02), "adc", Quick), 25, "full", false);
        double expected = 4096 * 0.02 / Math.Sqrt(3);
        Assert.Equal(-expected, Effect(full, "VDD tolerance"), 1e-3 * expected);
        Assert.Equal(ErrorKind.Rail, full.Ranked.First().Kind);
        Assert.Equal(1, full.ByKind.Sum(k => k.Share), 1e-4);
    }

    [Fact]
    public void An_error_in_counts_is_the_same_error_in_sensor_volts_and_percent_of_span()
    {
        var budget = BudgetStudy.Run(Divider(), "adc", Quick);
        Assert.Equal(4096, budget.SpanCounts, 1e-9);
        Assert.Equal(0.01, budget.OfSpan(40.96), 1e-12);
        Assert.Equal(0.099, 40.96 * budget.Points[0].ValuePerCount!.Value, 1e-12);
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
        var problem = Assert.Throws<StudyProblemException>(() => BudgetStudy.Run(Divider(), "adc",
            Quick with { Calibration = new(0.5, 0.5) }));
        Assert.Equal(ProblemKind.CalibrationPlaces, problem.Problem.Kind);
    }

    [Fact]
    public void A_pin_that_does_not_follow_its_sensor_has_no_budget()
    {
        var front = Divider() with
        {
            Parts = [new ResistorPart("R1", "IN", "PIN", 10e3), new ResistorPart("R2", "PIN", "GND", 1)],
            Requirements = [new MappingError("adc", 4, "")],
        };
        var problem = Assert.Throws<StudyProblemException>(() => BudgetStudy.Run(front, "adc", Quick));
        Assert.Equal(ProblemKind.HardlyFollows, problem.Problem.Kind);
    }

    [Fact]
    public void A_pin_that_rises_by_three_quarters_of_what_is_wanted_is_warned_of()
    {
        // 10k/(30k + 10k) instead of a third.
        var asked = Divider() with { Requirements = [new MappingError("adc", 4, "")] };
        var front = asked with { Parts = [new ResistorPart("R1", "IN", "PIN", 30e3), new ResistorPart("R2", "PIN", "GND", 10e3)] };
        var bent = BudgetStudy.Run(front, "adc", Quick);
        Assert.True(bent.IsBent);
        // Where nobody asks for the whole range, what nominal parts give is what is wanted.
        Assert.False(BudgetStudy.Run(front with { Requirements = [] }, "adc", Quick).IsBent);
        Assert.Equal(0.75, bent.CalibrationRise, 0.005);
        Assert.False(BudgetStudy.Run(asked, "adc", Quick).IsBent);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(1 - 1e-13)]
    [InlineData(1 + 1e-13)]
    public void A_source_that_stands_at_its_limit_stays_there_in_the_worst_case_whatever_rounding_says(double atItsLimit)
    {
        // A pin leaks its limit as it stands; the other limit is the other way.
        var divider = Divider();
        var sources = new ErrorSources(divider with { Pins = [divider.Pins[0] with { LeakageAmps = 100e-9 }] });
        int leakage = Enumerable.Range(0, sources.All.Length).Single(k => sources.All[k].Kind == ErrorKind.Leakage);
        double Result(int draw) => draw == 1 + 2 * leakage ? -1 : draw == 2 + 2 * leakage ? atItsLimit : 1;
        Assert.Equal(1, sources.Corner(true, Result)[leakage]);
        Assert.Equal(-1, sources.Corner(false, Result)[leakage]);
    }
}
