using Microsoft.Playwright;

namespace FrontEndSim.Browser.Tests;

/// <summary>Questions to a page; each gives what is wrong with it, in words, and nothing where all is well.</summary>
internal static class PageChecks
{
    /// <summary>Words of drawings that are cut off at the drawing's edge.</summary>
    public static Task<string[]> Cut(IPage page) => page.EvaluateAsync<string[]>("""
        [...document.querySelectorAll('svg')].flatMap(svg => {
          const frame = svg.getBoundingClientRect();
          return [...svg.querySelectorAll('text')].filter(t => {
            const box = t.getBoundingClientRect();
            return box.left < frame.left - 1 || box.right > frame.right + 1 || box.top < frame.top - 1 || box.bottom > frame.bottom + 1;
          }).map(t => 'cut off: ' + t.textContent);
        })
        """);

    /// <summary>Words of drawings that lie on other words. A box of words is higher than its letters, hence the fifth that may
    /// overlap.</summary>
    public static Task<string[]> Crowded(IPage page) => page.EvaluateAsync<string[]>("""
        [...document.querySelectorAll('svg')].flatMap(svg => {
          const words = [...svg.querySelectorAll('text')].map(t => [t.textContent, t.getBoundingClientRect()]);
          return words.flatMap(([a, p], k) => words.slice(k + 1).filter(([, q]) => {
            const slack = Math.min(p.height, q.height) / 5;
            return p.left < q.right - 1 && q.left < p.right - 1 && p.top < q.bottom - slack && q.top < p.bottom - slack;
          }).map(([b]) => `${svg.querySelector('title').textContent}: ${a} / ${b}`));
        })
        """);

    /// <summary>Words of schematics that lie on a symbol or a wire.</summary>
    public static Task<string[]> Crossed(IPage page) => page.EvaluateAsync<string[]>("""
        [...document.querySelectorAll('svg.schematic')].flatMap(svg => {
          const dots = [...svg.querySelectorAll('path, rect, circle')].flatMap(s => {
            const to = s.getScreenCTM(), length = s.getTotalLength(), steps = Math.ceil(length / 2);
            return Array.from({ length: steps + 1 }, (_, k) => s.getPointAtLength(length * k / Math.max(1, steps)).matrixTransform(to));
          });
          return [...svg.querySelectorAll('text')].filter(t => {
            const p = t.getBoundingClientRect(), slack = p.height / 5;
            return dots.some(d => d.x > p.left + 1 && d.x < p.right - 1 && d.y > p.top + slack && d.y < p.bottom - slack);
          }).map(t => `${svg.querySelector('title').textContent}: ${t.textContent} on a line`);
        })
        """);

    /// <summary>Words whose contrast with their ground is below 4.5 to 1 (WCAG 2.2, success criterion 1.4.3, with its relative
    /// luminance).</summary>
    public static Task<string[]> Faint(IPage page) => page.EvaluateAsync<string[]>("""
        (() => {
          const parse = c => { const n = c.match(/[\d.]+/g).map(Number); return { rgb: n.slice(0, 3), a: n.length > 3 ? n[3] : 1 }; };
          const luminance = rgb => { const [r, g, b] = rgb.map(v => { v /= 255; return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4; });
            return 0.2126 * r + 0.7152 * g + 0.0722 * b; };
          const ground = e => { for (; e; e = e.parentElement) { const c = parse(getComputedStyle(e).backgroundColor); if (c.a > 0) return c.rgb; }
            return matchMedia('(prefers-color-scheme: dark)').matches ? [18, 18, 18] : [255, 255, 255]; };
          const found = [];
          for (const e of document.querySelectorAll('h1, h2, h3, p, a, li, th, td, dt, dd, caption, figcaption, pre, span, strong, text, input, label')) {
            if (e.tagName !== 'INPUT' && ![...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim())) continue;
            const style = getComputedStyle(e), over = e.closest('svg');
            const a = luminance(parse(over ? style.fill : style.color).rgb), b = luminance(ground(e));
            const contrast = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
            if (contrast < 4.5) found.push(`${contrast.toFixed(2)} ${e.tagName}: ${e.textContent.slice(0, 40)}`);
          }
          return found;
        })()
        """);

