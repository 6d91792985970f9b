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

    [Fact]
    public void A_charge_that_cannot_leave_stands_at_a_voltage_that_rises_as_the_capacitance_falls()
    {
        // Q = C·V: charged to 2 V at 200 pF through 1 Gohm, through which next to nothing flows within a microsecond.
        var run = new Circuit([new VoltageSource("V1", "A", "GND", 2), new Resistor("R1", "A", "B", 1e9),
            new SensingCapacitor("C", "B", "GND", new Step(200, 100, 1e-6, 1e-8), new Picofarads())]).Compile().RunTransient(2e-6);
        Assert.Equal(4, run.Voltage("B").At(1.5e-6), 5e-3);
    }
}
