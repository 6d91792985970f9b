using System.Collections.Immutable;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Design;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Tests.Studies;

/// <summary>The design study: which stage suits a target, and why another does not.</summary>
public class DesignStudyTests(ITestOutputHelper output)
{
    private static readonly Rail Vp = new("VP", 9), Vn = new("VN", -9), Vdd = new("VDD", new Toleranced(3.3, 0.02));

    private static DesignTarget Target(ImmutableArray<Rail> rails, double low = -1.2, double high = 1.8, params FaultEvent[] events) =>
        new()
        {
            Surroundings = new FrontEnd
            {
                Rails = rails,
                Sensors = [new Sensor("probe", "IN", new(low, high), 220)],
                Pins =
            [
                new Pin("adc", "PIN")
                {
                    RatedLow = new Level(null, -0.3),
                    RatedHigh = new Level("VDD", 0.3),
                    InjectionAmps = 2e-3,
                    Converter = new Converter(12, new LevelSpan(new Level(null, 0), new Level("VDD", 0))),
                    LeakageAmps = 100e-9,
                },
            ],
                Events = [.. events],
            },
            Gap = new DesignGap("probe", "adc", "IN", "PIN"),
            Onto = new(0, 3.3),
        };

    [Fact]
    public void Every_candidate_is_ranked_and_lands_on_the_pin()
    {
        var result = DesignStudy.Run(Target([Vp, Vn, Vdd]));
        foreach (var c in result.Candidates)
        {
            Assert.True(Math.Abs(c.Mapping.Worst.ErrorCounts) < c.WorstErrorCounts);
            output.WriteLine($"{c.Stage.Kind} {c.Series.Name} {c.OpAmp?.Name} ref {c.Reference} worst {c.WorstErrorCounts:F1} "
                + $"({c.IsWorstExact}) nominal {c.Mapping.Worst.ErrorCounts:F2} headroom {c.HeadroomVolts:F2} rin {c.InputOhms:G4} "
                + $"parts {c.PartCount}/{c.DistinctValues} noise {c.NoiseVolts:G3} W {c.SupplyWatts:G3} cost {c.Cost:F2}: "
                + $"{string.Join(", ", c.Stage.Parts.OfType<ResistorPart>().Select(p => p.Name + "=" + p.ValueText))}");
        }
        foreach (var r in result.Refusals)
            output.WriteLine($"{r}");
        Assert.Equal(result.Candidates.OrderBy(c => c.Cost), result.Candidates);
        Assert.Contains(result.Candidates, c => c.Stage.Kind == "two-stage-shifter");
        Assert.Contains(result.Candidates, c => c.Stage.Kind == "single-stage-shifter");
        Assert.Contains(result.Candidates, c => c.Stage.Kind == "difference-stage");
    }

    [Fact]
    public void Without_a_negative_rail_an_inverting_stage_is_refused_and_the_reason_says_so()
    {
        var result = DesignStudy.Run(Target([Vp, Vdd]));
        foreach (var r in result.Refusals)
            output.WriteLine($"{r}");
        foreach (var c in result.Candidates)
            output.WriteLine($"{c.Stage.Kind} {c.Series.Name} {c.OpAmp?.Name} worst {c.WorstErrorCounts:F1} headroom "
                + $"{c.HeadroomVolts:F3} cost {c.Cost:F2}");
        var refusal = Assert.Single(result.Refusals, r => r.Stage == "two-stage-shifter");
        Assert.Equal(DesignChange.NegativeRail, Assert.IsType<NoNegativeRail>(refusal).Change);
    }

    [Fact]
    public void The_guard_holds_24_volt_either_way_inside_the_pin_s_ratings_and_says_what_it_costs()
    {
        var target = Target([Vp, Vn, Vdd], events: [new("24 V", "IN", new StepTo(24, 1, 1e-3, 50e-3)),
            new("-24 V", "IN", new StepTo(-24, 1, 1e-3, 50e-3))]) with
        {
            Series = [ESeries.E96],
            OpAmps = [PartCatalogue.Standard.FindOpAmp("precision-bipolar")!],
        };
        var design = DesignCompletion.Run(target, DesignStudy.Run(target).Candidates[0]);
        output.WriteLine($"{design.Guard!.SeriesOhms} {design.Guard.Clamp} level {design.Guard.Levels.Low} {design.Guard.Levels.High} "
            + $"inj {design.Guard.InjectionAmps} cost {design.Guard.CostCounts}");
        foreach (var note in design.Notes)
            output.WriteLine($"{note}");
        foreach (var r in design.Check.Requirements)
            output.WriteLine($"{r.Requirement}: {r.Met} {r.Found} {r.Limit}");
        Assert.True(design.Check.AllMet);
        // The op amp cannot deliver more than its rails: the guard sees the swing limits, not the 24 V.
        Assert.InRange(design.Guard.Levels.High, 6.5, 9);
        Assert.InRange(design.Guard.Levels.Low, -9, -6.5);
        // At least the leakage times the resistor.
        Assert.True(design.Guard.CostCounts >= 0.99 * target.Pin.LeakageAmps * design.Guard.SeriesOhms / (3.3 / 4096));
    }

