using FrontEndSim.Engine.Results;

namespace FrontEndSim.FrontEnds.Uncertainty;

/// <summary>A quantity on which a measurement depends, with what is known about it (JCGM 100:2008, 4.1.2).</summary>
/// <param name="Name">What a person calls it: "shift.R1, tolerance".</param>
/// <param name="Distribution">What is known about its value.</param>
public record InputQuantity(string Name, InputDistribution Distribution)
{
    /// <summary>Degrees of freedom of the standard uncertainty; infinity where it does not come from few readings.</summary>
    public double DegreesOfFreedom { get; init; } = double.PositiveInfinity;
}

/// <summary>
/// A measurement function (JCGM 100:2008, 4.1.1) for many sets of its input quantities at once.
/// </summary>
/// <param name="draws">How many sets.</param>
/// <param name="inputs">Gives the input quantities of each set; called from several threads, more than once for a set.</param>
/// <returns>For each set the output quantities.</returns>
public delegate double[][] MeasurementFunction(int draws, TrialNumbers inputs);
