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

/// <summary>What firmware makes of several pins together, against Ohm's law and the tables of the sensors by hand.</summary>
public class CombinedReadingTests
{
    private static Pin Ideal(string name, string node, int bits = 24) =>
        new(name, node) { HasClamps = false, Farads = 0, Converter = new(bits, new(new(null, 0), new("VDD", 0))) };

    // 3.3 V, 2.2 kohm, a lead, the platinum resistor, a lead back to ground; a third lead to the lower pin.
    private static readonly ShareExpression Top = new PinShare(0), Below = new PinShare(1), ThreeWires = Of(CalculationKind.Quotient,
        Of(CalculationKind.Difference, Top, Of(CalculationKind.Product, new FixedNumber(2), Below)),
        Of(CalculationKind.Difference, new FixedNumber(1), Top));

    private static Calculation Of(CalculationKind kind, params ShareExpression[] operands) => new(kind, [.. operands]);

    private static FrontEnd Kiln(double lead, double tolerance, double railTolerance = 0, ShareExpression? formula = null) => new()
    {
        Rails = [new("VDD", new(3.3, railTolerance, 0))],
        Sensors = [new("shell", "S1", new Span(0, 400), 0)
            { Other = "S2", Quantity = "temperature", UnitText = "°C", Law = new PlatinumLaw(100), WattsPerKelvin = 1e6 }],
        Parts =
        [
            new ResistorPart("Rref", "VDD", "TOP", new(2200, 0, 0)), new ResistorPart("L1", "TOP", "S1", new(lead, tolerance, 0)),
            new ResistorPart("L2", "S2", "GND", new(lead, tolerance, 0)), new ResistorPart("L3", "S2", "SENSE", new(lead, tolerance, 0)),
            new ResistorPart("RIN", "SENSE", "GND", new(1e9, 0, 0)),
        ],
        Pins = [Ideal("top", "TOP"), Ideal("sense", "SENSE")],
        Readings = [new("kiln", "shell", ["top", "sense"]) { Formula = "by hand", Expression = formula ?? ThreeWires }],
    };

    private static ReadingSpread Spread(FrontEnd frontEnd, Span? over = null) =>
        CombinedStudy.Spread(new SolvedFrontEnd(frontEnd), frontEnd.Readings[0], over);

    [Fact]
    public void Three_wires_read_a_platinum_resistor_as_if_its_leads_were_not_there()
    {
        // Nothing but quantisation and the polynomial is left, whatever the leads and the rail are.
        Assert.InRange(Spread(Kiln(0.6, 0)).Largest, 0, 2e-3);
        Assert.InRange(Spread(Kiln(6, 0, railTolerance: 0.1)).Largest, 0, 2e-3);
    }

    [Fact]
    public void What_the_two_leads_differ_by_is_left_and_on_two_wires_all_that_they_change()
    {
        // IEC 60751: 0.3908 ohm a kelvin at 0 °C, 0.3447 at 400 °C. L1 − L2 of 0.6 ohm ±20 % each is 0.24 ohm.
        Assert.Equal(0.24 / 0.3447, Spread(Kiln(0.6, 0.2)).Largest, 0.01);
        Assert.Equal(0.24 / 0.3908, Spread(Kiln(0.6, 0.2), new Span(0, 1)).Largest, 0.01);
        // Two wires of 6 ohm ±20 %: 2.4 ohm beside a current that three wires know as well.
        Assert.Equal(2.4 / 0.3447, Spread(Kiln(6, 0.2, formula: Of(CalculationKind.Quotient, Top, Of(CalculationKind.Difference, new FixedNumber(1), Top)))).Largest, 0.1);
        // Three wires of which one lead alone may differ: L1 + L2 − 2·L2.
        Assert.Equal(2.4 / 0.3447, Spread(Kiln(6, 0.2)).Largest, 0.1);
    }

