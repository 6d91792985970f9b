using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Stages.Shifting;
using FrontEndSim.FrontEnds.Studies.Bias;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Design;

/// <summary>Which stage and which values bring a sensor's span onto a pin. Every candidate is solved by the engine.</summary>
public static class DesignStudy
{
    /// <summary>Ranks what can be built.</summary>
    /// <param name="target">The target.</param>
    /// <param name="progress">Told what is being done; may be null.</param>
    /// <param name="cancel">Stops between candidates.</param>
    /// <exception cref="StudyProblemException">The target is impossible whatever the stage; the message says what to change.</exception>
    public static DesignResult Run(DesignTarget target, IProgress<StudyProgress>? progress = null, CancellationToken cancel = default)
    {
        target.Demand();
        var seen = target.Gap.Seen(target.Surroundings, cancel);
        var found = new List<DesignCandidate>();
        var chosen = new Dictionary<(string, ESeries, Rail?), ImmutableArray<SettingValue>>();
        var refusals = new List<DesignRefusal>();
        refusals.AddRange(target.Kinds.Select(kind => KindProblem(target, kind)).OfType<DesignRefusal>());
        var trials = target.Kinds.Where(kind => KindProblem(target, kind) is null).SelectMany(kind => Trials(target, seen, kind)).ToArray();
        for (int k = 0; k < trials.Length; k++)
        {
            cancel.ThrowIfCancellationRequested();
            progress?.Report(new((double)k / trials.Length, trials[k].Kind));
            Try(target, seen, trials[k], chosen, found, refusals, cancel);
        }
        progress?.Report(new(1, "done"));
        return new(target,
            [
                .. found.GroupBy(c => (c.Stage.Kind, c.Series)).Select(g => DesignMeasure.Closely(target, g.MinBy(c => c.Cost)!, cancel))
                    .OrderBy(c => c.Cost),
            ],
            // One reason for each thing that would help.
            [.. refusals.Where(r => found.All(c => c.Stage.Kind != r.Stage))
                .DistinctBy(r => (r.Stage, r.Change, (r as NotBuilt)?.Problem.Kind, (r as NotBuilt)?.Problem.High is null))],
            [.. Assumptions(target, seen)]);
    }

    private static bool IsPassive(string kind) => kind is "passive-shifter" or "divider";

    /// <summary>Why no stage of a kind can be had, whatever its values; null if one can.</summary>
    private static DesignRefusal? KindProblem(DesignTarget target, string kind)
    {
        if (IsPassive(kind))
            return null;
        if (kind == "two-stage-shifter" && target.Rails.All(r => r.Volts.Value >= 0))
            return new NoNegativeRail(kind, new(-target.Onto.High, -target.Onto.Low));
        return target.OpAmps.Any(type => Supply(target, type) is not null) ? null
            : new NoSupply(kind, [.. target.OpAmps.Select(t => new SupplyNeed(t.Name, t.LowestSupplyVolts, t.HighestSupplyVolts))]);
    }

    private sealed record Trial(string Kind, ESeries Series, OpAmpType? OpAmp, Rail? Positive, Rail? Negative, Rail? Reference);

    private static IEnumerable<Trial> Trials(DesignTarget target, Sensor seen, string kind)
    {
        double gain = target.Onto.Width / seen.Span.Width, shift = target.Onto.Low - gain * seen.Span.Low;
        bool isShifted = Math.Abs(shift) > 1e-9 * target.Onto.Width;
        Rail?[] references = isShifted ? [.. target.Rails.Where(r =>
            r.Volts.Value != 0 && (!target.Decided.TryGet(StageKind.OffsetFrom, out var decided) || decided.Name == r.Name))] : [null];
        foreach (var series in target.Series)
        {
            foreach (var reference in references)
            {
                if (IsPassive(kind))
                {
                    yield return new(kind, series, null, null, null, reference);
                    continue;
                }
                foreach (var type in target.OpAmps)
                {
                    if (Supply(target, type) is { } supply)
                        yield return new(kind, series, type, supply.Positive, supply.Negative, reference);
                }
            }
        }
    }

    /// <summary>The widest pair of rails that a class of op amp stands and works on, or the pair that is decided; null if there is
    /// none.</summary>
    private static (Rail Positive, Rail Negative)? Supply(DesignTarget target, OpAmpType type)
    {
        var ground = new Rail(Circuit.Ground, 0);
        bool isDecided = target.Decided.TryGet(StageKind.OpAmp, out var decided);
        var pairs = from positive in target.Rails
                    from negative in target.Rails.Append(ground)
                    let width = positive.Volts.Value - negative.Volts.Value
                    where !isDecided || decided.Positive.Name == positive.Name && decided.Negative.Name == negative.Name
                    where positive.Volts.Value > 0 && negative.Volts.Value <= 0 && width >= type.LowestSupplyVolts
                        && width <= type.HighestSupplyVolts
                    orderby width descending
                    select ((Rail, Rail)?)(positive, negative);
        return pairs.FirstOrDefault();
    }

