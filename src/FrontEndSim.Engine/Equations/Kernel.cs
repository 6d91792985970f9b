namespace FrontEndSim.Engine.Equations;

/// <summary>
/// The equations of one topology, with numbers: fills f, q and their slopes at an iterate and takes Newton steps on
/// f(x, t) + α·(q(x) − q*) = 0. All mutable state of a solution lives here; nothing is allocated once it is built.
/// </summary>
internal sealed partial class Kernel<L> where L : struct, ILane<L>
{
    private readonly Device<L>[] _nonlinear, _sourced;
    private readonly (int Row, IDrive<L> Source, double Sign)[] _drivers;
    private readonly int[] _rowStart, _columns, _nonlinearEntries, _nonlinearRowOf;
    private readonly bool[] _isNonlinear, _isCurrent, _isBalance;
    private readonly L[] _g, _c, _m;
    private readonly L[] _sources, _residual, _step;
    private readonly (int Row, int Column, int Entry)[] _drivenEntries;
    private readonly (int Row, int Column, int Entry)[] _chargeEntries;
    private readonly (Device<L> Device, double Knee, int[] Columns)[] _bends;
    private readonly double[] _knees, _unsaidKnees;
    private readonly L[] _left, _leftCharges;
    private L[] _farads = []; // by row, where no charge lies between two unknowns or a known voltage; else empty
    private double _sourceTime = double.NaN;
    private double _leak;
    private bool _hasMoved; // by a step of Newton's method, since charges and slopes were evaluated
    private bool _hasCharges; // evaluated last
    private bool _hasUnsaid = true; // of the devices that were asked what they leave
    private bool _hasRemainder; // the step and its charges hold what it left to second order
    private Factors<L>? _factors;

    public Kernel(Topology topology)
    {
        Topology = topology;
        var wiring = topology.Wiring;
        Devices = [.. topology.Elements.Select(e => e.Bind<L>(wiring))];
        (_rowStart, _columns, _nonlinearEntries) = (wiring.RowStart, wiring.Columns, wiring.NonlinearEntries);
        _nonlinearRowOf = topology.NonlinearRowOf;
        _nonlinear = [.. Devices.Where(d => d.IsNonlinear)];
        _sourced = [.. Devices.Where(d => d.HasSources)];
        _isNonlinear = topology.NonlinearRows;
        (_isCurrent, _isBalance) = (topology.IsCurrent, topology.IsBalance);
        _drivers = [.. wiring.Drivers.Select(d =>
            (d.Row, (IDrive<L>)Devices[topology.IndexOf(d.Source.Name)], d.Source.To == Circuit.Ground ? 1.0 : -1.0))];
        int size = wiring.Size, entries = wiring.EntryCount;
        At = new Iterate<L>(size, entries);
        _g = new L[entries + 1];
        _c = new L[entries + 1];
        _m = new L[entries + 1];
        _sources = new L[size];
        _residual = new L[size];
        _step = new L[size];
        _drivenEntries = ListEntries((row, column, _) => row >= First && column < First);
        Kelvin = topology.Kelvin;
        Refresh();
        KneeVolts = _nonlinear.Length == 0 ? double.PositiveInfinity : _nonlinear.Min(d => d.KneeVolts);
        _bends = [.. Devices.Zip(IsLinear ? [] : topology.ColumnsBent).Where(d => d.First.IsNonlinear)
            .Select(d => (d.First, d.First.KneeVolts, d.Second))];
        (_knees, _unsaidKnees) = (new double[size], new double[size]);
        Array.Fill(_knees, double.PositiveInfinity);
        foreach (var (_, knee, columns) in _bends)
        {
            foreach (int column in columns)
                _knees[column] = Math.Min(_knees[column], knee);
        }
        (_left, _leftCharges) = (new L[size], new L[size]);
        // No number that may vary can make a capacitance vanish: which entries hold charge is settled here.
        _chargeEntries = ListEntries((_, _, entry) => !L.Same(_c[entry], default));
        FillFarads();
    }

