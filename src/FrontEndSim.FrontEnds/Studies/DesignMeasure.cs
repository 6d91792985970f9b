using FrontEndSim.Engine;

namespace FrontEndSim.FrontEnds;

/// <summary>Solves a candidate and takes its figures.</summary>
internal static class DesignMeasure
{
    // Inputs whose corners are all evaluated, at first and closely; the others are added to first order.
    private const int CornersAtFirst = 1, CornersClosely = 8;

    /// <summary>The figures that choose among many candidates: the worst case to first order, and no noise.</summary>
    public static DesignCandidate AtFirst(DesignWish wish, Stage stage, StageRequest request, FrontEnd frontEnd, ESeries series, OpAmpType? type,
        string? reference, CancellationToken cancel)
    {
        var mapping = MappingStudy.Run(frontEnd, DesignStudy.PinName, points: 11, cancel: cancel);
        var (worst, exact) = Worst(wish, stage, frontEnd, CornersAtFirst, cancel);
        double input = InputOhms(mapping);
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
            Loading = double.IsInfinity(input) ? 0 : wish.SourceOhms / (wish.SourceOhms + Math.Abs(input)),
            NoiseVolts = 0,
            SupplyWatts = -frontEnd.Rails.Sum(r => middle.Parts[r.Name].Watts),
            Cost = 0,
        });
    }

    /// <summary>All figures.</summary>
    public static DesignCandidate Closely(DesignWish wish, DesignCandidate candidate, CancellationToken cancel)
    {
        var (worst, exact) = Worst(wish, candidate.Stage, candidate.FrontEnd, CornersClosely, cancel);
        var noise = candidate.FrontEnd.ToCircuit().Compile().SolveSmallSignal(DesignStudy.SensorName, NoiseBand, cancel).Noise(DesignStudy.LevelNode);
        return Ranked(wish, candidate with { WorstErrorCounts = worst, IsWorstExact = exact, NoiseVolts = noise.RmsVolts() });
    }

    private static DesignCandidate Ranked(DesignWish wish, DesignCandidate c) => c with
    {
        Cost = c.WorstErrorCounts / Math.Pow(2, wish.Bits) * 100 + c.Loading * 100 + Math.Max(0, 0.5 - (c.HeadroomVolts ?? 0.5)) / 0.5
            + c.NoiseVolts / c.Mapping.CountVolts + c.SupplyWatts / 0.1 + 0.1 * c.PartCount + 0.05 * c.DistinctValues,
    };

    /// <summary>Evenly spaced on a logarithmic scale, 20 a decade, from 1 Hz to 100 kHz.</summary>
    private static readonly double[] NoiseBand = [.. Enumerable.Range(0, 101).Select(k => Math.Pow(10, k / 20.0))];

    /// <summary>What the sensor sees from one end of its span to the other: the change of its terminal's voltage over that of its current.</summary>
    private static double InputOhms(MappingResult mapping)
    {
        var points = mapping.Sweep.Points;
        double volts = points[^1].Nodes[DesignStudy.InputNode] - points[0].Nodes[DesignStudy.InputNode];
        // A source's current is positive into its plus terminal.
        double amps = points[0].Parts[DesignStudy.SensorName].Amps - points[^1].Parts[DesignStudy.SensorName].Amps;
        return Math.Abs(amps) < 1e-15 ? double.PositiveInfinity : volts / amps;
    }

    /// <summary>The largest error over both ends and the middle of the span, counts.</summary>
    private static (double Counts, bool IsExact) Worst(DesignWish wish, Stage stage, FrontEnd frontEnd, int corners, CancellationToken cancel)
    {
        var varied = new List<VariedNumber>();
        var inputs = new List<InputQuantity>();
        void Add(string part, string number, double low, double high)
        {
            if (!(low < high))
                return;
            varied.Add(new(part, number));
            inputs.Add(new($"{part} {number}", new RectangularInput(low, high)));
        }
        foreach (var rail in frontEnd.Rails)
            Add(rail.Name, "Scale", 1 - rail.Volts.Tolerance, 1 + rail.Volts.Tolerance);
        foreach (var part in stage.Parts)
        {
            if (part is ResistorPart r)
                Add(r.Name, "Ohms", r.Ohms.Least, r.Ohms.Most);
            if (part is OpAmpPart a)
            {
                Add(a.Name, "OffsetVolts", -a.Type.OffsetVoltsSpread, a.Type.OffsetVoltsSpread);
                Add(a.Name, "BiasAmps", 0, a.Type.BiasAmpsSpread);
                Add(a.Name, "OffsetAmps", -a.Type.OffsetAmpsSpread, a.Type.OffsetAmpsSpread);
            }
        }
        var compiled = frontEnd.ToCircuit().Compile();
        double[] volts = [wish.Sensor.Low, wish.Sensor.Middle, wish.Sensor.High];
        var wanted = stage.Mapping!;
        double codes = Math.Pow(2, wish.Bits), supply = frontEnd.Rails.First(r => r.Name == wish.Supply).Volts.Value;
        double[][] Errors(int draws, DrawNumbers numbers)
        {
            var solved = compiled.SweepDraws(DesignStudy.SensorName, volts, varied, draws, numbers, [DesignStudy.LevelNode, wish.Supply], cancel: cancel);
            // In counts of the supply as it is: what a reference and a converter on the same rail share cancels.
            return [.. Enumerable.Range(0, draws).Select(draw => Enumerable.Range(0, volts.Length).Select(k => codes
                * (solved.Voltage(draw, DesignStudy.LevelNode)[k] / solved.Voltage(draw, wish.Supply)[k] - wanted.Ideal(volts[k]) / supply)).ToArray())];
        }
        var worst = WorstCase.Of(Errors, inputs, corners);
        return (worst.Max(w => Math.Max(Math.Abs(w.Low), Math.Abs(w.High))), worst.All(w => w.IsExact));
    }
}
