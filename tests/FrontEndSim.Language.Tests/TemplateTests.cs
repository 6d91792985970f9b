using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;


namespace FrontEndSim.Language.Tests;

public class TemplateTests
{
    private const string Bench = """
        circuit "bench"
        sensor s drives IN span 0 V .. 1 V
        template low-pass from A to B with R = 10k, C = 10n
            resistor R1 from A to B R 1%
            capacitor C1 from B to GND C

        """;

    [Fact]
    public void A_template_is_used_like_a_shipped_stage()
    {
        var f = Reading.FrontEnd(Bench + "stage f is low-pass\n    from IN to OUT\n    R 22k");
        var stage = f.Stages.Single();
        Assert.Equal(("f", "low-pass", "IN", "OUT"), (stage.Name, stage.Kind, stage.Port("from"), stage.Port("to")));
        Assert.Equal([new ResistorPart("f.R1", "IN", "OUT", new Toleranced(22e3, 0.01)),
            new CapacitorPart("f.C1", "OUT", "GND", new Toleranced(10e-9))], stage.Parts);
    }

    [Fact]
    public void A_template_may_be_made_of_other_templates()
    {
        var f = Reading.FrontEnd(Bench + """
            template two-poles from X to Y with R
                stage first is low-pass
                    from X to M
                    R R
                stage second is low-pass
                    from M to Y
                    R 10 * R
            stage f is two-poles
                from IN to OUT
                R 1k
            """);
        Assert.Equal(["f.first.R1", "f.first.C1", "f.second.R1", "f.second.C1"], f.Stages.Single().Parts.Select(p => p.Name));
        Assert.Equal(["IN", "f.M"], f.Part<ResistorPart>("f.first.R1").Nodes);
        Assert.Equal(10e3, f.Part<ResistorPart>("f.second.R1").Ohms.Value);
    }

    [Fact]
    public void A_shipped_stage_may_stand_in_a_template()
    {
        var f = Reading.FrontEnd("""
            circuit "bench"
            sensor s drives IN span 0 V .. 1 V
            template guarded from A to B
                stage guard is pin-guard
                    from A to B
                    series 4k7
                    shunt 10n
            stage g is guarded
                from IN to OUT
            resistor R1 from OUT to GND 1M
            """);
        Assert.All(f.Stages.Single().Parts, p => Assert.StartsWith("g.guard.", p.Name));
    }

    [Fact]
    public void A_parameter_may_be_a_node()
    {
        var f = Reading.FrontEnd("""
            circuit "bench"
            sensor s drives IN span 0 V .. 1 V
            rail VDD 5 V
            template tied from A to B with node REF, R = 1k
                resistor R1 from A to B R
                resistor R2 from B to REF R
            stage t is tied
                from IN to OUT
                REF VDD
            """);
        Assert.Equal(["OUT", "VDD"], f.Part<ResistorPart>("t.R2").Nodes);
    }

    [Fact]
    public void A_default_may_be_made_of_another_parameter() =>
        Assert.Equal(2000, Reading.FrontEnd("""
            circuit "bench"
            sensor s drives IN span 0 V .. 1 V
            template halves from A to B with R, S = 2 * R
                resistor R1 from A to B R
                resistor R2 from B to GND S
            stage h is halves
                from IN to OUT
                R 1k
            """).Part<ResistorPart>("h.R2").Ohms.Value);

    [Fact]
    public void A_template_that_uses_itself_is_refused()
    {
        var wrong = Reading.OnlyDiagnostic("""
            circuit "bench"
            template a from A to B
                stage s is b
                    from A to B
            template b from A to B
                stage s is a
                    from A to B
            stage x is a
                from IN to GND
            """);
        Assert.Equal("Template a uses itself: a uses b uses a.", wrong.Message);
    }

    [Fact]
    public void Templates_that_multiply_without_end_are_refused()
    {
        var text = new System.Text.StringBuilder("circuit \"tower\"\ntemplate t14 from A to B\n    resistor R from A to B 1k\n");
        for (int i = 0; i < 14; i++)
        {
            text.Append($"template t{i} from A to B\n");
            for (int j = 0; j < 10; j++)
                text.Append($"    stage s{j} is t{i + 1}\n        from A to B\n");
        }
        Assert.Equal("FES305", Reading.OnlyDiagnostic(text + "stage s is t0\n    from X to GND\n").Code);
    }
}