    public Topology Topology { get; }

    /// <summary>The devices, in the order of the circuit's elements.</summary>
    public Device<L>[] Devices { get; }

    public Iterate<L> At { get; }

    public double Kelvin { get; }

    /// <summary>The last Newton step, by row.</summary>
    public ReadOnlySpan<L> Step => _step;

    /// <summary>1/(γ·h) in a time step, 0 at DC; set by <see cref="Prepare"/>.</summary>
    public double Alpha { get; private set; } = double.NaN;

    /// <summary>Scale on all independent sources, 0..1.</summary>
    public double SourceRamp { get; private set; } = 1;

    /// <summary>Newton iterations since the kernel was made.</summary>
    public long Iterations { get; private set; }

    /// <summary>The sharpest knee of any device, V.</summary>
    public double KneeVolts { get; }

    /// <summary>By row: the sharpest knee of the devices that an unknown acts on, V; infinity where it acts on linear ones only.</summary>
    public ReadOnlySpan<double> Knees => _knees;

    /// <summary>Whether the equations are linear in every unknown.</summary>
    public bool IsLinear => _nonlinear.Length == 0;

    private int First => Topology.Wiring.FirstUnknown;

    /// <summary>Forgets all that earlier solutions left behind: the next one depends on its own numbers only.</summary>
    public void StartOver()
    {
        if (_factors?.Plan != Topology.FirstPlan || _mostGrowth != Factors<L>.WeakGrowth)
            (_factors, _mostGrowth) = (null, Factors<L>.WeakGrowth);
        ForgetLimits();
        Refresh();
    }

    /// <summary>Where the equations stand, for others of the same structure to start from.</summary>
    public Foothold Leave() => new(Topology.Wiring, [.. At.X.Select(x => x.Get(0))], _factors?.Plan);

    /// <summary>Takes a solution of equations of the same structure, or of most of the same unknowns, as iterate; does nothing and returns
    /// false if they are of another.</summary>
    public bool StartFrom(Foothold near)
    {
        if ((near.Fits(Topology.Wiring) ? near : near.In(Topology)) is not { } from)
            return false;
        for (int r = First; r < At.X.Length; r++)
            At.X[r] = L.Of(from.Unknowns[r]);
        if (from.Plan is { } plan)
            (_factors, Alpha) = (new Factors<L>(plan, First, _mostGrowth), double.NaN);
        ForgetLimits();
        return true;
    }

    /// <summary>Works the devices' numbers out anew after a trial changed them.</summary>
    public void Refresh()
    {
        foreach (var device in Devices)
            device.Refresh(Kelvin);
        Array.Clear(_g);
        Array.Clear(_c);
        foreach (var device in Devices)
            device.LoadLinear(_g, _c);
        if (_farads.Length > 0)
            FillFarads();
        Alpha = double.NaN;
        _sourceTime = double.NaN;
    }

    private (int Row, int Column, int Entry)[] ListEntries(Func<int, int, int, bool> chosen)
    {
        var list = new List<(int, int, int)>();
        for (int r = 1; r < At.X.Length; r++)
        {
            for (int p = _rowStart[r]; p < _rowStart[r + 1]; p++)
            {
                if (chosen(r, _columns[p], p))
                    list.Add((r, _columns[p], p));
            }
        }
        return [.. list];
    }

    /// <summary>Scales the independent sources; 1 is the circuit as drawn.</summary>
    public void RampSources(double ramp)
    {
        SourceRamp = ramp;
        _sourceTime = double.NaN;
    }

    /// <summary>Says that a source's held value changed, so that it is read again.</summary>
    public void SourcesChanged() => _sourceTime = double.NaN;

