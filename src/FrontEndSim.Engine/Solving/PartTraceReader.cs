using System.Collections.Frozen;
using FrontEndSim.Engine.Results;

namespace FrontEndSim.Engine.Solving;

/// <summary>Reads every part at every recorded point of a transient, and weighs the energies.</summary>
internal sealed class PartTraceReader
{
    // Less power than this is rounding, W, as less current than a microampere is where currents are summed up.
    private const double LeastWatts = 1e-9;

    private const int PointsBetweenChecks = 1024;

    // Numbers that are read at a time, 8 bytes each, at most five a part and point: of a long run, some parts after others.
    private const long MostNumbers = 12_000_000;
    private const int NumbersAPart = 5;

    private readonly Kernel<Scalar> _kernel;
    private readonly Recorder _recorder;
    private readonly double[][] _amps;
    private readonly int[] _plus, _minus; // the rows that each part lies between
    private readonly double[]?[] _charge, _watts, _source;
    private readonly (double[] Volts, double[] Coulombs)[][] _stores;
    private readonly StepTimes _steps;
    private readonly HashSet<int> _which;

    /// <param name="topology">The circuit.</param>
    /// <param name="steps">The recorded times.</param>
    /// <param name="recorder">The recorded unknowns.</param>
    /// <param name="cancel">Stops the reading.</param>
    /// <param name="only">Name of the only part to read; null for all of them.</param>
    public PartTraceReader(Topology topology, StepTimes steps, Recorder recorder, CancellationToken cancel, string? only = null)
        : this(new Kernel<Scalar>(topology), topology, steps, recorder, cancel, only is null ? null
            : topology.IndexOf(only) is >= 0 and var one ? [one] : [])
    {
    }

    private PartTraceReader(Kernel<Scalar> kernel, Topology topology, StepTimes steps, Recorder recorder, CancellationToken cancel,
        int[]? which)
    {
        _steps = steps;
        double[] times = steps.Times;
        (_kernel, _recorder) = (kernel, recorder);
        _which = which is null ? [.. Enumerable.Range(0, _kernel.Devices.Length)] : [.. which];
        // What flows through the source of a driven node is what all others at the node leave over.
        bool needsAll = _which.Any(k => _kernel.Devices[k] is IDrive<Scalar>);
        int parts = _kernel.Devices.Length, points = times.Length;
        _amps = new double[parts][];
        (_charge, _watts, _source) = (new double[]?[parts], new double[]?[parts], new double[]?[parts]);
        _stores = [.. _kernel.Devices.Select((d, k) =>
            Enumerable.Range(0, _which.Contains(k) ? d.Stores : 0).Select(_ => (new double[points], new double[points])).ToArray())];
        Array.Fill(_amps, []);
        foreach (int k in _which)
        {
            _amps[k] = GC.AllocateUninitializedArray<double>(points);
            if (_kernel.Devices[k] is IDrive<Scalar>)
                _source[k] = new double[points];
        }
        var drivers = topology.Wiring.Drivers.ToDictionary(d => topology.IndexOf(d.Source.Name), d =>
            (d.Row, d.Source.To == Circuit.Ground ? 1 : -1));
        _plus = [.. _kernel.Devices.Select(d => topology.Wiring.Node(d.Part.Across.Plus))];
        _minus = [.. _kernel.Devices.Select(d => topology.Wiring.Node(d.Part.Across.Minus))];
        for (int p = 0; p < points; p++)
        {
            if (p % PointsBetweenChecks == 0)
                cancel.ThrowIfCancellationRequested();
            // A jump belongs to the step after it: the last point of a step is read just before.
            double time = p % 4 == 3 ? Math.BitDecrement(times[p]) : times[p];
            _kernel.SetTime(time);
            recorder.Load(p, _kernel.At.X);
            if (needsAll)
                _kernel.EvaluateAll();
            foreach (int k in _which)
            {
                var device = _kernel.Devices[k];
                _amps[k][p] = device.Current(_kernel.At).Value;
                if (_source[k] is { } source)
                    source[p] = ((IDrive<Scalar>)device).Value(time).Value;
                if (device.Watts(_kernel.At) is { } watts)
                    (_watts[k] ??= new double[points])[p] = watts.Value;
                for (int s = 0; s < _stores[k].Length; s++)
                {
                    var (volts, coulombs) = device.Store(s, _kernel.At);
                    (_stores[k][s].Volts[p], _stores[k][s].Coulombs[p]) = (volts.Value, coulombs.Value);
                }
                // The source at a driven node also carries what charges the capacitances there.
                double charge = drivers.TryGetValue(k, out var driven)
                    ? -driven.Item2 * _kernel.At.Q[driven.Row].Value
                    : device.Charge(_kernel.At).Value;
                if (charge != 0)
                    (_charge[k] ??= new double[points])[p] = charge;
            }
        }
    }

    private double Largest()
    {
        double largest = 0;
        foreach (double[] amps in _amps)
        {
            foreach (double a in amps)
                largest = Math.Max(largest, Math.Abs(a));
        }
        return largest;
    }

