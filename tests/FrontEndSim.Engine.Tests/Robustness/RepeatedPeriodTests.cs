using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.Engine.Tests.Robustness;

/// <summary>Sources that repeat: once a period ends where it began, the rest of them are not solved, and nothing that is read shows it.</summary>
public class RepeatedPeriodTests(ITestOutputHelper output)
{
    // A crest is drawn to within thirty accuracies between steps, which lie elsewhere in each period: with steps this short it is nothing.
    private static readonly SolverSettings Repeating = new() { LongestStep = 2e-6 };
    private static readonly SolverSettings EveryPeriod = Repeating with { SolvesEveryPeriod = true };

    private static Waveform Waves(string name) => name switch
    {
        "strikes" => new Repeated(new Pulse(0, 200, 0, 5e-9, 150e-9, 100e-9), 1e-4, 1e-4, 100),
        "bursts" => new Repeated(new Pulse(0, -80, 0, 10e-9, 1e-6, 10e-9), 1e-4, 2e-5, 40, 2e-3, 3),
        "square" => new Pulse(-5, 12, 2e-4, 1e-6, 3e-5, 1e-6, 1e-4),
        "sine" => new Sine(1, 10, 20e3, 1e-4),
        _ => throw new ArgumentException(name),
    };

    private static Element[] Parts(string name, Waveform wave) => name switch
    {
        "filter" => [new VoltageSource("S", "IN", "GND", wave), new Resistor("R", "IN", "OUT", 1e3), new Capacitor("C", "OUT", "GND", 2e-8)],
        "clamp" =>
        [
            new VoltageSource("S", "IN", "GND", wave), new Resistor("R", "IN", "OUT", 470), new Diode("D", "GND", "OUT", Junctions.Silicon),
            new Diode("DH", "OUT", "VDD", Junctions.Silicon), new VoltageSource("VDD", "VDD", "GND", 3.3) { SeriesOhms = 1 },
            new Capacitor("C", "OUT", "GND", 1e-9), new Capacitor("CV", "VDD", "GND", 1e-6),
        ],
        // A slow way into the steady state: a rectifier that fills a capacitor.
        "slow" =>
        [
            new VoltageSource("S", "IN", "GND", wave), new Resistor("RS", "IN", "A", 1e3), new Diode("D", "A", "OUT", Junctions.Silicon),
            new Capacitor("C", "OUT", "GND", 3e-6), new Resistor("R", "OUT", "GND", 1e5),
        ],
        "coil" =>
        [
            new VoltageSource("S", "IN", "GND", wave), new Capacitor("CB", "IN", "A", 1e-8), new Resistor("RB", "A", "OUT", 50),
            new Inductor("L", "OUT", "GND", 1e-4) { SeriesOhms = 5 }, new Resistor("R", "OUT", "GND", 1e4),
            new Capacitor("C", "OUT", "GND", 1e-10),
        ],
        _ => throw new ArgumentException(name),
    };

