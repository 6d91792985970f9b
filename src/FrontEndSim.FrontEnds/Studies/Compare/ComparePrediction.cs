using FrontEndSim.Engine;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Build;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Compare;

/// <summary>Predicts readings, with one number of the circuit changed. A meter loads the node that it measures, and no other.</summary>
internal sealed class ComparePrediction
{
    private readonly Group[] _groups;
    private readonly string _sensor;
    private readonly CancellationToken _cancel;

    private sealed record Group(string Node, Pin? Pin, CompiledCircuit Circuit, double[] Volts, (int Reading, int Point)[] Places);

    public ComparePrediction(SolvedFrontEnd solved, string sensor, IReadOnlyList<Reading> readings,
        BenchMeter meter, CancellationToken cancel)
    {
        (_sensor, _cancel) = (sensor, cancel);
        Count = readings.Count;
        var frontEnd = solved.FrontEnd;
        _groups =
        [
            .. readings.Select((r, k) => (Reading: r, Index: k)).GroupBy(r => (r.Reading.Node, r.Reading.Pin)).Select(g =>
            {
                double[] volts = [.. g.Select(r => r.Reading.SensorValue).Distinct().Order()];
                var pin = g.Key.Pin is { } name ? frontEnd.FindPin(name) : null;
                bool loads = pin is null && frontEnd.Rails.All(r => r.Name != g.Key.Node);
                var circuit = loads ? solved.Compiled(added: meter.At(g.Key.Node)) : solved.Compiled();
                return new Group(g.Key.Node, pin, circuit, volts,
                    [.. g.Select(r => (r.Index, Array.IndexOf(volts, r.Reading.SensorValue)))]);
            }),
        ];
    }

    private int Count { get; }

    /// <summary>The readings, volts or counts (without rounding), by draw.</summary>
    public double[][] Of(IReadOnlyList<VariedNumber> numbers, int draws, TrialNumbers set)
    {
        double[][] predicted = [.. Enumerable.Range(0, draws).Select(_ => new double[Count])];
        foreach (var group in _groups)
        {
            string[] nodes = [.. (group.Pin?.Converter?.References ?? []).Prepend(group.Node).Distinct()];
            var solved = group.Circuit.SweepTrials(_sensor, group.Volts, numbers, draws, set, nodes, cancel: _cancel);
            for (int draw = 0; draw < draws; draw++)
            {
                foreach (var (reading, point) in group.Places)
                {
                    double volts = solved.Voltage(draw, group.Node)[point];
                    if (group.Pin?.Converter is { } converter)
                    {
                        int d = draw;
                        // A code stands for the middle of its step.
                        volts = Math.Clamp(converter.Counts(volts, rail => solved.Voltage(d, rail)[point]) - 0.5, 0, converter.Codes - 1);
                    }
                    predicted[draw][reading] = volts;
                }
            }
        }
        return predicted;
    }
}
