using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Waveforms;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Studies.Respond;

/// <summary>
/// A sample of a pin behind an external multiplexer that has just been switched from the channel before: its common node still holds the
/// voltage of that channel, and so does all that follows it; the switches leave their charge there, and the sampling capacitor is
/// connected after the wait that the scan has.
/// </summary>
internal static class MultiplexedSample
{
    /// <summary>Takes it.</summary>
    /// <param name="solved">The front end.</param>
    /// <param name="scan">The scan.</param>
    /// <param name="pin">The pin, with its channel.</param>
    /// <param name="before">The pin that is read before, through another channel of the same multiplexer.</param>
    /// <param name="sensorValue">What the pin's sensor measures, in its unit.</param>
    /// <param name="scenario">Where it and the sensor of the pin before stand.</param>
    /// <param name="startVolts">Voltage that the capacitor holds from the pin before, V.</param>
    /// <param name="cancel">Stops the solver.</param>
    /// <exception cref="SolveException">No solution was found.</exception>
    public static SamplingResult Run(SolvedFrontEnd solved, Scan scan, Pin pin, Pin before, double sensorValue,
        Scenario scenario, double startVolts, CancellationToken cancel)
    {
        var (target, sampling, half) = SamplingStudy.Sampled(solved.FrontEnd, pin.Name);
        var chip = solved.FrontEnd.AllParts.First(p => p.Name == pin.Channel!.Multiplexer);
        double rest = solved.Reading(pin.Name).Rest(scenario, cancel).Nodes[pin.Node];
        int reads = scan.Discarded + 1;
        // Where no rate is known, readings follow each other at once: what is least likely to settle.
        double step = scan.EverySeconds ?? 1.05 * sampling.Seconds, pause = step - sampling.Seconds;
        double wait = scan.WaitSeconds ?? (scan.EverySeconds is null ? 0 : pause);
        double lead = sampling.Seconds + wait;
        return new(sensorValue, startVolts, rest, Kept(), LongEnough());

        double Kept()
        {
            int rounds = scan.EverySeconds is null ? 1 : SamplingStudy.RoundsOfAScan;
            double round = step * reads * scan.Pins.Length, gap = Math.Min(pause / 8, sampling.Seconds / 20);
            var moves = ImmutableArray.CreateBuilder<(double, string)>();
            var closed = ImmutableArray.CreateBuilder<(double, double)>();
            var charging = ImmutableArray.CreateBuilder<(double, double)>();
            charging.Add((0, 1));
            double[] ends = new double[rounds];
            for (int k = 0; k < rounds; k++)
            {
                double begin = lead + k * round;
                moves.Add((begin - wait, pin.Channel!.Node));
                charging.AddRange((begin - gap, 1), (begin - gap, 0));
                SamplingStudy.AddReads(closed, begin, reads, step, sampling);
                double end = ends[k] = begin + (reads - 1) * step + sampling.Seconds;
                if (k == rounds - 1)
                    continue;
                moves.Add((end + gap, before.Channel!.Node));
                charging.AddRange((end + gap, 0), (end + gap, 1));
            }
            // What each turn carries from one channel to the other is a mean current, as through a resistance of one over rate and
            // capacitance: the channel rests where that holds it, and the turns find what is left of the ripple.
            Element[] mean = scan.EverySeconds is null ? [] : SamplingStudy.MeanCurrent(pin, pin.Channel!.Node, startVolts,
                round / (sampling.Farads + chip.Selection!.CommonFarads), lead - wait);
            var run = SamplingStudy.Sampled(Switching(moves.ToImmutable()), target, scenario, startVolts,
                new PiecewiseLinear(closed.ToImmutable()), new PiecewiseLinear(charging.ToImmutable()), half, mean)
                .RunTransient(ends[^1], cancel);
            return SamplingStudy.Limit(run.Voltage(SamplingStudy.Held(pin.Name)).Sample(ends));
        }

        // The acquisition time that would do, the switch moving as long before it as it does.
        double LongEnough()
        {
            var compiled = SamplingStudy.Sampled(Switching([(lead - wait, pin.Channel!.Node)]), target, scenario, startVolts,
                new Step(0, 1, lead), new Step(1, 0, lead), half);
            return SamplingStudy.Settled(compiled, pin, lead, half, rest, cancel).Seconds;
        }

        SolvedFrontEnd Switching(ImmutableArray<(double, string)> moves) =>
            solved.With(solved.FrontEnd.Replace(chip, chip.Selecting(before.Channel!.Node, moves)));
    }
}
