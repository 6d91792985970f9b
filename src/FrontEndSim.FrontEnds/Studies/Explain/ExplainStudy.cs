using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Design;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Explain;

/// <summary>Puts the simulation beside the hand calculation of each stage, and finds out what makes them differ.</summary>
public static class ExplainStudy
{
    // A step of the hand math stands for a simulated quantity if its result is that of the closed form.
    private const double SameResult = 1e-9;

    // A difference below a millionth, or a microvolt, needs no reason; a cause of less than a tenth of a difference is none to speak of.
    private const double Agreeing = 1e-6, Telling = 0.1;

    private const int MostTold = 3;

    /// <summary>Explains every stage and every mapping.</summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="stage">Name of the only stage to explain; null for all.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="CircuitException">The circuit cannot be solved as it is.</exception>
    /// <exception cref="SolveException">No solution was found at some voltage.</exception>
    /// <exception cref="StudyProblemException">There is no stage of that name.</exception>
    public static ExplainResult Run(FrontEnd frontEnd, string? stage = null, CancellationToken cancel = default) =>
        Run(new SolvedFrontEnd(frontEnd), stage, cancel);

    /// <summary>The same of a front end of which something may be solved already.</summary>
    /// <inheritdoc cref="Run(FrontEnd, string?, CancellationToken)"/>
    public static ExplainResult Run(SolvedFrontEnd solved, string? stage = null, CancellationToken cancel = default)
    {
        var frontEnd = solved.FrontEnd;
        ImmutableArray<MappingResult> mappings =
        [
            .. frontEnd.Pins.SelectMany(p => frontEnd.Sensors.Where(s => MappingStudy.Maps(frontEnd, p, s)).Select(s =>
                MappingStudy.Of(solved, p, s, solved.Sweep(s.Name, RoundValues.In(s.Span), cancel: cancel), cancel))),
        ];
        return new([.. (stage is null ? frontEnd.Stages : [frontEnd.FindStage(stage)]).Select(s => Explain(solved, s, cancel))], mappings)
        {
            Costs = [.. mappings.Select(m => solved.Costs(m, cancel))],
        };
    }

