using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Bias;

/// <summary>The operating point of a front end: what a meter would read.</summary>
/// <param name="Title">Title of the front end.</param>
/// <param name="SensorValue">What each sensor measures, in its own unit.</param>
/// <param name="Point">Node voltages and part readings, with the audit.</param>
/// <param name="Headroom">Distance of each op amp from its limits, in the order of the parts.</param>
public sealed record BiasResult(string Title, ImmutableSortedDictionary<string, double> SensorValue, OperatingPoint Point,
    ImmutableArray<OpAmpHeadroom> Headroom)
{
    /// <summary>The voltage of each node, V: those that a person named first, then the inner nodes of stages ("shift.SUM"); without
    /// ground and what is inside of a closed part.</summary>
    public IReadOnlyDictionary<string, double> NodeVolts { get; init; } = new OrderedDictionary<string, double>(
        Point.Nodes.Where(n => n.Key != Circuit.Ground).OrderBy(n => n.Key.Contains('.')));

    /// <summary>Symbol of the unit in which each sensor measures.</summary>
    public IReadOnlyDictionary<string, string> SensorUnits { get; init; } = ImmutableDictionary<string, string>.Empty;

    /// <summary>Voltage, current and power of each element of the circuit, in the order of the file; a part that is a closed whole
    /// (<see cref="Part.IsClosed"/>) is one, from its first terminal to its second.</summary>
    public IReadOnlyDictionary<string, ElementReading> Parts { get; init; } = Point.Parts;

    /// <summary>Where the currents balance at a point that the circuit does not stay at: how many stable points it settles to in time, the
    /// first of which is shown; 0 where it never settles. Null where it stays.</summary>
    public int? SettlesTo { get; init; }

    /// <summary>The audit of the solution.</summary>
    public Audit Audit => Point.Audit;

    /// <summary>The same with these nodes alone, in this order.</summary>
    /// <exception cref="KeyNotFoundException">The circuit has no such node.</exception>
    public BiasResult Showing(IEnumerable<string> nodes) =>
        this with
        {
            NodeVolts = new OrderedDictionary<string,
            double>(nodes.Distinct().Select(n => KeyValuePair.Create(n, Point.Nodes[n])))
        };
}