    private static void Try(DesignTarget target, Sensor seen, Trial trial,
        Dictionary<(string, ESeries, Rail?), ImmutableArray<SettingValue>> chosen,
        List<DesignCandidate> found, List<DesignRefusal> refusals, CancellationToken cancel)
    {
        var values = target.Decided.With(StageKind.Ends, (target.Gap.Input, target.Gap.Output))
            .With(StageKind.Maps, (target.Sensor, target.Onto))
            .With(StageKind.PreferredResistors, (trial.Series, target.Tolerance));
        if (trial.Reference is { } reference)
            values = values.With(StageKind.OffsetFrom, reference);
        if (trial.OpAmp is { } type)
            values = values.With(StageKind.OpAmp, new(type, trial.Positive!, trial.Negative!));
        var request = new StageRequest(StageKinds.Find(trial.Kind)!, target.StageName, values, target.Rails, target.Surroundings.Sensors);
        try
        {
            // The op amp's class does not change the resistors: they are chosen once for all of them.
            if (!chosen.TryGetValue((trial.Kind, trial.Series, trial.Reference), out var resistors))
                resistors = chosen[(trial.Kind, trial.Series, trial.Reference)] = Chosen(request, seen);
            request = request with { Values = request.Values.With(resistors) };
            // Pays where the bias current is larger than what differs between the inputs.
            if (trial.Kind == "two-stage-shifter" && trial.OpAmp!.BiasAmpsSpread > trial.OpAmp.OffsetAmpsSpread)
                request = request.With(TwoStageShifter.Compensated, true);
            var (stage, line) = Built(request, seen);
            double Expected(MappingPoint point) =>
                line.Output(seen.Span.Low + seen.Span.Width * (point.SensorValue - target.Sensor.Span.Low) / target.Sensor.Span.Width);
            var ahead = target.Gap.Ahead(target.Surroundings);
            var frontEnd = ahead with { Stages = [.. ahead.Stages, stage] };
            frontEnd = frontEnd with { Rails = [.. frontEnd.Rails.Where(r => Uses(frontEnd, r))] };
            var candidate = DesignMeasure.AtFirst(target, stage, request, frontEnd, trial.Series,
                trial.OpAmp, trial.Reference?.Name, cancel);
            if (candidate.Mapping.Headroom.FirstOrDefault(h => h.CommonModeVolts < 0) is { } beyond)
                refusals.Add(OutOfCommonMode(trial, beyond));
            else if (candidate.Mapping.Points.MaxBy(p => Math.Abs(p.PinVolts - Expected(p)))! is var bent
                && trial.OpAmp is not null && Math.Abs(bent.PinVolts - Expected(bent)) > ClippedVolts)
                refusals.Add(Clipped(trial, Expected(bent), bent));
            else if (trial.OpAmp is not null && DesignMeasure.LeastHeadroom(target, frontEnd, cancel) is { Volts: < 0 } corner)
            {
                refusals.Add(new OutOfRangeAtCorner(trial.Kind, Further(corner.IsUpper, corner.IsUpper ? trial.Positive! : trial.Negative!),
                    trial.OpAmp.Name, trial.Positive!.Name, trial.Negative!.Name, corner.SensorValue, corner.IsInput,
                    (corner.IsUpper ? trial.Positive : trial.Negative).Name, -corner.Volts));
            }
            // As check judges it: an amplifier has lost its gain before its output stands at a limit.
            else if (trial.OpAmp is not null && new OpAmpsInRange().Judge(new SolvedFrontEnd(frontEnd), cancel: cancel)
                is { Verdict: Verdict.NotMet, Reason: HeadroomReason { Headroom: var h, IsOutput: var isOutput } })
            {
                bool isUpper = (isOutput ? h.SwingSide : h.CommonModeSide) == "upper";
                refusals.Add(new OutOfRangeAtCorner(trial.Kind, Further(isUpper, isUpper ? trial.Positive! : trial.Negative!),
                    trial.OpAmp.Name, trial.Positive!.Name, trial.Negative!.Name, isOutput ? h.SwingAt : h.CommonModeAt, !isOutput,
                    (isUpper ? trial.Positive : trial.Negative).Name, Math.Max(0, -h.Volts)));
            }
            else
                found.Add(candidate);
        }
        catch (StageProblemException e)
        {
            refusals.Add(new NotBuilt(trial.Kind, e.Problem));
        }
        catch (SolveException e)
        {
            refusals.Add(new NotSolved(trial.Kind, Problem.Of(e)));
        }
    }

