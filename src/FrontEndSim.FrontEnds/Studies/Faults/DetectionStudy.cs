using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies.Budget;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Faults;

/// <summary>
/// Breaks one thing at a time and holds the code that is read, with all tolerances together, against the codes that a whole board may read.
/// A fault is told from a valid reading where no code that it may bring is one of those.
/// </summary>
public static class DetectionStudy
{
    // Places over the span at which a broken front end is looked at.
    private const int Places = 5;

    // What moves the code by this share of all codes, by leaking one way or the other, is held by nothing.
    private const double FloatingShare = 0.5;

    /// <summary>Runs it at the temperature of the front end.</summary>
    /// <param name="solved">The front end, whole.</param>
    /// <param name="scope">Which faults.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="SolveException">No solution was found for the whole circuit.</exception>
    public static Detection Run(SolvedFrontEnd solved, DetectionScope scope, CancellationToken cancel = default)
    {
        var frontEnd = solved.FrontEnd;
        var read = MappingStudy.Mapped(frontEnd).Where(p => p.Converter is not null)
            .Select(p => solved.MappingOf(p, cancel)).OfType<MappingResult>()
            .Where(m => m is { Back: not null, Reading: not null }).ToArray();
        ImmutableArray<ValidBand> bands = [.. read.Select(m => solved.Band(m, cancel))];
        // Pins behind a multiplexer are read one after the other.
        var jobs = read.GroupBy(m => (m.Sensor, frontEnd.FindPin(m.Pin).Channel)).SelectMany(group =>
        {
            var sensor = frontEnd.FindSensor(group.Key.Sensor);
            return Faults(frontEnd, sensor, group, scope).Select(fault => (fault, sensor, Mappings: group.ToArray()));
        }).ToArray();
        var rows = new DetectionRow[jobs.Length];
        OnAllCores.For(jobs.Length, cancel, k =>
            rows[k] = Row(solved, jobs[k].fault, jobs[k].sensor, jobs[k].Mappings, bands, cancel));
        return new(bands, [.. rows]);
    }

    private static IEnumerable<SingleFault> Faults(FrontEnd frontEnd, Sensor sensor,
        IEnumerable<MappingResult> mappings, DetectionScope scope)
    {
        if (scope == DetectionScope.Alarms)
            return SingleFault.OfSensor(frontEnd, sensor).Where(f => f.Mode is FaultMode.AlarmLow or FaultMode.AlarmHigh);
        if (scope == DetectionScope.Sensors)
            return SingleFault.OfSensor(frontEnd, sensor);
        // Without its own supply or reference a converter says nothing at all, and the firmware does not run.
        var own = mappings.Select(m => frontEnd.FindPin(m.Pin)).SelectMany(p => p.Converter!.References.Append(p.ClampRail ?? ""))
            .ToHashSet();
        return SingleFault.Of(frontEnd).Where(f => f.Mode is not (FaultMode.RailLost or FaultMode.RailOpen) || !own.Contains(f.Subject));
    }

    /// <summary>The codes that are valid readings of a pin.</summary>
    internal static ValidBand BandOf(SolvedFrontEnd solved, MappingResult mapping, CancellationToken cancel)
    {
        var frontEnd = solved.FrontEnd;
        var (pin, sensor) = (frontEnd.FindPin(mapping.Pin), frontEnd.FindSensor(mapping.Sensor));
        var measuring = sensor.MeasuringSpan;
        double[] values = SweepStudy.Grid(measuring.Low, measuring.High, Places);
        // Firmware has one set of limits for all temperatures.
        var codes = solved.Temperatures().SelectMany(t => Codes(t, sensor, [pin], values, cancel)[0]).ToArray();
        double tolerated = frontEnd.Requirements.Min(r => r.Tolerated(frontEnd, pin.Name))
            ?? solved.Spread(mapping, cancel: cancel)?.Largest ?? 0;
        return new(pin.Name, sensor.Name, codes.Min(c => c.Low), codes.Max(c => c.High), pin.Converter!.Codes - 1, tolerated)
        {
            Measuring = measuring,
            SensorUnit = sensor.UnitText,
        };
    }

