using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies.Events;

namespace FrontEndSim.FrontEnds.Tests.Parts;

public sealed class RatingTests
{
    private static RatingStress Stress(Part part, double volts, double seconds, RatingKind kind, bool ends = false)
    {
        var frontEnd = new FrontEnd
        {
            Sensors = [new Sensor("probe", "IN", new(0, 1), 1e6)],
            Parts = [part],
            Events = [new("step", "IN", new StepTo(volts, 1e-3, 1e-3, seconds) { IsBrief = ends })],
        };
        return EventStudy.Run(frontEnd, frontEnd.Events[0]).Parts.Single().Stresses.Single(s => s.Rating.Kind == kind);
    }

    [Theory]
    [InlineData(1e-3, 0.1)] // 10 A through 1 ohm for 1 ms are 0.1 A²s
    [InlineData(5e-3, 0.5)]
    public void A_fuse_adds_up_the_square_of_its_current(double seconds, double integral)
    {
        var fuse = new FusePart("F1", "IN", Circuit.Ground, 1) { Ohms = 1, MeltingIntegral = 0.4 };
        // I²t by hand: (10 V / 1.001 ohm)²·t.
        var stress = Stress(fuse, 10, seconds, FusePart.Melting);
        Assert.Equal(integral, stress.Found, 0.02 * integral);
        Assert.Equal(integral > 0.4, stress.Share > 1);
    }

    [Fact]
    public void A_fuse_of_two_amperes_carries_three_for_a_tenth_of_a_second_and_not_for_ever()
    {
        var fuse = new FusePart("F1", "IN", Circuit.Ground, 2) { Ohms = 1, MeltingIntegral = 10 };
        // Effective over a second: 3 A·√0.1 = 0.95 A, and 3 A after a second.
        Assert.Equal(3 * Math.Sqrt(0.1) / 2, Stress(fuse, 3, 0.1, RatingKind.Current, ends: true).Share, 0.02);
        Assert.Equal(1.5, Stress(fuse, 3, 0.1, RatingKind.Current).Share, 0.02);
        Assert.Equal(1.5, Stress(fuse, 3, 2, RatingKind.Current).Share, 0.02);
    }

    [Theory]
    [InlineData("chip-0603", 75, 150)] // Royal Ohm, Multicomp: working and overload voltage
    [InlineData("chip-1206", 200, 400)]
    public void A_chip_resistor_keeps_its_working_voltage_for_ever_and_its_overload_voltage_for_seconds(string size, double working,
        double overload)
    {
        var chip = new ResistorPart("R1", "IN", Circuit.Ground, 1e6) { Size = ResistorSize.Find(size) };
        var rating = chip.Ratings().Single(r => r.Kind == RatingKind.Voltage);
        Assert.Equal(working, rating.Limit);
        Assert.Equal(overload, rating.LimitFor(1));
        Assert.True(Stress(chip, 1.2 * overload, 1e-3, RatingKind.Voltage).Share > 1);
    }

    [Fact]
    public void Power_falls_with_the_ambient_temperature()
    {
        // Film resistors: all of it at 70 °C, nothing at 155 °C; a junction: in a straight line from 25 °C to its highest temperature.
        var resistor = new ResistorPart("R1", "A", "B", 1e3);
        Assert.Equal(0.25, resistor.Ratings(70)[0].Limit, 1e-12);
        Assert.Equal(0.125, resistor.Ratings(112.5)[0].Limit, 1e-12);
        var diode = new DiodePart("D1", "A", "B", PartCatalogue.Standard.FindDiode("1N4148", DiodeKind.Junction)!);
        Assert.Equal(0.5, diode.Ratings()[0].Limit, 1e-12);
        Assert.Equal(0.25, diode.Ratings(100)[0].Limit, 1e-12);
    }

    [Fact]
    public void A_surge_rating_follows_from_a_half_sine_of_8_milliseconds()
    {
        // 1N4007: 30 A, 8.3 ms half sine is I²t = 3.74 A²s (Rectron data sheet).
        var diode = new DiodePart("D1", "A", "B", PartCatalogue.Standard.FindDiode("1N4007", DiodeKind.Junction)!);
        var surge = diode.Ratings().Single(r => r.Kind == RatingKind.PeakCurrent);
        foreach (double seconds in (double[])[1e-3, 3e-3, 8.3e-3])
            Assert.Equal(3.74, surge.LimitFor(seconds) * surge.LimitFor(seconds) * seconds, 0.02);
    }

    [Fact]
    public void An_op_amp_s_input_taken_beyond_its_supply_passes_current_through_its_own_diode()
    {
        // CMOS classes: ±2 mA (Microchip MCP600x). (24 − 5 − 0.7) V / 4.7 kohm is 3.9 mA.
        var frontEnd = new FrontEnd
        {
            Rails = [new Rail("VDD", 5)],
            Sensors = [new Sensor("probe", "IN", new(0, 5), 1e6)],
            Parts =
            [
                new ResistorPart("R1", "IN", "A", 4700),
                new OpAmpPart("U1", "A", "OUT", "OUT", "VDD", Circuit.Ground, PartCatalogue.Standard.FindOpAmp("rail-to-rail-cmos")!),
            ],
            Events = [new("24 V", "IN", new StepTo(24, 1, 1e-3, 10e-3))],
        };
        var stress = EventStudy.Run(frontEnd, frontEnd.Events[0]).Parts.Single(p => p.Part.Name == "U1")
            .Stresses.Single(s => s.Rating.Kind == RatingKind.InputCurrent);
        Assert.Equal(3.9e-3, stress.Found, 0.1e-3);
        Assert.Equal(2e-3, stress.Limit);
    }

    [Fact]
    public void An_op_amp_s_output_taken_beyond_its_supply_passes_current_through_its_own_diode_and_warms_it()
    {
        // (12 − 5 − 0.7 − 25 ohm · i) V / 100 ohm less the 23 mA that the output stage sinks: i = (6.3 − 2.3) V / 125 ohm = 32 mA.
        var frontEnd = new FrontEnd
        {
            Rails = [new Rail("VDD", 5) { Sinks = true, SourceOnly = false }],
            Sensors = [new Sensor("probe", "IN", new(0, 5), 1e3)],
            Parts =
            [
                new OpAmpPart("U1", "IN", "FB", "OUT", "VDD", Circuit.Ground, PartCatalogue.Standard.FindOpAmp("rail-to-rail-cmos")!),
                new ResistorPart("R1", "OUT", "LINE", 100), new ResistorPart("R2", "OUT", "FB", 10e3),
            ],
            Events = [new("12 V", "LINE", new StepTo(12, 0.1, 1e-3, 10e-3))],
        };
        var stresses = EventStudy.Run(frontEnd, frontEnd.Events[0]).Parts.Single(p => p.Part.Name == "U1").Stresses;
        var forced = stresses.Single(s => s.Rating.Kind == RatingKind.OutputCurrent);
        Assert.Equal(32e-3, forced.Found, 2e-3);
        Assert.Equal(10e-3, forced.Limit);
        // 23 mA from 6.6 V to ground are 0.15 W, 32 mA over 0.8 V and 25 ohm 0.05 W.
        Assert.Equal(0.2, stresses.Single(s => s.Rating.Kind == RatingKind.Power).Found, 0.01);
    }
}
