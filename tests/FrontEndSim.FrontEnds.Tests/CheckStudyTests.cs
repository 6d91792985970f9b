using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies;
using FrontEndSim.FrontEnds.Studies.Check;

namespace FrontEndSim.FrontEnds.Tests;

public class CheckStudyTests
{
    private static readonly FaultEvent Surge = new("surge on the cable", "LEVEL", new Surge(SurgeShape.Known[0], 200, 42));
    private static readonly FaultEvent Fault = new("24 V on the terminal", "IN", new StepTo(24, 1, 1e-3, 50e-3));

    private static CheckResult Check(FrontEnd frontEnd, params Requirement[] requirements) =>
        CheckStudy.Run(frontEnd with { Events = [Fault, Surge], Requirements = [.. requirements] });

    [Fact]
    public void A_guarded_front_end_meets_its_requirements_with_margins_in_units()
    {
        var frontEnd = FrontEndOf.Of(FrontEndOf.Shifter(), FrontEndOf.Guard(("from.input", "LEVEL"), ("series.value", FrontEndOf.Ohm(4700)),
            ("shunt.value", new Quantity(10e-9, Unit.Farad)), ("schottky.type", "1N5817"), ("schottky-high.type", "1N5817"),
                ("schottky-high.rail", "VDD")));
        // Amperes into the output of its op amp would destroy that: the surge comes where the cable ends.
        var result = CheckStudy.Run(frontEnd with
        {
            Events = [Fault, Surge with { Node = "IN" }],
            Requirements = [new InsideRating("adc", null, "adc inside rating in every event"),
                new MappingError("adc", 40, "adc mapping error under 40 counts"), new Headroom("shift", 0.5, "shift headroom over 0.5 V")],
        });
        Assert.True(result.AllMet, string.Join("\n", result.Requirements.Select(r => r.Reason)));
        Assert.All(result.Requirements, r => Assert.True(r.Margin?.Value > 0));
        Assert.All(result.Requirements, r => Assert.Empty(r.Candidates));
        Assert.Equal(Unit.Volts, result.Requirements[2].Margin!.Value.Unit);
        Assert.NotEmpty(result.Cautions);
    }

    [Fact]
    public void A_zener_that_bends_the_mapping_is_named_with_what_the_error_would_be_without_it()
    {
        var frontEnd = FrontEndOf.Of(FrontEndOf.Shifter(),
            FrontEndOf.Guard(("from.input", "LEVEL"), ("series.value", FrontEndOf.Ohm(4700)), ("zener.type", "3V6")));
        var result = Check(frontEnd, new MappingError("adc", 4, "adc mapping error under 4 counts")).Requirements[0];
        Assert.False(result.Met);
        Assert.Equal(("guard.Dz", "3V6"), Assert.IsType<MappingReason>(result.Reason)
            .Cause is { Part: var part } ? (part.Name, part.ValueText) : default);
        Assert.Equal((MendKind.HigherZener, "guard.Dz"), (result.Candidates[0].Kind, result.Candidates[0].Subject));
    }

    [Fact]
    public void A_rail_that_a_clamp_lifts_is_not_met_and_one_that_an_event_strikes_is_warned_of()
    {
        var frontEnd = FrontEndOf.Of(FrontEndOf.Guard(("from.input", "LEVEL"), ("series.value", FrontEndOf.Ohm(1000)),
            ("schottky-high.type", "1N5817"), ("schottky-high.rail", "VDD"))) with
        {
            Rails = [FrontEndOf.Plus, FrontEndOf.Minus, FrontEndOf.Supply with { SourceOnly = true, SeriesOhms = 0.1 }],
            Sensors = [new Sensor("probe", "LEVEL", new Span(0, 3.3), 100e3)],
            Parts = [new ResistorPart("Rload", "VDD", Circuit.Ground, 330), new CapacitorPart("Cdd", "VDD", Circuit.Ground, 100e-9)],
            Events = [new("24 V", "LEVEL", new StepTo(24, 1, 1e-3, 50e-3))],
        };
        // By hand: (24 − 0.3) V · 330 / 1331 = 5.9 V.
        var unrated = frontEnd with
        {
            Pins = [frontEnd.Pins[0] with
            { Supply = "VDD", RatedLow = null, RatedHigh = null, InjectionAmps = null }]
        };
        var lifted = CheckStudy.Run(unrated);
        var judged = lifted.Implied.Single(r => r.Requirement is RailsInRange);
        Assert.Equal((Verdict.NotMet, "VDD"), (judged.Verdict, Assert.IsType<RailLiftReason>(judged.Reason).Rail));
        // 10 mA through 0.1 ohm.
        Assert.Equal(3.299, lifted.Events[0].Rails.Single(r => r.Rail.Name == "VDD").AtRest, 1e-3);
        Assert.Equal(5.9, judged.Found!.Value.Value, 0.06);
        Assert.Equal(3.63, judged.Limit!.Value.Value, 1e-9);
        Assert.Empty(lifted.Warnings.OfType<RailDriven>());
        var stood = CheckStudy.Run(unrated with
        {
            Rails =
            [.. unrated.Rails.Select(r => r.Name == "VDD" ? r with { RatedVolts = 6.5 } : r)]
        });
        Assert.True(stood.Implied.Single(r => r.Requirement is RailsInRange).Met);

        // In two events it is said once, of the worse one; and not again where the rating of a pin has said it of the rail's own pin.
        var twice = unrated with { Events = [.. frontEnd.Events, new("30 V", "LEVEL", new StepTo(30, 1, 1e-3, 50e-3))] };
        var worse = Assert.IsType<RailLiftReason>(CheckStudy.Run(twice).Implied.Single(r => r.Requirement is RailsInRange).Reason);
        Assert.Equal(("30 V", 1), (worse.Where.Event, worse.OtherEvents));
        var required = CheckStudy.Run(twice with
        {
            Pins = frontEnd.Pins,
            Requirements = [new InsideRating("adc", null, "adc inside rating in every event")]
        });
        Assert.True(Assert.IsType<PinReason>(Assert.Single(required.Requirements).Reason).Exposure.SupplyMarginVolts < 0);
        Assert.Empty(required.Warnings.OfType<RailDriven>());

        var struck = CheckStudy.Run(unrated with { Events = [new("6 V", "VDD", new StepTo(6, 1, 1e-3, 50e-3))] });
        Assert.Equal(6, Assert.Single(struck.Warnings.OfType<RailDriven>()).Volts, 0.1);
    }

