using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Events;

/// <summary>What an event does: what reaches each pin, and what each part stands.</summary>
public static class EventStudy
{
    /// <summary>Runs the circuit from rest through the event, all sensors at mid-span unless the scenario says otherwise.</summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="fault">The event.</param>
    /// <param name="until">Length of the run, s; null for the length that shows all of the event.</param>
    /// <param name="sensorValue">Voltages of sensors by name, V; null for mid-span.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="CircuitException">The circuit cannot be solved as it is.</exception>
    /// <exception cref="SolveException">No solution was found at some time.</exception>
    public static EventResult Run(FrontEnd frontEnd, FaultEvent fault, double? until = null,
        ImmutableDictionary<string, double>? sensorValue = null, CancellationToken cancel = default) =>
        Run(new SolvedFrontEnd(frontEnd), fault, until, sensorValue, cancel);

    /// <summary>The same of a front end of which something may be solved already.</summary>
    /// <inheritdoc cref="Run(FrontEnd, FaultEvent, double?, ImmutableDictionary{string, double}?, CancellationToken)"/>
    public static EventResult Run(SolvedFrontEnd solved, FaultEvent fault, double? until = null,
        ImmutableDictionary<string, double>? sensorValue = null, CancellationToken cancel = default)
    {
        var scenario = sensorValue is null ? null : new Scenario { SensorValue = sensorValue };
        if (until is not null)
            return Of(solved.FrontEnd, fault, solved.Transient(fault, until, scenario, cancel));
        var followed = FollowedRun.Of(solved, fault, scenario, cancel: cancel);
        return Of(solved.FrontEnd, followed.Fault, followed.Run) with { Event = fault };
    }

    /// <summary>The same from where the circuit settles to in time, and once more with the sensor at the event's node torn off where
    /// something takes its place; of both the one that comes nearer to a rating.</summary>
    /// <inheritdoc cref="Run(FrontEnd, FaultEvent, double?, ImmutableDictionary{string, double}?, CancellationToken)"/>
    public static EventResult Worse(FrontEnd frontEnd, FaultEvent fault, double? until = null,
        ImmutableDictionary<string, double>? sensorValue = null, CancellationToken cancel = default)
    {
        var held = Run(new SolvedFrontEnd(frontEnd) { BeginsSettled = true }, fault, until, sensorValue, cancel);
        if (!TearsOff(frontEnd, fault))
            return held;
        var (without, strikes) = TornOff(frontEnd, fault);
        var torn = Run(new SolvedFrontEnd(without) { BeginsSettled = true }, strikes, until, sensorValue, cancel) with
        {
            Event = fault,
            Where = new() { Event = fault.Name, Sensors = Check.SpanPlace.Middle, IsSensorTornOff = true },
        };
        // What its output carries it carries only while it is there.
        return Strain(torn) > Strain(held)
            ? torn with { Parts = [.. torn.Parts.Where(p => p.Part is not SensorOutput), .. held.Parts.Where(p => p.Part is SensorOutput)] }
                : held;
    }

    // What a sensor's output carries is told from here on: less it gives by itself (common practice, no source), A.
    private const double TellingAmps = 1e-3;

    private static double Strain(EventResult e) =>
        Math.Max(e.Parts.Max(p => p.Share) ?? 0, e.Pins.Where(p => p.IsRated).Select(p => 1 - p.Tightness).DefaultIfEmpty(0).Max());

    // What is left of a wire that is torn off, ohm.
    private const double TornOffOhms = 1e9;

    /// <summary>Whether an event puts something in the place of a sensor that would else hold its node against it, or strikes beside one of
    /// which no source resistance is stated: no sensor is so stiff.</summary>
    internal static bool TearsOff(FrontEnd frontEnd, FaultEvent fault) => frontEnd.Rails.All(r => r.Name != fault.Node)
        && frontEnd.Sensors.Any(s => s.Node == fault.Node && (IsStiff(s, fault)
            || s.SourceOhms > 0 && IsReplaceable(s, fault.Node) && fault.Disturbance.TearOff(s.SourceOhms) is not null));

    /// <summary>A front end and an event with the sensor at the event's node torn off: while it lasts, or all the time where what strikes
    /// puts nothing in its place.</summary>
    internal static (FrontEnd FrontEnd, FaultEvent Fault) TornOff(FrontEnd frontEnd, FaultEvent fault) =>
        frontEnd.Sensors.Any(s => s.Node == fault.Node && IsReplaceable(s, fault.Node))
            && fault.Disturbance.TearOff(double.PositiveInfinity) is { } torn ? (frontEnd, fault with { Disturbance = torn })
            : (frontEnd with
            {
                Sensors = [.. frontEnd.Sensors.Select(s =>
                    s.Node == fault.Node ? s with { SourceOhms = Math.Max(s.SourceOhms, TornOffOhms) } : s)],
            }, fault);

