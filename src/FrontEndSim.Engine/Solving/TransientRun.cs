using System.Collections.Frozen;
using FrontEndSim.Engine.Results;

namespace FrontEndSim.Engine.Solving;

/// <summary>
/// A transient by a stiffly accurate ESDIRK method on charges: each stage solves f(x, t) + (q(x) − q*)/(γ·h) = 0.
/// Steps follow the local error of the embedded method, filtered by the stage's own matrix; they land on every corner
/// of every waveform, after which two backward Euler steps of negligible length start the slopes afresh.
/// </summary>
internal sealed class TransientRun
{
    private const double Safety = 0.9, MostGrowth = 4, MostShrink = 0.1;

    // What is refused again and again is a knee, where the error falls slower than the order says: the second and all later refusals in a
    // row shrink the step at least to these shares. Once past it the step does not grow at once.
    private const double SecondShrink = 0.5, LaterShrink = 0.25;

    // A step that would grow by less keeps its width, and with it its factors: those of a linear circuit are all of the matrix.
    private const double LeastGrowth = 1.1, LeastLinearGrowth = 1.2;

    private const int StageIterations = 15;

    // What the currents of a step leave over is taken below this share of the largest.
    private const double BalancedShare = 1e-6;

    // The steps after a corner take this share of the stretch ahead, and no longer than this, s: they must not swallow what
    // follows. Much shorter ones would divide the rounding of charges by next to nothing.
    private const double StartShare = 1e-6, LongestStart = 1e-13;

    // Beside a corner a solution is right when a step of Newton's method moves no node by more than this share of the sharpest knee.
    private const double PolishedShare = 1e-6;
    private const int MostPolishing = 4;

    // How far steps that are merged may stray, in the accuracy of a step.
    private const double MergingShare = 10;

    // Jumps of a circuit without strays after which a transient gives up.
    private const int MostJumps = 1000;

    private readonly Topology _topology;
    private readonly SolverSettings _settings;
    private readonly CancellationToken _cancel;
    private readonly Kernel<Scalar> _kernel;
    private readonly double? _frozenAt; // the time that all sources stand still at, s
    private readonly DrivingSources _sources;
    private readonly Tableau _method;
    private readonly int _first, _size, _nodes;

    private readonly Scalar[][] _stage; // x at each stage
    private readonly Scalar[][] _slope; // dq/dt at each stage
    private readonly Scalar[] _target, _charge, _stageCharge;
    private readonly Scalar[] _begunCharge, _begunSlope; // where the period that is watched begins
    private readonly Scalar[] _before; // x one step back, for prediction
    private readonly StepError _error;
    private readonly int[] _kept;
    private readonly Recorder _recorder;
    private readonly PeriodWatch _watch;

    private PseudoTransient? _pseudo;
    private ChangedRun[] _changed = [];
    private double _worst;
    private int _worstRow;
    private double _width;
    private bool _started, _hasBefore;
    private double _beforeWidth;
    private int _balanced;
    private int _repeated;
    private bool _drifts;
    private BeforeDrift? _beforeDrift;

    public TransientRun(CompiledCircuit compiled, CancellationToken cancel)
        : this(new Kernel<Scalar>(compiled.Topology), compiled.Settings, areSourcesFrozen: false, cancel)
    {
    }

