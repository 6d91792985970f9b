using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.FrontEnds.Disturbances;

/// <summary>
/// An electrostatic discharge by contact, IEC 61000-4-2: the standard's current, which its 2 ohm target sees, behind the
/// 330 ohm of the discharge network. The current is the closed form of the standard's annex, a sum of two Heidler impulses.
/// The network lets go 1 µs after it struck. All numbers from memory.
/// </summary>
public sealed record Discharge : Disturbance
{
    /// <summary>The discharge resistor, ohm.</summary>
    public const double NetworkOhms = 330;

    /// <summary>The target that the current is calibrated into, ohm.</summary>
    public const double TargetOhms = 2;

    /// <summary>The test levels 1 to 4, V.</summary>
    public static ImmutableArray<double> Levels { get; } = [2e3, 4e3, 6e3, 8e3];

    // The annex states the terms for 4 kV; the current is proportional to the voltage.
    private const double TermsVolts = 4e3;
    private const double ConnectedSeconds = 1e-6;
    private static readonly ImmutableArray<HeidlerTerm> Terms = [new(16.6, 1.1e-9, 2e-9, 1.8), new(9.3, 12e-9, 37e-9, 1.8)];

    /// <summary>A discharge.</summary>
    /// <param name="volts">Charging voltage, V, of either sign.</param>
    /// <param name="startSeconds">When it strikes, s, above zero.</param>
    /// <exception cref="ArgumentException">A number is outside its range; the message says which.</exception>
    public Discharge(double volts, double startSeconds = 1e-6)
    {
        Volts = NotZero("The charging voltage of a discharge", volts);
        StartSeconds = Positive("The start of a discharge", startSeconds, "s");
    }

    /// <summary>Charging voltage, V.</summary>
    public double Volts { get; }

    /// <summary>When it strikes, s.</summary>
    public double StartSeconds { get; }

    /// <inheritdoc/>
    public override FormattableString Words => $"contact discharge of {V(Volts)} (IEC 61000-4-2)";

    // A hundred microseconds show what the stages behind a guard make of the charge left in its capacitor.
    /// <inheritdoc/>
    public override double SuggestedSeconds => StartSeconds + 100e-6;

    /// <inheritdoc/>
    public override double? DriveVolts => Volts;

    /// <inheritdoc/>
    public override Disturbance Scaled(double factor) => new Discharge(factor * Volts, StartSeconds);

    /// <inheritdoc/>
    public override ImmutableArray<string> Cautions => GeneratorCautions;

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements(string name, string node, bool isRail = false)
    {
        double ohms = NetworkOhms + TargetOhms;
        var volts = new Heidler([.. Terms.Select(t => t with { Amplitude = t.Amplitude * Volts / TermsVolts * ohms })], StartSeconds);
        return
        [
            new VoltageSource(name, node, Circuit.Ground, volts)
            {
                SeriesOhms = NetworkOhms, Connected = new Pulse(0, 1, StartSeconds, 0, ConnectedSeconds, 0),
            },
        ];
    }
}
