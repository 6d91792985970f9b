using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Pins;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Design;

namespace FrontEndSim.FrontEnds.Studies.Check;

/// <summary>A mend with its number decided, and the front end with it applied.</summary>
/// <param name="Mend">The mend.</param>
/// <param name="FrontEnd">The front end with it.</param>
internal sealed record MendTrial(Mend Mend, FrontEnd FrontEnd);

/// <summary>Applies mends: each kind with the values that are tried for it, the smallest change first.</summary>
internal static class MendTrials
{
    // Steps of a value that are tried one after the other.
    private static readonly double[] Factors = [1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 6.8, 10, 22, 47, 100, 220, 470];

    // What is bought for a clamp: small and quick first, then one and three amperes (common practice, no source).
    private static readonly string[] Clamps = ["BAT54", "1N5819", "1N5822"];

    private static readonly string[] LeakLess = ["BAT54", "1N5711", "1N4148"];

    private const int MostTypes = 3;

    /// <summary>What is tried for a mend, in order; nothing where no change of one part does it.</summary>
    public static IEnumerable<MendTrial> Of(FrontEnd frontEnd, Mend mend)
    {
        var part = frontEnd.AllParts.FirstOrDefault(p => p.Name == mend.Subject);
        return mend.Kind switch
        {
            MendKind.RaiseResistor or MendKind.RaiseToGround when part is ResistorPart r =>
                Factors.Select(f => Value(r, r.Ohms.Value * f, ESeries.E12)),
            MendKind.HigherLevel when Series(frontEnd, mend.Subject) is { } r =>
                Factors.Take(10).Select(f => Value(r, r.Ohms.Value / f, ESeries.E12)),
            MendKind.LowerLevel when PullDown(frontEnd, mend.Subject) is { } r =>
                Factors.Take(10).Select(f => Value(r, r.Ohms.Value / f, ESeries.E12)),
            MendKind.Faster when Shunt(frontEnd, mend.Subject) is { } c => Factors.Select(f => Value(c, c.Farads.Value / f, ESeries.E6)),
            MendKind.Slower or MendKind.LessRipple when Shunt(frontEnd, mend.Subject) is { } c =>
                Factors.Select(f => Value(c, c.Farads.Value * f, ESeries.E6)),
            MendKind.AddUpperClamp when mend.Other is { } rail =>
                Clamps.Select(t => Added(mend, new DiodePart(Free("D"), mend.Subject, rail, Diode(t)))),
            MendKind.AddLowerClamp => Clamps.Select(t => Added(mend, new DiodePart(Free("D"), Circuit.Ground, mend.Subject, Diode(t)))),
            MendKind.LargerUpperClamp or MendKind.LargerLowerClamp when part is DiodePart d =>
                Clamps.Select(Diode).Where(t => t.RatedAmps > d.Type.RatedAmps).Select(t => Typed(d, t)),
            MendKind.LowerZener when part is DiodePart d => Zeners(d).Where(t => t.Model.BreakdownVolts < d.Type.Model.BreakdownVolts)
                .OrderByDescending(t => t.Model.BreakdownVolts).Take(MostTypes).Select(t => Typed(d, t)),
            MendKind.HigherZener when part is DiodePart d => Zeners(d).Where(t => t.Model.BreakdownVolts > d.Type.Model.BreakdownVolts)
                .OrderBy(t => t.Model.BreakdownVolts).Take(MostTypes).Select(t => Typed(d, t)),
            MendKind.LessLeakage when part is DiodePart d => LeakLess.Where(t => t != d.Type.Name).Select(Diode).Select(t => Typed(d, t)),
            MendKind.LessBiasCurrent when part is OpAmpPart u =>
                PartCatalogue.Standard.OpAmps.Where(t => t.BiasAmpsSpread < u.Type.BiasAmpsSpread)
                .OrderByDescending(t => t.BiasAmpsSpread).Take(MostTypes)
                    .Select(t => new MendTrial(mend with { Type = t.Name }, frontEnd.Replace(u, u with { Type = t }))),
            MendKind.LoadRail when frontEnd.Rails.FirstOrDefault(r => r.Name == mend.Subject) is { } rail =>
                new[] { 1e-3, 3.3e-3, 10e-3, 33e-3, 100e-3 }.Select(amps =>
            {
                double ohms = ESeries.E12.Nearest(Math.Abs(rail.Volts.Value) / amps), watts = rail.Volts.Most * rail.Volts.Most / ohms;
                return Added(mend with { To = new(ohms, Unit.Ohm) }, new ResistorPart(Free("R"), rail.Name, Circuit.Ground, ohms)
                {
                    RatedWatts = ResistorPart.SoldWatts.Append(ResistorPart.SoldWatts[^1])
                        .First(w => w >= 0.25 && (w >= 2 * watts || w == ResistorPart.SoldWatts[^1])),
                });
            }),
            MendKind.GuardPinAbove or MendKind.GuardPinBelow => Guarded(),
            MendKind.HigherRating => Rated(part),
            MendKind.SecondClampIfOpen or MendKind.SecondClampIfReversed when part is DiodePart d =>
                [Added(mend with { Type = d.Type.Name }, d with { Name = Free("D") })],
            MendKind.SplitResistor when part is ResistorPart r => new[] { 0.5, 1 }.Select(share => Split(r, share)),
            MendKind.FinerValues => Finer(),
            MendKind.PullUp or MendKind.PullDown => new[] { 10e6, 4.7e6, 1e6, 470e3, 220e3, 100e3, 47e3, 22e3, 10e3 }.Select(ohms =>
                Added(mend with { To = new(ohms, Unit.Ohm) },
                    new ResistorPart(Free("R"), mend.Kind == MendKind.PullUp ? mend.Other! : mend.Subject,
                        mend.Kind == MendKind.PullUp ? mend.Subject : Circuit.Ground, new(ohms, 0.01)))),
            MendKind.ReserveBand => Reserved(),
            MendKind.RaiseRail or MendKind.LowerRail when frontEnd.Rails.FirstOrDefault(r => r.Name == mend.Subject)
                is { Volts.Value: not 0 } rail && mend.To is { } by => Moved(rail, by.Value),
            MendKind.DummyReading when frontEnd.Scans.FirstOrDefault(s => s.Name == mend.Subject) is { } scan =>
                Enumerable.Range(scan.Discarded + 1, 3).Select(n => new MendTrial(mend with { To = new(n, Unit.None) },
                    frontEnd with { Scans = [.. frontEnd.Scans.Select(s => s == scan ? s with { Discarded = n } : s)] })),
            MendKind.LongerAcquisition when mend.To is { } enough =>
                new[] { 1.1, 1.5, 2.2 }.Select(f => Acquired(f * enough.Value)).OfType<MendTrial>(),
            MendKind.PinCapacitor when mend.To is { } least => new[] { 1.5, 3.3, 6.8, 15, 47 }.Select(f =>
            {
                double farads = ESeries.E6.Nearest(f * least.Value);
                return Added(mend with { To = new(farads, Unit.Farad) },
                    new CapacitorPart(Free("C"), frontEnd.FindPin(mend.Subject).Node, Circuit.Ground, farads));
            }),
            MendKind.Hysteresis when mend.Other is { } name && PinType.Find(name) is { } type => Gated(type),
            _ => [],
        };

        MendTrial Value(Part old, double wanted, ESeries series)
        {
            double value = series.Nearest(wanted);
            var (amount, unit) = (old.Value!.Amount, old.Value.Unit);
            return new(mend with { Subject = old.Name, From = new(amount.Value, unit), To = new(value, unit) },
                frontEnd.Replace(old, old.WithValue(amount with { Value = value })));
        }

        MendTrial Typed(DiodePart old, DiodeType type) =>
            new(mend with { Type = type.Name, Other = old.Type.Name }, frontEnd.Replace(old, old with { Type = type }));

        MendTrial Added(Mend said, Part added) =>
            new(said with { Type = added is DiodePart d ? d.Type.Name : said.Type }, frontEnd with { Parts = [.. frontEnd.Parts, added] });

        string Free(string wanted) => DesignCompletion.FreeName(frontEnd, wanted);

        IEnumerable<MendTrial> Guarded()
        {
            var pin = frontEnd.FindPin(mend.Subject);
            bool isAbove = mend.Kind == MendKind.GuardPinAbove;
            if (isAbove && pin.ClampRail is null)
                yield break;
            string node = Free(pin.Node + "_");
            foreach (double factor in Factors.Prepend(1))
            {
                double ohms = ESeries.E12.Nearest(factor * mend.To!.Value.Value);
                yield return new(mend with { To = new(ohms, Unit.Ohm), Other = isAbove ? pin.ClampRail : null, Type = "1N5819" },
                    frontEnd with
                    {
                        Parts =
                    [
                        .. frontEnd.Parts, new ResistorPart(Free("R"), pin.Node, node, new(ohms, 0.01)),
                        isAbove ? new DiodePart(Free("D"), node, pin.ClampRail!, Diode("1N5819"))
                            : new DiodePart(Free("D"), Circuit.Ground, node, Diode("1N5819")),
                    ],
                        Pins = [.. frontEnd.Pins.Select(p => p == pin ? p with { Node = node } : p)],
                    });
            }
        }

        IEnumerable<MendTrial> Rated(Part? part) => part switch
        {
            ResistorPart r => ResistorPart.SoldWatts.Where(w => w > r.RatedWatts && w >= (mend.To?.Value ?? 0) * (1 - 1e-9)).Select(w =>
                new MendTrial(mend with { From = new(r.RatedWatts, Unit.Watt), To = new(w, Unit.Watt), Other = r.Word },
                    frontEnd.Replace(r, r with { RatedWatts = w, Size = null }))),
            CapacitorPart c => CapacitorPart.SoldVolts.Where(v => v > (c.RatedVolts ?? CapacitorPart.UsualVolts)).Select(v =>
                new MendTrial(mend with
                {
                    From = new(c.RatedVolts ?? CapacitorPart.UsualVolts, Unit.Volts),
                    To = new(v, Unit.Volts),
                    Other = c.Word
                },
                    frontEnd.Replace(c, c with { RatedVolts = v }))),
            DiodePart { Type.Kind: DiodeKind.Schottky or DiodeKind.Junction } d =>
                Clamps.Select(Diode).Where(t => t.RatedAmps > d.Type.RatedAmps).Select(t => Typed(d, t)),
            _ => [],
        };

        MendTrial Split(ResistorPart r, double share)
        {
            string between = Free(r.Name.Replace('.', '_') + "_MID");
            var ohms = r.Ohms with { Value = r.Ohms.Value * share };
            var changed = frontEnd.Replace(r, r with { To = between, Ohms = ohms });
            return new(mend with { From = new(r.Ohms.Value, Unit.Ohm), To = new(ohms.Value, Unit.Ohm) },
                changed with { Parts = [.. changed.Parts, r with { Name = Free("R"), From = between, Ohms = ohms, Role = null }] });
        }

        IEnumerable<MendTrial> Finer()
        {
            if (frontEnd.Stages.FirstOrDefault(s => s.Name == mend.Subject) is not { Request: { } request } stage)
                yield break;
            var (now, tolerance) = request.Get(StageKind.PreferredResistors, (ESeries.E96, null));
            foreach (var series in new[] { ESeries.E96, ESeries.E192 }.Where(s => s != now))
            {
                Stage finer;
                try
                {
                    finer = request.With(StageKind.PreferredResistors, (series, tolerance)).Build();
                }
                catch (StageProblemException)
                {
                    continue;
                }
                yield return new(mend with { Type = series.Name },
                    frontEnd with { Stages = [.. frontEnd.Stages.Select(s => s == stage ? finer : s)] });
            }
        }

        IEnumerable<MendTrial> Reserved()
        {
            if (frontEnd.Stages.FirstOrDefault(s => s.Name == mend.Subject)
                is not { Request: { } request, Mapping.Output: var output } stage
                || mend is not { From: { } from, To: { } to } || !request.TryGet(StageKind.Maps, out var maps))
                yield break;
            foreach (double share in new[] { 0.05, 0.1 })
            {
                // So much of the converter's range is kept free at either end.
                double width = to.Value - from.Value, low = Math.Max(output.Low, from.Value + share * width),
                    high = Math.Min(output.High, to.Value - share * width);
                if (low == output.Low && high == output.High || !(low < high))
                    continue;
                Stage narrower;
                try
                {
                    narrower = request.With(StageKind.Maps, (maps.Sensor, new Span(low, high))).Build();
                }
                catch (StageProblemException)
                {
                    continue;
                }
                yield return new(mend with { From = new(low, Unit.Volts), To = new(high, Unit.Volts) },
                    frontEnd with { Stages = [.. frontEnd.Stages.Select(s => s == stage ? narrower : s)] });
            }
        }

        IEnumerable<MendTrial> Moved(Rail rail, double by)
        {
            foreach (double factor in new[] { 1.2, 2 })
            {
                double volts = rail.Volts.Value + (mend.Kind == MendKind.RaiseRail ? 1 : -1) * Math.Ceiling(by * factor * 10) / 10;
                yield return new(mend with { From = new(rail.Volts.Value, Unit.Volts), To = new(volts, Unit.Volts) },
                    frontEnd with
                    {
                        Rails = [.. frontEnd.Rails.Select(r =>
                        r == rail ? r with { Volts = r.Volts with { Value = volts } } : r)]
                    });
            }
        }

        MendTrial? Acquired(double seconds)
        {
            var pin = frontEnd.FindPin(mend.Subject);
            // Two digits, upwards: a number that a person sets.
            double unit = Math.Pow(10, Math.Floor(Math.Log10(seconds)) - 1), rounded = Math.Ceiling(seconds / unit - 1e-9) * unit;
            return frontEnd.ScanOf(pin.Name) is { EverySeconds: { } every } && rounded >= every ? null
                : new(mend with { From = new(pin.Sampling!.Seconds, Unit.Seconds), To = new(rounded, Unit.Seconds) }, frontEnd with
                {
                    Pins = [.. frontEnd.Pins.Select(p => p == pin ? p with { Sampling = pin.Sampling with { Seconds = rounded } } : p)],
                });
        }

        IEnumerable<MendTrial> Gated(PinType type)
        {
            var pin = frontEnd.FindPin(mend.Subject);
            var changed =
                frontEnd with { Pins = [.. frontEnd.Pins.Select(p => p == pin ? p with { Logic = p.Logic! with { Type = type } } : p)] };
            foreach (var gate in frontEnd.AllParts.OfType<GatePart>().Where(g => g.Input == pin.Node))
                changed = changed.Replace(gate, gate with { Type = type });
            yield return new(mend with { Type = type.Name }, changed);
        }
    }