    [Fact]
    public void A_part_beyond_its_rating_is_not_met_though_nobody_asked_and_said_once()
    {
        // 24 V and 30 V behind 1 ohm on 100 ohm, lasting: 5.6 W and 8.8 W (Ohm's law), of a quarter of a watt.
        var frontEnd = FrontEndOf.Of() with
        {
            Sensors = [new Sensor("probe", "IN", new Span(0, 3), 1000)],
            Parts = [new ResistorPart("R1", "IN", Circuit.Ground, 100) { RatedWatts = 0.25 }, new ResistorPart("R2", "IN", "PIN", 100e3)],
            Events = [new("24 V", "IN", new StepTo(24, 1, 1e-3)), new("30 V", "IN", new StepTo(30, 1, 1e-3))],
        };
        var check = CheckStudy.Run(frontEnd);
        Assert.Equal(Verdict.NotMet, check.Verdict);
        var beyond = Assert.Single(Assert.IsType<PartsReason>(check.Implied.Single(r => r.Requirement is PartsInsideRating).Reason).Beyond);
        Assert.Equal(("R1", "30 V", 1), (beyond.Part.Part, beyond.Where.Event, beyond.OtherEvents));

        // What a person accepts, with a reason, counts no more, and is listed.
        AcceptedStress Accept(string fault) => new("R1", "power", fault, "fused");
        var accepted = CheckStudy.Run(frontEnd with { Accepted = [Accept("24 V"), Accept("30 V")], Pins = [new Pin("adc", "PIN")] });
        Assert.Equal(Verdict.Met, accepted.Verdict);
        Assert.Equal(8.82, accepted.Accepted[1].Load!.Found.In(Unit.Watt), 0.02);
    }

    [Fact]
    public void A_wire_maps_without_error()
    {
        // A wire: 1 ohm into nothing but the pin's picoamperes.
        var frontEnd = FrontEndOf.Of() with { Sensors = [new Sensor("probe", "PIN", new Span(0, 3.3), 1)] };
        var result = CheckStudy.Run(frontEnd with { Requirements = [new MappingError("adc", 1, "")] }).Requirements[0];
        Assert.True(result.Met);
        Assert.InRange(result.Found!.Value.In(Unit.Count), 0, 1e-3);
    }

    [Fact]
    public void Values_that_no_series_offers_finer_are_told_apart_from_parts_that_spoil_the_mapping()
    {
        var frontEnd = FrontEndOf.Of(FrontEndOf.Shifter(FrontEndOf.ShifterSettings(series: "E12")),
            FrontEndOf.Guard(("from.input", "LEVEL"), ("series.value", FrontEndOf.Ohm(100))));
        var result = CheckStudy.Run(frontEnd with { Requirements = [new MappingError("adc", 4, "")] }).Requirements[0];
        Assert.False(result.Met);
        Assert.Equal((MendKind.FinerValues, "shift"), (result.Candidates[0].Kind, result.Candidates[0].Subject));
    }

    [Fact]
    public void A_headroom_that_is_short_names_the_rail_and_by_how_much()
    {
        var result = Check(FrontEndOf.Guarded(), new Headroom("shift", 5, "shift headroom over 5 V")).Requirements[0];
        Assert.False(result.Met);
        Assert.Equal(1.3, result.Candidates[0].To!.Value.In(Unit.Volts), 0.05);
    }

    [Fact]
    public void An_unguarded_pin_fails_and_is_told_to_get_a_guard()
    {
        var bare = FrontEndOf.Of() with { Sensors = [new Sensor("probe", "PIN", new Span(0, 3.3), 1000)] };
        var result = CheckStudy.Run(bare with
        {
            Events = [new("24 V", "PIN", new StepTo(24, 1, 1e-3, 50e-3))],
            Requirements = [new InsideRating("adc", null, "adc inside rating")],
        }).Requirements[0];
        Assert.False(result.Met);
        Assert.Equal(MendKind.GuardPinAbove, result.Candidates[0].Kind);
    }

    [Fact]
    public void A_requirement_on_an_unknown_pin_names_the_pins_known()
    {
        var problem = Assert.Throws<StudyProblemException>(() => Check(FrontEndOf.Guarded(), new MappingError("adx", 4, "")));
        Assert.Equal((ProblemKind.NoSuch, "adx", "adc"),
            (problem.Problem.Kind, problem.Problem.Subject, Assert.Single(problem.Problem.Known)));
    }
}
