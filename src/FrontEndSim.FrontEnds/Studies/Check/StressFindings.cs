using System.Collections.Immutable;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Studies.Bias;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.FrontEnds.Studies.Faults;

namespace FrontEndSim.FrontEnds.Studies.Check;

/// <summary>How requirements on power and on single faults stand.</summary>
internal static class StressFindings
{
    public static RequirementResult Judge(InsideRatingWithSingleFault requirement, FrontEnd frontEnd, IProgress<StudyProgress>? progress, CancellationToken cancel)
    {
        frontEnd.FindPin(requirement.Pin);
        var all = FaultsStudy.Run(frontEnd, progress, cancel).Faults.Where(r => r.Pin == requirement.Pin).ToArray();
        if (all.Length == 0)
            throw new StudyProblemException($"\"{requirement.Text}\" cannot be judged: the circuit has nothing that could be broken.");
        var broken = all.Where(r => !r.Survives).ToArray();
        const string limit = "0";
        if (broken.Length == 0)
        {
            var nearest = all.MinBy(Tightness)!;
            return new(requirement, true, $"0 of {all.Length} faults break it", limit, "all survived",
                $"The nearest is {nearest.Text}. {nearest.Reason}", "");
        }
        var worst = broken.MinBy(Tightness)!;
        string others = broken.Length == 1 ? "" : $" Also: {string.Join("; ", broken.Where(r => r != worst).Select(r => r.Text).Take(4))}{(broken.Length > 5 ? "; …" : "")}.";
        return new(requirement, false, $"{broken.Length} of {all.Length} faults break it", limit, $"{broken.Length} too many",
            $"With {worst.Text}: {worst.Reason}{others}", Remedy(frontEnd, worst));
    }

    private static double Tightness(FaultRow row) => new[] { row.AtLowEnd, row.AtHighEnd, row.InWorstEvent }
        .Select(e => e?.Tightness ?? double.PositiveInfinity).Append(row.AtLowEnd is null ? double.NegativeInfinity : double.PositiveInfinity).Min();

    private static string Remedy(FrontEnd frontEnd, FaultRow worst)
    {
        var fault = worst.Fault!;
        var part = frontEnd.AllParts.FirstOrDefault(p => p.Name == fault.Subject);
        return (part, fault.Mode) switch
        {
            (DiodePart, FaultMode.Open or FaultMode.Reversed) => $"Do not let all rest on {fault.Subject}: a second clamp, or a larger series resistor ahead of the pin, would hold when it is {Word(fault.Mode)}.",
            (ResistorPart, FaultMode.Short) => $"Split {fault.Subject} into two resistors in series, so that one short leaves the other.",
            (ResistorPart, FaultMode.Open) => $"Give the node that {fault.Subject} holds a second way to where it leads, or a limit behind it.",
            (_, FaultMode.RailLost or FaultMode.RailOpen) => $"Limit what the signal can push into pin {worst.Pin} while {fault.Subject} is off: a larger series resistor, or a switch that parts the signal.",
            (OpAmpPart, _) => $"Supply {fault.Subject} from rails that pin {worst.Pin} can stand, or limit its output current by a larger series resistor ahead of the pin.",
            _ => $"Limit what reaches pin {worst.Pin} when {worst.Text}: a larger series resistor or a further clamp.",
        };
    }

    private static string Word(FaultMode mode) => mode == FaultMode.Open ? "open" : "reversed";

    public static RequirementResult Judge(PartPower requirement, FrontEnd frontEnd, ImmutableArray<EventResult> events, CancellationToken cancel)
    {
        var part = frontEnd.AllParts.FirstOrDefault(p => p.Name == requirement.Part)
            ?? throw new StudyProblemException($"There is no part named {requirement.Part}.");
        var rating = part.Ratings(frontEnd.Celsius).FirstOrDefault(r => r.Kind == RatingKind.Power)
            ?? throw new StudyProblemException($"\"{requirement.Text}\" cannot be judged: {part.Word} {part.Name} has no rated power.");
        var found = new List<(string Where, double Watts)>();
        foreach (var (end, volts) in ((string, Func<Sensor, double>)[])[("lower", s => s.Span.Low), ("upper", s => s.Span.High)])
        {
            var scenario = new Scenario { SensorVolts = frontEnd.Sensors.ToImmutableDictionary(s => s.Name, volts) };
            var point = BiasStudy.Run(frontEnd, scenario, cancel).Point;
            found.Add(($"at rest at the {end} end of the span", part.ToElements().Sum(e => point.Parts[e.Name].Watts)));
        }
        found.AddRange(events.Select(e => ($"in \"{e.Event.Name}\"", e.Parts.First(s => s.Part.Name == part.Name).WarmWatts)));
        var (where, watts) = found.MaxBy(f => f.Watts);
        double share = watts / rating.Limit;
        bool met = share < requirement.MaximumShare;
        return new(requirement, met, SiText.Format(share, "%", 3), SiText.Format(requirement.MaximumShare, "%", 3),
            SiText.Format(requirement.MaximumShare - share, "%", 3),
            $"{char.ToUpperInvariant(where[0])}{where[1..]} {part.Name} ({part.Word} {part.ValueText}) takes {SiText.Format(watts, "W", 3)} of its rated {SiText.Format(rating.Limit, "W", 3)}, "
            + $"averaged over {SiText.Format(part.ThermalSeconds, "s", 3)}.",
            met ? "" : $"Use a {part.Word} rated {SiText.Format(watts / requirement.MaximumShare, "W", 2)} or more for {part.Name}, or put more resistance ahead of it.");
    }
}
