using FrontEndSim.FrontEnds.Studies;

namespace FrontEndSim.FrontEnds;

/// <summary>
/// Why something cannot be built, solved or judged, as data: what stands in the way, of which things, with which numbers. What each field
/// holds stands with the kind; what a kind does not name is empty or null.
/// </summary>
/// <param name="Kind">What stands in the way.</param>
/// <param name="Subject">Name of the thing that it is about.</param>
/// <param name="Other">Name of the other thing in it.</param>
/// <param name="Found">What is asked for or was found.</param>
/// <param name="Low">The lower limit.</param>
/// <param name="High">The upper limit.</param>
public sealed record Problem(ProblemKind Kind, string Subject = "", string Other = "", Quantity? Found = null, Quantity? Low = null,
    Quantity? High = null)
{
    /// <summary>Name of the setting of a stage that stands in the way; null where it is none alone.</summary>
    public string? Setting { get; init; }

    /// <summary>What would be wanted.</summary>
    public Quantity? Wanted { get; init; }

    /// <summary>Names of the things to choose from, or of those that are too many.</summary>
    public ImmutableArray<string> Known { get; init; } = [];

    /// <summary>What the engine says where it refuses a circuit or finds no solution; null where it was not asked.</summary>
    public string? Engine { get; init; }

    /// <summary>What an exception says that ended a study.</summary>
    public static Problem Of(Exception e) =>
        e is StudyProblemException stated ? stated.Problem : new(ProblemKind.Unsolved) { Engine = e.Message };
}
