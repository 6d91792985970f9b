using FrontEndSim.Engine;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.Engine.Waveforms;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies.Budget;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Respond;
using FrontEndSim.FrontEnds.Studies.Session;
using FrontEndSim.FrontEnds.Uncertainty;

namespace FrontEndSim.FrontEnds.Studies.Levels;

/// <summary>
/// How a logic pin reads its sensor: the noise margins of both levels, what delay the way to the pin adds to a sudden
/// change, and whether the slowest change gives one change of the gate. A gate of the pin's family is set at the pin and
/// simulated with the rest; for slow changes it has the least hysteresis of the family.
/// </summary>
public static class LogicStudy
{
    /// <summary>Most periods of ripple in the slowest change that are simulated.</summary>
    public const double MostPeriods = 5000;

    // Whether ripple makes a gate chatter hangs on where in its period the threshold is passed: the worst of so many is taken.
    private const int Phases = 4;

    private const double FirstLength = 1e-7, LastLength = 1e4, Lengthening = 6, Landed = 0.01;

    /// <summary>Whether a pin reads logic and a sensor reaches it.</summary>
    public static bool Reads(FrontEnd frontEnd, Pin pin) => pin.Logic is not null && SignalPath.SensorOf(frontEnd, pin) is not null;

    /// <summary>How a logic input reads its sensor; null for the input of a gate that the sensor does not move.</summary>
    /// <param name="solved">The front end.</param>
    /// <param name="input">Name of the pin, or of the gate.</param>
    /// <param name="cancel">Stops the solver.</param>
    internal static LogicResult? Following(SolvedFrontEnd solved, string input, CancellationToken cancel)
    {
        try
        {
            return solved.Logic(input, cancel);
        }
        catch (StudyProblemException e) when (e.Problem.Kind == ProblemKind.DoesNotFollow && !solved.FrontEnd.HasPin(input))
        {
            return null;
        }
    }

    /// <summary>Solves both levels, with their tolerances, and the changes between them.</summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="pin">Name of the pin.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="CircuitException">The circuit cannot be solved as it is.</exception>
    /// <exception cref="SolveException">No solution was found.</exception>
    /// <exception cref="StudyProblemException">There is no such pin, it does not read logic, no sensor reaches it, or it does not follow
    /// the sensor.</exception>
    public static LogicResult Run(FrontEnd frontEnd, string pin, CancellationToken cancel = default) =>
        Run(new SolvedFrontEnd(frontEnd), pin, cancel);

    /// <summary>The same of a front end of which something may be solved already.</summary>
    /// <inheritdoc cref="Run(FrontEnd, string, CancellationToken)"/>
    public static LogicResult Run(SolvedFrontEnd solved, string pin, CancellationToken cancel = default)
    {
        var frontEnd = solved.FrontEnd;
        var target = frontEnd.FindPin(pin);
        if (target.Logic is not { } logic)
            throw new StudyProblemException(new(ProblemKind.NoLogicLevels, pin));
        var sensor = MappingStudy.Source(frontEnd, target, null);
        if (sensor.SlowestSeconds is { } edge && RidesOn(sensor) is { } ripple && edge * ripple.Hertz > MostPeriods)
        {
            throw new StudyProblemException(new(ProblemKind.RippleTooFast, sensor.Name, "", new(edge, Unit.Seconds),
                Quantity.Number(edge * ripple.Hertz), Quantity.Number(MostPeriods)));
        }
        double[] ends = [sensor.Span.Low, sensor.Span.High];
        var rest = solved.Sweep(sensor.Name, ends, refine: false, cancel);
        double supply = rest.Points[0].Nodes[logic.Rail];
        double[] volts = rest.Voltage(target.Node);
        if (Math.Abs(volts[1] - volts[0]) < 1e-6)
            throw new StudyProblemException(new(ProblemKind.DoesNotFollow, pin, sensor.Name, new(volts[0], Unit.Volts)));
        int low = volts[0] < volts[1] ? 0 : 1, high = 1 - low;
        var (worst, isExact) = WorstMargins(solved, target, logic, sensor, low, cancel);
        // What the mains bring in rides on both levels.
        double hum = HumStudy.Run(solved, target, cancel).Sum(h => h.MostPinVolts);
        worst = [.. worst.Select(margin => margin - hum)];
        double lowLimit = logic.LowBelow(supply), highLimit = logic.HighAbove(supply);
        var edges = ImmutableArray.CreateBuilder<LogicEdge>();
        foreach (bool sudden in sensor.SlowestSeconds is null ? new[] { true } : [true, false])
        {
            foreach (bool rises in new[] { true, false })
            {
                var (from, to) = rises ? (low, high) : (high, low);
                int phases = sudden || RidesOn(sensor) is null ? 1 : Phases;
                // What follows a sudden change needs no longer for a slow one.
                double length = edges.FirstOrDefault(e => e.Rises == rises) is { } before ? before.Trace.End - before.Start : FirstLength;
                edges.Add(Enumerable.Range(0, phases).AsParallel().AsOrdered().WithCancellation(cancel)
                    .Select(k => Change(solved, target, logic, sensor, ends[from], ends[to],
                    rises, sudden, (double)k / phases, length, supply, volts[to], cancel)).ToArray().MaxBy(e => e.Changes)!);
            }
        }
        return new LogicResult(sensor.Name, target, supply,
            new(ends[low], volts[low], lowLimit, lowLimit - volts[low], worst[0], isExact[0]),
            new(ends[high], volts[high], highLimit, volts[high] - highLimit, worst[1], isExact[1]),
            edges.ToImmutable(), RippleLimit(solved, target, logic, sensor, supply, cancel))
        {
            SensorUnit = sensor.UnitText,
            States = sensor.Pulses is not null ? SensorStates.Pulses
                : sensor.Contact is not null ? SensorStates.Contact : SensorStates.None,
            Pulses = PulseStudy.Of(solved, target, logic, sensor, supply, cancel),
        };
    }

