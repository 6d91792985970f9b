namespace FrontEndSim.FrontEnds.Studies;

/// <summary>A study cannot be made of this front end: something that it needs is not there.</summary>
/// <param name="problem">What stands in the way.</param>
public sealed class StudyProblemException(Problem problem) : Exception(problem.ToString())
{
    /// <summary>What stands in the way.</summary>
    public Problem Problem { get; } = problem;
}
