using System.Collections.Concurrent;
using FrontEndSim.Engine.Results;

namespace FrontEndSim.Engine.Solving;

/// <summary>
/// Many trials of one circuit over one sweep: eight side by side, on all cores. Each group starts from the nominal
/// sweep, so its result depends on its own numbers only, not on which core came to it when.
/// </summary>
internal sealed class TrialRun
{
    private const int MostIterations = 40;

    private readonly CompiledCircuit _compiled;
    private readonly int _source;
    private readonly double[] _values;
    private readonly (int Device, Parameter Number)[] _varied;
    private readonly double[] _nominal;
    private readonly int[] _rows;
    private readonly double[][] _nominalSolutions;
    private readonly Foothold _nominalStart; // where the nominal sweep begins
    private readonly string[] _nodes;
    // Workers that no thread uses now: their equations are built once.
    private readonly ConcurrentBag<Worker> _idle = [];

    public TrialRun(CompiledCircuit compiled, string source, IReadOnlyList<double> values, IReadOnlyList<VariedNumber> varied,
        IReadOnlyList<string> nodes, Foothold? near, CancellationToken cancel)
    {
        _compiled = compiled;
        _nodes = [.. nodes];
        _source = compiled.SourceIndex(source);
        _values = [.. values];
        var elements = compiled.Circuit.Elements;
        _varied = [.. varied.Select(compiled.Find)];
        _nominal = [.. _varied.Select(v => v.Number.NominalOf(elements[v.Device])!.Value)];
        var wiring = compiled.Topology.Wiring;
        _rows = [.. nodes.Select(n => wiring.HasNode(n) ? wiring.Node(n)
            : throw new ArgumentException($"The circuit has no node named {n}."))];
        var sweep = new SweepRun(_compiled, source, cancel);
        sweep.BeginNear(near);
        _nominalSolutions = sweep.Solutions(values);
        _nominalStart = sweep.FootholdAt(_nominalSolutions[0]);
    }

    /// <summary>Runs all trials.</summary>
    public TrialResult Run(int trials, TrialNumbers numbers, int cores, CancellationToken cancel)
    {
        // Trial by trial, node by node, value by value.
        var volts = new double[checked(trials * _nodes.Length * _values.Length)];
        int groups = (trials + Octet.Width - 1) / Octet.Width;
        var options = new ParallelOptions { MaxDegreeOfParallelism = cores, CancellationToken = cancel };
        Parallel.For(0, groups, options, () => _idle.TryTake(out var worker) ? worker : new Worker(this), (group, _, worker) =>
        {
            worker.Solve(group * Octet.Width, Math.Min(trials, (group + 1) * Octet.Width), numbers, volts, cancel);
            return worker;
        }, _idle.Add);
        return new TrialResult(volts, trials, _values.Length, _nodes);
    }

    /// <summary>One core's equations.</summary>
    private sealed class Worker
    {
        private readonly TrialRun _run;
        private readonly Kernel<Octet> _kernel;
        private readonly IDrive<Octet> _drive;
        private readonly IFollow<Octet>[] _following;
        private readonly double[] _tried;
        private readonly Octet[] _departure; // from the nominal solution, a point before
        private readonly int _first;

        public Worker(TrialRun run)
        {
            _run = run;
            _kernel = new Kernel<Octet>(run._compiled.Topology);
            _drive = (IDrive<Octet>)_kernel.Devices[run._source];
            _following = [.. _kernel.Devices.OfType<IFollow<Octet>>()];
            _tried = new double[run._varied.Length];
            _first = run._compiled.Topology.Wiring.FirstUnknown;
            _departure = new Octet[_kernel.At.X.Length];
        }

        public void Solve(int from, int to, TrialNumbers numbers, double[] volts, CancellationToken cancel)
        {
            for (int trial = from; trial < from + Octet.Width; trial++)
            {
                // Lanes beyond the last trial repeat it.
                _run._nominal.CopyTo(_tried, 0);
                numbers(Math.Min(trial, to - 1), _tried);
                for (int v = 0; v < _tried.Length; v++)
                {
                    var (device, number) = _run._varied[v];
                    ref Octet lanes = ref _kernel.Devices[device].Number(number);
                    lanes = lanes.With(trial - from, _tried[v]);
                }
            }
            _kernel.StartOver();
            Octet[] x = _kernel.At.X;
            double[][] nominal = _run._nominalSolutions;
            for (int point = 0; point < _run._values.Length; point++)
            {
                _drive.Hold(Octet.Of(_run._values[point]));
                _kernel.SourcesChanged();
                _kernel.SetTime(0);
                double[] here = nominal[point];
                if (point == 0)
                {
                    for (int r = _first; r < x.Length; r++)
                        x[r] = Octet.Of(here[r]);
                    foreach (var source in _following)
                        source.Follow(x, _first);
                    _kernel.Evaluate(exact: true); // limiting starts from here
                }
                else
                {
                    // A circuit departs from the nominal one along a line, but for knees.
                    double[] before = nominal[point - 1];
                    Octet lead = Octet.Of(point == 1 ? 0 : _run.LeadAt(point));
                    for (int r = _first; r < x.Length; r++)
                    {
                        Octet departure = x[r] - Octet.Of(before[r]);
                        x[r] = Octet.Of(here[r]) + departure + lead * (departure - _departure[r]);
                        _departure[r] = departure;
                    }
                }
                if (!_kernel.Prepare(0) || !Newton.SolveStatic(_kernel, MostIterations, cancel))
                {
                    SolveSingly(from, to, numbers, volts, cancel);
                    return;
                }
                for (int node = 0; node < _run._rows.Length; node++)
                {
                    Octet value = x[_run._rows[node]];
                    for (int trial = from; trial < to; trial++)
                        volts[(trial * _run._rows.Length + node) * _run._values.Length + point] = value.Get(trial - from);
                }
            }
        }

        /// <summary>A group in which some trial does not settle is solved trial by trial, with all strategies at hand.</summary>
        private void SolveSingly(int from, int to, TrialNumbers numbers, double[] volts, CancellationToken cancel)
        {
            for (int trial = from; trial < to; trial++)
            {
                _run._nominal.CopyTo(_tried, 0);
                numbers(trial, _tried);
                double[][] solutions = _run.SweepOne(_tried, cancel);
                for (int node = 0; node < _run._rows.Length; node++)
                {
                    for (int point = 0; point < solutions.Length; point++)
                        volts[(trial * _run._rows.Length + node) * _run._values.Length + point] = solutions[point][_run._rows[node]];
                }
            }
        }
    }

    /// <summary>The stretch to a value over the one before it; zero where that is none.</summary>
    private double LeadAt(int point)
    {
        double before = _values[point - 1] - _values[point - 2];
        return before == 0 ? 0 : (_values[point] - _values[point - 1]) / before;
    }

    private double[][] SweepOne(double[] tried, CancellationToken cancel)
    {
        var sweep = new SweepRun(_compiled, _compiled.Circuit.Elements[_source].Name, cancel);
        for (int v = 0; v < tried.Length; v++)
            sweep.Vary(_varied[v].Device, _varied[v].Number, tried[v]);
        sweep.Refresh();
        sweep.BeginNear(_nominalStart);
        sweep.GoBeside(_nominalSolutions);
        return sweep.Solutions(_values, inBlocksFrom: int.MaxValue);
    }
}
