using FrontEndSim.Engine;
using FrontEndSim.Engine.Elements;

namespace FrontEndSim.FrontEnds.Parts.Fits;

/// <summary>The numbers that an enhancement MOS transistor's data sheet gives, all above zero for either polarity. Immutable.</summary>
/// <param name="Name">Type number or a name of the user's.</param>
/// <param name="Polarity">Whether n-channel or p-channel.</param>
/// <param name="Threshold">Least and largest threshold voltage, V.</param>
/// <param name="ThresholdAmps">Drain current that it is stated at, gate and drain joined, A.</param>
/// <param name="On">Resistances of the open channel, at least one.</param>
/// <param name="Source">Where the numbers come from.</param>
public sealed record MosDataSheet(string Name, Polarity Polarity, Span Threshold, double ThresholdAmps,
    ImmutableArray<OnPoint> On, string Source) : TransistorDataSheet(Name, Polarity, 0.35, Source)
{
    /// <summary>Typical threshold voltage, V; null for the middle.</summary>
    public double? TypicalThreshold { get; init; }

    /// <summary>Input, output and reverse transfer capacitance at 25 V, F.</summary>
    public (double Input, double Output, double Reverse) Farads { get; init; }

    /// <summary>Leakage of the drain, A, at a drain voltage, V, 25 °C; null if not stated.</summary>
    public (double Amps, double Volts)? Leakage { get; init; }

    /// <summary>Forward voltage of the body diode, V, at a current, A (0.85 V at a tenth of an ampere is usual, from memory).</summary>
    public (double Volts, double Amps) Body { get; init; } = (0.85, 0.1);

    /// <summary>Change of the threshold with temperature, V/K.</summary>
    public double ThresholdVoltsPerKelvin { get; init; } = -5.5e-3;

    /// <summary>Drain-source voltage that it stands, V.</summary>
    public double DrainVolts { get; init; } = double.PositiveInfinity;

    /// <summary>Gate-source voltage that it stands, either way, V (20 V is usual, from memory).</summary>
    public double GateVolts { get; init; } = 20;

    /// <summary>Drain current of a short pulse, A; infinity where none is stated.</summary>
    public double PulseAmps { get; init; } = double.PositiveInfinity;
}

/// <summary>The resistance of an open channel.</summary>
/// <param name="Ohms">The resistance, ohm.</param>
/// <param name="Amps">Drain current, A.</param>
/// <param name="GateVolts">Gate-source voltage, V.</param>
/// <param name="IsLimit">Whether it is a largest value.</param>
public sealed record OnPoint(double Ohms, double Amps, double GateVolts, bool IsLimit = false);

/// <summary>
/// A MOS transistor's model from its data sheet: the resistance of an open one is R0 + 1/(β·(vgs − Vth)), linear in R0 and 1/β. A weak
/// piece has the largest threshold and a resistance R0 that brings it to every largest resistance stated; a strong one the least threshold.
/// Where all resistances stated are largest ones they are those of the weak piece, and the law is fitted to it.
/// </summary>
internal static class MosFit
{
    // Slope factor of thick-oxide switches, temperature of the mobility (Sze) and of the resistance in series with the channel: at most
    // +1 %/K (2N7002 sheets of Central and Supertex).
    private const double SlopeFactor = 1.5, MobilityExponent = -1.5;

    // A resistance may miss by this share before the numbers are taken to contradict each other.
    private const double MostMiss = 0.3;

