using FrontEndSim.FrontEnds.Model;
using FrontEndSim.Language.Binding;
using FrontEndSim.Language.Text;
using FrontEndSim.Reporting.Blocks;
using FrontEndSim.Reporting.Json;

namespace FrontEndSim.Cli.Verbs;

/// <summary>A verb is a function from a front end to an answer; this gives it its file, its forms of output and its manners.</summary>
internal abstract class Verb : Command, IExample
{
    private readonly Argument<string>? _one;
    private readonly Argument<string[]>? _many;
    private readonly OutputForms _forms = new();
    private readonly WatchOption _watch = new();
    private readonly IncludesOption _includes = new();

    protected Verb(string name, string summary, string example, bool watches = false, bool takesMany = false)
        : base(name, summary)
    {
        Example = example;
        Arguments.Add(takesMany ? _many = new("FILE")
        {
            Arity = ArgumentArity.OneOrMore,
            Description = "The circuit file (.fes), or several."
        }
            : _one = new("FILE") { Description = "The circuit file (.fes)." });
        Options.Add(_includes);
        _forms.AddTo(this);
        if (watches)
            Options.Add(_watch);
        SetAction((line, cancel) => Task.Run(
            () => _watch.Run(watches && line.GetValue(_watch), Files(line)[0], _includes.Folder(line), () => Answer(line, cancel), cancel),
                cancel));
    }

    /// <inheritdoc/>
    public string Example { get; }

    /// <summary>The circuit file; more than one for a verb that takes many.</summary>
    protected string[] Files(ParseResult line) => _many is null ? [line.GetRequiredValue(_one!)] : line.GetRequiredValue(_many);

    /// <summary>The folder that included files must lie below; null for each circuit's own.</summary>
    protected string? IncludesBelow(ParseResult line) => _includes.Folder(line);

    /// <summary>Studies the front end.</summary>
    /// <exception cref="InputException">An option does not suit the circuit.</exception>
    protected abstract Answer Run(FrontEnd frontEnd, ParseResult line, CancellationToken cancel);

    /// <summary>The same of several files, for a verb that takes many.</summary>
    protected virtual Answer RunMany(string[] files, ParseResult line, CancellationToken cancel) => throw new NotSupportedException();

    /// <summary>Files that the verb writes beside --out and --plot.</summary>
    protected virtual IEnumerable<(string Option, string? Path)> Outputs(ParseResult line) => [];

    /// <summary>Files that the verb reads beside the circuit.</summary>
    protected virtual IEnumerable<string> Inputs(ParseResult line) => [];

    private int Answer(ParseResult line, CancellationToken cancel)
    {
        string[] files = Files(line);
        (string, string?)[] outputs =
        [
            ("--out", _forms.Target(line)), .. Options.OfType<PlotOption>().Select(p => (p.Name, line.GetValue(p))), .. Outputs(line),
        ];
        OutputFile.Check(outputs, [.. files, .. Inputs(line)]);
        return _forms.Write(line, () =>
        {
            if (files.Length > 1)
                return RunMany(files, line, cancel);
            var loaded = Load(files[0], _includes.Folder(line));
            OutputFile.Check(outputs, [.. loaded.Files.Select(f => f.Path), .. Inputs(line)]);
            return Run(loaded.FrontEnd!, line, cancel);
        }, cancel);
    }

    /// <summary>Reads the file; its warnings go to standard error.</summary>
    /// <exception cref="DiagnosticsException">The file has errors.</exception>
    internal static LoadResult Load(string path, string? includesBelow, bool tellsWarnings = true)
    {
        if (path == "")
            throw new InputException("the name of the circuit file is empty");
        var loaded = CircuitFile.Load(path, includesBelow);
        if (loaded.FrontEnd is null)
            throw new DiagnosticsException(loaded.Diagnostics);
        foreach (var warning in tellsWarnings ? loaded.Diagnostics : [])
            Terminal.Tell(DiagnosticPrinter.Print(warning));
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