    /// <summary>The smallest resistor between a pin's node and what drives it; null without one.</summary>
    public static ResistorPart? Series(FrontEnd frontEnd, string pin)
    {
        string node = frontEnd.FindPin(pin).Node;
        return frontEnd.AllParts.OfType<ResistorPart>()
            .Where(r => r.Nodes.Contains(node) && !r.Nodes.Contains(Circuit.Ground)
                && !frontEnd.Rails.Any(rail => r.Nodes.Contains(rail.Name))).MinBy(r => r.Ohms.Value);
    }

    private static ResistorPart? PullDown(FrontEnd frontEnd, string pin) =>
        frontEnd.AllParts.OfType<ResistorPart>()
            .FirstOrDefault(r => r.Nodes.Contains(frontEnd.FindPin(pin).Node) && r.Nodes.Contains(Circuit.Ground));

    private static CapacitorPart? Shunt(FrontEnd frontEnd, string pin) =>
        frontEnd.AllParts.OfType<CapacitorPart>()
            .FirstOrDefault(c => c.Nodes.Contains(frontEnd.FindPin(pin).Node) && c.Nodes.Contains(Circuit.Ground));

    private static DiodeType Diode(string name) =>
        PartCatalogue.Standard.FindDiode(name, DiodeKind.Schottky) ?? PartCatalogue.Standard.FindDiode(name, DiodeKind.Junction)!;

    /// <summary>The zeners of the same rated power.</summary>
    private static IEnumerable<DiodeType> Zeners(DiodePart zener) => PartCatalogue.Standard.Diodes.Where(s => s.Kind == DiodeKind.Zener)
        .Select(PartCatalogue.Type).Where(t => Math.Abs(t.RatedWatts / zener.Type.RatedWatts - 1) < 0.01);
}