    /// <summary>Whether a sensor would swallow what strikes beside it.</summary>
    internal static bool IsStiff(Sensor sensor, FaultEvent fault) => sensor.Node == fault.Node && sensor.SourceOhms == 0
        && (sensor.Output == Unit.Volts || sensor.Wiring is ShareOfRail) && fault.Disturbance.OnSource(isRail: false) == SourceEffect.None;

    private static bool IsReplaceable(Sensor sensor, string node) =>
        sensor.ToElements(sensor.Span.Middle).Any(e => e is VoltageSource { To: Circuit.Ground } v && v.From == node);

    /// <summary>What a run through an event did.</summary>
    internal static EventResult Of(FrontEnd frontEnd, FaultEvent fault, TransientResult run) => new(
        fault, [.. frontEnd.OwnPins.Select(p => PinExposures.Run(frontEnd, p, fault, run))],
        [
            .. frontEnd.AllParts.Concat(frontEnd.SensorOutputs.Where(o => run.Has(o.Name)))
                .Select(p => PartStresses.Run(frontEnd, p, run, fault.Disturbance))
                .Where(s => s.Part is not SensorOutput || s.Share is not null || s.PeakAmps > TellingAmps)
                    .OrderByDescending(s => s.Share ?? -1),
        ], run)
    {
        Rails = [.. frontEnd.Rails.Select(r => Rail(r, run.Voltage(r.Name)))],
    };

    /// <summary>How far a rail is moved in a run.</summary>
    internal static RailExposure Rail(Rail rail, Trace volts) => new(rail, volts.At(0), volts.Maximum().Value, volts.Minimum().Value)
    {
        LastingVolts = Math.Max(Lasting(volts), Lasting(volts.Times(-1))),
    };

    // The capacitor beside each device takes what is shorter (common practice, no source).
    private const double DecoupledSeconds = 1e-6;

    private static double Lasting(Trace volts) => volts.Running().Largest(DecoupledSeconds) / DecoupledSeconds;

    /// <summary>Where a rail stands at the operating point.</summary>
    internal static RailExposure Rail(Rail rail, OperatingPoint point)
    {
        double volts = point.Nodes[rail.Name];
        return new(rail, volts, volts, volts) { LastingVolts = Math.Abs(volts) };
    }

    /// <summary>What a run took, in steps times elements.</summary>
    internal static long StepElements(TransientResult run) => (long)run.Final.Audit.StepsTaken * run.Start.Parts.Count;

    /// <summary>What reaches each pin, alone: what the parts stand is not worked out.</summary>
    /// <param name="solved">The front end.</param>
    /// <param name="fault">The event.</param>
    /// <param name="like">As for <see cref="FollowedRun.Of"/>.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="SolveException">No solution was found, or one that does not balance.</exception>
    internal static (ImmutableArray<PinExposure> Pins, long StepElements) Pins(SolvedFrontEnd solved, FaultEvent fault, double? like,
        CancellationToken cancel)
    {
        var run = FollowedRun.Of(solved, fault, null, like, cancel).Run.Audited();
        solved.Work.Add(StepElements(run));
        return ([.. solved.FrontEnd.OwnPins.Select(p => PinExposures.Run(solved.FrontEnd, p, fault, run))], StepElements(run));
    }

    // A power that rises by less than a hundredth in half of the run does not rise by much more.
    private const double Rise = 0.01;
    private const int MostDoublings = 6;

    /// <summary>A run of what alternates, long enough that no part's mean power over a whole period rises any more.</summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="seconds">The length to begin with, s.</param>
    /// <param name="period">The period, s.</param>
    /// <param name="solve">A run of a length.</param>
    internal static TransientResult Settled(FrontEnd frontEnd, double seconds, double period, Func<double, TransientResult> solve)
    {
        var run = solve(seconds);
        for (int doublings = 0; doublings < MostDoublings && StillRises(frontEnd, run, period); doublings++)
            run = solve(seconds *= 2);
        return run;
    }

    private static bool StillRises(FrontEnd frontEnd, TransientResult run, double period)
    {
        double half = Math.Floor((run.End / 2) / period) * period;
        return frontEnd.AllParts.Select(p => p.ElementNames.Select(run.Power).Aggregate((a, b) => a.Plus(b)).Running())
            .Any(taken => taken.Last(half + period) - taken.Last(half) is var before // below zero of what delivers
                && taken.Last(period) > before + Rise * Math.Abs(before) + 1e-6 * period);
    }

    /// <summary>The voltage between two nodes, either of which may be ground.</summary>
    internal static Trace Between(TransientResult run, string from, string to) =>
        run.Voltage(from).Minus(run.Voltage(to));
}
