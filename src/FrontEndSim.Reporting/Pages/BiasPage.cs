using System.Collections.Immutable;
using FrontEndSim.FrontEnds.Studies.Bias;
using FrontEndSim.Reporting.Blocks;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting.Pages;

/// <summary>The operating point: what a meter would read, at the nodes and at the parts.</summary>
public static class BiasPage
{
    /// <summary>The page.</summary>
    public static Page Of(BiasResult bias) => new(bias.Title,
        [
            new Paragraph(bias.SensorVolts.Count == 0 ? "Operating point."
                : $"Operating point, with {string.Join(", ", bias.SensorVolts.Select(s => $"{s.Key} at {Figures.Volts(s.Value)}"))}."),
            new Table("", [new("node"), new("voltage", ColumnKind.Number, "V")], [.. bias.NodeVolts.Select(n => (ImmutableArray<Cell>)[n.Key, n.Value])]),
            new Table("",
                [new("part"), new("voltage", ColumnKind.Number, "V"), new("current", ColumnKind.Number, "A"), new("power", ColumnKind.Number, "W")],
                [.. bias.Parts.Select(p => (ImmutableArray<Cell>)[p.Key, p.Value.Volts, p.Value.Amps, p.Value.Watts])]),
            new Lines([.. bias.Headroom.Select(h => new Line("Headroom", MappingWords.Headroom(h))), AuditWords.Rest(bias.Audit)]),
        ])
    {
        Data = new Table("",
            [new("kind"), new("name"), new("voltage", ColumnKind.Number, "V"), new("current", ColumnKind.Number, "A"), new("power", ColumnKind.Number, "W")],
            [
                .. bias.NodeVolts.Select(n => (ImmutableArray<Cell>)["node", n.Key, n.Value, "", ""]),
                .. bias.Parts.Select(p => (ImmutableArray<Cell>)["part", p.Key, p.Value.Volts, p.Value.Amps, p.Value.Watts]),
            ]),
    };
}
