using System.Numerics;

namespace FrontEndSim.Engine.Results;

/// <summary>
/// The natural modes of the linearised circuit about an operating point: solutions e^(s·t) without excitation. An operating
/// point with a growing mode balances, but no meter ever reads it. Immutable.
/// </summary>
/// <param name="Point">The operating point.</param>
/// <param name="Modes">
/// The modes, the fastest growing first; empty where no part has gain, as a passive circuit has none that grows. A conjugate
/// pair is one mode, that of positive frequency.
/// </param>
public sealed record ModesResult(OperatingPoint Point, ImmutableArray<Mode> Modes)
{
    /// <summary>Whether no mode grows.</summary>
    public bool IsStable => !Modes.Any(m => m.Grows);
}

/// <summary>One natural mode.</summary>
/// <param name="RadiansPerSecond">Its complex frequency s, rad/s; the real part is the rate of growth, 1/s.</param>
/// <param name="Grows">
/// Whether the real part is above zero by more than rounding: a mode at zero, as of an integrator, does not grow.
/// </param>
/// <param name="Unknowns">The nodes and inner unknowns that take part, with their share of the mode, the largest first.</param>
public sealed record Mode(Complex RadiansPerSecond, bool Grows, ImmutableArray<(string Name, double Share)> Unknowns)
{
    /// <summary>Damping ratio ζ = −Re s/|s|: 1 without oscillation, 0 undamped, negative where it grows; 1 at s = 0.</summary>
    public double DampingRatio => RadiansPerSecond == 0 ? 1 : -RadiansPerSecond.Real / RadiansPerSecond.Magnitude;

    /// <summary>Frequency that it oscillates at, Hz; zero for none.</summary>
    public double Hertz => Math.Abs(RadiansPerSecond.Imaginary) / (2 * Math.PI);
}

/// <summary>
/// The gain around the feedback loop of an op amp: its return ratio (Bode), the input stage's transconductance held apart.
/// Immutable.
/// </summary>
/// <param name="OpAmp">Name of the op amp.</param>
/// <param name="DirectGain">Loop gain at DC, positive where the feedback is negative.</param>
/// <param name="CrossoverHertz">Frequency at which the magnitude is one, Hz, and of several the one with the least margin; zero where it
/// never is.</param>
/// <param name="PhaseMarginDegrees">180° less the lag at the crossover; infinity where the magnitude stays below one.</param>
public sealed record LoopGain(string OpAmp, double DirectGain, double CrossoverHertz, double PhaseMarginDegrees);

/// <summary>What tells whether a circuit with op amps is stable at its operating point. Immutable.</summary>
/// <param name="Growing">The modes that grow, the fastest first.</param>
/// <param name="Loops">The loop gains of the op amps asked for, in their order; empty where a mode grows.</param>
public sealed record StabilityResult(ImmutableArray<Mode> Growing, ImmutableArray<LoopGain> Loops)
{
    /// <summary>The modes that the loops make and that oscillate with a damping ratio below 1/√2, those that grow too; the slowest to
    /// decay first.</summary>
    public ImmutableArray<Mode> Ringing { get; init; } = [];
}

/// <summary>Where a circuit comes to rest, and whether its first operating point would stay.</summary>
/// <param name="First">The operating point that the equations gave, with the modes of it that grow.</param>
/// <param name="StablePoints">
/// The stable points that it settles to in time: <paramref name="First"/> if that is stable; else those that it leaves for, one
/// or two; none where it does not settle: it oscillates, or runs away.
/// </param>
public sealed record SettledResult(ModesResult First, ImmutableArray<OperatingPoint> StablePoints);
