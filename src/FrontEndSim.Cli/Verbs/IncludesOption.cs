namespace FrontEndSim.Cli.Verbs;

/// <summary>--includes: the folder that included files may come from, where it is not that of the circuit.</summary>
internal sealed class IncludesOption : Option<string?>
{
    public IncludesOption() : base("--includes")
    {
        HelpName = "FOLDER";
        Description = "Let the circuit include files from this folder and below it; from the circuit's own folder and below if not given.";
    }

    /// <summary>The folder, or null for the circuit's own.</summary>
    /// <exception cref="InputException">There is no such folder.</exception>
    public string? Folder(ParseResult line) => line.GetValue(this) is not { } folder ? null
        : Directory.Exists(folder) ? folder : throw new InputException($"--includes '{folder}': there is no such folder");
}
