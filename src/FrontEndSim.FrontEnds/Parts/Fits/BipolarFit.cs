using FrontEndSim.Engine;
using FrontEndSim.Engine.Elements;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.RootFinding;

namespace FrontEndSim.FrontEnds.Parts.Fits;

/// <summary>
/// A bipolar transistor's model from its data sheet, in closed form but for one search. With h = 1 + ic/Ik the base current is
/// ib = ic·h/βF + Irec·√(ic·h/Is), so that 1/gain is linear in 1/βF, 1/(βF·Ik) and Irec/√Is. The gains are those that every piece has;
/// the nominal piece stands in the geometric middle between them and the largest.
/// </summary>
internal static class BipolarFit
{
    private static readonly double ThermalVolts = Constants.ThermalVolts(Constants.ReferenceKelvin);

    // Usual of small silicon transistors (from memory): reverse gain, base-emitter voltage, and how far the gains of pieces lie apart.
    private const double UsualReverseGain = 4, UsualGainRatio = 3;
    private static readonly BasePoint UsualBase = new(0.65, 1e-3);

    // The gain at 10 mA falls from 75 at 25 °C to 35 at −55 °C (2N2222A sheets of NXP, onsemi and Semelab): ln(75/35)/ln(298/218).
    private const double GainExponent = 2.4;

    // A gain may miss by this share, a base voltage by so many volts, before the numbers are taken to contradict each other.
    private const double MostGainMiss = 0.35, MostBaseMiss = 0.08;

