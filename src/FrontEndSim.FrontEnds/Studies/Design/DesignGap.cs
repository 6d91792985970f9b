using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Design;

/// <summary>Where a stage is missing: between what a sensor reaches and what reaches a pin.</summary>
/// <param name="Sensor">Name of the sensor.</param>
/// <param name="Pin">Name of the pin.</param>
/// <param name="Input">Node that the stage starts from.</param>
/// <param name="Output">Node that it drives: the pin's own, or that of what stands before the pin.</param>
public sealed record DesignGap(string Sensor, string Pin, string Input, string Output)
{
    /// <summary>Finds the gap in a front end whose shifting stage is left out.</summary>
    /// <param name="frontEnd">The front end.</param>
    /// <exception cref="StudyProblemException">There is none, or more than one; the message says what to change.</exception>
    public static DesignGap In(FrontEnd frontEnd)
    {
        if (frontEnd.Sensors.IsEmpty)
            throw new StudyProblemException(new(ProblemKind.NoSensorToDesignFor));
        if (frontEnd.Pins.IsEmpty)
            throw new StudyProblemException(new(ProblemKind.NoPinToDesignFor));
        Sensor[] sensors = [.. frontEnd.Sensors.Where(s => !Reached(frontEnd, s.Node).Overlaps(frontEnd.Pins.Select(p => p.Node)))];
        Pin[] pins = [.. frontEnd.Pins.Where(p => !Reached(frontEnd, p.Node).Overlaps(frontEnd.Sensors.Select(s => s.Node)))];
        if (sensors.Length == 0 && pins.Length == 0)
        {
            string feeding = frontEnd.Rails is [var rail, ..] ? rail.Name : "VDD";
            if (frontEnd.Sensors.FirstOrDefault(s => s.Output == Unit.Ohm && s.Wiring is null && IsUnfed(frontEnd, s)) is { } unfed)
            {
                throw new StudyProblemException(new(ProblemKind.NothingFeedsSensor, unfed.Name, feeding));
            }
            throw new StudyProblemException(new(ProblemKind.NothingUnfinished));
        }
        return new(Only(sensors.Select(s => s.Name), "sensor", "pin"), Only(pins.Select(p => p.Name), "pin", "sensor"),
            End(frontEnd, sensors[0].Node, s => (s.Port("from"), s.Port("to"))),
                End(frontEnd, pins[0].Node, s => (s.Port("to"), s.Port("from"))));
    }

    private static bool IsUnfed(FrontEnd frontEnd, Sensor sensor) => sensor.Nodes
        .Where(n => n != Circuit.Ground && frontEnd.Rails.All(r => r.Name != n))
        .Any(n => frontEnd.AllParts.All(p => !p.Nodes.Contains(n)));

    /// <summary>The place of a stage that is there by name: its nodes are given, the pin is the one that its output reaches.</summary>
    /// <param name="frontEnd">The front end without the stage.</param>
    /// <param name="stage">What was asked of the stage.</param>
    /// <exception cref="StudyProblemException">Its output reaches no pin, or several; the message says what to change.</exception>
    public static DesignGap Of(FrontEnd frontEnd, StageRequest stage)
    {
        var (input, output) = stage.Get(StageKind.Ends);
        var reached = Reached(frontEnd, output);
        string[] pins = [.. frontEnd.Pins.Where(p => reached.Contains(p.Node)).Select(p => p.Name)];
        return pins.Length switch
        {
            0 => throw new StudyProblemException(new(ProblemKind.OutputReachesNoPin, stage.Name, output)),
            1 => new(stage.Get(StageKind.Maps).Sensor.Name, pins[0], input, output),
            _ => throw new StudyProblemException(new(ProblemKind.OutputReachesPins, stage.Name, output) { Known = [.. pins] }),
        };
    }

    /// <summary>The nodes that a node is connected with through parts, rails and ground apart.</summary>
    private static HashSet<string> Reached(FrontEnd frontEnd, string node) => [.. SignalPath.Upstream(frontEnd, node)];

