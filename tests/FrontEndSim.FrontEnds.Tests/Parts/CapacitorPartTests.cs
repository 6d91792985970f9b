using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies.Bias;
using FrontEndSim.FrontEnds.Studies.Events;

namespace FrontEndSim.FrontEnds.Tests.Parts;

/// <summary>What a dielectric does to a capacitor, and what it stands.</summary>
public class CapacitorPartTests
{
    private static CapacitorPart Ceramic(double farads, double rated, string? size) => new("C1", "A", Circuit.Ground, farads)
    {
        RatedVolts = rated,
        Dielectric = CapacitorDielectric.Find("X7R"),
        Size = size is null ? null : CapacitorSize.Find(size),
    };

    // What makers' curves show of single parts (from memory, to a factor of two): held to ten points, and to twice or half of the loss.
    [Theory]
    [InlineData(100e-9, 50, "chip-0603", 5, 2)]
    [InlineData(100e-9, 50, "chip-0603", 12, 10)]
    [InlineData(100e-9, 50, "chip-0603", 24, 40)]
    [InlineData(100e-9, 16, "chip-0402", 12, 40)]
    [InlineData(1e-6, 25, "chip-0603", 12, 55)]
    [InlineData(1e-6, 25, "chip-0603", 24, 80)]
    [InlineData(1e-6, 25, "chip-0805", 12, 30)]
    [InlineData(1e-6, 25, "chip-0805", 24, 60)]
    [InlineData(10e-6, 10, "chip-0603", 5, 60)]
    [InlineData(10e-6, 25, "chip-1206", 12, 45)]
    [InlineData(10e-6, 25, "chip-1206", 24, 75)]
    public void A_ceramic_of_class_2_loses_by_its_voltage_what_makers_curves_show(double farads, double rated, string size, double volts,
        double percent)
    {
        double lost = 100 * (1 - Farads(Ceramic(farads, rated, size), volts) / farads);
        Assert.InRange(lost, percent - 10, percent + 10);
        Assert.InRange(lost, 0.5 * percent, 2 * percent);
    }

    [Fact]
    public void A_ceramic_of_no_known_size_keeps_a_quarter_at_its_rated_voltage_and_c0g_all() =>
        Assert.Multiple(() => Assert.InRange(Farads(Ceramic(1e-6, 25, null), 25), 0.2e-6, 0.3e-6),
            () => Assert.Equal(1e-6, Farads(Ceramic(1e-6, 25, null) with { Dielectric = CapacitorDielectric.Find("c0g") }, 25), 1e-8));

    // A step of half a volt about the voltage, through 1 kohm: the charge that flows over the step. Voltages are solved to 1e-5 of 25 V,
    // which over
    // 1 kohm and 20 ms are 5 nC, a hundredth of it.
    private static double Farads(CapacitorPart part, double volts)
    {
        const double step = 0.5;
        var run = new Circuit([new VoltageSource("V", "IN", Circuit.Ground,
            new Engine.Waveforms.Step(volts - step / 2, volts + step / 2, 1e-6, 1e-9)),
            new Resistor("R", "IN", "A", 1e3), .. part.ToElements()]).Compile().RunTransient(20 * 1e3 * part.Farads.Value + 2e-6);
        return run.Current("R").Integral() / step;
    }

    // Makers' guides to tantalum capacitors: a tenth of the rated voltage and no more than 1 V at 25 °C, 3 % and 0.5 V at 85 °C, 1 % and
    // 0.1 V at 125 °C (from memory); IEC 60384-4 for wet ones: 1 V (from memory).
    [Theory]
    [InlineData("tantalum", 25, 25, 1)]
    [InlineData("tantalum", 6.3, 25, 0.63)]
    [InlineData("tantalum", 25, 85, 0.5)]
    [InlineData("tantalum", 6.3, 85, 0.189)]
    [InlineData("tantalum", 6.3, 125, 0.063)]
    [InlineData("electrolytic", 6.3, 25, 1)]
    [InlineData("electrolytic", 100, 85, 1)]
    public void A_polarised_capacitor_stands_little_in_reverse(string dielectric, double rated, double celsius, double reverse)
    {
        var part = new CapacitorPart("C1", "A", "B", 1e-6) { RatedVolts = rated, Dielectric = CapacitorDielectric.Find(dielectric) };
        Assert.Equal(reverse, part.Ratings(celsius).Single(r => r.Kind == RatingKind.ReverseVoltage).Limit, 1e-9);
        Assert.DoesNotContain(new CapacitorPart("C1", "A", "B", 1e-6).Ratings(celsius), r => r.Kind == RatingKind.ReverseVoltage);
    }

