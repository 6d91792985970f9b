using System.Collections.Immutable;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Bias;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Events;

namespace FrontEndSim.FrontEnds.Studies.Build;

/// <summary>The parts list with ratings from the studies, and the order of assembly.</summary>
internal static class BuildParts
{
    /// <summary>What a part stands against one of its ratings at its worst, and where.</summary>
    private sealed record Worst(RatingStress Stress, string Where);

    public static ImmutableArray<PartsLine> List(FrontEnd frontEnd, CheckResult check, CancellationToken cancel)
    {
        var worst = frontEnd.AllParts.ToDictionary(p => p.Name, _ => new List<Worst>());
        foreach (var (where, point) in RestPoints(frontEnd, cancel))
        {
            foreach (var part in frontEnd.AllParts)
                Keep(worst[part.Name], part.Ratings(frontEnd.Celsius).Select(r => RatingStress.At(r, point)), where);
        }
        foreach (var result in check.Events)
        {
            foreach (var stress in result.Parts)
                Keep(worst[stress.Part.Name], stress.Stresses, $"\"{result.Event.Name}\"");
        }
        return
        [
            .. frontEnd.AllParts.GroupBy(p => (p.Word, p.ValueText, Needed: Needed(p, worst[p.Name])))
                .Select(g => new PartsLine([.. g.Select(p => p.Name)], g.Key.Word, g.Key.ValueText, g.Key.Needed,
                    g.OrderByDescending(p => Deciding(p, worst[p.Name])?.Stress.Found ?? 0).Select(p => Reason(p, worst[p.Name])).FirstOrDefault(r => r != "") ?? "",
                    g.Any(p => worst[p.Name].Any(w => w.Stress.Share > 1))))
                .OrderBy(l => l.Word).ThenBy(l => l.Value),
        ];
    }

    /// <summary>Keeps the worst of each rating.</summary>
    private static void Keep(List<Worst> worst, IEnumerable<RatingStress> stresses, string where)
    {
        int k = 0;
        foreach (var stress in stresses)
        {
            if (k == worst.Count)
                worst.Add(new(stress, where));
            else if (stress.Share > worst[k].Stress.Share)
                worst[k] = new(stress, where);
            k++;
        }
    }

    /// <summary>What is stood of the rating that the part is bought by.</summary>
    private static Worst? Deciding(Part part, List<Worst> worst) =>
        part.Purchase is { } purchase ? worst.FirstOrDefault(w => w.Stress.Rating.Kind == purchase.Kind) : null;

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

    // A load above what a pulse may bring is put in terms of the rating for any time, which is what is bought.
    private static string Needed(Part part, List<Worst> worst)
    {
        if (part.Purchase is not { } purchase)
            return "";
        var stress = Deciding(part, worst)?.Stress;
        string size = SiText.Format(purchase.SizeFor(stress is null ? 0 : stress.Share * stress.Rating.Limit), purchase.Kind.Unit);
        return purchase.Kind == RatingKind.SupplyVoltage ? "supply up to " + size : size;
    }

    private static string Reason(Part part, List<Worst> worst)
    {
        Worst[] told = Deciding(part, worst) is { } deciding ? [deciding] : [.. worst.Where(w => w.Stress.Found > 0)];
        return told.All(w => w.Stress.Found == 0) ? ""
            : string.Join(", ", told.Select(w => $"{SiText.Format(w.Stress.Found, w.Stress.Rating.Kind.Unit, 3)} ({w.Where})"));
    }

    /// <summary>Supplies, then from the pin back to the sensor: nothing that can hurt the pin is connected before what protects it.</summary>
    public static ImmutableArray<string> Steps(FrontEnd frontEnd)
    {
        var steps = ImmutableArray.CreateBuilder<string>();
        steps.Add($"Supplies: wire {string.Join(", ", frontEnd.Rails.Select(r => r.Name))}{(frontEnd.Rails.IsEmpty ? "" : " and ")}ground, with 100 nF at each op amp's supply pins (common practice). "
            + "Set the supplies' current limits to twice what the circuit draws. Measure the rails, then switch off.");
        var pinNodes = frontEnd.Pins.Select(p => p.Node).ToHashSet();
        foreach (var stage in frontEnd.Stages.Reverse())
        {
            string Short(Part part) => part.Name[(part.Name.IndexOf('.') + 1)..];
            var passive = stage.Parts.Where(p => p.Amplifier is null).ToArray();
            var active = stage.Parts.Where(p => p.Amplifier is not null).ToArray();
            bool guards = stage.Ports.Any(p => pinNodes.Contains(p.Node)) && stage.Parts.Any(p => p.Role is Role.UpperClamp or Role.LowerClamp or Role.Zener);
            steps.Add($"Stage {stage.Name} ({stage.Kind}): fit {(passive.Length == 0 ? "no passive parts" : string.Join(", ", passive.Select(Short)))}, "
                + "and check each value with the meter before soldering."
                + string.Concat(stage.Parts.Where(p => p.Mounting != "").Select(p => $" {Short(p)}: {p.Mounting}."))
                + (active.Length > 0 ? $" Then {string.Join(" and ", active.Select(Short))} "
                    + $"({active[0].ValueText}) on {active[0].Amplifier!.PositiveRail} and {active[0].Amplifier!.NegativeRail}." : "")
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
