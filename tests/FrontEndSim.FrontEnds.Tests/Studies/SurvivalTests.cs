using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Tests.Studies;

public class SurvivalTests
{
    // FRONTENDSIM_SURVIVAL_CIRCUITS=1000 for the long run; FRONTENDSIM_SURVIVAL_FROM=300 goes on from the 300th.
    private static readonly int Circuits = int.TryParse(Environment.GetEnvironmentVariable("FRONTENDSIM_SURVIVAL_CIRCUITS"), out int n)
        ? n : 8;
    private static readonly int From = int.TryParse(Environment.GetEnvironmentVariable("FRONTENDSIM_SURVIVAL_FROM"), out int n) ? n : 0;

    /// <summary>A guard of random values near the limits of its pin: clamps or a zener, rails of some tolerance, a range of
    /// temperature.</summary>
    internal static FrontEnd Random(int seed)
    {
        var random = new Random(seed);
        double Pick(params double[] values) => values[random.Next(values.Length)];
        List<Part> parts = [new ResistorPart("R1", "IN", "PIN", Pick(1e3, 2.2e3, 4.7e3, 10e3, 22e3)) { RatedWatts = Pick(0.1, 0.25, 0.5) }];
        bool isZener = random.Next(2) == 0;
        if (isZener)
            parts.Add(new DiodePart("Z1", Circuit.Ground, "PIN",
                PartCatalogue.Standard.FindDiode(random.Next(2) == 0 ? "3V3" : "3V6", DiodeKind.Zener)!));
        else
            parts.Add(new DiodePart("D1", "PIN", "VDD", random.Next(2) == 0
                ? PartCatalogue.Standard.FindDiode("1N5711", DiodeKind.Schottky)!
                    : PartCatalogue.Standard.FindDiode("1N4148", DiodeKind.Junction)!));
        if (random.Next(2) == 0)
            parts.Add(new ResistorPart("RL", "VDD", Circuit.Ground, Pick(330, 1e3, 3.3e3)));
        return new FrontEnd
        {
            Rails = [new Rail("VDD", new Toleranced(3.3, Pick(0.02, 0.05))) { SourceOnly = random.Next(2) == 0, SeriesOhms = 0.1 }],
            Sensors = [new Sensor("probe", "IN", new Span(0, 3.3), 1e3)],
            Parts = [.. parts],
            Pins =
            [
                new Pin("adc", "PIN")
                {
                    RatedLow = new Level(null, -0.3), RatedHigh = new Level("VDD", Pick(0.3, 0.5)), InjectionAmps = random.Next(2) == 0
                        ? Pick(1e-3, 2e-3) : null,
                },
            ],
            CelsiusRange = new Span(-20, 60),
            Events = [new("fault", "IN", new StepTo(Pick(-24, 8, 12, 24), Pick(1, 50), 1e-3, 20e-3))],
        };
    }

    [Fact]
    public void A_zener_rises_by_its_own_heat_where_a_fault_lasts()
    {
        // 175 K/W, as nothing is left of a watt at 200 °C, and the temperature coefficient of its sheet, to where power and voltage agree.
        var zener = PartCatalogue.Standard.FindDiode("1N4742A", DiodeKind.Zener)!;
        var frontEnd = new FrontEnd
        {
            Sensors = [new Sensor("probe", "IN", new Span(0, 5), 1e3)],
            Parts = [new ResistorPart("R1", "IN", "PIN", 220) { RatedWatts = 2 }, new DiodePart("Z1", Circuit.Ground, "PIN", zener)],
            Pins = [new Pin("adc", "PIN") { RatedLow = new Level(null, -2), RatedHigh = new Level(null, 20), HasClamps = false }],
            Events = [new("fault", "IN", new StepTo(24, 1, 1e-3))],
        };
        double cold = EventStudy.Run(new SolvedFrontEnd(frontEnd), frontEnd.Events[0]).Pins[0].HighestVolts, warm = cold;
        for (int k = 0; k < 20; k++)
            warm = cold * (1 + zener.Model.BreakdownTempCo * 175 * warm * (24 - warm) / 220);
        double found = new SolvedFrontEnd(frontEnd).Survival(frontEnd.Events[0], TestContext.Current.CancellationToken).Runs[0]
            .Pins[0].HighestVolts;
        Assert.True(warm > 1.05 * cold);
        Assert.Equal(warm, found, 0.01 * cold);
    }

