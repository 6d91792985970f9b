using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Bias;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Mapping;

namespace FrontEndSim.FrontEnds.Studies.Design;

/// <summary>Which stage and which values bring a sensor's span onto a pin. Every candidate is solved by the engine.</summary>
public static class DesignStudy
{
    private static readonly (string Part, string Setting)[] Buffer = [("Ra", "divider-upper"), ("Rb", "divider-lower")];

    // Which setting fixes which resistor, by kind.
    private static readonly ImmutableDictionary<string, (string Part, string Setting)[]> Fixed = new Dictionary<string, (string, string)[]>
    {
        ["single-stage-shifter"] = [("R1", "input"), ("R2", "reference"), ("R3", "ground"),
            ("Rf", "feedback"), ("Rg", "minus-ground"), .. Buffer],
        ["difference-stage"] = [("R1", "input"), ("R2", "plus-ground"), ("R3", "minus-input"),
            ("R4", "feedback"), ("Rr", "reference"), .. Buffer],
        ["two-stage-shifter"] = [("R1", "input"), ("Rr", "reference"), ("Rf1", "feedback"),
            ("R2", "second-input"), ("Rf2", "second-feedback"), .. Buffer],
        ["passive-shifter"] = [("R1", "input"), ("R2", "reference"), ("R3", "ground")],
        ["divider"] = [("R1", "input"), ("R2", "ground")],
    }.ToImmutableDictionary();

    /// <summary>Ranks what can be built.</summary>
    /// <param name="wish">The wish.</param>
    /// <param name="progress">Told what is being done; may be null.</param>
    /// <param name="cancel">Stops between candidates.</param>
    /// <exception cref="StudyProblemException">The wish is impossible whatever the stage; the message says what to change.</exception>
    public static DesignResult Run(DesignWish wish, IProgress<StudyProgress>? progress = null, CancellationToken cancel = default)
    {
        wish.Demand();
        var seen = wish.Gap.Seen(wish.Surroundings, cancel);
        var found = new List<DesignCandidate>();
        var chosen = new Dictionary<(string, ESeries, Rail?), ImmutableDictionary<string, object>>();
        var refusals = new List<DesignRefusal>();
        refusals.AddRange(wish.Kinds.Select(kind => KindProblem(wish, kind)).OfType<DesignRefusal>());
        var trials = wish.Kinds.Where(kind => KindProblem(wish, kind) is null).SelectMany(kind => Trials(wish, seen, kind)).ToArray();
        for (int k = 0; k < trials.Length; k++)
        {
            cancel.ThrowIfCancellationRequested();
            progress?.Report(new((double)k / trials.Length, trials[k].Kind));
            Try(wish, seen, trials[k], chosen, found, refusals, cancel);
        }
        progress?.Report(new(1, "done"));
        return new(wish,
            [
                .. found.GroupBy(c => (c.Stage.Kind, c.Series)).Select(g => DesignMeasure.Closely(wish, g.MinBy(c => c.Cost)!, cancel))
                    .OrderBy(c => c.Cost),
            ],
            // One reason for each thing that would help.
            [.. refusals.Where(r => found.All(c => c.Stage.Kind != r.Stage))
                .DistinctBy(r => (r.Stage, r.Change, (r as NotBuilt)?.Suggestion))],
            [.. Assumptions(wish, seen)]);
    }

    private static bool IsPassive(string kind) => kind is "passive-shifter" or "divider";

    /// <summary>Why no stage of a kind can be had, whatever its values; null if one can.</summary>
    private static DesignRefusal? KindProblem(DesignWish wish, string kind)
    {
        if (IsPassive(kind))
            return null;
        if (kind == "two-stage-shifter" && wish.Rails.All(r => r.Volts.Value >= 0))
            return new NoNegativeRail(kind, new(-wish.Onto.High, -wish.Onto.Low));
        return wish.OpAmps.Any(type => Supply(wish, type) is not null) ? null
            : new NoSupply(kind, [.. wish.OpAmps.Select(t => new SupplyNeed(t.Name, t.LowestSupplyVolts, t.HighestSupplyVolts))]);
    }

    private sealed record Trial(string Kind, ESeries Series, OpAmpType? OpAmp, Rail? Positive, Rail? Negative, Rail? Reference);