    /// <summary>A transient whose parts are read at the first asking, all at once; of a long one each when it is asked for.</summary>
    public static TransientResult Result(Topology topology, StepTimes steps, Recorder recorder, FrozenDictionary<string, Trace> voltages,
        OperatingPoint start, OperatingPoint final, Audit audit, CancellationToken cancel) =>
        2L * steps.Times.Length * topology.Elements.Length <= MostKept
            ? new(steps, voltages, start, final, audit, () => SumOf(topology, steps, recorder, cancel, keeps: true).Traces)
            : new(steps, voltages, start, final, () =>
            {
                var sum = SumOf(topology, steps, recorder, cancel, keeps: false);
                return audit with { EnergyImbalance = sum.Imbalance, LargestAmps = sum.Largest };
            }, part => new PartTraceReader(topology, steps, recorder, cancel, part).Read());

    // Currents and powers of all parts are kept up to so many numbers, 100 MB.
    private const long MostKept = 12_500_000;

    /// <summary>The balance of energies, and the traces of every part if they are kept.</summary>
    /// <param name="topology">The circuit.</param>
    /// <param name="steps">The recorded times.</param>
    /// <param name="recorder">The recorded unknowns.</param>
    /// <param name="cancel">Stops the reading.</param>
    /// <param name="keeps">Whether traces are kept.</param>
    private static Sum SumOf(Topology topology, StepTimes steps, Recorder recorder, CancellationToken cancel, bool keeps)
    {
        var kernel = new Kernel<Scalar>(topology);
        int atATime = (int)Math.Max(1, MostNumbers / NumbersAPart / Math.Max(1, steps.Times.Length));
        var all = Enumerable.Range(0, kernel.Devices.Length);
        var sum = new Sum(steps, keeps);
        // Sources need all that flows at their nodes: of several groups they share as few as may be.
        foreach (int[] some in kernel.Devices.Length <= atATime ? [[.. all]]
            : all.OrderBy(k => kernel.Devices[k] is IDrive<Scalar> ? 0 : 1).Chunk(atATime))
            new PartTraceReader(kernel, topology, steps, recorder, cancel, some).AddTo(sum);
        return sum;
    }

    private sealed class Sum(StepTimes steps, bool keeps)
    {
        public bool Keeps => keeps;
        public Dictionary<string, Trace> Currents { get; } = [];
        public Dictionary<string, Trace> Powers { get; } = [];
        public double Left { get; set; }
        public double Gross { get; set; }
        public double Largest { get; set; }

        public double Imbalance => Math.Abs(Left) / Math.Max(Gross, LeastWatts * (steps.Times[^1] - steps.Times[0]));

        public PartTraces Traces => new(Currents.ToFrozenDictionary(), Powers.ToFrozenDictionary(), Imbalance, Largest);
    }

    /// <summary>The traces of the parts and the balance of their energies; to be asked for once.</summary>
    public PartTraces Read()
    {
        var sum = new Sum(_steps, keeps: true);
        AddTo(sum);
        return sum.Traces;
    }

    private void AddTo(Sum sum)
    {
        sum.Largest = Math.Max(sum.Largest, Largest());
        int points = _steps.Times.Length;
        // Of a long run these are many numbers: what is asked for no more is written over.
        double[] volts = GC.AllocateUninitializedArray<double>(points), exchanged = [];
        foreach (int k in _which)
        {
            var device = _kernel.Devices[k];
            double[] amps = _amps[k];
            _recorder.Difference(_plus[k], _minus[k], volts);
            double[] watts = _watts[k] ?? GC.AllocateUninitializedArray<double>(points);
            if (_watts[k] is null)
                Product(volts, amps, watts);
            Trace voltage = new(_steps, volts), power = new(_steps, watts);
            bool stores = false;
            if (_charge[k] is { } charge)
            {
                Trace.Rate(_steps, charge);
                Exchange(volts, charge);
                Add(charge, amps);
            }
            foreach (var (across, coulombs) in _stores[k])
            {
                Trace.Rate(_steps, coulombs);
                Exchange(across, coulombs);
            }
            Trace current = new(_steps, amps);
            var account = device.Account(new PartRecord(current, voltage, power, stores ? new Trace(_steps, exchanged) : null,
                _source[k] is { } source ? new Trace(_steps, source) : null));
            sum.Left += account.Delivered - account.Dissipated - account.Stored;
            if (stores)
                Add(exchanged, watts);
            var total = stores ? new Trace(_steps, watts) : power;
            // Every joule that flows is given once and taken once.
            sum.Gross += 0.5 * total.GrossIntegral();
            if (sum.Keeps)
            {
                sum.Currents.Add(device.Part.Name, current);
                sum.Powers.Add(device.Part.Name, total);
            }
            (_amps[k], _charge[k], _watts[k], _source[k], _stores[k]) = ([], null, null, null, []);

            void Exchange(double[] across, double[] into)
            {
                if (exchanged.Length == 0)
                    exchanged = GC.AllocateUninitializedArray<double>(points);
                if (!stores)
                    Product(across, into, exchanged);
                else
                {
                    for (int p = 0; p < exchanged.Length; p++)
                        exchanged[p] += across[p] * into[p];
                }
                stores = true;
            }
        }
    }

    private static void Product(double[] a, double[] b, double[] into)
    {
        for (int p = 0; p < into.Length; p++)
            into[p] = a[p] * b[p];
    }

    private static void Add(double[] a, double[] into)
    {
        for (int p = 0; p < into.Length; p++)
            into[p] += a[p];
    }
}
