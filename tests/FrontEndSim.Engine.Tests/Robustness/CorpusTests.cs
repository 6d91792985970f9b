using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;

namespace FrontEndSim.Engine.Tests.Robustness;

public class CorpusTests(ITestOutputHelper output)
{
    private const int Count = 600;

    // A transient may take this many steps before it gives up with a message; most take a few hundred.
    private static readonly SolverSettings Settings = new() { MostSteps = 50_000 };

    [Fact]
    public void Six_hundred_random_front_ends_each_solve_with_balanced_currents_or_are_refused_by_name()
    {
        var failures = new List<string>();
        int refused = 0, unsolved = 0, solved = 0;
        Parallel.For(0, Count, seed =>
        {
            var drawn = new RandomFrontEnd(seed);
            var circuit = new Circuit(drawn.Parts, drawn.Celsius);
            if (!circuit.Problems.IsEmpty)
            {
                Interlocked.Increment(ref refused);
                foreach (var problem in circuit.Problems)
                {
                    if (!new[] { problem.Element, problem.Node }.Any(name => name is not null
                        && problem.Message.Contains(name, StringComparison.Ordinal)))
                        Fail(seed, $"refused without naming node or part: {problem.Message}");
                }
                return;
            }
            try
            {
                var compiled = circuit.Compile(Settings);
                Check(seed, "operating point", compiled.SolveOperatingPoint().Audit, drawn.Parts);
                Check(seed, "sweep", compiled.Sweep("SENSOR", [-10, -1, 0, 1, 10]).Audit, drawn.Parts);
                Check(seed, "transient", compiled.RunTransient(50e-6).Audit, drawn.Parts);
                Interlocked.Increment(ref solved);
            }
            catch (SolveException e)
            {
                Interlocked.Increment(ref unsolved);
                output.WriteLine($"seed {seed} given up: {e.Message}");
                if (e.Node is null && e.Element is null && !e.Message.Contains("limit of", StringComparison.Ordinal))
                    Fail(seed, $"gave up without naming node or part: {e.Message}");
            }
            catch (Exception e)
            {
                Fail(seed, e.ToString());
            }
        });
        output.WriteLine($"{solved} solved, {refused} refused before solving, {unsolved} given up by name");
        Assert.True(failures.Count == 0, string.Join(Environment.NewLine, failures.Order().Take(10)));
        Assert.True(solved >= Count * 9 / 10, $"only {solved} of {Count} solved ({refused} refused, {unsolved} given up)");

        void Check(int seed, string what, Audit audit, IReadOnlyList<Element> parts)
        {
            // 1 ppm of the largest current that 5,000 V can drive through the smallest source resistance, or less.
            double scale = parts.OfType<VoltageSource>().Where(s => s.SeriesOhms > 0).Max(s => 5000 / s.SeriesOhms);
            if (!(audit.KirchhoffAmps <= 1e-6 * scale))
                Fail(seed, $"{what}: {audit.KirchhoffAmps:g3} A left over at {audit.KirchhoffNode}");
            if (!(audit.EnergyImbalance <= 0.01))
                Fail(seed, $"{what}: energy out of balance by {audit.EnergyImbalance:p2}");
        }

        void Fail(int seed, string message)
        {
            lock (failures)
                failures.Add($"seed {seed}: {message}");
        }
    }
}
