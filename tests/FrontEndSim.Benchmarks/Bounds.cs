using FrontEndSim.Engine;
using FrontEndSim.Engine.Equations;
using FrontEndSim.Engine.Solving;

namespace FrontEndSim.Benchmarks;

/// <summary>
/// How far each benchmark is from what this machine could do at best: the operations that its circuit needs, counted by solving it with
/// <see cref="Counted"/> numbers, against the machine's measured rates. A bound is the largest of three: the floating-point units'
/// time, that of the divider, that of reading; beside it stands the longest chain of operations that wait for each other.
/// </summary>
internal static class Bounds
{
    private const double Seconds = 4;
    private const int TrialsCounted = 40;

    // Few at a time, so that other work on the machine does not get into each.
    private const int TrialsTimed = 128;

    /// <summary>Prints the tables.</summary>
    public static void Print()
    {
        var machine = new Machine();
        Console.WriteLine("| ns | " + string.Join(" | ", Enum.GetNames<Operation>().Select(n => n.ToLowerInvariant())) + " | load |");
        Console.WriteLine("|---|" + string.Concat(Enumerable.Repeat("---|", Counted.Counts.Length + 1)));
        Rates("one, in a chain", machine.InChain, machine.SumThroughMemory);
        Rates("eight, in a chain", machine.InChainOfEight, double.NaN);
        Rates("one, side by side", machine.Single, machine.LoadOne);
        Rates("eight, side by side", machine.Eight, machine.LoadEight);
        Console.WriteLine($"\nA cycle takes {machine.Cycle:g3} ns. The load of the first row is a sum that goes through memory.\n");

        var benchmarks = new EngineBenchmarks();
        benchmarks.Setup();
        double u = Machine.Least(() => benchmarks.DenseFactorAndSolve(), Seconds);
        Console.WriteLine($"U = {u / 1e3:f2} µs\n");
        Console.WriteLine("| | sums, products | fused | comparisons | quotients | roots | exponentials | logarithms "
            + "| units | divider | loads | bound | chain | through memory | taken |");
        Console.WriteLine("|---|---|---|---|---|---|---|---|---|---|---|---|---|---|---|");

        var shifter = Circuits.GuardedShifter.Compile();
        double[] fine = EngineBenchmarks.Fine, coarse = EngineBenchmarks.Coarse;
        int alone = 0, points = TrialsCounted * coarse.Length;
        Row("sweep, a point", 8, 1, fine.Length, () => alone = Sweep(shifter, fine),
            Machine.Least(() => benchmarks.Sweep(), Seconds) / fine.Length);

        long steps = 0;
        var together = Draws<Octet>(shifter, coarse, TrialsCounted);
        var trials = shifter.PrepareTrials("S", coarse, EngineBenchmarks.Varied, ["PIN"]);
        Row("draw, a point", 8, 8, points, () => steps = Draws<Counted>(shifter, coarse, TrialsCounted).Sum(),
            Machine.Least(() => trials.Run(TrialsTimed, EngineBenchmarks.Draw, 1), Seconds) / TrialsTimed / coarse.Length);

        // A surge: what the steps of Newton's method take, as many as the run has.
        var surge = benchmarks.Surge().Audit;
        var guard = Circuits.GuardUnderSurge.Compile();
        Row("surge", 1, 1, (double)Steps(guard) / surge.NewtonIterations, () => Steps(guard),
            Machine.Least(() => benchmarks.Surge(), Seconds));

        // A ladder: the solves and sums of one step.
        const int which = 2;
        int nodes = EngineBenchmarks.Sizes[which];
        var ladder = Circuits.Ladder(nodes).Compile();
        var run = benchmarks.RunLadder(which).Audit;
        Row("ladder of 1,000, a node a step", 1, 1, nodes, () => Ladder(ladder, Tableau.Of(TimeMethod.FourthOrder)),
            Machine.Least(() => benchmarks.RunLadder(which), Seconds) / (run.StepsTaken + run.StepsRefused) / nodes);

        double inOrder = Machine.Least(() => new SweepRun(shifter, "S", default).Solutions(fine, inBlocksFrom: int.MaxValue), Seconds);
        Console.WriteLine($"\nSweep: {alone} of {fine.Length} points not side by side; all one after the other, "
            + $"{InU(inOrder / fine.Length)} a point. "
            + $"Draws: {(double)steps / points:f2} steps a point alone, {together.Average():f2} where eight wait for each other "
            + $"({together.Count(s => s == 1) * 100.0 / together.Count:f0} % of the points with one, {together.Max()} at most). "
            + $"Surge: {surge.NewtonIterations} steps of Newton's method in {surge.StepsTaken} of time and {surge.StepsRefused} refused.");

        void Row(string what, int width, int chains, double count, Action solve, double measured)
        {
            double[] rates = width == 1 ? machine.Single : machine.Eight, chained = width == 1 ? machine.InChain : machine.InChainOfEight;
            double load = width == 1 ? machine.LoadOne : machine.LoadEight;
            // Every result of a product and sum goes through memory.
            double[] stored = [.. chained];
            stored[(int)Operation.Fused] += machine.SumThroughMemory - machine.InChain[(int)Operation.Sum];
            double throughMemory = Chain(stored), chain = Chain(chained);
            double[] each = [.. Counted.Counts.Select(c => c / count)];
            double Of(Operation operation) => each[(int)operation];
            double Time(params Operation[] operations) => operations.Sum(o => Of(o) * rates[(int)o]) / width;
            double units = Time(Operation.Sum, Operation.Product, Operation.Fused, Operation.Comparison, Operation.Exponential,
                Operation.Logarithm), divider = Time(Operation.Quotient, Operation.Root);
            // A product of the elimination reads two numbers and a place, another operation one number.
            double loads = (3 * Of(Operation.Fused) + Of(Operation.Sum) + Of(Operation.Product)) * load / width;
            double bound = Math.Max(units, Math.Max(divider, loads));
            Console.WriteLine($"| {what} | {Of(Operation.Sum) + Of(Operation.Product):g3} | {Of(Operation.Fused):g3} "
                + $"| {Of(Operation.Comparison):g3} | {Of(Operation.Quotient):g3} | {Of(Operation.Root):g3} "
                + $"| {Of(Operation.Exponential):g3} | {Of(Operation.Logarithm):g3} | {InU(units)} | {InU(divider)} | {InU(loads)} | {InU(bound)} | {InU(chain)} "
                + $"| {InU(throughMemory)} | {InU(measured)} |");

            double Chain(double[] latencies)
            {
                Counted.Latencies = latencies;
                Counted.Clear();
                solve();
                Counted.EndChain();
                return Counted.Chains / count / chains;
            }
        }

        string InU(double nanoseconds) => $"{nanoseconds / u:g3} U";
    }

