using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies.Check;

namespace FrontEndSim.FrontEnds.Studies.Events;

/// <summary>What of a dimension is moved: a front end with it at an end (−1 or 1), and how that is said.</summary>
/// <param name="At">Gives the front end, and what the circumstance is called, with it at an end.</param>
internal sealed record Dimension(Func<FrontEnd, Occasion, int, (FrontEnd, Occasion)> At)
{
    /// <summary>Whether there is one other state alone, which counts as the upper end.</summary>
    public bool IsOneWay { get; init; }

    /// <summary>Whether what one end does is about the opposite of what the other does.</summary>
    public bool IsStraight { get; init; }

    /// <summary>Whether it is the temperature.</summary>
    public bool IsTemperature { get; init; }

    /// <summary>The part whose limit, such as a breakdown voltage, it moves; null for anything else.</summary>
    public string? LimitOf { get; init; }

    // Where a sine is largest, degrees.
    private const double Crest = 90;

    /// <summary>What is always moved. What only events have comes last: a corner of the operating point is one of theirs.</summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="fault">The event; null for the operating point.</param>
    /// <param name="humShare">How much of the crest of a sensor's hum reaches pins.</param>
    public static IEnumerable<Dimension> Ends(FrontEnd frontEnd, FaultEvent? fault, Func<Sensor, double> humShare)
    {
        if (!frontEnd.Sensors.IsEmpty)
            yield return new((f, w, end) => (f, w with { Sensors = end < 0 ? SpanPlace.Low : SpanPlace.High }));
        // Several stand where they like.
        foreach (var sensor in frontEnd.Sensors.Length > 1 ? frontEnd.Sensors : [])
        {
            yield return new((f, w, end) => (f, w with
            {
                Ends = w.Ends.Add(new(sensor.Name, Quantity.InText(end < 0 ? sensor.Span.Low : sensor.Span.High, sensor.UnitText),
                    end > 0)),
            }));
        }
        // What a sensor's line brings with it; its hum at rest alone, as an event may take the sensor's place.
        foreach (var sensor in frontEnd.Sensors.Where(s => s.HasLine))
        {
            double share = fault is null ? humShare(sensor) : 0;
            yield return new((f, w, end) =>
            {
                var (lifted, by) = sensor.Lifted(end > 0, share);
                return (f with { Sensors = [.. f.Sensors.Select(s => s.Name == sensor.Name ? lifted : s)] },
                    w with { Ends = w.Ends.Add(new(sensor.Name + ".line", by, end > 0)) });
            });
        }
        foreach (var contact in frontEnd.AllParts.Where(p => p.Turned is not null))
        {
            yield return new((f, w, end) => (f.Replace(f.AllParts.First(p => p.Name == contact.Name), contact.Turned),
                w with { Turned = w.Turned.Add(contact.Name) }))
            { IsOneWay = true };
        }
        foreach (var (chip, channel) in frontEnd.AllParts.SelectMany(p =>
            p.Selection is { } s ? s.Channels.Where(c => c != s.Selected).Select(c => (p, c)) : []))
        {
            yield return new((f, w, end) => (
                f.Replace(f.AllParts.First(p => p.Name == chip.Name), chip.Selecting(channel, [])),
                w with { Selected = w.Selected.RemoveAll(c => c.Multiplexer == chip.Name).Add(new(chip.Name, channel)) }))
            { IsOneWay = true };
        }
        // What is plugged in at any instant meets the crest as well as the zero from which its wave is written.
        foreach (var plug in fault?.Disturbance is TimePasses ? frontEnd.AllParts.OfType<SourcePart>().Where(s => s.IsDangerous) : [])
        {
            yield return new((f, w, end) =>
            {
                double degrees = end < 0 ? -Crest : Crest;
                return (f.Replace(f.AllParts.First(p => p.Name == plug.Name), plug with { ConnectedAtDegrees = degrees }), w with
                {
                    Ends = w.Ends.Add(new(plug.Name, Quantity.InText(degrees, "°"), end > 0) { Of = "phase" }),
                });
            });
        }
        foreach (var track in frontEnd.AllParts.Where(p => p.Contact is { IsAnywhere: true }))
        {
            yield return new((f, w, end) => (
                f.Replace(f.AllParts.First(p => p.Name == track.Name), track.SlidTo(end < 0 ? 0 : 1)),
                w with { Ends = w.Ends.Add(new(track.Name, Quantity.InText(end < 0 ? 0 : 100, "%"), end > 0) { Of = "position" }) }));
        }
        if (frontEnd.CelsiusRange is { } range)
        {
            yield return new((f, w, end) =>
            {
                double celsius = end < 0 ? range.Low : range.High;
                return (f with { Celsius = celsius }, w with { Celsius = celsius });
            })
            { IsTemperature = true };
        }
        foreach (var rail in frontEnd.Rails.Where(r => r.Volts.Tolerance > 0 && r.PresentVolts is null))
        {
            yield return new((f, w, end) =>
            {
                double volts = end < 0 ? rail.Volts.Least : rail.Volts.Most;
                return (f.WithRails(r => r.Name == rail.Name ? r with { PresentVolts = volts } : r),
                    w with { Ends = w.Ends.Add(new(rail.Name, new(volts, Unit.Volts), end > 0)) });
            });
        }
        if (frontEnd.AlsoUnpowered && !frontEnd.Rails.IsEmpty)
        {
            // Held at 0 V by what else they feed, or left alone and lifted by whatever reaches them.
            yield return new((f, w, end) => (
                f.WithRails(r => end < 0 ? r.Off() : r with { PresentVolts = 0 }),
                w with
                {
                    AreSuppliesOff = true,
                    AreSuppliesFloating = end > 0,
                    Ends = w.Ends.RemoveAll(e => f.Rails.Any(r => r.Name == e.Subject)),
                }));
        }
        foreach (var part in frontEnd.AllParts.Where(p => p.AtLimit(true) is not null))
            yield return OfPart(part.Name, (p, high) => p.AtLimit(high), part.LimitWord) with { LimitOf = part.Name };
        // What an electrolyte or a gate leaks reaches what is not held by a supply.
        foreach (var leaky in frontEnd.AllParts.Where(p => p.LeaksLargely && p.Nodes.Any(n => !IsSupply(frontEnd, n))))
            yield return OfPart(leaky.Name, (p, _) => p.AtMostLeakage(), leaky.LeakageWord) with { IsOneWay = true };
        if (fault is not null && EventStudy.TearsOff(frontEnd, fault))
            yield return new((f, w, end) => (f, w with { IsSensorTornOff = end > 0 })) { IsOneWay = true };
        if (fault?.Disturbance.Floating() is not null && fault.Disturbance.Loses(fault.Node).Any(n =>
            frontEnd.Rails.Any(r => r.Name == n && r.SourceOnly)))
            yield return new((f, w, end) => (f, w.AreSuppliesOff ? w : w with { AreSuppliesFloating = end > 0 })) { IsOneWay = true };
    }

    /// <summary>What is moved near a limit: tolerances of parts, and what leaks.</summary>
    public static IEnumerable<Dimension> Tolerances(FrontEnd frontEnd) =>
    [
        .. frontEnd.AllParts.Where(p => p.AtTolerance(true) is not null)
            .Select(p => OfPart(p.Name, (part, high) => part.AtTolerance(high)) with { IsStraight = p.Value is not null }),
        .. frontEnd.AllParts.Where(p => !p.LeaksLargely && p.AtMostLeakage() is not null)
            .Select(p => OfPart(p.Name, (part, _) => part.AtMostLeakage()) with { IsOneWay = true }),
    ];

    private static bool IsSupply(FrontEnd frontEnd, string node) => node == Circuit.Ground || frontEnd.Rails.Any(r => r.Name == node);

    private static Dimension OfPart(string name, Func<Part, bool, (Part, Quantity)?> at, string of = "") => new((f, w, end) =>
    {
        var part = f.AllParts.First(p => p.Name == name);
        var (moved, value) = at(part, end > 0)!.Value;
        return (f.Replace(part, moved), w with { Ends = w.Ends.Add(new(name, value, end > 0) { Of = of }) });
    });
}