    // IEC 60384-4: 0.01·C·V or 3 uA, the larger; -15: the same or 0.5 uA; -21 and -22: 10 Gohm, 4 Gohm or 100 s, the smaller; -2: 15 Gohm
    // or 5000 s (all from memory).
    [Theory]
    [InlineData("electrolytic", 10e-6, 16, 16 / 3e-6)]
    [InlineData("electrolytic", 1e-3, 16, 16 / 160e-6)]
    [InlineData("tantalum", 1e-6, 25, 25 / 0.5e-6)]
    [InlineData("tantalum", 100e-6, 10, 10 / 10e-6)]
    [InlineData("x7r", 1e-9, 50, 4e9)]
    [InlineData("x7r", 10e-6, 10, 10e6)]
    [InlineData("c0g", 100e-12, 50, 10e9)]
    [InlineData("film", 1e-6, 63, 5e9)]
    public void A_capacitor_leaks_as_much_as_the_standard_of_its_kind_allows(string dielectric, double farads, double rated, double ohms)
    {
        var part = new CapacitorPart("C1", "A", "B", farads) { RatedVolts = rated, Dielectric = CapacitorDielectric.Find(dielectric) };
        var leakage = part.ErrorSources(new()).Single();
        Assert.Equal(ohms, leakage.Apply(double.PositiveInfinity, leakage.Distribution.High, 0), 1e-6 * ohms);
        Assert.Equal(double.PositiveInfinity, leakage.Apply(double.PositiveInfinity, leakage.Distribution.Low, 0));
        Assert.Equal(ohms / 8, leakage.Apply(double.PositiveInfinity, leakage.Distribution.High, 60), 1e-6 * ohms);
        Assert.Empty((part with { LeakageOhms = 1e9 }).ErrorSources(new()));
    }

    // IEC 60384-15: two thirds of it at 125 °C, all at 85 °C; IEC 60384-2: 1.25 %/K above 85 °C (both from memory).
    [Theory]
    [InlineData("tantalum", 85, 1)]
    [InlineData("tantalum", 125, 2.0 / 3)]
    [InlineData("film", 105, 0.75)]
    [InlineData("x7r", 125, 1)]
    public void The_rated_voltage_falls_with_the_temperature(string dielectric, double celsius, double share) =>
        Assert.Equal(share * 50, new CapacitorPart("C1", "A", "B", 1e-6) { Dielectric = CapacitorDielectric.Find(dielectric) }
            .Ratings(celsius)[0].Limit, 1e-9);

    [Fact]
    public void A_slow_rectifier_beside_the_mains_carries_what_the_stray_capacitance_lets_through_and_no_spike()
    {
        // 230 V·√2·2π·50 Hz·1 nF = 102 µA, whatever charge the rectifier stores.
        var frontEnd = new FrontEnd
        {
            Sensors = [new Sensor("probe", "IN", new(0, 3), 10e6)],
            Parts =
            [
                new DiodePart("D1", "IN", "OUT", PartCatalogue.Standard.FindDiode("1N4007", DiodeKind.Junction)!),
                new CapacitorPart("C1", "OUT", Circuit.Ground, 10e-6), new ResistorPart("R1", "OUT", Circuit.Ground, 10e3),
                new DiodePart("D2", Circuit.Ground, "IN", PartCatalogue.Standard.FindDiode("1N4148", DiodeKind.Junction)!),
            ],
            Events = [new("beside the mains", "IN", new MainsPickUp(230, 50, 1e-9))],
        };
        var stress = EventStudy.Run(frontEnd, frontEnd.Events[0]).Parts;
        Assert.All(stress.Where(s => s.Part is DiodePart), s => Assert.Equal(102e-6, s.PeakAmps, 3e-6));
    }

    [Fact]
    public void An_amplifier_with_its_inputs_swapped_is_shown_where_it_latches()
    {
        // Positive feedback: it balances at 0 V, where no meter reads it, and leaves for its swing limits, 9 V less 1.5 V.
        var frontEnd = new FrontEnd
        {
            Rails = [new Rail("VP", 9), new Rail("VN", -9)],
            Sensors = [new Sensor("probe", "IN", new(-1, 1), 220)],
            Parts =
            [
                new OpAmpPart("U1", "FB", "IN", "OUT", "VP", "VN", PartCatalogue.Standard.FindOpAmp("jfet-input")!),
                new ResistorPart("R1", "OUT", "FB", 10e3), new ResistorPart("R2", "FB", Circuit.Ground, 10e3),
            ],
        };
        var bias = BiasStudy.Run(frontEnd, cancel: TestContext.Current.CancellationToken);
        Assert.Equal(2, bias.SettlesTo);
        Assert.Equal(7.5, Math.Abs(bias.NodeVolts["OUT"]), 0.1);
    }
}
