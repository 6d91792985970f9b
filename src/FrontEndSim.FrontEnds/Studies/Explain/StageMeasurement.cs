using System.Collections.Immutable;
using FrontEndSim.Engine;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Bias;
using FrontEndSim.FrontEnds.Studies.Mapping;

namespace FrontEndSim.FrontEnds.Studies.Explain;

/// <summary>Measures in a simulated stage what the lines of its hand math stand for.</summary>
/// <param name="Stage">The stage.</param>
/// <param name="Sensor">The sensor that reaches it.</param>
/// <param name="FromSensor">Whether the closed form starts at the sensor's own voltage, else at the stage's input node.</param>
/// <param name="Cancel">Stops the solver.</param>
internal sealed record StageMeasurement(Stage Stage, Sensor Sensor, bool FromSensor, CancellationToken Cancel)
{
    // A rail is moved by this share of itself, and a resistance measured with this voltage across it: small against any bend.
    private const double RailShare = 1e-3, ProbeVolts = 1e-3;

    // A threshold is found to this share of the supply.
    private const double ThresholdShare = 1e-6;

    private const string ProbeName = "measuring current", HoldName = "held voltage";

    private string Output => Stage.Ports[^1].Node;

    private string Input => Stage.Ports[0].Node;

    /// <summary>The quantity in a front end; null where the circuit cannot be measured so.</summary>
    public double? Of(StepMeasure measure, FrontEnd frontEnd, double expected)
    {
        try
        {
            return measure switch
            {
                GainMeasure gain => Gain(gain, frontEnd),
                RailGainMeasure rail => RailGain(rail, frontEnd),
                VoltageMeasure volts => Volts(Lift(frontEnd, volts.Lifted, volts.IsUnloaded ? volts.Node : null), volts.Node, volts.SensorVolts),
                ResistanceMeasure ohms => Resistance(Lift(frontEnd, ohms.Lifted, ohms.IsUnloaded ? ohms.Node : null), ohms.Node, expected),
                PowerMeasure power => Power(power, frontEnd),
                PushedMeasure pushed => Pushed(Lift(frontEnd, pushed.Lifted, null), pushed.Node, pushed.Amps)[0],
                PartMeasure part => Volts(frontEnd, Output, Sensor.Span.Low) - Volts(Lift(frontEnd, part.Part, null), Output, Sensor.Span.Low),
                BiasMeasure bias => Volts(frontEnd, Output, null) - Volts(StageDifference.WithoutBias(frontEnd, bias.OpAmp), Output, null),
                ThresholdMeasure threshold => Threshold(threshold, frontEnd),
                HeldCurrentMeasure held => Held(frontEnd, held.Node).Sweep(HoldName, [held.NodeVolts], cancel: Cancel).Points[0].Parts[held.Part].Amps,
                _ => null,
            };
        }
        catch (CircuitException)
        {
            return null; // what is lifted may have been all that held a node
        }
    }

    private double Gain(GainMeasure gain, FrontEnd frontEnd)
    {
        var sweep = SweepStudy.Run(frontEnd, Sensor.Name, [Sensor.Span.At(0.25), Sensor.Span.At(0.75)], cancel: Cancel);
        double[] to = sweep.Voltage(gain.To), from = gain.From is { } node ? sweep.Voltage(node) : FromSensor ? [.. sweep.Values] : sweep.Voltage(Input);
        return (to[^1] - to[0]) / (from[^1] - from[0]) - gain.Less;
    }

    private double RailGain(RailGainMeasure measure, FrontEnd frontEnd)
    {
        double step = frontEnd.Rails.Single(r => r.Name == measure.Rail).Volts.Value * RailShare;
        double At(double by) => Volts(frontEnd with
        {
            Rails = [.. frontEnd.Rails.Select(r => r.Name == measure.Rail ? r with { Volts = r.Volts with { Value = r.Volts.Value + by } } : r)],
        }, measure.To, null);
        return (At(step) - At(-step)) / (2 * step * measure.Share);
    }

    private double Volts(FrontEnd frontEnd, string node, double? sensorVolts) => Solve(frontEnd, sensorVolts).Nodes[node];

    private OperatingPoint Solve(FrontEnd frontEnd, double? sensorVolts) => BiasStudy.Run(frontEnd, sensorVolts is { } volts
        ? new Scenario { SensorVolts = ImmutableDictionary<string, double>.Empty.Add(Sensor.Name, volts) } : null, Cancel).Point;

    private double Resistance(FrontEnd frontEnd, string node, double expected)
    {
        double amps = ProbeVolts / Math.Max(1, Math.Abs(expected));
        double[] volts = Pushed(frontEnd, node, -amps, amps);
        return (volts[1] - volts[0]) / (2 * amps);
    }

    private double[] Pushed(FrontEnd frontEnd, string node, params double[] amps)
    {
        var calm = frontEnd.ToCircuit();
        return new Circuit([.. calm.Elements, new CurrentSource(ProbeName, Circuit.Ground, node, 0)], calm.Celsius).Compile()
            .Sweep(ProbeName, amps, cancel: Cancel).Voltage(node);
    }

    private double? Power(PowerMeasure measure, FrontEnd frontEnd)
    {
        return frontEnd.AllParts.Any(p => p.Name == measure.Resistor) ? Solve(frontEnd, measure.SensorVolts).Parts[measure.Resistor].Watts : null;
    }

    private static CompiledCircuit Held(FrontEnd frontEnd, string node)
    {
        var calm = frontEnd.ToCircuit();
        return new Circuit([.. calm.Elements, new VoltageSource(HoldName, node, Circuit.Ground, 0)], calm.Celsius).Compile();
    }

    private double? Threshold(ThresholdMeasure measure, FrontEnd frontEnd)
    {
        if (frontEnd.AllParts.FirstOrDefault(p => p.Name == measure.Gate) is not GatePart gate)
            return null;
        if (measure.Rising is not { } rising)
            return Threshold(measure with { Rising = true }, frontEnd) - Threshold(measure with { Rising = false }, frontEnd);
        var circuit = Held(frontEnd, gate.Input);
        double supply = Solve(frontEnd, null).Nodes[gate.Rail];
        double start = rising ? 0 : supply, from = start, to = supply - start;
        // Each time from the far end: between the thresholds the state is what it was.
        bool IsHigh(double volts) => circuit.Sweep(HoldName, [start, volts], cancel: Cancel).Voltage(gate.Output)[^1] > supply / 2;
        bool before = IsHigh(from);
        if (IsHigh(to) == before)
            return null;
        while (Math.Abs(to - from) > ThresholdShare * supply)
        {
            double middle = (from + to) / 2;
            (from, to) = IsHigh(middle) == before ? (middle, to) : (from, middle);
        }
        return (from + to) / 2;
    }

    private static FrontEnd Lift(FrontEnd frontEnd, string? name, string? unloaded)
    {
        bool Stays(Part part) => part.Name != name && !(unloaded is not null && part.IsResistor && part.Nodes.Contains(unloaded));
        return name is null && unloaded is null ? frontEnd : frontEnd with
        {
            Stages = [.. frontEnd.Stages.Select(s => s with { Parts = [.. s.Parts.Where(Stays)] })],
            Parts = [.. frontEnd.Parts.Where(Stays)],
            Sensors = [.. frontEnd.Sensors.Where(s => s.Name != name)],
        };
    }
}
