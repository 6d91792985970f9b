namespace FrontEndSim.FrontEnds.Stages.Shifting;

/// <summary>
/// The resistors of a two-stage shifter: out = (Rf2/R2)·(Rf1/(R1+Rs)·vin + Rf1/Rr·vref).
/// </summary>
internal sealed record ShifterValues(ESeries Series, Toleranced Input, Toleranced? Reference, Toleranced Feedback, Toleranced SecondInput,
    Toleranced SecondFeedback, double SourceOhms, ShiftReference? ReferenceSource)
{
    // Low enough for bias currents, high enough for the outputs (common practice, no source).
    private const double SmallestOhms = 10e3;
    private const double LargestOhms = 10e6;

    // A hundred times the source resistance makes a source that strays by a tenth matter by a thousandth.
    private const double InputOverSource = 100;

    // Mappings that differ by less than this share of the span are as good as each other (0.4 counts of 12 bits).
    private const double AsGood = 1e-4;

    public double InputTotal => Input.Value + SourceOhms;

    public double? ReferenceTotal => Reference?.Value + (ReferenceSource?.SourceOhms ?? 0);

    public double FirstGain => Feedback.Value / InputTotal;

    public double ReferenceGain => ReferenceTotal is { } total ? Feedback.Value / total : 0;

    public double SecondGain => SecondFeedback.Value / SecondInput.Value;

    /// <summary>What ideal parts make of the input.</summary>
    public LinearExpectation Ideal => new(SecondGain * FirstGain, Reference is null ? 0
        : SecondGain * ReferenceGain * ReferenceSource!.Volts);

    /// <summary>What the minus input of the first op amp sees: R1 + Rs, Rr and Rf1 in parallel.</summary>
    public double Parallel1 => 1 / (1 / InputTotal + 1 / Feedback.Value + (ReferenceTotal is { } rr ? 1 / rr : 0));

    /// <summary>What the minus input of the second op amp sees: R2 and Rf2 in parallel.</summary>
    public double Parallel2 => 1 / (1 / SecondInput.Value + 1 / SecondFeedback.Value);

    private int DistinctValues => new HashSet<double> { Input.Value, Reference?.Value
        ?? Input.Value, Feedback.Value, SecondInput.Value, SecondFeedback.Value }.Count;

    public static ShifterValues Choose(StageRequest request, ShiftTarget target, ShifterLimits limits)
    {
        var (series, tolerance, reference, sourceOhms) = (target.Series, target.Tolerance, target.Reference, target.SourceOhms);
        Toleranced? input = target.Given(request, TwoStageShifter.Input), rr = target.Given(request, TwoStageShifter.Reference),
            feedback = target.Given(request, TwoStageShifter.Feedback), second = target.Given(request, TwoStageShifter.SecondInput),
            secondFeedback = target.Given(request, TwoStageShifter.SecondFeedback);
        if (rr is not null && reference is null)
            throw new StageProblemException("reference", new(ProblemKind.ResistorWithoutReference, request.Name));
        if (target.Mapping is not { } mapping)
        {
            if (input is null || feedback is null || reference is not null && rr is null)
            {
                throw new StageProblemException(null, new(ProblemKind.NothingWanted, request.Name));
            }
            var r2 = second ?? secondFeedback ?? new(SmallestOhms, tolerance);
            return new(series, input.Value, reference is null ? null : rr, feedback.Value, r2, secondFeedback ?? r2, sourceOhms, reference);
        }

        double gain = target.Gain, shift = target.Offset, referenceShare = target.ReferenceGain;
        bool isShifted = shift != 0;
        if (referenceShare < 0)
        {
            throw new StageProblemException("offset", new(ProblemKind.RailCannotShift, reference!.Rail, "",
                new(shift, Unit.Volts), High: new(reference.RailVolts, Unit.Volts)));
        }
        bool chosen = input is null || feedback is null || isShifted && rr is null;
        if (chosen)
            limits.CheckOutput(mapping.Output);

        double least = Math.Max(SmallestOhms, Math.Min(InputOverSource * sourceOhms, 1e6));
        double referenceSource = target.ReferenceOhms, referenceVolts = target.ReferenceVolts;
        var ratios = Ratios(series, second?.Value, secondFeedback?.Value, limits, mapping.Output, chosen);
        List<(double Error, ShifterValues Values)> found = [];
        double best = double.PositiveInfinity;
        foreach (double r1 in input is { } fixedInput ? [fixedInput.Value] : series.Between(least, 10 * least))
        {
            double product = gain * (r1 + sourceOhms);
            foreach (double rf in feedback is { } fixedFeedback ? [fixedFeedback.Value]
                : series.Between(Math.Max(SmallestOhms / 10, product / ShifterLimits.MostSecondGain),
                    Math.Min(LargestOhms, product * ShifterLimits.MostSecondGain)))
            {
                foreach (var (ratio, r2, rf2) in Near(ratios, product / rf))
                {
                    double wantedReference = isShifted ? rf * ratio / referenceShare - referenceSource : double.NaN;
                    foreach (double? r in References(series, rr?.Value, wantedReference, reference is not null))
                    {
                        double actualGain = ratio * rf / (r1 + sourceOhms), actualShift = r is { } ohms
                            ? ratio * rf / (ohms + referenceSource) * referenceVolts : 0;
                        double error = Math.Max(Math.Abs(actualGain * mapping.Input.Low + actualShift - mapping.Output.Low),
                            Math.Abs(actualGain * mapping.Input.High + actualShift - mapping.Output.High));
                        best = Math.Min(best, error);
                        if (error <= best + AsGood * mapping.Output.Width)
                        {
                            found.Add((error, new(series, input ?? new(r1, tolerance), r is { } value ? rr ?? new(value, tolerance) : null,
                                feedback ?? new(rf, tolerance), second ?? new(r2, tolerance), secondFeedback ?? new(rf2, tolerance),
                                sourceOhms, reference)));
                        }
                    }
                }
            }
        }
        if (found.Count == 0)
        {
            throw new StageProblemException("maps", new(ProblemKind.NoResistors, "", "", new(shift, Unit.Volts),
                new(SmallestOhms / 10, Unit.Ohm), new(LargestOhms, Unit.Ohm))
            {
                Wanted = Quantity.Number(gain),
            });
        }
        return found.Where(f => f.Error <= best + AsGood * mapping.Output.Width)
            .OrderBy(f => f.Values.DistinctValues).ThenBy(f => Math.Abs(Math.Log(f.Values.SecondGain))).ThenBy(f => f.Error).First().Values;
    }

    private static IEnumerable<double?> References(ESeries series, double? given, double wanted, bool hasReference)
    {
        if (given is not null || !hasReference)
            return [given];
        if (double.IsNaN(wanted))
            return [null];
        return wanted is >= SmallestOhms / 10 and <= LargestOhms ? series.Neighbours(wanted).Select(r => (double?)r) : [];
    }

    /// <summary>Second-stage gains that the series offers, ascending; of pairs with equal gain, the one with equal or smaller
    /// values.</summary>
    private static (double Ratio, double Input, double Feedback)[] Ratios(ESeries series, double? input,
        double? feedback, ShifterLimits limits,
        Span output, bool chosen) =>
    [
        .. from r2 in input is { } i ? [i] : feedback is { } f ? series.Between(f / 2, f * 2)
            : series.Between(SmallestOhms, 9.99 * SmallestOhms)
           from rf2 in feedback is { } f ? [f] : series.Between(r2 / ShifterLimits.MostSecondGain, r2 * ShifterLimits.MostSecondGain)
           let ratio = rf2 / r2
           where !chosen || limits.FirstStageReaches(output, ratio)
           group (ratio, r2, rf2) by Math.Round(ratio, 9) into equal
           orderby equal.Key
           select equal.MinBy(e => e.r2),
    ];

    private static IEnumerable<(double Ratio, double Input,
        double Feedback)> Near((double Ratio, double Input, double Feedback)[] ratios, double wanted)
    {
        int low = 0, high = ratios.Length;
        while (low < high)
        {
            int middle = (low + high) / 2;
            if (ratios[middle].Ratio < wanted)
                low = middle + 1;
            else
                high = middle;
        }
        for (int k = Math.Max(0, low - 1); k <= Math.Min(low, ratios.Length - 1); k++)
            yield return ratios[k];
    }
}