    private static IEnumerable<Trial> Trials(DesignWish wish, Sensor seen, string kind)
    {
        double gain = wish.Onto.Width / seen.Span.Width, shift = wish.Onto.Low - gain * seen.Span.Low;
        bool isShifted = Math.Abs(shift) > 1e-9 * wish.Onto.Width;
        Rail?[] references = isShifted ? [.. wish.Rails.Where(r =>
            r.Volts.Value != 0 && (!wish.Decided.TryGetValue("offset.rail", out object? rail) || (string)rail == r.Name))] : [null];
        foreach (var series in wish.Series)
        {
            foreach (var reference in references)
            {
                if (IsPassive(kind))
                {
                    yield return new(kind, series, null, null, null, reference);
                    continue;
                }
                foreach (var type in wish.OpAmps)
                {
                    if (Supply(wish, type) is { } supply)
                        yield return new(kind, series, type, supply.Positive, supply.Negative, reference);
                }
            }
        }
    }

    /// <summary>The widest pair of rails that a class of op amp stands and works on, or the pair that is decided; null if there is
    /// none.</summary>
    private static (Rail Positive, Rail Negative)? Supply(DesignWish wish, OpAmpType type)
    {
        var ground = new Rail(Circuit.Ground, 0);
        bool Allows(string slot, Rail rail) => !wish.Decided.TryGetValue(slot, out object? decided) || (string)decided == rail.Name;
        var pairs = from positive in wish.Rails
                    from negative in wish.Rails.Append(ground)
                    let width = positive.Volts.Value - negative.Volts.Value
                    where Allows("opamp.positive", positive) && Allows("opamp.negative", negative)
                    where positive.Volts.Value > 0 && negative.Volts.Value <= 0 && width >= type.LowestSupplyVolts
                        && width <= type.HighestSupplyVolts
                    orderby width descending
                    select ((Rail, Rail)?)(positive, negative);
        return pairs.FirstOrDefault();
    }

    private static void Try(DesignWish wish, Sensor seen, Trial trial, Dictionary<(string, ESeries, Rail?),
        ImmutableDictionary<string, object>> chosen,
        List<DesignCandidate> found, List<DesignRefusal> refusals, CancellationToken cancel)
    {
        var values = new Dictionary<string, object>(wish.Decided)
        {
            ["from.input"] = wish.Gap.Input,
            ["from.output"] = wish.Gap.Output,
            ["maps.sensor"] = wish.Sensor.Name,
            ["maps.span"] = wish.Onto,
            ["resistors.series"] = trial.Series.Name,
            ["resistors.tolerance"] = wish.Tolerance,
        };
        if (trial.Reference is { } reference)
            values["offset.rail"] = reference.Name;
        if (trial.OpAmp is { } type)
        {
            values["opamp.type"] = type.Name;
            values["opamp.positive"] = trial.Positive!.Name;
            values["opamp.negative"] = trial.Negative!.Name;
        }
        var kind = StageKinds.Find(trial.Kind)!;
        var request = new StageRequest(wish.StageName, values, wish.Rails, wish.Surroundings.Sensors)
        {
            Catalogue = PartCatalogue.Standard with { OpAmps = wish.OpAmps },
        };
        try
        {
            // The op amp's class does not change the resistors: they are chosen once for all of them.
            if (!chosen.TryGetValue((trial.Kind, trial.Series, trial.Reference), out var resistors))
                resistors = chosen[(trial.Kind, trial.Series, trial.Reference)] = Chosen(wish, kind, request, seen);
            foreach (var (setting, value) in resistors)
                values[setting] = value;
            if (trial.Kind == "two-stage-shifter" && trial.OpAmp!.BiasAmpsSpread > trial.OpAmp.OffsetAmpsSpread)
                values["compensated"] = true; // pays where the bias current is larger than what differs between the inputs
            var (stage, line) = Built(wish, kind, request, seen);
            double Expected(MappingPoint point) =>
                line.Output(seen.Span.Low + seen.Span.Width * (point.SensorValue - wish.Sensor.Span.Low) / wish.Sensor.Span.Width);
            var ahead = wish.Gap.Ahead(wish.Surroundings);
            var frontEnd = ahead with { Stages = [.. ahead.Stages, stage] };
            frontEnd = frontEnd with { Rails = [.. frontEnd.Rails.Where(r => Uses(frontEnd, r))] };
            var candidate = DesignMeasure.AtFirst(wish, stage, request, frontEnd, trial.Series, trial.OpAmp, trial.Reference?.Name, cancel);
            if (candidate.Mapping.Headroom.FirstOrDefault(h => h.CommonModeVolts < 0) is { } beyond)
                refusals.Add(OutOfCommonMode(trial, beyond));
            else if (candidate.Mapping.Points.MaxBy(p => Math.Abs(p.PinVolts - Expected(p)))! is var bent
                && trial.OpAmp is not null && Math.Abs(bent.PinVolts - Expected(bent)) > ClippedVolts)
                refusals.Add(Clipped(trial, Expected(bent), bent));
            else
                found.Add(candidate);
        }
        catch (StageProblemException e)
        {
            refusals.Add(new NotBuilt(trial.Kind, e.Message, e.Suggestion));
        }
        catch (SolveException e)
        {
            refusals.Add(new NotSolved(trial.Kind, e.Message));
        }
    }

