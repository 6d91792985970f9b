using System.CommandLine;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.Language.Binding;
using FrontEndSim.Language.Text;
using FrontEndSim.Reporting.Blocks;
using FrontEndSim.Reporting.Json;

namespace FrontEndSim.Cli.Verbs;

/// <summary>A verb is a function from a front end to an answer; this gives it its file, its forms of output and its manners.</summary>
internal abstract class Verb : Command, IExample
{
    private readonly Argument<string> _file = new("FILE") { Description = "The circuit file (.fes)." };
    private readonly OutputForms _forms = new();
    private readonly WatchOption _watch = new();

    protected Verb(string name, string summary, string example, bool watches = false)
        : base(name, summary)
    {
        Example = example;
        Arguments.Add(_file);
        _forms.AddTo(this);
        if (watches)
            Options.Add(_watch);
        SetAction((line, cancel) => Task.Run(
            () => _watch.Run(watches && line.GetValue(_watch), line.GetRequiredValue(_file), () => Answer(line, cancel), cancel), cancel));
    }

    /// <inheritdoc/>
    public string Example { get; }

    /// <summary>Studies the front end.</summary>
    /// <exception cref="InputException">An option does not suit the circuit.</exception>
    protected abstract Answer Run(FrontEnd frontEnd, ParseResult line, CancellationToken cancel);

    private int Answer(ParseResult line, CancellationToken cancel)
    {
        string file = line.GetRequiredValue(_file);
        if (_forms.Target(line) is { } target && file != "" && Path.GetFullPath(target) == Path.GetFullPath(file))
            throw new InputException($"--out '{target}' is the circuit file itself; name another file");
        return _forms.Write(line, () => Run(Load(file).FrontEnd!, line, cancel), cancel);
    }

    /// <summary>Reads the file; its warnings go to standard error.</summary>
    /// <exception cref="DiagnosticsException">The file has errors.</exception>
    internal static LoadResult Load(string path)
    {
        if (path == "")
            throw new InputException("the name of the circuit file is empty");
        var loaded = CircuitFile.Load(path);
        if (loaded.FrontEnd is null)
            throw new DiagnosticsException(loaded.Diagnostics);
        foreach (var warning in loaded.Diagnostics)
            Console.Error.WriteLine(DiagnosticPrinter.Print(warning));
        return loaded;
    }
}

/// <summary>What a verb found: a page for people and spreadsheets, and the record behind it for programs.</summary>
/// <param name="ExitCode">What the program ends with.</param>
/// <param name="Page">The page.</param>
/// <param name="Json">The record as JSON.</param>
internal sealed record Answer(int ExitCode, Page Page, Func<string> Json)
{
    /// <summary>A page and its record.</summary>
    public static Answer Of<T>(int exitCode, Page page, T record) where T : notnull => new(exitCode, page, () => RecordJson.Write(record));
}
