using FrontEndSim.Engine;
using FrontEndSim.Engine.Waveforms;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.FrontEnds.Studies;
using FrontEndSim.FrontEnds.Studies.Check;
using FrontEndSim.FrontEnds.Studies.Levels;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Model;

/// <summary>Each pulse of a sensor is counted once by every gate of the pin's family where they come most often, with parts at both ends
/// of their tolerance.</summary>
/// <param name="Pin">Name of the pin, which reads logic.</param>
public sealed record PulsesCounted(string Pin) : Requirement("")
{
    /// <summary>Of every pin that reads a sensor's pulses.</summary>
    internal static IEnumerable<Requirement> Implied(FrontEnd frontEnd) => frontEnd.Pins
        .Where(p => LogicStudy.Reads(frontEnd, p) && SignalPath.SensorOf(frontEnd, p)?.Pulses is not null)
            .Select(p => new PulsesCounted(p.Name));

    internal override bool IsOfOneTemperature => true;

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        var found = solved.Logic(Pin, cancel);
        var pulses = found.Pulses ?? throw new StudyProblemException(new(ProblemKind.NoPulses, found.Sensor));
        var worst = pulses.Worst;
        return Above(new(worst.IsCounted ? worst.LevelSeconds : 0, Unit.Seconds), new(0, Unit.Seconds),
            new PulsesReason(found.Sensor, Pin, pulses, worst, solved.FrontEnd.FindSensor(found.Sensor).Contact?.BounceSeconds ?? 0));
    }
}

/// <summary>A closed contact carries a current that keeps it clean and does not wear it, with rails at both ends of their
/// tolerance.</summary>
/// <param name="Sensor">Name of the sensor.</param>
public sealed record ContactWetted(string Sensor) : Requirement("")
{
    /// <summary>Of every contact.</summary>
    internal static IEnumerable<Requirement> Implied(FrontEnd frontEnd) =>
        frontEnd.Sensors.Where(s => s.Contact is not null).Select(s => new ContactWetted(s.Name));

    internal override bool IsOfOneTemperature => true;

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        var frontEnd = solved.FrontEnd.WithUsualTolerances();
        var contact = frontEnd.FindSensor(Sensor).Contact!;
        var made = contact.WettingAmps ?? Contact.UsualWettingAmps;
        double[] amps = [.. new[] { solved.With(frontEnd.WithRails(r => r.AtLeast())), solved.With(frontEnd.WithRails(r => r.AtMost())) }
            .Select(s => Math.Abs(s.Rest(SolvedFrontEnd.At(Sensor, 1), cancel).Parts[Sensor].Amps))];
        double least = amps.Min(), most = Math.Max(amps.Max(), Closing(solved.With(frontEnd), cancel));
        // The end that is nearer, as a share of it, or is passed.
        bool isLow = least / made.Low < made.High / most;
        var reason = new WettingReason(Sensor, isLow ? least : most, made) { IsTaken = contact.WettingAmps is null };
        return isLow ? Above(new(least, Unit.Amps), new(made.Low, Unit.Amps), reason)
            : Below(new(most, Unit.Amps), new(made.High, Unit.Amps), reason);
    }

    // What welds a contact takes this long at least, and what it closes on is empty by then, s (common practice, no source).
    private const double WeldingSeconds = 1e-6, ClosingSeconds = 1e-3;

    /// <summary>The largest current over a microsecond when it closes on what capacitors hold, A.</summary>
    private double Closing(SolvedFrontEnd solved, CancellationToken cancel)
    {
        if (!solved.FrontEnd.AllParts.Any(p => p.BlocksLasting))
            return 0;
        var closes = new Step(0, 1, ClosingSeconds, 0);
        var run = solved.Compiled(elements => [.. elements.Select(e => Model.Sensor.Following(e, Sensor, closes) ?? e)],
            settings: new SolverSettings()).RunTransient(2 * ClosingSeconds, cancel);
        var amps = run.Current(Sensor);
        return Math.Max(amps.Running().Largest(WeldingSeconds), amps.Times(-1).Running().Largest(WeldingSeconds)) / WeldingSeconds;
    }
}

/// <summary>What firmware makes of the pulses that it counts is off what is measured by less than a limit in the sensor's own unit: a pulse
/// more or less in the time of counting, the clock, the sensor itself.</summary>
/// <inheritdoc cref="FirmwareError"/>
public sealed record CountedReadingError(string Pin, double Maximum, string UnitText, Span? Over, string Text)
    : FirmwareError(Pin, Maximum, UnitText, Over, Text)
{
    internal override bool IsOfOneTemperature => false;

    /// <inheritdoc/>
    public override RequirementResult Judge(SolvedFrontEnd solved, IProgress<StudyProgress>? progress = null,
        CancellationToken cancel = default)
    {
        var pin = solved.FrontEnd.FindPin(Pin);
        var sensor = SignalPath.SensorOf(solved.FrontEnd, pin);
        if (pin.Counting is not { } counting || sensor?.Pulses is not { } train)
            throw new StudyProblemException(new(ProblemKind.CountsNoPulses, Pin));
        var span = Over ?? train.Measured;
        var worst = new[] { span.Low, span.High }.Select(value => Spread(sensor.Name, train, counting, value)).MaxBy(s => s.Largest)!;
        return Below(worst.Largest, new ReadingReason(sensor.Name, Pin, worst));
    }

    private ReadingSpread Spread(string sensor, PulseTrain train, PulseCounting counting, double value)
    {
        double count = Math.Abs(train.UnitsPerHertz) / counting.GateSeconds;
        double hertz = train.LowHertz + (value - train.Measured.Low) / train.UnitsPerHertz;
        double clock = Math.Abs(train.UnitsPerHertz) * hertz * counting.ClockTolerance;
        double own = train.OffsetError + train.ProportionalError * Math.Abs(value);
        return new(train.UnitText, count + clock + own, value, count,
            [.. new ReadingSource[] { new(Pin + " one pulse", count), new(Pin + " clock", clock), new(SensorLaw.OwnError(sensor), own) }
                .Where(s => s.Effect > 0).OrderByDescending(s => s.Effect)])
        {
            HasSensorError = own > 0,
        };
    }
}
