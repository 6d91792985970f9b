namespace FrontEndSim.Engine.Equations;

/// <summary>
/// The solver's workspace: the present iterate and what the devices make of it. Entry 0 of every vector is ground;
/// the last entry of every matrix collects what falls into ground's row or column and is never read.
/// </summary>
internal sealed class Iterate<L>(int size, int entries) where L : struct, ILane<L>
{
    /// <summary>Time, s.</summary>
    public double Time;

    /// <summary>Node voltages (V) and branch currents (A).</summary>
    public readonly L[] X = new L[size];

    /// <summary>Static currents leaving each node, A.</summary>
    public readonly L[] F = new L[size];

    /// <summary>Nonlinear charges, C.</summary>
    public readonly L[] Q = new L[size];

    /// <summary>Nonlinear slopes df/dx, by matrix entry.</summary>
    public readonly L[] G = new L[entries + 1];

    /// <summary>Nonlinear slopes dq/dx, by matrix entry.</summary>
    public readonly L[] C = new L[entries + 1];

    /// <summary>Whether devices are to be evaluated just where the iterate is, to read a solution and not to approach one.</summary>
    public bool Exact;

    /// <summary>Whether devices are to work out their charges, which nothing asks for at rest.</summary>
    public bool WithCharges;

    /// <summary>Whether currents into known voltages are wanted, which no step of Newton's method asks for.</summary>
    public bool WithKnown;

    /// <summary>Whether some device was evaluated away from the iterate to keep the step within its knee.</summary>
    public bool Limited;
}
