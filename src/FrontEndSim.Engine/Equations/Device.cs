namespace FrontEndSim.Engine.Equations;

/// <summary>
/// How a part behaves: what it adds to the equations f(x, t) + d q(x)/dt = 0.
/// f is the sum of static currents leaving each node (and the branch equations), q the charges (and fluxes).
/// </summary>
internal abstract class Device<L>(Element part) where L : struct, ILane<L>
{
    public Element Part { get; } = part;

    /// <summary>A number that trials vary: where to write its values, before <see cref="Refresh"/>.</summary>
    /// <exception cref="ArgumentException">The part has no such number.</exception>
    public virtual ref L Number(Parameter parameter) =>
        throw new ArgumentException($"{Part.Name} has no {parameter.Name} that may vary.", nameof(parameter));

    /// <summary>Whether the device adds anything that <see cref="LoadLinear"/> and <see cref="LoadSources"/> do not.</summary>
    public virtual bool IsNonlinear => false;

    /// <summary>The smallest change of voltage over which the device's slopes change much, V; infinity for none.</summary>
    public virtual double KneeVolts => double.PositiveInfinity;

    /// <summary>Whether <see cref="LoadSources"/> adds anything.</summary>
    public virtual bool HasSources => false;

    /// <summary>Works out what follows from the numbers that vary, at a temperature in kelvin.</summary>
    public virtual void Refresh(double kelvin)
    {
    }

    /// <summary>Adds the constant slopes df/dx to <paramref name="g"/> and dq/dx to <paramref name="c"/>.</summary>
    public virtual void LoadLinear(L[] g, L[] c)
    {
    }

    /// <summary>Adds the part of f that depends on time only. Independent sources are scaled by <paramref name="ramp"/> (0..1).</summary>
    public virtual void LoadSources(double t, L ramp, L[] f)
    {
    }

    /// <summary>Adds the nonlinear part of f, q and their slopes at the present iterate.</summary>
    public virtual void LoadNonlinear(Iterate<L> at)
    {
    }

    /// <summary>
    /// Adds what the law leaves over its tangent after a step from where it was evaluated: what it is at the iterate now, less what the
    /// step took it for. False where it cannot say: then <see cref="KneeVolts"/> stands for it.
    /// </summary>
    /// <param name="at">The iterate after the step.</param>
    /// <param name="step">What was taken off it, by row.</param>
    /// <param name="left">Gets it of f, by row.</param>
    /// <param name="charges">Gets it of q, by row; null at DC.</param>
    public virtual bool AddRemainder(Iterate<L> at, L[] step, L[] left, L[]? charges) => double.IsPositiveInfinity(KneeVolts);

    /// <summary>Forgets the voltages that limiting compares with, so that the next load is taken as it comes.</summary>
    public virtual void ForgetLimits()
    {
    }

    /// <summary>The static current from the first terminal of <see cref="Element.Across"/> through the part, A.</summary>
    public abstract L Current(Iterate<L> at);

    /// <summary>
    /// The power that the static currents bring into the part, W; null where it is the voltage of
    /// <see cref="Element.Across"/> times <see cref="Current"/>.
    /// </summary>
    public virtual L? Watts(Iterate<L> at) => null;

    /// <summary>
    /// What the part did with energy over a transient: unless it says otherwise, its static power is dissipated and its charge
    /// power stored.
    /// </summary>
    public virtual EnergyAccount Account(PartRecord record) => new(0, record.StaticPower.Integral(), record.Exchange?.Integral() ?? 0);

    /// <summary>The noise currents of the part at its operating point.</summary>
    public virtual IEnumerable<NoiseCurrent> Noise(Iterate<L> at, double kelvin) => [];

    /// <summary>How many charges the part keeps beside <see cref="Charge"/>, between other terminals than those of
    /// <see cref="Element.Across"/>.</summary>
    public virtual int Stores => 0;

    /// <summary>One of them, C, with the voltage that it is brought up through, V.</summary>
    public virtual (L Volts, L Coulombs) Store(int index, Iterate<L> at) => throw new ArgumentOutOfRangeException(nameof(index));

    /// <summary>The charge whose rate of change adds to <see cref="Current"/>, C.</summary>
    public virtual L Charge(Iterate<L> at) => L.Of(0);
}

