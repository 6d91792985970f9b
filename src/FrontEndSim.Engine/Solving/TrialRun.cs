using System.Collections.Concurrent;
using FrontEndSim.Engine.Results;

namespace FrontEndSim.Engine.Solving;

/// <summary>
/// Many trials of one circuit over one sweep: eight side by side, on all cores. Each group starts from the nominal
/// sweep and its slopes, so its result depends on its own numbers only, not on which core came to it when.
/// </summary>
internal sealed class TrialRun
{
    private const int MostIterations = 40;

    // How far a trial may be off first order, V, and still be expected on the branch of solutions of the nominal circuit at the next
    // point. Positive feedback that goes over takes an output to where it clips, or a gate's state by two; a bend passed takes it less.
    private const double MostOffLine = 0.25;

    // How far first order is believed, V: a leakage of thirty times the nominal one would take a clamp's node far past its knee, from
    // where Newton's method comes down the exponential by an e-fold a step.
    private const double MostAlong = 1;

    // Fewer trials than so many times the numbers that vary do not win back the slopes, nor do fewer solutions than these what they need.
    private const int LeastForSlopes = 8, LeastSolutions = 1000;

    private readonly CompiledCircuit _compiled;
    private readonly int _source;
    private readonly double[] _values;
    private readonly (int Device, Parameter Number)[] _varied;
    private readonly double[] _nominal;
    private readonly int[] _rows;
    private readonly double[][] _nominalSolutions;
    private readonly Foothold _nominalStart; // where the nominal sweep begins
    private readonly string[] _nodes;
    private readonly TrialSlopes? _slopes;
    // Workers that no thread uses now: their equations are built once. A bag would hold them for its threads after the run is gone.
    private readonly ConcurrentStack<Worker> _idle = [];

