using System.Globalization;
using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies.Events;

namespace FrontEndSim.FrontEnds.Tests.Disturbances;

/// <summary>
/// A combination wave into a series resistor and a clamp against SciPy's Radau on equations written out by hand
/// (tests/reference/combination_wave.py).
/// </summary>
public sealed class SurgeEnergyTests
{
    private static readonly Dictionary<string, double> Reference = Header();

    private static Dictionary<string, double> Header()
    {
        string folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "FrontEndSim.sln")))
            folder = Path.GetDirectoryName(folder) ?? throw new InvalidOperationException("The tests run outside the repository.");
        return File.ReadLines(Path.Combine(folder, "tests", "reference", "combination_wave.csv"))
            .TakeWhile(l => l.StartsWith('#')).Where(l => l.Contains(" = ")).Select(l => l.Split(' '))
            .ToDictionary(w => w[2], w => double.Parse(w[4], NumberStyles.Float, CultureInfo.InvariantCulture));
    }

    [Fact]
    public void The_energy_in_the_series_resistor_under_a_surge_agrees_with_numerical_integration_within_half_a_percent()
    {
        var schottky = new DiodeModel
        {
            SaturationAmps = Reference["schottky.SaturationAmps"],
            EmissionCoefficient = Reference["schottky.EmissionCoefficient"],
            ActivationVolts = 0.69, // at 25 °C without effect
            TemperatureExponent = 2,
            SeriesOhms = Reference["schottky.SeriesOhms"],
            BreakdownVolts = Reference["schottky.BreakdownVolts"],
            BreakdownAmps = Reference["schottky.BreakdownAmps"],
            BreakdownSlopeVolts = Reference["schottky.BreakdownSlopeVolts"],
        };
        var known = PartCatalogue.Standard.FindDiode("1N5817", DiodeKind.Schottky)!;
        var frontEnd = new FrontEnd
        {
            Rails = [new Rail("VDD", Reference["SupplyVolts"])],
            Parts = [new ResistorPart("R1", "IN", "PIN", Reference["SeriesOhms"]),
                new DiodePart("D1", "PIN", "VDD", known with { Model = schottky })],
        };
        var surge = new CombinationWave(Reference["PeakVolts"], Reference["SourceOhms"], Reference["Start"]);
        var result = EventStudy.Run(frontEnd, new FaultEvent("surge", "IN", surge), Reference["Until"]);
        double expected = Reference["energy.series_J"];
        Assert.Equal(expected, result.Parts.Single(p => p.Part.Name == "R1").Joules, 0.005 * expected);
        Assert.InRange(result.Audit.EnergyImbalance, 0, 1e-3);
    }

    [Theory, InlineData("line-to-line"), InlineData("line-to-ground"), InlineData("signal-line")]
    public void The_current_through_a_coupling_network_agrees_with_the_eigenvectors_of_its_three_states(string coupling)
    {
        var wave = Oscilloscope.Amps(CombinationWave.Through(SurgeCoupling.Find(coupling)!, 1e3, 1e-6), 1e-3, 200e-6);
        double Expected(string what) => Reference[$"coupled.{coupling.Replace('-', '_')}.{what}"];
        // A thousandth is what the engine promises of a transient's peak; a time between two shares of it is as sharp where it is steep.
        Assert.InRange(wave.Peak / (1e3 * Expected("peak_A_per_V")), 0.999, 1.001);
        Assert.InRange(1.25 * wave.RiseTime / Expected("front_s"), 0.995, 1.005);
        Assert.InRange(1.18 * wave.Width / Expected("duration_s"), 0.995, 1.005);
    }

    [Fact]
    public void The_generators_values_are_those_that_the_fit_to_the_standard_finds()
    {
        string[] names = ["Farads", "R1", "Henries", "R2", "R3"];
        Assert.All(names, n => Assert.Equal(1, Reference[n] / Reference["fit." + n], 1e-3));
        var elements = new CombinationWave(500).ToElements("g", "IN").ToArray();
        Assert.Equal(Reference["Farads"], elements.OfType<Capacitor>().Single().Farads);
        Assert.Equal(Reference["Henries"], elements.OfType<Inductor>().Single().Henries);
        Assert.Equal([Reference["R1"], Reference["R3"]], elements.OfType<Resistor>().Select(r => r.Ohms));
    }
}
