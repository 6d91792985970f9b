using System.Collections.Immutable;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Bias;
using FrontEndSim.FrontEnds.Studies.Check;

namespace FrontEndSim.FrontEnds.Studies.Build;

/// <summary>The parts list with ratings from the studies, and the order of assembly.</summary>
internal static class BuildParts
{
    // Sizes that are sold (common practice, no source).
    private static readonly double[] Watts = [0.125, 0.25, 0.5, 1, 2, 3, 5, 10], Volts = [6.3, 10, 16, 25, 50, 63, 100, 200, 250, 400, 630, 1000];

    // A part lives long at half of its power and two thirds of its voltage (common practice, no source).
    private const double WattsShare = 0.5, VoltsShare = 2.0 / 3;

    private sealed record Worst(double Watts, double Volts, double Amps, string WattsWhere, string VoltsWhere, string AmpsWhere);

    public static ImmutableArray<PartsLine> List(FrontEnd frontEnd, CheckResult check, CancellationToken cancel)
    {
        var rest = RestPoints(frontEnd, cancel).ToArray();
        var worst = frontEnd.AllParts.ToDictionary(p => p.Name, p => AtRest(p, rest));
        foreach (var result in check.Events)
        {
            foreach (var stress in result.Parts)
            {
                var w = worst[stress.Part.Name];
                string where = $"\"{result.Event.Name}\"";
                if (stress.WarmWatts > w.Watts)
                    w = w with { Watts = stress.WarmWatts, WattsWhere = where };
                if (stress.PeakVolts > w.Volts)
                    w = w with { Volts = stress.PeakVolts, VoltsWhere = where };
                if (stress.PeakAmps > w.Amps)
                    w = w with { Amps = stress.PeakAmps, AmpsWhere = where };
                worst[stress.Part.Name] = w;
            }
        }
        return
        [
            .. frontEnd.AllParts.GroupBy(p => (p.Word, p.ValueText, Needed(p, worst[p.Name])))
                .Select(g => new PartsLine([.. g.Select(p => p.Name)], g.Key.Word, g.Key.ValueText, g.Key.Item3,
                    g.OrderByDescending(p => worst[p.Name].Watts).Select(p => Reason(p, worst[p.Name])).FirstOrDefault(r => r != "") ?? "", g.Any(p => IsBeyond(p, worst[p.Name]))))
                .OrderBy(l => l.Word).ThenBy(l => l.Value),
        ];
    }

    /// <summary>At the ends and the middle of every sensor's span.</summary>
    private static Worst AtRest(Part part, (string Where, OperatingPoint Point)[] rest)
    {
        var worst = new Worst(0, 0, 0, "", "", "");
        foreach (var (where, point) in rest)
        {
            if (!point.Parts.TryGetValue(part.Name, out var reading))
                continue;
            double V(string node) => node == Circuit.Ground ? 0 : point.Nodes[node];
            double across = part is OpAmpPart amp ? V(amp.PositiveRail) - V(amp.NegativeRail) : Math.Abs(V(part.Nodes[0]) - V(part.Nodes[1]));
            if (Math.Abs(reading.Watts) > worst.Watts)
                worst = worst with { Watts = Math.Abs(reading.Watts), WattsWhere = where };
            if (across > worst.Volts)
                worst = worst with { Volts = across, VoltsWhere = where };
            if (Math.Abs(reading.Amps) > worst.Amps)
                worst = worst with { Amps = Math.Abs(reading.Amps), AmpsWhere = where };
        }
        return worst;
    }

    private static IEnumerable<(string Where, OperatingPoint Point)> RestPoints(FrontEnd frontEnd, CancellationToken cancel)
    {
        if (frontEnd.Sensors.IsEmpty)
            yield return ("at rest", BiasStudy.Run(frontEnd, null, cancel).Point);
        foreach (var sensor in frontEnd.Sensors)
        {
            foreach (double volts in new[] { sensor.Span.Low, sensor.Span.Middle, sensor.Span.High })
            {
                var scenario = new Scenario { SensorVolts = ImmutableDictionary<string, double>.Empty.Add(sensor.Name, volts) };
                yield return ($"{sensor.Name} at {SiText.Format(volts, "V")}", BiasStudy.Run(frontEnd, scenario, cancel).Point);
            }
        }
    }

