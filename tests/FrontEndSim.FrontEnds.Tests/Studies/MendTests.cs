using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Tests.Studies;

/// <summary>A mend is a promise: what it says is built here anew and judged by itself.</summary>
public class MendTests
{
    // FRONTENDSIM_MENDED_CIRCUITS=300 for the long run; FRONTENDSIM_MENDED_FROM=2000 begins with another circuit.
    private static readonly int Circuits = int.TryParse(Environment.GetEnvironmentVariable("FRONTENDSIM_MENDED_CIRCUITS"), out int n) ? n
        : 3;
    private static readonly int From = int.TryParse(Environment.GetEnvironmentVariable("FRONTENDSIM_MENDED_FROM"), out int n) ? n : 1000;

    [Fact]
    public void Each_mend_told_of_a_random_failing_circuit_mends_it_and_breaks_nothing()
    {
        var cancel = TestContext.Current.CancellationToken;
        int failing = 0, mends = 0;
        for (int seed = From; failing < Circuits; seed++)
        {
            var frontEnd = SurvivalTests.Random(seed);
            var before = new SolvedFrontEnd(frontEnd).Mended(cancel: cancel);
            if (before.Verdict != Verdict.NotMet)
                continue;
            failing++;
            foreach (var result in before.Judged().Where(r => r.Verdict == Verdict.NotMet))
            {
                Assert.False(result.Mends.Length > 0 && result.Obstacle is not null);
                foreach (var mend in result.Mends)
                {
                    mends++;
                    // The trial whose numbers are those that were told.
                    var built = MendTrials.Of(frontEnd, mend with { From = null, To = null, Type = null })
                        .First(t => (t.Mend.Kind, t.Mend.To, t.Mend.Type) == (mend.Kind, mend.To, mend.Type)).FrontEnd;
                    var after = CheckStudy.Run(built, cancel: cancel);
                    var now = after.Judged().Single(r => r.Requirement == result.Requirement);
                    Assert.True(now.Met, $"circuit {seed}: {mend}");
                    Assert.Equal(now.Margin, mend.Margin);
                    Assert.All(before.Judged().Where(r => r.Met),
                        met => Assert.True(after.Judged().Single(r => r.Requirement == met.Requirement).Met, $"circuit {seed}: {mend}"));
                }
            }
        }
        Assert.True(mends > 0);
    }

    [Fact]
    public void A_circumstance_that_a_search_found_is_looked_at_alone_and_is_the_same()
    {
        var cancel = TestContext.Current.CancellationToken;
        int looked = 0;
        for (int seed = From; seed < From + 3; seed++)
        {
            var solved = new SolvedFrontEnd(SurvivalTests.Random(seed));
            foreach (var fault in solved.FrontEnd.Events)
            {
                foreach (var run in solved.Survival(fault, cancel).Runs.Where(r => r.Problem is null))
                {
                    var alone = solved.Trying(solved.FrontEnd, run.Where).Survival(fault, cancel).Runs.Single();
                    Assert.Equal(run.Where.Ends, alone.Where.Ends);
                    foreach (var (found, again) in run.Pins.Zip(alone.Pins))
                        Assert.Equal(found.HighestVolts, again.HighestVolts, 1e-3 * Math.Max(1, Math.Abs(found.HighestVolts)));
                    looked++;
                }
            }
        }
        Assert.True(looked > 10);
    }

    [Fact]
    public void Where_events_take_too_long_to_be_followed_again_no_change_is_tried_and_that_is_said()
    {
        var frontEnd = SurvivalTests.Random(1000);
        var solved = new SolvedFrontEnd(frontEnd with { Pins = [frontEnd.Pins[0] with { InjectionAmps = 1e-12 }] });
        var check = solved.Check(cancel: TestContext.Current.CancellationToken) with { StepElements = long.MaxValue };
        var mended = MendStudy.Run(solved, check, TestContext.Current.CancellationToken);
        Assert.All(mended.Judged().Where(r => r.Obstacle is not null),
            r => Assert.Equal((0, true), (r.Obstacle!.Tried, r.Obstacle.IsCutShort)));
        Assert.Contains(mended.Judged(), r => r.Obstacle is { IsCutShort: true });
    }

    [Fact]
    public void Where_no_single_change_mends_a_requirement_the_one_that_would_be_broken_is_named()
    {
        // More in series would hold the pin, and cost counts by the leakage of the pin: two counts are all that is allowed.
        var frontEnd = SurvivalTests.Random(1000);
        var pin = frontEnd.Pins[0] with
        {
            LeakageAmps = 1e-6,
            Converter = new(12, new(new(null, 0), new("VDD", 0))),
            InjectionAmps = 1e-12
        };
        var judged = new SolvedFrontEnd(frontEnd with
        {
            Pins = [pin],
            Requirements = [new MappingError("adc", 1, "adc mapping error under 1 counts")]
        })
            .Mended(cancel: TestContext.Current.CancellationToken);
        var inside = judged.Implied.Single(r => r.Requirement is InsideRating);
        Assert.Equal(Verdict.NotMet, inside.Verdict);
        Assert.Empty(inside.Mends);
        Assert.True(inside.Obstacle!.Tried > 0);
    }
}