    [Fact]
    public void A_guard_holds_from_the_cold_to_the_heat_where_the_file_names_no_range()
    {
        // A junction drops 2 mV more for each kelvin less (Sze): what a clamp holds at 25 °C it need not hold at -40 °C.
        var target = Target([Vp, Vn, Vdd], events: [new("24 V", "IN", new StepTo(24, 1, 1e-3, 50e-3))]) with
        {
            Series = [ESeries.E96],
            OpAmps = [PartCatalogue.Standard.FindOpAmp("precision-bipolar")!],
        };
        target = target with { Surroundings = target.Surroundings with { Pins = [target.Pin with { InjectionAmps = null }] } };
        var design = DesignCompletion.Run(target, DesignStudy.Run(target).Candidates[0]);
        Assert.All(new[] { -40.0, 85 }, celsius => Assert.True(EventStudy.Run(design.FrontEnd with { Celsius = celsius },
            design.FrontEnd.Events[0], cancel: TestContext.Current.CancellationToken).Pins[0].IsInside));
    }

    [Fact]
    public void A_candidate_whose_output_reaches_its_limit_with_a_rail_at_its_least_is_out()
    {
        // 3.2 V at the output of an op amp that comes within millivolts of its rail: 3.3 V leave room, 3.3 V less 5 % are 3.135 V and leave
        // none.
        DesignResult Of(double tolerance) => DesignStudy.Run(Target([new Rail("VP", new Toleranced(3.3, tolerance)), Vdd], 0.1, 1) with
        {
            Onto = new(0.3, 3.2),
            Kinds = ["single-stage-shifter"],
            Series = [ESeries.E96],
            OpAmps = [PartCatalogue.Standard.FindOpAmp("rail-to-rail-cmos")!],
        });
        Assert.NotEmpty(Of(0.001).Candidates);
        var refused = Of(0.05);
        Assert.Empty(refused.Candidates);
        var corner = Assert.IsType<OutOfRangeAtCorner>(Assert.Single(refused.Refusals));
        Assert.Equal((false, "VP", DesignChange.HigherRail), (corner.IsInput, corner.Rail, corner.Change));
        Assert.InRange(corner.BeyondVolts, 3.2 - 3.135, 0.3);
    }

    [Fact]
    public void No_candidate_is_ranked_that_check_finds_outside_its_range()
    {
        // 62 mV at the output are 37 mV above where the swing of a CMOS op amp ends, and its gain has begun to fall there.
        var design = DesignStudy.Run(Target([new Rail("VP", new Toleranced(5, 0.05)), Vdd], 0.5, 4.5) with
        {
            Onto = new(0.06, 3.2),
            Kinds = ["single-stage-shifter", "difference-stage"],
            Series = [ESeries.E96],
            OpAmps = [PartCatalogue.Standard.FindOpAmp("rail-to-rail-cmos")!],
        });
        Assert.Contains(design.Refusals, r => r is OutOfRangeAtCorner { Rail: "GND", IsInput: false });
        Assert.All(design.Candidates, c => Assert.Equal(Verdict.Met, new OpAmpsInRange()
            .Judge(new SolvedFrontEnd(c.FrontEnd), cancel: TestContext.Current.CancellationToken).Verdict));
    }

    [Theory]
    [InlineData(0, 3.6, ProblemKind.SpanAboveSupply)]
    [InlineData(-0.5, 3, ProblemKind.SpanBelowGround)]
    public void A_pin_span_outside_of_its_supply_is_refused_with_the_end_that_is(double low, double high, ProblemKind expected)
    {
        var problem = Assert.Throws<StudyProblemException>(() => DesignStudy.Run(Target([Vp, Vn, Vdd]) with { Onto = new(low, high) }));
        Assert.Equal((expected, low < 0 ? low : high), (problem.Problem.Kind, problem.Problem.Found!.Value.In(Unit.Volts)));
    }

    [Fact]
    public void Without_supplies_a_passive_stage_passes_a_surge_on_and_its_guard_holds_the_pin_near_the_dead_rail()
    {
        // The pin stands 0.3 V above a supply that is not there: 0.3 V against ground.
        var target = Target([Vdd], 0, 30, new FaultEvent("surge", "IN", new Surge(SurgeShape.Find("1.2/50")!, 500, 42)));
        // No current into its clamps is permitted, so the voltage is the limit; and it leaks nothing, so what the guard costs is its
        // clamps' alone.
        target = target with { Onto = new(0, 3), Kinds = ["passive-shifter"], Series = [ESeries.E24] };
        // Indoors: at -40 °C a tenth of a megohm would be needed.
        target = target with
        {
            Surroundings = target.Surroundings with
            { Pins = [target.Pin with { InjectionAmps = null, LeakageAmps = 0 }], CelsiusRange = new(15, 50) }
        };
        var design = DesignCompletion.Run(target, DesignStudy.Run(target).Candidates[0]);
        Assert.NotNull(design.Guard);
        // A tenth of what the surge leaves at the terminal: the divider is a closed form, and no supply comes into it.
        double gain = design.Candidate.Stage.Ideal!.Gain;
        double terminal = 500 * 220 / (220 + 42.0);
        Assert.InRange(design.Guard.Levels.HighOff, 0.95 * gain * terminal, 1.05 * gain * terminal + 30 * gain);
        var off = design.FrontEnd with { Rails = [.. design.FrontEnd.Rails.Select(r => r with { PresentVolts = 0 })] };
        var exposure = EventStudy.Run(off, off.Events[0], cancel: TestContext.Current.CancellationToken).Pins[0];
        Assert.True(exposure.IsInside);
        Assert.InRange(exposure.HighestVolts, 0, 0.3);
        // Schottky leakage in some kilohms: dearer by far when hot, and said so.
        Assert.True(design.Guard.HotCostCounts > 10 * design.Guard.CostCounts, $"{design.Guard}");
        Assert.Contains(design.Notes, n => n is LeakyClamp);
        Assert.True(design.Guard.SeriesPeakWatts >= design.Guard.SeriesWatts);
    }

