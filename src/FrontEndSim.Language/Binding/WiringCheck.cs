using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies;
using FrontEndSim.Language.Binding.Scopes;

namespace FrontEndSim.Language.Binding;

/// <summary>What is probably not meant, and what no solver could solve, told where it was written.</summary>
internal static class WiringCheck
{
    /// <summary>Beyond so many parts times events, events are left to the study that runs them.</summary>
    private const long MostEventParts = 1_000_000;

    public static void Run(FrontEnd frontEnd, FrontEndBuilder builder, SourceFile main)
    {
        if (builder.Title is null && !frontEnd.AllParts.Any())
        {
            builder.Diagnostics.Add(MeantForInclusion(main));
            return;
        }
        var all = new SourceSpan(main, 0, 0, 0);
        if (builder.Title is null)
            builder.Diagnostics.Add(Diagnostic.Of(main.Path, Severity.Warning, DiagnosticCode.NoTitle, "The circuit has no title.") with
            {
                Suggestion = "circuit \"what it is for\" as the first line",
            });
        WarnOfUnused(builder);
        foreach (var part in frontEnd.AllParts.Where(p => p.Amplifier is null && p.Nodes.Distinct().Count() == 1))
            builder.Diagnostics.Warn(builder.Places[part.Name], DiagnosticCode.Shorted,
                $"{part.Name} has all its terminals on node {part.Nodes[0]}: it is shorted by its own wiring.");
        CheckNodes(frontEnd, builder);
        CheckSupplies(frontEnd, builder);
        CheckChannels(frontEnd, builder);
        if (builder.Diagnostics.HasErrors)
            return;
        foreach (var problem in frontEnd.ToCircuit().Problems)
        {
            var span = problem.Element is { } part && PlaceOf(part, builder) is { } place ? place
                : problem.Node is { } node && builder.Nodes.TryGetValue(node, out var mention) ? mention : all;
            builder.Diagnostics.Add(span.Line > 0 ? Diagnostic.At(span, Severity.Error, DiagnosticCode.NoSolvableCircuit, problem.Message)
                : Diagnostic.Of(main.Path, Severity.Error, DiagnosticCode.NoSolvableCircuit, problem.Message));
        }
        if (!builder.Diagnostics.HasErrors && (long)frontEnd.Events.Length * frontEnd.AllParts.Count() <= MostEventParts)
            CheckEvents(frontEnd, builder);
    }

    private static Diagnostic MeantForInclusion(SourceFile main)
    {
        var others = Includers.Of(main.Path);
        string name = Path.GetFileName(main.Path);
        return Diagnostic.Of(main.Path, Severity.Error, DiagnosticCode.NoCircuit,
            "The file has no part, no stage and no title, so there is no circuit to look at: it is there to be included by others.") with
        {
            Suggestion = others.Count > 0
                ? $"{string.Join(" or ", others.Take(3))}, which {(others.Count == 1 ? "includes" : "include")} it"
                : $"include \"{name}\" in a file that begins with circuit \"what it is for\" and holds the parts",
        };
    }

    /// <summary>A lost rail must be a rail and a short must lead somewhere: each event is put into the circuit once.</summary>
    private static void CheckEvents(FrontEnd frontEnd, FrontEndBuilder builder)
    {
        foreach (var happening in frontEnd.Events)
        {
            var span = builder.EventPlaces[happening.Name];
            try
            {
                foreach (var problem in frontEnd.ToCircuit(new Scenario { Event = happening }).Problems)
                    builder.Diagnostics.Error(span, DiagnosticCode.ImpossibleEvent, "During this event: " + problem.Message);
            }
            catch (StudyProblemException e)
            {
                builder.Diagnostics.Error(span, DiagnosticCode.ImpossibleEvent, ProblemWords.Of(e.Problem));
            }
        }
    }

    private static void WarnOfUnused(FrontEndBuilder builder)
    {
        foreach (var (name, declaration) in builder.Names)
        {
            if (!declaration.IsUsed && declaration.What is "let" or "rail" or "template" or "part"
                && builder.IsMain(declaration.Span) && !name.Contains('.'))
                builder.Diagnostics.Warn(declaration.Span, DiagnosticCode.Unused, $"The {declaration.What} {name} is not used.");
        }
    }

