using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Pins;
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

    // Across a feedback resistor, and between an output and a capacitor: what op amps are compensated with.
    private static readonly double[] FeedbackFarads =
        [2.2e-12, 4.7e-12, 10e-12, 22e-12, 47e-12, 100e-12, 220e-12, 470e-12, 1e-9, 2.2e-9];

    private static readonly double[] IsolationOhms = [10, 22, 47, 100, 220, 470, 1000];

    /// <summary>What is tried for a mend, in order; nothing where no change of one part does it.</summary>
    public static IEnumerable<MendTrial> Of(FrontEnd frontEnd, Mend mend) => new Changes(frontEnd, mend).InOrder();

    /// <summary>The smallest resistor between a pin's node and what drives it; null without one.</summary>
    public static Part? Series(FrontEnd frontEnd, string pin)
    {
        string node = frontEnd.FindPin(pin).Node;
        return frontEnd.AllParts.Where(r => r.IsResistor && r.Nodes.Contains(node) && !r.Nodes.Contains(Circuit.Ground)
            && !frontEnd.Rails.Any(rail => r.Nodes.Contains(rail.Name))).MinBy(r => r.Value!.Amount.Value);
    }

    private static Part? ToGround(FrontEnd frontEnd, string pin, Unit unit) => frontEnd.AllParts.FirstOrDefault(p => p.Value?.Unit == unit
        && p.Nodes.Length == 2 && p.Nodes.Contains(frontEnd.FindPin(pin).Node) && p.Nodes.Contains(Circuit.Ground));

    private sealed class Changes(FrontEnd frontEnd, Mend mend)
    {
        public IEnumerable<MendTrial> InOrder()
        {
            var part = frontEnd.AllParts.FirstOrDefault(p => p.Name == mend.Subject);
            return mend.Kind switch
            {
                MendKind.RaiseResistor or MendKind.RaiseToGround when part is { Value: not null } =>
                    Factors.Select(f => Scaled(part, f, ESeries.E12)),
                MendKind.HigherLevel when Series(frontEnd, mend.Subject) is { } r =>
                    Factors.Take(10).Select(f => Scaled(r, 1 / f, ESeries.E12)),
                MendKind.LowerLevel when ToGround(frontEnd, mend.Subject, Unit.Ohm) is { } r =>
                    Factors.Take(10).Select(f => Scaled(r, 1 / f, ESeries.E12)),
                MendKind.Faster when ToGround(frontEnd, mend.Subject, Unit.Farad) is { } c =>
                    Factors.Select(f => Scaled(c, 1 / f, ESeries.E6)),
                MendKind.Slower or MendKind.LessRipple when ToGround(frontEnd, mend.Subject, Unit.Farad) is { } c =>
                    Factors.Select(f => Scaled(c, f, ESeries.E6)),
                MendKind.AddUpperClamp when mend.Other is { } rail =>
                    DiodePart.Clamps.Select(t => Clamped(mend.Subject, rail, t)),
                MendKind.AddLowerClamp => DiodePart.Clamps.Select(t => Clamped(Circuit.Ground, mend.Subject, t)),
                MendKind.LargerUpperClamp or MendKind.LargerLowerClamp or MendKind.HigherRating when part is not null =>
                    part.Larger(mend.To?.Value ?? 0).Select(larger => larger.Rating is var (now, then)
                        ? new(mend with { From = now, To = then, Other = part.Word }, frontEnd.Replace(part, larger.Part))
                        : Typed(part, larger.Part)),
                MendKind.LowerZener or MendKind.HigherZener when part is not null =>
                    part.NextVoltages(mend.Kind == MendKind.HigherZener).Select(p => Typed(part, p)),
                MendKind.LessLeakage when part is not null => part.WithLess(Imperfection.Leakage).Select(p => Typed(part, p)),
                MendKind.LessBiasCurrent when part is not null => part.WithLess(Imperfection.BiasCurrent).Select(p => Typed(part, p)),
                MendKind.FeedbackCapacitor when part is { Amplifier: { } amp } && amp.Minus != amp.Output => FeedbackFarads.Select(farads =>
                    Added(mend with { To = new(farads, Unit.Farad) }, new CapacitorPart(Free("C"), amp.Output, amp.Minus, farads))),
                MendKind.IsolateLoad when part is { Amplifier: { } amp } => IsolationOhms.Select(ohms => Isolated(amp, ohms))
                    .OfType<MendTrial>(),
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
                MendKind.SecondClampIfOpen or MendKind.SecondClampIfReversed when part is not null =>
                    [Added(mend with { Type = part.ValueText }, part with { Name = Free("D") })],
                MendKind.SplitResistor when part is not null => new[] { 0.5, 1 }.Select(share => Split(part, share)).OfType<MendTrial>(),
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
        }

        private MendTrial Scaled(Part old, double by, ESeries series)
        {
            var (amount, unit) = (old.Value!.Amount, old.Value.Unit);
            double value = series.Nearest(amount.Value * by);
            return new(mend with { Subject = old.Name, From = new(amount.Value, unit), To = new(value, unit) },
                frontEnd.Replace(old, old.WithValue(amount with { Value = value })));
        }

        private MendTrial Typed(Part old, Part by) =>
            new(mend with { Type = by.ValueText, Other = old.ValueText }, frontEnd.Replace(old, by));

        // The largest capacitor of an output to a supply or to ground, behind a resistor; what senses the output goes on to.
        private MendTrial? Isolated(AmplifierPorts amp, double ohms)
        {
            bool IsHeld(string node) => node == Circuit.Ground || frontEnd.Rails.Any(r => r.Name == node);
            var load = frontEnd.AllParts.OfType<CapacitorPart>().Where(c => c.From == amp.Output && IsHeld(c.To)
                || c.To == amp.Output && IsHeld(c.From)).MaxBy(c => c.Value!.Amount.Value);
            if (load is null)
                return null;
            string behind = Free(amp.Output.Replace('.', '_') + "_LOAD");
            var changed = frontEnd.Replace(load, load.From == amp.Output ? load with { From = behind } : load with { To = behind });
            return new(mend with { To = new(ohms, Unit.Ohm), Other = load.Name },
                changed with { Parts = [.. changed.Parts, new ResistorPart(Free("R"), amp.Output, behind, new(ohms, 0.05))] });
        }

        private MendTrial Added(Mend said, Part added) => new(said, frontEnd with { Parts = [.. frontEnd.Parts, added] });

        private MendTrial Clamped(string from, string to, string type) =>
            Added(mend with { Type = type }, new DiodePart(Free("D"), from, to, PartCatalogue.Diode(type)));

        private string Free(string wanted) => DesignCompletion.FreeName(frontEnd, wanted);

        private IEnumerable<MendTrial> Guarded()
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
                        new DiodePart(Free("D"), isAbove ? node : Circuit.Ground, isAbove ? pin.ClampRail! : node,
                            PartCatalogue.Diode("1N5819")),
                    ],
                        Pins = [.. frontEnd.Pins.Select(p => p == pin ? p with { Node = node } : p)],
                    });
            }
        }

        private MendTrial? Split(Part old, double share)
        {
            if (old.InTwo(Free("R"), Free(old.Name.Replace('.', '_') + "_MID"), share) is not var (first, second))
                return null;
            var changed = frontEnd.Replace(old, first);
            Quantity Of(Part part) => new(part.Value!.Amount.Value, part.Value.Unit);
            return new(mend with { From = Of(old), To = Of(first) }, changed with { Parts = [.. changed.Parts, second] });
        }

        private IEnumerable<MendTrial> Finer()
        {
            if (frontEnd.Stages.FirstOrDefault(s => s.Name == mend.Subject) is not { Request: { } request } stage)
                yield break;
            var (now, tolerance) = request.Get(StageKind.PreferredResistors, (ESeries.E96, null));
            foreach (var series in new[] { ESeries.E96, ESeries.E192 }.Where(s => s != now))
            {
                if (Rebuilt(stage, request.With(StageKind.PreferredResistors, (series, tolerance))) is { } changed)
                    yield return new(mend with { Type = series.Name }, changed);
            }
        }

        private IEnumerable<MendTrial> Reserved()
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
                if (Rebuilt(stage, request.With(StageKind.Maps, (maps.Sensor, new Span(low, high)))) is { } changed)
                    yield return new(mend with { From = new(low, Unit.Volts), To = new(high, Unit.Volts) }, changed);
            }
        }

        // Null where it cannot be built so.
        private FrontEnd? Rebuilt(Stage old, StageRequest request)
        {
            try
            {
                var stage = request.Build();
                return frontEnd with { Stages = [.. frontEnd.Stages.Select(s => s == old ? stage : s)] };
            }
            catch (StageProblemException)
            {
                return null;
            }
        }

        private IEnumerable<MendTrial> Moved(Rail rail, double by)
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

        private MendTrial? Acquired(double seconds)
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

        private IEnumerable<MendTrial> Gated(PinType type)
        {
            var pin = frontEnd.FindPin(mend.Subject);
            var changed =
                frontEnd with { Pins = [.. frontEnd.Pins.Select(p => p == pin ? p with { Logic = p.Logic! with { Type = type } } : p)] };
            foreach (var part in frontEnd.AllParts)
                changed = changed.Replace(part, part.AtPin(pin.Node, type));
            yield return new(mend with { Type = type.Name }, changed);
        }
    }
}
