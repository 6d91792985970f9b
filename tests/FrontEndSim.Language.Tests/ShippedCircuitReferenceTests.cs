using System.Globalization;
using FrontEndSim.FrontEnds.Studies.Session;
using FrontEndSim.Language.Binding;

namespace FrontEndSim.Language.Tests;

/// <summary>Whole shipped circuits against SciPy (tests/reference/shipped_circuits.py).</summary>
public class ShippedCircuitReferenceTests
{
    [Theory]
    [InlineData("thermistor-bath")]
    [InlineData("kiln-platinum")]
    [InlineData("thermocouple")]
    [InlineData("load-cell")]
    [InlineData("light-meter")]
    [InlineData("mains-current")]
    [InlineData("motor-hall")]
    public void A_shipped_circuit_s_pin_follows_its_sensor_as_its_node_equations_say(string name)
    {
        string[] lines = [.. File.ReadAllLines(Path.Combine(Reading.Repository, "tests", "reference", "shipped_circuits.csv"))
            .Where(l => !l.StartsWith('#'))];
        string[] columns = lines[0].Split(',');
        int value = Array.IndexOf(columns, name.Replace('-', '_') + "_value"), volts = value + 1;
        double[][] rows = [.. lines.Skip(1).Select(l => l.Split(',').Select(n => double.Parse(n, CultureInfo.InvariantCulture)).ToArray())];

        var frontEnd = CircuitFile.Load(Path.Combine(Reading.Repository, "circuits", name + ".fes")).FrontEnd!;
        var sweep = new SolvedFrontEnd(frontEnd with { Celsius = 25 }).Sweep(frontEnd.Sensors[0].Name, [.. rows.Select(r => r[value])],
            cancel: TestContext.Current.CancellationToken);
        double span = rows.Max(r => r[volts]) - rows.Min(r => r[volts]);
        for (int k = 0; k < rows.Length; k++)
            Assert.Equal(rows[k][volts], sweep.Points[k].Nodes[frontEnd.Pins[0].Node], 1e-3 * span);
    }
}
