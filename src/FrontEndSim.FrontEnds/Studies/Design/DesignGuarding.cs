using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Stages.Guarding;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Design;

/// <summary>Chooses a guard for a pin from what its events do, with the supplies on and off. Guards are tried in the engine, not
/// calculated.</summary>
internal static class DesignGuarding
{
    // Tried in this order, cheapest in accuracy first; the pin's own clamps come before any.
    private static readonly string?[] Clamps = [null, "1N5711", "1N5819", "1N5817"];

    /// <summary>
    /// Where a guard's price is paid: diodes leak twice as much every ten kelvins, and 85 °C is the upper end of the industrial
    /// range (common practice, no source).
    /// </summary>
    public const double HotCelsius = 85;

    /// <summary>Where a clamp drops most: the lower end of that range.</summary>
    public const double ColdCelsius = -40;

    // Guard resistors below add nothing to a source; beyond, the sampling capacitor and the leakage are a study of their own.
    private const double SmallestSeries = 100, LargestSeries = 470e3;

    /// <summary>
    /// For each clamp the smallest series resistor of E12 that keeps every event inside the pin's ratings, at the worst circumstances too,
    /// with
    /// a bleeder where the rail cannot sink what is pushed into it; of those the one that costs the least accuracy when hot. Null if the
    /// pin stands every event without a guard.
    /// </summary>
    /// <param name="target">The target.</param>
    /// <param name="candidate">The candidate, its stage driving the node <paramref name="level"/>.</param>
    /// <param name="level">Where the guard starts.</param>
    /// <param name="name">Name of the guard.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="StudyProblemException">No guard does; the message says what to change.</exception>
    public static DesignGuard? Choose(DesignTarget target, DesignCandidate candidate, string level, string name, CancellationToken cancel)
    {
        var bare = candidate.FrontEnd with { Events = target.Surroundings.Events, Pins = [target.Pin with { Node = level }] };
        if (Holds(bare, cancel))
            return null;
        var levels = Levels(bare with { Pins = [] }, level, cancel);
        DesignGuard? best = null;
        foreach (string? clamp in Clamps)
        {
            double[] series = [.. ESeries.E12.Between(SmallestSeries, LargestSeries)];
            (FrontEnd, StageRequest) With(double ohms, double? bleeder = null)
            {
                var request = Request(target, level, name, ohms, clamp, bleeder);
                return (bare with { Stages = [.. bare.Stages, request.Build()], Pins = [target.Pin] }, request);
            }
            // More ohms never let more through: the smallest that does is found by halving.
            int low = 0, high = series.Length;
            GuardFinding? found = null;
            while (low < high)
            {
                cancel.ThrowIfCancellationRequested();
                int middle = (low + high) / 2;
                // In the cold, where a clamp drops most.
                if (Worst(Sinking(With(series[middle]).Item1) with { Celsius = Over(bare).Low }, cancel) is { IsInside: true } finding)
                    (high, found) = (middle, finding);
                else
                    low = middle + 1;
            }
            // More resistance costs more: what costs more than the best already need not be looked at closely.
            if (found is null
                || best is not null && HotCost(target, With(series[low]).Item1, candidate, level, cancel) >= best.HotCostCounts)
                continue;
            // At the worst circumstances a little more gets through: a step or two of the series more.
            double? bleeder = null;
            bool holds = false;
            for (int last = Math.Min(low + MostSteps, series.Length - 1); low <= last && !holds; low += holds ? 0 : 1)
            {
                bleeder = Bleeder(With(series[low]).Item1, cancel);
                holds = Holds(With(series[low], bleeder).Item1, cancel);
            }
            if (!holds)
                continue;
            var (frontEnd, request) = With(series[low], bleeder);
            found = Worst(frontEnd, cancel)!;
            double cost = Cost(target, frontEnd, candidate, level, target.Surroundings.Celsius, cancel);
            double hot = HotCost(target, frontEnd, candidate, level, cancel);
            if (best is null || hot < best.HotCostCounts)
            {
                var (watts, peak, joules) = Heat(frontEnd, Series(frontEnd, name).Name, cancel);
                best = new(request, series[low], clamp, bleeder, levels, found.Event, found.IsOff,
                    found.InjectionAmps, watts, peak, joules, cost, hot,
                    GuardHandMath.Of(target.Pin, target.Rails, levels, series[low]))
                {
                    SeriesRatedWatts = Series(frontEnd, name).Ratings(frontEnd.Celsius)
                        .FirstOrDefault(r => r.Kind == RatingKind.Power)?.Limit ?? double.PositiveInfinity,
                };
            }
        }
        return best ?? throw new StudyProblemException(new(ProblemKind.NoGuard, target.Pin.Name, "", new(LargestSeries, Unit.Ohm),
            new(Math.Min(levels.Low, levels.LowOff), Unit.Volts), new(Math.Max(levels.High, levels.HighOff), Unit.Volts)));
    }