    private static StageExplanation Explain(SolvedFrontEnd solved, Stage stage, CancellationToken cancel)
    {
        var frontEnd = solved.FrontEnd;
        var sensor = SignalPath.SensorOf(frontEnd, stage.Ports[0].Node);
        if (sensor is null)
            return new(stage, [.. stage.HandMath.Select(h => new ExplainedStep(h, null, []))], "", [], []);
        if (stage.Ideal is not { } ideal)
        {
            var single = new StageMeasurement(stage, sensor, false, cancel);
            return new(stage, [.. stage.HandMath.Select(h =>
                new ExplainedStep(h, h.Measure is { } m ? single.Of(m, solved, h.Result) : null, []))], "", [], []);
        }
        string output = stage.Ports[^1].Node;
        // The closed form starts ahead of the source resistance that the stage was designed for.
        bool fromSensor = stage.Mapping?.Sensor == sensor.Name && sensor.Node == stage.Ports[0].Node;
        // A stage that subtracts a node answers to the difference, of which a bridge moves both ends.
        string? against = stage.Ports.FirstOrDefault(p => p.Role == "against")?.Node is { } other && other != Circuit.Ground
            && frontEnd.Rails.All(r => r.Name != other) ? other : null;
        double[] grid = RoundValues.In(sensor.Span);
        var measurement = new StageMeasurement(stage, sensor, fromSensor, cancel);
        var lines = Lines(solved);
        var trials = StageDifference.Trials(frontEnd, stage).Where(t => t.Changed.ToCircuit().Problems is [])
            .Select(t => (t.Thing, Changed: solved.With(t.Changed))).Select(t => (t.Thing, t.Changed, Lines: Lines(t.Changed))).ToArray();
        (RealThing Thing, SolvedFrontEnd Changed)? held = !fromSensor
            && StageDifference.Driven(solved, stage, cancel) is { } stiffly && stiffly.Changed.ToCircuit().Problems is []
            ? (stiffly.Thing, solved.With(stiffly.Changed)) : null;
        double? corner = null;
        var steps = stage.HandMath.Select(Explained).ToImmutableArray();
        int furthest = lines.Select((l, k) => (Math.Abs(l.DifferenceVolts), k)).Max().k;
        var causes = Causes();
        return new(stage, steps, fromSensor ? sensor.Name
            : against is not null && stage.AgainstVolts == 0 ? $"{stage.Ports[0].Node} − {against}" : stage.Ports[0].Node, lines, causes)
        {
            IsFromSensor = fromSensor,
            Furthest = lines[furthest],
            Corner = CornerOff(),
        };

        ImmutableArray<StageLine> Lines(SolvedFrontEnd changed)
        {
            var sweep = changed.Sweep(sensor.Name, grid, cancel: cancel);
            double[] outputs = sweep.Voltage(output), inputs = fromSensor
                ? [.. sweep.Values.Select(v => sensor.OutputAt(v, changed.FrontEnd.Celsius))]
                : against is null ? sweep.Voltage(stage.Ports[0].Node)
                : [.. sweep.Voltage(stage.Ports[0].Node).Zip(sweep.Voltage(against), (a, b) => a - b + stage.AgainstVolts)];
            return [.. inputs.Zip(outputs).Select(v =>
                new StageLine(v.First, ideal.Output(v.First), stage.Expected?.Output(v.First), v.Second))];
        }

        ExplainedStep Explained(HandStep step)
        {
            if (step.Measure is null && step.Unit == "Hz" && step.Formula.Contains("fc", StringComparison.Ordinal))
                return new(step, corner ??= StageDifference.Corner(solved, stage.Ports[0].Node, output, sensor.Name, cancel), []);
            if (Simulated(step, solved, lines) is not { } simulated)
                return new(step, null, []);
            double difference = simulated - step.Result;
            if (Math.Abs(difference) < Agreeing
                * (step.Unit == "V" ? Math.Max(1, Math.Abs(step.Result)) : Math.Abs(step.Result)))
                return new(step, simulated, []);
            // With the input held nothing can be swept: what is measured with the sensor standing still tells what the resistance ahead
            // makes.
            var ahead = step.Measure is ResistanceMeasure or BiasMeasure or PartMeasure or PushedMeasure or RailGainMeasure
                && held is { } driven && measurement.Of(step.Measure, driven.Changed, step.Result) is { } stiff
                ? [new StepCause(driven.Thing, simulated - stiff)] : Array.Empty<StepCause>();
            // What a bias current alone makes is not explained by that bias current.
            var told = ahead.Concat((step.Measure is BiasMeasure ? [] : trials)
                .Select(t => new StepCause(t.Thing, simulated - (Simulated(step, t.Changed, t.Lines) ?? simulated))))
                .Where(t => Math.Abs(t.Effect) > Telling * Math.Abs(difference)).OrderByDescending(t => Math.Abs(t.Effect)).Take(MostTold);
            return new(step, simulated, [.. told]);
        }

        double? Simulated(HandStep step, SolvedFrontEnd changed, ImmutableArray<StageLine> of)
        {
            if (step.Measure is { } measure)
                return measurement.Of(measure, changed, step.Result);
            double scale = Math.Max(1e-3, Math.Abs(step.Result));
            bool Same(double value) => Math.Abs(step.Result - value) <= SameResult * scale;
            double gain = (of[^1].SimulatedVolts - of[0].SimulatedVolts) / (of[^1].InputVolts - of[0].InputVolts);
            return step.Unit switch
            {
                "" when Same(ideal.Gain) => gain,
                "V" when Same(ideal.OffsetVolts) => of[0].SimulatedVolts - gain * of[0].InputVolts,
                "V" when Same(lines[0].IdealVolts) => of[0].SimulatedVolts,
                "V" when Same(lines[^1].IdealVolts) => of[^1].SimulatedVolts,
                _ => null,
            };
        }

        CornerDifference? CornerOff()
        {
            if (corner is not { } real || steps.First(s => s.Step.Measure is null && s.Step.Unit == "Hz" && s.Simulated is not null)
                is not { Difference: { } off } || Math.Abs(off) < 1e-3 * real)
                return null;
            var moved = trials.Select(t =>
                new StepCause(t.Thing, real - StageDifference.Corner(t.Changed, stage.Ports[0].Node, output, sensor.Name, cancel) ?? 0))
                .Where(t => Math.Abs(t.Effect) > 0.1 * Math.Abs(off)).OrderByDescending(t => Math.Abs(t.Effect)).Take(MostTold);
            return new(off, [.. moved]);
        }

        ImmutableArray<DifferenceCause> Causes()
        {
            var found = ImmutableArray.CreateBuilder<DifferenceCause>();
            foreach (var trial in trials)
            {
                // The stage's own input moves with what is changed: only the difference from the ideal is compared.
                double effect = lines[furthest].DifferenceVolts - trial.Lines[furthest].DifferenceVolts;
                if (Math.Abs(effect) > 1e-9)
                    found.Add(new(trial.Thing, effect));
            }
            return [.. found.OrderByDescending(c => Math.Abs(c.Volts))];
        }
    }
}