    /// <summary>One on a kernel with numbers of its own.</summary>
    /// <param name="kernel">The kernel.</param>
    /// <param name="settings">Accuracy and limits.</param>
    /// <param name="areSourcesFrozen">Whether all sources stand still where they are at the kernel's present time.</param>
    /// <param name="cancel">Stops the run.</param>
    public TransientRun(Kernel<Scalar> kernel, SolverSettings settings, bool areSourcesFrozen, CancellationToken cancel)
    {
        (_kernel, _settings, _cancel, _topology) = (kernel, settings, cancel, kernel.Topology);
        _frozenAt = areSourcesFrozen ? kernel.At.Time : null;
        _method = Tableau.Of(_settings.Method);
        _sources = new DrivingSources(
            areSourcesFrozen ? [] : [.. _kernel.Devices.OfType<IDrive<Scalar>>().SelectMany(d => d.Waveforms)],
            StepError.DrawingShare * _settings.Accuracy, _settings.LongestStep);
        var wiring = _topology.Wiring;
        (_first, _size, _nodes) = (wiring.FirstUnknown, wiring.Size, wiring.NodeCount);
        _worstRow = _first;
        _watch = new PeriodWatch(_sources.Moving, _first, _size);
        int stages = _method.A.Length;
        _stage = [.. Enumerable.Range(0, stages).Select(_ => new Scalar[_size])];
        _slope = [.. Enumerable.Range(0, stages).Select(_ => new Scalar[_size])];
        (_target, _charge, _stageCharge) = (new Scalar[_size], new Scalar[_size], new Scalar[_size]);
        (_begunCharge, _begunSlope) = (new Scalar[_size], new Scalar[_size]);
        _before = new Scalar[_size];
        _error = new StepError(_kernel, _method, _settings, wiring);
        _kept = _settings.Keep is null ? [.. Enumerable.Range(0, _size)] : [.. _settings.Keep.Select(Kept)];
        _recorder = new Recorder(_kept, _settings.MostRecordedNumbers);
    }

    /// <summary>One of a circuit with some numbers of its parts changed.</summary>
    public TransientRun(CompiledCircuit compiled, IReadOnlyList<VariedNumber> varied, IReadOnlyList<double> values,
        CancellationToken cancel) : this(compiled, cancel)
    {
        foreach (var (number, value) in varied.Zip(values))
        {
            var (device, parameter) = compiled.Find(number);
            _kernel.Devices[device].Number(parameter) = new Scalar(value);
        }
        _kernel.Refresh();
    }

    private void SetTime(double t) => _kernel.SetTime(_frozenAt ?? t);

    private int Kept(string node) => _topology.Wiring.HasNode(node)
        ? _topology.Wiring.Node(node)
        : throw new ArgumentException($"The circuit has no node named {node} to keep.");

    /// <summary>Runs from rest.</summary>
    /// <param name="until">Last time, s.</param>
    /// <param name="near">Where a circuit of the same structure rests, to start the search for rest from; null for nowhere.</param>
    public TransientResult Run(double until, OperatingPoint? near = null)
    {
        if (!(until > 0) || double.IsInfinity(until))
            throw new ArgumentOutOfRangeException(nameof(until), until, "A transient needs a last time above 0 s.");
        var rest = new OperatingPointSolver(_kernel, _settings, _cancel);
        rest.Solve(0, near?.Foothold);
        Note(rest.Residual.Amps, rest.Residual.Row);
        var resting = new Audit { KirchhoffAmps = rest.Residual.Amps, Method = rest.Strategy };
        var start = Readings.Take(_kernel, resting) with { Foothold = _kernel.Leave() };
        _kernel.Charges(_charge);
        Array.Clear(_slope[^1]);
        _kernel.At.X.CopyTo(_stage[^1], 0);
        _error.TrackPeaks();
        _recorder.Begin(_kernel.At.X);
        if (_changed.Length > 0 && _kernel.Prepare(0))
        {
            // The slopes of rest itself.
            _kernel.NewtonStep(null, charges: true);
            foreach (var changed in _changed)
                changed.Begin();
        }

        var (taken, refused) = March(0, until);

        _kernel.EvaluateAll();
        var audit = new Audit
        {
            KirchhoffAmps = _worst,
            KirchhoffNode = _topology.Wiring.NameOf(_worstRow),
            StepsTaken = taken,
            StepsRefused = refused,
            PeriodsRepeated = _repeated,
            DrawingShare = (_recorder.Merges * MergingShare + (_drifts ? PeriodWatch.DriftShare : 0)) * _settings.Accuracy,
            NewtonIterations = _kernel.Iterations,
            Method = $"{_method.Name}, accuracy {_settings.Accuracy:g3}",
        };
        var times = new StepTimes(_recorder.Times(), _recorder.Repeats);
        var names = _topology.Wiring.Names;
        var voltages = _recorder.Rows.Select((row, place) => (row, place)).Where(k => k.row < _nodes)
            .ToFrozenDictionary(k => names[k.row], k => new Trace(times, _recorder.Values(k.place)));
        var final = Readings.Take(_kernel, audit);
        return _settings.Keep is null ? PartTraceReader.Result(_topology, times, _recorder, voltages, start, final, audit, _cancel)
            : new TransientResult(times, voltages, start, final, audit,
                () => new PartTraces(FrozenDictionary<string, Trace>.Empty, FrozenDictionary<string, Trace>.Empty, 0, 0));
    }

