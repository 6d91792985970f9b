using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Tests.Reference;


namespace FrontEndSim.Engine.Tests.ClosedForm;

/// <summary>A zener's two breakdown terms and its leakage, from the law as it is written down.</summary>
public sealed class BreakdownTests
{
    private static readonly DiodeModel Soft = Junctions.Silicon with
    {
        BreakdownVolts = 5.1,
        BreakdownAmps = 4e-3,
        BreakdownSlopeVolts = 0.12,
        SoftBreakdownAmps = 1e-3,
        SoftBreakdownSlopeVolts = 0.6,
        BreakdownTempCo = 2e-4,
        LeakageSiemens = 1e-9,
        LeakageDoublingKelvin = 10,
    };

    private static double ReverseAmps(DiodeModel m, double volts, double celsius)
    {
        double knee = m.BreakdownVolts * (1 + m.BreakdownTempCo * (celsius - 25));
        double Term(double amps, double slope) => amps * (Math.Exp((volts - knee) / slope) - Math.Exp(-knee / slope));
        return Term(m.BreakdownAmps, m.BreakdownSlopeVolts) + Term(m.SoftBreakdownAmps, m.SoftBreakdownSlopeVolts)
            + m.LeakageSiemens * Math.Pow(2, (celsius - 25) / m.LeakageDoublingKelvin) * volts + m.SaturationAmpsAt(celsius + 273.15);
    }

    [Theory]
    [InlineData(0.5, 25)]
    [InlineData(2.0, 25)]
    [InlineData(3.3, 25)]
    [InlineData(3.3, 85)]
    [InlineData(4.5, -40)]
    [InlineData(5.1, 25)]
    [InlineData(5.6, 60)]
    public void A_soft_zener_carries_the_sum_of_both_breakdown_currents_and_its_leakage(double volts, double celsius)
    {
        var point = new Circuit([new VoltageSource("source", "K", "GND", volts), new Diode("Z", "GND", "K", Soft)], celsius)
            .Compile().SolveOperatingPoint();
        double expected = ReverseAmps(Soft, volts, celsius);
        Agreement.OfScale("reverse current", expected, -point.Parts["Z"].Amps, expected, 1e-12);
    }

    [Fact]
    public void Without_voltage_a_soft_zener_carries_no_current()
    {
        var point = new Circuit([new VoltageSource("source", "K", "GND", 0.0),
            new Diode("Z", "GND", "K", Soft)]).Compile().SolveOperatingPoint();
        Assert.Equal(0, point.Parts["Z"].Amps);
    }

    [Fact]
    public void A_soft_zener_behind_a_resistor_settles_where_both_laws_cross()
    {
        // The crossing by bisection of the law above.
        double low = 0, high = 12;
        for (int k = 0; k < 200; k++)
        {
            double middle = 0.5 * (low + high);
            (low, high) = (12 - middle) / 4700 > ReverseAmps(Soft, middle, 25) ? (middle, high) : (low, middle);
        }
        var point = new Circuit(
            [new VoltageSource("source", "in", "GND", 12.0), new Resistor("R", "in", "K", 4700), new Diode("Z", "GND", "K", Soft)])
            .Compile().SolveOperatingPoint();
        Agreement.OfScale("zener voltage", low, point.Nodes["K"], low, 1e-9);
    }

    [Theory]
    [InlineData(35, 2)]
    [InlineData(45, 4)]
    [InlineData(15, 0.5)]
    public void A_leakage_that_doubles_every_10_kelvin_does(double celsius, double factor)
    {
        var leaky = Junctions.Silicon with { SaturationAmps = 1e-30, LeakageSiemens = 1e-6, LeakageDoublingKelvin = 10 };
        var point = new Circuit([new VoltageSource("source", "K", "GND", 3.0), new Diode("D", "GND", "K", leaky)], celsius)
            .Compile().SolveOperatingPoint();
        Agreement.OfScale("leakage", 3e-6 * factor, -point.Parts["D"].Amps, 3e-6 * factor, 1e-12);
    }
}
