using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Respond;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Tests.Studies;

/// <summary>
/// One pin behind an external multiplexer. Every expected number is by charge on capacitors and exponentials (any text on circuits); the
/// parts of the multiplexer are those of its sheet.
/// </summary>
public class MultiplexedScanTests
{
    private const double Sampled = 8e-12, Seconds = 2e-6, Switch = 10e-12, Break = 20e-9;

    // On-resistance of next to nothing: the sources are what slows.
    private static readonly AnalogSwitchType Type = new("quick", 1, 1, 5, 1e-18, 1e-18, 0, Switch, 20, 0.1, "by the test");

    private static FrontEnd TwoChannels(double ohms, AnalogSwitchType? type = null, double farads = 0)
    {
        var pin = new Pin("first", "COM")
        {
            HasClamps = false,
            Farads = 0,
            Converter = new(12, new(new(null, 0), new("VDD", 0))),
            Sampling = new(Sampled, 1, Seconds),
            Wanted = new("first", new Span(0.5, 2.5), new Span(0.5, 2.5)),
            Channel = new("M", "A"),
        };
        return new()
        {
            Title = "Two channels",
            Rails = [new Rail("VDD", 3.3)],
            Sensors = [new Sensor("first", "A", new Span(0.5, 2.5), 10), new Sensor("second", "B", new Span(0.5, 2.5), ohms)],
            Parts = [new MultiplexerPart("M", ["A", "B"], "COM", "VDD", "GND", type ?? Type, "A"),
                .. farads > 0 ? [new CapacitorPart("C", "B", "GND", farads)] : Array.Empty<Part>()],
            Pins = [pin, pin.Through("second", new("M", "B")) with { Wanted = new("second", new Span(0.5, 2.5), new Span(0.5, 2.5)) }],
            Scans = [new Scan("turns", ["first", "second"])],
        };
    }

    private static SamplingResult[] Samples(FrontEnd frontEnd, double volts) =>
        [.. SamplingStudy.OverRange(new(frontEnd), frontEnd.FindPin("second"), "second", volts, TestContext.Current.CancellationToken)];

    [Fact]
    public void Each_channel_is_read_from_its_own_sensor()
    {
        var solved = new SolvedFrontEnd(TwoChannels(1e3));
        foreach (string pin in new[] { "first", "second" })
        {
            var mapping = solved.Mapping(pin, cancel: TestContext.Current.CancellationToken);
            Assert.Equal(pin, mapping.Sensor);
            Assert.Equal(2.5, mapping.Points[^1].PinVolts, 1e-6);
        }
    }

    [Fact]
    public void The_common_node_keeps_the_channel_before_and_shares_it_with_the_next()
    {
        // All of the common node and the sampling capacitor against the next channel's own capacitance, then one pole.
        const double shared = 2 * Switch + Sampled, all = shared + Switch, ohms = 50e3;
        double left = shared / all * Math.Exp(-(Seconds - Break) / (ohms * all));
        foreach (var sample in Samples(TwoChannels(ohms), 0.5))
            Assert.Equal((sample.StartVolts - 0.5) * left, sample.ErrorVolts, 0.01 * 2 * left);
        Assert.Equal([0.5, 2.5], Samples(TwoChannels(ohms), 2.5).Select(s => Math.Round(s.StartVolts, 6)));
    }

    [Fact]
    public void A_wait_after_switching_lets_the_common_node_settle_before_the_sample()
    {
        const double ohms = 50e3, wait = 3e-6, com = 2 * Switch, both = com + Switch, all = both + Sampled;
        var frontEnd = TwoChannels(ohms);
        frontEnd = frontEnd with { Scans = [frontEnd.Scans[0] with { WaitSeconds = wait }] };
        double settled = com / both * Math.Exp(-(wait - Break) / (ohms * both));
        double expected = 2 * (settled * both + Sampled) / all * Math.Exp(-Seconds / (ohms * all));
        Assert.Equal(expected, Samples(frontEnd, 0.5)[1].ErrorVolts, 0.01 * expected);
    }

    [Fact]
    public void A_switch_that_closes_leaves_its_charge_on_what_it_joins()
    {
        // The one that opens takes as much from the common node as the one that closes brings: what stays is that of the channel's own end.
        const double charge = 5e-12, ohms = 50e3, all = 3 * Switch + Sampled;
        double expected = charge / all * Math.Exp(-(Seconds - Break) / (ohms * all));
        var equal = Samples(TwoChannels(ohms, Type with { ChargeCoulombs = charge }), 0.5).Single(s => Math.Abs(s.StartVolts - 0.5) < 1e-3);
        Assert.Equal(expected, equal.ErrorVolts, 0.02 * expected);
    }

    [Fact]
    public void On_resistance_and_what_every_channel_leaks_stand_in_the_reading_at_rest()
    {
        // Each of both switches leaks at either end; the common node's passes through source and switch, the channel's through the source.
        const double leak = 1e-7, ohms = 10e3, on = 200; // typically a tenth of the limit
        var type = new AnalogSwitchType("leaky", on, 2 * on, 5, 10 * leak, 10 * leak, 0, Switch, 20, 0.1, "by the test");
        var solved = new SolvedFrontEnd(TwoChannels(ohms, type));
        double volts = solved.Mapping("second", cancel: TestContext.Current.CancellationToken).Points[^1].PinVolts;
        Assert.Equal(2.5 - leak * (3 * ohms + 2 * on), volts, 1e-6);
    }

    [Theory]
    [InlineData(100e3, 1e-9, 20e-6)]
    [InlineData(10e3, 1e-9, 20e-6)]
    public void At_a_rate_a_channel_with_a_capacitor_is_dragged_until_as_much_flows_in_as_is_taken(double ohms, double farads, double every)
    {
        // Turn by turn: the common node shares its charge with the channel, both recover; the sampling capacitor shares, all recover; the
        // channel alone recovers while the other one is read. Where a turn changes nothing is what the firmware reads.
        var frontEnd = TwoChannels(ohms, farads: farads);
        frontEnd = frontEnd with { Scans = [frontEnd.Scans[0] with { EverySeconds = every }] };
        const double d = 2, com = 2 * Switch;
        double own = farads + Switch, joined = own + com, all = joined + Sampled, channel = 0, held = 0;
        for (int turn = 0; turn < 1000; turn++)
        {
            double v = (own * channel + com * d) / joined * Math.Exp(-(every - Seconds - Break) / (ohms * joined));
            held = (joined * v + Sampled * d) / all * Math.Exp(-Seconds / (ohms * all));
            channel = held * Math.Exp(-every / (ohms * own));
        }
        Assert.Equal(held, Samples(frontEnd, 0.5)[1].ErrorVolts, 0.015 * held);
    }
}