    // What stands beside a run is given up where all of it would be many numbers.
    private const int MostChangedShare = 8;

    /// <summary>Runs from rest for what it would be with other numbers, to first order.</summary>
    /// <param name="until">Last time, s.</param>
    /// <param name="near">As for <see cref="Run"/>.</param>
    /// <param name="changed">Circuits with other numbers.</param>
    /// <returns>What each would do; null for one of another structure, and for all where the run takes very many steps.</returns>
    public TransientResult?[] RunChanged(double until, OperatingPoint? near, IReadOnlyList<CompiledCircuit> changed)
    {
        int most = _settings.MostRecordedNumbers / (MostChangedShare * Math.Max(1, changed.Count));
        ChangedRun?[] beside = [.. changed.Select(c => ChangedRun.Of(_kernel, c, _method.A.Length, _kept, most))];
        _changed = [.. beside.OfType<ChangedRun>()];
        var run = _changed.Length == 0 ? null : Run(until, near);
        return [.. beside.Select(b => run is null || b is null || b.IsFull ? null : b.Result(run, _cancel))];
    }

    /// <summary>
    /// From given unknowns until nothing moves any more: over a stretch of time, then over twice as much, and so on.
    /// </summary>
    /// <param name="from">The unknowns at the start.</param>
    /// <param name="seconds">The first stretch, s.</param>
    /// <returns>The unknowns at rest, or null if it does not settle.</returns>
    public Scalar[]? Settle(Scalar[] from, double seconds)
    {
        SetTime(0);
        from.CopyTo(_kernel.At.X, 0);
        _kernel.Charges(_charge);
        Array.Clear(_slope[^1]);
        from.CopyTo(_stage[^1], 0);
        _error.TrackPeaks();
        _recorder.Begin(_kernel.At.X);
        int steps = 0;
        try
        {
            while (steps < _settings.MostSteps)
            {
                Scalar[] before = [.. _kernel.At.X];
                var (taken, refused) = March(StartAfresh(0, seconds), seconds);
                steps += taken + refused;
                if (!_kernel.At.X.Zip(before).Any(p => Math.Abs(p.First.Value - p.Second.Value) > 1e-4 * (1e-3 + Math.Abs(p.Second.Value))))
                    return [.. _kernel.At.X];
                seconds *= 2;
            }
        }
        catch (SolveException)
        {
            // It oscillates through all its steps, or runs away: it does not settle.
        }
        return null;
    }

    /// <summary>The node that moves most in the later half of what is recorded, and between what, V; null where none moves by a
    /// millivolt.</summary>
    public (int Row, double Low, double High)? WidestSwing()
    {
        (int Row, double Low, double High)? widest = null;
        foreach (var (place, row) in _recorder.Rows.Index().Where(k => k.Item >= _first && k.Item < _nodes))
        {
            double[] values = _recorder.Values(place);
            double low = double.PositiveInfinity, high = double.NegativeInfinity;
            foreach (double v in values.AsSpan(values.Length / 2))
                (low, high) = (Math.Min(low, v), Math.Max(high, v));
            if (high - low > Math.Max(LeastSwing, widest is { } w ? w.High - w.Low : 0))
                widest = (row, low, high);
        }
        return widest;
    }

    private const double LeastSwing = 1e-3;

    // How often it is asked whether a run gets anywhere, and of how many steps more than the most one is hopeless; and how often what
    // oscillates has crossed its middle in what is recorded.
    private const int WatchedSteps = 100_000, LeastCrossings = 100;
    private const double HopelessShare = 1.5;

