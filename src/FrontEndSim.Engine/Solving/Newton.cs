using FrontEndSim.Engine.Equations;

namespace FrontEndSim.Engine.Solving;

/// <summary>Newton's method on a kernel's equations until a step is negligible.</summary>
internal static class Newton
{
    /// <summary>
    /// At DC a solution is accepted when the last step was below 1 µV + 1e-9 of the value: Newton converges
    /// quadratically, so what is left is the square of that over the knee voltage, some 1e-11 V.
    /// </summary>
    private const double RestVolts = 1e-6, RestAmps = 1e-9, RestRelative = 1e-9;

    /// <summary>Iterates at DC; false if it does not settle within the limit or meets a number that is not finite.</summary>
    /// <param name="kernel">The equations, prepared.</param>
    /// <param name="most">Iterations allowed.</param>
    /// <param name="pull">Extra current into each row, or null.</param>
    public static bool SolveStatic<L>(Kernel<L> kernel, int most, L[]? pull = null) where L : struct, ILane<L>
    {
        int nodes = kernel.Topology.Wiring.NodeCount, first = kernel.Topology.Wiring.FirstUnknown;
        for (int iteration = 0; iteration < most; iteration++)
        {
            kernel.NewtonStep(pull);
            if (Settled(kernel, first, nodes))
                return true;
        }
        return false;
    }

    private static bool Settled<L>(Kernel<L> kernel, int first, int nodes) where L : struct, ILane<L>
    {
        bool settled = !kernel.At.Limited;
        var step = kernel.Step;
        L[] x = kernel.At.X;
        L relative = L.Of(RestRelative);
        for (int r = first; r < x.Length && settled; r++)
            settled = L.AllBelow(L.Abs(step[r]) - relative * L.Abs(x[r]), r < nodes ? RestVolts : RestAmps);
        return settled;
    }
}
