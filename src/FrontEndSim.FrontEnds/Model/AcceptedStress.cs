namespace FrontEndSim.FrontEnds.Model;

/// <summary>A part may exceed a rating, because a person says why that is right. What is accepted is listed with every verdict.</summary>
/// <param name="Part">Name of the part.</param>
/// <param name="Rating">What is exceeded, as ratings are called: "power", "reverse voltage".</param>
/// <param name="Event">Name of the event in which it may be; null for every event and without one.</param>
/// <param name="Reason">Why, in the person's words; not empty.</param>
public sealed record AcceptedStress(string Part, string Rating, string? Event, string Reason)
{
    /// <summary>Whether this covers a rating of a part.</summary>
    /// <param name="part">Name of the part.</param>
    /// <param name="rating">What the rating limits, as it is called.</param>
    /// <param name="inEvent">Name of the event; null for operation without one.</param>
    public bool Covers(string part, string rating, string? inEvent) =>
        part == Part && string.Equals(rating, Rating, StringComparison.OrdinalIgnoreCase) && (Event is null || Event == inEvent);
}
