using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.Reporting.Blocks;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting.Pages;

/// <summary>A row a sensor voltage: what stands at the pin, what should, what the converter reads, how far off it is.</summary>
public static class SweepPage
{
    /// <summary>The page.</summary>
    /// <param name="sweep">The sweep.</param>
    /// <param name="grid">Its mappings at the voltages asked for, one for each of those in the sweep.</param>
    /// <param name="showsNodes">Whether nodes were asked for by name.</param>
    public static Page Of(SensorSweep sweep, IReadOnlyList<MappingResult> grid, bool showsNodes)
    {
        // Without a mapping the nodes are the answer; inner nodes of stages only where they are asked for.
        string[] shown = [.. sweep.NodeVolts.Keys.Where(n => showsNodes || !n.Contains('.'))];
        return new(sweep.Title,
            [
                .. UnstableWords.Of(sweep.SettlesTo, "Shown is where they balance."),
                .. grid.Zip(sweep.Mappings).SelectMany(m => (Block[])
                [
                    MappingWords.Readings(m.First, m.First.Points),
                    new Lines([new("Mapping", string.Join("\n", m.Second.Headroom.Select(MappingWords.Headroom)
                        .Prepend(MappingWords.Sentence(m.Second))))]),
                ]),
                .. sweep.Amplitudes.SelectMany(AmplitudeWords.Of),
                .. grid.Count == 0 ? [new Paragraph($"No pin is mapped from sensor {sweep.Sensor}.")] : Array.Empty<Block>(),
                .. showsNodes || grid.Count == 0 ? [Nodes(sweep, shown)] : Array.Empty<Block>(),
                new Lines([AuditWords.Rest(sweep.Audit)]),
            ])
        {
            Data = Nodes(sweep, [.. sweep.NodeVolts.Keys]),
        };
    }

    private static Table Nodes(SensorSweep sweep, string[] nodes) => new("",
        [new(sweep.Sensor, ColumnKind.Number, sweep.SensorUnit), .. nodes.Select(n => new Column(n, ColumnKind.Number, "V"))],
        [.. sweep.SensorValue.Select((v, row) => (ImmutableArray<Cell>)[v, .. nodes.Select(n => (Cell)sweep.NodeVolts[n][row])])]);
}
