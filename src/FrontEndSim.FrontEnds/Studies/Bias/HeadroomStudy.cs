using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies.Budget;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Events;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Bias;

/// <summary>How near op amps come to their limits beside the operating points of nominal parts: with several sensors at different ends of
/// their spans, on boards with other offsets, and while sources of the circuit itself go on.</summary>
internal static class HeadroomStudy
{
    // A limit of an op amp: the upper and the lower one of its output, then of its inputs' common mode.
    private static readonly (bool IsOutput, bool IsUpper)[] Limits = [(true, true), (true, false), (false, true), (false, false)];

    /// <summary>
    /// Where sensors that do not alternate stand, each at an end of its span, for an op amp to come nearest to one of its limits: each is
    /// moved alone, and those ends are put together that each take it nearer. Empty where the ends of one sensor are all there are.
    /// </summary>
    /// <param name="solved">The front end.</param>
    /// <param name="cancel">Stops the solver.</param>
    public static ImmutableArray<Scenario> Corners(SolvedFrontEnd solved, CancellationToken cancel)
    {
        var frontEnd = solved.FrontEnd;
        Sensor[] moved = [.. frontEnd.Sensors.Where(s => s.Alternation is null)];
        AmplifierElement[] amplifiers = [.. frontEnd.AllParts.SelectMany(p => p.Amplifiers)];
        if (amplifiers.Length == 0 || moved.Length == 0 || frontEnd.Sensors.Length == 1)
            return [];
        OperatingPoint At(Sensor sensor, double value) => solved.Rest(SolvedFrontEnd.At(sensor.Name, value), cancel);
        var ends = moved.Select(s => (Low: At(s, s.Span.Low), High: At(s, s.Span.High))).ToArray();
        return
        [
            .. amplifiers.SelectMany(a => Limits.Select(limit => string.Concat(ends.Select(e =>
                    Distance(a.Ports, limit, n => e.High.Voltage(n)) < Distance(a.Ports, limit, n => e.Low.Voltage(n)) ? '1' : '0'))))
                .Distinct().Select(places => new Scenario
                {
                    SensorValue = moved.Select((s, k) => KeyValuePair.Create(s.Name, places[k] == '1' ? s.Span.High : s.Span.Low))
                        .ToImmutableDictionary(),
                }),
        ];
    }

