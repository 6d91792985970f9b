using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Tests;
using FrontEndSim.Language.Binding;
using FrontEndSim.Language.Text;
using FrontEndSim.Language.Writing;

namespace FrontEndSim.Language.Tests;

/// <summary>A circuit file whose shifting stage is unfinished is read as far as it goes, and completed without losing a line.</summary>
public class UnfinishedCircuitTests
{
    private const string Around = """
        # Written by hand.
        circuit "A probe"
        rail VP 9 V
        rail VN -9 V
        rail VDD 3.3 V
        sensor probe drives IN
            span -1.2 V .. 1.8 V
            source 220 ohm

        """;

    private const string Pin = """
        # The pin of the converter.
        pin adc at PIN
            converts 12 bits over 0 V .. VDD
        """;

    private static UnfinishedCircuit Load(string text)
    {
        var (circuit, diagnostics) = UnfinishedCircuit.Load(new SourceFile("probe.fes", text));
        Assert.Empty(diagnostics);
        return circuit!;
    }

    private static StageText Stage(IReadOnlyList<Rail> rails, IReadOnlyList<Sensor> sensors) =>
        StageText.Of(Asked.Of("two-stage-shifter", "shift", new Dictionary<string, object>
        {
            ["from.input"] = "IN",
            ["from.output"] = "PIN",
            ["maps.sensor"] = "probe",
            ["maps.span"] = new Span(0.05, 3.25),
            ["offset.rail"] = "VDD",
            ["opamp.type"] = "jfet-input",
            ["opamp.positive"] = "VP",
            ["opamp.negative"] = "VN",
            ["resistors.series"] = "E96",
            ["resistors.tolerance"] = 0.01,
        }, rails, sensors));

    [Theory]
    [InlineData("maps probe onto 0.05 V .. 3.25 V\n    offset from VDD", true)] // no op amp
    [InlineData("maps probe onto 0.05 V .. 3.25 V\n    offset from VDD\n    opamp jfet-input on VP and VN", true)] // no values
    [InlineData("offset from VDD\n    opamp jfet-input on VP and VN\n    input 10k\n    reference 33k\n    feedback 10k\n    "
        + "second-input 10k\n    second-feedback 10k", false)]
    public void A_stage_with_a_target_is_unfinished_as_long_as_its_op_amp_or_a_resistor_is_open(string settings, bool isOpen)
    {
        var circuit =
            Load($"{Around}stage shift is two-stage-shifter\n    from IN to PIN\n    {settings}\n{Pin}\nrequire shift headroom over 1 V\n");
        Assert.Equal(isOpen, circuit.Stages.Length == 1);
        Assert.Equal(!isOpen, circuit.FrontEnd.Stages.Length == 1);
        Assert.True(circuit.HasRequirements);
    }

    [Fact]
    public void A_stage_left_out_is_written_ahead_of_the_pin_and_every_line_of_the_file_stays()
    {
        string text = Around + Pin;
        var circuit = Load(text);
        string completed = circuit.Complete("probe.fes", ["Chosen."], Stage(circuit.FrontEnd.Rails, circuit.FrontEnd.Sensors), "PIN", [],
            ["adc mapping error under 5 counts"]);
        var rest = new Queue<string>(text.Split('\n'));
        foreach (string line in completed.Split('\n'))
        {
            if (rest.TryPeek(out string? next) && next == line)
                rest.Dequeue();
        }
        Assert.Empty(rest);
        Assert.True(completed.IndexOf("# Chosen.\nstage shift",
            StringComparison.Ordinal) < completed.IndexOf("# The pin of the converter.\npin adc", StringComparison.Ordinal));
        var loaded = CircuitFile.Load(new SourceFile("probe.fes", completed));
        Assert.Empty(loaded.Diagnostics);
        Assert.Single(loaded.FrontEnd!.Stages);
        Assert.Single(loaded.FrontEnd.Requirements);
    }

    [Fact]
    public void An_unfinished_stage_keeps_its_lines_and_comments_and_gets_what_it_lacks_in_its_own_indentation()
    {
        string text = Around
            + "stage shift is two-stage-shifter\r\n  from IN to PIN # ends\r\n  maps probe onto 0.05 V .. 3.25 V\r\n  offset from VDD\r\n"
                + Pin;
        var circuit = Load(text);
        string completed = circuit.Complete("probe.fes", [], Stage(circuit.FrontEnd.Rails, circuit.FrontEnd.Sensors), "LEVEL", [], []);
        Assert.Contains("  from IN to LEVEL # ends\r\n  maps probe onto 0.05 V .. 3.25 V\r\n  offset from VDD\r\n  opamp jfet-input "
            + "on VP and VN\r\n  resistors E96 1%\r\n",
            completed, StringComparison.Ordinal);
    }
}