    /// <summary>What is wrong where the sources stand still and a node goes to and fro all the same; null where that is not so.</summary>
    private SolveException? Restless(double t, double until)
    {
        if (_sources.NextCorner(t) < until || !double.IsInfinity(_sources.LongestStep(t)) || WidestSwing() is not { } swing)
            return null;
        double middle = 0.5 * (swing.Low + swing.High);
        double[] values = _recorder.Values(_recorder.Rows.IndexOf(swing.Row));
        int crossings = 0;
        for (int k = values.Length / 2 + 1; k < values.Length; k++)
        {
            if (values[k] > middle != values[k - 1] > middle)
                crossings++;
        }
        string node = _topology.Wiring.Names[swing.Row];
        return crossings < LeastCrossings ? null : new SolveException(FormattableString.Invariant(
            $"It does not come to rest: at {t:g3} s, its sources standing still, the voltage of node {node} goes on moving between ")
            + FormattableString.Invariant($"{swing.Low:G4} V and {swing.High:G4} V: it oscillates by itself."), node)
        { IsRestless = true };
    }

    private (int Taken, int Refused) March(double from, double until)
    {
        double t = from, corner = _sources.NextCorner(from);
        Watch(t, until, isCorner: false);
        double limit = LimitAfter(corner, until);
        int taken = 0, refused = 0, jumps = 0, inRow = 0;
        double leastGrowth = _kernel.IsLinear ? LeastLinearGrowth : LeastGrowth;
        _width = FirstWidth(t, limit);
        while (t < until)
        {
            _cancel.ThrowIfCancellationRequested();
            bool isOver = taken + refused >= _settings.MostSteps;
            if ((isOver || taken % WatchedSteps == WatchedSteps - 1 && taken / t * until > HopelessShare * _settings.MostSteps)
                && Restless(t, until) is { } restless)
                throw restless;
            if (isOver)
                throw new SolveException($"The transient stopped at {t:g6} s: the limit of {_settings.MostSteps} steps was reached.");
            // Two instants that rounding alone tells apart are one.
            if (limit - t <= Sliver * limit)
            {
                Land();
                continue;
            }
            double room = limit - t, h = Math.Min(_width, _sources.LongestStep(t));
            // Land on the limit; two equal steps are better than one and a sliver.
            bool lands = h >= room * (1 - 1e-9);
            h = lands ? room : h > 0.5 * room ? 0.5 * room : h;
            // What the sources alone refuse needs no solving.
            while (_sources.Error(t, h) > 1 && t + 0.5 * h > t)
                (h, lands) = (0.5 * h, false);
            double size = Attempt(t, h, endsAtCorner: lands && limit == corner);
            if (!(size <= 1))
            {
                refused++;
                inRow++;
                double most = inRow == 1 ? 1 : inRow == 2 ? SecondShrink : LaterShrink;
                _width = h * Math.Min(most, double.IsNaN(size) ? 0.2 : Math.Max(MostShrink, Safety * Math.Pow(size, -1.0 / _method.Order)));
                _hasBefore = false;
                if (t + _width <= t)
                {
                    // No step is short enough: the circuit has to jump, as one without strays may where a branch of solutions ends.
                    if (++jumps > MostJumps)
                        throw Stuck(t);
                    t = StartAfresh(t, limit, jumps: true);
                    _width = FirstWidth(t, limit);
                }
                continue;
            }
            taken++;
            // What may have to be taken back is not merged.
            if (_recorder.IsFull && !_watch.IsPending)
                Merge(t);
            Accept(t, lands ? limit : t + h, h);
            double growth = Math.Min(inRow > 0 ? 1 : MostGrowth, Safety * Math.Pow(Math.Max(size, 1e-9), -1.0 / _method.Order));
            inRow = 0;
            // A step cut short by a corner says nothing against the width before it; small changes are not worth new factors.
            double next = h * growth;
            if (!lands || next < _width)
                _width = next > h && next < leastGrowth * h ? h : next;
            t = lands ? limit : t + h;
            if (t == limit)
                Land();
        }
        return (taken, refused);

        void Land()
        {
            bool startsAfresh = false;
            do
            {
                t = limit;
                if (t >= until)
                    return;
                bool isCorner = t == corner;
                startsAfresh |= isCorner;
                t = Watch(t, until, isCorner);
                corner = _sources.NextCorner(t);
                limit = LimitAfter(corner, until);
            }
            while (limit - t <= Sliver * limit);
            if (startsAfresh)
            {
                t = StartAfresh(t, limit);
                _width = Math.Min(_width, FirstWidth(t, limit));
            }
        }
    }

