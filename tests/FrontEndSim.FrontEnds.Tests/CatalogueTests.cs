using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Parts.Fits;

namespace FrontEndSim.FrontEnds.Tests;

public class CatalogueTests
{
    // Nominal voltages and test currents of JEDEC's registration of the series (from memory).
    [Theory]
    [InlineData("1N4728A", 3.3, 76e-3)]
    [InlineData("1N4731A", 4.3, 58e-3)]
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

    // Registered largest forward voltages at high current: 1N5817 to 1N5819 data sheets (Diodes Inc., EIC), 1N5821 and 1N5822 (Comchip),
    // BAT54 (Vishay). A resistance that is a straight line misses them by a third.
    [Theory]
    [InlineData("1N5817", 3, 0.75)]
    [InlineData("1N5818", 3, 0.875)]
    [InlineData("1N5819", 3, 0.90)]
    [InlineData("1N5821", 9.4, 0.900)]
    [InlineData("1N5822", 9.4, 0.950)]
    [InlineData("BAT54", 0.1, 1.0)]
    public void A_schottky_diode_meets_its_registered_forward_voltage_at_high_current_too(string name, double amps, double volts) =>
        Assert.Equal(volts, Forward(PartCatalogue.Standard.FindDiode(name, DiodeKind.Schottky)!, amps), 0.03 * volts);

    [Fact]
    public void A_zener_driven_forward_and_a_small_schottky_never_drop_tens_of_volts()
    {
        // Forward, a half-watt zener is a small silicon diode: 1 V to 2 V at some amperes (typical, from memory). The junction of a small
        // Schottky diode's guard ring takes over above a volt (Clifton Laboratories, measuring note).
        Assert.InRange(-Reverse("5V1", -3), 1.0, 2.5);
        Assert.InRange(Forward(PartCatalogue.Standard.FindDiode("1N5711", DiodeKind.Schottky)!, 1), 1.0, 3.0);
    }

    public static TheoryData<string, DiodeKind> Diodes => [.. PartCatalogue.Standard.Diodes.Select(d => (d.Name, d.Kind))];

    // The sheet of each type, as DiodeCatalogue and ZenerCatalogue name it.
    [Theory, MemberData(nameof(Diodes))]
    public void Every_type_keeps_the_leakages_that_its_data_sheet_states_cold_and_hot(string name, DiodeKind kind)
    {
        var sheet = PartCatalogue.Standard.Diodes.First(d => d.Name == name && d.Kind == kind);
        foreach (var point in sheet.Points.Where(p => p.Kind == DataPointKind.Leakage))
        {
            double found = Leakage(PartCatalogue.Type(sheet), point.At, point.Celsius);
            Assert.InRange(found / point.Value, point.IsLimit ? 0 : 0.95, 1.05);
        }
    }

    [Theory]
    [InlineData("1N4007", DiodeKind.Junction, 1000, 100, 50e-6)] // Diodes Inc.: 50 µA at most at 100 °C
    [InlineData("1N4148", DiodeKind.Junction, 20, 150, 50e-6)]   // Panjit: 50 µA at most at 150 °C
    [InlineData("12V", DiodeKind.Zener, 9, 150, 2e-6)]           // BZX55: 2 µA at most at 150 °C
    public void Leakage_grows_with_temperature_and_keeps_the_limit_stated_hot(string name, DiodeKind kind, double volts, double celsius,
        double limit)
    {
        var type = PartCatalogue.Standard.FindDiode(name, kind)!;
        double last = 0;
        foreach (double at in (double[])[25, 60, 85, celsius])
        {
            double amps = Leakage(type, volts, at);
            Assert.InRange(amps, last, 1.05 * limit);
            last = amps;
        }
        Assert.InRange(last, 0.5 * limit, 1.05 * limit);
    }