    [Fact]
    public void The_worst_circumstance_found_gives_the_verdict_that_trying_all_of_them_gives()
    {
        var cancel = TestContext.Current.CancellationToken;
        for (int seed = From; seed < From + Circuits; seed++)
        {
            var frontEnd = Random(seed);
            var found = new SolvedFrontEnd(frontEnd).Survival(frontEnd.Events[0], cancel).Runs;
            Assert.All(found, r => Assert.Null(r.Problem));
            var torn = frontEnd.Events[0] with { Disturbance = frontEnd.Events[0].Disturbance.TearOff(frontEnd.Sensors[0].SourceOhms)! };
            var all = All(frontEnd).SelectMany(x => new[]
                { frontEnd.Events[0], torn }.Select(e => EventStudy.Run(new SolvedFrontEnd(x.FrontEnd), e, sensorValue: x.Sensors,
                    cancel: cancel))).ToArray();
            Assert.True(all.All(e => e.Pins[0].IsInside) == found.All(r => r.Pins[0].IsInside), $"pin of circuit {seed}");
            foreach (var part in frontEnd.AllParts)
            {
                bool keeps = all.All(e => e.Parts.Single(p => p.Part.Name == part.Name).Share is null or <= 1);
                Assert.True(keeps == found.All(r => r.Loads.Where(l => l.Part == part.Name).All(l => l.Share <= 1)),
                    $"{part.Name} of circuit {seed}");
            }
        }
    }

    /// <summary>24 V of no resistance beside a divider that stands at mid-supply: a current of pin clamps that do not conduct is no reason
    /// to try each part, nor is a rail that its supply holds.</summary>
    private static FrontEnd Divider(double injectionAmps, double eventVolts) => new()
    {
        Rails = [new Rail("VDD", new Toleranced(3.3, 0.05)) { SourceOnly = true, LoadAmps = 0.1 }],
        Sensors = [new Sensor("probe", "IN", new Span(0, 1), 1e3)],
        Parts = [new ResistorPart("R1", "IN", "PIN", new Toleranced(10e3, 0.01)), new ResistorPart("R2", "PIN", Circuit.Ground, 10e3)],
        Pins =
        [
            new Pin("adc", "PIN")
            {
                InjectionAmps = injectionAmps, RatedLow = new Level(null, -0.5), RatedHigh = new Level("VDD", 0.5),
            },
        ],
        Events = [new("fault", "IN", new StepTo(eventVolts, 1, 1e-3, 5e-3))],
    };

    [Theory]
    [InlineData(2.0, false)] // 1 V at the pin: the clamps are off
    [InlineData(10.0, true)] // 5 V without clamps: about 0.3 mA of 1 mA into the upper one
    public void Tolerances_of_parts_are_tried_where_the_clamps_of_a_pin_carry_some_of_their_rating(double eventVolts, bool isTried)
    {
        var frontEnd = Divider(1e-3, eventVolts);
        var runs = new SolvedFrontEnd(frontEnd).Survival(frontEnd.Events[0], TestContext.Current.CancellationToken).Runs;
        Assert.Equal(isTried, runs.Any(r => r.Where.Ends.Any(e => e.Subject == "R1")));
    }

    /// <summary>Every combination of ends and middles of temperature, sensor, rail and the voltage of a zener or a diode.</summary>
    private static IEnumerable<(FrontEnd FrontEnd, ImmutableDictionary<string, double> Sensors)> All(FrontEnd frontEnd)
    {
        var rail = frontEnd.Rails[0];
        // A zener's voltage, or how much a diode drops.
        var zener = frontEnd.AllParts.FirstOrDefault(p => p.AtLimit(true) is not null)
            ?? frontEnd.AllParts.FirstOrDefault(p => p.AtTolerance(true) is not null);
        foreach (double celsius in new[] { -20.0, frontEnd.Celsius, 60 })
        {
            foreach (double? volts in new double?[] { rail.Volts.Least, null, rail.Volts.Most })
            {
                foreach (bool? high in zener is null ? new bool?[] { null } : [false, null, true])
                {
                    var at = frontEnd with { Celsius = celsius, Rails = [rail with { PresentVolts = volts }] };
                    if (high is { } end)
                        at = at.Replace(zener!, (zener!.AtLimit(end) ?? zener.AtTolerance(end))!.Value.Part);
                    foreach (double fraction in new[] { 0, 0.5, 1 })
                        yield return (at, ImmutableDictionary<string, double>.Empty.Add("probe", frontEnd.Sensors[0].Span.At(fraction)));
                }
            }
        }
    }