    private static string Only(IEnumerable<string> names, string what, string other)
    {
        string[] open = [.. names];
        return open.Length switch
        {
            1 => open[0],
            0 => throw new StudyProblemException(new(ProblemKind.NoneFree, what, other)),
            _ => throw new StudyProblemException(new(ProblemKind.SeveralFree, what, other) { Known = [.. open] }),
        };
    }

    /// <summary>Follows the stages from a sensor, or back from a pin, to the node where they end; loose parts must leave one node
    /// hanging.</summary>
    private static string End(FrontEnd frontEnd, string start, Func<Stage, (string Near, string Far)> ends)
    {
        string node = start;
        for (int k = 0; k < frontEnd.Stages.Length && frontEnd.Stages.FirstOrDefault(s => ends(s).Near == node) is { } next; k++)
            node = ends(next).Far;
        var reached = Reached(frontEnd, node);
        if (!frontEnd.Parts.Any(p => p.Nodes.Any(n => n != node && reached.Contains(n))))
            return node;
        var connections = frontEnd.AllParts.SelectMany(p => p.Nodes).Concat(frontEnd.Sensors.Select(s => s.Node))
            .Concat(frontEnd.Pins.Select(p => p.Node)).CountBy(n => n);
        string[] hanging = [.. connections.Where(c => c.Value == 1 && reached.Contains(c.Key)).Select(c => c.Key)];
        return hanging.Length == 1 ? hanging[0] : throw new StudyProblemException(new(ProblemKind.PartsHang, start));
    }

    /// <summary>
    /// The sensor as the stage sees it: its span and its resistance as what stands ahead leaves them, solved by the engine. The
    /// sensor itself where nothing does.
    /// </summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="StudyProblemException">What stands ahead turns the span around, or lets nothing through.</exception>
    internal Sensor Seen(FrontEnd frontEnd, CancellationToken cancel)
    {
        var ahead = Ahead(frontEnd) with { Pins = [] };
        var sensor = ahead.FindSensor(Sensor);
        if (sensor.Law is { IsStraight: false })
        {
            throw new StudyProblemException(new(ProblemKind.NotStraight, Sensor, sensor.Quantity));
        }
        if (sensor.Node == Input && sensor.AsVoltage() is { } alone && !ahead.AllParts.Any(p => p.Nodes.Contains(Input)))
            return alone;
        const double LoadOhms = 1e6; // what it takes away tells the resistance behind it
        double At(double volts, params Part[] load) =>
            new SolvedFrontEnd(ahead with { Parts = [.. ahead.Parts, .. load] })
                .Rest(SolvedFrontEnd.At(Sensor, volts), cancel).Nodes[Input];
        var probe = new ResistorPart("design.load", Input, Circuit.Ground, LoadOhms);
        double low = At(sensor.Span.Low), high = At(sensor.Span.High), width = high - low;
        if (!(width > 1e-6 * sensor.Span.Width))
        {
            throw new StudyProblemException(new(ProblemKind.NothingArrives, Sensor, Input, Low: new(low, Unit.Volts),
                High: new(high, Unit.Volts)));
        }
        double loaded = At(sensor.Span.High, probe) - At(sensor.Span.Low, probe);
        return sensor with
        {
            Node = Input,
            Other = Circuit.Ground,
            Law = null,
            UnitText = "V",
            Quantity = "voltage",
            Farads = 0,
            Span = new(low, high),
            SourceOhms = Math.Max(0, LoadOhms * (width / loaded - 1))
        };
    }

    /// <summary>What is not behind the gap: the front end that the stage works in before anything loads it.</summary>
    internal FrontEnd Ahead(FrontEnd frontEnd)
    {
        var behind = Reached(frontEnd, Output);
        bool IsBehind(Part part) => part.Nodes.Any(behind.Contains);
        return frontEnd with
        {
            Stages = [.. frontEnd.Stages.Where(s => !s.Parts.Any(IsBehind))],
            Parts = [.. frontEnd.Parts.Where(p => !IsBehind(p))],
            Events = [],
            Requirements = [],
            Pins = [frontEnd.FindPin(Pin) with { Node = Output }],
        };
    }
}
