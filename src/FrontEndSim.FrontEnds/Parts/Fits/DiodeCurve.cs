using FrontEndSim.Engine;
using FrontEndSim.Engine.Elements;

namespace FrontEndSim.FrontEnds.Parts.Fits;

/// <summary>
/// A diode model's direct current, from the law that <see cref="DiodeModel"/> states: what a fit is made with.
/// The engine solves the same law; a test holds the two against each other.
/// </summary>
internal static class DiodeCurve
{
    private static readonly double ThermalVolts = Constants.ThermalVolts(Constants.ReferenceKelvin);

    /// <summary>Reverse current, A, at a reverse voltage across the junction, V, and its slope, S.</summary>
    public static double ReverseAmps(DiodeModel m, double volts, out double siemens)
    {
        double nVt = m.EmissionCoefficient * ThermalVolts;
        double e = m.SaturationAmps * Math.Exp(-volts / nVt);
        double x = volts / m.JunctionVolts, leak = m.LeakageSiemens * Math.Pow(1 + x * x, (m.LeakageExponent - 1) / 2);
        double amps = m.SaturationAmps - e + leak * volts;
        siemens = e / nVt + leak * (1 + (m.LeakageExponent - 1) * x * x / (1 + x * x));
        if (!double.IsFinite(m.BreakdownVolts))
            return amps;
        Add(m.BreakdownAmps, m.BreakdownSlopeVolts, ref siemens);
        if (m.SoftBreakdownAmps > 0)
            Add(m.SoftBreakdownAmps, m.SoftBreakdownSlopeVolts, ref siemens);
        return amps;

        void Add(double at, double slope, ref double siemens)
        {
            double b = at * Math.Exp((volts - m.BreakdownVolts) / slope);
            amps += b - at * Math.Exp(-m.BreakdownVolts / slope);
            siemens += b / slope;
        }
    }

    /// <summary>Reverse voltage at the terminals of a zener, V, at a reverse current, A, above zero.</summary>
    public static double ReverseVolts(DiodeModel m, double amps, out double ohms)
    {
        double volts = ReverseJunctionVolts(m, amps, out double siemens);
        ohms = 1 / siemens + m.SeriesOhms;
        return volts + amps * m.SeriesOhms;
    }

    /// <summary>Forward voltage at the terminals, V, at a forward current, A, above zero, at a temperature.</summary>
    public static double ForwardVolts(DiodeModel m, double amps, double celsius = 25)
    {
        double kelvin = celsius + Constants.ZeroCelsius;
        return m.EmissionCoefficient * Constants.ThermalVolts(kelvin) * Math.Log(amps / m.SaturationAmpsAt(kelvin) + 1)
            + SeriesVolts(m, amps);
    }

    /// <summary>What the series resistance drops, V, at a forward current, A.</summary>
    public static double SeriesVolts(DiodeModel m, double amps) => double.IsPositiveInfinity(m.ModulationAmps) ? amps * m.SeriesOhms
        : amps * (m.HighCurrentOhms + (m.SeriesOhms - m.HighCurrentOhms) / (1 + amps / m.ModulationAmps));

    /// <summary>The model as it is at a temperature, put as one at 25 °C: only its voltage for an e-fold of current differs.</summary>
    private static DiodeModel At(DiodeModel m, double celsius)
    {
        double kelvin = celsius + Constants.ZeroCelsius, rise = kelvin - Constants.ReferenceKelvin;
        return rise == 0 ? m : m with
        {
            SaturationAmps = m.SaturationAmpsAt(kelvin),
            EmissionCoefficient = m.EmissionCoefficient * kelvin / Constants.ReferenceKelvin,
            BreakdownVolts = m.BreakdownVolts * (1 + m.BreakdownTempCo * rise),
            LeakageSiemens = m.LeakageSiemens * Math.Pow(2, rise / m.LeakageDoublingKelvin),
        };
    }

    /// <summary>
    /// Leakage, A, at a reverse voltage at the terminals, V, at a temperature: the series resistance counts where the breakdown has begun.
    /// </summary>
    public static double LeakageAmps(DiodeModel model, double volts, double celsius = 25)
    {
        var m = At(model, celsius);
        // Newton from above on a curve that rises ever more steeply never overshoots; where a leakage bends the other way it drops
        // next to nothing across the series resistance, and the first step is all but exact.
        double u = volts;
        for (int k = 0; k < 100; k++)
        {
            double step = (u + ReverseAmps(m, u, out double siemens) * m.SeriesOhms - volts) / (1 + siemens * m.SeriesOhms);
            u -= step;
            if (Math.Abs(step) < 1e-12 * volts)
                break;
        }
        return ReverseAmps(m, u, out _);
    }

    /// <summary>What the model makes of a point, in the point's unit.</summary>
    public static double At(DiodeModel m, DataPoint point)
    {
        switch (point.Kind)
        {
            case DataPointKind.ForwardVoltage:
                return ForwardVolts(m, point.At, point.Celsius);
            case DataPointKind.ZenerVoltage:
                return ReverseVolts(m, point.At, out _);
            case DataPointKind.Impedance:
                ReverseVolts(m, point.At, out double ohms);
                return ohms;
            default:
                return LeakageAmps(m, point.At, point.Celsius);
        }
    }

    // Each term alone would need a higher voltage for the whole current: from the lower of the two Newton never overshoots.
    private static double ReverseJunctionVolts(DiodeModel m, double amps, out double siemens)
    {
        double u = Alone(m.BreakdownAmps, m.BreakdownSlopeVolts);
        if (m.SoftBreakdownAmps > 0)
            u = Math.Min(u, Alone(m.SoftBreakdownAmps, m.SoftBreakdownSlopeVolts));
        for (int k = 0; k < 100; k++)
        {
            double step = (ReverseAmps(m, u, out siemens) - amps) / siemens;
            u -= step;
            if (Math.Abs(step) < 1e-12 * m.BreakdownVolts)
                break;
        }
        ReverseAmps(m, u, out siemens);
        return u;

        double Alone(double at, double slope) => m.BreakdownVolts + slope * Math.Log(amps / at + Math.Exp(-m.BreakdownVolts / slope));
    }
}