    [Fact]
    public void An_event_without_a_solution_does_not_hide_that_another_breaks_a_rating()
    {
        var frontEnd = Random(1) with
        {
            Events = [new("touches what is not there", "IN", new ShortTo("NOWHERE")),
            new("48 V", "IN", new StepTo(200, 1, 1e-3, 20e-3))]
        };
        Assert.Throws<StudyProblemException>(() => CheckStudy.Run(frontEnd, cancel: TestContext.Current.CancellationToken));
        var solvable = frontEnd with { Events = [frontEnd.Events[1]] };
        Assert.Equal(Verdict.NotMet, CheckStudy.Run(solvable, cancel: TestContext.Current.CancellationToken).Verdict);
    }

    [Fact]
    public void A_swapped_follower_is_unstable_and_a_right_one_is_not()
    {
        FrontEnd Follower(bool swapped) => new()
        {
            Rails = [new Rail("VP", 9), new Rail("VN", -9)],
            Sensors = [new Sensor("probe", "IN", new Span(-2, 2), 1000)],
            Parts =
            [
                new OpAmpPart("U1", swapped ? "OUT" : "IN", swapped ? "IN"
                    : "OUT", "OUT", "VP", "VN", PartCatalogue.Standard.FindOpAmp("jfet-input")!),
                new ResistorPart("RL", "OUT", Circuit.Ground, 10e3),
            ],
        };
        var right = CheckStudy.Run(Follower(false), cancel: TestContext.Current.CancellationToken)
            .Implied.Single(r => r.Requirement is OpAmpsStable);
        var wrong = CheckStudy.Run(Follower(true), cancel: TestContext.Current.CancellationToken)
            .Implied.Single(r => r.Requirement is OpAmpsStable);
        Assert.Equal((Verdict.Met, Verdict.NotMet), (right.Verdict, wrong.Verdict));
        Assert.Equal("U1", Assert.IsType<StabilityReason>(wrong.Reason).OpAmp);
    }

    [Fact]
    public void A_reference_that_sags_raises_the_code_as_the_ratio_says()
    {
        // 3.3 V behind 10 ohm into 500 ohm: the reference stands at 3.3·500/510 (Ohm's law), so a pin at half of 3.3 V reads 2048·510/500
        // counts.
        var frontEnd = new FrontEnd
        {
            Rails = [new Rail("VREF", 3.3) { SeriesOhms = 10 }],
            Sensors = [new Sensor("probe", "PIN", new Span(0, 3), 0)],
            Parts = [new ResistorPart("RL", "VREF", Circuit.Ground, 500)],
            Pins = [new Pin("adc", "PIN") { Converter = new Converter(12, new LevelSpan(new Level(null, 0), new Level("VREF", 0))),
                HasClamps = false, Wanted = new("probe", new Span(0, 3), new Span(0, 3)) }],
        };
        var top = new SolvedFrontEnd(frontEnd).Mapping("adc").Points[^1];
        double counts = 3 / 3.3 * 4096;
        Assert.Equal(Math.Floor(counts * 510 / 500), top.Code);
        Assert.Equal(counts * 510 / 500 - counts, top.ErrorCounts, 0.01);
    }

    [Fact]
    public void A_changed_requirement_solves_nothing_anew_and_a_changed_part_does()
    {
        var frontEnd = Random(0);
        var solved = new SolvedFrontEnd(frontEnd);
        var run = solved.Transient(frontEnd.Events[0], cancel: TestContext.Current.CancellationToken);
        var renamed = solved.With(frontEnd with { Title = "another", Requirements = [new PartsInsideRating()] });
        Assert.Same(run, renamed.Transient(frontEnd.Events[0], cancel: TestContext.Current.CancellationToken));
        var changed = solved.With(frontEnd.Replace(frontEnd.Parts[0], frontEnd.Parts[0].WithValue(33e3)));
        Assert.NotSame(run, changed.Transient(frontEnd.Events[0], cancel: TestContext.Current.CancellationToken));
    }
}
