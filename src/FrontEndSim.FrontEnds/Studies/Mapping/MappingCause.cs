using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.FrontEnds.Studies.Mapping;

/// <summary>What an error of the mapping comes from: the change to one part that lessens it most.</summary>
/// <param name="Part">The part.</param>
/// <param name="Change">What was changed about it: "without", "with no bias current in".</param>
/// <param name="RemainingCounts">Largest error left, counts, as a magnitude.</param>
internal sealed record MappingCause(Part Part, string Change, double RemainingCounts)
{
    /// <summary>Tries the mapping without each part that can bend it; null if none takes away a third of the error.</summary>
    public static MappingCause? Find(FrontEnd frontEnd, MappingResult mapping, CancellationToken cancel)
    {
        double now = Math.Abs(mapping.Worst.ErrorCounts);
        MappingCause? best = null;
        foreach (var (part, change, mended) in Trials(frontEnd))
        {
            if (mended.ToCircuit().Problems is not [])
                continue;
            double left = Math.Abs(MappingStudy.Run(mended, mapping.Pin, mapping.Sensor, 21, cancel).Worst.ErrorCounts);
            if (left < now * 2 / 3 && (best is null || left < best.RemainingCounts))
                best = new(part, change, left);
        }
        return best;
    }

    private static IEnumerable<(Part Part, string Change, FrontEnd Mended)> Trials(FrontEnd frontEnd)
    {
        foreach (var part in frontEnd.AllParts)
        {
            if (part is DiodePart || part is ResistorPart r && (r.From == Circuit.Ground || r.To == Circuit.Ground) && !FeedsOpAmp(frontEnd, r))
                yield return (part, "without", Replace(frontEnd, part, null));
            else if (part is OpAmpPart amp)
            {
                var calm = amp.Type with { Model = amp.Type.Model with { BiasAmps = 0, OffsetAmps = 0 } };
                yield return (part, "with no bias current in", Replace(frontEnd, part, amp with { Type = calm }));
            }
        }
    }

    private static bool FeedsOpAmp(FrontEnd frontEnd, ResistorPart resistor) =>
        frontEnd.AllParts.OfType<OpAmpPart>().Any(a => resistor.Nodes.Contains(a.Plus) || resistor.Nodes.Contains(a.Minus));

    private static FrontEnd Replace(FrontEnd frontEnd, Part old, Part? mended) => frontEnd with
    {
        Stages = [.. frontEnd.Stages.Select(s => s with { Parts = [.. s.Parts.Select(p => p == old ? mended : p).OfType<Part>()] })],
        Parts = [.. frontEnd.Parts.Select(p => p == old ? mended : p).OfType<Part>()],
    };
}
