using System.Collections.Immutable;
using FrontEndSim.Engine;

namespace FrontEndSim.FrontEnds;

/// <summary>A candidate becomes a whole front end: guard, events, requirements. Guards are tried in the engine, not calculated.</summary>
public static class DesignCompletion
{
    // Tried in this order, cheapest in accuracy first; the pin's own clamps come before any.
    private static readonly string?[] Clamps = [null, "1N5711", "1N5819", "1N5817"];

    private const double FaultStart = 1e-3, FaultLength = 50e-3;

    // Guard resistors beyond this make the sampling capacitor and the leakage a study of their own.
    private const double LargestSeries = 470e3;

    /// <summary>Completes a candidate and checks it.</summary>
    /// <param name="wish">The wish that it was made for.</param>
    /// <param name="candidate">The candidate.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="StudyProblemException">No guard holds the faults; the message says what to change.</exception>
    /// <exception cref="SolveException">No solution was found.</exception>
    public static CompleteDesign Run(DesignWish wish, DesignCandidate candidate, CancellationToken cancel = default)
    {
        ImmutableArray<FaultEvent> events =
        [
            .. wish.FaultVolts.Select(v => new FaultEvent($"{SiText.Format(v, "V")} put on the sensor terminal", DesignStudy.InputNode,
                new StepTo(v, wish.FaultOhms, FaultStart, FaultLength))),
        ];
        var guard = events.IsEmpty ? null : Guard(wish, candidate, events, cancel);
        var frontEnd = candidate.FrontEnd with
        {
            Stages = guard is null ? candidate.FrontEnd.Stages : [.. candidate.FrontEnd.Stages, Build(guard.Request)],
            Pins = [DesignStudy.PinOf(wish, guard is null ? DesignStudy.LevelNode : DesignStudy.PinNode)],
            Events = events,
        };
        double error = Math.Abs(MappingStudy.Run(frontEnd, DesignStudy.PinName, points: 11, cancel: cancel).Worst.ErrorCounts);
        // What the nominal circuit keeps with a fifth to spare, on a round number.
        double limit = RoundUp(Math.Max(1, error * 1.2));
        var requirements = ImmutableArray.CreateBuilder<Requirement>();
        if (guard is not null)
            requirements.Add(new InsideRating(DesignStudy.PinName, null, $"{DesignStudy.PinName} inside rating in every event"));
        requirements.Add(new MappingError(DesignStudy.PinName, limit, $"{DesignStudy.PinName} mapping error under {SiText.Format(limit, "counts")}"));
        if (candidate.HeadroomVolts is { } headroom)
        {
            double least = headroom > 0.6 ? 0.5 : Math.Floor(headroom * 50) / 100; // half of what there is, in steps of 10 mV
            requirements.Add(new Headroom(DesignStudy.StageName, least, $"{DesignStudy.StageName} headroom over {SiText.Format(least, "V")}"));
        }
        frontEnd = frontEnd with { Requirements = requirements.ToImmutable() };
        var check = CheckStudy.Run(frontEnd, cancel: cancel);
        return new(candidate, frontEnd, guard, check, [.. Notes(candidate, guard, check, wish)]);
    }

    private static Stage Build(StageRequest request) => StageKinds.Find("pin-guard")!.Build(request);

    /// <summary>
    /// The smallest series resistor of E12 that keeps every fault inside the pin's ratings, for each clamp; of those, the one
    /// that costs the least accuracy.
    /// </summary>
    private static DesignGuard Guard(DesignWish wish, DesignCandidate candidate, ImmutableArray<FaultEvent> events, CancellationToken cancel)
    {
        var bare = candidate.FrontEnd with { Events = events, Pins = [] };
        double high = double.NegativeInfinity, low = double.PositiveInfinity;
        foreach (var fault in events)
        {
            var level = bare.ToCircuit(new Scenario { Event = fault }).Compile().RunTransient(fault.Disturbance.SuggestedSeconds, cancel)
                .Voltage(DesignStudy.LevelNode);
            high = Math.Max(high, level.Maximum().Value);
            low = Math.Min(low, level.Minimum().Value);
        }
        double supply = wish.Rails.First(r => r.Name == wish.Supply).Volts.Value;
        double drive = Math.Max(high - (supply + wish.BeyondRailVolts), -wish.BeyondRailVolts - low);
        double least = Math.Max(100, drive / wish.InjectionAmps);
        DesignGuard? best = null;
        foreach (string? clamp in Clamps)
        {
            // Without a clamp the first values above the calculated one do, or none: the pin's own clamps drop more than its
            // rating allows. With one the pin's share is small, and a tenth of the resistor may do.
            foreach (double ohms in ESeries.E12.Between(clamp is null ? least : Math.Max(100, least / 10), LargestSeries).Take(clamp is null ? 4 : 30))
            {
                cancel.ThrowIfCancellationRequested();
                var request = Request(wish, ohms, clamp);
                var frontEnd = candidate.FrontEnd with
                {
                    Stages = [.. candidate.FrontEnd.Stages, Build(request)],
                    Pins = [DesignStudy.PinOf(wish, DesignStudy.PinNode)],
                    Events = events,
                };
                var exposures = events.Select(e => EventStudy.Run(frontEnd, e, cancel: cancel).Pins[0]).ToArray();
                if (!exposures.All(e => e.IsInside))
                    continue;
                double cost = Cost(frontEnd, candidate, cancel);
                var guard = new DesignGuard(request, ohms, clamp, low, high,
                    exposures.Max(e => Math.Max(e.UpperInjectionAmps, e.LowerInjectionAmps)), cost, HandMath(wish, high, low, supply, least, ohms));
                if (best is null || cost < best.CostCounts)
                    best = guard;
                break;
            }
        }
        return best ?? throw new StudyProblemException(
            $"No series resistor up to {SiText.Format(LargestSeries, "ohm")} with the Schottky clamps of the catalogue keeps the pin inside its ratings: "
            + $"ahead of the guard the faults reach {SiText.Format(low, "V")} .. {SiText.Format(high, "V")}. Allow more injection current, or more volts beyond the rails.");
    }