    /// <exception cref="DataSheetException">A number is out of range, numbers contradict each other, or one is missing.</exception>
    public static BipolarType Fit(BipolarDataSheet sheet)
    {
        Refuse(sheet);
        GainPoint[] gains = [.. sheet.Gains.OrderBy(g => g.Amps)];
        var (perGain, perKnee, lost) = GainLaw(gains.Select(g => (1 / g.Least, g.Amps)).ToArray());
        if (!(perGain > 0))
            throw Contradiction(sheet, gains, "the gain would grow without end");
        double knee = perKnee > 0 ? perGain / perKnee : double.PositiveInfinity;
        double Injection(double amps) => 1 + amps / knee;
        double BaseAmps(double amps) => amps * Injection(amps) * perGain + lost * Math.Sqrt(amps * Injection(amps));
        foreach (var g in gains.Where(g => Math.Abs(g.Amps / BaseAmps(g.Amps) / g.Least - 1) > MostGainMiss))
            throw Contradiction(sheet, gains, $"the nearest law has {g.Amps / BaseAmps(g.Amps):G3} at {SiText.Format(g.Amps, "A")}");

        BasePoint[] bases = sheet.Bases.IsEmpty ? [UsualBase] : [.. sheet.Bases.OrderBy(b => b.Amps)];
        double Into(BasePoint b) => b.BaseAmps ?? BaseAmps(b.Amps);
        // v = Vt·ln(ic·h/Is) + ib·Rb: linear in ln Is and Rb.
        double[] rest = [.. bases.Select(b => b.Volts - ThermalVolts * Math.Log(b.Amps * Injection(b.Amps)))];
        double ohms = 0;
        if (bases.Length > 1)
        {
            double mean = bases.Average(Into), height = rest.Average();
            double spread = bases.Sum(b => Math.Pow(Into(b) - mean, 2));
            ohms = spread > 0 ? Math.Max(0, bases.Select((b, k) => (Into(b) - mean) * (rest[k] - height)).Sum() / spread) : 0;
        }
        double saturation = Math.Exp(-bases.Select((b, k) => rest[k] - ohms * Into(b)).Average() / ThermalVolts);
        double BaseVolts(BasePoint b) => ThermalVolts * Math.Log(b.Amps * Injection(b.Amps) / saturation) + ohms * Into(b);
        if (bases.FirstOrDefault(b => Math.Abs(BaseVolts(b) - b.Volts) > MostBaseMiss) is { } odd)
        {
            throw new DataSheetException($"No transistor has the base-emitter voltages of {sheet.Name}: the nearest law has "
                + $"{DataSheetException.Fitted(BaseVolts(odd), "V")} at {SiText.Format(odd.Amps, "A")} "
                + $"and not {SiText.Format(odd.Volts, "V", 3)}.");
        }

        var least = new BipolarModel
        {
            Polarity = sheet.Polarity,
            SaturationAmps = saturation,
            ForwardGain = 1 / perGain,
            ReverseGain = UsualReverseGain,
            KneeAmps = knee,
            RecombinationAmps = lost * Math.Sqrt(saturation),
            GainExponent = GainExponent,
            EarlyVolts = sheet.EarlyVolts,
            ActivationVolts = 1.12, // diffusion in silicon (Sze)
            TemperatureExponent = 3,
            CollectorFarads = sheet.CollectorFarads,
            EmitterFarads = sheet.EmitterFarads,
        };
        if (!(sheet.LeakageAmps > 0) || sheet.HotLeakage is { } warm && !(warm.Amps > sheet.LeakageAmps && warm.Celsius > 25))
            throw new DataSheetException($"The leakage of {sheet.Name} must be above 0 A, and larger hot than at 25 °C.");
        double collector = CollectorOhms(sheet, least);
        double forward = ForwardTransit(sheet);
        least = least with { ForwardTransitSeconds = forward, ReverseTransitSeconds = ReverseTransit(sheet, least, forward) };
        // The piece in the middle of the spread.
        double ratio = gains.Where(g => g.Most is not null).Select(g => g.Most!.Value / g.Least)
            .DefaultIfEmpty(UsualGainRatio).Min(), half = Math.Sqrt(ratio);
        var model = least with { ForwardGain = least.ForwardGain * half, RecombinationAmps = least.RecombinationAmps / half };
        // No piece is worse than the least gains stated; the law, which goes between them, is.
        double worst = gains.Min(g => g.Least / (g.Amps / BaseAmps(g.Amps)));
        return new(sheet.Name, sheet, model, ohms, collector, half, Math.Min(1, worst) / half,
        [
            .. sheet.Gains.SelectMany(g => Gain(g, g.Amps / BaseAmps(g.Amps), ratio)),
            .. sheet.Bases.Select(b =>
                new TypeFigure("base-emitter voltage" + At(b.Amps, b.BaseAmps), b.Volts, "V") { Fitted = BaseVolts(b) }),
            .. sheet.Saturations.Select(s => new TypeFigure("saturation voltage" + At(s.Amps, s.BaseAmps), s.Volts, "V")
                { IsLimit = s.IsLimit, Fitted = Saturated(least, s.Amps, s.BaseAmps) + collector * s.Amps }),
            .. Leakage(sheet),
        ]);
        static string At(double amps, double? baseAmps) =>
            $" at {SiText.Format(amps, "A")}" + (baseAmps is { } b ? $" with {SiText.Format(b, "A")} into the base" : "");
    }

    private static IEnumerable<TypeFigure> Leakage(BipolarDataSheet sheet)
    {
        yield return new("collector cut-off current", sheet.LeakageAmps, "A") { IsLimit = true };
        if (sheet.HotLeakage is { } hot)
            yield return new($"collector cut-off current at {hot.Celsius:G3} °C", hot.Amps, "A") { IsLimit = true };
    }

    private static IEnumerable<TypeFigure> Gain(GainPoint g, double fitted, double ratio)
    {
        yield return new("least current gain at " + SiText.Format(g.Amps, "A"), g.Least, "") { IsLimit = true, Fitted = fitted };
        if (g.Most is { } most)
            yield return new("largest current gain at " + SiText.Format(g.Amps, "A"), most, "") { IsLimit = true, Fitted = fitted * ratio };
    }

