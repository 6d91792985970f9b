using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies.Compare;

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
            if (PartRole.Find(frontEnd, part) is { Role: Role.PullDown or Role.ResistorToGround or Role.Burden, Amplifier: null })
                yield return (part, "without", frontEnd.Replace(part, null));
            foreach (var trial in part.Idealisations)
            {
                if (trial.Of == Imperfection.Leakage)
                    yield return (part, "without", frontEnd.Replace(part, trial.Ideal));
                else if (trial.Of == Imperfection.BiasCurrent)
                    yield return (part, "with no bias current in", frontEnd.Replace(part, trial.Ideal));
            }
        }
    }
}
