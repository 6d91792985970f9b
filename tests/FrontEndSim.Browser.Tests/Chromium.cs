using FrontEndSim.FrontEnds;
using FrontEndSim.Reporting.Html;
using FrontEndSim.Reporting.Tests;
using Microsoft.Playwright;

namespace FrontEndSim.Browser.Tests;

/// <summary>Debian's Chromium with a report in it; tests skip where it is not installed.</summary>
public sealed class Chromium : IAsyncLifetime
{
    private const string Program = "/usr/bin/chromium";
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("frontendsim-browser-");
    private IPlaywright? _driver;
    private IBrowser? _browser;

    /// <summary>Address of the report on disk.</summary>
    public string Address { get; private set; } = "";

    public async ValueTask InitializeAsync()
    {
        string page = Path.Combine(_folder.FullName, "report.html");
        var frontEnd = SampleFrontEnd.Build();
        await File.WriteAllTextAsync(page, HtmlReport.Write(ReportStudies.Run(frontEnd,
            [new("tank.fes", string.Join("\n", Enumerable.Repeat("# a line of the circuit file that is long enough to have to be wrapped on a phone and on paper as well, is it not", 150)))],
            "0.1.0", new BudgetSettings { MonteCarlo = new() { BatchDraws = 100, MostBatches = 2 } })));
        Address = new Uri(page).AbsoluteUri;
        if (!File.Exists(Program))
            return;
        _driver = await Playwright.CreateAsync();
        _browser = await _driver.Chromium.LaunchAsync(new() { ExecutablePath = Program, Args = ["--no-sandbox", "--disable-gpu"] });
    }

    /// <summary>A fresh page with the report loaded.</summary>
    /// <param name="width">Width of the window, CSS pixels.</param>
    /// <param name="scheme">Light or dark.</param>
    /// <param name="scripts">Whether scripts may run.</param>
    /// <param name="prepare">Called before the report is loaded.</param>
    public async Task<IPage> Open(int width = 1280, ColorScheme scheme = ColorScheme.Light, bool scripts = true, Action<IPage>? prepare = null)
    {
        if (_browser is null)
            Assert.Skip($"{Program} is not installed (on Debian: apt install chromium).");
        var page = await _browser!.NewPageAsync(new()
        {
            ViewportSize = new() { Width = width, Height = 900 },
            ColorScheme = scheme,
            JavaScriptEnabled = scripts,
            BypassCSP = true, // so that the tests' own questions may be asked; the report itself runs no script
        });
        prepare?.Invoke(page);
        await page.GotoAsync(Address);
        return page;
    }

    public async ValueTask DisposeAsync()
    {
        if (_browser is not null)
            await _browser.CloseAsync();
        _driver?.Dispose();
        _folder.Delete(recursive: true);
    }
}