    /// <summary>Brings sources and driven nodes to a time, s.</summary>
    public void SetTime(double t)
    {
        At.Time = t;
        if (t == _sourceTime)
            return;
        _sourceTime = t;
        Array.Clear(_sources);
        L ramp = L.Of(SourceRamp);
        foreach (var device in _sourced)
            device.LoadSources(t, ramp, _sources);
        foreach (var (row, source, sign) in _drivers)
            At.X[row] = ramp * source.Value(t) * L.Of(sign);
    }

    /// <summary>
    /// Fixes α and a conductance from every voltage to ground (for continuation only: 0 in every accepted solution), and
    /// factors the linear part. Does nothing if neither changed.
    /// </summary>
    /// <returns>False if the matrix is singular.</returns>
    public bool Prepare(double alpha, double leak = 0)
    {
        if (alpha == Alpha && leak == _leak && _factors is not null)
            return true;
        Alpha = alpha;
        _leak = leak;
        FillLinear();
        _factors ??= Topology.FirstPlan is { } plan ? new Factors<L>(plan, First, _mostGrowth) : null;
        if (_factors is null)
            return Replan();
        _factors.FactorLinear(_m);
        if (!_factors.IsWeak || !IsLinear)
            return true;
        bool isPlanned = Replan();
        BearWhatIsLeft();
        return isPlanned;
    }

    private void FillLinear()
    {
        L a = L.Of(Alpha);
        for (int p = 0; p < _m.Length; p++)
            _m[p] = _g[p] + a * _c[p];
        if (_leak > 0)
        {
            foreach (int p in Topology.Diagonals)
                _m[p] += L.Of(_leak);
        }
    }

    /// <summary>Chooses the pivots anew from the matrix at the present iterate (of the first lane). False if it is singular.</summary>
    public bool Replan()
    {
        Evaluate();
        return PlanHere();
    }

    /// <summary>The pivot order that suits the nominal numbers where all unknowns are zero; null if the matrix is singular there.</summary>
    public PivotPlan? PlanAtZero()
    {
        Alpha = 0;
        FillLinear();
        Replan();
        return _factors?.Plan;
    }

    private bool PlanHere()
    {
        var values = new double[_columns.Length];
        for (int p = 0; p < values.Length; p++)
            values[p] = _m[p].Get(0);
        foreach (int e in _nonlinearEntries)
            values[e] += At.G[e].Get(0) + Alpha * At.C[e].Get(0);
        var plan = PivotPlan.Make(First, _rowStart, _columns, values, _isNonlinear, _isCurrent, out int[] stuck);
        StuckRows = stuck;
        if (plan is null)
            return false;
        _factors = new Factors<L>(plan, First, _mostGrowth);
        _factors.FactorLinear(_m);
        return true;
    }

    // By how much more a row has to grow than with the order that was chosen last, before another is looked for.
    private const double FurtherGrowth = 1e3;

    private double _mostGrowth = Factors<L>.WeakGrowth;

    /// <summary>
    /// Where rows grow in an order that was chosen for these very values, growth lies in the values (a coil over a step of next to no
    /// time): no other order is looked for until they grow much more.
    /// </summary>
    private void BearWhatIsLeft()
    {
        while (!_factors!.HasGrownBelow(_mostGrowth) && _mostGrowth < double.MaxValue / FurtherGrowth)
            _mostGrowth *= FurtherGrowth;
    }

    /// <summary>The rows in which no pivot was left when planning failed.</summary>
    public int[] StuckRows { get; private set; } = [];

    /// <summary>Fills f (nonlinear part), q and their slopes at the present iterate.</summary>
    /// <param name="exact">Whether to evaluate just there; else devices may limit how far they follow.</param>
    /// <param name="charges">Whether q and its slopes are wanted.</param>
    /// <param name="known">Whether the rows and columns of known voltages are wanted.</param>
    public void Evaluate(bool exact = false, bool charges = true, bool known = true)
    {
        var at = At;
        (at.Exact, at.WithCharges, at.WithKnown) = (exact, charges, known);
        _hasMoved = _hasRemainder = false;
        Array.Clear(at.F);
        foreach (int e in _nonlinearEntries)
            at.G[e] = default;
        // Without charges nothing but zero is ever written there.
        if (charges || _hasCharges)
        {
            _hasCharges = charges;
            Array.Clear(at.Q);
            foreach (int e in _nonlinearEntries)
                at.C[e] = default;
        }
        at.Limited = false;
        foreach (var device in _nonlinear)
            device.LoadNonlinear(at);
    }

