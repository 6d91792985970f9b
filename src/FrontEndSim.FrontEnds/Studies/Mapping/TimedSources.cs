using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies.Budget;

namespace FrontEndSim.FrontEnds.Studies.Mapping;

/// <summary>What the sources of error do to a reading that is followed in time: those of a circuit at its operating point, and beside
/// them the tolerances
/// of its capacitors, which matter nowhere else.</summary>
internal sealed class TimedSources
{
    // Up from this share of the largest amplitude what a source does is in proportion to it.
    private const double Far = 0.1;

    // A source that does less than this share of what the largest does is taken to be in proportion.
    private const double Large = 0.05;

    private readonly TimedWave _wave;
    private readonly ErrorSources _sources;
    private readonly ImmutableArray<(string Name, VariedNumber Number, double Tolerance)> _capacitors;
    private readonly ImmutableArray<VariedNumber> _numbers;
    private readonly double[] _nominal, _means;
    private readonly double _celsius;
    private readonly CancellationToken _cancel;

    public TimedSources(TimedWave wave, ErrorSources sources, FrontEnd frontEnd, CancellationToken cancel)
    {
        (_wave, _sources, _celsius, _cancel) = (wave, sources, frontEnd.Celsius, cancel);
        // What a sensor that alternates may be off by is of its amplitude and not of its instants.
        string own = wave.Sensor.Alternation is null ? "" : SensorLaw.OwnError(wave.Sensor.Name);
        Own = sources.All.Select((s, k) => (s, k)).Where(x => x.s.Name == own).Select(x => x.k).DefaultIfEmpty(-1).First();
        _capacitors = Capacitors(frontEnd);
        _numbers = sources.Numbers.AddRange(_capacitors.Select(c => c.Number));
        _nominal = wave.NominalOf(_numbers);
        _means = [.. sources.All.Select(s => s.Distribution.Mean), .. _capacitors.Select(_ => 0.0)];
        Names = [.. sources.All.Select(s => s.Name), .. _capacitors.Select(c => c.Name + " tolerance")];
    }

    /// <summary>Place of what the sensor itself is off by, which is left out; -1 for none.</summary>
    public int Own { get; }

    /// <summary>Their names, those of capacitors last.</summary>
    public ImmutableArray<string> Names { get; }

    /// <summary>Capacitors with a tolerance of their own, or the usual one, and what diodes store.</summary>
    public static ImmutableArray<(string Name, VariedNumber Number, double Tolerance)> Capacitors(FrontEnd frontEnd) =>
    [
        .. frontEnd.WithUsualTolerances().AllParts.Where(p => p.Value is { Unit: var unit } && unit == Unit.Farad)
            .Select(p => (p.Name, new VariedNumber(p.Name, Capacitor.Capacitance), Tolerance: CapacitorPart.Looseness(p)))
            .Where(c => c.Tolerance > 0),
        .. Storing(frontEnd, frontEnd.Sensors.Select(s => s.Alternation?.Hertz ?? 0).DefaultIfEmpty(0).Max())
            .Select(d => (d.Name + " recovery", new VariedNumber(d.Name, Diode.TransitTime), UsualSpread.Recovery.Amount)),
    ];

    // What a diode stores for less than this share of a period shows nowhere.
    private const double StoredShare = 1e-3;

    /// <summary>Diodes that go on conducting backwards, once they have conducted, for a time that tells at a frequency.</summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="hertz">The frequency, Hz.</param>
    internal static IEnumerable<DiodePart> Storing(FrontEnd frontEnd, double hertz) =>
        frontEnd.AllParts.OfType<DiodePart>().Where(d => d.Type.Model.TransitSeconds * hertz > StoredShare);

    /// <summary>Counts with all at their means, then with each at its lower and at its upper limit.</summary>
    /// <param name="value">What is measured, in the sensor's unit.</param>
    public double[] Counts(double value)
    {
        double[][] drawn = [[.. _means], .. Enumerable.Range(0, _means.Length).SelectMany(s => new[] { At(s, -1), At(s, 1) })];
        if (!(Math.Abs(value) > Far * _wave.Span.High))
            return Run(value, drawn);
        // Far from nothing, what a limit of a source does the opposite limit does the other way.
        double[] upper = Run(value, [.. drawn.Where((_, d) => d % 2 == 0)]);
        return [upper[0], .. upper.Skip(1).SelectMany(counts => new[] { 2 * upper[0] - counts, counts })];
    }

    /// <summary>Counts with all at their means, and what each source alone changes of them at its lower limit, half way to it, half way to
    /// its upper limit and at that. Half ways of what changes next to nothing are not looked at.</summary>
    /// <param name="value">What is measured, in the sensor's unit.</param>
    public (double Counts, double[][] Changes) Curves(double value)
    {
        double[] ends = Run(value, [[.. _means], .. Enumerable.Range(0, _means.Length).SelectMany(s => new[] { At(s, -1), At(s, 1) })]);
        double Change(int source, int end) => ends[1 + 2 * source + end] - ends[0];
        double[] most = [.. _means.Select((_, s) => Math.Max(Math.Abs(Change(s, 0)), Math.Abs(Change(s, 1))))];
        int[] large = [.. Enumerable.Range(0, _means.Length).Where(s => most[s] > Large * most.Max())];
        double[] middles = Run(value, [.. large.SelectMany(s => new[] { At(s, -0.5), At(s, 0.5) })]);
        return (ends[0], [.. _means.Select((_, s) => Array.IndexOf(large, s) is >= 0 and var k
            ? [Change(s, 0), middles[2 * k] - ends[0], middles[2 * k + 1] - ends[0], Change(s, 1)]
            : new[] { Change(s, 0), 0.5 * Change(s, 0), 0.5 * Change(s, 1), Change(s, 1) })]);
    }

    // All at their means but for one, which stands so far towards its upper limit (1) or its lower (-1).
    private double[] At(int source, double share)
    {
        double[] drawn = [.. _means];
        if (source != Own)
            drawn[source] += Math.Abs(share) * (Limit(source, share > 0) - drawn[source]);
        return drawn;
    }

    /// <summary>Counts with all sources at the limits that alone raise them, then at those that lower them.</summary>
    /// <param name="value">What is measured, in the sensor's unit.</param>
    /// <param name="alone">A result of each draw of <see cref="Counts"/>.</param>
    public double[] Corners(double value, double[] alone) => Run(value, [.. new[] { true, false }.Select(upwards =>
        _means.Select((mean, s) => ErrorSources.Furthest(s, upwards, draw => alone[draw]) is { } high ? Limit(s, high) : mean).ToArray())]);

    private double[] Run(double value, double[][] drawn) => _wave.Counts(value, _numbers, [.. drawn.Select(Set)], _cancel);

    private double[] Set(double[] each)
    {
        double[] set = [.. _nominal];
        _sources.SetAll(each.AsSpan(0, _sources.All.Length), _celsius, set);
        for (int c = 0; c < _capacitors.Length; c++)
            set[_sources.Numbers.Length + c] *= 1 + each[_sources.All.Length + c];
        return set;
    }

    private double Limit(int source, bool high) => source < _sources.All.Length
        ? high ? _sources.All[source].Distribution.High : _sources.All[source].Distribution.Low
        : (high ? 1 : -1) * _capacitors[source - _sources.All.Length].Tolerance;
}
