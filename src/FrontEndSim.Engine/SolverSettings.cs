namespace FrontEndSim.Engine;

/// <summary>Accuracy and limits of a solution. The defaults suit front ends of tens of parts.</summary>
public sealed record SolverSettings
{
    /// <summary>
    /// Local error allowed in one time step, relative to the largest value that each node has reached.
    /// </summary>
    public double Accuracy { get; init; } = 1e-5;

    /// <summary>Local error always allowed in one time step, V (or A for branch currents).</summary>
    public double AbsoluteVolts { get; init; } = 1e-8;

    /// <summary>The longest time step, s; infinity for no limit.</summary>
    public double LongestStep { get; init; } = double.PositiveInfinity;

    /// <summary>Time steps after which a transient gives up.</summary>
    public int MostSteps { get; init; } = 5_000_000;

    /// <summary>Newton iterations after which one attempt at a solution is given up.</summary>
    public int MostIterations { get; init; } = 100;

    /// <summary>Nodes whose transient is kept, or null for all nodes and parts.</summary>
    public IReadOnlyList<string>? Keep { get; init; }

    /// <summary>The integration method.</summary>
    public TimeMethod Method { get; init; } = TimeMethod.FourthOrder;
}

/// <summary>Implicit Runge–Kutta methods for the transient; all stiffly accurate and L-stable.</summary>
public enum TimeMethod
{
    /// <summary>TR-BDF2, order 2 (Bank et al. 1985; as a Runge–Kutta pair, Hosea and Shampine 1996).</summary>
    SecondOrder,

    /// <summary>ESDIRK3(2)4L[2]SA, order 3 (Kennedy and Carpenter 2003).</summary>
    ThirdOrder,

    /// <summary>ESDIRK4(3)6L[2]SA, order 4 (Kennedy and Carpenter 2003).</summary>
    FourthOrder,
}