    /// <summary>The margins with every tolerance at its worst, low level first. Drift with temperature is left to the budget.</summary>
    private static (double[] Volts, bool[] IsExact) WorstMargins(SolvedFrontEnd solved, Pin pin,
        LogicLevels logic, Sensor sensor, int low, CancellationToken cancel) => WorstMargins(solved, solved.Compiled(), pin, logic,
            sensor.Name, low == 0 ? [sensor.Span.Low, sensor.Span.High] : [sensor.Span.High, sensor.Span.Low], cancel);

    /// <summary>The level of an input that no sensor moves: low or high, whichever it is nearer to.</summary>
    /// <param name="solved">The front end.</param>
    /// <param name="input">Name of the pin.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="SolveException">No solution was found.</exception>
    internal static HeldLevel Held(SolvedFrontEnd solved, string input, CancellationToken cancel)
    {
        var pin = solved.FrontEnd.FindPin(input);
        var logic = pin.Logic!;
        // A source that drives nothing gives the trials something to sweep.
        string meter = input + ".meter";
        var circuit = solved.Compiled(added: new CurrentSource(meter, Circuit.Ground, pin.Node, 0));
        var rest = solved.Rest(SpanPlace.Middle, cancel);
        double volts = rest.Voltage(pin.Node), supply = rest.Voltage(logic.Rail);
        double lowLimit = logic.LowBelow(supply), highLimit = logic.HighAbove(supply);
        int end = lowLimit - volts >= volts - highLimit ? 0 : 1;
        var (worst, isExact) = WorstMargins(solved, circuit, pin, logic, meter, [0, 0], cancel);
        return new(pin, end == 0, volts, end == 0 ? lowLimit : highLimit, worst[end], isExact[end]);
    }

    private static (double[] Volts, bool[] IsExact) WorstMargins(SolvedFrontEnd solved, CompiledCircuit circuit, Pin pin,
        LogicLevels logic, string swept, double[] values, CancellationToken cancel)
    {
        var sources = new ErrorSources(solved.FrontEnd);
        var trials = circuit.PrepareTrials(swept, values, sources.Numbers, [pin.Node, logic.Rail], cancel: cancel);
        double[][] Margins(int draws, TrialNumbers inputs)
        {
            var drawn = trials.Run(draws, (draw, numbers) =>
            {
                Span<double> values = [.. sources.All.Select(s => s.Distribution.Mean)];
                inputs(draw, values);
                sources.SetAll(values, solved.FrontEnd.Celsius, numbers);
            }, cancel: cancel);
            return [.. Enumerable.Range(0, draws).Select(d =>
            {
                var at = drawn.Voltage(d, pin.Node);
                var supply = drawn.Voltage(d, logic.Rail);
                return (double[])[logic.LowBelow(supply[0]) - at[0], at[1] - logic.HighAbove(supply[1])];
            })];
        }
        var worst = WorstCase.Of(Margins, sources.All);
        return ([.. worst.Select(w => w.Low)], [.. worst.Select(w => w.IsExact)]);
    }

