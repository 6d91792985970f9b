using FrontEndSim.Engine;

namespace FrontEndSim.FrontEnds;

/// <summary>Models of diodes from the numbers on a data sheet.</summary>
internal static class DiodeFit
{
    private static readonly double ThermalVolts = Constants.ThermalVolts(Constants.ReferenceKelvin);

    /// <summary>
    /// Saturation current and series resistance for two points of forward voltage against current, with the emission
    /// coefficient given: v = n·Vt·ln(i/Is) + i·Rs (Shockley with a series resistance; −1 left out, as i is far above Is).
    /// </summary>
    public static (double SaturationAmps, double SeriesOhms) Forward(
        (double Volts, double Amps) low, (double Volts, double Amps) high, double emission)
    {
        double slope = emission * ThermalVolts;
        double ohms = Math.Max(0, (high.Volts - low.Volts - slope * Math.Log(high.Amps / low.Amps)) / (high.Amps - low.Amps));
        return (low.Amps * Math.Exp(-(low.Volts - low.Amps * ohms) / slope), ohms);
    }

    /// <summary>
    /// The breakdown of a zener from its voltage at the test current and its impedance at test current and at knee current.
    /// The law v = Vb + Vs·ln(i/It) + i·Rs has the impedance Vs/i + Rs. Both impedances on a data sheet are largest values,
    /// so where no Rs ≥ 0 meets both, the one at test current is met and the one at the knee is better than its limit.
    /// </summary>
    /// <returns>Vb at It, Vs and Rs.</returns>
    public static (double BreakdownVolts, double SlopeVolts, double SeriesOhms) Breakdown(
        double volts, double testAmps, double testOhms, double kneeAmps, double kneeOhms)
    {
        double slope = (kneeOhms - testOhms) / (1 / kneeAmps - 1 / testAmps);
        slope = Math.Min(slope, testAmps * testOhms);
        double ohms = Math.Max(0, testOhms - slope / testAmps);
        return (volts - testAmps * ohms, slope, ohms);
    }
}
