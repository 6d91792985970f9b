using System.Numerics;
using FrontEndSim.Engine;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Elements;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Respond;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Explain;

/// <summary>Measures in a simulated stage what the lines of its hand calculation stand for.</summary>
/// <param name="stage">The stage.</param>
/// <param name="sensor">The sensor that reaches it.</param>
/// <param name="fromSensor">Whether the closed form starts at the sensor's own voltage, else at the stage's input node.</param>
/// <param name="cancel">Stops the solver.</param>
internal sealed class StageMeasurement(Stage stage, Sensor sensor, bool fromSensor, CancellationToken cancel)
{
    // A rail is moved by this share of itself, and a resistance measured with this voltage across it: small against any bend.
    private const double RailShare = 1e-3, ProbeVolts = 1e-3;

    // A threshold is found to this share of the supply.
    private const double ThresholdShare = 1e-6;

    private const string ProbeName = "measuring current", HoldName = "held voltage";

    private string Output => stage.Ports[^1].Node;

    private string Input => stage.Ports[0].Node;

    /// <summary>The quantity in a front end; null where the circuit cannot be measured so.</summary>
    public double? Of(StepMeasure measure, SolvedFrontEnd solved, double expected)
    {
        try
        {
            return measure switch
            {
                GainMeasure gain => Gain(gain, solved),
                RailGainMeasure rail => RailGain(rail, solved),
                VoltageMeasure volts =>
                    Volts(Lift(solved, volts.Lifted, volts.IsUnloaded ? volts.Node : null), volts.Node, volts.SensorValue),
                ResistanceMeasure ohms => Resistance(Lift(solved, ohms.Lifted, ohms.IsUnloaded ? ohms.Node : null), ohms.Node, expected),
                PowerMeasure power => Power(power, solved),
                PushedMeasure pushed => Pushed(Lift(solved, pushed.Lifted, null), pushed.Node, pushed.Amps)[0],
                PartMeasure part => Volts(solved, Output, sensor.Span.Low) - Volts(Lift(solved, part.Part, null), Output, sensor.Span.Low),
                BiasMeasure bias => Volts(solved, Output, null)
                    - Volts(solved.With(StageDifference.WithoutBias(solved.FrontEnd, bias.OpAmp)), Output, null),
                ThresholdMeasure threshold => Threshold(threshold, solved),
                HeldVoltageMeasure held when sensor.Node == held.Held => Volts(solved, held.Node, held.HeldVolts),
                HeldVoltageMeasure held => Held(solved, held.Held).Sweep(HoldName, [held.HeldVolts], cancel: cancel).Voltage(held.Node)[0],
                SwitchingMeasure switching => Switching(solved, switching),
                PhaseMarginMeasure margin => solved.Compiled().SolveLoopGain(margin.OpAmp, cancel).PhaseMarginDegrees,
                CornerMeasure corner => StageDifference.Corner(solved, corner.From, corner.To, sensor.Name, cancel),
                ResponseMeasure at => Response(solved, at.From, at.To, at.Hertz)[0].Magnitude,
                QuadratureMeasure lag => Quadrature(solved, lag, expected),
                HeldCurrentMeasure held => Held(solved, held.Node).Sweep(HoldName, [held.NodeVolts], cancel: cancel)
                    .Points[0].Parts.TryGetValue(held.Part, out var part) ? part.Amps : null,
                _ => null,
            };
        }
        catch (CircuitException)
        {
            return null; // what is lifted may have been all that held a node
        }
    }

    private double Gain(GainMeasure gain, SolvedFrontEnd solved)
    {
        var sweep = solved.Sweep(sensor.Name, [sensor.Span.At(0.25), sensor.Span.At(0.75)], cancel: cancel);
        double[] to = sweep.Voltage(gain.To), from = gain.From is { } node ? Seen(node)
            : fromSensor || gain.IsFromSensor ? [.. sweep.Values.Select(v => sensor.OutputAt(v, solved.FrontEnd.Celsius))] : Seen(Input);
        return (to[^1] - to[0]) / (from[^1] - from[0]) - gain.Less;

        // A stage that subtracts a node answers to the difference, of which a bridge moves both ends.
        double[] Seen(string of) => of == Input && gain.To == Output
            && stage.Ports.FirstOrDefault(p => p.Role == "against") is { } against && against.Node != Circuit.Ground
            ? [.. sweep.Voltage(of).Zip(sweep.Voltage(against.Node), (a, b) => a - b)] : sweep.Voltage(of);
    }

    private double RailGain(RailGainMeasure measure, SolvedFrontEnd solved)
    {
        var frontEnd = solved.FrontEnd;
        double step = frontEnd.Rails.Single(r => r.Name == measure.Rail).Volts.Value * RailShare;
        double At(double by) => Volts(solved.With(frontEnd with
        {
            Rails = [.. frontEnd.Rails.Select(r =>
                r.Name == measure.Rail ? r with { Volts = r.Volts with { Value = r.Volts.Value + by } } : r)],
        }), measure.To, null);
        return (At(step) - At(-step)) / (2 * step * measure.Share);
    }

