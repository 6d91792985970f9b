using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Check;

namespace FrontEndSim.FrontEnds.Tests.Studies;

/// <summary>Supplies that are off and fed backwards through a clamp.</summary>
public class BackFedTests
{
    private const double Guard = 10e3, Source = 100;

    private static FrontEnd Clamped(double loadAmps, params FaultEvent[] events) => new()
    {
        Rails = [new Rail("V5", 5) { SourceOnly = true, LoadAmps = loadAmps }],
        Sensors = [new Sensor("probe", "IN", new Span(0, 5), Source)],
        Parts =
        [
            new ResistorPart("R1", "IN", "A", Guard),
            new DiodePart("D1", "A", "V5", PartCatalogue.Standard.FindDiode("1N5711", DiodeKind.Schottky)!),
        ],
        Events = [.. events],
    };

    private static readonly FaultEvent Off = new("off", "V5", new LostSource()),
        OffThen24 = new("off, then 24 V", "IN", new Together(new StepTo(24, 1, 5e-3), [("V5", new LostSource())]));

    [Fact]
    public void A_rail_that_is_off_floats_at_what_the_sensor_makes_of_its_load()
    {
        // 5 kohm of load: (5 V − v)/(10.1 kohm + …) with a Schottky diode of some 0.3 V at 0.3 mA.
        var warning = Assert.Single(CheckStudy.Run(Clamped(1e-3, Off)).Warnings.OfType<RailBackFed>());
        Assert.Equal(("V5", "off"), (warning.Rail, warning.Event));
        Assert.Equal((5 - 0.33) * 5e3 / (5e3 + Guard + Source), warning.Volts, 0.03);
        // 100 mA of load hold it down.
        Assert.Empty(CheckStudy.Run(Clamped(0.1, Off)).Warnings.OfType<RailBackFed>());
    }

    [Fact]
    public void A_fault_that_follows_lifts_a_rail_that_floats_where_its_load_is_small_and_not_where_it_is_large()
    {
        RequirementResult Judged(double load) =>
            CheckStudy.Run(Clamped(load, OffThen24)).Implied.Single(r => r.Requirement is RailsInRange);
        var light = Judged(10e-6);
        Assert.Equal(Verdict.NotMet, light.Verdict);
        var reason = Assert.IsType<RailLiftReason>(light.Reason);
        // 500 kohm of load, and the half microampere that a supply takes; held at 0 V by its output it would not move.
        Assert.Equal((24 - 0.25 - 0.5e-6 * Guard) * 500e3 / (500e3 + Guard), reason.Volts, 0.2);
        Assert.Equal(Verdict.Met, Judged(5e-3).Verdict);
    }
}
