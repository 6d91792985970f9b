using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.FrontEnds.Disturbances;

/// <summary>
/// A surge wave named by its front and half-value times in microseconds, as a difference of two exponentials.
/// Front time is 1.67 times that from 30 % to 90 % of the peak, half-value time runs from the virtual start of the front to
/// half the peak on the tail (IEC 60060-1, IEC 61000-4-5; definitions from memory).
/// </summary>
/// <param name="Name">"1.2/50", as a circuit file writes it.</param>
/// <param name="RiseConstant">Time constant of the rise, s.</param>
/// <param name="FallConstant">Time constant of the fall, s.</param>
/// <param name="HalfValueSeconds">Half-value time, s.</param>
/// <param name="Source">The standard that the wave is from.</param>
public sealed record SurgeShape(string Name, double RiseConstant, double FallConstant, double HalfValueSeconds, string Source)
{
    // The constants solve the two definitions for the named times; a test measures them on the wave.
    /// <summary>The shapes known.</summary>
    public static ImmutableArray<SurgeShape> Known { get; } =
    [
        new("1.2/50", 4.050343e-7, 6.821697e-5, 50e-6, "IEC 61000-4-5, open-circuit voltage; from memory"),
        new("10/700", 3.272151e-6, 9.754897e-4, 700e-6, "IEC 61000-4-5, outdoor signal lines; from memory"),
    ];

    /// <summary>The shape of that name, or null.</summary>
    public static SurgeShape? Find(string name) => Known.FirstOrDefault(s => s.Name == name);
}

/// <summary>
/// A surge generator whose open-circuit voltage has a standard shape, behind its resistance (2 ohm for the generator alone,
/// 12 ohm to ground, 42 ohm on signal lines in IEC 61000-4-5; from memory). The generator stays connected afterwards.
/// Its current into a short has the shape of the voltage here; that of the 2 ohm generator proper is 8/20.
/// </summary>
public sealed record Surge : Disturbance
{
    /// <summary>A surge.</summary>
    /// <param name="shape">Shape of the open-circuit voltage.</param>
    /// <param name="peakVolts">Peak of the open-circuit voltage, V, of either sign.</param>
    /// <param name="sourceOhms">Generator and coupling resistance, ohm, above zero.</param>
    /// <param name="startSeconds">When it strikes, s, above zero.</param>
    /// <exception cref="ArgumentException">A number is outside its range; the message says which.</exception>
    public Surge(SurgeShape shape, double peakVolts, double sourceOhms, double startSeconds = 10e-6)
    {
        Shape = shape;
        PeakVolts = NotZero("The peak of a surge", peakVolts);
        SourceOhms = Positive("The source resistance of a surge", sourceOhms, "ohm");
        StartSeconds = Positive("The start of a surge", startSeconds, "s");
    }

    /// <summary>Shape of the open-circuit voltage.</summary>
    public SurgeShape Shape { get; }

    /// <summary>Peak of the open-circuit voltage, V.</summary>
    public double PeakVolts { get; }

    /// <summary>Generator and coupling resistance, ohm.</summary>
    public double SourceOhms { get; }

    /// <summary>When it strikes, s.</summary>
    public double StartSeconds { get; }

    /// <inheritdoc/>
    public override FormattableString Words => $"surge {Shape.Name} with a peak of {V(PeakVolts)} behind {Ohm(SourceOhms)}";

    // Twenty half-value times bring the open-circuit voltage below a millionth of its peak.
    /// <inheritdoc/>
    public override double SuggestedSeconds => StartSeconds + 20 * Shape.HalfValueSeconds;

    /// <inheritdoc/>
    public override double? DriveVolts => PeakVolts;

    /// <inheritdoc/>
    public override Disturbance Scaled(double factor) => new Surge(Shape, factor * PeakVolts, SourceOhms, StartSeconds);

    /// <inheritdoc/>
    public override ImmutableArray<string> Cautions => GeneratorCautions;

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements(string name, string node, bool isRail = false) =>
    [
        new VoltageSource(name, node, Circuit.Ground, new DoubleExponential(PeakVolts, Shape.RiseConstant, Shape.FallConstant, StartSeconds))
        {
            SeriesOhms = SourceOhms, Connected = new Step(0, 1, StartSeconds),
        },
    ];
}
