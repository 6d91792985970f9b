using System.Text;
using System.Text.RegularExpressions;
using FrontEndSim.EndToEnd.Tests;
using FrontEndSim.Language.Binding;
using Microsoft.Playwright;

namespace FrontEndSim.Browser.Tests;

/// <summary>The report of every circuit that comes with the program.</summary>
public partial class ShippedReportTests(Chromium chromium)
{
    // What is taken to the bench is a few sheets.
    private const int MostPages = 6, MorePages = 2;

    // A file without a title is there to be included by others.
    public static TheoryData<string> Circuits => [.. Directory.GetFiles(Path.Combine(Repository.Root, "circuits"), "*.fes")
        .Where(f => File.ReadLines(f).Any(l => l.StartsWith("circuit ", StringComparison.Ordinal))).Select(f => Path.GetFileName(f))
            .Order()];

    [Theory, MemberData(nameof(Circuits))]
    public async Task The_report_of_a_shipped_circuit_loads_clean(string circuit)
    {
        string address = chromium.Report(circuit);
        var problems = new List<string>();
        foreach (var (width, scheme) in new[] { (1280, ColorScheme.Light), (1280, ColorScheme.Dark), (360, ColorScheme.Light) })
        {
            var page = await chromium.Open(width, scheme, address: address, prepare: p =>
            {
                p.Request += (_, request) => problems.AddRange(request.Url == address
                    || request.Url.StartsWith("data:", StringComparison.Ordinal) ? [] : [request.Url]);
                p.Console += (_, message) => problems.Add(message.Text);
                p.PageError += (_, error) => problems.Add(error);
            });
            problems.AddRange(await PageChecks.Faint(page));
            problems.AddRange(await PageChecks.Unlabelled(page));
            problems.AddRange(await PageChecks.Unreadable(page));
            problems.AddRange(await PageChecks.Cut(page));
            problems.AddRange(await PageChecks.Crowded(page));
            problems.AddRange(await PageChecks.Crossed(page));
            if (await page.EvaluateAsync<int>("document.documentElement.scrollWidth") is var wide && wide > width)
                problems.Add($"{wide} wide at {width}");
            await page.CloseAsync();
        }
        var paper = await chromium.Open(ReportTests.PaperWidth, address: address);
        await paper.EmulateMediaAsync(new() { Media = Media.Print });
        problems.AddRange(await PageChecks.Wide(paper, ReportTests.PaperWidth));
        problems.AddRange(await PageChecks.Breakable(paper));
        int pages = PrintedPage().Count(Encoding.Latin1.GetString(await paper.PdfAsync(new() { PreferCSSPageSize = true })));
        // A second pin has a mapping and a budget of its own, and a reading of several pins its firmware.
        var frontEnd = CircuitFile.Load(Path.Combine(Repository.Root, "circuits", circuit)).FrontEnd!;
        int readings = frontEnd.Pins.Count(p => p.Converter is not null) + frontEnd.Readings.Length;
        if (pages < 1 || pages > MostPages + MorePages * (Math.Max(1, readings) - 1))
            problems.Add($"{pages} printed pages");
        await paper.CloseAsync();
        Assert.Empty(problems.Distinct());
    }

    // A page object of ISO 32000-2, 7.7.3.3; the tree of pages is of type Pages.
    [GeneratedRegex(@"/Type\s*/Page\b")]
    private static partial Regex PrintedPage();
}