    [Fact]
    public void The_budget_of_a_reading_ranks_what_makes_it_wrong_and_bounds_it_as_the_worst_case_does()
    {
        // Of leads of 0.6 ohm ±20 % the reading sees L1 + L2 − 2·L2: at 0.3447 ohm a kelvin (IEC 60751 at 400 °C) each ±0.348 K, as a
        // rectangular distribution 0.348/√3; both together 0.284 K.
        // Capacitors keep the noise small.
        var kiln = Kiln(0.6, 0.2);
        var solved = new SolvedFrontEnd(kiln with
        {
            Parts = [.. kiln.Parts, new CapacitorPart("C1", "TOP", "GND", new(1e-6, 0, 0)),
                new CapacitorPart("C2", "SENSE", "GND", new(1e-6, 0, 0))],
        });
        var budget = CombinedBudget.Run(solved, "kiln", new() { Celsius = [25], Assumed = new() { ResistorTempCo = 0 } },
            cancel: TestContext.Current.CancellationToken);
        Assert.True(budget.IsOfReading);
        var full = budget.Points.Single(p => p.Place == "full");
        Assert.Equal(0.6 * 0.2 / 0.3447 / Math.Sqrt(3), Math.Abs(full.Ranked.First().Effect), 2e-3);
        Assert.Equal(["L1 tolerance", "L2 tolerance"], full.Ranked.Take(2).Select(r => r.Source).Order());
        Assert.Equal(Math.Sqrt(2) * 0.6 * 0.2 / 0.3447 / Math.Sqrt(3), full.Linear.StandardUncertainty, 4e-3);
        double bound = CombinedStudy.Spread(solved, solved.FrontEnd.Readings[0]).Largest;
        Assert.Equal(bound, Math.Max(-full.Worst.Low, full.Worst.High), 0.02 * bound);
    }

    [Fact]
    public void What_firmware_computed_is_compared_and_a_bad_joint_in_a_lead_is_found_by_it()
    {
        // Three ohm more in the lead back, by hand: firmware takes twice what falls along it away, R + L1 − L2 is left of R.
        static double Back(double ohms) => (-3.9083e-3 + Math.Sqrt(3.9083e-3 * 3.9083e-3 + 4 * 5.775e-7 * (1 - ohms / 100))) / (
            -2 * 5.775e-7);
        static double Ohms(double celsius) => 100 * (1 + 3.9083e-3 * celsius - 5.775e-7 * celsius * celsius);
        Reading At(double celsius, double read, int line) => new(celsius, "TOP", read, null, line) { Computed = "kiln" };
        double[] places = [0, 200, 400];
        var kiln = Kiln(0.6, 0.02);
        var good = CompareStudy.Run(kiln, "shell", [.. places.Select((c, k) => At(c, c + 0.001, k + 2))],
            cancel: TestContext.Current.CancellationToken);
        Assert.True(good.IsInside);
        Assert.All(good.Readings, r => Assert.Equal(r.Reading.SensorValue, r.Expected, 2e-3));
        // L1 and L2 of 0.6 ohm ±2 %: 0.024 ohm over the slope of IEC 60751, and a step of each converter.
        Assert.Equal(0.024 / 0.3447, good.Readings[2].High - good.Readings[2].Expected, 0.01);
        var bad = CompareStudy.Run(kiln, "shell", [.. places.Select((c, k) => At(c, Back(Ohms(c) - 3), k + 2))],
            cancel: TestContext.Current.CancellationToken);
        Assert.False(bad.IsInside);
        var best = bad.Explanations[0];
        Assert.Equal(("L2", ExplanationKind.Resistance), (best.Subject, best.Kind));
        Assert.Equal(3.6, best.Fitted!.Value.Value, 0.02);
    }