    public static TheoryData<string, string> Cases() =>
        [("filter", "square"), ("filter", "sine"), ("clamp", "strikes"), ("clamp", "sine"), ("coil", "bursts"), ("coil", "sine")];

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(4)]
    [InlineData(30)]
    public void A_run_that_ends_some_roundings_after_a_corner_ends_there(int roundings)
    {
        // The 26th pulse of 50 V ends at 0.253002 s, where times are told apart to 6e-17 s.
        var wave = new Pulse(0, 50, 1e-3, 1e-6, 2e-3, 1e-6, 10e-3);
        double until = wave.NextCorner(0.2530015);
        for (int k = 0; k < roundings; k++)
            until = Math.BitIncrement(until);
        var run = new Circuit([new VoltageSource("S", "IN", "GND", wave), new Resistor("R1", "IN", "OUT", 100e3),
            new Resistor("R2", "OUT", "GND", 4.7e3), new Diode("D", "OUT", "VDD", Junctions.Silicon),
            new VoltageSource("VDD", "VDD", "GND", 3.3), new Capacitor("C", "OUT", "GND", 5e-12)]).Compile().RunTransient(until);
        Assert.Equal(50 * 4.7 / 104.7, run.Voltage("OUT").Maximum().Value, 1e-3);
        Assert.Equal(until, run.Voltage("OUT").End, 1e-12);
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void Periods_that_are_passed_over_change_nothing_that_is_read(string parts, string wave)
    {
        const double until = 4.13e-3;
        var repeated = new Circuit(Parts(parts, Waves(wave))).Compile(Repeating).RunTransient(until);
        var whole = new Circuit(Parts(parts, Waves(wave))).Compile(EveryPeriod).RunTransient(until);
        output.WriteLine($"{parts}, {wave}: {repeated.Audit.StepsTaken} steps for {whole.Audit.StepsTaken}, "
            + $"{repeated.Audit.PeriodsRepeated} periods, {repeated.Audit.EnergyImbalance} for {whole.Audit.EnergyImbalance}");
        Assert.Equal(0, whole.Audit.PeriodsRepeated);
        Assert.True(repeated.Audit.IsWithinLimits, $"{repeated.Audit}");
        Assert.True(whole.Audit.StepsTaken > 2 * repeated.Audit.StepsTaken);
        Same("OUT", repeated.Voltage("OUT"), whole.Voltage("OUT"), 1e-3);
        // What flows into a capacitance is a slope: its crest hangs on where the steps lie.
        foreach (var element in Parts(parts, 0).Where(e => e is Resistor or Diode or Inductor))
        {
            Same(element.Name, repeated.Power(element.Name), whole.Power(element.Name), 2e-3);
            Same(element.Name, repeated.Current(element.Name), whole.Current(element.Name), 1e-3);
        }
    }

    private void Same(string of, Trace one, Trace other, double share)
    {
        double high = other.Maximum().Value, low = other.Minimum().Value, size = Math.Max(Math.Abs(high), Math.Abs(low));
        double gross = other.GrossIntegral(), worst = 0;
        Near(high, one.Maximum().Value, size, "maximum");
        Near(low, one.Minimum().Value, size, "minimum");
        Near(other.Integral(), one.Integral(), gross, "integral");
        foreach (double lag in new[] { 1e-4, 3e-3 })
            Near(other.LargestLagged(lag), one.LargestLagged(lag), Math.Min(size, gross / lag), $"lag of {lag} s");
        Near(other.IntegralAbove(0.3 * high), one.IntegralAbove(0.3 * high), gross, "integral above a level");
        RunningIntegral running = one.Running(), before = other.Running();
        foreach (double window in new[] { 1e-7, 3e-5, 7.7e-4, 1e-2 })
            Near(before.Largest(window), running.Largest(window), Math.Min(gross, window * size), $"window of {window} s");
        Near(before.Last(1e-3), running.Last(1e-3), gross, "end");
        output.WriteLine($"{of}: {worst:g2}");

        void Near(double expected, double actual, double scale, string what)
        {
            double off = Math.Abs(expected - actual) / (scale + 1e-9);
            worst = Math.Max(worst, off);
            Assert.True(off <= share, $"{of}, {what}: {expected} expected, {actual} found, of {scale}");
        }
    }

    [Fact]
    public void A_circuit_that_is_still_on_its_way_is_followed()
    {
        var run = new Circuit(Parts("slow", Waves("square"))).Compile().RunTransient(2e-3);
        Assert.Equal(0, run.Audit.PeriodsRepeated);
        Assert.True(run.Voltage("OUT").At(2e-3) > run.Voltage("OUT").At(1.9e-3) + 1e-3);
    }

    [Fact]
    public void What_is_read_at_a_time_and_in_order_of_time_goes_through_all_periods()
    {
        const double until = 4.13e-3;
        var repeated = new Circuit(Parts("filter", Waves("square"))).Compile().RunTransient(until);
        var whole = new Circuit(Parts("filter", Waves("square"))).Compile(EveryPeriod).RunTransient(until);
        double[] times = [.. Enumerable.Range(0, 5001).Select(k => k * until / 5000)];
        double[] found = repeated.Voltage("OUT").Sample(times), expected = whole.Voltage("OUT").Sample(times);
        Assert.True(found.Zip(expected, (a, b) => Math.Abs(a - b)).Max() < 12 * 3e-4);
        var crossings = repeated.Voltage("OUT").Crossings(1);
        Assert.Equal(whole.Voltage("OUT").Crossings(1).Count, crossings.Count);
        Assert.Equal(crossings.Order(), crossings);
        Assert.True(repeated.Times.Zip(repeated.Times.Skip(1)).All(t => t.First < t.Second));
        Assert.Equal(until, repeated.Times[^1]);
    }

    // A fast sine beside an impulse that lasts many thousands of its periods, with a clamp that carries and a capacitor that fills.
    private static Element[] Slowly(Waveform impulse) =>
    [
        new VoltageSource("F", "FAST", "GND", new Sine(0, 1, 1e6)), new Capacitor("CF", "FAST", "OUT", 1e-10),
        new VoltageSource("S", "IN", "GND", impulse), new Resistor("R", "IN", "OUT", 2e3),
        new Diode("DH", "OUT", "VDD", Junctions.Silicon), new VoltageSource("VDD", "VDD", "GND", 3.3) { SeriesOhms = 10 },
        new Resistor("RF", "OUT", "SLOW", 1e5), new Capacitor("CS", "SLOW", "GND", 3e-8),
    ];

    [Theory]
    [InlineData("impulse")]
    [InlineData("ramps")]
    public void A_fast_sine_beside_a_long_event_is_passed_over_where_it_drifts_and_what_is_read_stays_within_the_stated_share(string name)
    {
        const double until = 10.5e-3;
        Waveform impulse = name == "impulse" ? new DoubleExponential(20, 1e-4, 3e-2, 2e-4)
            : new PiecewiseLinear([(1e-4, 0), (2e-4, 8), (5e-3, 9), (5.001e-3, -2), (9e-3, -1.5)]);
        var passed = new Circuit(Slowly(impulse)).Compile().RunTransient(until);
        var whole = new Circuit(Slowly(impulse)).Compile(EveryPeriod).RunTransient(until);
        output.WriteLine($"{passed.Audit.StepsTaken} steps for {whole.Audit.StepsTaken}, {passed.Audit.PeriodsRepeated} periods, "
            + $"{passed.Audit.EnergyImbalance} for {whole.Audit.EnergyImbalance}");
        Assert.True(passed.Audit.IsWithinLimits, $"{passed.Audit}");
        Assert.True(passed.Audit.PeriodsRepeated > 3000);
        Assert.Equal(1e-3, passed.Audit.DrawingShare, 1e-9);
        foreach (string node in new[] { "OUT", "SLOW", "VDD" })
            Same(node, passed.Voltage(node), whole.Voltage(node), passed.Audit.DrawingShare);
        foreach (string part in new[] { "R", "RF", "DH" })
            Same(part, passed.Power(part), whole.Power(part), 3e-3);
    }
}
