using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies.Design;

namespace FrontEndSim.FrontEnds.Tests.Studies;

/// <summary>The resistor of a resistive sensor, against trying all of a series by hand.</summary>
public class DividerDesignTests
{
    private static readonly FrontEnd Bath = new()
    {
        Rails = [new("VDD", new(3.3, 0.01)), new("V5", 5)],
        Sensors =
        [
            new("bath", "SENSE", new Span(5, 95), 0)
            {
                Quantity = "temperature", UnitText = "°C", Law = new ThermistorLaw(new(10_000, 0.01), 25, 3977), WattsPerKelvin = 2e-3,
            },
        ],
        Parts = [new ResistorPart("Rf", "SENSE", "PIN", 1000), new CapacitorPart("Cf", "PIN", "GND", 100e-9)],
        Pins = [new("adc", "PIN") { HasClamps = false, Converter = new(12, new(new(null, 0), new("VDD", 0))) }],
    };

    private static double Ohms(double celsius) => 10_000 * Math.Exp(3977 * (1 / (celsius + 273.15) - 1 / 298.15));

    private static double Volts(double celsius, double ohms) => 3.3 * Ohms(celsius) / (ohms + Ohms(celsius));

    private static double Bend(double ohms)
    {
        double first = Volts(5, ohms), last = Volts(95, ohms);
        return Enumerable.Range(0, 901).Max(k => Math.Abs(Volts(5 + 0.1 * k, ohms) - first - (last - first) * k / 900)) / Math.Abs(
            last - first);
    }

    private static DividerDesign Run(DividerAim? aim) =>
        DividerDesignStudy.Run(Bath, DividerDesignStudy.Unfed(Bath)!, "divide", [ESeries.E24], 0.01, aim,
            TestContext.Current.CancellationToken);

    // All of E24 (IEC 60063) from 100 ohm to 910 kohm.
    private static IEnumerable<double> All => Enumerable.Range(2, 4)
        .SelectMany(d => ESeries.E24.Mantissas.Select(v => v * Math.Pow(10, d)));

    [Fact]
    public void For_linearity_no_other_value_of_the_series_bends_less_and_for_resolution_none_moves_the_pin_more()
    {
        var straight = Run(DividerAim.Linearity).Candidates.Single();
        Assert.Equal(All.MinBy(Bend), straight.Ohms, 1e-6);
        Assert.Equal(Bend(straight.Ohms), straight.Bend, 1e-4);
        var fine = Run(DividerAim.Resolution).Candidates.Single();
        Assert.Equal(All.MaxBy(r => Math.Abs(Volts(95, r) - Volts(5, r))), fine.Ohms, 1e-6);
        Assert.Equal(Math.Abs(Volts(95, fine.Ohms) - Volts(5, fine.Ohms)), fine.SpanVolts, 2e-3);
        // 4.7 kohm and 95 °C: a count of 3.3 V/4096 over the slope there.
        double slope = (Volts(95, fine.Ohms) - Volts(94.9, fine.Ohms)) / 0.1;
        Assert.Equal(3.3 / 4096 / Math.Abs(slope), fine.Step, 0.02 * fine.Step);
    }

    [Fact]
    public void A_rail_beyond_what_the_pin_converts_is_not_taken_and_a_sensor_that_is_fed_is_left_alone()
    {
        Assert.All(Run(null).Candidates, c => Assert.Equal("VDD", c.Rail));
        Assert.Null(DividerDesignStudy.Unfed(Bath with { Parts = [.. Bath.Parts, new ResistorPart("R", "VDD", "SENSE", 4700)] },
            TestContext.Current.CancellationToken));
    }
}
