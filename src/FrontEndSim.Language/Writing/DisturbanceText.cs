using FrontEndSim.FrontEnds.Disturbances;

namespace FrontEndSim.Language.Writing;

/// <summary>A disturbance as a circuit file says it: the inverse of reading it.</summary>
public static class DisturbanceText
{
    /// <summary>What follows the event's node: <c>discharge 4 kV at 1 us</c>.</summary>
    public static string Of(Disturbance disturbance) => Binding.Statements.Disturbances.All.Select(w => w.Write(disturbance)).First(text => text is not null)!;
}
