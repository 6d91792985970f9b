using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Check;

/// <summary>
/// What mends a requirement that is not met: each candidate is applied to the front end, solved again and kept only if the requirement is
/// then
/// met and every other one that was met still is, at all that they are judged at.
/// </summary>
internal static class MendStudy
{
    // What trying mends may run in all, in steps times elements, and what a check may that is run again for each: less than a minute.
    private const long MostStepElements = 30_000_000, MostOfCheck = 10_000_000;

    // Mends of one requirement: more than a person reads.
    private const int MostMends = 3;

    /// <summary>The check with what mends each requirement that is not met.</summary>
    public static CheckResult Run(SolvedFrontEnd solved, CheckResult check, CancellationToken cancel)
    {
        if (check.Verdict != Verdict.NotMet)
            return check;
        long left = check.StepElements > MostOfCheck ? 0 : MostStepElements;
        RequirementResult With(RequirementResult result) =>
            result.Verdict == Verdict.NotMet ? Mended(solved, check, result, ref left, cancel) : result;
        return check with { Requirements = [.. check.Requirements.Select(With)], Implied = [.. check.Implied.Select(With)] };
    }

    private static RequirementResult Mended(SolvedFrontEnd solved, CheckResult check, RequirementResult result, ref long left,
        CancellationToken cancel)
    {
        var mends = ImmutableArray.CreateBuilder<Mend>();
        (Mend Mend, Requirement? Breaks)? nearly = null;
        int tried = 0;
        bool isCutShort = false;
        foreach (var candidate in result.Candidates.AddRange(OfParts(result)).DistinctBy(m => (m.Kind, m.Subject)))
        {
            if (mends.Count == MostMends)
                break;
            if (candidate.Kind == MendKind.CalibrateLine)
            {
                // No part changes: what is left is what no line takes out.
                if (check.Mappings.FirstOrDefault(m => m.Pin == candidate.Subject) is { } mapping
                    && result.Limit is { } limit && mapping.Converts
                    && Math.Abs(mapping.NonlinearityCounts) is var rest && rest < limit.Value)
                    mends.Add(candidate with { Margin = new(limit.Value - rest, Unit.Count) });
                continue;
            }
            foreach (var trial in MendTrials.Of(solved.FrontEnd, candidate))
            {
                cancel.ThrowIfCancellationRequested();
                isCutShort |= left <= 0;
                if (left <= 0)
                    break;
                tried++;
                var trying = solved.Trying(trial.FrontEnd);
                bool holds = Holds(solved, result, trying, ref left, cancel);
                var after = holds ? trying.Check(cancel: cancel) : null;
                left -= trying.Work.StepElements;
                if (after is null)
                    continue;
                if (Broken(check, after, result) is (true, var broken))
                {
                    nearly ??= (trial.Mend, broken);
                    // A larger step of the same would break it all the more.
                    break;
                }
                mends.Add(trial.Mend with { Margin = Same(after, result)?.Margin, CostCounts = Cost(check, after) });
                break;
            }
        }
        return result with
        {
            Mends = mends.ToImmutable(),
            Obstacle = mends.Count > 0 || tried == 0 && !isCutShort ? null
                : new(tried, nearly?.Mend, nearly?.Breaks) { IsCutShort = isCutShort },
        };
    }

    /// <summary>Whether a requirement is met by a changed front end.</summary>
    private static bool Holds(SolvedFrontEnd solved, RequirementResult result, SolvedFrontEnd trying, ref long left,
        CancellationToken cancel)
    {
        try
        {
            // The circumstance that broke it comes first, alone: most of what does not hold is found out by it.
            if (result.Reason.WhereItDecides is { } deciding)
            {
                var there = solved.Trying(trying.FrontEnd, deciding);
                bool isBroken = CheckStudy.Judge(result.Requirement, there, null, cancel).Verdict == Verdict.NotMet;
                left -= there.Work.StepElements;
                if (isBroken)
                    return false;
            }
            return CheckStudy.Judge(result.Requirement, trying, null, cancel).Met;
        }
        catch (Exception e) when (e is SolveException or CircuitException or StudyProblemException)
        {
            return false;
        }
    }

    /// <summary>What was met and is not any more, or what is new and not met; null where there is nothing.</summary>
    private static (bool, Requirement?) Broken(CheckResult before, CheckResult after, RequirementResult mended)
    {
        foreach (var now in after.Judged().Where(r => !r.Met))
        {
            var then = Same(before, now);
            bool isWorse = then is null || then.Met || now.Requirement == mended.Requirement
                || now.Reason is PartsReason parts && then.Reason is PartsReason had
                    && parts.Beyond.Any(b => had.Beyond.All(h => h.Part.Part != b.Part.Part));
            if (isWorse)
                return (true, now.Requirement);
        }
        return (!after.Problems.IsEmpty && before.Problems.IsEmpty, null);
    }

    private static RequirementResult? Same(CheckResult check, RequirementResult result) =>
        check.Judged().FirstOrDefault(r => r.Requirement == result.Requirement);

    private static double? Cost(CheckResult before, CheckResult after) => before.Mappings.IsEmpty || after.Mappings.IsEmpty ? null
        : after.Mappings.Max(m => Math.Abs(m.Worst.ErrorCounts)) - before.Mappings.Max(m => Math.Abs(m.Worst.ErrorCounts));

    /// <summary>Of parts beyond their ratings: where one alone is, a larger one, or more ahead of it.</summary>
    private static IEnumerable<Mend> OfParts(RequirementResult result) =>
        result.Reason is PartsReason { Beyond: { IsEmpty: false } beyond } && beyond.Select(b => b.Part.Part).Distinct().Count() == 1
            ? [new(MendKind.HigherRating, beyond[0].Part.Part), new(MendKind.RaiseResistor, beyond[0].Part.Part)] : [];
}
