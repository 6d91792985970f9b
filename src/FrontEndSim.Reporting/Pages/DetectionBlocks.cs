using FrontEndSim.FrontEnds.Studies.Faults;
using FrontEndSim.Reporting.Blocks;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting.Pages;

/// <summary>What the firmware sees of single faults.</summary>
internal static class DetectionBlocks
{
    /// <summary>The valid codes, and a row for each fault and pin.</summary>
    public static ImmutableArray<Block> Of(Detection seen) =>
    [
        new Section("seen", "What the firmware sees",
        [
            new Lines([.. seen.Bands.Select(b => new Line("Valid", DetectionWords.Of(b)))]),
            new Table("",
                [new("broken"), new("pin"), new("code"), new("reads as"), new("told from a valid reading", ColumnKind.Standing)],
                [
                    .. seen.Rows.SelectMany(r => r.Pins.IsEmpty
                        ? [(ImmutableArray<Cell>)[r.Fault.Text, "", "no solution", "", Told(r)]]
                        : r.Pins.Select(p => (ImmutableArray<Cell>)
                        [
                            r.Fault.Text, p.Pin, DetectionWords.Codes(p),
                            DetectionWords.Readings(p, seen.Bands.First(b => b.Pin == p.Pin).SensorUnit), Told(r),
                        ])),
                ]),
        ]),
    ];

    private static Cell Told(DetectionRow row) => new()
    {
        Standing = row.Sight switch
        {
            FaultSight.Detected or FaultSight.Harmless => Standing.Met,
            FaultSight.NotKnown => Standing.NotKnown,
            _ => Standing.NotMet,
        },
        Words = DetectionWords.Of(row.Sight),
    };
}
