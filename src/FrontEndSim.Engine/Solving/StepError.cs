namespace FrontEndSim.Engine.Solving;

/// <summary>What each unknown of a step may be off by, from the largest values so far, and what it is off by.</summary>
internal sealed class StepError
{
    /// <summary>Inside a step, the cubic that the results are drawn with may stray by this many times the accuracy at its end.</summary>
    public const double DrawingShare = 30;

    // A stage is solved when what the last Newton step leaves is below this share of the allowed error.
    private const double StageShare = 0.05;

    // A step of a current that decides which of its laws a source follows is nothing below this, A.
    private const double DecidingAmps = 1e-12;

    private readonly Kernel<Scalar> _kernel;
    private readonly Tableau _method;
    private readonly SolverSettings _settings;
    private readonly int _first, _size, _nodes;
    private readonly double[] _weights, _peak;
    private readonly double[] _ignored; // infinity where a row is no state, else 0
    private readonly double[] _perKnee; // one over the sharpest knee
    private readonly double[] _negligible, _perAllowed; // what a step may leave of each unknown, and one over its error allowed
    private readonly Scalar[] _error, _correction;

    public StepError(Kernel<Scalar> kernel, Tableau method, SolverSettings settings, Pattern wiring)
    {
        (_kernel, _method, _settings) = (kernel, method, settings);
        (_first, _size, _nodes) = (wiring.FirstUnknown, wiring.Size, wiring.NodeCount);
        _weights = [.. method.A[^1].Zip(method.Embedded, (b, e) => b - e)];
        (_error, _correction, _peak, _ignored, Allowed) =
            (new Scalar[_size], new Scalar[_size], new double[_size], new double[_size], new double[_size]);
        (_perKnee, _negligible, _perAllowed) = (new double[_size], new double[_size], new double[_size]);
        for (int r = _first; r < _size; r++)
        {
            _perKnee[r] = 1 / kernel.Knees[r];
            _ignored[r] = wiring.CurrentRows.Contains(r) && !kernel.HoldsState(r) ? double.PositiveInfinity : 0;
        }
    }

    /// <summary>The error allowed of each unknown; infinity where a row is no state.</summary>
    public double[] Allowed { get; }

    /// <summary>The largest magnitude of an unknown so far.</summary>
    public double Peak(int row) => _peak[row];

    /// <summary>Whether what the last step of Newton's method leaves of a stage is well below what is allowed.</summary>
    public bool IsStageSolved()
    {
        // What a Newton step leaves is about its square over the sharpest knee of the models that the unknown acts on.
        var step = _kernel.Step;
        int row = _first;
        while (row < step.Length && IsNegligible(step[row].Value, _perKnee[row], _negligible[row]))
            row++;
        if (row == step.Length)
            return true;
        // The laws themselves say more.
        if (!_kernel.EvaluateRemainder())
        {
            ReadOnlySpan<double> knees = _kernel.UnsaidKnees;
            for (row = _first; row < step.Length; row++)
            {
                if (double.IsFinite(knees[row]) && !IsNegligible(step[row].Value, 1 / knees[row], _negligible[row]))
                    return false;
            }
        }
        Scalar[] left = _kernel.SolveRemainder();
        double largest = 0, correction = 0;
        for (row = _first; row < step.Length && row < left.Length; row++)
        {
            largest = Math.Max(largest, Math.Abs(step[row].Value) * _perAllowed[row]);
            correction = Math.Max(correction, Math.Abs(left[row].Value) * _perAllowed[row]);
        }
        if (!Newton.IsCorrectionEnough(new Scalar(correction), new Scalar(largest), StageShare))
            return false;
        _kernel.TakeRemainder();
        return true;
    }

    private static bool IsNegligible(double step, double perKnee, double most)
    {
        double size = Math.Abs(step), share = size * perKnee;
        return (share < 1 ? size * share : size) <= most; // false if not a number
    }

    /// <summary>The local error of the embedded method over what is allowed, or that of drawing if it is larger.</summary>
    /// <param name="scale">Over the diagonal: the step's width.</param>
    /// <param name="stage">The unknowns at each stage.</param>
    /// <param name="slope">The slopes of charges at each stage.</param>
    public double Of(double scale, Scalar[][] stage, Scalar[][] slope)
    {
        Vectors.Sum(_error, null, scale, _weights, slope, _weights.Length);
        _kernel.SolveAgain(_error, _correction);
        double size = Vectors.LargestRatio(Vectors.Numbers(_correction)[_first..], Allowed.AsSpan(_first), _settings.Accuracy,
            Vectors.Numbers(_kernel.At.X)[_first..]);
        return Math.Max(size, DrawingError(stage));
    }

    /// <summary>
    /// How far the cubic that the results are drawn with misses the stages that it does not pass through, over what is
    /// allowed.
    /// </summary>
    private double DrawingError(Scalar[][] stage)
    {
        double largest = 0;
        int[] inner = _method.InnerStages;
        foreach (var (place, weights) in _method.CheckStages)
        {
            Vectors.CubicError(Vectors.Numbers(_error), weights, Vectors.Numbers(stage[0]), Vectors.Numbers(stage[inner[0]]),
                Vectors.Numbers(stage[inner[1]]), Vectors.Numbers(stage[^1]), Vectors.Numbers(stage[place]));
            largest = Math.Max(largest, Vectors.LargestRatio(Vectors.Numbers(_error)[_first..], Allowed.AsSpan(_first), 0,
                Vectors.Numbers(_error)[_first..]));
        }
        return largest / DrawingShare;
    }

    /// <summary>Follows the largest values so far and the errors allowed from them.</summary>
    public void TrackPeaks()
    {
        Vectors.RaiseToMagnitude(_peak, Vectors.Numbers(_kernel.At.X));
        double volts = Vectors.Largest(_peak.AsSpan(0, _nodes));
        // A virtual ground's microvolts need no more than a ten-thousandth of the accuracy of the largest node.
        double floor = _settings.Accuracy * 1e-4 * volts + _settings.AbsoluteVolts;
        Vectors.Allow(Allowed, _settings.Accuracy, _peak, _settings.AbsoluteVolts, floor, _ignored);
        // Linear stages are solved outright.
        for (int r = _first; r < _size && !_kernel.IsLinear; r++)
        {
            _perAllowed[r] = 1 / Allowed[r];
            // A current that is no state is as right as the voltages, but for one that decides which law holds.
            _negligible[r] = double.IsPositiveInfinity(Allowed[r]) && _perKnee[r] > 0 ? DecidingAmps : StageShare * Allowed[r];
        }
    }
}