    /// <summary>
    /// The headroom over the spans with offset voltages, their drift and bias currents at those of their limits that together leave an op
    /// amp least: boards that are built have them somewhere between.
    /// </summary>
    /// <param name="solved">The front end.</param>
    /// <param name="cancel">Stops the solver.</param>
    public static IEnumerable<OpAmpHeadroom> OnBoards(SolvedFrontEnd solved, CancellationToken cancel)
    {
        var frontEnd = solved.FrontEnd;
        AmplifierElement[] amplifiers = [.. frontEnd.AllParts.SelectMany(p => p.Amplifiers)
            .Where(a => OpAmpHeadroom.Rectifiers(frontEnd, a.Ports.Output).Length == 0)];
        var sources = new ErrorSources(frontEnd);
        int[] offsets = [.. sources.All.Select((s, k) => (s, k))
            .Where(x => x.s.Kind is ErrorKind.OffsetVoltage or ErrorKind.BiasCurrent).Select(x => x.k)];
        if (amplifiers.Length == 0 || offsets.Length == 0)
            return [];
        double[] means = [.. sources.All.Select(s => s.Distribution.Mean)];
        string[] nodes = [.. amplifiers.SelectMany(a => (string[])
            [a.Ports.Plus, a.Ports.Minus, a.Ports.Output, a.Ports.PositiveRail, a.Ports.NegativeRail])
            .Where(n => n != Circuit.Ground).Distinct()];
        return MappingStudy.Mapped(frontEnd).Select(p => solved.MappingOf(p, cancel)?.Sensor).OfType<string>().Distinct()
            .SelectMany(sensor => Corners(solved, cancel).Prepend(new Scenario()).SelectMany(others => Over(sensor, others))).ToArray();

        IEnumerable<OpAmpHeadroom> Over(string sensor, Scenario others)
        {
            var span = frontEnd.FindSensor(sensor).Span;
            double[] values = [span.Low, span.Middle, span.High];
            var trials = solved.Compiled(others).PrepareTrials(sensor, values, sources.Numbers, nodes, solved.Beside(cancel), cancel);
            double[] With(int source, bool high) => Moved(means, source, End(source, high));
            double[][] alone = [means, .. offsets.SelectMany(k => new[] { With(k, false), With(k, true) })];
            var each = Run(alone);
            (int Amplifier, (bool, bool) Limit, int Place)[] places = [.. from a in Enumerable.Range(0, amplifiers.Length)
                                                                        from limit in Limits
                                                                        from v in Enumerable.Range(0, values.Length)
                                                                        select (a, limit, v)];
            double Left(TrialResult of, int draw, (int Amplifier, (bool, bool) Limit, int Place) at) => Distance(
                amplifiers[at.Amplifier].Ports, at.Limit, n => n == Circuit.Ground ? 0 : of.Voltage(draw, n)[at.Place]);
            double[][] corners = [.. places.Select(at => offsets.Select((k, o) => (Source: k,
                    Low: Left(each, 1 + 2 * o, at), High: Left(each, 2 + 2 * o, at)))
                .Aggregate(means, (all, k) => Moved(all, k.Source, End(k.Source, k.High < k.Low))))];
            var together = Run(corners);
            var left = places.Select((at, draw) => (at.Amplifier, at.Limit, at.Place,
                Volts: IsLost(at, draw) ? 0 : Left(together, draw, at))).ToArray();
            foreach (var of in left.GroupBy(x => x.Amplifier))
            {
                var swing = of.Where(x => x.Limit.Item1).MinBy(x => x.Volts);
                var common = of.Where(x => !x.Limit.Item1).MinBy(x => x.Volts);
                yield return new(amplifiers[of.Key].Name, swing.Volts, Side(swing.Limit), values[swing.Place], common.Volts,
                    Side(common.Limit), values[common.Place], 0, amplifiers[of.Key].Ports.Model.OutputLimitAmps)
                {
                    SensorUnit = frontEnd.FindSensor(sensor).UnitText,
                    IsWithOffsets = true,
                };
            }

            // An output that its load holds back at a limit stands short of it: its inputs ask for more than it has.
            bool IsLost((int Amplifier, (bool IsOutput, bool IsUpper) Limit, int Place) at, int draw)
            {
                if (!at.Limit.IsOutput)
                    return false;
                var (name, ports) = amplifiers[at.Amplifier];
                double[] numbers = [.. sources.Numbers.Select(_ => 0.0)];
                sources.SetAll(corners[draw], frontEnd.Celsius, numbers);
                int own = sources.Numbers.IndexOf(new(name, OpAmp.OffsetVoltage));
                double V(string node) => node == Circuit.Ground ? 0 : together.Voltage(draw, node)[at.Place];
                double asked = V(ports.Plus) - V(ports.Minus) + ports.Model.OffsetVolts + (own < 0 ? 0 : numbers[own]);
                double stop = at.Limit.IsUpper ? V(ports.PositiveRail) - ports.Model.DropHighVolts
                    : V(ports.NegativeRail) + ports.Model.DropLowVolts;
                double most = stop / ports.Model.OpenLoopGain;
                return at.Limit.IsUpper ? asked > most + OpAmpHeadroom.LostControlVolts : asked < most - OpAmpHeadroom.LostControlVolts;
            }

            TrialResult Run(double[][] draws) =>
                trials.Run(draws.Length, (draw, numbers) => sources.SetAll(draws[draw], frontEnd.Celsius, numbers), cancel: cancel);
        }

        double End(int source, bool high) =>
            high ? sources.All[source].Distribution.High : sources.All[source].Distribution.Low;
    }

