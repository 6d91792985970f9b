using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Budget;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.FrontEnds.Studies.Session;
using FrontEndSim.FrontEnds.Uncertainty;

namespace FrontEndSim.FrontEnds.Studies.Design;

/// <summary>Solves a candidate and takes its figures.</summary>
internal static class DesignMeasure
{
    // Inputs whose corners are all evaluated, at first and closely; the others are added to first order.
    private const int CornersAtFirst = 1, CornersClosely = 8;

    /// <summary>The figures that choose among many candidates: the worst case to first order, and no noise.</summary>
    public static DesignCandidate AtFirst(DesignWish wish, Stage stage, StageRequest request,
        FrontEnd frontEnd, ESeries series, OpAmpType? type,
        string? reference, CancellationToken cancel)
    {
        var solved = new SolvedFrontEnd(frontEnd);
        var mapping = MappingStudy.Run(solved, wish.Pin.Name, points: 11, cancel: cancel);
        var (worst, exact) = Worst(wish, stage, solved, CornersAtFirst, cancel);
        double input = InputOhms(wish, mapping);
        var middle = mapping.Sweep.Points[mapping.Sweep.Points.Count / 2];
        return Ranked(wish, new()
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
            Loading = double.IsInfinity(input) ? 0 : wish.Sensor.SourceOhms / (wish.Sensor.SourceOhms + Math.Abs(input)),
            NoiseVolts = 0,
            SupplyWatts = -frontEnd.Rails.Sum(r => middle.Parts[r.Name].Watts),
            Cost = 0,
        });
    }

    /// <summary>All figures.</summary>
    public static DesignCandidate Closely(DesignWish wish, DesignCandidate candidate, CancellationToken cancel)
    {
        var solved = new SolvedFrontEnd(candidate.FrontEnd);
        var (worst, exact) = Worst(wish, candidate.Stage, solved, CornersClosely, cancel);
        var noise = solved.Compiled().SolveSmallSignal(wish.Sensor.Name, NoiseBand, cancel).Noise(wish.Gap.Output);
        return Ranked(wish, candidate with { WorstErrorCounts = worst, IsWorstExact = exact, NoiseVolts = noise.RmsVolts() });
    }

    private static DesignCandidate Ranked(DesignWish wish, DesignCandidate c) => c with
    {
        Cost = c.WorstErrorCounts / wish.Pin.Converter!.Codes * 100 + c.Loading * 100 + Math.Max(0, 0.5 - (c.HeadroomVolts ?? 0.5)) / 0.5
            + c.NoiseVolts / c.Mapping.CountVolts + c.SupplyWatts / 0.1 + 0.1 * c.PartCount + 0.05 * c.DistinctValues,
    };

    /// <summary>Evenly spaced on a logarithmic scale, 20 a decade, from 1 Hz to 100 kHz.</summary>
    private static readonly double[] NoiseBand = [.. Enumerable.Range(0, 101).Select(k => Math.Pow(10, k / 20.0))];

    /// <summary>What the sensor sees from one end of its span to the other: the change of its terminal's voltage over that of its
    /// current.</summary>
    private static double InputOhms(DesignWish wish, MappingResult mapping)
    {
        var points = mapping.Sweep.Points;
        double volts = points[^1].Nodes[wish.Sensor.Node] - points[0].Nodes[wish.Sensor.Node];
        // A source's current is positive into its plus terminal.
        double amps = points[0].Parts[wish.Sensor.Name].Amps - points[^1].Parts[wish.Sensor.Name].Amps;
        return Math.Abs(amps) < 1e-15 ? double.PositiveInfinity : volts / amps;
    }

    /// <summary>The largest error over both ends and the middle of the span, counts.</summary>
    private static (double Counts, bool IsExact) Worst(DesignWish wish, Stage stage, SolvedFrontEnd session,
        int corners, CancellationToken cancel)
    {
        // By the linear law: an output that stops at its rail would cap the error of a corner that it does not reach.
        var linear = session.FrontEnd.AllParts.SelectMany(p => p.Idealisations.Where(i => i.Of == Imperfection.Swing)
            .Select(i => (Part: p, i.Ideal))).Aggregate(session.FrontEnd, (f, i) => f.Replace(i.Part, i.Ideal));
        var sources = new ErrorSources(linear);
        var compiled = session.With(linear).Compiled();
        double[] volts = [wish.Sensor.Span.Low, wish.Sensor.Span.Middle, wish.Sensor.Span.High];
        var wanted = stage.Mapping!;
        var converter = wish.Pin.Converter!;
        string[] solvedNodes = [wish.Gap.Output, .. converter.References];
        double[][] Errors(int draws, TrialNumbers numbers)
        {
            var solved = compiled.SweepTrials(wish.Sensor.Name, volts, sources.Numbers, draws, (draw, set) =>
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
                return converter.Counts(At(wish.Gap.Output), At) - converter.Counts(wanted.Ideal(volts[k]), wish.Rails);
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