    /// <exception cref="DataSheetException">A number is out of range, numbers contradict each other, or one is missing.</exception>
    public static MosType Fit(MosDataSheet sheet)
    {
        Refuse(sheet);
        double volts = sheet.TypicalThreshold ?? (sheet.Threshold.Low + sheet.Threshold.High) / 2;
        OnPoint[] typical = [.. sheet.On.Where(p => !p.IsLimit)];
        OnPoint[] fitted = typical.Length > 0 ? typical : [.. sheet.On];
        double weaker = typical.Length > 0 ? 0 : sheet.Threshold.High - volts;
        double beta = 0.1, ohms = 0, threshold = volts;
        // The threshold is stated at a current: the square law's begins a little below. β and it settle in a few rounds.
        for (int round = 0; round < 30; round++)
        {
            threshold = volts - Overdrive(sheet.ThresholdAmps, beta);
            (beta, ohms) = Channel(fitted, threshold + weaker);
        }
        var model = new MosModel
        {
            Polarity = sheet.Polarity,
            ThresholdVolts = threshold,
            AmpsPerSquareVolt = beta,
            SlopeFactor = SlopeFactor,
            ThresholdVoltsPerKelvin = sheet.ThresholdVoltsPerKelvin,
            MobilityExponent = MobilityExponent,
            GateSourceFarads = Math.Max(0, sheet.Farads.Input - sheet.Farads.Reverse),
            GateDrainFarads = sheet.Farads.Reverse,
        };
        double Resistance(OnPoint p, double from, double series) => series + 1 / (beta * (p.GateVolts - from));
        foreach (var p in fitted.Where(p => Math.Abs(Resistance(p, threshold + weaker, ohms) / p.Ohms - 1) > MostMiss))
        {
            throw new DataSheetException(
                $"No transistor has the resistances of {sheet.Name}, {string.Join(", ", fitted.Select(On))}: the nearest law has "
                + $"{SiText.Format(Resistance(p, threshold + weaker, ohms), "ohm", 3)} at a gate voltage of "
                + $"{SiText.Format(p.GateVolts, "V")}.");
        }
        double weakest = threshold + sheet.Threshold.High - volts;
        double weakOhms = sheet.On.Where(p => p.IsLimit && p.GateVolts > weakest)
            .Select(p => InSeries(p.Ohms - 1 / (beta * (p.GateVolts - weakest)), p.Ohms)).Append(ohms).Max();
        return new(sheet.Name, sheet, model, BodyDiode(sheet), ohms, weakest - threshold, volts - sheet.Threshold.Low, weakOhms,
        [
            new("least threshold voltage at " + SiText.Format(sheet.ThresholdAmps, "A"), sheet.Threshold.Low,
                "V") { IsLimit = true, Fitted = sheet.Threshold.Low },
            new("largest threshold voltage at " + SiText.Format(sheet.ThresholdAmps, "A"),
                sheet.Threshold.High, "V") { IsLimit = true, Fitted = sheet.Threshold.High },
            .. sheet.On.Select(p => new TypeFigure("resistance when on" + At(p), p.Ohms, "ohm")
                { IsLimit = p.IsLimit, Fitted = p.IsLimit ? Resistance(p, weakest, weakOhms) : Resistance(p, threshold, ohms) }),
        ]);
        static string At(OnPoint p) => $" at {SiText.Format(p.Amps, "A")} with {SiText.Format(p.GateVolts, "V")} at the gate";
        static string On(OnPoint p) => SiText.Format(p.Ohms, "ohm") + At(p);
    }

    /// <summary>Gate voltage above the threshold of the law for a saturated current, V: i = β/2·(s·ln(1 + e^(u/s)))², s =
    /// 2·n·kT/q.</summary>
    private static double Overdrive(double amps, double beta)
    {
        double s = 2 * SlopeFactor * Constants.ThermalVolts(Constants.ReferenceKelvin), ramp = Math.Sqrt(2 * amps / beta) / s;
        return s * (ramp > 30 ? ramp : Math.Log(Math.Exp(ramp) - 1));
    }

    // What rounding leaves of a difference is no resistance.
    private static double InSeries(double ohms, double whole) => ohms > 1e-6 * whole ? ohms : 0;

