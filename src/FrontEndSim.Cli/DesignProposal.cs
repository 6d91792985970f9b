using FrontEndSim.FrontEnds.Studies;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Design;
using FrontEndSim.Language.Binding;
using FrontEndSim.Language.Text;
using FrontEndSim.Language.Writing;
using FrontEndSim.Reporting.Pages;

namespace FrontEndSim.Cli;

/// <summary>The candidate that is proposed, as a circuit file whose check is known.</summary>
/// <param name="Number">Which candidate it is, from 1.</param>
/// <param name="Complete">The design; its check is that of the text.</param>
/// <param name="Text">The circuit file.</param>
/// <param name="Chosen">What was chosen and is not in the file that it started from, in the words of a circuit file.</param>
/// <param name="PassedOver">Better candidates that were not taken.</param>
internal sealed record DesignProposal(int Number, CompleteDesign Complete, string Text,
    ImmutableArray<string> Chosen, ImmutableArray<PassedOver> PassedOver)
{
    /// <summary>
    /// The candidate that was picked, or the best that meets every requirement; if none does, the best, with what it misses.
    /// </summary>
    /// <param name="result">The candidates, at least one.</param>
    /// <param name="pick">The number of the candidate that was picked; null for the best that holds.</param>
    /// <param name="circuit">The file that is completed; null where there is none.</param>
    /// <param name="path">Where the text will stand.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="InputException">There is no candidate of that number.</exception>
    /// <exception cref="StudyProblemException">No candidate can be guarded; the message says what to change.</exception>
    public static DesignProposal Of(DesignResult result, int? pick, UnfinishedCircuit? circuit, string path, CancellationToken cancel)
    {
        if (pick is { } number)
        {
            return number >= 1 && number <= result.Candidates.Length ? Of(result, number, circuit, path, [], cancel)
                : throw new InputException($"--pick {number}: there are {result.Candidates.Length} candidates, counted from 1");
        }
        DesignProposal? best = null;
        Exception? problem = null;
        var passed = ImmutableArray.CreateBuilder<PassedOver>();
        for (int k = 1; k <= result.Candidates.Length; k++)
        {
            try
            {
                var proposal = Of(result, k, circuit, path, passed.ToImmutable(), cancel);
                if (proposal.Complete.Check.AllMet)
                    return proposal;
                best ??= proposal;
                passed.Add(new(k, [.. proposal.Complete.Check.Requirements.Where(r => !r.Met)], null));
            }
            catch (Exception e) when (e is StudyProblemException or DiagnosticsException)
            {
                problem ??= e;
                passed.Add(new(k, [], e is DiagnosticsException wrong ? wrong.Diagnostics.First(d => d.IsError).Message
                    : ProblemWords.Of(((StudyProblemException)e).Problem)));
            }
        }
        return best ?? throw problem!;
    }

    private static DesignProposal Of(DesignResult result, int number, UnfinishedCircuit? circuit,
        string path, ImmutableArray<PassedOver> passed, CancellationToken cancel)
    {
        var complete = DesignCompletion.Run(result.Target, result.Candidates[number - 1], cancel);
        string text = circuit is null ? DesignText.Of(complete, result.Target)
            : DesignText.Completed(circuit, complete, result.Target, path);
        // The text is read back and checked: it is the file that counts.
        var loaded = CircuitFile.Load(new SourceFile(path, text));
        if (loaded.FrontEnd is null)
            throw circuit is null ? new InvalidOperationException("the design does not read back: " + loaded.Diagnostics[0].Message)
                : new DiagnosticsException(loaded.Diagnostics);
        // What is required is that of the file, in its words.
        var check = loaded.FrontEnd.Requirements.Length != complete.FrontEnd.Requirements.Length
            ? CheckStudy.Run(loaded.FrontEnd, cancel: cancel)
            : complete.Check with
            {
                Requirements =
                [.. complete.Check.Requirements.Zip(loaded.FrontEnd.Requirements, (r, written) => r with { Requirement = written })]
            };
        complete = complete with { FrontEnd = loaded.FrontEnd, Check = check };
        return new(number, complete, text, [.. DesignText.Chosen(complete, result.Target)], passed);
    }
}