    [Fact]
    public void A_bleeder_that_takes_what_a_surge_pushes_into_the_rail_draws_at_least_as_much_at_all_times_and_says_so()
    {
        var target = Target([Vdd with { SourceOnly = true }], -10, 10, new FaultEvent("surge", "IN", new Surge(SurgeShape.Find("1.2/50")!, 500, 42))) with
        {
            Kinds = ["passive-shifter"],
            Series = [ESeries.E24],
        };
        var design = DesignCompletion.Run(target, DesignStudy.Run(target).Candidates[0]);
        var bled = Assert.Single(design.Notes.OfType<RailBled>());
        // Ohm's law.
        Assert.Equal(3.3 / bled.Ohms, bled.DrawnAmps, 1e-9);
        Assert.True(bled.DrawnAmps > design.Guard!.InjectionAmps, $"{bled} {design.Guard}");
    }

    [Fact]
    public void Every_kind_of_stage_that_maps_a_span_can_be_designed()
    {
        // All but the loop receiver, whose burden alone follows from its mapping, and the two amplifiers of a difference, which need a
        // second node.
        StageKind[] kinds = [.. StageKinds.All.Where(k => k.Settings.Any(s => s.Name == "maps"))];
        Assert.Equal(["instrumentation-amplifier", "bridge-amplifier", "loop-receiver"], kinds.Where(k => !k.Shifts).Select(k => k.Name));
        foreach (string kind in kinds.Where(k => k.Shifts).Select(k => k.Name))
        {
            var target = Target([Vp, Vn, Vdd], 0, 6) with
            {
                Kinds = [kind],
                Onto = new(0, 3),
                Series = [ESeries.E96],
                OpAmps = [PartCatalogue.Standard.FindOpAmp("precision-bipolar")!]
            };
            var result = DesignStudy.Run(target, cancel: TestContext.Current.CancellationToken);
            Assert.True(!result.Candidates.IsEmpty, $"{kind}: {string.Join(" ", result.Refusals.Select(r => $"{r}"))}");
        }
    }

    [Fact]
    public void A_divider_and_a_filter_ahead_of_the_stage_are_counted_into_its_values()
    {
        var target = Target([Vp, Vn, Vdd], -2.4, 3.6);
        target = target with
        {
            Surroundings = target.Surroundings with
            {
                Stages = [new Stage("calm", "rc-filter", [new("from", "MID"), new("to", "QUIET")],
                    [new ResistorPart("calm.R1", "MID", "QUIET", 1e3), new CapacitorPart("calm.C1", "QUIET", "GND", 1e-7)])],
                Parts = [new ResistorPart("Ra", "IN", "MID", 9780), new ResistorPart("Rb", "MID", "GND", 10e3)],
            },
            Gap = new DesignGap("probe", "adc", "QUIET", "PIN"),
            Series = [ESeries.E96],
        };
        var result = DesignStudy.Run(target, cancel: TestContext.Current.CancellationToken);
        // The divider halves the span behind (9.78 k + 220) ‖ 10 k = 5 k, and the filter adds its 1 k.
        var arriving = Assert.Single(result.Assumptions.OfType<SpanArriving>());
        Assert.Equal("QUIET", arriving.Node);
        Assert.Equal(-1.2, arriving.Span.Low, 1e-4);
        Assert.Equal(1.8, arriving.Span.High, 1e-4);
        Assert.Equal(6000, arriving.SourceOhms, 1.0);
        Assert.Contains(result.Candidates, c => c.Stage.Kind == "single-stage-shifter");
        // One ratio is met to half a step of the series, 1.2 % (as without anything ahead).
        Assert.All(result.Candidates, c => Assert.InRange(Math.Abs(c.Mapping.Worst.ErrorCounts), 0, 0.012 * 4096));
    }

    [Fact]
    public void A_pin_that_stands_every_event_gets_no_guard()
    {
        var target = Target([Vp, Vn, Vdd], events: new FaultEvent("a finger's worth", "IN", new StepTo(1, 1e6, 1e-3, 1e-3))) with
        { Series = [ESeries.E96] };
        Assert.Null(DesignCompletion.Run(target, DesignStudy.Run(target).Candidates[0]).Guard);
    }
}