    private static (double Beta, double Ohms) Channel(OnPoint[] points, double threshold)
    {
        // r = R0 + x/β with x = 1/(vgs − Vth), by least squares of relative errors, neither below zero; one point is all channel.
        double[] xs = [.. points.Select(p => 1 / Math.Max(0.05, p.GateVolts - threshold))];
        double a11 = 0, a12 = 0, a22 = 0, b1 = 0, b2 = 0;
        for (int k = 0; k < points.Length; k++)
        {
            double w = 1 / points[k].Ohms;
            a11 += w * w;
            a12 += w * w * xs[k];
            a22 += w * w * xs[k] * xs[k];
            b1 += w;
            b2 += w * xs[k];
        }
        double determinant = a11 * a22 - a12 * a12;
        double ohms = determinant > 1e-9 * a11 * a22 ? InSeries((b1 * a22 - b2 * a12) / determinant, points.Min(p => p.Ohms)) : 0;
        double perBeta = (b2 - ohms * a12) / a22;
        // A resistance that does not fall with the gate's voltage leaves no channel: a tenth of the least is taken to be one.
        double least = 0.1 * points.Min(p => p.Ohms) / xs.Max();
        return (1 / Math.Max(perBeta, least), ohms);
    }

    private static DiodeModel BodyDiode(MosDataSheet sheet)
    {
        const double emission = 1.2, junctionVolts = 0.7;
        double vt = emission * Constants.ThermalVolts(Constants.ReferenceKelvin);
        return new()
        {
            SaturationAmps = sheet.Body.Amps * Math.Exp(-sheet.Body.Volts / vt),
            EmissionCoefficient = emission,
            ActivationVolts = 1.12 / emission, // as other junctions of silicon, between diffusion and recombination (Sze)
            TemperatureExponent = 3 / emission,
            JunctionVolts = junctionVolts,
            Grading = 0.5,
            JunctionFarads = Math.Max(0, sheet.Farads.Output - sheet.Farads.Reverse) * Math.Sqrt(1 + 25 / junctionVolts),
            LeakageSiemens = sheet.Leakage is var (amps, volts) ? amps / volts : 0,
            LeakageDoublingKelvin = 10, // 1 µA at 25 °C and 1 mA at 125 °C (2N7000 sheet of NTE)
            // Pieces have a fifth in hand (typical, from memory).
            BreakdownVolts = 1.2 * sheet.DrainVolts,
            BreakdownAmps = 1e-3,
            BreakdownSlopeVolts = 0.2,
        };
    }

    private static void Refuse(MosDataSheet sheet)
    {
        if (sheet.On.IsEmpty)
            throw new DataSheetException($"The transistor {sheet.Name} needs its resistance when on, at a current and a gate voltage.");
        IEnumerable<(string What, double? Value)> numbers =
        [
            ("least threshold", sheet.Threshold.Low), ("current of the threshold", sheet.ThresholdAmps),
                ("rated power", sheet.RatedWatts), ("typical threshold", sheet.TypicalThreshold ?? 1),
            .. sheet.On.SelectMany(p => new[] { ("resistance when on", p.Ohms), ("drain current", p.Amps), ("gate voltage", p.GateVolts) }),
        ];
        DataSheetException.HoldAboveZero(sheet.Name, numbers);
        if (sheet.TypicalThreshold is { } typical && (typical < sheet.Threshold.Low || typical > sheet.Threshold.High))
            throw new DataSheetException($"The typical threshold of {sheet.Name}, {SiText.Format(typical, "V")}, lies outside of "
                + $"{SiText.Format(sheet.Threshold.Low, "V")} .. {SiText.Format(sheet.Threshold.High, "V")}.");
        foreach (var p in sheet.On.Where(p => p.GateVolts <= sheet.Threshold.High))
        {
            throw new DataSheetException($"{sheet.Name} is said to be on at a gate voltage of {SiText.Format(p.GateVolts, "V")}, but "
                + $"pieces have a threshold of up to "
                + $"{SiText.Format(sheet.Threshold.High, "V")}.");
        }
        foreach (var (a, b) in sheet.On.Where(p => p.IsLimit)
            .SelectMany(a => sheet.On.Where(b => !b.IsLimit && b.GateVolts == a.GateVolts && b.Amps == a.Amps).Select(b => (a, b)))
            .Where(p => p.b.Ohms > p.a.Ohms))
            throw new DataSheetException($"The resistance of {sheet.Name} when on is {SiText.Format(a.Ohms, "ohm")} at most, but "
                + $"{SiText.Format(b.Ohms, "ohm")} typically.");
    }
}