    // Of a time: some roundings of what corners and ends of runs are computed from.
    private const double Sliver = 4e-15;

    private void Merge(double t)
    {
        var allowed = new double[_recorder.Rows.Length];
        for (int k = 0; k < allowed.Length; k++)
            allowed[k] = MergingShare * (_settings.Accuracy * _error.Peak(_recorder.Rows[k]) + _settings.AbsoluteVolts);
        _watch.Forget();
        if (!_recorder.Merge(allowed))
        {
            throw new SolveException($"The transient stopped at {t:g6} s: it moves so much that its record reached the limit of "
                + $"{_settings.MostRecordedNumbers} numbers. A shorter time, or a slower source, needs fewer.");
        }
    }

    private double LimitAfter(double corner, double until) => Math.Min(Math.Min(corner, _watch.Landing), until);

    /// <summary>Passes over periods that need no solving after the one that ends at a time. Returns the time after them, or the one that
    /// was passed over from last where that did not hold.</summary>
    private double Watch(double t, double until, bool isCorner)
    {
        if (_settings.SolvesEveryPeriod)
            return t;
        var passage = _watch.At(t, _sources.NextCorner(t), until, _kernel.At.X, _error.Allowed, _recorder.Steps);
        double after = passage is not { } same ? t : same.Kind switch
        {
            PassageKind.Drifts => Drift(t, same),
            PassageKind.TakenBack => TakeBack(same),
            _ => Repeat(t, same, isCorner),
        };
        if (_watch.HasBegun(after))
        {
            _charge.CopyTo(_begunCharge, 0);
            _slope[^1].CopyTo(_begunSlope, 0);
        }
        return after;
    }

    private double Repeat(double t, Passage same, bool isCorner)
    {
        double after = t + same.Times * same.Period;
        if (isCorner)
        {
            // The sources' own number for it.
            double near = 1e-6 * same.Period, corner = _sources.NextCorner(after - near);
            if (Math.Abs(corner - after) > 2 * near)
                return t;
            after = corner;
        }
        Pass(same);
        foreach (var changed in _changed)
            changed.Repeat(same.FirstStep, same.Times, same.Period);
        return after;
    }

    private void Pass(Passage same)
    {
        _recorder.Repeat(same.FirstStep, same.Times, same.Period);
        _repeated += same.Times;
    }

    /// <summary>Takes voltages and charges on along the line through the ends of the last two periods.</summary>
    private double Drift(double t, Passage same)
    {
        _beforeDrift = new(t, _recorder.Steps, [.. _kernel.At.X], [.. _charge], [.. _slope[^1]]);
        Pass(same);
        _drifts = true;
        GiveUpChanged();
        double after = t + same.Times * same.Period;
        Scalar[] x = _kernel.At.X;
        var change = _watch.Change;
        for (int r = _first; r < _size; r++)
        {
            x[r] = new Scalar(x[r].Value + same.Times * change[r]);
            _charge[r] = new Scalar(_charge[r].Value + same.Times * (_charge[r].Value - _begunCharge[r].Value));
            _slope[^1][r] = new Scalar(_slope[^1][r].Value + same.Times * (_slope[^1][r].Value - _begunSlope[r].Value));
        }
        SetTime(after);
        Resume(after);
        return after;
    }

