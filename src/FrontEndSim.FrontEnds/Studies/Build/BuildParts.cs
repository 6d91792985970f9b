using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Build;

/// <summary>The parts list with ratings from the studies, and the order of assembly.</summary>
internal static class BuildParts
{
    /// <summary>What a part stands against one of its ratings at its worst, and where.</summary>
    private sealed record Worst(RatingStress Stress, Where Where);

    private sealed record Where(string? Event, string? Sensor = null, double? SensorValue = null, string SensorUnit = "V");

    public static ImmutableArray<PartsLine> List(SolvedFrontEnd solved, CancellationToken cancel)
    {
        var frontEnd = solved.FrontEnd;
        var worst = frontEnd.AllParts.ToDictionary(p => p.Name, _ => new List<Worst>());
        foreach (var (where, point) in RestPoints(solved, cancel))
        {
            foreach (var part in frontEnd.AllParts)
                Keep(worst[part.Name], part.Ratings(frontEnd.Celsius).Select(r => RatingStress.At(r, point)), where);
        }
        // At the worst circumstances of each event, as check judges it.
        foreach (var run in frontEnd.Events.SelectMany(e => solved.Survival(e, cancel).Runs))
        {
            foreach (var part in frontEnd.AllParts)
            {
                Keep(worst[part.Name], part.Ratings(frontEnd.Celsius).Select(rating =>
                    run.Loads.FirstOrDefault(l => l.Part == part.Name && l.Kind == rating.Kind) is { } load
                        ? new RatingStress(rating, load.Found.Value, load.Limit.Value, load.PulseSeconds) : new(rating, 0, rating.Limit)),
                    new(run.Where.Event));
            }
        }
        return
        [
            .. frontEnd.AllParts.GroupBy(p => (p.Word, p.ValueText, Needed: Needed(p, worst[p.Name])))
                .Select(g => new PartsLine([.. g.Select(p => p.Name)], g.Key.Word, g.Key.ValueText, g.Key.Needed,
                    g.OrderByDescending(p => worst[p.Name].Any(w => w.Stress.Share > 1))
                        .ThenByDescending(p => Deciding(p, worst[p.Name])?.Stress.Found ?? 0)
                        .Select(p => Told(p, worst[p.Name])).FirstOrDefault(w => !w.IsEmpty, []),
                    g.Any(p => worst[p.Name].Any(w => w.Stress.Share > 1))))
                .OrderBy(l => l.Word).ThenBy(l => l.Value),
        ];
    }

    /// <summary>Keeps the worst of each rating.</summary>
    private static void Keep(List<Worst> worst, IEnumerable<RatingStress> stresses, Where where)
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

    private static IEnumerable<(Where Where, OperatingPoint Point)> RestPoints(SolvedFrontEnd solved, CancellationToken cancel)
    {
        if (solved.FrontEnd.Sensors.IsEmpty)
            yield return (new(null), solved.Rest(cancel: cancel));
        foreach (var sensor in solved.FrontEnd.Sensors)
        {
            foreach (double volts in new[] { sensor.Span.Low, sensor.Span.Middle, sensor.Span.High })
                yield return (new(null, sensor.Name, volts, sensor.UnitText), solved.Rest(SolvedFrontEnd.At(sensor.Name, volts), cancel));
        }
    }

    // A load above what a pulse may bring is put in terms of the rating for any time, which is what is bought.
    private static PartsNeed? Needed(Part part, List<Worst> worst)
    {
        if (part.Purchase is not { } purchase)
            return null;
        var stress = Deciding(part, worst)?.Stress;
        return new(purchase.Kind, purchase.SizeFor(stress is null ? 0 : stress.Share * stress.Rating.Limit));
    }

    // Less of a rating than this is rounding.
    private const double Telling = 1e-9;

    /// <summary>What is told: of the rating that the part is bought by, else of each, and of whatever is exceeded, which comes
    /// first.</summary>
    private static ImmutableArray<PartsWorst> Told(Part part, List<Worst> worst)
    {
        var deciding = Deciding(part, worst);
        return [.. worst.Where(w => w.Stress.Share > 1 || w.Stress.Share > Telling && (deciding is null || w == deciding))
            .OrderByDescending(w => w.Stress.Share > 1)
            .Select(w => new PartsWorst(w.Stress.Rating.Kind, w.Stress.Found, w.Where.Event, w.Where.Sensor, w.Where.SensorValue)
            {
                SensorUnit = w.Where.SensorUnit,
                PulseSeconds = w.Stress.Seconds,
                IsBeyond = w.Stress.Share > 1,
            })];
    }

    /// <summary>Supplies, then from the pin back to the sensor: nothing that can hurt the pin is connected before what protects
    /// it.</summary>
    public static ImmutableArray<AssemblyStep> Steps(FrontEnd frontEnd)
    {
        var pinNodes = frontEnd.Pins.Select(p => p.Node).ToHashSet();
        return
        [
            new(AssemblyKind.Supplies, [.. frontEnd.Rails.Select(r => r.Name)])
            {
                Amplifiers = [.. frontEnd.AllParts.Where(p => p.Amplifier is not null).Select(p => p.Name)],
            },
            .. frontEnd.Stages.Reverse().Select(Step),
            .. frontEnd.Parts.IsEmpty ? [] : new[]
            {
                new AssemblyStep(AssemblyKind.SingleParts, [.. frontEnd.Parts.Select(p => p.Name)])
                {
                    Placed = [.. frontEnd.Parts.Select(p => new PlacedPart(p.Name, p.ValueText, p.Nodes))],
                },
            },
            new(AssemblyKind.Sensors, [.. frontEnd.Sensors.Select(s => s.Name)]) { SourceOhms =
                [.. frontEnd.Sensors.Select(s => s.SourceOhms)] },
            new(AssemblyKind.Pins, [.. frontEnd.Pins.Where(p => p.SameAs is null).Select(p => p.Name)]),
        ];

        AssemblyStep Step(Stage stage)
        {
            string Short(Part part) => part.Name[(part.Name.IndexOf('.') + 1)..];
            var active = stage.Parts.Where(p => p.Amplifier is not null).ToArray();
            return new(AssemblyKind.Stage, [.. stage.Parts.Where(p => p.Amplifier is null).Select(Short)])
            {
                Stage = stage.Name,
                StageKind = stage.Kind,
                Mounting = new OrderedDictionary<string,
                    string>(stage.Parts.Where(p => p.Mounting != "").Select(p => KeyValuePair.Create(Short(p), p.Mounting))),
                Amplifiers = [.. active.Select(Short)],
                AmplifierType = active.FirstOrDefault()?.ValueText,
                Supplies = active.Length == 0 ? [] : [active[0].Amplifier!.PositiveRail, active[0].Amplifier!.NegativeRail],
                LeavesPinOpen = stage.Ports.Any(p => pinNodes.Contains(p.Node))
                    && stage.Parts.Any(p => p.Role is Role.UpperClamp or Role.LowerClamp or Role.Zener),
            };
        }
    }
}