    /// <summary>The resistors of a stage that were chosen and not given, and the turn of a potentiometer, by the settings that would fix
    /// them; empty if all were given.</summary>
    /// <param name="stage">The stage, of a kind that shifts.</param>
    /// <param name="request">What was asked of it.</param>
    public static ImmutableArray<SettingValue> OpenValues(Stage stage, StageRequest request)
    {
        var resistors =
            from setting in request.Kind.Settings.OfType<PartSetting>()
            where setting.Part is not null && !request.Has(setting)
            let resistor = stage.Parts.FirstOrDefault(p => p.IsResistor && p.Name == $"{request.Name}.{setting.Part}")
            where resistor is not null
            select (SettingValue)new SettingValue<(double, double?)>(setting, (resistor.Value!.Amount.Value, null));
        var turned = stage.Parts.Select(p => p.Contact).OfType<SlidingContact>().Where(_ => !request.Has(StageKind.Turned))
            .Select(c => (SettingValue)new SettingValue<double>(StageKind.Turned, c.Position));
        return [.. resistors, .. turned];
    }

    /// <summary>The values that a kind chooses for the voltage and the resistance that arrive at the stage.</summary>
    internal static ImmutableArray<SettingValue> Chosen(StageRequest request, Sensor seen)
    {
        var arriving = request.Seeing(seen);
        return OpenValues(arriving.Build(), arriving);
    }

    /// <summary>A stage with the hand calculation and the closed form of the voltage that arrives at it, behind the resistance that it
    /// arrives through.</summary>
    internal static (Stage Stage, LinearExpectation Arriving) Built(StageRequest request, Sensor seen)
    {
        var arriving = request.Seeing(seen).Build();
        return (request.Build() with { HandMath = arriving.HandMath }, arriving.Expected!);
    }

    /// <summary>Whether anything is fed by a rail or measured against it.</summary>
    private static bool Uses(FrontEnd frontEnd, Rail rail) =>
        frontEnd.AllParts.Any(p => p.Nodes.Contains(rail.Name)) || frontEnd.Pins.Any(p =>
        p.ClampRail == rail.Name || p.RatedLow?.Rail == rail.Name || p.Converter!.Span.Low.Rail == rail.Name
            || p.Converter.Span.High.Rail == rail.Name);

    // What the engine's output may differ from the closed form without limits before it is taken to be held by one.
    private const double ClippedVolts = 0.5e-3;

    private static InputsOutOfRange OutOfCommonMode(Trial trial, OpAmpHeadroom beyond)
    {
        var rail = beyond.CommonModeSide == "upper" ? trial.Positive! : trial.Negative!;
        return new(trial.Kind, Further(beyond.CommonModeSide == "upper", rail), trial.OpAmp!.Name,
            trial.Positive!.Name, trial.Negative!.Name, beyond.CommonModeAt,
            rail.Name, -beyond.CommonModeVolts);
    }

    private static OutputOutOfRange Clipped(Trial trial, double wanted, MappingPoint bent)
    {
        wanted = Math.Abs(wanted) < 1e-6 ? 0 : wanted;
        bool isUpper = bent.PinVolts < wanted;
        return new(trial.Kind, Further(isUpper, isUpper ? trial.Positive! : trial.Negative!),
            trial.OpAmp!.Name, trial.Positive!.Name, trial.Negative!.Name,
            bent.SensorValue, wanted, bent.PinVolts);
    }

    private static DesignChange Further(bool isUpper, Rail rail) => isUpper ? DesignChange.HigherRail
        : rail.Name == Circuit.Ground ? DesignChange.RoomAtGround : DesignChange.LowerRail;

    private static IEnumerable<DesignAssumption> Assumptions(DesignTarget target, Sensor seen)
    {
        foreach (var assumed in target.Assumed)
            yield return assumed;
        yield return new ResistorsTaken(target.Tolerance);
        if (seen.Node != target.Sensor.Node || seen.SourceOhms != target.Sensor.SourceOhms)
            yield return new SpanArriving(seen.Node, seen.Span, seen.SourceOhms);
        else
            yield return new SourceCounted(target.Sensor.SourceOhms);
        ImmutableArray<string> exact = [.. target.Rails.Where(r => r.Volts.Tolerance == 0).Select(r => r.Name)];
        if (!exact.IsEmpty)
            yield return new RailsExact(exact);
    }
}
