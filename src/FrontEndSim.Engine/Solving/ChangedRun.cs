using System.Collections.Frozen;
using FrontEndSim.Engine.Results;

namespace FrontEndSim.Engine.Solving;

/// <summary>
/// What a transient would be with some numbers of its parts changed, to first order: beside each stage of the run itself, its equations are
/// solved once more, linearised, for what the change of the parts' currents and charges moves (the staggered direct method; Caracotsios
/// and Stewart, "Sensitivity analysis of initial value problems with mixed ODEs and algebraic equations", Computers and Chemical
/// Engineering 9 (1985), from memory). The change itself is taken in full, the answer of the circuit along its tangent.
/// </summary>
internal sealed class ChangedRun
{
    private readonly Kernel<Scalar> _kernel;
    private readonly Topology _changed;
    private readonly (int Row, int Column, double Siemens, double Farads)[] _linear;
    private readonly (Device<Scalar> Then, Device<Scalar> Now)[] _nonlinear;
    private readonly Iterate<Scalar> _at;
    private readonly int _first, _size;

    private readonly Scalar[][] _moved; // how far x is moved, at each stage
    private readonly Scalar[][] _slope; // how far dq/dt is, at each stage
    private readonly Scalar[][] _stage; // x with that, at each stage
    private readonly Scalar[] _charge, _stageCharge, _target, _f, _q, _right;
    private readonly Recorder _recorder;
    private Scalar[] _start = [];
    private bool _started, _isGivenUp;

    private ChangedRun(Kernel<Scalar> kernel, Topology changed, (Device<Scalar> Then, Device<Scalar> Now)[] devices, int stages, int[] kept,
        int mostNumbers)
    {
        (_kernel, _changed) = (kernel, changed);
        var wiring = kernel.Topology.Wiring;
        (_first, _size) = (wiring.FirstUnknown, wiring.Size);
        _at = new Iterate<Scalar>(_size, wiring.EntryCount) { Exact = true, WithCharges = true };
        Scalar[] g = new Scalar[wiring.EntryCount + 1], c = new Scalar[wiring.EntryCount + 1], g0 = new Scalar[g.Length],
            c0 = new Scalar[g.Length];
        foreach (var (then, now) in devices)
        {
            then.LoadLinear(g, c);
            now.LoadLinear(g0, c0);
        }
        var linear = new List<(int, int, double, double)>();
        for (int r = _first; r < _size; r++)
        {
            for (int p = wiring.RowStart[r]; p < wiring.RowStart[r + 1]; p++)
            {
                if (g[p].Value != g0[p].Value || c[p].Value != c0[p].Value)
                    linear.Add((r, wiring.Columns[p], g[p].Value - g0[p].Value, c[p].Value - c0[p].Value));
            }
        }
        _linear = [.. linear];
        _nonlinear = [.. devices.Where(d => d.Then.IsNonlinear)];
        _moved = Rows(stages);
        _slope = Rows(stages);
        _stage = Rows(stages);
        Scalar[][] work = Rows(6);
        (_charge, _stageCharge, _target, _f, _q, _right) = (work[0], work[1], work[2], work[3], work[4], work[5]);
        _recorder = new Recorder(kept, mostNumbers);

        Scalar[][] Rows(int count) => [.. Enumerable.Range(0, count).Select(_ => new Scalar[_size])];
    }

    /// <summary>One for a circuit whose equations have the same structure; null where they have another, or where a source is
    /// changed.</summary>
    /// <param name="kernel">The equations that are solved.</param>
    /// <param name="changed">The circuit with other numbers.</param>
    /// <param name="stages">Stages of a step.</param>
    /// <param name="kept">The rows to keep.</param>
    /// <param name="mostNumbers">Numbers to keep at most.</param>
    public static ChangedRun? Of(Kernel<Scalar> kernel, CompiledCircuit changed, int stages, int[] kept, int mostNumbers)
    {
        var (now, then) = (kernel.Topology, changed.Topology);
        if (now.Kelvin != then.Kelvin || !new Foothold(then.Wiring, [], null).Fits(now.Wiring)
            || !then.Elements.Select(e => e.Name).SequenceEqual(now.Elements.Select(e => e.Name)))
            return null;
        var devices = new List<(Device<Scalar>, Device<Scalar>)>();
        for (int k = 0; k < then.Elements.Length; k++)
        {
            if (then.Elements[k].Equals(now.Elements[k]))
                continue;
            if (kernel.Devices[k] is IDrive<Scalar> or { HasSources: true } || then.Elements[k].GetType() != now.Elements[k].GetType())
                return null;
            var device = then.Elements[k].Bind<Scalar>(now.Wiring);
            if (device.IsNonlinear != kernel.Devices[k].IsNonlinear)
                return null;
            device.Refresh(kernel.Kelvin);
            devices.Add((device, kernel.Devices[k]));
        }
        return new ChangedRun(kernel, then, [.. devices], stages, kept, mostNumbers);
    }

    /// <summary>Whether it was not kept to its end: it holds as many numbers as it may, or was given up.</summary>
    public bool IsFull => _isGivenUp || _recorder.IsFull;

    /// <summary>Goes no further.</summary>
    public void GiveUp() => _isGivenUp = true;

    /// <summary>Where the circuit would rest, the kernel's last step being one at rest.</summary>
    public void Begin()
    {
        WorkOut();
        for (int r = _first; r < _size; r++)
            _right[r] = _f[r];
        Solve(^1);
        Charges(_charge, ^1);
        Array.Clear(_slope[^1]);
        Place(^1);
        _start = [.. _stage[^1]];
        _recorder.Begin(_stage[^1]);
    }

