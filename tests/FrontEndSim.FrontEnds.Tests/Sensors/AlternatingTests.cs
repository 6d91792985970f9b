using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies;
using FrontEndSim.FrontEnds.Studies.Budget;
using FrontEndSim.FrontEnds.Studies.Compare;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Tests.Sensors;

/// <summary>What firmware makes of a sine that it samples, against closed forms.</summary>
public class AlternatingTests
{
    private const double Codes = 1 << 24, Ohms = 1000, Farads = 3.3e-6;

    // A current of up to 10 A rms, 100 mV rms for an ampere, about 2.5 V, through a resistor and a capacitor onto a converter of 0 V .. 5 V.
    private static FrontEnd Board(Amplitude taken, int samples = 20, int periods = 1, double tolerance = 0, double voltsForAmpere = 0.1, double capacitorTolerance = 0,
        double railTolerance = 0, double ownError = 0)
    {
        var wave = new Alternation(50, tolerance, Amplitude.Rms, new Span(0, 10));
        var span = wave.Instants;
        return new()
        {
            Rails = [new("VDD", new(5, railTolerance, 0)), new("VMID", new(2.5, 0, 0)) { Sinks = true }],
            Sensors =
            [
                new("mains", "IN", span, 0)
                {
                    Other = "VMID", Quantity = "current", UnitText = "A", Alternation = wave,
                    Law = new StraightLaw(span, voltsForAmpere * span.Low, voltsForAmpere * span.High, Unit.Volts) { OffsetError = ownError * Math.Sqrt(2) },
                },
            ],
            Parts =
            [
                new ResistorPart("R1", "IN", "PIN", new(Ohms, 0, 0)), new CapacitorPart("C1", "PIN", "GND", new(Farads, capacitorTolerance, 0)) { LeakageOhms = 1e15 },
            ],
            Pins = [new("adc", "PIN") { HasClamps = false, Farads = 0, Converter = new(24, new(new(null, 0), new("VDD", 0))) }],
            AlternatingReadings = [new("amps", "mains", "adc", taken, samples, periods)],
        };
    }

    private static ReadingSpread Spread(FrontEnd frontEnd, Span? over = null) =>
        AlternatingStudy.Spread(new SolvedFrontEnd(frontEnd), frontEnd.AlternatingReadings[0], over);

    // A first-order low-pass at 50 Hz.
    private static double Passes(double farads) => 1 / Math.Sqrt(1 + Math.Pow(2 * Math.PI * 50 * Ohms * farads, 2));

    [Theory]
    [InlineData(1.0, 1.0, "")]
    [InlineData(1.0, 1.2, "C1")]
    [InlineData(1.0, 0.7, "C1")]
    [InlineData(1.25, 1.0, "R1")]
    public void Amplitudes_that_firmware_computed_are_compared_and_what_explains_them_is_found(double resistor, double capacitor, string named)
    {
        // A low-pass of 1 kohm and 3.3 uF at 50 Hz by hand; a bench whose part is off reads the ratio of two of them.
        var frontEnd = Board(Amplitude.Rms, capacitorTolerance: 0.05);
        double read = Passes(Farads * capacitor * resistor) / Passes(Farads);
        var found = CompareStudy.Run(frontEnd, "mains", [.. new[] { 2.0, 5, 10 }.Select((a, k) => new Reading(a, "PIN", a * read, null, k + 2) { Computed = "amps" })],
            cancel: TestContext.Current.CancellationToken);
        Assert.All(found.Readings, r => Assert.Equal(r.Reading.SensorValue, r.Expected, 1e-4));
        // 5 % of the capacitor alone, by hand.
        Assert.Equal(10 * Passes(0.95 * Farads) / Passes(Farads), found.Readings[2].High, 0.01);
        Assert.Equal(named == "", found.IsInside);
        if (named != "")
        {
            var best = Assert.Single(found.Explanations, e => e.Subject == named && e.Kind != ExplanationKind.Fault);
            // Of thousands of counts some are left, by the steps of the search.
            Assert.InRange(best.Left, 0, 1e-4 * found.Mismatch);
            Assert.Equal(named == "C1" ? capacitor * Farads : resistor * Ohms, best.Fitted!.Value.Value, 0.01 * best.Planned!.Value.Value);
        }
    }