    [Fact]
    public void A_ratio_of_two_pins_does_not_feel_what_both_are_fed_from()
    {
        // A sensor of a share of its own 2.5 V, which nobody trusts, and a pin on that supply itself.
        FrontEnd Board(double tolerance) => new()
        {
            Rails = [new("VDD", new(3.3, 0, 0)), new("VS", new(2.5, tolerance, 0))],
            Sensors = [new("press", "OUT", new Span(0, 10), 100)
                { Quantity = "pressure", UnitText = "bar", Law = new StraightLaw(new Span(0, 10), 0.1, 0.9, Unit.None),
                    Wiring = new ShareOfRail("VS") }],
            Parts = [new ResistorPart("R", "OUT", "GND", new(1e6, 0, 0)), new ResistorPart("R2", "VS", "GND", new(1e4, 0, 0))],
            Pins = [Ideal("out", "OUT", 16), Ideal("supply", "VS", 16)],
            Readings = [new("force", "press", ["out", "supply"]) { Formula = "out / supply", Expression = Of(CalculationKind.Quotient, Top, Below) }],
        };
        Assert.Equal(Spread(Board(0)).Largest, Spread(Board(0.1)).Largest, 2e-4);
        // Alone the pin is off by a tenth of 11.25 bar at the upper end: its share of 10 bar with the offset of 10 %.
        Assert.Equal(0.1 * 11.25, new SolvedFrontEnd(Board(0.1)) is var s ? s.Spread(s.Mapping("out"))!.Largest : 0, 0.02);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(25)]
    [InlineData(50)]
    public void A_cold_junction_that_is_measured_is_right_at_every_temperature_and_its_error_is_that_of_the_reading(double celsius)
    {
        FrontEnd Board(double ohmsTolerance) => new()
        {
            Celsius = celsius,
            CelsiusRange = new Span(0, 50),
            Rails = [new("VDD", new(3.3, 0, 0)), new("VREF", new(1.2, 0, 0)) { Sinks = true }],
            Sensors =
            [
                new("bath", "TC", new Span(20, 420), 1) { Other = "VREF", Quantity = "temperature", UnitText = "°C",
                    Law = new ThermocoupleLaw(ThermocoupleType.All.Single(t => t.Name == "K")) { IsJunctionMeasured = true } },
                new("board", "COLD", new Span(-10, 60), 0)
                    { Quantity = "temperature", UnitText = "°C", Law = new ThermistorLaw(new(10_000, ohmsTolerance), 25, 3977),
                        WattsPerKelvin = 1e6 },
            ],
            Parts = [new ResistorPart("R1", "VDD", "COLD", new(10_000, 0, 0)), new ResistorPart("R2", "TC", "VREF", new(1e6, 0, 0))],
            Pins =
            [
                new("hot", "TC") { HasClamps = false, Farads = 0, Converter = new(16, new(new(null, 1.19), new(null, 1.23))) },
                    Ideal("cold", "COLD", 16),
            ],
            Readings = [new("solder", "bath", ["hot", "cold"])],
        };
        // A count of 40 mV over 65536 is 0.015 °C; the table of the thermistor is within its own half count.
        double exact = Spread(Board(0)).Largest, loose = Spread(Board(0.01)).Largest;
        Assert.InRange(exact, 0.005, 0.06);
        // 1 % of R0 is 0.01·T²/B of the junction, times the slope of type K there over that where it is hot: 39.5, 40.5, 41.2 µV/K over the
        // least, 39.7.
        double kelvin = celsius + 273.15, slope = celsius switch { 0 => 39.5, 25 => 40.5, _ => 41.2 };
        Assert.Equal(0.01 * kelvin * kelvin / 3977 * slope / 39.7, loose - exact, 0.01);
    }

    [Fact]
    public void A_formula_that_turns_back_is_no_reading()
    {
        var kiln = Kiln(0.6, 0, formula: Of(CalculationKind.Magnitude, Of(CalculationKind.Difference, Top, new FixedNumber(0.08))));
        Assert.Throws<StudyProblemException>(() => Spread(kiln));
    }
}