    private static double[] Moved(double[] from, int place, double to)
    {
        double[] moved = [.. from];
        moved[place] = to;
        return moved;
    }

    /// <summary>The headroom while sources of the circuit itself repeat for ever, sensors at both ends and the middle of their spans. One
    /// with a junction at its output works by leaving its range, and what happens once may.</summary>
    /// <param name="solved">The front end.</param>
    /// <param name="cancel">Stops the solver.</param>
    public static IEnumerable<OpAmpHeadroom> InCourse(SolvedFrontEnd solved, CancellationToken cancel)
    {
        var frontEnd = solved.FrontEnd;
        if (frontEnd.OwnCourse is not { Disturbance: TimePasses { PeriodSeconds: not null } } course)
            yield break;
        AmplifierElement[] amplifiers = [.. OpAmpHeadroom.Straight(frontEnd)];
        foreach (var place in amplifiers.Length == 0 ? [] : new[] { SpanPlace.Middle, SpanPlace.Low, SpanPlace.High })
        {
            var scenario = solved.At(place);
            var run = solved.Transient(course, scenario: scenario, cancel: cancel);
            double at = frontEnd.Sensors is [var first, ..] ? scenario.SensorValue[first.Name] : 0;
            foreach (var a in amplifiers)
            {
                var (ports, model) = (a.Ports, a.Ports.Model);
                double Least(string above, string below) => EventStudy.Between(run, above, below).Minimum().Value;
                // What its gain stage gives (the current is counted into the output): at a limit the output itself stands short of it by
                // what its load takes.
                var drop = run.Current(a.Name).Times(model.OutputOhms);
                var swing = Nearer(EventStudy.Between(run, ports.PositiveRail, ports.Output).Plus(drop).Minimum().Value
                    - model.DropHighVolts,
                    EventStudy.Between(run, ports.Output, ports.NegativeRail).Minus(drop).Minimum().Value - model.DropLowVolts);
                var common = Nearer(Math.Min(Least(ports.PositiveRail, ports.Plus), Least(ports.PositiveRail, ports.Minus))
                    - model.CommonModeHighVolts,
                    Math.Min(Least(ports.Plus, ports.NegativeRail), Least(ports.Minus, ports.NegativeRail)) - model.CommonModeLowVolts);
                double left = swing.Volts < StopsVolts ? Math.Min(swing.Volts, 0) : swing.Volts;
                yield return new(a.Name, left, swing.Side, at, common.Volts, common.Side, at, 0, model.OutputLimitAmps)
                {
                    SensorUnit = frontEnd.Sensors is [var sensor, ..] ? sensor.UnitText : "V",
                    IsInCourse = true,
                };
            }
        }
    }

    // The stop of a gain stage is rounded over some millivolts: so near, it is there.
    private const double StopsVolts = 20e-3;

    private static (double Volts, string Side) Nearer(double upper, double lower) => upper < lower ? (upper, "upper") : (lower, "lower");

    private static string Side((bool IsOutput, bool IsUpper) limit) => limit.IsUpper ? "upper" : "lower";

    /// <summary>How far an op amp is inside of one of its limits, V.</summary>
    private static double Distance(AmplifierPorts ports, (bool IsOutput, bool IsUpper) limit, Func<string, double> volts)
    {
        double high = volts(ports.PositiveRail), low = volts(ports.NegativeRail);
        return limit switch
        {
            (true, true) => high - ports.Model.DropHighVolts - volts(ports.Output),
            (true, false) => volts(ports.Output) - low - ports.Model.DropLowVolts,
            (false, true) => high - ports.Model.CommonModeHighVolts - Math.Max(volts(ports.Plus), volts(ports.Minus)),
            _ => Math.Min(volts(ports.Plus), volts(ports.Minus)) - low - ports.Model.CommonModeLowVolts,
        };
    }
}
