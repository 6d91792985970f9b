using FrontEndSim.Cli;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds;
using FrontEndSim.FrontEnds.Studies;
using FrontEndSim.Reporting.Plots;

namespace FrontEndSim.EndToEnd.Tests;

/// <summary>Exit codes of what no well-meant circuit brings about, asked of the one place that decides them.</summary>
public class ExitCodeTests
{
    public static TheoryData<Exception, int> Ends => new()
    {
        { new SolveException("no step was small enough"), 3 },
        { new CircuitException([new CircuitProblem("two sources in parallel")]), 2 },
        { new StudyProblemException(new(ProblemKind.NoSensorReaches, "adc")), 2 },
        { new NoFontException(), 2 },
        { new OperationCanceledException(), 130 },
        { new InvalidOperationException("a fault of the program"), 4 },
    };

    // 4 mA pushed backwards through a junction that breaks down nowhere and leaks its saturation current only: no voltage satisfies that.
    [Theory, InlineData("bias"), InlineData("check"), InlineData("sweep")]
    public void A_circuit_without_a_solution_ends_with_3_and_names_the_node(string verb)
    {
        using var scratch = new Scratch();
        var run = Frontendsim.Run(verb, scratch.Write("blocked.fes", """
            circuit "A current pushed the wrong way through a diode"
            rail VDD 3.3 V
            part BLOCK is diode
                forward 0.64 V at 1 mA
                forward 0.70 V at 10 mA
            source I1 from GND to A 4 mA
            diode D1 from GND to A BLOCK
            sensor probe drives IN span 0 V .. 3 V
            resistor R1 from IN to PIN 1k
            pin adc at PIN
                rated -0.3 V .. VDD + 0.3 V
                converts 12 bits over 0 V .. VDD

            """));
        Assert.Equal(3, run.ExitCode);
        // check judges all the rest and lists what is not known; the others have nothing to show.
        var (said, silent) = verb == "check" ? (run.Output, run.Error) : (run.Error, run.Output);
        Assert.Equal("", silent);
        Assert.Contains("node A", string.Join(' ', said.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)));
    }

    [Theory, MemberData(nameof(Ends))]
    public void Each_way_of_failing_has_the_exit_code_that_the_documentation_promises(Exception failure, int exitCode) =>
        Assert.Equal(exitCode, Entry.Explain(failure));
}
