using System.Collections.Immutable;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Compare;
using FrontEndSim.FrontEnds.Tests;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting.Tests;

public class PartWordsTests
{
    private static readonly ImmutableArray<Rail> Rails = [new("VP", 9), new("VN", -9), new("VDD", new Toleranced(3.3, 0.02))];

    private static readonly ImmutableArray<Sensor> Sensors = [new("probe", "IN", new Span(-1.2, 1.8), 220)];

    [Theory]
    [InlineData("shift.R1", "the input resistor of shift's first stage (R1)")]
    [InlineData("shift.Rr", "the reference resistor of shift's first stage (Rr)")]
    [InlineData("shift.Rf1", "the feedback resistor of shift's first stage (Rf1)")]
    [InlineData("shift.R2", "the input resistor of shift's second stage (R2)")]
    [InlineData("shift.Rf2", "the feedback resistor of shift's second stage (Rf2)")]
    [InlineData("shift.Rc1", "the compensation resistor of shift's first stage (Rc1)")]
    [InlineData("shift.U2", "the op amp of shift's second stage (U2)")]
    [InlineData("guard.R", "the series resistor of guard (R)")]
    [InlineData("guard.Rp", "the pull-down of guard (Rp)")]
    [InlineData("guard.Dh", "the upper clamp of guard (Dh)")]
    [InlineData("guard.Dl", "the lower clamp of guard (Dl)")]
    [InlineData("guard.Rp", "the pull-down of guard (Rp)", false)]
    public void A_part_is_spoken_of_by_what_it_does(string name, string role, bool isCompensated = true)
    {
        ImmutableArray<Rail> rails = Rails;
        Stage Build(string kind, string stage, Dictionary<string, object> values) => Asked.Of(kind, stage, values, rails, Sensors).Build();
        var shift = Build("two-stage-shifter", "shift", new Dictionary<string, object>
        {
            ["from.input"] = "IN",
            ["from.output"] = "LEVEL",
            ["maps.sensor"] = "probe",
            ["maps.span"] = new Span(0.05, 3.25),
            ["offset.rail"] = "VDD",
            ["opamp.type"] = "jfet-input",
            ["opamp.positive"] = "VP",
            ["opamp.negative"] = "VN",
        }.Concat(isCompensated ? [KeyValuePair.Create("compensated", (object)true)] : []).ToDictionary());
        var guard = Build("pin-guard", "guard", new()
        {
            ["from.input"] = "LEVEL",
            ["from.output"] = "PIN",
            ["series.value"] = new Quantity(4.7e3, Unit.Ohm),
            ["pulldown.value"] = new Quantity(10e6, Unit.Ohm),
            ["schottky.type"] = "1N5711",
            ["schottky-high.type"] = "1N5711",
            ["schottky-high.rail"] = "VDD",
        });
        var front = new FrontEnd { Rails = rails, Sensors = Sensors, Stages = [shift, guard], Pins = [new("adc", "PIN")] };
        Assert.Equal(role, PartWords.Of(PartRole.Of(front, front.AllParts.Single(p => p.Name == name))));
    }
}