    // Steps of E12 above what holds with nominal parts: the corners of rails and sensors move a current by less than half.
    private const int MostSteps = 3;

    /// <summary>Whether the pin keeps its ratings in every event at the worst circumstances, and at nominal ones with the supplies
    /// off.</summary>
    private static bool Holds(FrontEnd frontEnd, CancellationToken cancel)
    {
        if (Worst(frontEnd, cancel) is not { IsInside: true })
            return false;
        var over = frontEnd with { CelsiusRange = Over(frontEnd) };
        return frontEnd.Events.All(e => SurvivalStudy.Run(new SolvedFrontEnd(over), e, cancel)
            .Runs.All(r => r.Problem is null && r.Pins[0].IsInside));
    }

    /// <summary>The temperatures at which a guard has to hold: those of the front end, else the industrial range.</summary>
    private static Span Over(FrontEnd frontEnd) => frontEnd.CelsiusRange
        ?? new(Math.Min(ColdCelsius, frontEnd.Celsius), Math.Max(HotCelsius, frontEnd.Celsius));

    /// <summary>The front end with rails that sink whatever is pushed into them.</summary>
    private static FrontEnd Sinking(FrontEnd frontEnd) =>
        frontEnd.WithRails(r => r with { SourceOnly = false });

    // A bleeder draws this much more than is pushed into the rail at nominal: corners of rails and sensors, and its own 5 %.
    private const double BleederReserve = 1.5;

    // A rail whose devices draw next to nothing sinks as much unnoticed.
    private const double UnnoticedAmps = 1e-7;

    /// <summary>The largest resistor of E12 from the pin's rail to ground that draws what the events push into the rail; null where none
    /// is needed.</summary>
    private static double? Bleeder(FrontEnd frontEnd, CancellationToken cancel)
    {
        if (frontEnd.Rails.FirstOrDefault(r => r.Name == frontEnd.Pins[0].ClampRail) is not { SourceOnly: true } rail)
            return null;
        var sinking = Sinking(frontEnd);
        double pushed = sinking.Events.Max(e =>
            new SolvedFrontEnd(sinking).Transient(e, cancel: cancel).Current(rail.Name).Maximum().Value);
        return pushed < UnnoticedAmps ? null : ESeries.E12.Neighbours(rail.Volts.Least / (BleederReserve * pushed))[0];
    }

    /// <summary>A front end without its supplies: every rail is held at 0 V, as a load or its regulator holds it.</summary>
    public static FrontEnd Off(FrontEnd frontEnd) => frontEnd.WithRails(r => r.Off());

    /// <summary>Events with supplies on, then without; what happens to a rail cannot happen to one that is off.</summary>
    public static IEnumerable<(FrontEnd FrontEnd, FaultEvent Event, bool IsOff)> Runs(FrontEnd frontEnd)
    {
        var off = Off(frontEnd);
        return
        [
            .. frontEnd.Events.Select(e => (frontEnd, e, false)),
            .. frontEnd.Events.Where(e => !e.Disturbance.NeedsPower(e.Node, n => frontEnd.Rails.Any(r => r.Name == n)))
                .Select(e => (off, e, true)),
        ];
    }

    private sealed record GuardFinding(string Event, bool IsOff, double InjectionAmps, bool IsInside);

    /// <summary>The event that comes nearest to a rating of the pin, or the first found beyond one.</summary>
    private static GuardFinding? Worst(FrontEnd frontEnd, CancellationToken cancel)
    {
        (double Tightness, GuardFinding? Finding) worst = (double.PositiveInfinity, null);
        double injection = 0;
        foreach (var (circuit, fault, isOff) in Runs(frontEnd))
        {
            var exposure = EventStudy.Pins(new SolvedFrontEnd(circuit), fault, null, cancel).Pins[0];
            injection = Math.Max(injection, exposure.InjectionAmps);
            var finding = new GuardFinding(fault.Name, isOff, injection, exposure.IsInside);
            if (!exposure.IsInside)
                return finding;
            if (exposure.Tightness < worst.Tightness)
                worst = (exposure.Tightness, finding);
        }
        return worst.Finding is { } found ? found with { InjectionAmps = injection } : new("", false, 0, true);
    }

