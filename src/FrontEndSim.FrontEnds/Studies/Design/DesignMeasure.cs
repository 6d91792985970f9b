using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Budget;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;
using FrontEndSim.FrontEnds.Uncertainty;

namespace FrontEndSim.FrontEnds.Studies.Design;

/// <summary>How near an amplifier comes to one of its limits at the worst corner of tolerances.</summary>
/// <param name="OpAmp">Name of its element.</param>
/// <param name="IsInput">Whether the limit is of the inputs' common mode, else of the output's swing.</param>
/// <param name="IsUpper">Whether it is the upper one.</param>
/// <param name="SensorValue">What the sensor measures there, in its own unit.</param>
/// <param name="Volts">Distance from the limit, V, negative beyond it.</param>
internal sealed record CornerHeadroom(string OpAmp, bool IsInput, bool IsUpper, double SensorValue, double Volts);

/// <summary>Solves a candidate and takes its figures.</summary>
internal static class DesignMeasure
{
    // Inputs whose corners are all evaluated, at first and closely; the others are added to first order.
    private const int CornersAtFirst = 1, CornersClosely = 8;

    /// <summary>The figures that choose among many candidates: the worst case to first order, and no noise.</summary>
    public static DesignCandidate AtFirst(DesignTarget target, Stage stage, StageRequest request,
        FrontEnd frontEnd, ESeries series, OpAmpType? type,
        string? reference, CancellationToken cancel)
    {
        var solved = new SolvedFrontEnd(frontEnd);
        var mapping = MappingStudy.Run(solved, target.Pin.Name, points: 11, cancel: cancel);
        var (worst, exact) = Worst(target, stage, solved, CornersAtFirst, cancel);
        double input = InputOhms(target, mapping);
        var middle = mapping.Sweep.Points[mapping.Sweep.Points.Count / 2];
        return Ranked(target, new()
        {
            Stage = stage,
            Request = request,
            FrontEnd = frontEnd,
            Series = series,
            OpAmp = type,
            Reference = reference,
            Mapping = mapping,
            WorstErrorCounts = worst,
            IsWorstExact = exact,
            InputOhms = input,
            Loading = double.IsInfinity(input) ? 0 : target.Sensor.SourceOhms / (target.Sensor.SourceOhms + Math.Abs(input)),
            NoiseVolts = 0,
            SupplyWatts = -frontEnd.Rails.Sum(r => middle.Parts[r.Name].Watts),
            Cost = 0,
        });
    }

    /// <summary>All figures.</summary>
    public static DesignCandidate Closely(DesignTarget target, DesignCandidate candidate, CancellationToken cancel)
    {
        var solved = new SolvedFrontEnd(candidate.FrontEnd);
        var (worst, exact) = Worst(target, candidate.Stage, solved, CornersClosely, cancel);
        var noise = solved.Compiled().SolveSmallSignal(target.Sensor.Name, NoiseBand, cancel).Noise(target.Gap.Output);
        return Ranked(target, candidate with { WorstErrorCounts = worst, IsWorstExact = exact, NoiseVolts = noise.RmsVolts() });
    }

    private static DesignCandidate Ranked(DesignTarget target, DesignCandidate c) => c with
    {
        Cost = c.WorstErrorCounts / target.Pin.Converter!.Codes * 100 + c.Loading * 100
            + c.NoiseVolts / c.Mapping.CountVolts + c.SupplyWatts / 0.1 + 0.1 * c.PartCount + 0.05 * c.DistinctValues,
    };

    /// <summary>Evenly spaced on a logarithmic scale, 20 a decade, from 1 Hz to 100 kHz.</summary>
    private static readonly double[] NoiseBand = [.. Enumerable.Range(0, 101).Select(k => Math.Pow(10, k / 20.0))];

    /// <summary>What the sensor sees from one end of its span to the other: the change of its terminal's voltage over that of its
    /// current.</summary>
    private static double InputOhms(DesignTarget target, MappingResult mapping)
    {
        var points = mapping.Sweep.Points;
        double volts = points[^1].Nodes[target.Sensor.Node] - points[0].Nodes[target.Sensor.Node];
        // A source's current is positive into its plus terminal.
        double amps = points[0].Parts[target.Sensor.Name].Amps - points[^1].Parts[target.Sensor.Name].Amps;
        return Math.Abs(amps) < 1e-15 ? double.PositiveInfinity : volts / amps;
    }

