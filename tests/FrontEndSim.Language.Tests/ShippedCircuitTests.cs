using FrontEndSim.Language.Binding;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Language.Tests;

public class ShippedCircuitTests
{
    private static string Folder => Path.Combine(Reading.Repository, "circuits");

    public static TheoryData<string> Files => [.. Directory.EnumerateFiles(Folder, "*.fes").Select(f => Path.GetFileName(f)!).Order()];

    [Theory]
    [MemberData(nameof(Files))]
    public void A_shipped_circuit_reads_without_a_complaint(string name)
    {
        var file = SourceFile.Read(Path.Combine(Folder, name)).File!;
        Assert.Empty(CircuitFile.Parse(file).Diagnostics);
        // A file without a title is there to be included by others.
        if (CircuitFile.Parse(file).Statements.Any(s => s.Keyword == "circuit"))
        {
            var result = CircuitFile.Load(Path.Combine(Folder, name));
            Assert.True(result.Diagnostics.IsEmpty, DiagnosticPrinter.Print(result.Diagnostics));
        }
    }

    [Fact]
    public void The_guarded_and_the_unguarded_probe_meet_the_same_world()
    {
        var guarded = CircuitFile.Load(Path.Combine(Folder, "greenhouse-probe.fes")).FrontEnd!;
        var unguarded = CircuitFile.Load(Path.Combine(Folder, "greenhouse-probe-unguarded.fes")).FrontEnd!;
        Assert.Equal(guarded.Events, unguarded.Events);
        Assert.Equal(guarded.Pins, unguarded.Pins);
        Assert.Equal(guarded.Sensors, unguarded.Sensors);
    }
}
