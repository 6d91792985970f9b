using FrontEndSim.Engine;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Tests.Studies;

/// <summary>What a check says of a solution that does not satisfy its own equations. No usual circuit has one: here steps are as coarse as
/// they may be.</summary>
public class UnbalancedTests
{
    // 5 V behind 20 kohm into 100 nF: 5 V at the pin, within its 5.5 V, and a steady current of nanoamperes.
    private static readonly FrontEnd Filtered = new()
    {
        Rails = [new Rail("VDD", 3.3)],
        Sensors = [new Sensor("probe", "IN", new Span(0, 3.3), 1e9)],
        Parts = [new ResistorPart("R", "IN", "PIN", 10e3), new CapacitorPart("C", "PIN", "GND", 100e-9)],
        Pins = [new Pin("adc", "PIN") { RatedLow = new Level(null, -0.3), RatedHigh = new Level(null, 5.5) }],
        Events = [new("fault", "IN", new StepTo(5, 10e3, 1e-3, 10))],
    };

    [Fact]
    public void An_event_whose_audit_is_beyond_its_limits_is_not_known_where_a_finer_solution_meets_its_requirement()
    {
        var cancel = TestContext.Current.CancellationToken;
        CheckResult Check(SolvedFrontEnd solved) => CheckStudy.Run(solved, cancel: cancel);
        static RequirementResult Pin(CheckResult check) => check.Judged().Single(r => r.Requirement is InsideRating);

        var coarse = new SolvedFrontEnd(Filtered, new SolverSettings { Accuracy = 1000, AbsoluteVolts = 1e6 });

        var audit = coarse.Transient(Filtered.Events[0], cancel: cancel).Audit;
        Assert.False(audit.IsWithinLimits, $"{audit}");
        Assert.Equal(Verdict.Met, Pin(Check(new SolvedFrontEnd(Filtered))).Verdict);
        Assert.Equal(Verdict.NotKnown, Pin(Check(coarse)).Verdict);
        Assert.Equal(Verdict.NotKnown, Check(coarse).Verdict);
    }
}
