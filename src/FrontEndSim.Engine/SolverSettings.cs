namespace FrontEndSim.Engine;

/// <summary>Accuracy and limits of a solution, each checked as it is set. The defaults suit front ends of tens of parts.</summary>
public sealed record SolverSettings
{
    /// <summary>
    /// Local error allowed in one time step, relative to the largest value that each node has reached.
    /// </summary>
    public double Accuracy
    {
        get;
        init => field = value > 0 && double.IsFinite(value) ? value : throw Invalid(nameof(Accuracy), value, "finite and above 0");
    } = 1e-5;

    /// <summary>Local error always allowed in one time step, V (or A for branch currents).</summary>
    public double AbsoluteVolts
    {
        get;
        init => field = value > 0 && double.IsFinite(value) ? value : throw Invalid(nameof(AbsoluteVolts), value, "finite and above 0 V");
    } = 1e-8;

    /// <summary>The longest time step, s; infinity for no limit.</summary>
    public double LongestStep
    {
        get;
        init => field = value > 0 ? value : throw Invalid(nameof(LongestStep), value, "above 0 s");
    } = double.PositiveInfinity;

    /// <summary>Time steps after which a transient gives up.</summary>
    public int MostSteps { get; init => field = value > 0 ? value : throw Invalid(nameof(MostSteps), value, "above 0"); } = 5_000_000;

    /// <summary>
    /// Numbers that a transient records at most, 8 bytes each: where they are reached, steps are merged while the traces stay
    /// within ten times <see cref="Accuracy"/> of what was recorded; where that does not help, the transient gives up.
    /// </summary>
    public int MostRecordedNumbers
    {
        get;
        init => field = value > 0 ? value : throw Invalid(nameof(MostRecordedNumbers), value, "above 0");
    } = 20_000_000;

    /// <summary>Newton iterations after which one attempt at a solution is given up.</summary>
    public int MostIterations { get; init => field = value > 0 ? value : throw Invalid(nameof(MostIterations), value, "above 0"); } = 100;

    /// <summary>Whether a transient solves every period of sources that repeat, also those like the one before.</summary>
    public bool SolvesEveryPeriod { get; init; }

    /// <summary>Nodes whose transient is kept, or null for all nodes and parts.</summary>
    public IReadOnlyList<string>? Keep { get; init; }

    /// <summary>The integration method.</summary>
    public TimeMethod Method { get; init; } = TimeMethod.FourthOrder;

    private static ArgumentOutOfRangeException Invalid(string setting, double value, string wanted) =>
        new(setting, value, $"The setting {setting} must be {wanted}.");
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
