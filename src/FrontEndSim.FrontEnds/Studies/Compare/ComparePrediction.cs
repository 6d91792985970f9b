using FrontEndSim.Engine;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Build;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Compare;

/// <summary>
/// Predicts readings, with one number of the circuit changed. A meter loads the node that it measures, and no other. Firmware stays that of
/// the circuit as designed, whatever is changed.
/// </summary>
internal sealed class ComparePrediction
{
    private readonly ReadTogether[] _groups;
    private readonly int _count;
    private readonly CancellationToken _cancel;

    /// <summary>A meter at a node.</summary>
    private sealed record Metered(double[] Values, (int Reading, int Point)[] Places, string Sensor, string Node, CompiledCircuit Circuit,
        BenchMeter Meter) : ReadTogether(Values, Places)
    {
        public override double[][] Of(IReadOnlyList<VariedNumber> numbers, int draws, TrialNumbers set, CancellationToken cancel)
        {
            var solved = Circuit.SweepTrials(Sensor, Values, numbers, draws, set, [Node], cancel: cancel);
            return [.. Enumerable.Range(0, draws).Select(d => solved.Voltage(d, Node).ToArray())];
        }

        public override (double Step, double Error) Uncertainty(int point, double nominal, CancellationToken cancel) =>
            (Math.Max(1e-9, Meter.ErrorVolts(nominal)), Meter.ErrorVolts(nominal));
    }

    /// <summary>Codes of a pin.</summary>
    private sealed record Coded(double[] Values, (int Reading, int Point)[] Places, string Sensor, PinAtRest Pin)
        : ReadTogether(Values, Places)
    {
        // A code stands for the middle of its step.
        public override double[][] Of(IReadOnlyList<VariedNumber> numbers, int draws, TrialNumbers set, CancellationToken cancel) =>
            [.. Pin.Counts(Sensor, Values, numbers, draws, set, cancel)
                .Select(c => c.Select(x => Math.Clamp(x - 0.5, 0, Pin.Converter.Codes - 1)).ToArray())];

        public override (double Step, double Error) Uncertainty(int point, double nominal, CancellationToken cancel) =>
            (1, 1 + Pin.Converter.OwnErrorCounts(nominal));
    }

    /// <summary>What firmware computes from several pins.</summary>
    private sealed record Combined(double[] Values, (int Reading, int Point)[] Places, string Sensor, ImmutableArray<PinAtRest> Pins,
        CombinedBack Back, double[] Warmer) : ReadTogether(Values, Places)
    {
        private double[] Codes { get; } = [.. Pins.Select(p => (double)p.Converter.Codes)];

        public override double[][] Of(IReadOnlyList<VariedNumber> numbers, int draws, TrialNumbers set, CancellationToken cancel)
        {
            double[][][] counts = [.. Pins.Select(p => p.Counts(Sensor, Values, numbers, draws, set, cancel))];
            return [.. Enumerable.Range(0, draws).Select(d => Values.Select((_, k) =>
                Back.Value([.. counts.Select(c => c[d][k])], Codes) + Warmer[k]).ToArray())];
        }

        public override (double Step, double Error) Uncertainty(int point, double nominal, CancellationToken cancel)
        {
            double[] counts = [.. Pins.Select(p => p.Counts(Sensor, Values, [], 1, (_, _) => { }, cancel)[0][point])];
            double[] steps = [.. Pins.Select((_, k) => Back.Step(counts, Codes, k))];
            return (steps.Sum(), steps.Select((step, k) => step * (1 + Pins[k].Converter.OwnErrorCounts(counts[k]))).Sum());
        }
    }

    /// <summary>A pin, in the circuit in which it is read.</summary>
    private sealed record PinAtRest(Pin Pin, Converter Converter, CompiledCircuit Circuit)
    {
        /// <summary>Counts without rounding, by draw and value.</summary>
        public double[][] Counts(string sensor, double[] values, IReadOnlyList<VariedNumber> numbers, int draws, TrialNumbers set,
            CancellationToken cancel)
        {
            string[] nodes = [.. Converter.References.Prepend(Pin.Node).Distinct()];
            var solved = Circuit.SweepTrials(sensor, values, numbers, draws, set, nodes, cancel: cancel);
            return [.. Enumerable.Range(0, draws).Select(d => values.Select((_, k) =>
                Converter.Counts(solved.Voltage(d, Pin.Node)[k], rail => solved.Voltage(d, rail)[k])).ToArray())];
        }
    }