    /// <summary>An op amp or gate whose supply is no rail and is fed by nothing would be simulated at 0 V.</summary>
    private static void CheckSupplies(FrontEnd frontEnd, FrontEndBuilder builder)
    {
        (Part Part, ImmutableArray<string> Supplies)[] fed =
            [.. frontEnd.AllParts.Select(p => (p, p.SupplyNodes)).Where(p => p.SupplyNodes.Length > 0)];
        if (fed.Length == 0)
            return;
        var volts = frontEnd.Rails.ToDictionary(r => r.Name, r => r.Volts.Value);
        volts[Circuit.Ground] = 0;
        var joined = frontEnd.AllParts.SelectMany(p => p.Nodes).Concat(frontEnd.Sensors.SelectMany(s => s.Nodes))
            .CountBy(n => n).ToDictionary();
        var taken = fed.SelectMany(p => p.Supplies).CountBy(n => n).ToDictionary();
        foreach (var (part, supplies) in fed.Where(p => builder.Places.ContainsKey(p.Part.Name)))
        {
            if (supplies.FirstOrDefault(s => !volts.ContainsKey(s) && joined[s] == taken[s]) is { } dead)
            {
                builder.Diagnostics.Error(builder.Places[part.Name], DiagnosticCode.NoSupply,
                    $"{part.Name} is supplied from {dead}, which is no rail and which nothing feeds.",
                    null, Nearest.Question(dead, volts.Keys) ?? $"a line such as: rail {dead} 5 V");
            }
            else if (supplies is [var high, var low] && volts.TryGetValue(high, out double above)
                && volts.TryGetValue(low, out double below) && !(above > below))
            {
                builder.Diagnostics.Error(builder.Places[part.Name], DiagnosticCode.SupplyReversed,
                    $"The first supply of {part.Name}, {high}, is not above the second, {low}.", null,
                    above < below ? $"on {low} and {high}" : $"a rail above {low} in place of {high}");
            }
        }
    }

    private static void CheckChannels(FrontEnd frontEnd, FrontEndBuilder builder)
    {
        foreach (var pin in frontEnd.Pins)
        {
            if (pin.Channel is { } channel && frontEnd.AllParts.FirstOrDefault(p => p.Name == channel.Multiplexer)
                is { Selection: { } chip } && !chip.Channels.Contains(channel.Node))
            {
                builder.Diagnostics.Error(builder.Places[pin.Name], DiagnosticCode.ChannelsUnclear,
                    $"{channel.Node} is no channel of {channel.Multiplexer}, which has {string.Join(", ", chip.Channels)}.", null,
                    Nearest.Question(channel.Node, chip.Channels));
            }
        }
    }