    private double TakeBack(Passage same)
    {
        var (t, steps, x, charge, slope) = _beforeDrift!;
        _recorder.CutTo(steps);
        _repeated -= same.Times;
        SetTime(t);
        x.CopyTo(_kernel.At.X, 0);
        charge.CopyTo(_charge, 0);
        slope.CopyTo(_slope[^1], 0);
        Resume(t);
        return t;
    }

    private void Resume(double t)
    {
        _kernel.At.X.CopyTo(_stage[^1], 0);
        (_hasBefore, _started) = (false, false);
        _watch.Begin(t, _kernel.At.X, _recorder.Steps);
    }

    // What stands beside the run goes along no line of its own.
    private void GiveUpChanged()
    {
        foreach (var changed in _changed)
            changed.GiveUp();
        _changed = [];
    }

    // Where periods were passed over last.
    private sealed record BeforeDrift(double Time, int Steps, Scalar[] X, Scalar[] Charge, Scalar[] Slope);

    private static double FirstWidth(double t, double limit) => 1e-3 * (limit - t);

    /// <summary>Takes one step; returns the local error over the allowed error, or not a number if a stage did not settle.</summary>
    private double Attempt(double t, double h, bool endsAtCorner)
    {
        double[][] a = _method.A;
        int last = a.Length - 1;
        // The step starts where the last one ended.
        double alpha = 1 / (_method.Gamma * h);
        if (!_kernel.Prepare(alpha))
            return double.NaN;
        Scalar[] x = _kernel.At.X;
        if (!_started)
        {
            (_stage[0], _stage[last]) = (_stage[last], _stage[0]);
            (_slope[0], _slope[last]) = (_slope[last], _slope[0]);
            _started = true;
        }
        foreach (var changed in _changed)
            changed.BeginStep();
        for (int stage = 1; stage <= last; stage++)
        {
            Vectors.Sum(_target, _charge, h, a[stage], _slope, stage);
            // The end is just before a corner: a jump there belongs to what follows.
            SetTime(stage == last ? Math.BitDecrement(t + h) : t + _method.C[stage] * h);
            if (!_kernel.IsLinear)
                _method.Predict(x, _stage, stage, _first, h, _hasBefore ? _before : null, _beforeWidth);
            if (!SolveStage())
                return double.NaN;
            // Over next to no time the rounding of charges is a current of any size, and what it moves is nothing.
            if (stage == last && h > LongestStart)
                Balance();
            if (stage == last && endsAtCorner)
                Polish();
            _kernel.TangentCharges(_stageCharge);
            Vectors.ScaledDifference(Vectors.Numbers(_slope[stage]), alpha, Vectors.Numbers(_stageCharge), Vectors.Numbers(_target));
            x.CopyTo(_stage[stage], 0);
            foreach (var changed in _changed)
                changed.Stage(stage, h, a[stage], alpha);
        }
        return _error.Of(alpha * h, _stage, _slope);
    }

    /// <summary>
    /// Where next to no resistance lies, a voltage that is right leaves a current over: more steps of Newton's method take it
    /// down. Notes what is left.
    /// </summary>
    private void Balance()
    {
        // A linear stage is solved outright: what is left over is rounding, and one look in many shows it.
        if (_kernel.IsLinear && _balanced++ % 16 != 0)
            return;
        var (amps, row, scale) = _kernel.LargestResidual(_target);
        for (int n = 0; n < 3 && amps > BalancedShare * scale && !_kernel.IsLinear; n++)
        {
            _kernel.NewtonStep(_target);
            (amps, row, scale) = _kernel.LargestResidual(_target);
        }
        Note(amps, row);
    }

    /// <summary>
    /// Takes what is solved down to rounding. The steps after a corner are so short that the charge which a voltage is off by would look
    /// like a current of milliamperes over them.
    /// </summary>
    private void Polish()
    {
        if (_kernel.IsLinear)
            return;
        // What a step of Newton's method leaves is about its square over the sharpest knee.
        for (int n = 0; n < MostPolishing && !IsPolished(); n++)
            _kernel.NewtonStep(_target);
    }

