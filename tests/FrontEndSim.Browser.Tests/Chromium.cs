using System.Collections.Concurrent;
using System.Collections.Immutable;
using FrontEndSim.Browser.Tests;
using FrontEndSim.EndToEnd.Tests;
using FrontEndSim.Engine;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Budget;
using FrontEndSim.FrontEnds.Studies.Report;
using FrontEndSim.FrontEnds.Studies.Session;
using FrontEndSim.Language.Binding;
using FrontEndSim.Language.Text;
using FrontEndSim.Reporting.Html;
using FrontEndSim.Reporting.Pages;
using FrontEndSim.Reporting.Tests;
using Microsoft.Playwright;

[assembly: AssemblyFixture(typeof(Chromium))]

namespace FrontEndSim.Browser.Tests;

/// <summary>Debian's Chromium with a report in it; tests skip where it is not installed.</summary>
public sealed class Chromium : IAsyncLifetime
{
    private const string Program = "/usr/bin/chromium";

    // Enough draws to have something to show; how many settle a budget is tested with the study.
    private static readonly BudgetSettings Few = new() { MonteCarlo = new() { BatchDraws = 100, MostBatches = 2 } };

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("frontendsim-browser-");
    private IPlaywright? _driver;
    private IBrowser? _browser;
    private readonly ConcurrentDictionary<string, List<(string Test, IPage Page)>> _open = [];

    /// <summary>Address of the sample's report on disk.</summary>
    public string Address { get; private set; } = "";

    public async ValueTask InitializeAsync()
    {
        if (!File.Exists(Program))
            return;
        string wrapped =
            string.Join("\n",
                Enumerable.Repeat("# a line of the circuit file that is long enough to have to be wrapped on a phone and on paper as "
                    + "well, is it not", 150));
        Address = Store("sample", SampleFrontEnd.Build(), [new("tank.fes", wrapped)]);
        _driver = await Playwright.CreateAsync();
        _browser = await _driver.Chromium.LaunchAsync(new() { ExecutablePath = Program, Args = ["--no-sandbox", "--disable-gpu"] });
    }

    /// <summary>Makes the report of one of the circuits that come with the program, and gives its address.</summary>
    public string Report(string circuit) => Report(circuit, CircuitFile.Load(Path.Combine(Repository.Root, "circuits", circuit)));

    /// <summary>Makes the report of the text of a circuit file, and gives its address.</summary>
    public string ReportOf(string name, string text) => Report(name, CircuitFile.Load(new SourceFile(name, text)));

    private string Report(string name, LoadResult loaded)
    {
        if (_browser is null)
            Assert.Skip($"{Program} is not installed (on Debian: apt install chromium).");
        Assert.True(loaded.FrontEnd is not null, DiagnosticPrinter.Print(loaded.Diagnostics));
        return Store(name, loaded.FrontEnd!, [.. loaded.Files.Select(f => new ReportFile(Path.GetFileName(f.Path), f.Text))]);
    }

    /// <summary>A fresh page with a report loaded.</summary>
    /// <param name="width">Width of the window, CSS pixels.</param>
    /// <param name="scheme">Light or dark.</param>
    /// <param name="scripts">Whether scripts may run.</param>
    /// <param name="prepare">Called before the report is loaded.</param>
    /// <param name="address">The report; the sample's if not given.</param>
    /// <param name="bypassPolicy">Whether the page's own policy is set aside.</param>
    public async Task<IPage> Open(int width = 1280, ColorScheme scheme = ColorScheme.Light, bool scripts = true,
        Action<IPage>? prepare = null, string? address = null, bool bypassPolicy = true)
    {
        if (_browser is null)
            Assert.Skip($"{Program} is not installed (on Debian: apt install chromium).");
        var page = await _browser!.NewPageAsync(new()
        {
            ViewportSize = new() { Width = width, Height = 900 },
            ColorScheme = scheme,
            JavaScriptEnabled = scripts,
            BypassCSP = bypassPolicy, // so that the tests' own questions may be asked; the report itself runs no script
        });
        await CloseThoseOfEarlierTests(page);
        prepare?.Invoke(page);
        await page.GotoAsync(address ?? Address);
        return page;
    }

    // The tests of a class run one after the other: what an earlier one has opened would go on taking time from the others.
    private async Task CloseThoseOfEarlierTests(IPage page)
    {
        string room = TestContext.Current.TestClass!.UniqueID, test = TestContext.Current.Test!.UniqueID;
        var open = _open.GetOrAdd(room, _ => []);
        foreach (var earlier in open.Where(o => o.Test != test))
            await earlier.Page.Context.CloseAsync();
        open.RemoveAll(o => o.Test != test);
        open.Add((test, page));
    }

    public async ValueTask DisposeAsync()
    {
        if (_browser is not null)
            await _browser.CloseAsync();
        _driver?.Dispose();
        _folder.Delete(recursive: true);
    }

    private string Store(string name, FrontEnd frontEnd, ImmutableArray<ReportFile> files)
    {
        var origin = new ReportOrigin(frontEnd, files, "0.1.0", new SolverSettings());
        string page = Path.Combine(_folder.FullName, name + ".html");
        File.WriteAllText(page, HtmlReport.Write(ReportPage.Of(ReportStudy.Run(new SolvedFrontEnd(frontEnd), Few), origin), files[0].Name));
        return new Uri(page).AbsoluteUri;
    }
}
