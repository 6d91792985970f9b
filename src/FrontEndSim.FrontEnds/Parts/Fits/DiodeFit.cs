using FrontEndSim.Engine;
using FrontEndSim.Engine.Elements;

namespace FrontEndSim.FrontEnds.Parts.Fits;

/// <summary>A diode type is a data sheet with a model fitted to it.</summary>
public static class DiodeFit
{
    // How far a model may miss what a sheet says before the sheet is taken to contradict itself: an impedance or leakage
    // beyond twice, a voltage by more than 4 %; 10 % for largest voltages, which are rounded up one by one and lie on no one curve.
    private const double MostFactor = 2;
    private const double MostVoltage = 0.04;
    private const double MostLargestVoltage = 0.1;

    // A clamp that is not described forward: about 0.64 V at 1 mA and 0.70 V at 10 mA (common practice, no source).
    private static readonly DataPoint[] UsualForward =
        [new(DataPointKind.ForwardVoltage, 0.64, 1e-3), new(DataPointKind.ForwardVoltage, 0.70, 10e-3)];

    /// <summary>Fits a model to the numbers of a data sheet.</summary>
    /// <exception cref="DataSheetException">A number is out of range, numbers contradict each other, or one is missing.</exception>
    public static DiodeType Fit(DiodeDataSheet sheet)
    {
        Refuse(sheet);
        try
        {
            var type = Fitted(sheet);
            return type.Points.All(p => double.IsFinite(p.Fitted)) ? type : throw NoCurve(sheet);
        }
        catch (Exception e) when (e is MathNet.Numerics.NonConvergenceException or ArithmeticException or ArgumentException)
        {
            // Numbers far from those of any diode take the least squares out of what numbers can hold.
            throw NoCurve(sheet);
        }
    }

    private static DataSheetException NoCurve(DiodeDataSheet sheet) =>
        new($"No {Word(sheet.Kind)} has the numbers of {sheet.Name}: {string.Join(", ", sheet.Points)}.");

    private static DiodeType Fitted(DiodeDataSheet sheet)
    {
        DataPoint[] given = [.. sheet.Points.Where(p => p.Kind == DataPointKind.ForwardVoltage).OrderBy(p => p.At)];
        bool isZener = sheet.Kind == DiodeKind.Zener;
        if (isZener)
            given = [.. given.Where(p => !p.IsLimit)];
        if (given.Length == 0 && !isZener)
            throw new DataSheetException($"The {Word(sheet.Kind)} {sheet.Name} needs its forward voltage at a current.");
        var model = ForwardFit.Into(new DiodeModel
        {
            JunctionFarads = sheet.Farads,
            TransitSeconds = sheet.TransitSeconds,
            JunctionVolts = sheet.Kind == DiodeKind.Schottky ? 0.5 : 0.7,
            Grading = sheet.Kind == DiodeKind.Junction ? 1.0 / 3 : 0.5,
            SaturationAmps = 1,
            EmissionCoefficient = 1,
            ActivationVolts = 1,
            TemperatureExponent = 1,
            BreakdownTempCo = sheet.TempCo,
        }, sheet, given.Length > 0 ? given : UsualForward);
        model = WithTemperatureLaw(model, sheet.Kind);
        if (sheet.ForwardVoltsPerKelvin is { } drift)
            model = Drifting(model, given[given.Length / 2], drift);
        model = isZener ? BreakdownFit.Into(model, sheet) : Leaking(model, sheet);
        ImmutableArray<FittedPoint> points = [.. sheet.Points.Select(p => new FittedPoint(p, DiodeCurve.At(model, p)))];
        RefuseMisfit(sheet, points);
        return new DiodeType(sheet.Name, sheet.Kind, model, sheet.RatedWatts, sheet.RatedPeakAmps,
            [.. sheet.Points.Select(p => new SourcedNumber(p.What + (p.IsLimit ? ", at most" : ""), p.Value, p.Unit, p.Source
                ?? sheet.Source))], sheet.Source)
        { Points = points, Sheet = sheet };
    }