    /// <summary>
    /// Least squares of relative errors of 1/gain = a·1 + b·ic + r·√(h/ic) with none below zero, h = 1 + ic·b/a from the round before.
    /// Two points settle two of them, one point one.
    /// </summary>
    private static (double PerGain, double PerKnee, double Lost) GainLaw((double PerGain, double Amps)[] points)
    {
        double a = points.Min(p => p.PerGain), b = 0, r = 0;
        bool falls = points[^1].PerGain > points[0].PerGain;
        for (int round = 0; round < 30; round++)
        {
            double knee = b > 0 && a > 0 ? b / a : 0;
            List<int> columns = points.Length switch { 1 => [0], 2 => [0, falls ? 1 : 2], _ => [0, 1, 2] };
            double[] found = [0, 0, 0];
            while (columns.Count > 0)
            {
                var left = Matrix<double>.Build.DenseOfRows(points.Select(p =>
                {
                    double[] all = [1, p.Amps, Math.Sqrt((1 + p.Amps * knee) / p.Amps)];
                    return columns.Select(c => all[c] / p.PerGain).ToArray();
                }));
                // Two points at one current do not settle more than one number.
                var solved = left.Svd().Solve(Vector<double>.Build.Dense(points.Length, 1));
                int worst = Enumerable.Range(0, columns.Count).MinBy(k => solved[k]);
                if (solved[worst] >= 0)
                {
                    for (int k = 0; k < columns.Count; k++)
                        found[columns[k]] = solved[k];
                    break;
                }
                columns.RemoveAt(worst);
            }
            (a, b, r) = (found[0], found[1], found[2]);
        }
        return (a, b, r);
    }

    /// <summary>Collector-emitter voltage of a saturated model without resistances (Ebers and Moll 1954), V; NaN where it is not
    /// saturated.</summary>
    private static double Saturated(BipolarModel m, double amps, double baseAmps)
    {
        double perGain = 1 / m.ForwardGain, lost = m.RecombinationAmps / Math.Sqrt(m.SaturationAmps);
        double Reverse(double forward) => m.ReverseGain * (baseAmps - forward * perGain - lost * Math.Sqrt(forward));
        double Collector(double forward)
        {
            double reverse = Reverse(forward), h = 0.5 + Math.Sqrt(0.25 + forward / m.KneeAmps);
            return (forward - reverse) / h - reverse / m.ReverseGain;
        }
        double most = baseAmps * m.ForwardGain;
        if (Collector(most) < amps)
            return double.NaN;
        double flow = Brent.FindRoot(forward => Collector(forward) - amps, 0, most, 1e-16 * most, 200), leftOver = Reverse(flow);
        return leftOver > 0 ? ThermalVolts * Math.Log((flow + m.SaturationAmps) / (leftOver + m.SaturationAmps)) : double.NaN;
    }

    /// <summary>The largest resistance of the collector that stays within every saturation voltage stated, ohm.</summary>
    private static double CollectorOhms(BipolarDataSheet sheet, BipolarModel model)
    {
        double most = double.PositiveInfinity;
        foreach (var s in sheet.Saturations)
        {
            double left = Saturated(model, s.Amps, s.BaseAmps);
            if (double.IsNaN(left))
            {
                throw new DataSheetException(
                    $"{sheet.Name} is not saturated at {SiText.Format(s.Amps, "A")} with {SiText.Format(s.BaseAmps, "A")} into the base: "
                    + "its least gain asks for more base current.");
            }
            if (left > s.Volts)
            {
                throw new DataSheetException(
                    $"No transistor saturates to {SiText.Format(s.Volts, "V", 3)} at {SiText.Format(s.Amps, "A")} with "
                    + $"{SiText.Format(s.BaseAmps, "A")} into the base: its junctions leave {SiText.Format(left, "V", 3)} at least.");
            }
            most = Math.Min(most, (s.Volts - left) / s.Amps);
        }
        return double.IsFinite(most) ? most : 0;
    }

