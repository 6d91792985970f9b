namespace FrontEndSim.Engine.Solving;

/// <summary>
/// Pseudo-transient continuation (Kelley and Keyes, SIAM J. Numer. Anal. 35, 1998): every voltage is held to the one before by
/// a conductance that lets go. That is backward Euler with a capacitance at every unknown, so that it arrives where a circuit
/// with strays would: at a stable solution, also where a branch of solutions ends and the circuit has to jump.
/// </summary>
internal sealed class PseudoTransient
{
    private const double FirstSiemens = 1, LastSiemens = 1e-14, Relax = 3, Tighten = 20;
    private const int MostSteps = 2000, MostFailures = 40;

    private readonly Kernel<Scalar> _kernel;
    private readonly int _most, _first;
    private readonly Scalar[] _held, _target;

    public PseudoTransient(Kernel<Scalar> kernel, int mostIterations)
    {
        (_kernel, _most) = (kernel, mostIterations);
        _first = kernel.Topology.Wiring.FirstUnknown;
        (_held, _target) = (new Scalar[kernel.At.X.Length], new Scalar[kernel.At.X.Length]);
    }

    /// <summary>The unknowns that the last step settled at.</summary>
    public ReadOnlySpan<Scalar> Held => _held;

    /// <summary>Solves f + α·(q − q*) = 0 from the present iterate.</summary>
    /// <param name="alpha">1/(γ·h), or 0 at DC.</param>
    /// <param name="charges">q*, or null at DC.</param>
    /// <param name="cancel">Stops between steps.</param>
    /// <returns>False if it does not arrive.</returns>
    public bool Solve(double alpha, Scalar[]? charges, CancellationToken cancel)
    {
        _kernel.At.X.CopyTo(_held, 0);
        _kernel.ForgetLimits();
        double siemens = FirstSiemens;
        int failures = 0;
        for (int n = 0; n < MostSteps; n++)
        {
            cancel.ThrowIfCancellationRequested();
            if (!_kernel.Prepare(alpha, siemens))
                return false;
            Pull(alpha, charges, siemens);
            if (Newton.SolveStatic(_kernel, _most, cancel, _target))
            {
                _kernel.At.X.CopyTo(_held, 0);
                siemens /= Relax;
                if (siemens < LastSiemens)
                    return _kernel.Prepare(alpha) && Newton.SolveStatic(_kernel, _most, cancel, charges);
                continue;
            }
            for (int r = _first; r < _held.Length; r++)
                _kernel.At.X[r] = _held[r];
            _kernel.ForgetLimits();
            _kernel.Evaluate();
            siemens *= Tighten;
            if (++failures > MostFailures || !_kernel.Replan())
                return false;
        }
        return false;
    }

    /// <summary>What the holding conductances draw at the held voltages, as a current (at DC) or as a charge over α.</summary>
    private void Pull(double alpha, Scalar[]? charges, double siemens)
    {
        if (charges is null)
            Array.Clear(_target);
        else
            charges.CopyTo(_target, 0);
        double share = alpha > 0 ? siemens / alpha : siemens;
        foreach (int r in _kernel.Topology.HeldRows)
            _target[r] += new Scalar(share * _held[r].Value);
    }
}
