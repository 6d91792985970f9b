namespace FrontEndSim.Cli;

/// <summary>Something that the user can put right, told in one line.</summary>
internal sealed class InputException(string message) : Exception(message);
