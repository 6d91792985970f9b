using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Design;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Explain;

/// <summary>Puts the simulation beside the hand calculation of a stage with a closed form, and finds out what makes them differ.</summary>
internal sealed class StageExplainer
{
    // A step of the hand math stands for a simulated quantity if its result is that of the closed form.
    private const double SameResult = 1e-9;

    // A difference below a millionth, or a microvolt, needs no reason; a cause of less than a tenth of a difference is none to speak of.
    private const double Agreeing = 1e-6, Telling = 0.1;

    private const int MostTold = 3;

    private readonly SolvedFrontEnd _solved;
    private readonly Stage _stage;
    private readonly LinearExpectation _ideal;
    private readonly Sensor _sensor;
    private readonly CancellationToken _cancel;
    private readonly string _output;
    private readonly bool _fromSensor;
    private readonly string? _against;
    private readonly double[] _grid;
    private readonly StageMeasurement _measurement;
    private readonly ImmutableArray<StageLine> _lines;
    private readonly (RealThing Thing, SolvedFrontEnd Changed, ImmutableArray<StageLine> Lines)[] _trials;
    private readonly (RealThing Thing, SolvedFrontEnd Changed)? _held;
    private double? _corner;

    public StageExplainer(SolvedFrontEnd solved, Stage stage, LinearExpectation ideal, Sensor sensor, CancellationToken cancel)
    {
        (_solved, _stage, _ideal, _sensor, _cancel) = (solved, stage, ideal, sensor, cancel);
        var frontEnd = solved.FrontEnd;
        _output = stage.Ports[^1].Node;
        // The closed form starts ahead of the source resistance that the stage was designed for.
        _fromSensor = stage.Mapping?.Sensor == sensor.Name && sensor.Node == stage.Ports[0].Node;
        // A stage that subtracts a node answers to the difference, of which a bridge moves both ends.
        _against = stage.Ports.FirstOrDefault(p => p.Role == "against")?.Node is { } other && other != Circuit.Ground
            && frontEnd.Rails.All(r => r.Name != other) ? other : null;
        _grid = RoundValues.In(sensor.Span);
        _measurement = new StageMeasurement(stage, sensor, _fromSensor, cancel);
        _lines = Lines(solved);
        _trials = [.. StageDifference.Trials(frontEnd, stage).Where(t => t.Changed.ToCircuit().Problems is [])
            .Select(t => (t.Thing, Changed: solved.With(t.Changed))).Select(t => (t.Thing, t.Changed, Lines(t.Changed)))];
        _held = !_fromSensor && StageDifference.Driven(solved, stage, cancel) is { } stiffly && stiffly.Changed.ToCircuit().Problems is []
            ? (stiffly.Thing, solved.With(stiffly.Changed)) : null;
    }

    /// <summary>The steps, the line of the stage and what makes them differ.</summary>
    public StageExplanation Explanation()
    {
        var steps = _stage.HandMath.Select(Explained).ToImmutableArray();
        int furthest = _lines.Select((l, k) => (Math.Abs(l.DifferenceVolts), k)).Max().k;
        string from = _fromSensor ? _sensor.Name
            : _against is not null && _stage.AgainstVolts == 0 ? $"{_stage.Ports[0].Node} − {_against}" : _stage.Ports[0].Node;
        // The stage's own input moves with what is changed: only the difference from the ideal is compared.
        var causes = _trials
            .Select(t => new DifferenceCause(t.Thing, _lines[furthest].DifferenceVolts - t.Lines[furthest].DifferenceVolts))
            .Where(c => Math.Abs(c.Volts) > 1e-9).OrderByDescending(c => Math.Abs(c.Volts));
        return new(_stage, steps, from, _lines, [.. causes])
        {
            IsFromSensor = _fromSensor,
            Furthest = _lines[furthest],
            Corner = CornerOff(steps),
        };
    }

