using BenchmarkDotNet.Configs;
using BenchmarkDotNet.Jobs;
using BenchmarkDotNet.Reports;
using BenchmarkDotNet.Running;
using BenchmarkDotNet.Toolchains.InProcess.Emit;
using FrontEndSim.Benchmarks;

if (args is ["convergence", var file])
{
    Convergence.Draw(file);
    return;
}
if (args is ["growth"])
{
    Growth.Print();
    return;
}
if (args is ["bounds"])
{
    Bounds.Print();
    return;
}
if (args is ["scale", var picture])
{
    Scale.Draw(picture);
    Growth.Print();
    return;
}

// Runs every benchmark in one process and prints the table of docs/performance.md.
var config = ManualConfig.Create(DefaultConfig.Instance)
    .AddJob(Job.Default.WithToolchain(InProcessEmitToolchain.Instance).WithWarmupCount(5).WithIterationCount(8));
Summary summary = BenchmarkRunner.Run<EngineBenchmarks>(config, args);

double Microseconds(string name) => summary.Reports
    .Single(r => r.BenchmarkCase.Descriptor.WorkloadMethodDisplayInfo.Trim('\'') == name).ResultStatistics!.Min / 1000;

var probe = new EngineBenchmarks();
probe.Setup();
double u = Microseconds("U");
Console.WriteLine();
Console.WriteLine($"U = {u:f2} µs on {Environment.ProcessorCount} cores; least time of each");
Console.WriteLine();
Console.WriteLine("| what | time | in U | limit |");
Console.WriteLine("|---|---|---|---|");
Row("one point of the 2,001-point sweep", Microseconds("sweep of 2,001 points") / 2001, "2 U");
int points = EngineBenchmarks.Draws * 51;
double one = Microseconds("10,000 draws of 51 points, 1 core"), all = Microseconds("10,000 draws of 51 points, all cores");
Row("one point of a draw, one core", one / points, "0.25 U");
Console.WriteLine($"| the same draws on all cores | {one / all:f2} times faster | | 1.8 times on 2 cores |");
var surge = probe.Surge();
Row($"surge, {surge.Audit.StepsTaken} steps", Microseconds("surge into the guard, 400 µs"), "300 U, 100 steps");
foreach (var (name, which) in new[] { ("10", 0), ("100", 1), ("1,000", 2), ("10,000", 3) })
{
    var run = probe.RunLadder(which);
    int steps = run.Audit.StepsTaken + run.Audit.StepsRefused;
    Row($"ladder of {name} nodes, a node a step ({steps} steps)",
        Microseconds($"ladder of {name} nodes") / steps / EngineBenchmarks.Sizes[which],
        which == 2 ? "0.06 µs or 0.04 U" : "");
}

void Row(string what, double microseconds, string limit) =>
    Console.WriteLine($"| {what} | {microseconds:g3} µs | {microseconds / u:g3} | {limit} |");