    private static void Rates(string what, double[] rates, double load) =>
        Console.WriteLine($"| {what} | {string.Join(" | ", rates.Select(r => $"{r:g3}"))} | {load:g3} |");

    /// <summary>Solves a sweep as if every point lay in a block; returns how many would not.</summary>
    private static int Sweep(CompiledCircuit compiled, double[] values)
    {
        int source = compiled.SourceIndex("S"), alone = SweepBlock.Before;
        double[][] known = new SweepRun(compiled, "S", default).Solutions(values);
        var kernel = new Kernel<Counted>(compiled.Topology);
        var drive = (IDrive<Counted>)kernel.Devices[source];
        int first = compiled.Topology.Wiring.FirstUnknown;
        Counted[][] found = [.. known.Select(x => x.Select(Counted.Of).ToArray())];
        Counted.Clear();
        for (int n = SweepBlock.Before; n < values.Length; n++)
        {
            int from = n - (n - SweepBlock.Before) % SweepBlock.Points;
            Stand(kernel, drive, values[n]);
            for (int r = first; r < found[n].Length; r++)
            {
                Counted sum = Counted.Of(0);
                for (int k = 0; k < SweepBlock.Before; k++)
                    sum += Counted.Of(SweepBlock.Weight(k, n - from)) * found[from - 1 - k][r];
                kernel.At.X[r] = sum;
            }
            if (!kernel.Prepare(0) || !Newton.TryConfirm(kernel))
            {
                alone++;
                for (int r = first; r < found[n].Length; r++)
                    kernel.At.X[r] = found[n - 1][r];
                kernel.Evaluate(exact: true);
                Newton.SolveStatic(kernel, 100, default);
            }
            var (amps, scale) = kernel.LargestLeft();
            if (amps.Get(0) > SweepRun.BalancedAmps + SweepRun.BalancedShare * scale.Get(0))
            {
                kernel.EvaluateResidual();
                kernel.LargestLeft();
                kernel.Polish();
            }
            kernel.At.X.CopyTo(found[n], 0);
        }
        return alone;
    }