    /// <summary>
    /// How the forward law that was fitted moves with temperature. Over a barrier by thermionic emission, T²·exp(−φ/kT),
    /// whatever the slope. In a junction diffusion goes with nᵢ² and a slope of kT/q, recombination with nᵢ and a slope of
    /// 2kT/q (Sze, Physics of Semiconductor Devices); a slope n between them is taken as nᵢ^(2/n), with nᵢ² ∝ T³·exp(−Eg/kT).
    /// </summary>
    private static DiodeModel WithTemperatureLaw(DiodeModel model, DiodeKind kind)
    {
        // A barrier of 0.69 eV and the gap of silicon: Sze; the gap of visible (red) light is 2 eV.
        const double barrier = 0.69, silicon = 1.12, light = 2.0;
        double n = model.EmissionCoefficient;
        return kind == DiodeKind.Schottky
            ? model with { ActivationVolts = barrier, TemperatureExponent = 2 }
            : model with { ActivationVolts = (kind == DiodeKind.Led ? light : silicon) / n, TemperatureExponent = 3 / n };
    }

    /// <summary>
    /// The activation energy with which a point's forward voltage moves as its sheet says: at constant current
    /// dv/dT = (v − n·(Ea + p·Vt))/T, v without what the resistance drops.
    /// </summary>
    private static DiodeModel Drifting(DiodeModel model, DataPoint at, double perKelvin)
    {
        const double kelvin = Constants.ReferenceKelvin;
        double v = at.Value - DiodeCurve.SeriesVolts(model, at.At);
        return model with
        {
            ActivationVolts = (v - perKelvin * kelvin) / model.EmissionCoefficient
                - model.TemperatureExponent * Constants.ThermalVolts(kelvin),
        };
    }

    /// <summary>Voltage of a zener at a reverse current, V, at 25 °C.</summary>
    /// <param name="type">A zener type.</param>
    /// <param name="amps">Reverse current, A, above zero.</param>
    public static double ReverseVolts(DiodeType type, double amps) => DiodeCurve.ReverseVolts(type.Model, amps, out _);

    /// <summary>What a person calls a kind of diode: "zener".</summary>
    public static string Word(DiodeKind kind) => kind switch
    {
        DiodeKind.Zener => "zener",
        DiodeKind.Schottky => "schottky",
        DiodeKind.Led => "led",
        _ => "diode",
    };

    /// <summary>
    /// The leakage of a diode that is not used in breakdown: what the saturation current leaves over. One point gives a
    /// conductance; several give its exponent too, by least squares of the logarithms, which are linear in both unknowns.
    /// It breaks down a fifth above its reverse rating, as types have that much in hand (typical, from memory).
    /// </summary>
    private static DiodeModel Leaking(DiodeModel model, DiodeDataSheet sheet)
    {
        // A typical leakage where one is known: the largest ones bound single pieces, and what is typical lies far below them.
        DataPoint[] cold = [.. sheet.Points.Where(p => p.Kind == DataPointKind.Leakage && p.Celsius == 25).OrderBy(p => p.At)];
        DataPoint[] leaks = cold.Any(p => !p.IsLimit) ? [.. cold.Where(p => !p.IsLimit)] : cold;
        foreach (var leak in leaks.Where(l => model.SaturationAmps > MostFactor * l.Value))
        {
            throw DataSheetException.Contradiction(sheet.Name, sheet.First(DataPointKind.ForwardVoltage)!, leak,
                $"a junction with that forward voltage leaks its saturation current of {SiText.Format(model.SaturationAmps, "A", 3)} at "
                    + $"least");
        }
        foreach (var (lower, higher) in leaks.Zip(leaks.Skip(1)).Where(p => p.Second.Value < p.First.Value))
            throw DataSheetException.Contradiction(sheet.Name, lower, higher, "a leakage rises with the voltage");
        // ln(i/v) = ln Gl + (p − 1)·ln √(1 + (v/V0)²).
        double[] conductances = [.. leaks.Select(l => Math.Log(Math.Max(Typical(sheet, l) - model.SaturationAmps, 1e-3 * l.Value) / l.At))];
        double[] widths = [.. leaks.Select(l => 0.5 * Math.Log(1 + Math.Pow(l.At / model.JunctionVolts, 2)))];
        var (logSiemens, bend) = leaks.Length switch
        {
            0 => (double.NegativeInfinity, 0),
            1 => (conductances[0], 0),
            _ => MathNet.Numerics.Fit.Line(widths, conductances),
        };
        return model with
        {
            LeakageSiemens = Math.Exp(logSiemens),
            LeakageExponent = Math.Max(0, 1 + bend),
            LeakageDoublingKelvin = Doubling(sheet, leaks),
            BreakdownVolts = 1.2 * sheet.ReverseVolts,
            BreakdownAmps = 1e-3,
            BreakdownSlopeVolts = 0.1,
        };
    }