    private static StageRequest Request(DesignWish wish, double ohms, string? clamp)
    {
        var values = new Dictionary<string, object>
        {
            ["from.input"] = DesignStudy.LevelNode,
            ["from.output"] = DesignStudy.PinNode,
            ["series.value"] = new Quantity(ohms, Unit.Ohm),
            ["series.tolerance"] = wish.Tolerance,
            ["shunt.value"] = new Quantity(Shunt(ohms), Unit.Farad),
        };
        if (clamp is not null)
        {
            values["schottky.type"] = clamp;
            values["schottky-high.type"] = clamp;
            values["schottky-high.rail"] = wish.Supply;
        }
        return new(DesignStudy.GuardName, values, wish.Rails, []);
    }

    /// <summary>A corner near 1 kHz, and never less than 1 nF: seventy times a sampling capacitor of 14 pF (common practice, no source).</summary>
    private static double Shunt(double ohms) => Math.Max(1e-9, ESeries.E6.Nearest(1 / (2 * Math.PI * 1e3 * ohms)));

    /// <summary>The largest change of the reading over the span that the guard makes, with the pin's leakage in either direction, counts.</summary>
    private static double Cost(FrontEnd guarded, DesignCandidate candidate, CancellationToken cancel)
    {
        var span = candidate.Mapping.Wanted.Input;
        double[] at = SweepStudy.Grid(span.Low, span.High, 11);
        double[] without = SweepStudy.Run(candidate.FrontEnd with { Pins = [] }, DesignStudy.SensorName, at, cancel: cancel).Voltage(DesignStudy.LevelNode);
        double worst = 0;
        foreach (double sign in new[] { 1.0, -1.0 })
        {
            var pin = guarded.Pins[0];
            double[] with = SweepStudy.Run(guarded with { Pins = [pin with { LeakageAmps = sign * pin.LeakageAmps }] }, DesignStudy.SensorName, at,
                cancel: cancel).Voltage(DesignStudy.PinNode);
            worst = Math.Max(worst, with.Zip(without, (a, b) => Math.Abs(a - b)).Max());
        }
        return worst / candidate.Mapping.CountVolts;
    }

    private static ImmutableArray<HandStep> HandMath(DesignWish wish, double high, double low, double supply, double least, double ohms)
    {
        string beyond = SiText.Format(wish.BeyondRailVolts, "V"), amps = SiText.Format(wish.InjectionAmps, "A");
        bool above = high - (supply + wish.BeyondRailVolts) >= -wish.BeyondRailVolts - low;
        return
        [
            above
                ? new("series resistor if the pin's own clamp takes it all", "R = (Vlevel − (Vdd + Vrated))/Iinj",
                    $"({SiText.Format(high, "V")} − ({SiText.Format(supply, "V")} + {beyond}))/{amps}", least, "ohm")
                : new("series resistor if the pin's own clamp takes it all", "R = (−Vrated − Vlevel)/Iinj",
                    $"(−{beyond} − {ShiftHandMath.V(low)})/{amps}", least, "ohm"),
            new("error that the pin's leakage makes of the one chosen", "Ve = Ileak·R",
                $"{SiText.Format(wish.LeakageAmps, "A")}·{SiText.Format(ohms, "ohm")}", wish.LeakageAmps * ohms, "V"),
        ];
    }

    private static IEnumerable<string> Notes(DesignCandidate candidate, DesignGuard? guard, CheckResult check, DesignWish wish)
    {
        foreach (string warning in check.Warnings)
            yield return warning;
        foreach (var result in check.Events)
        {
            foreach (var amp in candidate.Stage.Parts.OfType<OpAmpPart>())
            {
                foreach (string input in new[] { amp.Plus, amp.Minus }.Where(n => n != Circuit.Ground))
                {
                    var at = result.Transient.Voltage(input);
                    double over = at.Maximum().Value - Highest(result, amp.PositiveRail), under = Lowest(result, amp.NegativeRail) - at.Minimum().Value;
                    if (Math.Max(over, under) > wish.BeyondRailVolts)
                    {
                        yield return $"\"{result.Event.Name}\" takes an input of {amp.Name} {SiText.Format(Math.Max(over, under), "V", 3)} beyond its supply: "
                            + "its own protection then conducts, which this circuit does not model; add clamp diodes at that input, or a resistor that its data sheet allows.";
                    }
                }
            }
        }
        if (guard is { Clamp: not null })
            yield return $"The clamp {guard.Clamp} pushes current into {wish.Supply}: a supply that cannot sink it is lifted. Make sure that what it feeds draws more.";
        if (guard is not null)
            yield return "The faults are tried with all rails up. Check the board without supply too: then the clamps lead into a dead rail.";
    }

    private static double Highest(EventResult result, string rail) => rail == Circuit.Ground ? 0 : result.Transient.Voltage(rail).Maximum().Value;

    private static double Lowest(EventResult result, string rail) => rail == Circuit.Ground ? 0 : result.Transient.Voltage(rail).Minimum().Value;

    /// <summary>The next of 1, 2, 5, 10, 20 … at or above a value.</summary>
    private static double RoundUp(double value)
    {
        double decade = Math.Pow(10, Math.Floor(Math.Log10(value)));
        return decade * new[] { 1.0, 2, 5, 10 }.First(m => m * decade >= value * (1 - 1e-12));
    }
}
