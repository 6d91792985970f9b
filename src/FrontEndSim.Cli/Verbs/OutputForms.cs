using FrontEndSim.Reporting;

namespace FrontEndSim.Cli.Verbs;

/// <summary>The options that choose the form of an answer, and where it goes.</summary>
internal sealed class OutputForms
{
    private readonly Option<bool> _json = new("--json") { Description = "Write JSON instead of text (docs/output.md)." };
    private readonly Option<bool> _csv = new("--csv") { Description = "Write comma-separated values instead of text." };
    private readonly Option<string?> _out = new("--out", "-o")
    {
        HelpName = "FILE",
        Description = "Write to a file instead of the terminal; it is written whole or not at all."
    };
    private readonly Option<bool> _noColor = new("--no-color") { Description = "No colour; NO_COLOR in the environment does the same." };

    public void AddTo(Command verb)
    {
        foreach (var option in new Option[] { _json, _csv, _out, _noColor })
            verb.Options.Add(option);
    }

    /// <summary>The file to write, or null for standard output.</summary>
    public string? Target(ParseResult line) => line.GetValue(_out) is { Length: > 0 } file ? file : null;

    /// <summary>Finds the answer and writes it in the form asked for; gives its exit code.</summary>
    /// <exception cref="InputException">The options exclude each other, or the file cannot be written.</exception>
    public int Write(ParseResult line, Func<Answer> find, CancellationToken cancel)
    {
        bool json = line.GetValue(_json), csv = line.GetValue(_csv);
        if (json && csv)
            throw new InputException("--json and --csv exclude each other; choose one");
        string? file = line.GetValue(_out);
        if (file is not null)
            OutputFile.Check(file);
        var answer = find();
        cancel.ThrowIfCancellationRequested();
        bool colour = file is null && !line.GetValue(_noColor) && Terminal.ShowsColour;
        string text = json ? answer.Json() : csv ? Csv.Of(answer.Page.Data!) : Terminal.Text(TerminalPage.Of(answer.Page), colour);
        if (file is null)
            Terminal.Write(text);
        else
            OutputFile.Write(file, text);
        return answer.ExitCode;
    }
}
