using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Results;
using FrontEndSim.Engine.Waveforms;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Mapping;

/// <summary>What the charge that an analog switch leaves behind when it opens makes of a pin: the pedestal of a sample-and-hold. It is the
/// run with it less the run without it, from some microseconds after the switch has opened until it moves again.</summary>
/// <param name="Switch">Name of the switch.</param>
/// <param name="Volts">The largest change at the pin, V, with its sign.</param>
public sealed record HoldPedestal(string Switch, double Volts)
{
    // When a held voltage is read at the soonest, and later ones that are looked at, s after the opening (common practice, no source).
    private static readonly double[] ReadAfterSeconds = [10e-6, 100e-6, 1e-3, 10e-3];

    // What is less shows in no converter, and may be what two runs differ by.
    private const double LeastVolts = 10e-6;

    /// <summary>Those of all switches that open while the circuit's own sources and switches go on, with the sensors at mid-span; what they
    /// hold hardly matters to the charge.</summary>
    /// <param name="solved">The front end.</param>
    /// <param name="pin">The pin.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="SolveException">No solution was found at some time.</exception>
    internal static ImmutableArray<HoldPedestal> Of(SolvedFrontEnd solved, Pin pin, CancellationToken cancel)
    {
        var frontEnd = solved.FrontEnd;
        if (frontEnd.OwnCourse is not { } course)
            return [];
        return [.. frontEnd.AllParts.OfType<AnalogSwitchPart>()
            .Select(s => (Part: s, Times: Held(s.Closed, course.Disturbance.SuggestedSeconds)))
            .Where(s => s.Part.Type.ChargeCoulombs > 0 && s.Times.Length > 0).Select(s =>
            {
                var without = solved.With(frontEnd.Replace(s.Part, s.Part with { Type = s.Part.Type with { ChargeCoulombs = 0 } }));
                Trace with = solved.Transient(course, cancel: cancel).Voltage(pin.Node),
                    bare = without.Transient(course, cancel: cancel).Voltage(pin.Node);
                return new HoldPedestal(s.Part.Name, s.Times.Where(t => t < with.End).Select(t => with.At(t) - bare.At(t))
                    .DefaultIfEmpty(0).MaxBy(Math.Abs));
            }).Where(p => Math.Abs(p.Volts) > LeastVolts)];
    }

    /// <summary>Times after an opening at which what is held may be read, s.</summary>
    private static double[] Held(Waveform closed, double end)
    {
        if (closed is not PiecewiseLinear moves)
            return [];
        var points = moves.Points;
        return [.. Enumerable.Range(1, points.Length - 1).Where(k => points[k].Value < 0.5 && points[k - 1].Value > 0.5).SelectMany(k =>
        {
            double opens = points[k].Time, next = k + 1 < points.Length ? points[k + 1].Time : end;
            return ReadAfterSeconds.Append(0.5 * (next - opens)).Select(after => opens + after).Where(t => t < next);
        })];
    }
}