    /// <summary>One Newton step from the present iterate towards f + α·(q − q*) = 0.</summary>
    /// <param name="target">q*, by row; at DC an extra current into each row, or null.</param>
    /// <param name="exact">As for <see cref="Evaluate"/>.</param>
    /// <param name="charges">Whether charges are wanted at rest too.</param>
    public void NewtonStep(L[]? target, bool exact = false, bool charges = false)
    {
        Iterations++;
        Evaluate(exact, charges || Alpha > 0, known: false);
        FillResidual(target);
        L[]? farads = Alpha > 0 ? At.C : null;
        _factors!.FactorNonlinear(_nonlinearEntries, At.G, farads, L.Of(Alpha));
        if (_factors.IsWeak && PlanHere())
        {
            _factors.FactorNonlinear(_nonlinearEntries, At.G, farads, L.Of(Alpha));
            BearWhatIsLeft();
        }
        _factors.Solve(_residual, _step);
        L[] x = At.X;
        for (int r = First; r < x.Length; r++)
            x[r] -= _step[r];
        _hasMoved = true;
    }

    /// <summary>
    /// Works out what the laws leave over the tangents that the last step of Newton's method followed. Devices that cannot say are to be
    /// judged by their knees, <see cref="UnsaidKnees"/>.
    /// </summary>
    /// <returns>Whether all devices could say.</returns>
    public bool EvaluateRemainder()
    {
        Array.Clear(_left);
        Array.Clear(_leftCharges);
        if (_hasUnsaid)
            Array.Fill(_unsaidKnees, double.PositiveInfinity);
        _hasUnsaid = false;
        foreach (var (device, knee, columns) in _bends)
        {
            if (device.AddRemainder(At, _step, _left, Alpha > 0 ? _leftCharges : null))
                continue;
            _hasUnsaid = true;
            foreach (int column in columns)
                _unsaidKnees[column] = Math.Min(_unsaidKnees[column], knee);
        }
        return !_hasUnsaid;
    }

    /// <summary>By row: the sharpest knee of the devices that an unknown acts on and that could not say what they leave, V; else
    /// infinity.</summary>
    public ReadOnlySpan<double> UnsaidKnees => _unsaidKnees;

    /// <summary>
    /// What the last step leaves of each unknown, to second order: the remainder of the laws solved with the step's factors, by row (a
    /// step of Chebyshev's method; Traub, Iterative Methods for the Solution of Equations).
    /// </summary>
    public L[] SolveRemainder()
    {
        L a = L.Of(Alpha);
        for (int r = First; r < _left.Length && Alpha > 0; r++)
            _left[r] += a * _leftCharges[r];
        _factors!.Solve(_left, _left);
        return _left;
    }

    /// <summary>Takes what <see cref="SolveRemainder"/> found off the iterate as well.</summary>
    public void TakeRemainder()
    {
        L[] x = At.X;
        for (int r = First; r < x.Length; r++)
        {
            x[r] -= _left[r];
            _step[r] += _left[r];
        }
        _hasRemainder = true;
    }

    private void FillResidual(L[]? target)
    {
        L a = L.Of(Alpha);
        bool dynamic = Alpha > 0;
        L[] x = At.X, f = At.F, q = At.Q, m = _m;
        int[] columns = _columns, rowStart = _rowStart;
        for (int r = First; r < x.Length; r++)
        {
            L sum = _sources[r] + f[r];
            if (dynamic)
                sum += a * (q[r] - target![r]);
            else if (target is not null)
                sum -= target[r];
            int end = rowStart[r + 1];
            for (int p = rowStart[r]; p < end; p++)
                sum += m[p] * x[columns[p]];
            _residual[r] = sum;
        }
    }