    /// <summary>1/(2π·fT) = τF + (Cπ + Cμ)·Vt/ic (Gray and Meyer).</summary>
    private static double ForwardTransit(BipolarDataSheet sheet)
    {
        if (sheet.Transition is not var (hertz, amps))
            return 0;
        double charging = (sheet.CollectorFarads + sheet.EmitterFarads) * ThermalVolts / amps, all = 1 / (2 * Math.PI * hertz);
        return all > charging ? all - charging
            : throw new DataSheetException(
                $"The transition frequency of {sheet.Name} contradicts its capacitances: at {SiText.Format(amps, "A")} "
                + $"they alone allow {SiText.Format(1 / (2 * Math.PI * charging), "Hz", 3)}.");
    }

    /// <summary>
    /// The storage time constant is dQ/dIB of the saturated transistor: [τF·(1 + 1/βR) + τR]/[(1 + 1/βR)/βF + 1/βR], and the time from
    /// turning IB round to leaving saturation that constant times ln(2·IB/(IB + IC/βF)) (Ebers and Moll 1954; Beaufoy and Sparkes 1957).
    /// </summary>
    private static double ReverseTransit(BipolarDataSheet sheet, BipolarModel model, double forward)
    {
        if (sheet.Storage is not var (seconds, amps, baseAmps))
            return 10 * forward;
        double both = 1 + 1 / model.ReverseGain, ratio = 2 * baseAmps / (baseAmps + amps / model.ForwardGain);
        if (!(ratio > 1))
            throw new DataSheetException($"{sheet.Name} is not saturated at {SiText.Format(amps, "A")} with "
                + $"{SiText.Format(baseAmps, "A")} into the base, so it stores nothing.");
        double constant = seconds / Math.Log(ratio);
        return Math.Max(0, constant * (both / model.ForwardGain + 1 / model.ReverseGain) - both * forward);
    }

    private static void Refuse(BipolarDataSheet sheet)
    {
        if (sheet.Gains.IsEmpty)
            throw new DataSheetException($"The transistor {sheet.Name} needs its current gain at a collector current.");
        IEnumerable<(string What, double? Value)> numbers =
        [
            .. sheet.Gains.SelectMany(g =>
                new (string, double?)[] { ("current gain", g.Least), ("collector current", g.Amps), ("largest gain", g.Most) }),
            .. sheet.Bases.SelectMany(b =>
                new (string, double?)[] { ("base-emitter voltage", b.Volts), ("collector current", b.Amps), ("base current", b.BaseAmps) }),
            .. sheet.Saturations.SelectMany(s =>
                new (string, double?)[] { ("saturation voltage", s.Volts), ("collector current", s.Amps), ("base current", s.BaseAmps) }),
            ("Early voltage", sheet.EarlyVolts), ("rated power", sheet.RatedWatts),
        ];
        DataSheetException.HoldAboveZero(sheet.Name, numbers);
        if (sheet.Gains.FirstOrDefault(g => g.Most < g.Least) is { } turned)
            throw new DataSheetException($"{sheet.Name} has a largest gain of {turned.Most} below its least one of {turned.Least}.");
        if (sheet.Gains.GroupBy(g => g.Amps).FirstOrDefault(g => g.Count() > 1) is { } twice)
            throw new DataSheetException(
                $"{sheet.Name} has two current gains at {SiText.Format(twice.Key, "A")}; give one, with the largest beside it.");
        foreach (var (lower, higher) in sheet.Bases.OrderBy(b => b.Amps).Zip(sheet.Bases.OrderBy(b => b.Amps).Skip(1))
            .Where(p => p.Second.Volts <= p.First.Volts))
        {
            throw new DataSheetException(
                $"The numbers of {sheet.Name} contradict each other: a base-emitter voltage of {SiText.Format(lower.Volts, "V", 3)} at "
                + $"{SiText.Format(lower.Amps, "A")} and of {SiText.Format(higher.Volts, "V", 3)} at {SiText.Format(higher.Amps, "A")}; "
                    + $"it rises with the current.");
        }
    }

    private static DataSheetException Contradiction(BipolarDataSheet sheet, GainPoint[] gains, string why) =>
        new($"No transistor has the current gains of {sheet.Name}, "
            + $"{string.Join(", ", gains.Select(g => $"{g.Least} at {SiText.Format(g.Amps, "A")}"))}: {why}.");
}