    private bool IsPolished()
    {
        var step = _kernel.Step;
        double most = PolishedShare * _kernel.KneeVolts;
        for (int r = _first; r < _nodes; r++)
        {
            if (!(Math.Abs(step[r].Value) <= most))
                return false;
        }
        return !_kernel.At.Limited;
    }

    private bool SolveStage(int most = StageIterations)
    {
        if (_kernel.IsLinear)
        {
            _kernel.SolveLinear(_target);
            return true;
        }
        for (int iteration = 0; iteration < most; iteration++)
        {
            _cancel.ThrowIfCancellationRequested();
            _kernel.NewtonStep(_target);
            if (!_kernel.At.Limited && _error.IsStageSolved())
                return true;
        }
        return false;
    }

    private void Accept(double from, double to, double h)
    {
        int last = _stage.Length - 1;
        _recorder.Add(from, to, h, _method, _stage);
        foreach (var changed in _changed)
            changed.Accept(from, to, h, _method);
        if (_changed.Any(c => c.IsFull))
            _changed = [];
        // The charge carried on is the one that the currents add up to, not q(x) anew: none is lost to rounding.
        _target.CopyTo(_charge, 0);
        Vectors.AddScaled(Vectors.Numbers(_charge), _method.Gamma * h, Vectors.Numbers(_slope[last]));
        if (!_kernel.IsLinear)
            _stage[0].CopyTo(_before, 0);
        (_hasBefore, _beforeWidth, _started) = (true, h, false);
        _error.TrackPeaks();
    }

    /// <summary>After a corner or jump: two backward Euler steps so short that only jumps notice them. Returns the time after.</summary>
    private double StartAfresh(double t, double limit, bool jumps = false)
    {
        for (int n = 0; n < 2; n++)
        {
            double h = Math.Max(Math.Min((jumps ? 1 : StartShare) * (limit - t), LongestStart), 4 * Math.BitIncrement(t) - 4 * t);
            double next = Math.Min(t + h, limit);
            h = next - t;
            _charge.CopyTo(_target, 0);
            bool solved = false;
            if (_kernel.Prepare(1 / h))
            {
                SetTime(next);
                if (jumps)
                    Array.Copy(_stage[_started && n == 0 ? 0 : ^1], _first, _kernel.At.X, _first, _size - _first);
                solved = (!jumps && (SolveStage(_settings.MostIterations) || (_kernel.Replan() && SolveStage(_settings.MostIterations))))
                    || (_pseudo ??= new PseudoTransient(_kernel, _settings.MostIterations)).Solve(1 / h, _target, _cancel);
            }
            if (!solved)
                throw Stuck(t);
            Polish();
            _kernel.TangentCharges(_stageCharge);
            int last = _stage.Length - 1;
            for (int r = _first; r < _size; r++)
                _slope[last][r] = new Scalar((_stageCharge[r].Value - _target[r].Value) / h);
            _stageCharge.CopyTo(_charge, 0);
            _kernel.At.X.CopyTo(_stage[last], 0);
            _recorder.AddLine(t, next, _kernel.At.X);
            foreach (var changed in _changed)
                changed.Restart(t, next, 1 / h);
            _error.TrackPeaks();
            t = next;
        }
        (_hasBefore, _started) = (false, false);
        return t;
    }

    private void Note(double amps, int row)
    {
        if (amps > _worst)
            (_worst, _worstRow) = (amps, row);
    }

    private SolveException Stuck(double t)
    {
        int row = _first;
        double largest = 0;
        for (int r = _first; r < _nodes; r++)
        {
            double ratio = Math.Abs(_kernel.Step[r].Value) / _error.Allowed[r];
            if (!(ratio <= largest))
                (largest, row) = (ratio, r);
        }
        string node = _topology.Wiring.Names[row];
        string? part = _topology.Elements.FirstOrDefault(e => e.Terminals.Contains(node))?.Name;
        return new SolveException($"The transient stopped at {t:g6} s: no step is short enough for the voltage of node {node} to settle. "
            + "A source that jumps across a capacitor, or parts of extreme value, may cause it; a small series resistance often helps.",
                node, part);
    }
}