    /// <param name="compiled">The circuit.</param>
    /// <param name="source">The source that is swept.</param>
    /// <param name="values">Its values.</param>
    /// <param name="varied">The numbers that vary.</param>
    /// <param name="nodes">The nodes whose voltages are wanted.</param>
    /// <param name="near">Where to search for the first nominal point from first; null for nowhere.</param>
    /// <param name="expected">How many trials there will be, about.</param>
    /// <param name="cancel">Stops the nominal sweep.</param>
    public TrialRun(CompiledCircuit compiled, string source, IReadOnlyList<double> values, IReadOnlyList<VariedNumber> varied,
        IReadOnlyList<string> nodes, Foothold? near, int expected, CancellationToken cancel)
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
        if (expected / LeastForSlopes >= _varied.Length && (long)expected * _values.Length >= LeastSolutions)
            _slopes = TrialSlopes.Of(compiled, _source, _values, _nominalSolutions, _varied, _nominal, cancel);
    }

    /// <summary>Runs all trials.</summary>
    public TrialResult Run(int trials, TrialNumbers numbers, int cores, CancellationToken cancel)
    {
        // Trial by trial, node by node, value by value.
        var volts = new double[checked(trials * _nodes.Length * _values.Length)];
        int groups = (trials + Octet.Width - 1) / Octet.Width;
        var options = new ParallelOptions { MaxDegreeOfParallelism = cores, CancellationToken = cancel };
        Parallel.For(0, groups, options, () => _idle.TryPop(out var worker) ? worker : new Worker(this), (group, _, worker) =>
        {
            worker.Solve(group * Octet.Width, Math.Min(trials, (group + 1) * Octet.Width), numbers, volts, cancel);
            return worker;
        }, _idle.Push);
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
        private readonly double[][] _numbers; // by lane
        private readonly Octet[] _changes; // of the numbers, from the nominal ones
        private readonly Octet[] _departure; // from the nominal solution, a point before
        private readonly Octet[] _along, _before; // the same to first order, and the unknowns, a point before
        private readonly int _first;

        public Worker(TrialRun run)
        {
            _run = run;
            _kernel = new Kernel<Octet>(run._compiled.Topology);
            _drive = (IDrive<Octet>)_kernel.Devices[run._source];
            _following = [.. _kernel.Devices.OfType<IFollow<Octet>>()];
            _tried = new double[run._varied.Length];
            _numbers = [.. Enumerable.Range(0, Octet.Width).Select(_ => new double[run._varied.Length])];
            _changes = new Octet[run._varied.Length];
            _first = run._compiled.Topology.Wiring.FirstUnknown;
            int size = _kernel.At.X.Length;
            (_departure, _along, _before) = (new Octet[size], new Octet[size], new Octet[size]);
        }

        public void Solve(int from, int to, TrialNumbers numbers, double[] volts, CancellationToken cancel)
        {
            for (int lane = 0; lane < Octet.Width; lane++)
            {
                // Lanes beyond the last trial repeat it.
                double[] tried = _numbers[lane];
                _run._nominal.CopyTo(tried, 0);
                numbers(Math.Min(from + lane, to - 1), tried);
                for (int v = 0; v < tried.Length; v++)
                {
                    var (device, number) = _run._varied[v];
                    ref Octet lanes = ref _kernel.Devices[device].Number(number);
                    lanes = lanes.With(lane, tried[v]);
                    double change = tried[v] - _run._nominal[v];
                    _changes[v] = _changes[v].With(lane, double.IsFinite(change) ? change : 0); // what is absent is infinite
                }
            }
            _kernel.StartOver();
            Octet[] x = _kernel.At.X;
            for (int point = 0; point < _run._values.Length; point++)
            {
                _drive.Hold(Octet.Of(_run._values[point]));
                _kernel.SourcesChanged();
                _kernel.SetTime(0);
                x.CopyTo(_before, 0);
                Predict(point);
                if (!_kernel.Prepare(0)
                    || (!Newton.SolveStatic(_kernel, MostIterations, cancel) && !SolveUnsettled(point, to - from, cancel)))
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

        /// <summary>Takes the trials to where they are expected at a point.</summary>
        private void Predict(int point)
        {
            Octet[] x = _kernel.At.X;
            double[] here = _run._nominalSolutions[point];
            if (_run._slopes is { } slopes)
                AlongSlopes(slopes, point, here);
            else if (point > 0)
            {
                // A circuit departs from the nominal one along a line, but for knees.
                double[] before = _run._nominalSolutions[point - 1];
                double[] values = _run._values;
                Octet lead = Octet.Of(point == 1 ? 0 : SweepRun.Lead(values[point - 2], values[point - 1], values[point]));
                for (int r = _first; r < x.Length; r++)
                {
                    Octet departure = x[r] - Octet.Of(before[r]);
                    x[r] = Octet.Of(here[r]) + departure + lead * (departure - _departure[r]);
                    _departure[r] = departure;
                }
            }
            else
            {
                for (int r = _first; r < x.Length; r++)
                    x[r] = Octet.Of(here[r]);
                foreach (var source in _following)
                    source.Follow(x, _first);
            }
            if (point == 0)
                _kernel.Evaluate(exact: true); // limiting starts from here
        }

        /// <summary>
        /// To first order from the nominal solution, where that is near it; a trial that has left it by more stays as far away.
        /// </summary>
        private void AlongSlopes(TrialSlopes slopes, int point, double[] here)
        {
            Octet[] x = _kernel.At.X;
            Octet none = Octet.Of(0), off = none, reach = none;
            if (point > 0)
            {
                double[] before = _run._nominalSolutions[point - 1];
                for (int r = _first; r < x.Length; r++)
                {
                    _departure[r] = x[r] - Octet.Of(before[r]) - _along[r];
                    off = Octet.Max(off, Octet.Abs(_departure[r]));
                }
            }
            slopes.Departure(point, _changes, _along);
            for (int r = _first; r < x.Length; r++)
                reach = Octet.Max(reach, Octet.Abs(_along[r]));
            if (!Octet.AllBelow(reach, MostAlong))
            {
                for (int r = _first; r < x.Length; r++)
                    _along[r] = Octet.Less(Octet.Of(MostAlong), reach, none, _along[r]);
            }
            Octet most = Octet.Of(MostOffLine);
            bool stay = point > 0 && !Octet.AllBelow(off, MostOffLine);
            for (int r = _first; r < x.Length; r++)
            {
                x[r] = Octet.Of(here[r]) + _along[r];
                if (stay)
                    x[r] += Octet.Less(most, off, _departure[r], none);
            }
        }

        /// <summary>
        /// Solves those trials of a group that did not settle at a point one by one, each from where it was a point before, with all
        /// strategies at hand; the others stay. False if the group does not settle then either.
        /// </summary>
        private bool SolveUnsettled(int point, int count, CancellationToken cancel)
        {
            Octet[] x = _kernel.At.X;
            bool isAny = false;
            for (int lane = 0; lane < Octet.Width; lane++)
            {
                if (Newton.IsStepNegligibleIn(_kernel, lane))
                    continue;
                isAny = true;
                if (lane >= count)
                    continue; // repeats the last trial
                double[] near = [.. _before.Select(b => b.Get(lane))];
                double[] solution = _run.Alone(_numbers[lane], cancel).From(_run._values[point], point == 0 ? null : near,
                    _run._nominalSolutions[point]);
                for (int other = lane; other == lane || (lane == count - 1 && other < Octet.Width); other++)
                {
                    for (int r = _first; r < x.Length; r++)
                        x[r] = x[r].With(other, solution[r]);
                }
            }
            if (!isAny)
                return false;
            _kernel.Evaluate(exact: true);
            return Newton.SolveStatic(_kernel, MostIterations, cancel);
        }

        /// <summary>A group in which some trial does not settle even so is solved trial by trial.</summary>
        private void SolveSingly(int from, int to, TrialNumbers numbers, double[] volts, CancellationToken cancel)
        {
            for (int trial = from; trial < to; trial++)
            {
                _run._nominal.CopyTo(_tried, 0);
                numbers(trial, _tried);
                double[][] solutions = _run.Alone(_tried, cancel).Solutions(_run._values, inBlocksFrom: int.MaxValue);
                for (int node = 0; node < _run._rows.Length; node++)
                {
                    for (int point = 0; point < solutions.Length; point++)
                        volts[(trial * _run._rows.Length + node) * _run._values.Length + point] = solutions[point][_run._rows[node]];
                }
            }
        }
    }

    /// <summary>The sweep of one trial.</summary>
    private SweepRun Alone(double[] tried, CancellationToken cancel)
    {
        var sweep = new SweepRun(_compiled, _compiled.Circuit.Elements[_source].Name, cancel);
        for (int v = 0; v < tried.Length; v++)
            sweep.Vary(_varied[v].Device, _varied[v].Number, tried[v]);
        sweep.Refresh();
        sweep.BeginNear(_nominalStart);
        sweep.GoBeside(_nominalSolutions);
        return sweep;
    }
}
