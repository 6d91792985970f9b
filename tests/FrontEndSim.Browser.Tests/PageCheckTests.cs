using Microsoft.Playwright;

namespace FrontEndSim.Browser.Tests;

/// <summary>The checks of a page are able to fail: each sees the fault that it is there for.</summary>
public class PageCheckTests(Chromium chromium)
{
    [Fact]
    public async Task Grey_words_on_white_are_too_faint()
    {
        // #999999 on white is 2.85 to 1 by the formula of WCAG 2.2.
        var page = await With("<p style='color:#999999;background:#ffffff'>hardly seen</p>");
        Assert.Equal(["2.85 P: hardly seen"], await PageChecks.Faint(page));
    }

    [Fact]
    public async Task Light_words_of_a_drawing_are_too_faint()
    {
        var page =
            await With("<svg role='img' viewBox='0 0 300 100' width='300' height='100'><title>faint</title><text y='20' "
                + "style='fill:#dddddd'>hardly seen</text></svg>");
        Assert.Single(await PageChecks.Faint(page), w => w.EndsWith("hardly seen", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("<input type='text'>", "field without a label")]
    [InlineData("<table><tbody><tr><td>1</td></tr></tbody></table>", "table without caption")]
    [InlineData("<h1>a second title</h1>", "not one h1")]
    [InlineData("<h2>over</h2><h4>under</h4>", "a heading level is skipped")]
    [InlineData("<svg></svg>", "drawing without a name")]
    [InlineData("<div role='region' aria-label='x'>far</div>", "a scrolling region that no keyboard reaches")]
    [InlineData("<p id='verdict'>again</p>", "an id stands twice")]
    public async Task A_missing_label_is_seen(string markup, string problem) =>
        Assert.Contains(problem, await PageChecks.Unlabelled(await With(markup)));

    [Fact]
    public async Task A_table_that_reaches_beyond_the_paper_is_seen()
    {
        var page =
            await With("<table style='width:900px'><caption>wide</caption><thead></thead><tbody><tr><td>1</td></tr></tbody></table>",
                ReportTests.PaperWidth);
        await page.EmulateMediaAsync(new() { Media = Media.Print });
        Assert.Contains("wider than the page: TABLE wide1", await PageChecks.Wide(page, ReportTests.PaperWidth));
    }

    [Fact]
    public async Task A_row_that_may_be_cut_by_a_page_break_is_seen()
    {
        var page = await With("<table><tbody><tr style='break-inside:auto'><td>cut here</td></tr></tbody></table>");
        await page.EmulateMediaAsync(new() { Media = Media.Print });
        Assert.Equal(["may be cut: cut here"], await PageChecks.Breakable(page));
    }

    [Fact]
    public async Task Words_that_are_cut_off_or_lie_on_others_or_on_a_line_are_seen()
    {
        var page =
            await With("<svg class='schematic' role='img' viewBox='0 0 300 100' width='300' height='100'><title>t</title><text "
                + "x='290' y='50'>cut off</text>"
            + "<text x='10' y='80'>first</text><text x='20' y='82'>second</text><path d='M100 18H200'/><text x='120' "
            + "y='22'>crossed</text></svg>");
        Assert.Equal(["cut off: cut off"], await PageChecks.Cut(page));
        Assert.Equal(["t: first / second"], await PageChecks.Crowded(page));
        Assert.Equal(["t: crossed on a line"], await PageChecks.Crossed(page));
    }

    [Fact]
    public async Task A_drawing_too_small_to_read_is_seen()
    {
        var page = await With("<svg viewBox='0 0 3000 1000' style='width:300px'><title>t</title><text>small</text></svg>");
        Assert.Single(await PageChecks.Unreadable(page), p => p.StartsWith("t: letters of 1.", StringComparison.Ordinal));
    }

    private async Task<IPage> With(string markup, int width = 1280)
    {
        var page = await chromium.Open(width);
        await page.EvaluateAsync("markup => document.querySelector('main').insertAdjacentHTML('beforeend', markup)", markup);
        return page;
    }
}
