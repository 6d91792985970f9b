namespace FrontEndSim.Engine.Equations;

/// <summary>
/// A state with positive feedback, τ·dy/dt = B(z) − y with z = a·v + k·y and B bounded by one: two stable states, which end where
/// k·B'(z) = 1 (after Schmitt, "A thermionic trigger", J. Sci. Instrum. 15, 1938). This is what keeps Newton's method on it.
/// </summary>
internal sealed class Bistable<L> where L : struct, ILane<L>
{
    /// <summary>The state's row is scaled as this conductance, S, so that it has the size of its neighbours'.</summary>
    public const double Siemens = 1e-3;

    /// <summary>Positive feedback k: 0.9 of the way from the middle of the hysteresis to a threshold the state is full to 1e-4.</summary>
    public const double Feedback = 20;

    // At rest it is thrown from one state to the other by its input alone, and Newton may follow at once. Where that goes to and fro, as
    // with feedback around it, it has to feel its way.
    private const int MostThrows = 6;

    private L _drive;
    private int _throws;

    /// <summary>a·(half the hysteresis): k·B(z) − z where k·B'(z) = 1, the end of a stable state. B' = (1 + z⁸)^(−9/8).</summary>
    public static double DriveAtThreshold { get; } = AtThreshold();

    /// <summary>The drive to evaluate at, for the one that is asked for.</summary>
    public L Follow(L asked, Iterate<L> at)
    {
        if (_throws >= MostThrows)
            return Saturation.Approach(asked, ref _drive, at);
        if (!L.AllBelow(-(asked * _drive), 0))
            _throws++;
        _drive = asked;
        return asked;
    }

    /// <summary>Forgets where it was.</summary>
    public void Forget() => (_drive, _throws) = (L.Of(0), 0);

    private static double AtThreshold()
    {
        double z = Math.Pow(Math.Pow(Feedback, 8.0 / 9) - 1, 1.0 / 8);
        return Feedback * Saturation.Bounded(new Scalar(z), out _).Value - z;
    }
}