    /// <summary>Begins a step where the last one ended.</summary>
    public void BeginStep()
    {
        if (_started)
            return;
        (_moved[0], _moved[^1]) = (_moved[^1], _moved[0]);
        (_slope[0], _slope[^1]) = (_slope[^1], _slope[0]);
        (_stage[0], _stage[^1]) = (_stage[^1], _stage[0]);
        _started = true;
    }

    /// <summary>What a stage that was solved would be.</summary>
    /// <param name="stage">Its number.</param>
    /// <param name="h">Width of the step, s.</param>
    /// <param name="weights">Weights of the slopes before it.</param>
    /// <param name="alpha">1/(γ·h).</param>
    public void Stage(int stage, double h, double[] weights, double alpha)
    {
        Vectors.Sum(_target, _charge, h, weights, _slope, stage);
        Follow(stage, alpha);
        for (int r = _first; r < _size; r++)
            _slope[stage][r] = new Scalar(alpha * (_stageCharge[r].Value - _target[r].Value));
        Place(stage);
    }

    /// <summary>Takes the step over.</summary>
    public void Accept(double from, double to, double h, Tableau method)
    {
        if (!IsFull)
            _recorder.Add(from, to, h, method, _stage);
        _stageCharge.CopyTo(_charge, 0);
        _started = false;
    }

    /// <summary>What a step of negligible length after a corner would be.</summary>
    public void Restart(double from, double to, double alpha)
    {
        _charge.CopyTo(_target, 0);
        Follow(_stage.Length - 1, alpha);
        for (int r = _first; r < _size; r++)
            _slope[^1][r] = new Scalar(alpha * (_stageCharge[r].Value - _target[r].Value));
        _stageCharge.CopyTo(_charge, 0);
        Place(^1);
        if (!IsFull)
            _recorder.AddLine(from, to, _stage[^1]);
        _started = false;
    }

    /// <summary>Says that the steps from one on repeat.</summary>
    public void Repeat(int first, int times, double period) => _recorder.Repeat(first, times, period);

    /// <summary>All of it.</summary>
    /// <param name="beside">The run itself.</param>
    /// <param name="cancel">Stops the reading of parts.</param>
    public TransientResult Result(TransientResult beside, CancellationToken cancel)
    {
        var kernel = new Kernel<Scalar>(_changed);
        OperatingPoint Point(double time, Scalar[] x, Audit audit)
        {
            kernel.SetTime(time);
            x.CopyTo(kernel.At.X, 0);
            kernel.EvaluateAll();
            return Readings.Take(kernel, audit);
        }

        OperatingPoint start = Point(0, _start, beside.Start.Audit),
            final = Point(beside.Times[^1], _stage[^1], beside.Final.Audit);
        var times = new StepTimes(_recorder.Times(), _recorder.Repeats);
        var names = _changed.Wiring.Names;
        int nodes = _changed.Wiring.NodeCount;
        var voltages = _recorder.Rows.Select((row, place) => (row, place)).Where(k => k.row < nodes)
            .ToFrozenDictionary(k => names[k.row], k => new Trace(times, _recorder.Values(k.place)));
        return new TransientResult(times, voltages, start, final, () => beside.Audit, part =>
            new PartTraceReader(_changed, times, _recorder, cancel, part).Read());
    }

    private void Follow(int stage, double alpha)
    {
        WorkOut();
        for (int r = _first; r < _size; r++)
            _right[r] = new Scalar(_f[r].Value + alpha * (_q[r].Value - _target[r].Value));
        Solve(stage);
        Charges(_stageCharge, stage);
    }

    // The change of currents and charges at the present iterate.
    private void WorkOut()
    {
        Array.Clear(_f);
        Array.Clear(_q);
        Scalar[] x = _kernel.At.X;
        foreach (var (row, column, siemens, farads) in _linear)
        {
            _f[row] += new Scalar(siemens * x[column].Value);
            _q[row] += new Scalar(farads * x[column].Value);
        }
        if (_nonlinear.Length == 0)
            return;
        x.CopyTo(_at.X, 0);
        _at.Time = _kernel.At.Time;
        foreach (var (then, now) in _nonlinear)
        {
            Load(then, 1);
            Load(now, -1);
        }

        void Load(Device<Scalar> device, double sign)
        {
            Array.Clear(_at.F);
            Array.Clear(_at.Q);
            device.LoadNonlinear(_at);
            for (int r = _first; r < _size; r++)
            {
                _f[r] += new Scalar(sign * _at.F[r].Value);
                _q[r] += new Scalar(sign * _at.Q[r].Value);
            }
        }
    }

    private void Solve(Index stage)
    {
        Scalar[] moved = _moved[stage];
        _kernel.SolveAgain(_right, moved);
        for (int r = _first; r < _size; r++)
            moved[r] = -moved[r];
    }

    private void Charges(Scalar[] into, Index stage)
    {
        _kernel.ChargesAlong(_moved[stage], into);
        for (int r = _first; r < _size; r++)
            into[r] += _q[r];
    }

    private void Place(Index stage)
    {
        Scalar[] x = _kernel.At.X, moved = _moved[stage], placed = _stage[stage];
        x.AsSpan(0, _first).CopyTo(placed);
        for (int r = _first; r < _size; r++)
            placed[r] = x[r] + moved[r];
    }
}
