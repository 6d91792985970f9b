using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Respond;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Tests.Studies;

/// <summary>Several pins on one converter: a sampling capacitor carries the voltage of one to the next.</summary>
public class ScanTests
{
    private const double Sampled = 8e-12, SwitchOhms = 1e3, Seconds = 2e-6;

    private static Pin Pin(string name, string node) => new(name, node)
    {
        HasClamps = false,
        Farads = 0,
        Converter = new(12, new(new(null, 0), new("VDD", 0))),
        Sampling = new(Sampled, SwitchOhms, Seconds),
        Wanted = new(name, new Span(0.5, 2.5), new Span(0.5, 2.5)),
    };

    /// <summary>Two pins, each driven by its own sensor of 0.5 V to 2.5 V, the second with a capacitor if any.</summary>
    private static FrontEnd TwoPins(double firstOhms, double secondOhms, double farads = 0) => new()
    {
        Title = "Two pins",
        Rails = [new Rail("VDD", 3.3)],
        Sensors = [new Sensor("first", "A", new Span(0.5, 2.5), firstOhms), new Sensor("second", "B", new Span(0.5, 2.5), secondOhms)],
        Parts = farads > 0 ? [new CapacitorPart("C", "B", "GND", farads)] : [],
        Pins = [Pin("first", "A"), Pin("second", "B")],
        Scans = [new Scan("turns", ["first", "second"])],
    };

    private static SamplingResult[] Samples(FrontEnd frontEnd, double volts) =>
        [.. SamplingStudy.OverRange(new(frontEnd), frontEnd.FindPin("second"), "second", volts, TestContext.Current.CancellationToken)];

    [Fact]
    public void What_the_pin_before_left_decays_through_source_and_switch_in_both_directions()
    {
        // One pole: the difference between the two pins times exp(−t/((R + Rs)·C)) (any text on circuits).
        var frontEnd = TwoPins(100, 50e3);
        foreach (var (own, others) in new[] { (0.5, new[] { 0.5, 2.5 }), (2.5, [0.5, 2.5]) })
        {
            var samples = Samples(frontEnd, own);
            Assert.Equal(others, samples.Select(s => Math.Round(s.StartVolts, 6)));
            Assert.All(samples, s => Assert.Equal("first", s.Before));
            foreach (var s in samples)
                Assert.Equal((s.StartVolts - own) * Math.Exp(-Seconds / (51e3 * Sampled)), s.ErrorVolts, 2e-5);
        }
        Assert.Equal("second", frontEnd.Scans[0].Before("first"));
    }

    [Fact]
    public void A_dummy_reading_takes_the_error_down_by_the_same_factor_again()
    {
        var frontEnd = TwoPins(100, 50e3);
        var twice = frontEnd with { Scans = [frontEnd.Scans[0] with { Discarded = 1 }] };
        double factor = Math.Exp(-Seconds / (51e3 * Sampled));
        Assert.Equal(2 * factor * factor, Samples(twice, 0.5)[1].ErrorVolts, 0.01 * 2 * factor * factor);
    }

    [Theory]
    [InlineData(100e3, 1e-9, 20e-6)]  // the pin's time constant is two and a half turns of the scan
    [InlineData(10e3, 1e-9, 20e-6)]   // a quarter of one
    [InlineData(1e6, 10e-9, 100e-6)]  // fifty: what is taken time after time adds up to far more than one sample takes
    public void At_a_rate_the_scan_drags_a_pin_with_a_capacitor_until_as_much_flows_in_as_is_taken(double ohms, double farads, double every)
    {
        // Charge balance of one turn: the two capacitors share, both recover during the sample, the pin's own until the next turn; the
        // fixed point is where a turn changes nothing.
        var frontEnd = TwoPins(100, ohms, farads);
        frontEnd = frontEnd with
        {
            Scans = [frontEnd.Scans[0] with { EverySeconds = every }],
            Pins = [frontEnd.Pins[0], frontEnd.Pins[1] with { Sampling = new(Sampled, 1, Seconds) }],
        };
        double d = 2, both = farads + Sampled, during = Math.Exp(-Seconds / (ohms * both)),
            after = Math.Exp(-(2 * every - Seconds) / (ohms * farads));
        double pin = Sampled * d * during * after / (both - farads * during * after), held = (farads * pin + Sampled * d) / both * during;
        Assert.Equal(held, Samples(frontEnd, 0.5)[1].ErrorVolts, 0.01 * held);
    }