    private ImmutableArray<StageLine> Lines(SolvedFrontEnd changed)
    {
        var sweep = changed.Sweep(_sensor.Name, _grid, cancel: _cancel);
        double[] outputs = sweep.Voltage(_output), inputs = _fromSensor
            ? [.. sweep.Values.Select(v => _sensor.OutputAt(v, changed.FrontEnd.Celsius))]
            : _against is null ? sweep.Voltage(_stage.Ports[0].Node)
            : [.. sweep.Voltage(_stage.Ports[0].Node).Zip(sweep.Voltage(_against), (a, b) => a - b + _stage.AgainstVolts)];
        return [.. inputs.Zip(outputs).Select(v =>
            new StageLine(v.First, _ideal.Output(v.First), _stage.Expected?.Output(v.First), v.Second))];
    }

    private ExplainedStep Explained(HandStep step)
    {
        if (step.Measure is null && step.Unit == "Hz" && step.Formula.Contains("fc", StringComparison.Ordinal))
            return new(step, _corner ??= StageDifference.Corner(_solved, _stage.Ports[0].Node, _output, _sensor.Name, _cancel), []);
        if (Simulated(step, _solved, _lines) is not { } simulated)
            return new(step, null, []);
        double difference = simulated - step.Result;
        if (Math.Abs(difference) < Agreeing
            * (step.Unit == "V" ? Math.Max(1, Math.Abs(step.Result)) : Math.Abs(step.Result)))
            return new(step, simulated, []);
        // With the input held nothing can be swept: what is measured with the sensor standing still tells what the resistance ahead
        // makes.
        var ahead = step.Measure is ResistanceMeasure or BiasMeasure or PartMeasure or PushedMeasure or RailGainMeasure
            && _held is { } driven && _measurement.Of(step.Measure, driven.Changed, step.Result) is { } stiff
            ? [new StepCause(driven.Thing, simulated - stiff)] : Array.Empty<StepCause>();
        // What a bias current alone makes is not explained by that bias current.
        var told = ahead.Concat((step.Measure is BiasMeasure ? [] : _trials)
            .Select(t => new StepCause(t.Thing, simulated - (Simulated(step, t.Changed, t.Lines) ?? simulated))))
            .Where(t => Math.Abs(t.Effect) > Telling * Math.Abs(difference)).OrderByDescending(t => Math.Abs(t.Effect)).Take(MostTold);
        return new(step, simulated, [.. told]);
    }

    private double? Simulated(HandStep step, SolvedFrontEnd changed, ImmutableArray<StageLine> of)
    {
        if (step.Measure is { } measure)
            return _measurement.Of(measure, changed, step.Result);
        double scale = Math.Max(1e-3, Math.Abs(step.Result));
        bool Same(double value) => Math.Abs(step.Result - value) <= SameResult * scale;
        double gain = (of[^1].SimulatedVolts - of[0].SimulatedVolts) / (of[^1].InputVolts - of[0].InputVolts);
        return step.Unit switch
        {
            "" when Same(_ideal.Gain) => gain,
            "V" when Same(_ideal.OffsetVolts) => of[0].SimulatedVolts - gain * of[0].InputVolts,
            "V" when Same(_lines[0].IdealVolts) => of[0].SimulatedVolts,
            "V" when Same(_lines[^1].IdealVolts) => of[^1].SimulatedVolts,
            _ => null,
        };
    }

    private CornerDifference? CornerOff(ImmutableArray<ExplainedStep> steps)
    {
        if (_corner is not { } real || steps.First(s => s.Step.Measure is null && s.Step.Unit == "Hz" && s.Simulated is not null)
            is not { Difference: { } off } || Math.Abs(off) < 1e-3 * real)
            return null;
        var moved = _trials.Select(t =>
            new StepCause(t.Thing, real - StageDifference.Corner(t.Changed, _stage.Ports[0].Node, _output, _sensor.Name, _cancel) ?? 0))
            .Where(t => Math.Abs(t.Effect) > 0.1 * Math.Abs(off)).OrderByDescending(t => Math.Abs(t.Effect)).Take(MostTold);
        return new(off, [.. moved]);
    }
}
