using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.Engine.Tests.ClosedForm;

/// <summary>A capacitance that follows a quantity.</summary>
public class SensingCapacitorTests
{
    // As many picofarads as its quantity says.
    private sealed record Picofarads : Characteristic
    {
        public override double Of(double quantity, double celsius, ReadOnlySpan<double> errors) => 1e-12 * quantity;
    }

    private static double Swing(Element capacitor)
    {
        var run = new Circuit([new VoltageSource("V1", "OSC", "GND", new Sine(0, 1, 10e3)), capacitor,
            new Capacitor("C1", "PIN", "GND", 220e-12), new Resistor("R1", "PIN", "GND", 1e9)]).Compile().RunTransient(8e-4);
        return 0.5 * (run.Voltage("PIN").At(7.25e-4) - run.Voltage("PIN").At(7.75e-4));
    }

    [Fact]
    public void It_divides_a_sine_as_a_plain_capacitor_does()
    {
        double plain = Swing(new Capacitor("C", "OSC", "PIN", 180e-12));
        Assert.Equal(180.0 / 400, plain, 5e-4);
        Assert.Equal(plain, Swing(new SensingCapacitor("C", "OSC", "PIN", 180, new Picofarads())), 1e-9);
    }

    private static double[] Moving(Waveform picofarads, double until, params double[] times)
    {
        // Charged to 2 V through so much that nothing leaves within a millisecond.
        var run = new Circuit([new VoltageSource("V1", "A", "GND", 2), new Resistor("R1", "A", "B", 1e15),
            new SensingCapacitor("C", "B", "GND", picofarads, new Picofarads())]).Compile().RunTransient(until);
        return [.. times.Select(run.Voltage("B").At)];
    }

    [Theory]
    [InlineData(1e-8)]
    [InlineData(5e-7)]
    public void A_charge_that_cannot_leave_stands_at_a_voltage_that_rises_as_the_capacitance_falls(double fall)
    {
        // Q = C·V: 2 V at 200 pF are 4 V at 100 pF, however fast it falls.
        double[] after = Moving(new Step(200, 100, 1e-6, fall), 2e-6, 1.5e-6, 2e-6);
        Assert.All(after, v => Assert.Equal(4, v, 1e-6));
    }

    [Fact]
    public void A_capacitance_that_swings_swings_the_voltage_of_its_charge_the_other_way()
    {
        // V = 2 V·200/(200 + 50·sin(ωt)), within the accuracy of a step, 1e-5, and of what is drawn between steps, thirty times that.
        double[] times = [.. Enumerable.Range(1, 200).Select(k => k * 5e-6)];
        double[] volts = Moving(new Sine(200, 50, 1e4), 1e-3, times);
        double worst = times.Zip(volts).Max(p => Math.Abs(p.Second - 400 / (200 + 50 * Math.Sin(2 * Math.PI * 1e4 * p.First))));
        Assert.InRange(worst, 0, 30e-5 * 400 / 150);
    }
}
