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
            new Paragraph(bias.SensorValue.Count == 0 ? "Operating point."
                : "Operating point, with " + string.Join(", ", bias.SensorValue.Select(s =>
                    $"{s.Key} at {Figures.Of(s.Value, bias.SensorUnits.GetValueOrDefault(s.Key, "V"))}")) + "."),
            .. UnstableWords.Of(bias.SettlesTo, "Shown is where the currents balance."),
            new Table("", [new("node"), new("voltage", ColumnKind.Number, "V")],
                [.. bias.NodeVolts.Select(n => (ImmutableArray<Cell>)[n.Key, n.Value])]),
            new Table("",
                [new("part"), new("voltage", ColumnKind.Number, "V"), new("current", ColumnKind.Number, "A"),
                    new("power", ColumnKind.Number, "W")],
                [
                    .. bias.Parts.Where(p => !IsIdle(bias, p.Key, p.Value.Amps))
                        .Select(p => (ImmutableArray<Cell>)[p.Key, p.Value.Volts, p.Value.Amps, p.Value.Watts]),
                ]),
            new Lines([.. bias.Headroom.Select(h => new Line("Headroom", MappingWords.Headroom(h))), AuditWords.Rest(bias.Audit)]),
        ])
    {
        Data = new Table("",
            [new("kind"), new("name"), new("voltage", ColumnKind.Number, "V"), new("current", ColumnKind.Number, "A"),
                new("power", ColumnKind.Number, "W")],
            [
                .. bias.NodeVolts.Select(n => (ImmutableArray<Cell>)["node", n.Key, n.Value, "", ""]),
                .. bias.Parts.Select(p => (ImmutableArray<Cell>)["part", p.Key, p.Value.Volts, p.Value.Amps, p.Value.Watts]),
            ]),
    };

    // The diodes inside of an op amp are told of where they carry what a meter would show.
    private const double LeastAmps = 1e-12;

    private static bool IsIdle(BiasResult bias, string element, double amps) =>
        Math.Abs(amps) < LeastAmps && bias.Headroom.Any(h => element.StartsWith(h.OpAmp + ".", StringComparison.Ordinal));
}
