using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Tests.Studies;

public class ProtectionCostsTests
{
    private static FrontEnd Guarded(double leakageAmps, params (string Key, object Value)[] settings)
    {
        Rail[] rails = [new("VDD", 3.3)];
        Sensor sensor = new("probe", "IN", new Span(0, 3.3), 0);
        var values = new Dictionary<string, object>
        {
            ["from.input"] = "IN",
            ["from.output"] = "PIN",
            ["series.value"] = new Quantity(10e3, Unit.Ohm)
        };
        foreach (var (key, value) in settings)
            values[key] = value;
        return new FrontEnd
        {
            Rails = [.. rails],
            Sensors = [sensor],
            Stages = [Asked.Of("pin-guard", "guard", values, rails, [sensor]).Build()],
            Pins = [new("adc", "PIN") { HasClamps = false, LeakageAmps = leakageAmps,
                Converter = new(12, new(new(null, 0), new("VDD", 0))) }],
        };
    }

    private static ProtectionCosts Costs(FrontEnd front) => ProtectionCosts.Of(new SolvedFrontEnd(front), MappingStudy.Run(front, "adc"));

    [Fact]
    public void A_pull_down_costs_its_divider_and_a_pins_leakage_costs_its_drop()
    {
        var costs = Costs(Guarded(50e-9, ("pulldown.value", new Quantity(990e3, Unit.Ohm))));
        // 10 kohm to 990 kohm takes a hundredth of full scale; 50 nA through what is left, 9.9 kohm, 0.495 mV (Ohm's law).
        var pulldown = costs.Parts.Single(p => p.Part == "guard.Rp");
        Assert.Equal(0, pulldown.LowCounts, 0.01);
        Assert.Equal(-40.96, pulldown.HighCounts, 0.02);
        Assert.Equal(-0.495e-3 / (3.3 / 4096), costs.Parts.Single(p => p.Part == "adc").HighCounts, 0.01);
        Assert.Equal("guard.Rp", costs.Dearest!.Part);
        // The series resistor costs both together.
        Assert.Equal(-40.96 - 0.614, costs.Parts.Single(p => p.IsSeries).HighCounts, 0.02);
    }

    [Fact]
    public void A_zener_just_above_full_scale_is_named_at_the_top_of_the_span()
    {
        var costs = Costs(Guarded(0, ("zener.type", "3V6")));
        Assert.Equal(("guard.Dz", true), (costs.Parts.First(p => !p.IsSeries).Part, costs.Parts.First(p => !p.IsSeries).HighCounts < -10));
        Assert.Equal(("guard.Dz", true), (costs.Dearest!.Part, Math.Abs(costs.Dearest.HighCounts) > Math.Abs(costs.Dearest.LowCounts)));
    }

    [Fact]
    public void A_pin_without_protection_has_no_cost_and_a_series_resistor_alone_next_to_none()
    {
        var bare = Guarded(0) with { Stages = [], Parts = [new ResistorPart("R1", "IN", "PIN", 1)] };
        Assert.Empty(Costs(bare).Parts);
        Assert.Null(Costs(Guarded(0)).Dearest);
    }
}