    [Fact]
    public void The_largest_source_resistance_and_the_acquisition_time_are_each_other_s_inverse()
    {
        // t = (R + Rs)·C·ln(ΔV/½ count), AN of every maker of converters.
        var frontEnd = TwoPins(100, 50e3);
        var cancel = TestContext.Current.CancellationToken;
        var solved = new SolvedFrontEnd(frontEnd);
        var samples = SamplingStudy.OverRange(solved, frontEnd.Pins[1], "second", 0.5, cancel);
        double logarithm = Math.Log(2 / (3.3 / 8192)), expected = Seconds / (Sampled * logarithm) - SwitchOhms;
        var limits = SourceStudy.Run(solved, frontEnd.Pins[1], samples, sourceOhms: 22e3, cancel: cancel);
        Assert.Equal(50e3, limits.PinOhms, 1);
        Assert.Equal(expected, limits.LargestOhms, 5e-3 * expected);
        Assert.Equal(23e3 * Sampled * logarithm, limits.NeededSeconds!.Value, 5e-3 * 23e3 * Sampled * logarithm);
        double back = SourceStudy.Run(solved, frontEnd.Pins[1], samples, limits.NeededSeconds, cancel: cancel).LargestOhms;
        Assert.Equal(22e3, back, 0.01 * 22e3);
        // A switch that is too slow by itself is helped by no source.
        Assert.Equal(0, SourceStudy.Run(solved, frontEnd.Pins[1], samples, 10e-9, cancel: cancel).LargestOhms);
    }

    [Fact]
    public void Check_judges_the_order_of_the_scan_and_tries_dummy_readings_time_and_a_capacitor_as_mends()
    {
        var cancel = TestContext.Current.CancellationToken;
        var judged = new SolvedFrontEnd(TwoPins(100, 100e3)).Mended(cancel: cancel);
        var settles = judged.Implied.Single(r => r.Requirement is SampleSettles { Pin: "second" });
        Assert.Equal(Verdict.NotMet, settles.Verdict);
        Assert.Equal([MendKind.DummyReading, MendKind.LongerAcquisition, MendKind.PinCapacitor], settles.Mends.Select(m => m.Kind));
        Assert.All(settles.Mends, m => Assert.True(m.Margin!.Value.Value > 0));
        Assert.Equal(Verdict.Met, judged.Implied.Single(r => r.Requirement is SampleSettles { Pin: "first" }).Verdict);
        // At a rate of a sample every 4 µs a capacitor only spreads the error: it is not told as a mend.
        var quick = TwoPins(100, 100e3);
        quick = quick with { Scans = [quick.Scans[0] with { EverySeconds = 4e-6 }] };
        var dragged = new SolvedFrontEnd(quick).Mended(cancel: cancel)
            .Implied.Single(r => r.Requirement is SampleSettles { Pin: "second" });
        Assert.DoesNotContain(dragged.Mends, m => m.Kind == MendKind.PinCapacitor);
    }

    [Fact]
    public void A_switched_input_divides_with_its_source_as_one_over_f_and_C()
    {
        // 2 pF at 250 kHz are 2 Mohm: behind 10 kohm the reading is 0.5 % low (Kester, Data Conversion Handbook, from memory).
        var frontEnd = TwoPins(100, 10e3);
        frontEnd = frontEnd with { Pins = [frontEnd.Pins[0], frontEnd.Pins[1] with { Load = InputLoad.Switched(2e-12, 250e3, "GND") }] };
        double volts = new SolvedFrontEnd(frontEnd).Rest(SpanPlace.High, TestContext.Current.CancellationToken).Nodes["B"];
        Assert.Equal(2.5 * 2e6 / 2.01e6, volts, 1e-6);
    }
}
