using FrontEndSim.FrontEnds.Studies.Mapping;
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

    [Theory]
    [MemberData(nameof(Files))]
    public void A_fine_sweep_of_a_shipped_circuit_passes_through_the_points_of_a_coarse_one(string name)
    {
        const int coarse = 100, finer = 20;
        if (CircuitFile.Load(Path.Combine(Folder, name)).FrontEnd is not { } frontEnd)
            return;
        foreach (var sensor in frontEnd.Sensors)
        {
            var rough = SweepStudy.Run(frontEnd, sensor.Name, SweepStudy.Grid(sensor.Span.Low, sensor.Span.High, coarse + 1));
            var fine = SweepStudy.Run(frontEnd, sensor.Name, SweepStudy.Grid(sensor.Span.Low, sensor.Span.High, coarse * finer + 1));
            foreach (string node in rough.Points[0].Nodes.Keys)
            {
                double[] points = rough.Voltage(node), between = fine.Voltage(node);
                Assert.All(points.Select((v, k) => (v, k)), p => Assert.Equal(p.v, between[p.k * finer], 1e-6 + 1e-6 * Math.Abs(p.v)));
            }
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