    /// <summary>What rides on the sensor's voltage while it changes: its ripple, or hum in series with its line.</summary>
    private static Ripple? RidesOn(Sensor sensor) => sensor.Ripple
        ?? (sensor is { Output: var unit, Hum: { Farads: null } hum } && unit == Unit.Volts ? new(2 * hum.Crest, hum.Hertz) : null);

    private static double? RippleLimit(SolvedFrontEnd solved, Pin pin, LogicLevels logic, Sensor sensor,
        double supply, CancellationToken cancel)
    {
        if (sensor.Ripple is not { } ripple || !logic.Type.HasHysteresis)
            return null;
        var gate = logic.Type.GateAtWorst!;
        double gain = solved.Compiled().SolveSmallSignal(sensor.Name, [ripple.Hertz], cancel).Response(pin.Node)[0].Magnitude;
        return (gate.Rising(supply) - gate.Falling(supply)) / gain;
    }

    private static LogicEdge Change(SolvedFrontEnd solved, Pin pin, LogicLevels logic, Sensor sensor,
        double from, double to, bool rises, bool sudden,
        double periods, double length, double supply, double landing, CancellationToken cancel)
    {
        string gate = pin.Name + ".gate", output = gate + " output", below = sensor.Name + ".ripple";
        // A contact bounces when it closes; it is then the gate with least hysteresis that tells.
        double bounce = sensor.Contact is { BounceSeconds: > 0 and var bouncing } && to > from ? bouncing : 0;
        var model = sudden && bounce == 0 ? logic.Type.Gate! : logic.Type.GateAtWorst!;
        length = Math.Max(length, 1.2 * bounce);
        double lowLimit = logic.LowBelow(supply), highLimit = logic.HighAbove(supply);
        double edge = sudden ? 0 : sensor.SlowestSeconds!.Value;
        var ripple = sudden ? null : RidesOn(sensor);
        for (; ; length *= Lengthening)
        {
            // Where there is ripple, a few periods of it before and after the change, which begins at some place in a period.
            double start = 0.02 * (edge + length) + (ripple is null ? 0 : (3 + periods) / ripple.Hertz);
            Waveform wave = bounce == 0 ? new Step(from, to, start, edge)
                : new PiecewiseLinear([(0, from), (start, from), (start, to), .. Contact.Bounces(start, bounce, double.PositiveInfinity)]);
            var circuit = solved.Compiled(elements =>
            [
                .. elements.SelectMany(e => ripple is null ? (Element[])[Sensor.Following(e, sensor.Name, wave) ?? e]
                    : e is not VoltageSource v || v.Name != sensor.Name ? [e]
                    : [v with { Volts = wave, To = below },
                        new VoltageSource(below, below, v.To, new Sine(0, ripple.PeakToPeakVolts / 2, ripple.Hertz))]),
                new LogicGate(gate, pin.Node, output, logic.Rail, Circuit.Ground, model),
            ], settings: new SolverSettings());
            var run = circuit.RunTransient(start + edge + length + (ripple is null ? 0 : 3 / ripple.Hertz), cancel);
            var trace = run.Voltage(pin.Node);
            double end = trace.End, swing = Math.Abs(landing - trace.At(0)) + (ripple?.PeakToPeakVolts ?? 0);
            if (Math.Abs(trace.At(end) - landing) > Landed * swing + (ripple?.PeakToPeakVolts ?? 0) && length < LastLength)
                continue;
            // The pin has arrived when it is beyond its level for good.
            double last = trace.Crossings(rises ? highLimit : lowLimit).DefaultIfEmpty(double.NaN).Last();
            bool arrives = rises ? trace.At(end) > highLimit : trace.At(end) < lowLimit;
            double arrival = !arrives ? double.PositiveInfinity : double.IsNaN(last) ? start : Math.Max(last, start);
            double leaving = trace.Crossings(rises ? lowLimit : highLimit).DefaultIfEmpty(start).First();
            var changes = run.Voltage(output).Crossings(supply / 2);
            return new LogicEdge(sudden, rises, start, arrival - start, changes.Count == 0 ? double.PositiveInfinity : changes[^1] - start,
                Math.Max(0, arrival - leaving), logic.Type.SlowestSecondsPerVolt * (highLimit - lowLimit), changes.Count,
                run.Voltage(output), trace, run.Audited())
            {
                BounceSeconds = bounce,
                Undecided = sudden || sensor.EdgeSeconds is null ? null : SlowPassage.In(solved.FrontEnd, run),
                TakenSeconds = sudden || sensor.EdgeSeconds is not null ? null : edge,
            };
        }
    }
}
