using Microsoft.Playwright;

namespace FrontEndSim.Browser.Tests;

/// <summary>The report as people meet it: on a desktop, on a phone, in the dark, without scripts, on paper.</summary>
public class ReportTests(Chromium chromium) : IClassFixture<Chromium>
{
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
        foreach (var drawing in await page.Locator("svg").AllAsync())
        {
            var box = await drawing.BoundingBoxAsync();
            Assert.True(box is { Width: > 250, Height: > 80 }, $"{box?.Width} x {box?.Height}");
        }
        foreach (var plot in await plots.AllAsync())
            Assert.True((await plot.BoundingBoxAsync())!.Width <= width);
        Assert.True(await page.EvaluateAsync<int>("document.documentElement.scrollWidth") <= width);
    }

    [Theory]
    [InlineData(360)]
    [InlineData(1280)]
    public async Task No_word_of_a_drawing_is_cut_off_at_its_edge(int width)
    {
        var page = await chromium.Open(width);
        string[] cut = await page.EvaluateAsync<string[]>("""
            [...document.querySelectorAll('svg')].flatMap(svg => {
              const frame = svg.getBoundingClientRect();
              return [...svg.querySelectorAll('text')].filter(t => {
                const box = t.getBoundingClientRect();
                return box.left < frame.left - 1 || box.right > frame.right + 1 || box.top < frame.top - 1 || box.bottom > frame.bottom + 1;
              }).map(t => t.textContent);
            })
            """);
        Assert.Empty(cut);
    }

    [Fact]
    public async Task No_word_of_a_schematic_lies_on_another()
    {
        var page = await chromium.Open();
        string[] crowded = await page.EvaluateAsync<string[]>("""
            [...document.querySelectorAll('svg.schematic')].flatMap(svg => {
              const words = [...svg.querySelectorAll('text')].map(t => [t.textContent, t.getBoundingClientRect()]);
              return words.flatMap(([a, p], k) => words.slice(k + 1).filter(([, q]) =>
                p.left < q.right - 1 && q.left < p.right - 1 && p.top < q.bottom - 4 && q.top < p.bottom - 4).map(([b]) => a + ' / ' + b));
            })
            """);
        Assert.Empty(crowded);
    }

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
    public async Task Words_stand_out_from_their_ground_by_4_5_to_1(ColorScheme scheme)
    {
        // WCAG 2.2, success criterion 1.4.3 (contrast, minimum), with the relative luminance that it defines.
        var page = await chromium.Open(scheme: scheme);
        string[] faint = await page.EvaluateAsync<string[]>("""
            (() => {
              const parse = c => { const n = c.match(/[\d.]+/g).map(Number); return { rgb: n.slice(0, 3), a: n.length > 3 ? n[3] : 1 }; };
              const luminance = rgb => { const [r, g, b] = rgb.map(v => { v /= 255; return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4; });
                return 0.2126 * r + 0.7152 * g + 0.0722 * b; };
              const ground = e => { for (; e; e = e.parentElement) { const c = parse(getComputedStyle(e).backgroundColor); if (c.a > 0) return c.rgb; } return [255, 255, 255]; };
              const found = [];
              for (const e of document.querySelectorAll('h1, h2, h3, p, a, li, th, td, dt, dd, caption, figcaption, pre, span, strong, text')) {
                if (![...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim())) continue;
                const style = getComputedStyle(e), over = e.closest('svg');
                const a = luminance(parse(over ? style.fill : style.color).rgb), b = luminance(ground(e));
                const contrast = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
                if (contrast < 4.5) found.push(`${contrast.toFixed(2)} ${e.tagName}: ${e.textContent.slice(0, 40)}`);
              }
              return found;
            })()
            """);
        Assert.Empty(faint);
    }

    [Fact]
    public async Task Headings_tables_and_drawings_have_the_labels_that_a_screen_reader_needs()
    {
        var page = await chromium.Open();
        string[] problems = await page.EvaluateAsync<string[]>("""
            (() => {
              const found = [];
              const levels = [...document.querySelectorAll('h1, h2, h3, h4')].map(h => Number(h.tagName[1]));
              if (levels.filter(l => l === 1).length !== 1) found.push('not one h1');
              levels.forEach((l, k) => { if (k && l > levels[k - 1] + 1) found.push('a heading level is skipped'); });
              if (!document.documentElement.lang || !document.title) found.push('no language or title');
              for (const t of document.querySelectorAll('table')) {
                if (!t.caption?.textContent) found.push('table without caption');
                if ([...t.querySelectorAll('th')].some(h => !h.scope)) found.push('heading cell without scope: ' + t.caption?.textContent);
                for (const r of t.tBodies[0].rows) if (r.cells.length !== t.tHead.rows[0].cells.length) found.push('row of another length: ' + t.caption.textContent);
              }
              for (const s of document.querySelectorAll('svg')) {
                const names = (s.getAttribute('aria-labelledby') ?? '').split(' ').map(i => document.getElementById(i)?.textContent);
                if (s.getAttribute('role') !== 'img' || names.length < 2 || names.some(n => !n)) found.push('drawing without a name');
              }
              for (const r of document.querySelectorAll('[role=region]')) if (!r.getAttribute('aria-label') || r.tabIndex !== 0) found.push('a scrolling region that no keyboard reaches');
              if (!document.querySelector('main') || !document.querySelector('nav[aria-label]')) found.push('no landmarks');
              return found;
            })()
            """);
        Assert.Empty(problems);
    }

    [Fact]
    public async Task Pointing_at_a_curve_shows_its_values()
    {
        var page = await chromium.Open();
        string? values = await page.Locator("svg.plot .spot title").First.TextContentAsync();
        Assert.Matches(@"^sensor probe -1\.2 V: pin adc .* m?V, ideal 0 V$", values!);
    }

    [Fact]
    public async Task Printed_on_A4_no_table_is_cut_at_the_side_and_no_row_at_a_page_break()
    {
        var page = await chromium.Open(width: 703); // A4 less the margins of 12 mm, at 96 CSS pixels an inch
        await page.EmulateMediaAsync(new() { Media = Media.Print });
        string[] wide = await page.EvaluateAsync<string[]>("""
            [...document.querySelectorAll('table, pre, svg, p')].filter(e => e.getBoundingClientRect().right > 704 || e.scrollWidth > e.clientWidth + 1 && e.tagName !== 'svg')
              .map(e => e.tagName + ' ' + e.textContent.slice(0, 40))
            """);
        Assert.Empty(wide);
        Assert.Empty(await page.EvaluateAsync<string[]>(
            "[...document.querySelectorAll('tr, figure')].filter(e => getComputedStyle(e).breakInside !== 'avoid').map(e => e.tagName)"));
        byte[] pdf = await page.PdfAsync(new() { Format = "A4", PreferCSSPageSize = true });
        Assert.StartsWith("%PDF-", System.Text.Encoding.ASCII.GetString(pdf, 0, 5));
    }
}
