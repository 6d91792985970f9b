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

    // What does so many times the difference, and nothing does the opposite, is no error: it is what the line itself computes.
    private const double MostOfDifference = 3;

    private const int MostTold = 3;

    private readonly SolvedFrontEnd _solved;
    private readonly Stage _stage;
    private readonly LinearExpectation? _ideal;
    private readonly Sensor _sensor;
    private readonly CancellationToken _cancel;
    private readonly string _output;
    private readonly bool _fromSensor;
    private readonly string? _against;
    private readonly double[] _grid;
    private readonly StageMeasurement _measurement;
    private readonly ImmutableArray<StageLine> _lines;
    private readonly (RealThing Thing, SolvedFrontEnd Changed, ImmutableArray<StageLine> Lines)[] _trials;
    private readonly (RealThing Thing, SolvedFrontEnd Changed)[] _faster;
    private readonly (RealThing Thing, SolvedFrontEnd Changed)? _held;
    private double? _corner;

    public StageExplainer(SolvedFrontEnd solved, Stage stage, Sensor sensor, CancellationToken cancel)
    {
        (_solved, _stage, _ideal, _sensor, _cancel) = (solved, stage, stage.Ideal, sensor, cancel);
        var frontEnd = solved.FrontEnd;
        _output = stage.Ports[^1].Node;
        // The closed form starts ahead of the source resistance that the stage was designed for.
        _fromSensor = _ideal is not null && stage.Mapping?.Sensor == sensor.Name && sensor.Node == stage.Ports[0].Node;
        // A stage that subtracts a node answers to the difference, of which a bridge moves both ends.
        _against = stage.Ports.FirstOrDefault(p => p.Role == "against")?.Node is { } other && other != Circuit.Ground
            && frontEnd.Rails.All(r => r.Name != other) ? other : null;
        _grid = RoundValues.In(sensor.Span);
        _measurement = new StageMeasurement(stage, sensor, _fromSensor, cancel);
        _lines = Lines(solved);
        _trials = [.. StageDifference.Trials(frontEnd, stage).Where(t => t.Changed.ToCircuit().Problems is [])
            .Select(t => (t.Thing, Changed: solved.With(t.Changed))).Select(t => (t.Thing, t.Changed, Lines(t.Changed)))];
        _faster = [.. StageDifference.Faster(frontEnd, stage).Select(t => (t.Thing, solved.With(t.Changed)))];
        _held = !_fromSensor && StageDifference.Driven(solved, stage, cancel) is { } stiffly && stiffly.Changed.ToCircuit().Problems is []
            ? (stiffly.Thing, solved.With(stiffly.Changed)) : null;
    }

    /// <summary>The steps, the line of the stage and what makes them differ.</summary>
    public StageExplanation Explanation()
    {
        var steps = _stage.HandMath.Select(Explained).ToImmutableArray();
        if (_lines.IsEmpty)
            return new(_stage, steps, "", [], []);
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

    /// <summary>Input against output; empty for a stage that is no straight line.</summary>
    private ImmutableArray<StageLine> Lines(SolvedFrontEnd changed)
    {
        if (_ideal is not { } ideal)
            return [];
        var sweep = changed.Sweep(_sensor.Name, _grid, cancel: _cancel);
        double[] outputs = sweep.Voltage(_output), inputs = _fromSensor
            ? [.. sweep.Values.Select(v => _sensor.OutputAt(v, changed.FrontEnd.Celsius))]
            : _against is null ? sweep.Voltage(_stage.Ports[0].Node)
            : [.. sweep.Voltage(_stage.Ports[0].Node).Zip(sweep.Voltage(_against), (a, b) => a - b + _stage.AgainstVolts)];
        return [.. inputs.Zip(outputs).Select(v =>
            new StageLine(v.First, ideal.Output(v.First), _stage.Expected?.Output(v.First), v.Second))];
    }

    private ExplainedStep Explained(HandStep step)
    {
        if (step.Measure is null && _ideal is not null && step.Unit == "Hz" && step.Formula.Contains("fc", StringComparison.Ordinal))
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
            && _held is { } driven && _measurement.Of(step.Measure, driven.Changed, step.Result) is { } stiff && double.IsFinite(stiff)
            ? [new StepCause(driven.Thing, simulated - stiff)] : Array.Empty<StepCause>();
        var moving = step.Measure switch
        {
            CornerMeasure or ResponseMeasure or QuadratureMeasure => _faster,
            PushedMeasure => [.. StageDifference.Sinking(_solved.FrontEnd).Select(t => (t.Thing, Changed: _solved.With(t.Changed)))],
            _ => [],
        };
        // What a bias current alone makes is not explained by that bias current.
        StepCause[] all =
        [
            .. ahead, .. moving.Select(t => Effect(t.Thing, t.Changed, [])),
            .. (step.Measure is BiasMeasure ? [] : _trials).Select(t => Effect(t.Thing, t.Changed, t.Lines)),
        ];
        var told = all.Where(t => Math.Abs(t.Effect) > Telling * Math.Abs(difference) && IsLeftOut(t.Effect, difference, all))
            .OrderByDescending(t => Math.Abs(t.Effect)).Take(MostTold);
        return new(step, simulated, [.. told]);

        StepCause Effect(RealThing thing, SolvedFrontEnd changed, ImmutableArray<StageLine> of) =>
            new(thing, simulated - (Simulated(step, changed, of) ?? simulated));
    }

    private static bool IsLeftOut(double effect, double difference, StepCause[] all) =>
        Math.Abs(effect) <= MostOfDifference * Math.Abs(difference)
        || all.Any(c => Math.Sign(c.Effect) == -Math.Sign(effect) && Math.Abs(c.Effect) >= Math.Abs(effect) / 2);

    // What cannot be measured, such as a gain where nothing moves, is not known.
    private double? Simulated(HandStep step, SolvedFrontEnd changed, ImmutableArray<StageLine> of) =>
        Measured(step, changed, of) is { } found && double.IsFinite(found) ? found : null;

    private double? Measured(HandStep step, SolvedFrontEnd changed, ImmutableArray<StageLine> of)
    {
        if (step.Measure is { } measure)
            return _measurement.Of(measure, changed, step.Result);
        if (step.IsTarget || of.IsEmpty || _ideal is not { } ideal)
            return null;
        double scale = Math.Max(1e-3, Math.Abs(step.Result));
        bool Same(double value) => Math.Abs(step.Result - value) <= SameResult * scale;
        // Inside the span, where an output that stops at the ends is no matter.
        StageLine first = of[of.Length / 4], last = of[^(1 + of.Length / 4)];
        double gain = (last.SimulatedVolts - first.SimulatedVolts) / (last.InputVolts - first.InputVolts);
        return step.Unit switch
        {
            "" when Same(ideal.Gain) => gain,
            "V" when Same(ideal.OffsetVolts) => first.SimulatedVolts - gain * first.InputVolts,
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
        var moved = _trials.Select(t => (t.Thing, t.Changed)).Concat(_faster).Select(t =>
            new StepCause(t.Thing, real - StageDifference.Corner(t.Changed, _stage.Ports[0].Node, _output, _sensor.Name, _cancel) ?? 0))
            .Where(t => Math.Abs(t.Effect) > 0.1 * Math.Abs(off)).OrderByDescending(t => Math.Abs(t.Effect)).Take(MostTold);
        return new(off, [.. moved]);
    }
}