    [Theory]
    [InlineData(Amplitude.Rms, 1)]
    [InlineData(Amplitude.Mean, 0.9003163161571061)] // 2·√2/π
    [InlineData(Amplitude.Peak, 1.4142135623730951)]
    public void A_sine_of_a_volt_rms_has_these_counts_behind_a_filter(Amplitude taken, double ofRms)
    {
        var frontEnd = Board(taken, samples: 1000);
        var result = AlternatingStudy.Run(new SolvedFrontEnd(frontEnd), frontEnd.AlternatingReadings[0]);
        double counts = ofRms * 0.1 * 10 / 5 * Codes * Passes(Farads);
        Assert.Equal(Passes(Farads), result.Passes!.Value, 1e-9);
        Assert.Equal(1, result.Points[^1].Counts / counts, 1e-5);
        Assert.Equal(10 / counts, result.Factor, 1e-5 * 10 / counts);
        Assert.All(result.Points, p => Assert.Equal(0, p.ReadingError, 1e-4));
    }

    [Fact]
    public void The_rms_of_three_samples_or_more_is_exact_and_the_peak_of_20_misses_up_to_a_cosine()
    {
        Assert.InRange(Spread(Board(Amplitude.Rms, samples: 3)).Largest, 0, 1e-5);
        // Half the distance from the lowest of 20 samples to the highest lies from cos(π/20) to 1 of the peak, sin(π/20)/(π/20) in the mean.
        double mean = Math.Sin(Math.PI / 20) / (Math.PI / 20), most = Math.Max(1 - mean, mean - Math.Cos(Math.PI / 20));
        Assert.Equal(10 * most / mean, Spread(Board(Amplitude.Peak)).Largest, 0.02 * 10 * most);
    }

    [Fact]
    public void A_frequency_off_by_a_percent_leaves_what_a_window_that_is_not_whole_leaves()
    {
        // n samples at 1 kHz of A·sin(ωt): the mean square is A²/2·(1 ± D(2f)), less the mean's square, at most (A·D(f))², in which
        // D(f) = |sin(πfn/fs)/(n·sin(πf/fs))| is the kernel of a moving average (Oppenheim and Schafer, Discrete-Time Signal Processing).
        const int n = 200;
        static double Kernel(double hertz) => Math.Abs(Math.Sin(Math.PI * hertz * n / 1000) / (n * Math.Sin(Math.PI * hertz / 1000)));
        double filter = Math.Abs(Passes(Farads * 1.01) / Passes(Farads) - 1);
        double least = Kernel(2 * 50.5) / 2, most = least + Kernel(50.5) * Kernel(50.5) + filter;
        Assert.InRange(Spread(Board(Amplitude.Rms, periods: 10, tolerance: 0.01)).Largest / 10, least, 1.02 * most);
    }

    [Fact]
    public void What_a_capacitor_s_tolerance_does_to_the_sine_and_a_rail_to_the_counts_adds_up()
    {
        double high = Math.Abs(Passes(Farads * 1.1) / Passes(Farads) - 1), low = Math.Abs(Passes(Farads * 0.9) / Passes(Farads) - 1);
        Assert.Equal(10 * Math.Max(high, low), Spread(Board(Amplitude.Rms, capacitorTolerance: 0.1)).Largest, 1e-4);
        // 2 % less of a reference are 1/0.98 of the counts; the middle of the wave moves and does not count.
        Assert.Equal(10 * (1 / 0.98 - 1), Spread(Board(Amplitude.Rms, railTolerance: 0.02)).Largest, 1e-3);
        // What the sensor itself may be off by is of its amplitude.
        Assert.Equal(0.3, Spread(Board(Amplitude.Rms, ownError: 0.3)).Largest, 1e-4);
    }

