using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.FrontEnds.Tests;

public class CatalogueTests
{
    // Nominal voltages and test currents of JEDEC's registration of the series (from memory).
    [Theory]
    [InlineData("1N4728A", 3.3, 76e-3)]
    [InlineData("1N4733A", 5.1, 49e-3)]
    [InlineData("1N4735A", 6.2, 41e-3)]
    [InlineData("1N4742A", 12, 21e-3)]
    [InlineData("1N4764A", 100, 2.5e-3)]
    public void A_registered_zener_stands_at_its_nominal_voltage_at_test_current(string name, double volts, double amps) =>
        Assert.Equal(volts, Reverse(name, amps), 0.001 * volts);

    [Fact]
    public void A_low_voltage_zener_conducts_well_below_its_nominal_voltage()
    {
        // Half-watt 3.6 V zeners pass about a milliamp at 2.9 V (typical of data-sheet curves, from memory).
        Assert.InRange(Reverse("3V6", 1e-3), 2.7, 3.1);
    }

    [Theory]
    [InlineData("1N5817", DiodeKind.Schottky, 0.1, 0.32)]
    [InlineData("1N5817", DiodeKind.Schottky, 1, 0.45)]
    [InlineData("1N5819", DiodeKind.Schottky, 1, 0.60)]
    [InlineData("1N4148", DiodeKind.Junction, 10e-3, 0.72)]
    public void A_diode_drops_what_its_data_sheet_says(string name, DiodeKind kind, double amps, double volts) =>
        Assert.Equal(volts, Forward(PartCatalogue.Standard.FindDiode(name, kind)!, amps), 0.01);

    [Fact]
    public void Zeners_are_found_by_voltage_code_and_by_number_whatever_the_case()
    {
        Assert.NotNull(PartCatalogue.Standard.FindDiode("3v6", DiodeKind.Zener));
        Assert.NotNull(PartCatalogue.Standard.FindDiode("12V", DiodeKind.Zener));
        Assert.NotNull(PartCatalogue.Standard.FindDiode("1n4733a", DiodeKind.Zener));
        Assert.Null(PartCatalogue.Standard.FindDiode("1N4733A", DiodeKind.Schottky));
    }

    [Fact]
    public void Every_number_in_the_catalogue_names_its_source()
    {
        Assert.All(PartCatalogue.Standard.Diodes, d => Assert.All(PartCatalogue.Type(d).DataSheet, n => Assert.NotEmpty(n.Source)));
        Assert.All(PartCatalogue.Standard.OpAmps, o => Assert.NotEmpty(o.Source));
    }

    private static double Reverse(string name, double amps) =>
        -Forward(PartCatalogue.Standard.FindDiode(name, DiodeKind.Zener)!, -amps);

    private static double Forward(DiodeType type, double amps) => new Circuit(
        [new CurrentSource("I", Circuit.Ground, "A", amps), new Diode("D", "A", Circuit.Ground, type.Model)])
        .Compile().SolveOperatingPoint().Nodes["A"];
}
