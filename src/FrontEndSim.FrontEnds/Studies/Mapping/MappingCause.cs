using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies.Compare;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Mapping;

/// <summary>What an error of the mapping comes from: the change to one part that lessens it most.</summary>
/// <param name="Part">The part.</param>
/// <param name="WithoutBias">Whether only its bias current was taken away; else the part was.</param>
/// <param name="RemainingCounts">Largest error left, counts, as a magnitude.</param>
public sealed record MappingCause(Part Part, bool WithoutBias, double RemainingCounts)
{
    /// <summary>What of the part was taken away; null for all of it.</summary>
    internal Imperfection? Of { get; init; }

    /// <summary>Tries the mapping without each part that can bend it; null if none takes away a third of the error.</summary>
    internal static MappingCause? Find(SolvedFrontEnd solved, MappingResult mapping, CancellationToken cancel)
    {
        // Against what the nominal parts give themselves no part is to blame.
        if (mapping.Wanted.IsOfNominalParts)
            return null;
        double now = Math.Abs(mapping.Worst.ErrorCounts);
        MappingCause? best = null;
        foreach (var (part, of, mended) in Trials(solved.FrontEnd))
        {
            if (mended.ToCircuit().Problems is not [])
                continue;
            double left = Math.Abs(MappingStudy.Run(solved.With(mended), mapping.Pin, mapping.Sensor, 21, cancel).Worst.ErrorCounts);
            if (left < now * 2 / 3 && (best is null || left < best.RemainingCounts))
                best = new(part, of == Imperfection.BiasCurrent, left) { Of = of };
        }
        return best;
    }

    private static IEnumerable<(Part Part, Imperfection? Of, FrontEnd Mended)> Trials(FrontEnd frontEnd)
    {
        foreach (var part in frontEnd.AllParts)
        {
            if (PartRole.Find(frontEnd, part) is { Role: Role.PullDown or Role.ResistorToGround or Role.Burden, Amplifier: null })
                yield return (part, null, frontEnd.Replace(part, null));
            foreach (var trial in part.Idealisations.Where(t => t.Of is Imperfection.Leakage or Imperfection.BiasCurrent))
                yield return (part, trial.Of, frontEnd.Replace(part, trial.Ideal));
        }
    }
}
