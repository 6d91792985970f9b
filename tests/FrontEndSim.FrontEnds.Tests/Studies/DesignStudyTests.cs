using System.Collections.Immutable;

namespace FrontEndSim.FrontEnds.Tests.Studies;

/// <summary>The design study: which stage suits a wish, and why another does not.</summary>
public class DesignStudyTests(ITestOutputHelper output)
{
    private static readonly Rail Vp = new("VP", 9), Vn = new("VN", -9), Vdd = new("VDD", new Toleranced(3.3, 0.02));

    private static DesignWish Wish(ImmutableArray<Rail> rails, double low = -1.2, double high = 1.8) => new()
    {
        Sensor = new(low, high),
        Pin = new(0, 3.3),
        Rails = rails,
        Supply = "VDD",
        SourceOhms = 220,
    };

    [Fact]
    public void Every_candidate_is_ranked_and_lands_on_the_pin()
    {
        var result = DesignStudy.Run(Wish([Vp, Vn, Vdd]));
        foreach (var c in result.Candidates)
        {
            Assert.True(Math.Abs(c.Mapping.Worst.ErrorCounts) < c.WorstErrorCounts);
            output.WriteLine($"{c.Stage.Kind} {c.Series.Name} {c.OpAmp?.Name} ref {c.Reference} worst {c.WorstErrorCounts:F1} ({c.IsWorstExact}) nominal {c.Mapping.Worst.ErrorCounts:F2} headroom {c.HeadroomVolts:F2} rin {c.InputOhms:G4} parts {c.PartCount}/{c.DistinctValues} noise {c.NoiseVolts:G3} W {c.SupplyWatts:G3} cost {c.Cost:F2}: {string.Join(", ", c.Stage.Parts.OfType<ResistorPart>().Select(p => p.Name + "=" + p.ValueText))}");
        }
        foreach (var r in result.Refusals)
            output.WriteLine($"{r.Kind}: {r.Reason} {r.Change}");
        Assert.Equal(result.Candidates.OrderBy(c => c.Cost), result.Candidates);
        Assert.Contains(result.Candidates, c => c.Stage.Kind == "two-stage-shifter");
        Assert.Contains(result.Candidates, c => c.Stage.Kind == "single-stage-shifter");
        Assert.Contains(result.Candidates, c => c.Stage.Kind == "difference-stage");
    }

    [Fact]
    public void Without_a_negative_rail_an_inverting_stage_is_refused_and_the_reason_says_so()
    {
        var result = DesignStudy.Run(Wish([Vp, Vdd]));
        foreach (var r in result.Refusals)
            output.WriteLine($"{r.Kind}: {r.Reason} {r.Change}");
        foreach (var c in result.Candidates)
            output.WriteLine($"{c.Stage.Kind} {c.Series.Name} {c.OpAmp?.Name} worst {c.WorstErrorCounts:F1} headroom {c.HeadroomVolts:F3} cost {c.Cost:F2}");
        var refusal = Assert.Single(result.Refusals, r => r.Kind == "two-stage-shifter");
        Assert.Contains("negative rail", refusal.Change, StringComparison.Ordinal);
    }

    [Fact]
    public void The_guard_holds_24_volt_either_way_inside_the_pin_s_ratings_and_says_what_it_costs()
    {
        var wish = Wish([Vp, Vn, Vdd]) with
        {
            FaultVolts = [24, -24],
            Series = [ESeries.E96],
            OpAmps = [PartCatalogue.Standard.FindOpAmp("precision-bipolar")!],
        };
        var design = DesignCompletion.Run(wish, DesignStudy.Run(wish).Candidates[0]);
        output.WriteLine($"{design.Guard!.SeriesOhms} {design.Guard.Clamp} level {design.Guard.LevelLow} {design.Guard.LevelHigh} inj {design.Guard.InjectionAmps} cost {design.Guard.CostCounts}");
        foreach (string note in design.Notes)
            output.WriteLine(note);
        foreach (var r in design.Check.Requirements)
            output.WriteLine($"{r.Requirement.Text}: {r.Met} {r.Actual} {r.Limit} {r.Reason}");
        Assert.True(design.Check.AllMet);
        // The op amp cannot deliver more than its rails: the guard sees the swing limits, not the 24 V.
        Assert.InRange(design.Guard.LevelHigh, 6.5, 9);
        Assert.InRange(design.Guard.LevelLow, -9, -6.5);
        // At least the leakage times the resistor.
        Assert.True(design.Guard.CostCounts >= 0.99 * wish.LeakageAmps * design.Guard.SeriesOhms / (3.3 / 4096));
    }

    [Theory]
    [InlineData(0, 3.6, "beyond its supply")]
    [InlineData(-0.5, 3, "below ground")]
    public void A_pin_span_outside_of_its_supply_gets_a_sentence_that_says_what_to_change(double low, double high, string expected)
    {
        var problem = Assert.Throws<StudyProblemException>(() => DesignStudy.Run(Wish([Vp, Vn, Vdd]) with { Pin = new(low, high) }));
        Assert.Contains(expected, problem.Message, StringComparison.Ordinal);
    }
}