    /// <summary>Solves draws as <see cref="TrialRun"/> does; returns the steps of Newton's method at each point.</summary>
    private static List<long> Draws<L>(CompiledCircuit compiled, double[] values, int trials) where L : struct, ILane<L>
    {
        double[][] nominal = new SweepRun(compiled, "S", default).Solutions(values);
        var kernel = new Kernel<L>(compiled.Topology);
        var drive = (IDrive<L>)kernel.Devices[compiled.SourceIndex("S")];
        int first = compiled.Topology.Wiring.FirstUnknown;
        var varied = EngineBenchmarks.Varied.Select(compiled.Find).ToArray();
        var numbers = new double[varied.Length];
        double[] asDrawn = compiled.NominalOf(EngineBenchmarks.Varied);
        var slopes = TrialSlopes.Of(compiled, compiled.SourceIndex("S"), values, nominal, varied, asDrawn, default)!;
        L[] changes = new L[varied.Length], along = new L[kernel.At.X.Length];
        var steps = new List<long>();
        for (int trial = 0; trial < trials; trial += L.Width)
        {
            for (int lane = 0; lane < L.Width; lane++)
            {
                asDrawn.CopyTo(numbers, 0);
                EngineBenchmarks.Draw(trial + lane, numbers);
                for (int v = 0; v < varied.Length; v++)
                {
                    ref L number = ref kernel.Devices[varied[v].Device].Number(varied[v].Number);
                    number = number.With(lane, numbers[v]);
                    changes[v] = changes[v].With(lane, numbers[v] - asDrawn[v]);
                }
            }
            Counted.EndChain();
            kernel.StartOver();
            L[] x = kernel.At.X;
            for (int n = 0; n < values.Length; n++)
            {
                Stand(kernel, drive, values[n]);
                slopes.Departure(n, changes, along);
                for (int r = first; r < x.Length; r++)
                    x[r] = L.Of(nominal[n][r]) + along[r];
                if (n == 0)
                    kernel.Evaluate(exact: true);
                long before = kernel.Iterations;
                if (!kernel.Prepare(0) || !Newton.SolveStatic(kernel, 40, default))
                    throw new InvalidOperationException("A draw did not settle.");
                steps.Add(kernel.Iterations - before);
            }
        }
        return steps;
    }

    private static void Stand<L>(Kernel<L> kernel, IDrive<L> drive, double value) where L : struct, ILane<L>
    {
        drive.Hold(L.Of(value));
        kernel.SourcesChanged();
        kernel.SetTime(0);
    }

    /// <summary>Solves the surge in steps of backward Euler that grow; returns the steps of Newton's method.</summary>
    private static long Steps(CompiledCircuit compiled)
    {
        var kernel = new Kernel<Counted>(compiled.Topology);
        var charges = new Counted[kernel.At.X.Length];
        kernel.SetTime(0);
        if (!kernel.Prepare(0) || !Newton.SolveStatic(kernel, 100, default))
            throw new InvalidOperationException("The circuit finds no rest.");
        kernel.Charges(charges);
        Counted.Clear();
        long before = kernel.Iterations;
        double t = 0;
        for (double h = 20e-9; t < 400e-6; t += h, h *= 1.1)
        {
            var target = charges.ToArray();
            kernel.SetTime(t + h);
            if (!kernel.Prepare(1 / h) || !Newton.SolveStatic(kernel, 100, default, target))
                throw new InvalidOperationException("A step did not settle.");
            kernel.TangentCharges(charges);
        }
        return kernel.Iterations - before;
    }

    /// <summary>The solves and sums of one step of a linear circuit, factors kept.</summary>
    private static void Ladder(CompiledCircuit compiled, Tableau method)
    {
        var kernel = new Kernel<Counted>(compiled.Topology);
        kernel.SetTime(1e-6);
        if (!kernel.Prepare(1e9))
            throw new InvalidOperationException("The ladder is singular.");
        int size = kernel.At.X.Length, stages = method.A.Length;
        Counted[][] slope = [.. Enumerable.Range(0, stages).Select(_ => new Counted[size])];
        Counted[] start = new Counted[size], target = new Counted[size], charges = new Counted[size];
        Counted factor = Counted.Of(1e-3);
        Counted.Clear();
        for (int stage = 1; stage < stages; stage++)
        {
            start.CopyTo(target, 0);
            Sum(target, stage);
            kernel.SolveLinear(target);
            kernel.TangentCharges(charges);
            for (int r = 0; r < size; r++)
                slope[stage][r] = factor * (charges[r] - target[r]);
        }
        Sum(target, stages);
        kernel.SolveAgain(target, charges);

        void Sum(Counted[] into, int count)
        {
            for (int j = 0; j < count; j++)
            {
                for (int r = 0; r < size; r++)
                    into[r] += factor * slope[j][r];
            }
        }
    }
}