    /// <summary>
    /// The least distance of the stage's amplifiers from the limits of their swing and common mode, at both ends and the middle of the
    /// span, with every source of error at the limit that brings it nearer, each to first order; null for a stage without an amplifier.
    /// Computed by the linear law: an output that stops at its rail is not nearer to it than it stands.
    /// </summary>
    public static CornerHeadroom? LeastHeadroom(DesignTarget target, FrontEnd frontEnd, CancellationToken cancel)
    {
        ImmutableArray<AmplifierElement> amplifiers = [.. frontEnd.AllParts.SelectMany(p => p.Amplifiers)];
        if (amplifiers.IsEmpty)
            return null;
        var linear = Linear(frontEnd.WithUsualTolerances());
        var sources = new ErrorSources(linear);
        double[] values = [target.Sensor.Span.Low, target.Sensor.Span.Middle, target.Sensor.Span.High];
        string[] nodes = [.. amplifiers.SelectMany(a => new[]
            { a.Ports.Output, a.Ports.Plus, a.Ports.Minus, a.Ports.PositiveRail, a.Ports.NegativeRail })
                .Where(n => n != Circuit.Ground).Distinct()];
        var solved = new SolvedFrontEnd(linear).Compiled().SweepTrials(target.Sensor.Name, values, sources.Numbers,
            sources.DrawsOfEachAlone, sources.SetEachAlone, nodes, cancel: cancel);
        return amplifiers.SelectMany(a => Enumerable.Range(0, values.Length).SelectMany(k =>
        {
            var model = a.Ports.Model;
            double V(int draw, string node) => node == Circuit.Ground ? 0 : solved.Voltage(draw, node)[k];
            double Bound(Func<int, double> distance) => sources.Bound(distance).Low;
            return new CornerHeadroom[]
            {
                new(a.Name, false, true, values[k],
                    Bound(d => V(d, a.Ports.PositiveRail) - model.DropHighVolts - V(d, a.Ports.Output))),
                new(a.Name, false, false, values[k],
                    Bound(d => V(d, a.Ports.Output) - V(d, a.Ports.NegativeRail) - model.DropLowVolts)),
                new(a.Name, true, true, values[k], Bound(d => V(d, a.Ports.PositiveRail) - model.CommonModeHighVolts
                    - Math.Max(V(d, a.Ports.Plus), V(d, a.Ports.Minus)))),
                new(a.Name, true, false, values[k], Bound(d => Math.Min(V(d, a.Ports.Plus), V(d, a.Ports.Minus))
                    - V(d, a.Ports.NegativeRail) - model.CommonModeLowVolts)),
            };
        })).MinBy(h => h.Volts);
    }

    // By the linear law: an output that stops at its rail would cap the error of a corner that it does not reach.
    private static FrontEnd Linear(FrontEnd frontEnd) => frontEnd.AllParts.SelectMany(p => p.Idealisations
        .Where(i => i.Of == Imperfection.Swing).Select(i => (Part: p, i.Ideal))).Aggregate(frontEnd, (f, i) => f.Replace(i.Part, i.Ideal));

    /// <summary>The largest error over both ends and the middle of the span, counts.</summary>
    private static (double Counts, bool IsExact) Worst(DesignTarget target, Stage stage, SolvedFrontEnd session,
        int corners, CancellationToken cancel)
    {
        var linear = Linear(session.FrontEnd);
        var sources = new ErrorSources(linear);
        var compiled = session.With(linear).Compiled();
        double[] volts = [target.Sensor.Span.Low, target.Sensor.Span.Middle, target.Sensor.Span.High];
        var wanted = stage.Mapping!;
        var converter = target.Pin.Converter!;
        string[] solvedNodes = [target.Gap.Output, .. converter.References];
        double[][] Errors(int draws, TrialNumbers numbers)
        {
            var solved = compiled.SweepTrials(target.Sensor.Name, volts, sources.Numbers, draws, (draw, set) =>
            {
                Span<double> values = stackalloc double[sources.All.Length];
                for (int k = 0; k < values.Length; k++)
                    values[k] = sources.All[k].Distribution.Mean;
                numbers(draw, values);
                sources.SetAll(values, session.FrontEnd.Celsius, set);
            }, solvedNodes, cancel: cancel);
            // In counts of the range as it is: what a reference and a converter on the same rail share cancels.
            double Error(int draw, int k)
            {
                double At(string node) => solved.Voltage(draw, node)[k];
                return converter.Counts(At(target.Gap.Output), At) - converter.Counts(wanted.Ideal(volts[k]), target.Rails);
            }
            // A potentiometer is turned until the middle is right: what is left is what the ends are off by then.
            double trim = stage.Parts.Any(p => p.IsTrimmed) ? 1 : 0;
            return [.. Enumerable.Range(0, draws).Select(draw =>
                Enumerable.Range(0, volts.Length).Select(k => Error(draw, k) - trim * Error(draw, 1)).ToArray())];
        }
        var worst = WorstCase.Of(Errors, sources.All, corners);
        return (worst.Max(w => Math.Max(Math.Abs(w.Low), Math.Abs(w.High))), worst.All(w => w.IsExact));
    }
}
