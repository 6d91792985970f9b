using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Tests.Studies;

/// <summary>Sweeps and runs of a circuit whose currents also balance where it does not stay.</summary>
public sealed class SettledBeginningTests
{
    private static FrontEnd Circuit(params Part[] parts) => new()
    {
        Title = "test",
        Rails = [FrontEndOf.Plus, FrontEndOf.Minus],
        Sensors = [new("probe", "IN", new Span(-4, 4), 100)],
        Parts = [.. parts],
    };

    private static OpAmpPart OpAmp(string plus, string minus) =>
        new("U", plus, minus, "OUT", "VP", "VN", PartCatalogue.Standard.FindOpAmp("jfet-input")!);

    [Fact]
    public void A_follower_with_its_inputs_swapped_is_swept_along_a_rail_and_no_perfect_follower()
    {
        var solved = new SolvedFrontEnd(Circuit(OpAmp("OUT", "IN"))) { BeginsSettled = true };
        // The swing of the class ends 1.5 V from 9 V; positive feedback leaves it nowhere else to stay.
        Assert.All(solved.Sweep("probe", [-4, -2, 0, 2, 4]).Voltage("OUT"), v => Assert.InRange(Math.Abs(v), 7, 9));
    }

    [Fact]
    public void A_comparator_with_hysteresis_keeps_its_state_until_the_threshold()
    {
        var solved = new SolvedFrontEnd(Circuit(OpAmp("P", "IN"), new ResistorPart("R1", "OUT", "P", 10e3),
            new ResistorPart("R2", "P", "GND", 10e3)))
        { BeginsSettled = true };
        // Half of the high output, 3.7 V, is where it falls on the way up.
        double[] volts = solved.Sweep("probe", [-4, -2, 0, 2, 3.5, 4]).Voltage("OUT");
        Assert.All(volts[..5], v => Assert.InRange(v, 7, 9));
        Assert.InRange(volts[5], -9, -7);
    }

    [Fact]
    public void An_event_begins_where_the_circuit_settles_to()
    {
        var frontEnd = Circuit(OpAmp("OUT", "IN"));
        var solved = new SolvedFrontEnd(frontEnd) { BeginsSettled = true };
        var fault = new FaultEvent("step", "IN", new StepTo(8, 1, 1e-3));
        Assert.InRange(Math.Abs(solved.Transient(fault).Start.Nodes["OUT"]), 7, 9);
    }
}
