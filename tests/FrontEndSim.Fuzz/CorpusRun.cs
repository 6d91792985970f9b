using System.Diagnostics;
using System.Globalization;
using System.Text.RegularExpressions;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Fuzz;

/// <summary>Front ends drawn at random, each read and solved by a worker under its limits on time and memory: how many are solved, why
/// others are refused, and what is wrong with the rest.</summary>
internal static partial class CorpusRun
{
    /// <summary>Draws and solves.</summary>
    /// <param name="first">Number of the first front end: each number draws the same one always.</param>
    /// <param name="count">How many at most.</param>
    /// <param name="time">How long at most.</param>
    /// <param name="folder">Where the files go that are not solved.</param>
    /// <param name="told">Where the result goes: a line for each that fails, and one for each reason of a refusal.</param>
    /// <returns>0 where none fails and at least 99.9 % of those that can be built are solved, else 1.</returns>
    public static int Run(int first, int count, TimeSpan time, string folder, TextWriter told)
    {
        int solved = 0, givenUp = 0, failed = 0;
        var refused = new List<Finding>();
        var watch = Stopwatch.StartNew();
        using var end = new CancellationTokenSource(time);
        long through;
        using (var worker = new WorkerProcess())
            through = worker.RunCorpus(first, count, code => solved += code == 0 ? 1 : 0, (number, finding) =>
            {
                if (finding.Signature.StartsWith(Finding.RefusedCode, StringComparison.Ordinal))
                {
                    refused.Add(finding with { Detail = Digits().Replace(finding.Detail, "#") });
                    return;
                }
                if (finding.Signature == Finding.GivenUpCode)
                    givenUp++;
                else
                    failed++;
                string file = Path.Combine(folder, FuzzCase.Solve, FormattableString.Invariant($"{number}.fes"));
                Directory.CreateDirectory(Path.GetDirectoryName(file)!);
                File.WriteAllBytes(file, FrontEndMaker.Make(new Random((int)number)));
                told.WriteLine(FormattableString.Invariant($"{file}: {finding.Signature}: {finding.Detail}"));
            }, end.Token);
        foreach (var kind in refused.GroupBy(r => r.Signature[Finding.RefusedCode.Length..]).OrderByDescending(k => k.Count()))
        {
            told.WriteLine($"refused before solving, {kind.Count()}: {kind.Key}, "
                + $"{DiagnosticCode.All.FirstOrDefault(c => c.Text == kind.Key)?.Meaning}");
            foreach (var reason in kind.GroupBy(r => r.Detail).OrderByDescending(r => r.Count()))
                told.WriteLine($"  {reason.Count()}: {reason.Key}");
        }
        told.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"{solved} of {solved + givenUp + failed} solved of the front ends {first} to {first + through - 1}, {givenUp} given up, {failed} with an "
            + $"exception, a hang, too much memory, or a result that is unbalanced or not finite; {refused.Count} refused before solving; "
            + $"{watch.Elapsed.TotalSeconds:0} s"));
        return failed == 0 && givenUp <= 0.001 * (solved + givenUp) ? 0 : 1;
    }

    [GeneratedRegex(@"-?\d[\d.]*(?:e-?\d+)?")]
    private static partial Regex Digits();
}
