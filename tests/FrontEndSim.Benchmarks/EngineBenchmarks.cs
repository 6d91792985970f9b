using BenchmarkDotNet.Attributes;
using FrontEndSim.Engine;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using MathNet.Numerics;
using MathNet.Numerics.Providers.LinearAlgebra;

namespace FrontEndSim.Benchmarks;

/// <summary>
/// Everything is timed in one run and compared with U: one dense factor-and-solve of order 16, in place, by MathNet's
/// managed provider.
/// </summary>
public class EngineBenchmarks
{
    private const int Order = 16;
    private readonly double[] _matrix = new double[Order * Order], _right = new double[Order];
    private readonly double[] _a = new double[Order * Order], _b = new double[Order];
    private readonly int[] _pivots = new int[Order];
    internal static readonly double[] Fine = [.. Enumerable.Range(0, 2001).Select(k => -10 + 0.01 * k)];
    internal static readonly double[] Coarse = [.. Enumerable.Range(0, 51).Select(k => -10 + 0.4 * k)];
    internal static readonly VariedNumber[] Varied = [.. new[] { "R1", "R2", "RF1", "R3", "RF2", "RG",
        "RPD" }.Select(r => new VariedNumber(r, Resistor.Resistance))];
    private CompiledCircuit _shifter = null!, _surge = null!;
    private CompiledCircuit[] _ladders = null!;

    [GlobalSetup]
    public void Setup()
    {
        Control.UseManaged();
        var random = new Random(1);
        for (int k = 0; k < _matrix.Length; k++)
            _matrix[k] = random.NextDouble();
        for (int k = 0; k < Order; k++)
        {
            _matrix[k * (Order + 1)] += 4;
            _right[k] = random.NextDouble();
        }
        _shifter = Circuits.GuardedShifter.Compile();
        _surge = Circuits.GuardUnderSurge.Compile();
        _ladders = [.. Sizes.Select(n => Circuits.Ladder(n).Compile(new SolverSettings { Keep = [$"N{n}"] }))];
    }

    internal static readonly int[] Sizes = [10, 100, 1000, 10_000];
    internal const int Draws = 10_000;

    [Benchmark(Description = "U")]
    public double DenseFactorAndSolve()
    {
        _matrix.CopyTo(_a, 0);
        _right.CopyTo(_b, 0);
        LinearAlgebraControl.Provider.LUFactor(_a, Order, _pivots);
        LinearAlgebraControl.Provider.LUSolveFactored(1, _a, Order, _pivots, _b);
        return _b[0];
    }

    [Benchmark(Description = "sweep of 2,001 points")]
    public SweepResult Sweep() => _shifter.Sweep("S", Fine);

    [Benchmark(Description = "10,000 draws of 51 points, 1 core")]
    public TrialResult DrawsOnOneCore() => RunDraws(1);

    [Benchmark(Description = "10,000 draws of 51 points, all cores")]
    public TrialResult DrawsOnAllCores() => RunDraws(0);

    private TrialResult RunDraws(int cores) => _shifter.SweepTrials("S", Coarse, Varied, Draws, Draw, ["PIN"], cores);

    /// <summary>A draw's numbers, each within 1 %.</summary>
    internal static void Draw(int draw, Span<double> numbers)
    {
        // SplitMix64 (Steele, Lea, Flood 2014): a generator that costs nothing to seed, so that the engine is what is timed.
        ulong state = (ulong)draw * 0x9E3779B97F4A7C15 * 64;
        for (int k = 0; k < numbers.Length; k++)
        {
            ulong z = state += 0x9E3779B97F4A7C15;
            z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
            z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
            numbers[k] *= 1 + 0.01 * (2 * ((z ^ (z >> 31)) >> 11) * Math.Pow(2, -53) - 1);
        }
    }

    [Benchmark(Description = "surge into the guard, 400 µs")]
    public TransientResult Surge() => _surge.RunTransient(400e-6);

    [Benchmark(Description = "ladder of 10 nodes")]
    public TransientResult Ladder10() => RunLadder(0);

    [Benchmark(Description = "ladder of 100 nodes")]
    public TransientResult Ladder100() => RunLadder(1);

    [Benchmark(Description = "ladder of 1,000 nodes")]
    public TransientResult Ladder1000() => RunLadder(2);

    [Benchmark(Description = "ladder of 10,000 nodes")]
    public TransientResult Ladder10000() => RunLadder(3);

    /// <summary>To half the diffusion time of the ladder.</summary>
    internal TransientResult RunLadder(int which) => _ladders[which].RunTransient(50e-9 * Sizes[which] * Sizes[which]);
}