    /// <summary>Whether the study can choose the op amp and the resistors of stages of a kind.</summary>
    /// <param name="kind">Name of the kind.</param>
    public static bool Chooses(string kind) => Fixed.ContainsKey(kind);

    /// <summary>The resistors of a stage that were chosen and not given, and the turn of a potentiometer, by the settings that would fix
    /// them; empty if all were given.</summary>
    /// <param name="stage">The stage, of a kind that shifts.</param>
    /// <param name="request">What was asked of it.</param>
    public static ImmutableDictionary<string, object> OpenValues(Stage stage, StageRequest request)
    {
        var resistors =
            from f in Fixed[stage.Kind]
            let resistor = stage.Parts.OfType<ResistorPart>().FirstOrDefault(r => r.Name == $"{request.Name}.{f.Part}")
            where resistor is not null && !request.Has(f.Setting)
            select KeyValuePair.Create(f.Setting + ".value", (object)new Quantity(resistor.Ohms.Value, Unit.Ohm));
        var turned = stage.Parts.OfType<PotentiometerPart>().Where(_ => !request.Has("turned"))
            .Select(p => KeyValuePair.Create("turned.position", (object)p.Position));
        return resistors.Concat(turned).ToImmutableDictionary();
    }

    /// <summary>The values that a kind chooses for the voltage and the resistance that arrive at the stage.</summary>
    internal static ImmutableDictionary<string, object> Chosen(DesignWish wish, StageKind kind, StageRequest request, Sensor seen)
    {
        var arriving = request with { Sensors = Sensors(wish, seen) };
        return OpenValues(kind.Build(arriving), arriving);
    }

    /// <summary>A stage with the hand calculation and the closed form of the voltage that arrives at it, behind the resistance that it
    /// arrives through.</summary>
    internal static (Stage Stage, LinearExpectation Arriving) Built(DesignWish wish, StageKind kind, StageRequest request, Sensor seen)
    {
        var arriving = kind.Build(request with { Sensors = Sensors(wish, seen) });
        return (kind.Build(request) with { HandMath = arriving.HandMath }, arriving.Expected!);
    }

    private static Sensor[] Sensors(DesignWish wish, Sensor seen) =>
        [.. wish.Surroundings.Sensors.Select(s => s.Name == seen.Name ? seen : s)];

    /// <summary>Whether a key of a request fixes a resistor of a stage of that kind.</summary>
    internal static bool IsValue(string kind, string key) => Fixed[kind].Any(f => key == f.Setting + ".value");

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

    private static IEnumerable<DesignAssumption> Assumptions(DesignWish wish, Sensor seen)
    {
        foreach (var assumed in wish.Assumed)
            yield return assumed;
        yield return new ResistorsTaken(wish.Tolerance);
        if (seen.Node != wish.Sensor.Node || seen.SourceOhms != wish.Sensor.SourceOhms)
            yield return new SpanArriving(seen.Node, seen.Span, seen.SourceOhms);
        else
            yield return new SourceCounted(wish.Sensor.SourceOhms);
        ImmutableArray<string> exact = [.. wish.Rails.Where(r => r.Volts.Tolerance == 0).Select(r => r.Name)];
        if (!exact.IsEmpty)
            yield return new RailsExact(exact);
    }
}
