using System.Reflection;
using FrontEndSim.Engine;
using FrontEndSim.FrontEnds.Studies.Report;
using FrontEndSim.FrontEnds.Studies.Session;
using FrontEndSim.Reporting.Html;
using FrontEndSim.Reporting.Pages;

namespace FrontEndSim.Cli.Verbs;

/// <summary>report: all of it on one page, to keep, print or send.</summary>
internal sealed class ReportVerb : Command, IExample
{
    private readonly Argument<string> _file = new("FILE") { Description = "The circuit file (.fes)." };
    private readonly Option<string?> _out = new("--out", "-o")
    {
        HelpName = "FILE",
        Description = "The page to write; FILE with the ending .html, in the current directory, if not given."
    };
    private readonly WatchOption _watch = new();
    private readonly IncludesOption _includes = new();

    /// <inheritdoc/>
    public string Example => "report circuits/rain-tank.fes --out report.html";

    public ReportVerb()
        : base("report",
        "Writes one self-contained HTML page: verdict, schematic, mapping, events, parts, cautions, and how it was computed.")
    {
        Arguments.Add(_file);
        Options.Add(_out);
        Options.Add(_watch);
        Options.Add(_includes);
        SetAction((line, cancel) => Task.Run(() => _watch.Run(line.GetValue(_watch), line.GetRequiredValue(_file), _includes.Folder(line),
            () => Write(line, cancel), cancel), cancel));
    }

    private int Write(ParseResult line, CancellationToken cancel)
    {
        string file = line.GetRequiredValue(_file), page = line.GetValue(_out) ?? Path.ChangeExtension(Path.GetFileName(file), ".html");
        if (file == "")
            throw new InputException("the name of the circuit file is empty");
        OutputFile.Check([("--out", page)], [file]);
        OutputFile.Check(page);
        var loaded = Verb.Load(file, _includes.Folder(line));
        OutputFile.Check([("--out", page)], loaded.Files.Select(f => f.Path));
        ReportResult result;
        using (var progress = new ProgressLine())
            result = ReportStudy.Run(new SolvedFrontEnd(loaded.FrontEnd!).Settling(cancel), progress: progress, cancel: cancel);
        cancel.ThrowIfCancellationRequested();
        var origin = new ReportOrigin(loaded.FrontEnd!, [.. loaded.Files.Select(f => new ReportFile(Path.GetFileName(f.Path), f.Text))],
            Version, new SolverSettings());
        OutputFile.Write(page, HtmlReport.Write(ReportPage.Of(result, origin), Path.GetFileName(file)));
        var check = result.Check;
        int all = check.Requirements.Length, met = check.Requirements.Count(r => r.Met);
        Terminal.Write($"wrote {page}: {(all == 0 ? "no requirements in the file" : $"{met} of {all} requirements met")}\n");
        return ExitCode.Of(check.Verdict);
    }

    private static string Version => typeof(ReportVerb)
        .Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()!.InformationalVersion.Split('+')[0];
}
