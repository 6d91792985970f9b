using FrontEndSim.Cli;
using FrontEndSim.Engine;
using FrontEndSim.FrontEnds;
using FrontEndSim.Reporting.Plots;

namespace FrontEndSim.EndToEnd.Tests;

/// <summary>Exit codes of what no well-meant circuit brings about, asked of the one place that decides them.</summary>
public class ExitCodeTests
{
    public static TheoryData<Exception, int> Ends => new()
    {
        { new SolveException("no step was small enough"), 3 },
        { new CircuitException([new CircuitProblem("two sources in parallel")]), 2 },
        { new StudyProblemException("no sensor reaches the pin"), 2 },
        { new NoFontException(), 2 },
        { new OperationCanceledException(), 130 },
        { new InvalidOperationException("a fault of the program"), 4 },
    };

    [Theory, MemberData(nameof(Ends))]
    public void Each_way_of_failing_has_the_exit_code_that_the_documentation_promises(Exception failure, int exitCode) =>
        Assert.Equal(exitCode, Entry.Explain(failure));
}