    private static void CheckNodes(FrontEnd frontEnd, FrontEndBuilder builder)
    {
        var connections = frontEnd.AllParts.SelectMany(p => p.Nodes)
            .Concat(frontEnd.Sensors.SelectMany(s => s.Nodes)).Concat(frontEnd.Rails.Select(r => r.Name)).Append(Circuit.Ground)
            .GroupBy(n => n).ToDictionary(g => g.Key, g => g.Count());
        var pins = frontEnd.Pins.Select(p => p.Node).ToHashSet();
        foreach (var (node, span, by) in builder.Probes.Where(p => !connections.ContainsKey(p.Node)))
        {
            builder.Diagnostics.Error(span, DiagnosticCode.NothingConnected, $"Nothing is connected to node {node}, which {by} names.",
                null, Nearest.Question(node, connections.Keys.Where(n => !n.Contains('.'))));
        }
        // A resistance, a current or a bridge that nothing else is connected to gives nothing.
        HashSet<string> pathless = [];
        foreach (var couple in frontEnd.Sensors.Where(s => s.Law is ThermocoupleLaw { IsJunctionMeasured: true }
            && !frontEnd.Readings.Any(r => r.Formula is null && r.Sensor == s.Name)))
        {
            builder.Diagnostics.Error(builder.Places[couple.Name], DiagnosticCode.ReadingUndecided,
                $"The cold junction of {couple.Name} is said to be measured, but no reading combines it.",
                "a line such as reading NAME from HOT-PIN and COLD-PIN");
        }
        foreach (var sensor in frontEnd.Sensors.Where(s => s.ExcitedBy is not null && frontEnd.HertzOf(s) is null))
        {
            builder.Diagnostics.Error(builder.Places[sensor.Name], DiagnosticCode.SensorUndecided,
                $"Sensor {sensor.Name} is excited by {sensor.ExcitedBy}, which is no source with a sine.",
                $"a line such as source {sensor.ExcitedBy} from OSC to GND 0 V sine 1 V at 10 kHz");
        }
        // A capacitor carries none that lasts.
        var lasting = frontEnd.AllParts.Where(p => !p.BlocksLasting).SelectMany(p => p.Nodes)
            .Concat(frontEnd.Sensors.SelectMany(s => s.Nodes)).Concat(frontEnd.Rails.Select(r => r.Name)).Append(Circuit.Ground)
            .CountBy(n => n).ToDictionary();
        foreach (var sensor in frontEnd.Sensors.Where(s => s.Output != Unit.Volts && s.ShowsAtRest))
        {
            if (sensor.Wiring is Bridge bridge && new[] { bridge.Top, bridge.Bottom }
                .FirstOrDefault(n => bridge.Top == bridge.Bottom || lasting.GetValueOrDefault(n) == 1) is { } end)
            {
                pathless.UnionWith([bridge.Top, bridge.Bottom]);
                builder.Diagnostics.Error(builder.Places[sensor.Name], DiagnosticCode.SensorWithoutPath,
                    $"Bridge {sensor.Name} has no excitation: " + (bridge.Top == bridge.Bottom ? $"both its ends are at {end}."
                        : $"nothing feeds {end}."), $"a rail at {end}, such as rail {end} 5 V");
                continue;
            }
            // The track of a potentiometer is a path of its own: its wiper needs no other.
            var ends = sensor.Wiring is Track track ? [track.Top, sensor.Other] : sensor.Nodes;
            if (ends.FirstOrDefault(n => lasting.GetValueOrDefault(n) == 1) is not { } node)
                continue;
            pathless.Add(node);
            builder.Diagnostics.Error(builder.Places[sensor.Name], DiagnosticCode.SensorWithoutPath,
                $"Sensor {sensor.Name} has no path for its current: at {node} "
                + $"{(pins.Contains(node) ? "a pin alone" : connections[node] > 1 ? "a capacitor alone" : "nothing else")} is connected.",
                sensor.Output == Unit.Amps ? $"a resistor from {node} to GND, for example" : $"a resistor or a rail at {node}");
        }
        foreach (var (node, span) in builder.Nodes.Where(n => !pathless.Contains(n.Key)))
        {
            if (frontEnd.Rails.FirstOrDefault(r => r.Name != node && r.Name.Equals(node, StringComparison.OrdinalIgnoreCase)) is { } rail)
            {
                builder.Diagnostics.Warn(span, DiagnosticCode.NearlyRail,
                    $"Node {node} is not the rail {rail.Name}: large and small letters differ.", rail.Name);
                continue;
            }
            if (connections.GetValueOrDefault(node) == 1 && !pins.Contains(node))
            {
                builder.Diagnostics.Warn(span, DiagnosticCode.LooseEnd, $"Node {node} has one connection only: nothing flows through it.",
                    Nearest.Question(node, connections.Keys.Where(n => n != node && !n.Contains('.'))));
            }
        }
    }

    /// <summary>Where a part was written; elements that belong to a part carry its name and a suffix.</summary>
    private static SourceSpan? PlaceOf(string element, FrontEndBuilder builder)
    {
        for (string name = element; ; name = name[..name.LastIndexOf('.')])
        {
            if (builder.Places.TryGetValue(name, out var place))
                return place;
            if (builder.Names.TryGetValue(name, out var declaration))
                return declaration.Span;
            if (!name.Contains('.'))
                return null;
        }
    }
}
