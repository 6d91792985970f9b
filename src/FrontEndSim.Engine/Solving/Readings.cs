using System.Collections.ObjectModel;
using FrontEndSim.Engine.Results;

namespace FrontEndSim.Engine.Solving;

/// <summary>Turns a kernel's iterate into what a user reads.</summary>
internal static class Readings
{
    /// <summary>Reads a solution; <see cref="Kernel{L}.EvaluateAll"/> must have been called at it.</summary>
    public static OperatingPoint Take(Kernel<Scalar> kernel, Audit audit)
    {
        var wiring = kernel.Topology.Wiring;
        var nodes = new Dictionary<string, double>(wiring.NodeCount);
        for (int r = 0; r < wiring.NodeCount; r++)
            nodes.Add(wiring.Names[r], kernel.At.X[r].Value);
        if (nodes.FirstOrDefault(n => !double.IsFinite(n.Value)).Key is { } overflowed)
            throw new SolveException($"The voltage of node {overflowed} is larger than numbers can hold.", overflowed);
        // In the order of the circuit, which is the order that a reader expects.
        var parts = kernel.Devices.ToDictionary(d => d.Part.Name, d => Of(kernel, d));
        if (parts.FirstOrDefault(p => !double.IsFinite(p.Value.Amps) || !double.IsFinite(p.Value.Watts)).Key is { } beyond)
            throw new SolveException($"The current or power of {beyond} is larger than numbers can hold.", element: beyond);
        return new OperatingPoint(new ReadOnlyDictionary<string, double>(nodes), new ReadOnlyDictionary<string, ElementReading>(parts),
            audit with { LargestAmps = parts.Values.Select(p => Math.Abs(p.Amps)).DefaultIfEmpty(0).Max() });
    }

    /// <summary>Reads the solution that a solver of operating points left in its kernel.</summary>
    public static OperatingPoint Take(Kernel<Scalar> kernel, OperatingPointSolver solver) => Take(kernel, new Audit
    {
        KirchhoffAmps = solver.Residual.Amps,
        KirchhoffNode = kernel.Topology.Wiring.NameOf(solver.Residual.Row),
        NewtonIterations = kernel.Iterations,
        Method = solver.Strategy,
    }) with
    { Foothold = kernel.Leave() };

    /// <summary>One part's reading from its static current.</summary>
    public static ElementReading Of(Kernel<Scalar> kernel, Device<Scalar> device)
    {
        var (plus, minus) = device.Part.Across;
        var wiring = kernel.Topology.Wiring;
        double volts = kernel.At.X[wiring.Node(plus)].Value - kernel.At.X[wiring.Node(minus)].Value;
        double amps = device.Current(kernel.At).Value;
        return new ElementReading(volts, amps, device.Watts(kernel.At)?.Value ?? volts * amps);
    }
}
