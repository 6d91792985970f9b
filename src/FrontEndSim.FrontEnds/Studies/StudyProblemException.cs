namespace FrontEndSim.FrontEnds.Studies;

/// <summary>A study cannot be made of this front end: something that it needs is not there. The message says what.</summary>
/// <param name="message">A sentence for the user.</param>
public sealed class StudyProblemException(string message) : Exception(message);
