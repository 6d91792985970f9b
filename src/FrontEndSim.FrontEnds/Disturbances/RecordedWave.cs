using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Waveforms;

namespace FrontEndSim.FrontEnds.Disturbances;

/// <summary>
/// A voltage that follows a course of its own behind a resistance, such as an oscilloscope recorded. What drives the node gives way to it
/// where the node is a rail; elsewhere it is put on the node beside the source.
/// </summary>
public sealed record RecordedWave : Disturbance
{
    /// <summary>A recorded wave.</summary>
    /// <param name="title">What it is called, such as the file's name.</param>
    /// <param name="points">Time from the start of the wave, s, rising, and volts: two at least.</param>
    /// <param name="sourceOhms">Source resistance, ohm, above zero.</param>
    /// <param name="startSeconds">When it begins, s, above zero.</param>
    /// <exception cref="ArgumentException">A number is outside its range; the message says which.</exception>
    public RecordedWave(string title, ImmutableArray<(double Seconds, double Volts)> points, double sourceOhms, double startSeconds = 1e-3)
    {
        Title = title;
        if (points.Length < 2)
            throw new ArgumentException("A recorded wave needs two points at least.");
        for (int k = 0; k < points.Length; k++)
        {
            if (!double.IsFinite(points[k].Seconds) || !double.IsFinite(points[k].Volts))
                throw new ArgumentException($"Point {k + 1} of a recorded wave is not a number.");
            if (k > 0 && points[k].Seconds <= points[k - 1].Seconds)
                throw new ArgumentException($"The times of a recorded wave must rise, but those of points {k} and {k + 1} do not.");
        }
        // An oscilloscope counts from its trigger: the wave begins with its first point.
        Points = [.. points.Select(p => (p.Seconds - points[0].Seconds, p.Volts))];
        SourceOhms = Positive("The source resistance of a recorded wave", sourceOhms, "ohm");
        StartSeconds = Positive("The start of a recorded wave", startSeconds, "s");
        _wave = new PiecewiseLinear([.. Points.Select(p => (startSeconds + p.Seconds, p.Volts))]);
    }

    // Made once, so that a circuit with it in is the same circuit again.
    private readonly PiecewiseLinear _wave;

    /// <summary>What it is called.</summary>
    public string Title { get; }

    /// <summary>Time from its start, s, and volts.</summary>
    public ImmutableArray<(double Seconds, double Volts)> Points { get; }

    /// <summary>Source resistance, ohm.</summary>
    public double SourceOhms { get; }

    /// <summary>When it begins, s.</summary>
    public double StartSeconds { get; }

    /// <inheritdoc/>
    public bool Equals(RecordedWave? other) => other is not null && Title == other.Title && Points.SequenceEqual(other.Points)
        && SourceOhms == other.SourceOhms && StartSeconds == other.StartSeconds;

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Title, Points.Length, SourceOhms, StartSeconds);

    /// <inheritdoc/>
    public override FormattableString Words => $"recorded wave {Title} of {S(Points[^1].Seconds)} behind {Ohm(SourceOhms)}";

    /// <inheritdoc/>
    public override double SuggestedSeconds => StartSeconds + 1.5 * Points[^1].Seconds;

    /// <inheritdoc/>
    public override double? DriveVolts => Points.MaxBy(p => Math.Abs(p.Volts)).Volts;

    /// <inheritdoc/>
    public override Disturbance Scaled(double factor) =>
        new RecordedWave(Title, [.. Points.Select(p => (p.Seconds, factor * p.Volts))], SourceOhms, StartSeconds);

    /// <inheritdoc/>
    public override SourceEffect OnSource(bool isRail) => isRail ? SourceEffect.Replaces : SourceEffect.None;

    /// <inheritdoc/>
    public override IEnumerable<Element> Disturb(IReadOnlyList<Element> undisturbed, string name, string node, Func<string, bool> isRail) =>
        isRail(node)
        ? [.. Sources.ConnectedUntil(undisturbed, node, Text, StartSeconds, Points[^1].Seconds), .. ToElements(name, node)]
        : base.Disturb(undisturbed, name, node, isRail);

    /// <inheritdoc/>
    public override IEnumerable<Element> ToElements(string name, string node, bool isRail = false) =>
    [
        new VoltageSource(name, node, Circuit.Ground, _wave)
        {
            SeriesOhms = SourceOhms, Connected = new Pulse(0, 1, StartSeconds, 0, Points[^1].Seconds, 0),
        },
    ];
}