    [Fact]
    public void The_budget_of_an_amplitude_has_each_source_by_hand_and_its_worst_case_is_that_of_all_boards()
    {
        var frontEnd = Board(Amplitude.Rms, capacitorTolerance: 0.1, railTolerance: 0.02, ownError: 0.3);
        var budget = AlternatingBudget.Run(new SolvedFrontEnd(frontEnd), "amps", new() { Celsius = [25], Assumed = new() { RailTempCo = 0, ResistorTempCo = 0 } },
            cancel: TestContext.Current.CancellationToken);
        Assert.Equal((true, "A"), (budget.IsOfReading, budget.Unit));
        Assert.Equal([0, 5, 10], budget.Points.Select(p => p.SensorValue));
        var full = budget.Points.Single(p => p.Place == "full");
        double Effect(string source) => Math.Abs(full.Ranked.Single(r => r.Source == source).Effect);
        // A limit over √3 each (JCGM 100:2008, 4.3.7).
        double filter = 0.5 * (Passes(Farads * 0.9) - Passes(Farads * 1.1)) / Passes(Farads);
        Assert.Equal(10 * 0.02 / Math.Sqrt(3), Effect("VDD tolerance"), 1e-3);
        Assert.Equal(10 * filter / Math.Sqrt(3), Effect("C1 attenuation"), 1e-3);
        Assert.Equal(0.3 / Math.Sqrt(3), Effect("mains own error"), 1e-4);
        Assert.Equal(Math.Sqrt(Math.Pow(Effect("VDD tolerance"), 2) + Math.Pow(Effect("C1 attenuation"), 2) + Math.Pow(Effect("mains own error"), 2)),
            full.Linear.StandardUncertainty, 1e-3);
        double bound = Spread(frontEnd).Largest;
        Assert.Equal(bound, Math.Max(-full.Worst.Low, full.Worst.High), 0.02 * bound);
        Assert.InRange(full.Drawn.Interval.High, 0.5 * bound, bound);
    }

    [Fact]
    public void A_wave_that_the_converter_cuts_off_reads_too_little()
    {
        // 0.3 V for an ampere: 4.24 V of peak about 2.5 V of 5 V. A sine of which only what lies within ±q of its peak is left has the mean
        // square (2·α − sin 2α)/(2π) + q²·(1 − 2·α/π) of its peak's square, with α = arcsin q.
        double passes = Passes(Farads), peak = 3 * Math.Sqrt(2) * passes, q = 2.5 / peak, a = Math.Asin(q);
        double left = peak * Math.Sqrt((2 * a - Math.Sin(2 * a)) / (2 * Math.PI) + q * q * (1 - 2 * a / Math.PI));
        var frontEnd = Board(Amplitude.Rms, samples: 1000, voltsForAmpere: 0.3);
        var result = AlternatingStudy.Run(new SolvedFrontEnd(frontEnd), frontEnd.AlternatingReadings[0]);
        Assert.Equal(left / 5 * Codes, result.Points[^1].Counts, 1e-3 * Codes);
        Assert.Equal((0, Codes - 1), (result.Points[^1].LowestCode, result.Points[^1].HighestCode));
        // Firmware is made for the end of the span, so that what is not cut off is read too large: 8 A is the last of the places that is not.
        double factor = peak / Math.Sqrt(2) / left;
        Assert.InRange(Spread(frontEnd).Largest, 8 * (factor - 1), 10 * (factor - 1));
    }

    [Fact]
    public void A_pin_that_does_not_follow_the_wave_tells_no_amplitude()
    {
        var frontEnd = Board(Amplitude.Rms) with { Parts = [new ResistorPart("R1", "IN", "GND", 1000), new ResistorPart("R2", "PIN", "GND", 1000)] };
        Assert.Throws<StudyProblemException>(() => Spread(frontEnd));
    }
}
