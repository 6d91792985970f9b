using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Check;

namespace FrontEndSim.FrontEnds.Tests.Studies;

/// <summary>Requirements against what a divider, an RC filter and a clamp do on paper.</summary>
public class RequirementTests
{
    private const double Tolerance = 0.01;

    /// <summary>0 V to 9.9 V through a third onto a 13-bit converter of 6.6 V, which has room above 3.3 V; no part drifts.</summary>
    private static FrontEnd Divider(double seriesOhms = 0, double farads = 100e-9) => new()
    {
        Title = "Divider",
        Rails = [new Rail("VDD", new Toleranced(6.6, 0, 0))],
        Sensors = [new Sensor("source", "IN", new Span(0, 9.9), 0)],
        Parts =
        [
            new ResistorPart("R1", "IN", "TAP", new Toleranced(20e3, Tolerance, 0)),
            new ResistorPart("R2", "TAP", "GND", new Toleranced(10e3, Tolerance, 0)),
            new ResistorPart("R3", "TAP", "PIN", new Toleranced(Math.Max(seriesOhms, 1), 0, 0)),
            new CapacitorPart("C1", "PIN", "GND", new Toleranced(farads, 0.1)),
        ],
        Pins =
        [
            new Pin("adc", "PIN")
            {
                HasClamps = false,
                Farads = 5e-12,
                Converter = new Converter(13, new LevelSpan(new Level(null, 0), new Level("VDD", 0))),
                Wanted = new("source", new Span(0, 9.9), new Span(0, 3.3)),
            },
        ],
    };

    private static RequirementResult Judged(FrontEnd frontEnd, Requirement requirement) =>
        CheckStudy.Run(frontEnd with { Requirements = [requirement] }).Requirements.Single();

    private static double Found(FrontEnd frontEnd, Requirement requirement) => Judged(frontEnd, requirement).Found!.Value.Value;

    [Fact]
    public void On_every_board_a_divider_is_off_by_its_resistors_at_opposite_limits()
    {
        double high = 3 * 1.01 * 10 / (1.01 * 10 + 0.99 * 20) - 1;
        var result = Judged(Divider(), new MappingError("adc", 56, "") { Boards = new(null, false) });
        Assert.Equal(4096 * high + 0.5, result.Found!.Value.Value, 0.1);
        Assert.True(result.Met);
        Assert.False(Judged(Divider(), new MappingError("adc", 55, "") { Boards = new(null, false) }).Met);
        // The same in volts of the sensor.
        Assert.Equal((high + 0.5 / 4096) * 9.9, Found(Divider(), new ReadingError("adc", 1, "V", null, "")), 2e-4);
    }

    [Fact]
    public void On_95_percent_of_boards_the_difference_of_two_rectangular_tolerances_is_triangular()
    {
        // Two thirds of half the difference of two rectangular tolerances of 1 %: |x| of a triangle stays below 1 − √0.05 of its end on
        // 95 % of boards.
        double expected = 4096 * 2.0 / 3 * 2 * Tolerance * (1 - Math.Sqrt(0.05));
        var result = Judged(Divider(), new MappingError("adc", 100, "") { Boards = new(0.95, false) });
        Assert.Equal(expected, result.Found!.Value.Value, 0.02 * expected);
        Assert.Equal(result.Found!.Value.Value / 4096 * 9.9,
            Found(Divider(), new ReadingError("adc", 1, "V", null, "") { Boards = new(0.95, false) }), 1e-4);
    }

    [Fact]
    public void A_calibration_leaves_steps_and_noise_of_three_readings()
    {
        // A line through readings at a tenth and nine tenths: 9/8 and 1/8 of their half steps at the end, with that of the reading itself.
        double found = Found(Divider(), new MappingError("adc", 10, "") { Boards = new(null, true) });
        Assert.InRange(found, 0.5 * (1 + 9.0 / 8 + 1.0 / 8), 0.5 * (1 + 9.0 / 8 + 1.0 / 8) + 0.1);
        Assert.InRange(Found(Divider(), new ReadingError("adc", 1, "V", null, "") { Boards = new(null, true) }) / 9.9 * 4096, 1.12, 1.25);
    }

