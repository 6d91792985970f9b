namespace FrontEndSim.Engine.Solving;

/// <summary>Newton's method on a kernel's equations until a step is negligible.</summary>
internal static class Newton
{
    /// <summary>
    /// At DC a solution is accepted when the last step was below 1 µV + 1e-9 of the value: Newton converges
    /// quadratically, so what is left is the square of that over the knee voltage, some 1e-11 V.
    /// </summary>
    private const double StepVolts = 1e-6, StepAmps = 1e-9, StepRelative = 1e-9;

    // What a negligible step of a conducting junction leaves, in negligible steps: its own size over the knee.
    private const double NegligibleShare = 4e-5;

    private const double MostContraction = 0.1;

    // The longest step, in negligible ones, whose rounding is nothing beside one; currents of 1e9 negligible steps, through a milliohm
    // beside a megohm, leave a negligible one.
    private const double MostCorrected = 1e9;

    // Unknowns, V or A, up to which a negligible step says that a solution is near: a relative step is 0.1 mV there, well below a knee.
    private const double MostByStep = 1e5;

    /// <summary>
    /// Iterates until a step is negligible, or until the equations hold to rounding: where next to nothing holds a node, the
    /// rounding of large currents beside it moves it by more than a negligible step.
    /// </summary>
    /// <param name="kernel">The equations, prepared.</param>
    /// <param name="most">Iterations allowed.</param>
    /// <param name="cancel">Stops between iterations.</param>
    /// <param name="target">As for <see cref="Kernel{L}.NewtonStep"/>.</param>
    /// <returns>False if it does not settle within the limit or meets a number that is not finite.</returns>
    public static bool SolveStatic<L>(Kernel<L> kernel, int most, CancellationToken cancel, L[]? target = null) where L : struct, ILane<L>
    {
        for (int iteration = 0; iteration < most; iteration++)
        {
            cancel.ThrowIfCancellationRequested();
            kernel.NewtonStep(target);
            if (!kernel.At.Limited && (IsStepNegligible(kernel) || IsCorrected(kernel)))
                return IsWithinReach(kernel) || kernel.HoldsToRounding(target);
        }
        return !kernel.At.Limited && kernel.HoldsToRounding(target);
    }

    // Far out an exponential's slope makes any step small beside where it is taken: there the currents have to balance.
    private static bool IsWithinReach<L>(Kernel<L> kernel) where L : struct, ILane<L>
    {
        L most = L.Of(0);
        for (int r = kernel.Topology.Wiring.FirstUnknown; r < kernel.At.X.Length; r++)
            most = L.Max(most, L.Abs(kernel.At.X[r]));
        return L.AllBelow(most, MostByStep);
    }

    private static bool IsStepNegligible<L>(Kernel<L> kernel) where L : struct, ILane<L>
    {
        bool settled = true;
        for (int r = kernel.Topology.Wiring.FirstUnknown; r < kernel.At.X.Length && settled; r++)
            settled = IsStepNegligible(kernel, r);
        return settled;
    }

    private static bool IsStepNegligible<L>(Kernel<L> kernel, int row) where L : struct, ILane<L> =>
        L.AllBelow(L.Abs(kernel.Step[row]) - L.Of(StepRelative) * L.Abs(kernel.At.X[row]), Least(kernel, row));

    /// <summary>Whether the last step was negligible in one lane.</summary>
    public static bool IsStepNegligibleIn<L>(Kernel<L> kernel, int lane) where L : struct, ILane<L>
    {
        for (int r = kernel.Topology.Wiring.FirstUnknown; r < kernel.At.X.Length; r++)
        {
            if (!(Math.Abs(kernel.Step[r].Get(lane)) <= Least(kernel, r) + StepRelative * Math.Abs(kernel.At.X[r].Get(lane))))
                return false;
        }
        return true;
    }

    private static double Least<L>(Kernel<L> kernel, int row) where L : struct, ILane<L> => kernel.IsCurrent(row) ? StepAmps : StepVolts;

    /// <summary>
    /// From an iterate that is taken as it is, at most two steps, each of which has to contract: what the laws leave over it, solved, is a
    /// tenth of the step at most. Then a solution lies within two steps of the iterate, and no other does (the theorem of Newton and
    /// Kantorovich; Ortega and Rheinboldt, Iterative Solution of Nonlinear Equations in Several Variables; the laws' remainder of the step
    /// itself stands for the bound of their second derivatives).
    /// </summary>
    /// <param name="kernel">The equations at rest, prepared.</param>
    /// <returns>Whether that is so, in every lane, and the last step corrected left no more than <see cref="SolveStatic"/> does.</returns>
    public static bool TryConfirm<L>(Kernel<L> kernel) where L : struct, ILane<L>
    {
        const int most = 2;
        for (int n = 0; n < most; n++)
        {
            kernel.NewtonStep(null, exact: true);
            if (IsStepNegligible(kernel))
                return true;
            if (!TryCorrect(kernel, out L correction, out L step) || !IsContraction(correction, step))
                return false;
            kernel.TakeRemainder();
            if (IsCorrectionEnough(correction, step, NegligibleShare))
                return true;
        }
        return false;
    }

    /// <summary>Corrects the last step to second order if that leaves no more than a negligible step would.</summary>
    private static bool IsCorrected<L>(Kernel<L> kernel) where L : struct, ILane<L>
    {
        if (!TryCorrect(kernel, out L correction, out L step) || !IsCorrectionEnough(correction, step, NegligibleShare)
            || !L.AllBelow(step, MostCorrected))
            return false;
        kernel.TakeRemainder();
        return true;
    }

    /// <summary>The largest correction of the last step to second order, and the step, over what is allowed; false where a part cannot
    /// say.</summary>
    private static bool TryCorrect<L>(Kernel<L> kernel, out L correction, out L step) where L : struct, ILane<L>
    {
        int first = kernel.Topology.Wiring.FirstUnknown, size = kernel.At.X.Length;
        correction = step = L.Of(0);
        bool isSaid = kernel.EvaluateRemainder();
        for (int r = first; r < size && !isSaid; r++)
        {
            if (double.IsFinite(kernel.UnsaidKnees[r]) && !IsStepNegligible(kernel, r))
                return false;
        }
        L[] left = kernel.SolveRemainder();
        for (int r = first; r < size; r++)
        {
            L allowed = L.Of(1) / (L.Of(Least(kernel, r)) + L.Of(StepRelative) * L.Abs(kernel.At.X[r]));
            step = L.Max(step, L.Abs(kernel.Step[r]) * allowed);
            correction = L.Max(correction, L.Abs(left[r]) * allowed);
        }
        return true;
    }

    private static bool IsContraction<L>(L correction, L step) where L : struct, ILane<L> =>
        L.AllBelow(correction - L.Of(MostContraction) * step, double.Epsilon);

    /// <summary>
    /// Whether what a correction to second order leaves is below a share of what is allowed: for smooth laws twice its square over its step
    /// (Traub, Iterative Methods for the Solution of Equations, on Chebyshev's method), where it is well below the step.
    /// </summary>
    /// <param name="correction">The largest correction over what is allowed.</param>
    /// <param name="step">The largest step over what is allowed.</param>
    /// <param name="share">The share.</param>
    public static bool IsCorrectionEnough<L>(L correction, L step, double share) where L : struct, ILane<L> =>
        IsContraction(correction, step) && L.AllBelow(L.Of(2) * correction * correction - L.Of(share) * step, double.Epsilon);
}