    [Theory]
    [InlineData("red", DiodeKind.Led, 2e-3, -2e-3)]         // GaAsP (from memory)
    [InlineData("green", DiodeKind.Led, 2e-3, -2e-3)]       // GaP (from memory)
    [InlineData("1N4148", DiodeKind.Junction, 1e-3, -2e-3)] // silicon at a milliampere (common practice, no source)
    public void A_forward_voltage_falls_by_about_two_millivolts_a_kelvin(string name, DiodeKind kind, double amps, double perKelvin)
    {
        var type = PartCatalogue.Standard.FindDiode(name, kind)!;
        Assert.InRange((Forward(type, amps, 85) - Forward(type, amps)) / 60 / perKelvin, 0.75, 1.25);
    }

    [Fact]
    public void A_hot_indicator_carries_next_to_nothing_below_its_light()
    {
        // A limit on the reverse leakage, 10 µA at 5 V, is no resistance that conducts forward.
        var type = PartCatalogue.Standard.FindDiode("red", DiodeKind.Led)!;
        Assert.InRange(-Leakage(type, -0.78, 85), 0, 1e-6);
    }

    [Fact]
    public void A_fit_is_forgotten_with_its_sheet()
    {
        var sheet = new DiodeDataSheet("D", DiodeKind.Junction, [new(DataPointKind.ForwardVoltage, 0.6, 1e-3)], "this test");
        Assert.Same(PartCatalogue.Type(sheet), PartCatalogue.Type(sheet));
        var fit = Fitted();
        GC.Collect();
        GC.WaitForPendingFinalizers();
        GC.Collect();
        Assert.False(fit.IsAlive);

        [System.Runtime.CompilerServices.MethodImpl(System.Runtime.CompilerServices.MethodImplOptions.NoInlining)]
        static WeakReference Fitted() =>
            new(PartCatalogue.Type(new DiodeDataSheet("E", DiodeKind.Junction, [new(DataPointKind.ForwardVoltage, 0.7, 1e-3)],
                "this test")));
    }

    [Fact]
    public void Zeners_are_found_by_voltage_code_and_by_number_whatever_the_case()
    {
        Assert.NotNull(PartCatalogue.Standard.FindDiode("3v6", DiodeKind.Zener));
        Assert.NotNull(PartCatalogue.Standard.FindDiode("12V", DiodeKind.Zener));
        Assert.NotNull(PartCatalogue.Standard.FindDiode("1n4739a", DiodeKind.Zener));
        Assert.Null(PartCatalogue.Standard.FindDiode("1N4739A", DiodeKind.Schottky));
    }

    [Fact]
    public void Every_number_in_the_catalogue_names_its_source()
    {
        Assert.All(PartCatalogue.Standard.Diodes, d => Assert.All(PartCatalogue.Type(d).DataSheet, n => Assert.NotEmpty(n.Source)));
        Assert.All(PartCatalogue.Standard.OpAmps, o => Assert.NotEmpty(o.Source));
    }

    [Theory]
    [InlineData("3V6")]
    [InlineData("5V1")]
    public void A_half_watt_zener_drops_no_more_at_its_surge_current_than_its_surge_power_allows(string name)
    {
        // Sheets of the BZX84 and BZX79 series (from memory): 6 A and 40 W for 100 µs up to 6.8 V, so 6.7 V at most; and no less than
        // at a hundredth of that.
        double volts = Reverse(name, 6);
        Assert.InRange(volts, Reverse(name, 0.06), 40.0 / 6);
    }

    private static double Reverse(string name, double amps) =>
        -Forward(PartCatalogue.Standard.FindDiode(name, DiodeKind.Zener)!, -amps);

    private static double Leakage(DiodeType type, double volts, double celsius) => -new Circuit(
        [new VoltageSource("V", "K", Circuit.Ground, volts), new Diode("D", Circuit.Ground, "K", type.Model)], celsius)
        .Compile().SolveOperatingPoint().Parts["D"].Amps;

    private static double Forward(DiodeType type, double amps, double celsius = 25) => new Circuit(
        [new CurrentSource("I", Circuit.Ground, "A", amps), new Diode("D", "A", Circuit.Ground, type.Model)], celsius)
        .Compile().SolveOperatingPoint().Nodes["A"];
}