    private static GuardLevels Levels(FrontEnd bare, string level, CancellationToken cancel)
    {
        var found = new GuardLevels(0, 0, 0, 0);
        foreach (var (circuit, fault, isOff) in Runs(bare))
        {
            var volts = new SolvedFrontEnd(circuit).Transient(fault, cancel: cancel).Voltage(level);
            double low = volts.Minimum().Value, high = volts.Maximum().Value;
            found = isOff ? found with { LowOff = Math.Min(found.LowOff, low), HighOff = Math.Max(found.HighOff, high) }
                : found with { Low = Math.Min(found.Low, low), High = Math.Max(found.High, high) };
        }
        return found;
    }

    private static StageRequest Request(DesignTarget target, string level, string name, double ohms, string? clamp, double? bleeder)
    {
        var values = SettingValues.Empty.With(GuardParts.Ends, (level, target.Pin.Node))
            .With(GuardParts.Series, (ohms, target.Tolerance)).With(GuardParts.Shunt, (Shunt(ohms), null));
        var rail = target.Rails.FirstOrDefault(r => r.Name == target.Pin.ClampRail);
        if (bleeder is { } drawing)
            values = values.With(GuardParts.Bleeder, (drawing, rail!));
        if (clamp is not null)
        {
            var type = PartCatalogue.Diode(clamp);
            values = values.With(PinGuard.Low, type);
            if (rail is not null)
                values = values.With(PinGuard.High, (type, rail));
        }
        return new(new PinGuard(), name, values, target.Rails, []);
    }

    /// <summary>A corner near 1 kHz, and never less than 1 nF: seventy times a sampling capacitor of 14 pF (common practice, no
    /// source).</summary>
    private static double Shunt(double ohms) => Math.Max(1e-9, ESeries.E6.Nearest(1 / (2 * Math.PI * 1e3 * ohms)));

    private static double HotCost(DesignTarget target, FrontEnd guarded, DesignCandidate candidate,
        string level, CancellationToken cancel) =>
        Cost(target, guarded, candidate, level, Math.Max(HotCelsius, target.Surroundings.Celsius), cancel);

    /// <summary>The largest change of the reading over the span that the guard makes at a temperature, with the pin's leakage in either
    /// direction, counts.</summary>
    private static double Cost(DesignTarget target, FrontEnd guarded, DesignCandidate candidate,
        string level, double celsius, CancellationToken cancel)
    {
        double[] at = SweepStudy.Grid(target.Sensor.Span.Low, target.Sensor.Span.High, 11);
        double[] without = SweepStudy.Run(candidate.FrontEnd with { Pins = [], Celsius = celsius }, target.Sensor.Name, at, cancel: cancel)
            .Voltage(level);
        double worst = 0;
        foreach (double sign in new[] { 1.0, -1.0 })
        {
            var pin = guarded.Pins[0];
            double[] with = SweepStudy.Run(guarded with { Pins = [pin with { LeakageAmps = sign * pin.LeakageAmps }], Celsius = celsius },
                target.Sensor.Name, at,
                cancel: cancel).Voltage(pin.Node);
            worst = Math.Max(worst, with.Zip(without, (a, b) => Math.Abs(a - b)).Max());
        }
        return worst / candidate.Mapping.CountVolts;
    }

    private static Part Series(FrontEnd frontEnd, string guard) =>
        frontEnd.FindStage(guard).Parts.First(p => p.Role == Role.SeriesResistor);

    /// <summary>What the series resistor takes at worst over all events: power averaged by its heat, peak power, energy.</summary>
    private static (double Watts, double PeakWatts, double Joules) Heat(FrontEnd frontEnd, string resistor, CancellationToken cancel)
    {
        PartStress[] stresses = [.. Runs(frontEnd)
            .Select(r => EventStudy.Run(r.FrontEnd, r.Event, cancel: cancel).Parts.First(p => p.Part.Name == resistor))];
        return (stresses.Max(s => s.WarmWatts), stresses.Max(s => s.PeakWatts), stresses.Max(s => s.Joules));
    }
}
