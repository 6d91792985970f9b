using Microsoft.Playwright;

namespace FrontEndSim.Browser.Tests;

/// <summary>The report as people meet it: on a desktop, on a phone, in the dark, without scripts, on paper.</summary>
public class ReportTests(Chromium chromium)
{
    // A4 less the margins of 8 mm, at 96 CSS pixels an inch.
    internal const int PaperWidth = 733;

    [Fact]
    public async Task A_report_loads_without_a_request_and_without_a_word_on_the_console()
    {
        var requests = new List<string>();
        var words = new List<string>();
        await chromium.Open(prepare: p =>
        {
            p.Request += (_, request) => requests.Add(request.Url);
            p.Console += (_, message) => words.Add(message.Text);
            p.PageError += (_, error) => words.Add(error);
        });
        Assert.Equal([chromium.Address], requests.Where(r => !r.StartsWith("data:", StringComparison.Ordinal)));
        Assert.Empty(words);
    }

    [Theory]
    [InlineData(360)]
    [InlineData(1280)]
    public async Task Plots_and_schematics_are_seen_and_the_page_does_not_scroll_sideways(int width)
    {
        var page = await chromium.Open(width);
        var plots = page.Locator("svg.plot");
        Assert.True(await plots.CountAsync() >= 4);
        Assert.Empty(await PageChecks.Unreadable(page));
        foreach (var plot in await plots.AllAsync())
            Assert.True((await plot.BoundingBoxAsync())!.Width <= width);
        Assert.True(await page.EvaluateAsync<int>("document.documentElement.scrollWidth") <= width);
    }

    [Theory]
    [InlineData(360)]
    [InlineData(1280)]
    public async Task Budget_bars_response_plots_single_faults_and_the_bench_sheet_are_there_and_readable(int width)
    {
        var page = await chromium.Open(width);
        foreach (string seen in (string[])["#budget svg.budget", "#budget table .bar .track", "#response svg.plot .simulated",
            "#faults tbody tr", "#bench tbody tr", "#bench input.box", "#hand tbody tr"])
        {
            var first = page.Locator(seen).First;
            await first.ScrollIntoViewIfNeededAsync();
            var box = await first.BoundingBoxAsync();
            Assert.True(box is { Width: > 10, Height: > 5 }, $"{seen}: {box?.Width} by {box?.Height}");
        }
        // As read and calibrated; up, down and frequency.
        Assert.Equal(2, await page.Locator("#budget svg.budget").CountAsync());
        Assert.Equal(3, await page.Locator("#response svg.plot").CountAsync());
        // A bar is as long as its share: the largest source, in the first row, fills its own.
        var bars = page.Locator("#budget table:has(.bar)").First.Locator("tbody tr").First.Locator(".track span");
        Assert.Contains("width:100%", await bars.EvaluateAllAsync<string[]>("spans => spans.map(s => s.getAttribute('style'))"));
        // Every part of the circuit is broken in turn, and so is each rail: the matrix has a row for each at least.
        Assert.True(await page.Locator("#faults tbody tr").CountAsync() >= 15);
        Assert.Equal(await page.Locator("#bench tbody tr").CountAsync(), await page.Locator("#bench input.box").CountAsync());
    }

    [Fact]
    public async Task What_is_typed_into_the_bench_sheet_stays_on_the_page_until_it_is_printed()
    {
        var page = await chromium.Open();
        var box = page.Locator("#bench input.box").First;
        await box.FillAsync("1.649 V");
        Assert.Equal("1.649 V", await box.InputValueAsync());
    }

    [Theory]
    [InlineData(360)]
    [InlineData(1280)]
    public async Task No_word_of_a_drawing_is_cut_off_at_its_edge(int width) =>
        Assert.Empty(await PageChecks.Cut(await chromium.Open(width)));

    [Fact]
    public async Task No_word_of_a_drawing_lies_on_another() => Assert.Empty(await PageChecks.Crowded(await chromium.Open()));

    [Fact]
    public async Task No_word_of_a_schematic_lies_on_a_line() => Assert.Empty(await PageChecks.Crossed(await chromium.Open()));

    [Fact]
    public async Task Without_scripts_the_report_is_whole()
    {
        var page = await chromium.Open(scripts: false);
        Assert.True(await page.Locator("#verdict .headline").IsVisibleAsync());
        Assert.True(await page.Locator("svg.plot").First.IsVisibleAsync());
        Assert.True(await page.Locator("#computed pre").IsVisibleAsync());
    }

    [Theory]
    [InlineData(ColorScheme.Light)]
    [InlineData(ColorScheme.Dark)]
    public async Task Words_stand_out_from_their_ground_by_4_5_to_1(ColorScheme scheme) =>
        Assert.Empty(await PageChecks.Faint(await chromium.Open(scheme: scheme)));

    [Fact]
    public async Task Headings_tables_drawings_and_fields_have_the_labels_that_a_screen_reader_needs() =>
        Assert.Empty(await PageChecks.Unlabelled(await chromium.Open()));

    [Fact]
    public async Task Pointing_at_a_curve_shows_its_values()
    {
        var page = await chromium.Open();
        string? values = await page.Locator("#mapping svg.plot .spot title").First.TextContentAsync();
        Assert.Matches(@"^sensor probe -1\.2 V: pin adc .* m?V, ideal 0 V$", values!);
        Assert.Matches(@"^frequency .* m?Hz: gain over DC gain .* dB$",
            (await page.Locator("#response svg.plot").Nth(2).Locator(".spot title").First.TextContentAsync())!);
    }

    [Fact]
    public async Task Printed_on_A4_no_table_is_cut_at_the_side_or_at_a_page_break()
    {
        var page = await chromium.Open(PaperWidth);
        await page.EmulateMediaAsync(new() { Media = Media.Print });
        Assert.Empty(await PageChecks.Wide(page, PaperWidth));
        Assert.Empty(await PageChecks.Breakable(page));
        byte[] pdf = await page.PdfAsync(new() { Format = "A4", PreferCSSPageSize = true });
        Assert.StartsWith("%PDF-", System.Text.Encoding.ASCII.GetString(pdf, 0, 5));
    }
}
