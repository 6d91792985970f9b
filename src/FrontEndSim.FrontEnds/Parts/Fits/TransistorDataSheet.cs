using FrontEndSim.Engine.Elements;

namespace FrontEndSim.FrontEnds.Parts.Fits;

/// <summary>The numbers that the data sheet of any transistor gives. Immutable.</summary>
/// <param name="Name">Type number or a name of the user's.</param>
/// <param name="Polarity">Whether npn or n-channel, or pnp or p-channel.</param>
/// <param name="UsualWatts">What is taken for its rated power if none is stated, W.</param>
/// <param name="Source">Where the numbers come from.</param>
public abstract record TransistorDataSheet(string Name, Polarity Polarity, double UsualWatts, string Source)
{
    /// <summary>Lasting current of collector or drain, A.</summary>
    public double RatedAmps { get; init; } = double.PositiveInfinity;

    /// <summary>Rated power at 25 °C ambient, W.</summary>
    public double RatedWatts { get; init; } = UsualWatts;

    /// <summary>Highest temperature of the junction, °C.</summary>
    public double MostJunctionCelsius { get; init; } = 150;
}