    /// <summary>
    /// The slopes df/dx and dq/dx of the unknowns at the present iterate (of the first lane), as full matrices.
    /// </summary>
    public (double[,] G, double[,] C) Slopes()
    {
        Evaluate(exact: true);
        int order = At.X.Length - First;
        double[,] g = new double[order, order], c = new double[order, order];
        for (int r = 0; r < order; r++)
        {
            for (int p = _rowStart[r + First]; p < _rowStart[r + First + 1]; p++)
            {
                int column = _columns[p] - First;
                if (column >= 0)
                    (g[r, column], c[r, column]) = ((_g[p] + At.G[p]).Get(0), (_c[p] + At.C[p]).Get(0));
            }
        }
        return (g, c);
    }

    /// <summary>Adds the slopes of f and q on one known or unknown voltage, times a change, to vectors by row.</summary>
    public void AddColumn(int column, double change, double[] f, double[] q)
    {
        Evaluate(exact: true);
        for (int r = 1; r < At.X.Length; r++)
        {
            for (int p = _rowStart[r]; p < _rowStart[r + 1]; p++)
            {
                if (_columns[p] != column)
                    continue;
                f[r] += change * (_g[p] + At.G[p]).Get(0);
                q[r] += change * (_c[p] + At.C[p]).Get(0);
            }
        }
    }

    /// <summary>The solution of f + α·(q − q*) = 0 where it is linear: one solve, no iterate.</summary>
    public void SolveLinear(L[] target)
    {
        Iterations++;
        L a = L.Of(Alpha);
        L[] x = At.X;
        for (int r = First; r < x.Length; r++)
            _residual[r] = a * target[r] - _sources[r];
        foreach (var (row, column, entry) in _drivenEntries)
            _residual[row] -= _m[entry] * x[column];
        _factors!.Solve(_residual, x);
    }

    /// <summary>
    /// Once more with the factors of the last step, from the residual that <see cref="LargestResidual"/> left: takes what
    /// Newton's last step leaves down to rounding, at the price of one solve.
    /// </summary>
    public void Polish()
    {
        _factors!.Solve(_residual, _step);
        L[] x = At.X;
        for (int r = First; r < x.Length; r++)
            x[r] -= _step[r];
        _hasMoved = true;
    }

    /// <summary>Solves J·y = b with the factors of the last Newton step.</summary>
    public void SolveAgain(L[] b, L[] y) => _factors!.Solve(b, y);

    /// <summary>
    /// The complete static currents f and charges q of every row, driven nodes included, at the present iterate, into
    /// <see cref="Iterate{L}.F"/> and <see cref="Iterate{L}.Q"/>.
    /// </summary>
    public void EvaluateAll()
    {
        Evaluate(exact: true);
        L[] x = At.X, f = At.F, q = At.Q;
        for (int r = 1; r < x.Length; r++)
        {
            L flow = f[r] + _sources[r];
            for (int p = _rowStart[r]; p < _rowStart[r + 1]; p++)
                flow += _g[p] * x[_columns[p]];
            f[r] = flow;
        }
        foreach (var (row, column, entry) in _chargeEntries)
            q[row] += _c[entry] * x[column];
    }

    /// <summary>Whether an unknown is a branch current (A), not a voltage.</summary>
    public bool IsCurrent(int row) => _isCurrent[row];

    /// <summary>Whether what is left over in every row at the present iterate is no more than the rounding of its terms.</summary>
    /// <param name="target">As for <see cref="NewtonStep"/>.</param>
    public bool HoldsToRounding(L[]? target)
    {
        Evaluate(exact: true);
        FillResidual(target);
        for (int r = First; r < _residual.Length; r++)
        {
            if (!L.AllBelow(L.Abs(_residual[r]) - RoundingOf(r, target), double.Epsilon))
                return false;
        }
        return true;
    }

