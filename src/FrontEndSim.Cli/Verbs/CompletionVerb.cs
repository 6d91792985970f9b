namespace FrontEndSim.Cli.Verbs;

/// <summary>completion: a script that lets a shell complete verbs, options and files.</summary>
internal sealed class CompletionVerb : Command, IExample
{
    private static readonly string[] Shells = ["bash", "zsh", "fish", "pwsh"];

    private readonly Argument<string> _shell =
        new("SHELL") { Description = "bash, zsh, fish or pwsh; the script's first lines say how it is loaded." };

    /// <inheritdoc/>
    public string Example => "completion bash";

    public CompletionVerb() : base("completion", "Writes a script that lets a shell complete verbs, options and files.")
    {
        Arguments.Add(_shell);
        _shell.CompletionSources.Add(Shells);
        SetAction(line => Write(line.GetRequiredValue(_shell)));
    }

    private static int Write(string shell)
    {
        if (!Shells.Contains(shell))
            throw new InputException($"there is no completion for the shell '{shell}', only for {string.Join(", ", Shells)}");
        using var script = typeof(CompletionVerb).Assembly.GetManifestResourceStream("frontendsim." + shell)!;
        using var reader = new StreamReader(script);
        Terminal.Write(reader.ReadToEnd());
        return ExitCode.Met;
    }
}