    private double Volts(SolvedFrontEnd solved, string node, double? sensorValue) => Solve(solved, sensorValue).Nodes[node];

    private OperatingPoint Solve(SolvedFrontEnd solved, double? sensorValue) => solved.Rest(sensorValue is { } volts
        ? new Scenario
        {
            SensorValue = ImmutableDictionary<string,
            double>.Empty.Add(sensor.Name, sensor.Law?.Inverse(volts, sensor.Span, solved.FrontEnd.Celsius) ?? volts)
        }
        : null, cancel);

    private double Resistance(SolvedFrontEnd solved, string node, double expected)
    {
        double amps = ProbeVolts / Math.Max(1, Math.Abs(expected));
        double[] volts = Pushed(solved, node, -amps, amps);
        return (volts[1] - volts[0]) / (2 * amps);
    }

    private double[] Pushed(SolvedFrontEnd solved, string node, params double[] amps)
    {
        return solved.Compiled(added: new CurrentSource(ProbeName, Circuit.Ground, node, 0))
            .Sweep(ProbeName, amps, cancel: cancel).Voltage(node);
    }

    private Complex[] Response(SolvedFrontEnd solved, string? from, string to, params double[] hertz)
    {
        var found = solved.Compiled().SolveSmallSignal(sensor.Name, [0, .. hertz], cancel);
        Complex[] output = found.Response(to), gain = from is null ? output : [.. output.Zip(found.Response(from), (o, i) => o / i)];
        return [.. gain.Skip(1).Select(g => g / gain[0])];
    }

    private double? Quadrature(SolvedFrontEnd solved, QuadratureMeasure measure, double expected)
    {
        // The real part changes sign there; looked for within a decade of where it is expected.
        bool[] IsPast(double[] hertz) => [.. Response(solved, measure.From, measure.To, hertz).Select(r => !(r.Real > 0))];
        double low = expected / 10, high = expected * 10;
        return IsPast([low, high]) is [false, true] ? FrequencySearch.Change(low, high, IsPast) : null;
    }

    private double? Power(PowerMeasure measure, SolvedFrontEnd solved)
    {
        return solved.FrontEnd.AllParts.Any(p => p.Name == measure.Resistor)
            ? Solve(solved, measure.SensorValue).Parts[measure.Resistor].Watts : null;
    }

    private static CompiledCircuit Held(SolvedFrontEnd solved, string node) =>
        solved.Compiled(added: new VoltageSource(HoldName, node, Circuit.Ground, 0));

    private double? Threshold(ThresholdMeasure measure, SolvedFrontEnd solved)
    {
        if (solved.FrontEnd.AllParts.FirstOrDefault(p => p.Name == measure.Gate)?.Logic is not { } gate)
            return null;
        if (measure.Rising is not { } rising)
            return Threshold(measure with { Rising = true }, solved) - Threshold(measure with { Rising = false }, solved);
        var circuit = Held(solved, gate.Input);
        double supply = Solve(solved, null).Nodes[gate.Supply];
        double start = rising ? 0 : supply;
        return Change(start, supply - start,
            volts => circuit.Sweep(HoldName, [start, volts], cancel: cancel).Voltage(gate.Output)[^1] > supply / 2);
    }

    /// <summary>
    /// Where something changes over that jumps: no method that goes by slopes finds it sooner than halving. Each time it is come to from
    /// the start, as between the thresholds of a hysteresis the state is what it was. Null where it does not change.
    /// </summary>
    private static double? Change(double start, double end, Func<double, bool> isHigh)
    {
        double from = start, to = end;
        bool before = isHigh(from);
        if (isHigh(to) == before)
            return null;
        while (Math.Abs(to - from) > ThresholdShare * Math.Abs(end - start))
        {
            double middle = (from + to) / 2;
            (from, to) = isHigh(middle) == before ? (middle, to) : (from, middle);
        }
        return (from + to) / 2;
    }

    private double? Switching(SolvedFrontEnd solved, SwitchingMeasure measure)
    {
        bool isSensor = sensor.Node == measure.Input && sensor.IsVoltage;
        var circuit = isSensor ? solved.Compiled() : Held(solved, measure.Input);
        double Output(double volts) => circuit.Sweep(isSensor ? sensor.Name : HoldName, [measure.From, volts], cancel: cancel)
            .Voltage(measure.Output)[^1];
        double before = Output(measure.From), after = Output(measure.To);
        return Math.Abs(after - before) < 0.1 ? null : Change(measure.From, measure.To, volts => Output(volts) > (before + after) / 2);
    }

    private static SolvedFrontEnd Lift(SolvedFrontEnd solved, string? name, string? unloaded)
    {
        bool Stays(Part part) => part.Name != name && !(unloaded is not null && part.IsResistor && part.Nodes.Contains(unloaded));
        var frontEnd = solved.FrontEnd;
        return name is null && unloaded is null ? solved : solved.With(frontEnd with
        {
            Stages = [.. frontEnd.Stages.Select(s => s with { Parts = [.. s.Parts.Where(Stays)] })],
            Parts = [.. frontEnd.Parts.Where(Stays)],
            Sensors = [.. frontEnd.Sensors.Where(s => s.Name != name)],
        });
    }
}