    // The largest leakage that an indicator's sheet states is a tester's floor: a piece leaks a hundredth of it (typical, from memory).
    private const double IndicatorShare = 0.01;

    private static double Typical(DiodeDataSheet sheet, DataPoint leak) =>
        sheet.Kind == DiodeKind.Led && leak.IsLimit ? IndicatorShare * leak.Value : leak.Value;

    /// <summary>
    /// Rise of temperature that doubles the leakage, K: between two limits at one voltage what they say; where a typical leakage is
    /// fitted, the usual one, or more if it would pass the limit stated hot.
    /// </summary>
    private static double Doubling(DiodeDataSheet sheet, DataPoint[] fitted)
    {
        if (sheet.Points.Where(p => p.Kind == DataPointKind.Leakage && p.Celsius > 25).MaxBy(p => p.Celsius) is not { } hot
            || fitted.Length == 0)
            return sheet.LeakageDoublingKelvin;
        var nearest = fitted.MinBy(p => Math.Abs(Math.Log(p.At / hot.At)))!;
        double needed = hot.Value > nearest.Value ? (hot.Celsius - 25) / Math.Log2(hot.Value / nearest.Value) : double.PositiveInfinity;
        return nearest.IsLimit && hot.IsLimit ? needed : Math.Max(needed, sheet.LeakageDoublingKelvin);
    }

    private static void Refuse(DiodeDataSheet sheet)
    {
        foreach (var p in sheet.Points.Where(p => !(p.Value > 0 && p.At > 0 && double.IsFinite(p.Value) && double.IsFinite(p.At))))
            throw new DataSheetException($"The {p.What} of {sheet.Name} must be above 0 {p.Unit}, at a value above 0 {p.AtUnit}.");
        foreach (var twice in sheet.Points.GroupBy(p => (p.Kind, p.At, p.Celsius, p.IsLimit)).Where(g => g.Count() > 1))
            throw new DataSheetException($"{sheet.Name} has two numbers for the {twice.First().What}; give one.");
        if (sheet.Kind != DiodeKind.Zener && sheet.Points.FirstOrDefault(p =>
            p.Kind is DataPointKind.ZenerVoltage or DataPointKind.Impedance) is { } odd)
            throw new DataSheetException($"The {odd.What} of {sheet.Name} belongs to a zener, but {sheet.Name} is a {Word(sheet.Kind)}.");
        foreach (var beyond in sheet.Points.Where(p => p.Kind == DataPointKind.Leakage && p.At > sheet.ReverseVolts))
            throw new DataSheetException(
                $"The numbers of {sheet.Name} contradict each other: the {beyond} lies beyond the reverse rating of "
                + $"{SiText.Format(sheet.ReverseVolts, "V")}.");
    }

    /// <summary>Two points that no curve meets pull it apart: the one that it stays below, and the one that it stays above.</summary>
    private static void RefuseMisfit(DiodeDataSheet sheet, ImmutableArray<FittedPoint> points)
    {
        double Beyond(FittedPoint p)
        {
            double off = p.Point.Kind is DataPointKind.Impedance or DataPointKind.Leakage
                ? Math.Log(Math.Max(p.Fitted, 1e-300) / p.Point.Value) / Math.Log(MostFactor)
                : p.Residual / (p.Point.IsLimit ? MostLargestVoltage : MostVoltage);
            return off < 0 && p.Point.IsLimit ? 0 : off;
        }
        string At(FittedPoint p) => DataSheetException.Fitted(p.Fitted, p.Point.Unit);
        if (points.All(p => Math.Abs(Beyond(p)) <= 1))
            return;
        var worst = points.MaxBy(p => Math.Abs(Beyond(p)))!;
        if (points.Where(p => p != worst).MaxBy(p => Math.Abs(Beyond(p))) is not { } other)
        {
            throw new DataSheetException(
                $"No {Word(sheet.Kind)} has the {worst.Point} of {sheet.Name}: the nearest curve has {At(worst)} there.");
        }
        throw DataSheetException.Contradiction(sheet.Name, worst.Point, other.Point,
            $"the nearest curve has {At(worst)} and {At(other)} there");
    }
}