/// <summary>A noise current between two rows.</summary>
/// <param name="From">Row that it leaves.</param>
/// <param name="To">Row that it enters.</param>
/// <param name="AmpsSquaredPerHertz">One-sided power density, A²/Hz.</param>
internal readonly record struct NoiseCurrent(int From, int To, double AmpsSquaredPerHertz)
{
    /// <summary>Thermal noise of a conductance, 4·k·T·G (Johnson and Nyquist, 1928).</summary>
    public static NoiseCurrent Thermal(Branch at, double siemens, double kelvin) =>
        new(at.From, at.To, 4 * Constants.Boltzmann * kelvin * siemens);
}

/// <summary>A source whose value an analysis may hold in place of its waveform, or read for a driven node.</summary>
internal interface IDrive<L> where L : struct, ILane<L>
{
    /// <summary>Replaces the waveform by a constant.</summary>
    void Hold(L value);

    /// <summary>Adds how the static currents change with the source's value, all unknowns and known voltages held.</summary>
    void AddSensitivity(Iterate<L> at, L[] f);

    /// <summary>The source's value at time t, s.</summary>
    L Value(double t);

    /// <summary>What its value changes by for a unit more of what drives it: other than 1 where a characteristic stands between.</summary>
    L Gain(double t) => L.Of(1);

    /// <summary>The waveforms that the transient must land on the corners of.</summary>
    IEnumerable<Waveforms.Waveform> Waveforms { get; }
}

/// <summary>A part with an input stage whose feedback may be asked for.</summary>
internal interface IInputStage<L> where L : struct, ILane<L>
{
    /// <summary>Where it stands and its transconductance at a solution.</summary>
    InputStage InputStage(Iterate<L> at);
}

/// <summary>The linearised input stage of an op amp.</summary>
/// <param name="Plus">Row of the plus input.</param>
/// <param name="Minus">Row of the minus input.</param>
/// <param name="Gain">Row of the gain stage that it drives.</param>
/// <param name="Siemens">Current into the gain stage per volt between the inputs, S.</param>
internal readonly record struct InputStage(int Plus, int Minus, int Gain, double Siemens);

/// <summary>Where a two-terminal part sits in the matrix: its two rows and the four entries between them.</summary>
internal readonly struct Branch
{
    public readonly int From, To;
    private readonly int _ff, _ft, _tf, _tt;

    public Branch(Wiring wiring, int from, int to, bool nonlinear = false)
    {
        (From, To) = (from, to);
        _ff = wiring.Entry(from, from, nonlinear);
        _ft = wiring.Entry(from, to, nonlinear);
        _tf = wiring.Entry(to, from, nonlinear);
        _tt = wiring.Entry(to, to, nonlinear);
    }

    /// <summary>Adds a slope between the two nodes to a matrix.</summary>
    public void Slope<L>(L[] matrix, L value) where L : struct, ILane<L>
    {
        // What falls into ground's rows and columns is never read.
        if (From != 0)
            matrix[_ff] += value;
        if (To == 0)
            return;
        matrix[_tt] += value;
        if (From == 0)
            return;
        matrix[_ft] -= value;
        matrix[_tf] -= value;
    }

    /// <summary>Adds a slope of the current on −v(To) alone: what a third terminal steers against To.</summary>
    public void SlopeAgainstTo<L>(L[] matrix, L value) where L : struct, ILane<L>
    {
        matrix[_ft] -= value;
        matrix[_tt] += value;
    }

    /// <summary>Adds a current (or charge) that leaves From and enters To.</summary>
    public void Flow<L>(L[] vector, L value) where L : struct, ILane<L>
    {
        vector[From] += value;
        vector[To] -= value;
    }

    /// <summary>v(From) − v(To), V.</summary>
    public L Voltage<L>(L[] x) where L : struct, ILane<L> => x[From] - x[To];
}

/// <summary>A source that an equation, and no known voltage, holds at its own.</summary>
internal interface IFollow<L> where L : struct, ILane<L>
{
    /// <summary>Moves a guess that was solved with nominal numbers to where the source stands with its present ones.</summary>
    /// <param name="x">The guess.</param>
    /// <param name="first">The first that is no known voltage.</param>
    void Follow(L[] x, int first);
}