    private static string Needed(Part part, Worst w) => part switch
    {
        ResistorPart r => SiText.Format(Size(Watts, w.Watts / WattsShare, r.RatedWatts), "W"),
        PotentiometerPart p => SiText.Format(Size(Watts, w.Watts / WattsShare, p.RatedWatts), "W"),
        CapacitorPart => SiText.Format(Size(Volts, w.Volts / VoltsShare, 0), "V"),
        DiodePart { Type.Kind: DiodeKind.Zener } d => SiText.Format(d.Type.RatedWatts, "W"),
        OpAmpPart a => $"supply up to {SiText.Format(a.Type.HighestSupplyVolts, "V")}",
        _ => "",
    };

    /// <summary>The smallest size sold that is not below what is needed and what the circuit file asks for; what is needed if none is sold.</summary>
    private static double Size(double[] sizes, double needed, double asked) => sizes.Where(s => s >= Math.Max(needed, asked) * (1 - 1e-9)).FirstOrDefault(Math.Max(needed, asked));

    private static string Reason(Part part, Worst w) => part switch
    {
        ResistorPart or PotentiometerPart when w.Watts > 0 => $"{SiText.Format(w.Watts, "W", 3)} ({w.WattsWhere})",
        CapacitorPart when w.Volts > 0 => $"{SiText.Format(w.Volts, "V", 3)} ({w.VoltsWhere})",
        DiodePart when w.Amps > 0 => $"{SiText.Format(w.Amps, "A", 3)} and {SiText.Format(w.Watts, "W", 3)} ({(w.WattsWhere == "" ? w.AmpsWhere : w.WattsWhere)})",
        OpAmpPart => $"{SiText.Format(w.Volts, "V", 3)} between its supply pins",
        _ => "",
    };

    private static bool IsBeyond(Part part, Worst w) => part.Ratings.Any(r => r.Kind switch
    {
        RatingKind.Power => w.Watts > r.Limit,
        RatingKind.Voltage => w.Volts > r.Limit,
        _ => w.Amps > r.Limit,
    }) || part is OpAmpPart amp && w.Volts > amp.Type.HighestSupplyVolts;

    /// <summary>Supplies, then from the pin back to the sensor: nothing that can hurt the pin is connected before what protects it.</summary>
    public static ImmutableArray<string> Steps(FrontEnd frontEnd)
    {
        var steps = ImmutableArray.CreateBuilder<string>();
        steps.Add($"Supplies: wire {string.Join(", ", frontEnd.Rails.Select(r => r.Name))}{(frontEnd.Rails.IsEmpty ? "" : " and ")}ground, with 100 nF at each op amp's supply pins (common practice). "
            + "Set the supplies' current limits to twice what the circuit draws. Measure the rails, then switch off.");
        var pinNodes = frontEnd.Pins.Select(p => p.Node).ToHashSet();
        foreach (var stage in frontEnd.Stages.Reverse())
        {
            string names = string.Join(", ", stage.Parts.Where(p => p is not OpAmpPart).Select(p => p.Name[(p.Name.IndexOf('.') + 1)..]));
            bool guards = stage.Ports.Any(p => pinNodes.Contains(p.Node)) && stage.Parts.Any(p => p is DiodePart);
            string polarity = string.Concat(stage.Parts.OfType<DiodePart>().Select(d => $" {d.Name[(d.Name.IndexOf('.') + 1)..]}: band (cathode) to {d.To}."));
            var amps = stage.Parts.OfType<OpAmpPart>().ToArray();
            steps.Add($"Stage {stage.Name} ({stage.Kind}): fit {(names == "" ? "no passive parts" : names)}, and check each value with the meter before soldering."
                + polarity + (amps.Length > 0 ? $" Then {string.Join(" and ", amps.Select(a => a.Name[(a.Name.IndexOf('.') + 1)..]))} "
                    + $"({amps[0].Type.Name}) on {amps[0].PositiveRail} and {amps[0].NegativeRail}." : "")
                + (guards ? " Leave the pin itself open for now." : ""));
        }
        if (frontEnd.Parts.Length > 0)
            steps.Add($"Single parts: {string.Join(", ", frontEnd.Parts.Select(p => $"{p.Name} ({p.ValueText}, {string.Join(" to ", p.Nodes)})"))}.");
        steps.Add($"Put a bench supply or calibrator in place of {string.Join(", ", frontEnd.Sensors.Select(s => s.Name + (s.SourceOhms > 0 ? $", with {SiText.Format(s.SourceOhms, "ohm")} in series" : "")))}, "
            + "switch on, and go through the bench points. Stop at the first that is out of its limits.");
        steps.Add($"Only then connect {string.Join(", ", frontEnd.Pins.Select(p => "pin " + p.Name))}, calibrate, and fit the sensor.");
        return steps.ToImmutable();
    }
}
