using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;

namespace FrontEndSim.Engine.Tests.Robustness;

/// <summary>Two zeners back to back, the usual two-way clamp: nothing but their saturation currents holds the node between them.</summary>
public class AntiSeriesZenerTests
{
    [Theory]
    [InlineData(3.3)]
    [InlineData(5.1)]
    [InlineData(12.0)]
    [InlineData(24.0)]
    public void Anti_series_zeners_clamp_at_a_zener_and_a_forward_voltage_either_way_and_pass_nothing_below(double zenerVolts)
    {
        foreach (double slope in new[] { 0.01, 0.03, 0.2 })
            foreach (double volts in new[] { -1000, -100, -24, -5, -1, 0, 0.01, 1, 5, 10, 24, 170 })
                foreach (double ohms in new[] { 1, 100, 1e4, 1e6 })
                    foreach (double series in new[] { 0.0, 1 })
                    {
                        var zener = Junctions.Zener(zenerVolts, slope) with { SeriesOhms = series };
                        var point = new Circuit([new VoltageSource("S", "IN", "GND", volts), new Resistor("R", "IN", "A", ohms),
                new Diode("Z1", "M", "A", zener), new Diode("Z2", "M", "GND", zener)]).Compile().SolveOperatingPoint();
                        double amps = point.Parts["R"].Amps;
                        // Below 0.75 of the zener voltage less than 1 mA·e^(−0.25·3.3/0.2) flows (the law as it is written).
                        if (Math.Abs(volts) < 0.75 * zenerVolts)
                            Assert.True(Math.Abs(amps) < 20e-6, $"{zenerVolts} {slope} {volts} {ohms}: {amps} A");
                        else if (Math.Abs(volts) > 2 * zenerVolts)
                        {
                            // The law inverted at the current found: Vs·ln(1 + i/Ib) beyond the knee, Vt·ln(1 + i/Is) forward, and 2·Rs·i.
                            double i = Math.Abs(amps);
                            double expected = zenerVolts + slope * Math.Log(i / 1e-3) + 0.02569258 * Math.Log(i / 1e-14) + 2 * series * i;
                            Assert.Equal(expected, Math.Abs(point.Nodes["A"]), 1e-6 * expected);
                        }
                    }
    }
}