/// <summary>
/// Distance of an op amp from the limits of its output swing and its inputs' common mode, smallest over the points looked at.
/// Negative where a limit is passed.
/// </summary>
/// <param name="OpAmp">Name of the part.</param>
/// <param name="SwingVolts">Distance of the output from the nearer swing limit, V, with the rails actually present.</param>
/// <param name="SwingSide">"upper" or "lower"; "slew" where the distance is from what it can move by at its slew rate.</param>
/// <param name="SwingAt">What the sensor measures there, in its own unit.</param>
/// <param name="CommonModeVolts">Distance of the inputs from the nearer common-mode limit, V.</param>
/// <param name="CommonModeSide">"upper" or "lower".</param>
/// <param name="CommonModeAt">What the sensor measures there, in its own unit.</param>
/// <param name="OutputAmps">Largest output current, A, as a magnitude.</param>
/// <param name="OutputLimitAmps">Its limit, A.</param>
public sealed record OpAmpHeadroom(string OpAmp, double SwingVolts, string SwingSide, double SwingAt, double CommonModeVolts,
    string CommonModeSide, double CommonModeAt, double OutputAmps, double OutputLimitAmps)
{
    /// <summary>Symbol of the unit in which the sensor measures.</summary>
    public string SensorUnit { get; init; } = "V";

    /// <summary>The frequency at which a sensor alternates, Hz; null at the operating point.</summary>
    public double? Hertz { get; init; }

    /// <summary>How far the output moves either way at that frequency, V; null at the operating point.</summary>
    public double? PeakVolts { get; init; }

    /// <summary>Whether offset voltages and bias currents are at their limits, as they are on some board.</summary>
    public bool IsWithOffsets { get; init; }

    /// <summary>Whether it comes so near while sources of the circuit itself go on.</summary>
    public bool IsInCourse { get; init; }

    /// <summary>The smaller of the two distances, V.</summary>
    public double Volts => Math.Min(SwingVolts, CommonModeVolts);

    /// <summary>The headroom of each op amp of a front end over points of a sweep.</summary>
    internal static ImmutableArray<OpAmpHeadroom> Over(FrontEnd frontEnd, IReadOnlyList<OperatingPoint> points,
        IReadOnlyList<double> sensorValue) =>
        [.. frontEnd.AllParts.SelectMany(p => p.Amplifiers)
            .Select(a => Over(a.Name, a.Ports, points, sensorValue, Rectifiers(frontEnd, a.Ports.Output)))];

    // What a rectifier lets back through is next to nothing, A.
    private const double BlockedAmps = 1e-6;

    /// <summary>The junctions that are all an output leads to, and its loop is closed by; none where anything else is there. While they
    /// block, as those of a peak hold between peaks, the output stands at a limit because it is meant to.</summary>
    internal static string[] Rectifiers(FrontEnd frontEnd, string output)
    {
        Part[] at = [.. frontEnd.AllParts.Where(p => p.Nodes.Contains(output) && !p.Amplifiers.Any(a => a.Ports.Output == output))];
        return frontEnd.OwnPins.Any(p => p.Node == output) || at.Any(p => p is not DiodePart d
            || d.ToElements().OfType<Diode>().Any(e => IsClamp(frontEnd, e))) ? [] : [.. at.Select(p => p.Name)];
    }

    private static OpAmpHeadroom Over(string name, AmplifierPorts part, IReadOnlyList<OperatingPoint> points,
        IReadOnlyList<double> sensorValue, string[] rectifiers)
    {
        var model = part.Model;
        (double Volts, string Side, double At) swing = (double.PositiveInfinity, "upper", 0), common = swing;
        double amps = 0;
        for (int k = 0; k < points.Count; k++)
        {
            double V(string node) => points[k].Nodes[node];
            double high = V(part.PositiveRail), low = V(part.NegativeRail), output = V(part.Output);
            double upperInput = Math.Max(V(part.Plus), V(part.Minus)), lowerInput = Math.Min(V(part.Plus), V(part.Minus));
            common = Smaller(common, high - model.CommonModeHighVolts - upperInput, "upper", sensorValue[k]);
            common = Smaller(common, lowerInput - low - model.CommonModeLowVolts, "lower", sensorValue[k]);
            amps = Math.Max(amps, Math.Abs(points[k].Parts[name].Amps));
            if (rectifiers.Length > 0 && rectifiers.All(d => Math.Abs(points[k].Parts[d].Amps) < BlockedAmps))
                continue;
            swing = Smaller(swing, high - model.DropHighVolts - output, "upper", sensorValue[k]);
            swing = Smaller(swing, output - low - model.DropLowVolts, "lower", sensorValue[k]);
            // An output that is held back by its load at a limit stands short of it: its inputs ask for more than it has.
            double differs = V(part.Plus) - V(part.Minus) + model.OffsetVolts;
            if (differs > (high - model.DropHighVolts) / model.OpenLoopGain + LostControlVolts)
                swing = Smaller(swing, 0, "upper", sensorValue[k]);
            if (differs < (low + model.DropLowVolts) / model.OpenLoopGain - LostControlVolts)
                swing = Smaller(swing, 0, "lower", sensorValue[k]);
        }
        return new(name, swing.Volts, swing.Side, swing.At, common.Volts, common.Side, common.At, amps, model.OutputLimitAmps);
    }

    /// <summary>The op amps without a junction at their output: one that has one works by leaving its range.</summary>
    internal static IEnumerable<AmplifierElement> Straight(FrontEnd frontEnd)
    {
        Diode[] junctions = [.. frontEnd.AllParts.Where(p => !p.Amplifiers.Any()).SelectMany(p => p.ToElements()).OfType<Diode>()
            .Where(d => !IsClamp(frontEnd, d))];
        return frontEnd.AllParts.SelectMany(p => p.Amplifiers)
            .Where(a => !junctions.Any(d => d.From == a.Ports.Output || d.To == a.Ports.Output));
    }

    /// <summary>
    /// The headroom of the op amps of a front end while its sensors alternate, all at their largest amplitudes, by the linear law about
    /// the points of rest: the others anywhere in their spans. One with a junction at its output works by leaving that law, and is left
    /// out.
    /// </summary>
    internal static IEnumerable<OpAmpHeadroom> Alternating(SolvedFrontEnd solved, CancellationToken cancel)
    {
        var frontEnd = solved.FrontEnd;
        AmplifierElement[] amplifiers = [.. Straight(frontEnd)];
        Sensor[] alternating = amplifiers.Length == 0 ? [] : [.. frontEnd.Sensors.Where(s => s.Alternation is not null)];
        var waves = alternating.Select(s =>
        {
            var wave = s.Alternation!;
            double[] hertz = [.. new[] { 1 - wave.Tolerance, 1, 1 + wave.Tolerance }.Distinct().Select(share => share * wave.Hertz)];
            return (Sensor: s, Hertz: hertz, Moves: solved.Compiled().SolveSmallSignal(s.Name, hertz, cancel));
        }).ToArray();
        OperatingPoint[] rests = waves.Length == 0 ? [] : [solved.Rest(cancel: cancel),
            .. HeadroomStudy.Corners(solved, cancel).Select(at => solved.Rest(at, cancel))];
        foreach (var (sensor, hertz, moves) in waves)
        {
            double Others(string node) => waves.Where(w => w.Sensor != sensor)
                .Sum(w => w.Sensor.Span.High * w.Moves.Response(node).Max(r => r.Magnitude));
            foreach (var (a, rest) in amplifiers.SelectMany(a => rests.Select(r => (a, r))))
            {
                var (part, model) = (a.Ports, a.Ports.Model);
                for (int k = 0; k < hertz.Length; k++)
                {
                    double V(string node) => rest.Nodes[node];
                    double Peak(string node) => node == Circuit.Ground ? 0
                        : sensor.Span.High * moves.Response(node)[k].Magnitude + Others(node);
                    double Above(string node) => V(node) + Peak(node);
                    double Below(string node) => V(node) - Peak(node);
                    double high = V(part.PositiveRail), low = V(part.NegativeRail), peak = Peak(part.Output);
                    (double Volts, string Side, double At) swing = (high - model.DropHighVolts - Above(part.Output), "upper", 0);
                    swing = Smaller(swing, Below(part.Output) - low - model.DropLowVolts, "lower", 0);
                    swing = Smaller(swing, model.SlewVoltsPerSecond / (2 * Math.PI * hertz[k]) - peak, "slew", 0);
                    (double Volts, string Side, double At) common = (high - model.CommonModeHighVolts
                        - Math.Max(Above(part.Plus), Above(part.Minus)), "upper", 0);
                    common = Smaller(common, Math.Min(Below(part.Plus), Below(part.Minus)) - low - model.CommonModeLowVolts, "lower", 0);
                    yield return new(a.Name, swing.Volts, swing.Side, sensor.Span.High, common.Volts, common.Side, sensor.Span.High,
                        Math.Abs(rest.Parts[a.Name].Amps), model.OutputLimitAmps)
                    {
                        SensorUnit = sensor.UnitText,
                        Hertz = hertz[k],
                        PeakVolts = peak,
                    };
                }
            }
        }
    }

    // What leads to a supply or to ground conducts in faults alone.
    private static bool IsClamp(FrontEnd frontEnd, Diode diode) => new[] { diode.From, diode.To }.Any(n =>
        n == Circuit.Ground || frontEnd.Rails.Any(r => r.Name == n));

    // More than a solution may be off in two nodes that an op amp of the highest gain holds nanovolts apart.
    internal const double LostControlVolts = 20e-6;

    private static (double Volts, string Side, double At) Smaller((double Volts, string Side, double At) best,
        double volts, string side, double at) =>
        volts < best.Volts ? (volts, side, at) : best;
}