    /// <summary>Headings, tables, drawings, fields and regions without the labels that a screen reader needs.</summary>
    public static Task<string[]> Unlabelled(IPage page) => page.EvaluateAsync<string[]>("""
        (() => {
          const found = [];
          const levels = [...document.querySelectorAll('h1, h2, h3, h4')].map(h => Number(h.tagName[1]));
          if (levels.filter(l => l === 1).length !== 1) found.push('not one h1');
          levels.forEach((l, k) => { if (k && l > levels[k - 1] + 1) found.push('a heading level is skipped'); });
          if (!document.documentElement.lang || !document.title) found.push('no language or title');
          for (const t of document.querySelectorAll('table')) {
            if (!t.caption?.textContent && !t.getAttribute('aria-label')) found.push('table without caption');
            if ([...t.querySelectorAll('th')].some(h => !h.scope)) found.push('heading cell without scope: ' + t.caption?.textContent);
            const columns = t.tHead?.rows[0].cells.length;
            for (const r of t.tBodies[0].rows) if (r.cells.length !== columns) found.push('row of another length: ' + t.caption?.textContent);
          }
          for (const s of document.querySelectorAll('svg')) {
            const names = (s.getAttribute('aria-labelledby') ?? '').split(' ').map(i => document.getElementById(i)?.textContent);
            if (s.getAttribute('role') !== 'img' || names.length < 2 || names.some(n => !n)) found.push('drawing without a name');
          }
          for (const f of document.querySelectorAll('input, select, textarea, button'))
            if (!f.getAttribute('aria-label') && !f.labels?.length && !f.textContent.trim()) found.push('field without a label');
          for (const r of document.querySelectorAll('[role=region]')) if (!r.getAttribute('aria-label') || r.tabIndex !== 0) found.push('a scrolling region that no keyboard reaches');
          if (!document.querySelector('main') || !document.querySelector('nav[aria-label]')) found.push('no landmarks');
          const ids = [...document.querySelectorAll('[id]')].map(e => e.id);
          if (new Set(ids).size !== ids.length) found.push('an id stands twice');
          return found;
        })()
        """);

    /// <summary>What reaches beyond a width, or holds more than it shows.</summary>
    public static Task<string[]> Wide(IPage page, int width) => page.EvaluateAsync<string[]>("""
        width => [...document.querySelectorAll('table, pre, svg, p, figure, dl')]
          .filter(e => e.getBoundingClientRect().right > width + 1 || e.scrollWidth > e.clientWidth + 1 && e.tagName !== 'svg')
          .map(e => 'wider than the page: ' + e.tagName + ' ' + e.textContent.slice(0, 40))
        """, width);

    /// <summary>Tables, rows and figures that a page break may cut.</summary>
    public static Task<string[]> Breakable(IPage page) => page.EvaluateAsync<string[]>(
        "[...document.querySelectorAll('.scroll, tr, figure')].filter(e => getComputedStyle(e).breakInside !== 'avoid').map(e => "
            + "'may be cut: ' + e.textContent.slice(0, 40))");

    /// <summary>Drawings that are hidden, or too small to be read: letters of less than 9 CSS pixels where they are not printed.</summary>
    public static Task<string[]> Unreadable(IPage page) => page.EvaluateAsync<string[]>("""
        [...document.querySelectorAll('svg')].flatMap(svg => {
          const box = svg.getBoundingClientRect(), name = svg.querySelector('title')?.textContent ?? 'a drawing';
          if (box.width < 250 || box.height < 60) return [`${name}: ${box.width} by ${box.height}`];
          const small = [...svg.querySelectorAll('text')].map(t => parseFloat(getComputedStyle(t).fontSize) * box.width / svg.viewBox.baseVal.width).filter(s => s < 7.5);
          return small.length ? [`${name}: letters of ${Math.min(...small).toFixed(1)} pixels`] : [];
        })
        """);
}
