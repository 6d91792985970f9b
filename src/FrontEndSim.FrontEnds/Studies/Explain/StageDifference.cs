using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Respond;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Explain;

/// <summary>Why a stage is not as calculated by hand: what changes when one real thing is made ideal.</summary>
internal static class StageDifference
{
    /// <summary>The front end with one amplifier at a time made fast: what moves a frequency and nothing at the operating point.</summary>
    public static IEnumerable<(RealThing Thing, FrontEnd Changed)> Faster(FrontEnd frontEnd, Stage stage) =>
        from part in stage.Parts
        from trial in part.Idealisations
        where trial.Of == Imperfection.Bandwidth
        select (new RealThing(Thing(trial.Of), part.Name), frontEnd.Replace(part, trial.Ideal));

    /// <summary>The front end with one rail at a time able to sink current.</summary>
    public static IEnumerable<(RealThing Thing, FrontEnd Changed)> Sinking(FrontEnd frontEnd) =>
        frontEnd.Rails.Where(r => r.SourceOnly).Select(rail => (new RealThing(RealThingKind.DeliveringRail, rail.Name),
            frontEnd.WithRails(r => r == rail ? r with { SourceOnly = false } : r)));

    /// <summary>The front end with one thing at a time made ideal.</summary>
    public static IEnumerable<(RealThing Thing, FrontEnd Changed)> Trials(FrontEnd frontEnd, Stage stage)
    {
        foreach (var part in stage.Parts)
        {
            foreach (var trial in part.Idealisations.Where(t => t.Of != Imperfection.Bandwidth))
                yield return (new(Thing(trial.Of), part.Name), frontEnd.Replace(part, trial.Ideal));
        }
        string output = stage.Ports[^1].Node;
        var after = frontEnd.Stages.Where(s => s != stage && s.Ports[0].Node == output).ToArray();
        if (after.Length > 0)
        {
            // Without the stages that follow, and what hangs on their outputs.
            var gone = after.SelectMany(s => s.Parts).ToHashSet();
            var nodes = after.SelectMany(s => s.Ports.Skip(1)).Select(p => p.Node).ToHashSet();
            yield return (new(RealThingKind.Load, string.Join(", ", after.Select(s => s.Name))), frontEnd with
            {
                Stages = [.. frontEnd.Stages.Where(s => !after.Contains(s))],
                Parts = [.. frontEnd.Parts.Where(p => !p.Nodes.Any(nodes.Contains))],
                Pins = [.. frontEnd.Pins.Where(p => !nodes.Contains(p.Node))],
            });
        }
        foreach (var part in frontEnd.Parts.Where(p => !p.IsSource && p.Nodes.Contains(output)))
            yield return (new(RealThingKind.Load, part.Name), frontEnd.Replace(part, null));
        foreach (var pin in frontEnd.Pins.Where(p => p.Node == output && (p.HasClamps || p.LeakageAmps != 0)))
        {
            yield return (new(RealThingKind.PinLeakage, pin.Name),
                frontEnd with { Pins = [.. frontEnd.Pins.Select(p => p == pin ? p with { HasClamps = false, LeakageAmps = 0 } : p)] });
        }
    }

    /// <summary>The name of what holds the input in <see cref="Driven"/>.</summary>
    private const string Stiff = "stiff input";

    /// <summary>
    /// The front end with the stage's input held, at the voltage where it rests, by a source without resistance: what is different there
    /// is made by the resistance ahead of the stage. Null where the input is held so already.
    /// </summary>
    public static (RealThing Thing, FrontEnd Changed)? Driven(SolvedFrontEnd solved, Stage stage, CancellationToken cancel)
    {
        var frontEnd = solved.FrontEnd;
        string input = stage.Ports[0].Node;
        if (frontEnd.Rails.Any(r => r.Name == input)
            || frontEnd.Sensors.Any(s => s.Node == input && s is { IsVoltage: true, SourceOhms: 0 }))
            return null;
        double volts = solved.Rest(cancel: cancel).Nodes[input];
        return (new(RealThingKind.ResistanceAhead, input),
            frontEnd with { Parts = frontEnd.Parts.Add(new SourcePart(Stiff, input, Circuit.Ground, volts, 0) { Sinks = true }) });
    }

    /// <summary>Where the gain from one node, or from the sensor, to another is down by √2, Hz; null if nowhere up to 1 GHz, or if there
    /// is no DC gain.</summary>
    public static double? Corner(SolvedFrontEnd solved, string? input, string output, string sensor, CancellationToken cancel)
    {
        var compiled = solved.Compiled();
        double rest = Gains([0])[0];
        double corner = rest > 0 ? FrequencySearch.Corner(Hertz, at => [.. Gains(at).Select(g => g / rest)]) : double.PositiveInfinity;
        return double.IsFinite(corner) ? corner : null;

        double[] Gains(double[] at)
        {
            var found = compiled.SolveSmallSignal(sensor, at, cancel);
            return input is null ? [.. found.Response(output).Select(r => r.Magnitude)]
                : [.. found.Response(output).Zip(found.Response(input), (to, from) => (to / from).Magnitude)];
        }
    }

    // Twenty places a decade from 1 mHz to 1 GHz.
    private static readonly double[] Hertz = [.. Enumerable.Range(0, 241).Select(k => 1e-3 * Math.Pow(10, k / 20.0))];

    /// <summary>The front end with no bias current in one of its op amps.</summary>
    public static FrontEnd WithoutBias(FrontEnd frontEnd, string name)
    {
        var amp = frontEnd.AllParts.First(a => a.Name == name);
        return frontEnd.Replace(amp, amp.Idealisations.First(i => i.Of == Imperfection.BiasCurrent).Ideal);
    }

    private static RealThingKind Thing(Imperfection imperfection) => imperfection switch
    {
        Imperfection.Gain => RealThingKind.GainAndInputResistance,
        Imperfection.BiasCurrent => RealThingKind.BiasCurrent,
        Imperfection.OffsetVoltage => RealThingKind.OffsetVoltage,
        Imperfection.Swing => RealThingKind.SwingLimit,
        Imperfection.Bandwidth => RealThingKind.Bandwidth,
        _ => RealThingKind.Leakage,
    };
}
