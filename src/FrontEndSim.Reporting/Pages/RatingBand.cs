using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.Reporting.Plots;

namespace FrontEndSim.Reporting.Pages;

/// <summary>A pin's rating as a band, which moves with the rails that it is given against.</summary>
internal static class RatingBand
{
    /// <summary>The band, or none for a pin without voltage ratings.</summary>
    /// <param name="pin">The pin.</param>
    /// <param name="x">Horizontal values.</param>
    /// <param name="railVolts">The voltage of a rail at each of them, V.</param>
    public static ImmutableArray<Band> Of(Pin pin, ImmutableArray<double> x, Func<string, IReadOnlyList<double>> railVolts)
    {
        return pin.RatedLow is null && pin.RatedHigh is null ? [] : [new Band(x, Edge(pin.RatedLow), Edge(pin.RatedHigh))];

        BandEdge? Edge(Level? level)
        {
            if (level is null)
                return null;
            var rail = level.Rail is { } name ? railVolts(name) : null;
            ImmutableArray<double> y = [.. x.Select((_, k) => level.Resolve(_ => rail![k]))];
            return new BandEdge($"rated to {level}" + (rail is null ? "" : $" = {SiText.Format(y[0], "V")}"), y);
        }
    }
}