    /// <summary>The prediction for a circuit.</summary>
    /// <param name="solved">The circuit, which may have a fault.</param>
    /// <param name="designed">The circuit as designed, which firmware is made for.</param>
    /// <param name="sensor">Name of the sensor that is set where a reading names none.</param>
    /// <param name="readings">The readings.</param>
    /// <param name="meter">The meter.</param>
    /// <param name="cancel">Stops the solver.</param>
    public ComparePrediction(SolvedFrontEnd solved, SolvedFrontEnd designed, string sensor, IReadOnlyList<Reading> readings,
        BenchMeter meter, CancellationToken cancel)
    {
        (_count, _cancel) = (readings.Count, cancel);
        _groups =
        [
            .. readings.Select((r, k) => (Reading: r, Index: k)).GroupBy(r => (Sensor: r.Reading.Sensor ?? sensor, r.Reading.Celsius))
                .SelectMany(g => Groups(At(solved, g.Key.Celsius).ReadingOf(g.Key.Sensor), At(designed, g.Key.Celsius), g.Key.Sensor,
                    [.. g], meter, cancel)),
        ];
    }

    private static SolvedFrontEnd At(SolvedFrontEnd solved, double? celsius) => celsius is { } said ? solved.AtCelsius(said) : solved;

    /// <summary>Readings with one sensor set at one temperature of the circuit, by the place where they were taken.</summary>
    private static IEnumerable<ReadTogether> Groups(SolvedFrontEnd solved, SolvedFrontEnd designed, string sensor,
        (Reading Reading, int Index)[] readings, BenchMeter meter, CancellationToken cancel)
    {
        var frontEnd = solved.FrontEnd;
        var standing = CombinedStudy.Standing(solved, sensor);
        return
        [
            .. readings.GroupBy(r => (r.Reading.Node, r.Reading.Pin, r.Reading.Computed)).Select(g =>
            {
                double[] values = [.. g.Select(r => r.Reading.SensorValue).Distinct().Order()];
                (int, int)[] places = [.. g.Select(r => (r.Index, Array.IndexOf(values, r.Reading.SensorValue)))];
                if (g.Key.Computed is { } periods && frontEnd.AlternatingReadings.Any(r => r.Name == periods))
                    return ReadOverPeriods.Of(values, places, solved, designed, frontEnd.FindAlternatingReading(periods), cancel);
                if (g.Key.Computed is { } name)
                {
                    var combined = frontEnd.FindReading(name);
                    var measured = frontEnd.FindSensor(sensor);
                    double[] warmer = [.. values.Select(v => measured.SelfHeating(designed.Rest(
                        standing with { SensorValue = standing.SensorValue.SetItem(sensor, v) }, cancel).Parts[sensor].Watts))];
                    return new Combined(values, places, sensor, [.. combined.Pins.Select(p => AtRest(p))],
                        designed.Back(designed.FrontEnd.FindReading(name), cancel), warmer);
                }
                if (g.Key.Pin is { } pin)
                    return new Coded(values, places, sensor, AtRest(pin));
                bool loads = frontEnd.Rails.All(r => r.Name != g.Key.Node);
                return (ReadTogether)new Metered(values, places, sensor, g.Key.Node,
                    loads ? solved.Compiled(standing, meter.At(g.Key.Node)) : solved.Compiled(standing), meter);
            }),
        ];

        PinAtRest AtRest(string name)
        {
            var pin = frontEnd.FindPin(name);
            return new(pin, pin.Converter!, solved.Reading(name).Compiled(standing));
        }
    }

    /// <summary>Whether a prediction takes runs in time.</summary>
    public bool RunsInTime => _groups.Any(g => g.RunsInTime);

    /// <summary>The readings, volts, counts (without rounding) or in the sensor's unit, by draw.</summary>
    public double[][] Of(IReadOnlyList<VariedNumber> numbers, int draws, TrialNumbers set)
    {
        double[][] predicted = [.. Enumerable.Range(0, draws).Select(_ => new double[_count])];
        foreach (var group in _groups)
        {
            double[][] read = group.Of(numbers, draws, set, _cancel);
            for (int draw = 0; draw < draws; draw++)
            {
                foreach (var (reading, point) in group.Places)
                    predicted[draw][reading] = read[draw][point];
            }
        }
        return predicted;
    }

    /// <summary>By reading: what one step of its instrument is, which differences are weighed by, and how far off it may read.</summary>
    /// <param name="nominal">The readings of the circuit as designed.</param>
    public (double Step, double Error)[] Uncertainties(double[] nominal)
    {
        var found = new (double, double)[_count];
        foreach (var group in _groups)
        {
            foreach (var (reading, point) in group.Places)
                found[reading] = group.Uncertainty(point, nominal[reading], _cancel);
        }
        return found;
    }
}
