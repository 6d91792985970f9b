using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Pins;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Levels;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Tests.Studies;

/// <summary>Pulses and contacts on their way through a filter to a gate, against hand math.</summary>
public class PulseTests
{
    private const double Ohms = 10e3, Farads = 10e-9, Supply = 5;

    private static Pin Input => PinType.Find("cmos-hc-hysteresis")!.ToPin("input", "PIN", "VCC") with
    { LeakageAmps = 0, Farads = 0, HasClamps = false };

    private static FrontEnd Turbine(double hertz, double duty = 0.4, double tolerance = 0) => new()
    {
        Rails = [new("VCC", new(Supply, 0, 0))],
        Sensors =
        [
            new("flow", "IN", Sensor.States, 0)
            {
                Quantity = "state", UnitText = "", Law = new StraightLaw(Sensor.States, 0, Supply, Unit.Volts),
                Pulses = new("flow", "l/min", new Span(0, 30), 0, hertz, new Span(duty, 0.5)) { OffsetError = 0.1 },
            },
        ],
        Parts = [new ResistorPart("R1", "IN", "PIN", new(Ohms, 0, 0)), new CapacitorPart("C1", "PIN", "GND", new(Farads, tolerance, 0))],
        Pins = [Input with { Counting = new(0.5, 0.001) }],
    };

    [Theory]
    [InlineData(1000)]
    [InlineData(2000)]
    public void Pulses_stand_at_a_level_as_long_as_an_RC_that_is_charged_and_discharged_lets_them(double hertz)
    {
        double tau = Ohms * Farads, period = 1 / hertz, on = 0.4 * period;
        double most = Supply * (1 - Math.Exp(-on / tau)) / (1 - Math.Exp(-period / tau)), least = most * Math.Exp(-(period - on) / tau);
        // The family's levels at 5 V: 3.5 V and 1 V (docs/parts.md).
        double up = Supply - Supply * 0.7, high = on - tau * Math.Log((Supply - least) / up) + tau * Math.Log(most / (0.7 * Supply));
        var found = LogicStudy.Run(Turbine(hertz), "input").Pulses!;
        var worst = found.Passages.First(p => p is { Duty: 0.4, Parts: TolerancePlace.Nominal });
        Assert.Equal(2, worst.ChangesInPeriod);
        Assert.Equal(1, worst.HighSeconds / high, 1e-3);
        // Counted for half a second, a pulse is two a second: 30 l/min over so many of them.
        Assert.Equal(30 / hertz / 0.5, found.CountUnits!.Value, 1e-9);
    }

    [Fact]
    public void Pulses_that_a_filter_swallows_are_not_counted_and_the_verdict_says_so()
    {
        var check = CheckStudy.Run(Turbine(8000));
        var counted = check.Implied.Single(r => r.Requirement is PulsesCounted);
        Assert.Equal(Verdict.NotMet, counted.Verdict);
        Assert.False(((PulsesReason)counted.Reason).Worst.IsCounted);
        // 4 kHz still pass with nominal parts and not with half as much again of the capacitor.
        Assert.True(LogicStudy.Run(Turbine(3000), "input").Pulses!.Worst.IsCounted);
        Assert.Equal(TolerancePlace.High, LogicStudy.Run(Turbine(3000, tolerance: 0.5), "input").Pulses!.Worst.Parts);
    }

    [Fact]
    public void A_reading_is_off_by_a_pulse_the_clock_and_the_sensor()
    {
        var frontEnd = Turbine(1000);
        var result = new CountedReadingError("input", 1, "l/min", null, "").Judge(new SolvedFrontEnd(frontEnd));
        Assert.Equal(30.0 / 1000 / 0.5 + 0.001 * 30 + 0.1, result.Found!.Value.Value, 1e-9);
    }

    private static FrontEnd Door(double farads, double pullup = 2.5e3) => new()
    {
        Rails = [new("VCC", new(Supply, 0, 0))],
        Sensors =
        [
            new("door", "IN", Sensor.States, 0)
            {
                Quantity = "state", UnitText = "", Contact = new(0.1, 1e8, 5e-3) { WettingAmps = new Span(1e-3, 0.1) },
                Law = new StraightLaw(Sensor.States, 1e8, 0.1, Unit.Ohm),
            },
        ],
        Parts =
        [
            new ResistorPart("R1", "VCC", "IN", new(pullup, 0, 0)), new ResistorPart("R2", "IN", "PIN", new(Ohms, 0, 0)),
            new CapacitorPart("C1", "PIN", "GND", new(farads, 0, 0)),
        ],
        Pins = [Input],
    };

    [Fact]
    public void A_contact_that_bounces_four_times_changes_a_gate_nine_times_unless_the_filter_is_slower()
    {
        var quick = LogicStudy.Run(Door(1e-9), "input");
        Assert.Equal(9, quick.Edges.Single(e => e.BounceSeconds > 0).Changes);
        Assert.Equal(1, quick.Edges.Single(e => e.BounceSeconds == 0).Changes);
        Assert.Equal(SensorStates.Contact, quick.States);
        Assert.True(LogicStudy.Run(Door(1e-6), "input").IsClean);
    }

    [Theory]
    [InlineData(2.5e3, 2e-3, Verdict.Met)]
    [InlineData(10e3, 0.5e-3, Verdict.NotMet)]
    public void A_closed_contact_carries_what_its_pull_up_lets_it(double pullup, double amps, Verdict verdict)
    {
        var result = new ContactWetted("door").Judge(new SolvedFrontEnd(Door(1e-6, pullup)));
        Assert.Equal(amps, result.Found!.Value.Value, 1e-4 * amps);
        Assert.Equal(verdict, result.Verdict);
    }
}