    private static DetectionRow Row(SolvedFrontEnd whole, SingleFault fault, Sensor sensor, MappingResult[] mappings,
        ImmutableArray<ValidBand> bands, CancellationToken cancel)
    {
        double[] values = SweepStudy.Grid(sensor.Span.Low, sensor.Span.High, Places);
        Pin[] pins = [.. mappings.Select(m => whole.FrontEnd.FindPin(m.Pin))];
        (double Low, double High, double Counts)[][] codes;
        bool[] floats;
        try
        {
            var selecting = whole.FrontEnd.Selecting(pins[0]);
            var broken = fault.In(selecting);
            codes = broken.ToCircuit().Problems is [var problem, ..] ? throw new CircuitException([problem])
                : Codes(whole.Broken(fault, broken, cancel), sensor, pins, values, cancel);
            var leaking = fault.Leaking(selecting)
                .Select(f => Codes(new SolvedFrontEnd(f), sensor, pins, values, cancel)).ToArray();
            floats = [.. pins.Select((p, k) => values.Select((_, i) => leaking.Select(c => c[k][i].Counts).ToArray()).Any(c =>
                c.Length > 0 && c.Max() - c.Min() > FloatingShare * p.Converter!.Codes))];
            codes = [.. codes.Select((of, k) => of.Select((c, i) => (leaking.Select(l => l[k][i].Low).Append(c.Low).Min(),
                leaking.Select(l => l[k][i].High).Append(c.High).Max(), c.Counts)).ToArray())];
        }
        catch (Exception e) when (e is SolveException or CircuitException)
        {
            return new(fault, sensor.Name, FaultSight.NotKnown, []) { Problem = new(null, Problem.Of(e)) };
        }
        double celsius = whole.FrontEnd.Celsius;
        ImmutableArray<FaultCodes> found = [.. pins.Select((p, k) => new FaultCodes(p.Name,
            [.. values.Select((v, i) => new FaultCode(v, codes[k][i].Low, codes[k][i].High, mappings[k]
                .Back!.Value(codes[k][i].Counts, celsius)))]) { Floats = floats[k] })];
        double?[] shows = [.. values.Select((_, i) => found.Max(f => Beyond(bands.First(b => b.Pin == f.Pin), f.At[i])))];
        bool[] right = [.. values.Select((v, i) => found.Select((f, k) => (f.Pin, Back: mappings[k].Back!, At: f.At[i])).All(f =>
            Off(f.Back, f.At, celsius) <= bands.First(b => b.Pin == f.Pin).Tolerated * (1 + 1e-6)))];
        var sight = right.All(r => r) ? FaultSight.Harmless
            : shows.Zip(right).All(x => x.First is not null || x.Second) ? FaultSight.Detected
            : shows.Any(s => s is not null) ? FaultSight.AtTimes : FaultSight.Hidden;
        return new(fault, sensor.Name, sight, found) { MarginCounts = shows.Min() };
    }

    /// <summary>How far all codes lie from the valid ones, counts; null where one of them is valid.</summary>
    private static double? Beyond(ValidBand band, FaultCode code) => code.HighCode < band.LowCode ? band.LowCode - code.HighCode
        : code.LowCode > band.HighCode ? code.LowCode - band.HighCode : null;

    // A code stands for the middle of its step; what tells two codes apart by half a step is the converter's.
    private static double Off(ReadBack back, FaultCode code, double celsius) => new[] { code.LowCode, code.HighCode }.Max(c =>
        Math.Max(0, Math.Abs(back.Value(c + 0.5, celsius) - code.SensorValue) - 0.5 * back.Step(c + 0.5, celsius)));

    /// <summary>The lowest and the highest code of each pin at each place with all tolerances together, and the counts of nominal
    /// parts.</summary>
    private static (double Low, double High, double Counts)[][] Codes(SolvedFrontEnd solved, Sensor sensor, Pin[] pins, double[] values,
        CancellationToken cancel)
    {
        var frontEnd = solved.FrontEnd;
        var sources = new ErrorSources(frontEnd);
        string[] nodes = [.. pins.SelectMany(p => p.Converter!.References.Append(p.Node)).Distinct()];
        var trials = solved.Compiled().PrepareTrials(sensor.Name, values, sources.Numbers, nodes, solved.Beside(cancel), cancel);
        double[][][] Draw(int draws, TrialNumbers set)
        {
            var drawn = trials.Run(draws, set, cancel: cancel);
            return [.. pins.Select(p => Enumerable.Range(0, draws).Select(d => values.Select((_, i) =>
                p.Converter!.Counts(drawn.Voltage(d, p.Node)[i], n => drawn.Voltage(d, n)[i])).ToArray()).ToArray())];
        }
        double[][][] alone = Draw(sources.DrawsOfEachAlone, sources.SetEachAlone);
        // What each source does alone tells which end of it moves a code furthest, either way; of both ends together that is drawn.
        double[][] corners = [.. from p in Enumerable.Range(0, pins.Length)
                                 from i in Enumerable.Range(0, values.Length)
                                 from upwards in new[] { false, true }
                                 select sources.Corner(upwards, draw => alone[p][draw][i])];
        double[][][] together = Draw(corners.Length, (draw, numbers) => sources.SetAll(corners[draw], frontEnd.Celsius, numbers));
        return
        [
            .. pins.Select((pin, p) => values.Select((_, i) =>
            {
                int first = 2 * (p * values.Length + i);
                var converter = pin.Converter!;
                double nominal = alone[p][0][i], low = Math.Min(nominal, together[p][first][i]),
                    high = Math.Max(nominal, together[p][first + 1][i]);
                double own = converter.OwnErrorCounts(nominal);
                return (converter.Code(low - own), converter.Code(high + own), nominal);
            }).ToArray()),
        ];
    }
}
