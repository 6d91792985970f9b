namespace FrontEndSim.Engine.Solving;

/// <summary>Newton's method on a kernel's equations until a step is negligible.</summary>
internal static class Newton
{
    /// <summary>
    /// At DC a solution is accepted when the last step was below 1 µV + 1e-9 of the value: Newton converges
    /// quadratically, so what is left is the square of that over the knee voltage, some 1e-11 V.
    /// </summary>
    private const double StepVolts = 1e-6, StepAmps = 1e-9, StepRelative = 1e-9;

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
            if (IsStepNegligible(kernel))
                return true;
        }
        return !kernel.At.Limited && kernel.HoldsToRounding(target);
    }

    private static bool IsStepNegligible<L>(Kernel<L> kernel) where L : struct, ILane<L>
    {
        bool settled = !kernel.At.Limited;
        var step = kernel.Step;
        L[] x = kernel.At.X;
        L relative = L.Of(StepRelative);
        for (int r = kernel.Topology.Wiring.FirstUnknown; r < x.Length && settled; r++)
            settled = L.AllBelow(L.Abs(step[r]) - relative * L.Abs(x[r]), kernel.IsCurrent(r) ? StepAmps : StepVolts);
        return settled;
    }
}