    /// <summary>What the rounding of a row's terms at the present iterate can leave over.</summary>
    private L RoundingOf(int row, L[]? target)
    {
        const double roundings = 64 * 1.1e-16;
        L a = L.Of(Alpha);
        L size = L.Abs(_sources[row]) + L.Abs(At.F[row]) + a * L.Abs(At.Q[row]);
        if (target is not null)
            size += Alpha > 0 ? a * L.Abs(target[row]) : L.Abs(target[row]);
        for (int p = _rowStart[row]; p < _rowStart[row + 1]; p++)
            size += L.Abs(_m[p] * At.X[_columns[p]]);
        return L.Of(roundings) * size;
    }

    /// <summary>Whether the charge of a row has a linear slope on its own unknown: an inductor's current has, a source's not.</summary>
    public bool HoldsState(int row)
    {
        for (int p = _rowStart[row]; p < _rowStart[row + 1]; p++)
        {
            if (_columns[p] == row && _c[p].Get(0) != 0)
                return true;
        }
        return false;
    }

    /// <summary>
    /// After a step at DC: the largest current left over at the new iterate, where, and the largest current that a
    /// nonlinear part passes into a row, all in amperes of the first lane.
    /// </summary>
    /// <param name="target">As for <see cref="NewtonStep"/>.</param>
    public (double Amps, int Row, double Scale) LargestResidual(L[]? target = null)
    {
        Evaluate(exact: true, charges: Alpha > 0, known: false);
        FillResidual(target);
        double largest = 0, scale = 0;
        int where = First;
        for (int r = First; r < _residual.Length; r++)
        {
            double left = Math.Abs(_residual[r].Get(0));
            // The row of a branch current holds volts, that of a state neither.
            if (!(left <= largest) && _isBalance[r])
            {
                // In a short step the charges' rounding alone is a current: the rest is what the solution leaves over.
                left -= Alpha > 0 ? RoundingOf(r, target).Get(0) : 0;
                if (!(left <= largest))
                    (largest, where) = (left, r);
            }
            scale = Math.Max(scale, Math.Abs(_sources[r].Get(0)) + Math.Abs(At.F[r].Get(0)));
        }
        return (largest, where, scale);
    }

    /// <summary>At DC: works out what is left over in every row at the present iterate.</summary>
    public void EvaluateResidual()
    {
        Evaluate(exact: true, charges: false, known: false);
        FillResidual(null);
    }

    /// <summary>What is left over in a row where that was worked out last, by <see cref="EvaluateResidual"/> or before a step.</summary>
    public L LeftOver(int row) => _residual[row];

    /// <summary>
    /// The largest current left over in each lane, where that was worked out last, by <see cref="EvaluateResidual"/> or before a step, and
    /// the largest current that a nonlinear part passes into a row, A.
    /// </summary>
    public (L Amps, L Scale) LargestLeft()
    {
        L largest = L.Of(0), scale = largest;
        for (int r = First; r < _residual.Length; r++)
        {
            if (_isBalance[r])
                largest = L.Max(largest, L.Abs(_residual[r]));
            scale = L.Max(scale, L.Abs(_sources[r]) + L.Abs(At.F[r]));
        }
        return (largest, scale);
    }

    /// <summary>The row in which <see cref="LargestLeft"/> found a current left over.</summary>
    public int RowLeftOver(double amps, int lane) =>
        Math.Max(First, Array.FindIndex(_residual, First, left => Math.Abs(left.Get(lane)) == amps));

    /// <summary>Forgets what limiting compares with.</summary>
    public void ForgetLimits()
    {
        foreach (var device in _nonlinear)
            device.ForgetLimits();
    }
}