    [Fact]
    public void Settling_is_that_of_the_slowest_RC_that_its_tolerances_make()
    {
        // 100 kohm ±0 and 6.67 kohm of the divider at +1 %, 110 nF: RC·ln(3.3 V / 1 mV). R1 and R2 high raise the parallel value by 1 %.
        double tau = (100e3 + 6666.7 * 1.01) * (110e-9 + 5e-12), expected = tau * Math.Log(3.3 / 1e-3);
        var result = Judged(Divider(100e3), new SettlingTime("adc", new(1e-3, Unit.Volts), 1, ""));
        Assert.Equal(expected, result.Found!.Value.Value, 0.005 * expected);
        Assert.False(Judged(Divider(100e3), new SettlingTime("adc", new(1e-3, Unit.Volts), 0.95 * expected, "")).Met);
    }

    [Fact]
    public void Noise_behind_a_capacitor_is_that_of_its_charge()
    {
        // √(kT/C), Johnson and Nyquist 1928, whatever the resistance.
        double expected = Math.Sqrt(1.380649e-23 * 298.15 / (1e-9 + 5e-12));
        Assert.Equal(expected, Found(Divider(100e3, 1e-9), new NoiseUnder("adc", new(1, Unit.Volts), "")), 0.01 * expected);
        Assert.Equal(expected / (6.6 / 8192), Found(Divider(100e3, 1e-9), new NoiseUnder("adc", new(1, Unit.Count), "")), 1e-4);
    }

    [Fact]
    public void A_node_is_judged_over_the_span_at_the_ends_of_tolerances()
    {
        var result = Judged(Divider(), new NodeWithin("TAP", new Span(-0.1, 3.31), default, ""));
        // By hand: R1 low and R2 high.
        Assert.Equal(9.9 * 1.01 * 10 / (1.01 * 10 + 0.99 * 20), result.Found!.Value.Value, 1e-3);
        Assert.False(result.Met);
        Assert.True(Judged(Divider(), new NodeWithin("TAP", new Span(-0.1, 3.35), default, "")).Met);
        Assert.False(Judged(Divider(), new NodeWithin("TAP", new Span(0.1, 3.35), default, "")).Met);
    }

    [Fact]
    public void A_rail_takes_what_a_clamp_pushes_into_it_less_what_it_feeds()
    {
        var clamped = new FrontEnd
        {
            Title = "Clamp",
            Rails = [new Rail("VDD", new Toleranced(3.3, 0)) { SourceOnly = true, LoadAmps = 2e-3 }],
            Sensors = [new Sensor("source", "IN", new Span(0, 3), 10)],
            Parts =
            [
                new ResistorPart("R1", "IN", "TAP", 1e3) { RatedWatts = 5 },
                new DiodePart("D1", "TAP", "VDD", PartCatalogue.Standard.FindDiode("1N4148", DiodeKind.Junction)!),
                new ResistorPart("R2", "VDD", "GND", 3.3e3),
            ],
            Events = [new("24 V", "IN", new StepTo(24, 1, 1e-3))],
        };
        // (24 − 3.3 − 0.75 ± 0.1) V over 1001 ohm, less the milliampere that R2 draws; what the supply's load draws is part of what it
        // takes.
        double expected = (24 - 3.3 - 0.75) / 1001 - 1e-3;
        Assert.Equal(expected, Found(clamped, new RailTakes("VDD", 30e-3, new(true, null), "")), 0.15e-3);
        Assert.Equal(0, Found(clamped, new RailTakes("VDD", 30e-3, default, "")));
        Assert.False(Judged(clamped, new RailTakes("VDD", 18e-3, new(false, "24 V"), "")).Met);
    }
}
