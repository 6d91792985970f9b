using System.Globalization;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Sensors;

namespace FrontEndSim.FrontEnds.Tests.Sensors;

/// <summary>Laws of sensors against printed tables and against SciPy (tests/reference/sensor_laws.py).</summary>
public class SensorLawTests
{
    private static readonly (Dictionary<string, double> Given, double[][] Rows) Reference = Read();

    private static (Dictionary<string, double>, double[][]) Read()
    {
        string folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "FrontEndSim.sln")))
            folder = Path.GetDirectoryName(folder) ?? throw new InvalidOperationException("The tests run outside the repository.");
        string[] lines = File.ReadAllLines(Path.Combine(folder, "tests", "reference", "sensor_laws.csv"));
        return (lines.Where(l => l.Contains(" = ")).Select(l => l.Split(' ')).ToDictionary(w => w[2], w => Number(w[4])),
            [.. lines.SkipWhile(l => l.StartsWith('#')).Skip(1).Select(l => l.Split(',').Select(Number).ToArray())]);
    }

    private static double Number(string text) => double.Parse(text, NumberStyles.Float, CultureInfo.InvariantCulture);

    // IEC 60751:2008, the table of 100 ohm: °C and ohm, printed to 0.01 ohm (from memory; here from its own equation to 1 mohm).
    [Theory]
    [InlineData(-200, 18.520)]
    [InlineData(-100, 60.256)]
    [InlineData(-40, 84.271)]
    [InlineData(0, 100.000)]
    [InlineData(25, 109.735)]
    [InlineData(50, 119.397)]
    [InlineData(100, 138.505)]
    [InlineData(150, 157.325)]
    [InlineData(200, 175.856)]
    [InlineData(400, 247.092)]
    [InlineData(600, 313.708)]
    [InlineData(850, 390.481)]
    public void A_platinum_resistor_has_the_resistance_of_the_table(double celsius, double ohms)
    {
        Assert.Equal(ohms, new PlatinumLaw(100).At(celsius), 0.0005);
        Assert.Equal(10 * ohms, new PlatinumLaw(1000).At(celsius), 0.005);
    }

    // IEC 60751:2008, tolerance classes (from memory): AA 0.1 + 0.0017·|t|, A 0.15 + 0.002·|t|, B 0.3 + 0.005·|t| kelvin.
    [Theory]
    [InlineData("AA", 100, 0.27)]
    [InlineData("A", -50, 0.25)]
    [InlineData("B", 600, 3.3)]
    public void A_platinum_resistor_at_the_limit_of_its_class_reads_as_one_that_is_so_much_hotter(string name, double celsius,
        double kelvins)
    {
        var law = PlatinumLaw.OfClass(100, name);
        Assert.Equal(law.At(celsius + kelvins), law.Of(celsius, 25, [1, 0, 0, 0]), 1e-9);
        Assert.Equal(law.At(celsius - kelvins), law.Of(celsius, 25, [-1, 0, 0, 0]), 1e-9);
    }

    // IEC 60584-1 / NIST Monograph 175, tables against 0 °C: type, °C, mV to 1 µV.
    [Theory]
    [InlineData("K", -200, -5.891)]
    [InlineData("K", -100, -3.554)]
    [InlineData("K", -40, -1.527)]
    [InlineData("K", 25, 1.000)]
    [InlineData("K", 100, 4.096)]
    [InlineData("K", 200, 8.138)]
    [InlineData("K", 400, 16.397)]
    [InlineData("K", 500, 20.644)]
    [InlineData("K", 760, 31.628)]
    [InlineData("K", 1000, 41.276)]
    [InlineData("K", 1200, 48.838)]
    [InlineData("J", -200, -7.890)]
    [InlineData("J", -100, -4.633)]
    [InlineData("J", 25, 1.277)]
    [InlineData("J", 100, 5.269)]
    [InlineData("J", 500, 27.393)]
    [InlineData("J", 760, 42.919)]
    [InlineData("J", 1000, 57.953)]
    [InlineData("J", 1200, 69.553)]
    [InlineData("T", -200, -5.603)]
    [InlineData("T", -100, -3.379)]
    [InlineData("T", 25, 0.992)]
    [InlineData("T", 100, 4.279)]
    [InlineData("T", 200, 9.288)]
    [InlineData("T", 400, 20.872)]
    public void A_thermocouple_gives_the_voltage_of_the_table(string type, double celsius, double millivolts)
    {
        var law = new ThermocoupleLaw(ThermocoupleType.All.Single(t => t.Name == type));
        Assert.Equal(millivolts, 1e3 * law.At(celsius, 0), 0.00051);
    }

    // The law of intermediate temperatures: against a junction at 25 °C it gives less by what that junction gives against 0 °C.
    [Fact]
    public void A_cold_junction_at_25_degrees_takes_its_own_voltage_away()
    {
        var law = new ThermocoupleLaw(ThermocoupleType.All.Single(t => t.Name == "K"));
        Assert.Equal(16.397 - 1.000, 1e3 * law.At(400, 25), 0.0011);
        Assert.Equal(0, law.At(25, 25), 1e-12);
    }

    // The B law by hand at two temperatures: 10 kohm·exp(3977·(1/273.15 − 1/298.15)) and at the reference itself.
    [Theory]
    [InlineData(25, 10_000)]
    [InlineData(0, 33_900)]
    [InlineData(100, 685)]
    [InlineData(-40, 412_100)]
    public void A_thermistor_follows_its_B(double celsius, double ohms) =>
        Assert.Equal(ohms, new ThermistorLaw(10_000, 25, 3977).At(celsius), ohms * 1e-3);

    [Fact]
    public void A_thermistor_by_Steinhart_Hart_has_the_resistance_that_root_finding_gives()
    {
        var law = new SteinhartHartLaw(Reference.Given["a"], Reference.Given["b"], Reference.Given["c"]);
        Assert.All(Reference.Rows, row => Assert.Equal(row[1], law.At(row[0]), row[1] * 1e-10));
    }

    [Fact]
    public void A_table_is_interpolated_as_SciPy_does_it_and_turns_nowhere()
    {
        var law = new TableLaw([new(-20, 96360), new(0, 32555), new(25, 10000), new(50, 3605), new(85, 1070), new(100, 677)], Unit.Ohm);
        Assert.All(Reference.Rows, row => Assert.Equal(row[2], law.At(row[0]), row[2] * 1e-10));
        Assert.Null(law.TurnsAt(new Span(-20, 100)));
    }

    [Fact]
    public void The_way_back_from_an_output_is_the_quantity()
    {
        SensorLaw[] laws = [new PlatinumLaw(100), new ThermistorLaw(10_000, 25, 3977),
            new StraightLaw(new Span(-50, 150), 0.1, 1.9, Unit.Volts)];
        Assert.All(laws, law => Assert.All((double[])[-49, -3.2, 0, 25, 144],
            t => Assert.Equal(t, law.Inverse(law.At(t), new Span(-50, 150)), 1e-9)));
    }
}
