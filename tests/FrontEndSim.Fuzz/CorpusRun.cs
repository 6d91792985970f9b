using System.Text.RegularExpressions;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Studies.Session;
using FrontEndSim.Language.Binding;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Fuzz;

/// <summary>Front ends drawn at random, each solved at rest, swept, and through its last event: how many there are that have no
/// solution.</summary>
internal static partial class CorpusRun
{
    // The event strikes after a millisecond; what follows it takes no longer.
    private const double Seconds = 2e-3;

    /// <summary>Draws and solves.</summary>
    /// <param name="number">Number of the first front end: each number draws the same one always.</param>
    /// <param name="count">How many.</param>
    /// <param name="told">Where the result goes: a line for each reason of a refusal, and one for each that was given up.</param>
    /// <returns>0 where at least 99.9 % of those that can be built are solved, else 1.</returns>
    public static int Run(int number, int count, TextWriter told)
    {
        int solved = 0, givenUp = 0;
        var refused = new List<(string Code, string Reason)>();
        string path = Path.Combine(Path.GetTempPath(), $"corpus-{Environment.ProcessId}.fes");
        for (int seed = number; seed < number + count; seed++)
        {
            File.WriteAllBytes(path, FrontEndMaker.Make(new Random(seed)));
            var read = CircuitFile.Load(path);
            if (read.FrontEnd is not { } frontEnd)
            {
                var first = read.Diagnostics.First(d => d.IsError);
                refused.Add((first.Code, Digits().Replace(first.Message, "#")));
                continue;
            }
            try
            {
                var session = new SolvedFrontEnd(frontEnd);
                session.Rest();
                var sensor = frontEnd.Sensors[0];
                session.Sweep(sensor.Name, [sensor.Span.Low, sensor.Span.Middle, sensor.Span.High]);
                session.Transient(frontEnd.Events[^1], Seconds);
                solved++;
            }
            catch (Exception e) when (e is SolveException or CircuitException)
            {
                givenUp++;
                told.WriteLine($"{seed}: {e.Message}");
            }
        }
        File.Delete(path);
        foreach (var kind in refused.GroupBy(r => r.Code).OrderByDescending(k => k.Count()))
        {
            told.WriteLine($"refused before solving, {kind.Count()}: {kind.Key}, {DiagnosticCode.All.First(c => c.Text == kind.Key).Meaning}");
            foreach (var reason in kind.GroupBy(r => r.Reason).OrderByDescending(r => r.Count()))
                told.WriteLine($"  {reason.Count()}: {reason.Key}");
        }
        told.WriteLine(FormattableString.Invariant($"{solved} of {solved + givenUp} solved, {givenUp} given up, {refused.Count} refused before solving"));
        return givenUp <= 0.001 * (solved + givenUp) ? 0 : 1;
    }

    [GeneratedRegex(@"-?\d[\d.]*(?:e-?\d+)?")]
    private static partial Regex Digits();
}
