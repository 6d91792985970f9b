using FrontEndSim.Reporting.Blocks;
using FrontEndSim.Reporting.Words;
using Spectre.Console;
using Spectre.Console.Rendering;
using Cell = FrontEndSim.Reporting.Blocks.Cell;
using Paragraph = FrontEndSim.Reporting.Blocks.Paragraph;
using Table = FrontEndSim.Reporting.Blocks.Table;

namespace FrontEndSim.Cli;

/// <summary>Writes a page for a terminal. Words carry the meaning; colour only repeats it.</summary>
internal static class TerminalPage
{
    private const int Margin = 9, WidestMargin = 26, BarWidth = 24, LongestWhole = 16;
    private static readonly Style Bold = new(decoration: Decoration.Bold);

    /// <summary>The page as things to lay out, from top to bottom.</summary>
    public static IEnumerable<IRenderable> Of(Page page)
    {
        // A verdict is the first thing that a person sees.
        bool judged = page.Blocks.FirstOrDefault() is Headline;
        if (!judged && page.Title != "")
            yield return Title(page.Title);
        foreach (var block in Blocks(page.Blocks))
        {
            yield return block;
            if (judged)
                yield return Grid([("", Standing.None, page.Title)], Margin);
            judged = false;
        }
    }

    private static IEnumerable<IRenderable> Blocks(IEnumerable<Block> blocks)
    {
        foreach (var block in blocks.Where(b => b.Media.HasFlag(Media.Screen)))
        {
            foreach (var shown in Of(block))
                yield return shown;
        }
    }

    private static IEnumerable<IRenderable> Of(Block block) => block switch
    {
        Section s => [Blank, Title(s.Heading), .. Blocks(s.Blocks)],
        Headline v => [Grid([(Standings.Screen(v.Standing), v.Standing, v.Words)], Margin, isBold: true)],
        Facts f => [Blank, Lined(f.Figures.Select(x => (x.Term, Standing.None, x.What)))],
        Lines { Items.IsEmpty: true } or Sentences { Items.IsEmpty: true } or Cautions { Items.IsEmpty: true } => [],
        Lines l =>
            [Blank, Lined(l.Items.Select(x => (x.Standing == Standing.None ? x.Word : x.Word != ""
            ? x.Word : Standings.Screen(x.Standing), x.Standing, x.Text)))],
        Paragraph p => [Blank, Words(p.Text + "\n")],
        Sentences s => [Blank, Lined(s.Items.Select((t, k) => (s.IsOrdered ? $"{k + 1}" : "", Standing.None, t)))],
        Cautions c => [Blank, Lined(c.Items.Select(t => ("! Caution", Standing.Warning, t)))],
        Listing l => [Blank, new Padder(Words(l.Text.TrimEnd('\n') + "\n"), new Padding(4, 0, 0, 0))],
        Table { Rows.IsEmpty: true } => [],
        Table t => [Blank, .. t.Caption == "" ? Array.Empty<IRenderable>() : [Title(t.Caption)], new FittedTable(t)],
        _ => [], // pictures and drawings have no words; the figures beside them say it
    };

    private static IRenderable Blank => new Text("\n");

    private static Text Title(string words) => Words(words + "\n", Bold);

    private static Grid Lined(IEnumerable<(string Word, Standing Standing, string Text)> lines)
    {
        var all = lines.ToArray();
        int widest = all.Max(l => l.Word.Length);
        return Grid(all, widest > WidestMargin ? WidestMargin : Math.Max(Margin, widest));
    }

    /// <summary>Lines with a word in a margin and a text beside it that wraps.</summary>
    private static Grid Grid(IEnumerable<(string Word, Standing Standing, string Text)> lines, int margin, bool isBold = false)
    {
        var grid = new Grid();
        grid.AddColumn(new GridColumn().Width(margin).PadLeft(0).PadRight(2));
        grid.AddColumn(new GridColumn().PadLeft(0).PadRight(0));
        foreach (var (word, standing, text) in lines)
            grid.AddRow(Words(word, Look(standing)), Words(text, isBold ? Bold : Style.Plain));
        return grid;
    }

    private static Style Look(Standing standing) => standing switch
    {
        Standing.Met => new(Color.Green),
        Standing.NotMet => new(Color.Red, decoration: Decoration.Bold),
        Standing.NotKnown or Standing.Warning => new(Color.Yellow),
        _ => Bold,
    };

    private static int[] Shown(Table table) => [.. Enumerable.Range(0, table.Columns.Length)
        .Where(k => table.Columns[k].Media.HasFlag(Media.Screen) && table.Columns[k].Kind != ColumnKind.Entry)];

    // Numbers stay whole, and so does a column of names.
    private static bool IsWhole(Table table, int k) => table.Columns[k].IsRight || table.Columns[k].Kind == ColumnKind.Standing
        || table.Rows.All(row => Figures.Of(row[k], table.Columns[k]) is { Length: <= LongestWhole } words && !words.Contains(' '));

    /// <summary>The width that a table needs for its numbers, its names and the longest words of its sentences, without gaps.</summary>
    private static int LeastWidth(Table table) => Shown(table).Sum(k =>
    {
        bool isWhole = IsWhole(table, k);
        return table.Rows.Select(row => Shown(row[k], table.Columns[k])).Append(table.Columns[k].HeadingWithUnit)
            .SelectMany(words => isWhole ? [words] : words.Split(' ')).Max(words => words.Length);
    });

    private static Spectre.Console.Table Of(Table table, int gap)
    {
        int[] shown = Shown(table);
        var drawn = new Spectre.Console.Table().NoBorder();
        foreach (int k in shown)
        {
            var from = table.Columns[k];
            var column = new TableColumn(Words(from.HeadingWithUnit, Bold)).PadLeft(0).PadRight(k != shown[^1] ? gap : 0);
            if (IsWhole(table, k))
                column.NoWrap();
            if (from.IsRight)
                column.RightAligned();
            if (from.Kind == ColumnKind.Standing && k == shown[0])
                column.Width(Margin); // as wide as the margin of what follows
            drawn.AddColumn(column);
        }
        foreach (var row in table.Rows)
            drawn.AddRow(shown.Select(k => (IRenderable)Of(row[k], table.Columns[k])));
        return drawn;
    }

    private static Text Of(Cell cell, Column column) =>
        Words(Shown(cell, column), column.Kind == ColumnKind.Standing ? Look(cell.Standing) : Style.Plain);

    private static string Shown(Cell cell, Column column)
    {
        if (column.Kind == ColumnKind.Standing)
        {
            string sign = cell.Standing switch { Standing.Met => "+ ", Standing.NotMet => "- ", Standing.NotKnown => "? ", _ => "" };
            return cell.Words is null ? Standings.Screen(cell.Standing) : sign + cell.Words;
        }
        string words = Figures.Of(cell, column);
        return words != "" || column.Kind != ColumnKind.Bar ? words
            : new string('#', (int)Math.Round(BarWidth * Math.Clamp(cell.Share ?? 0, 0, 1)));
    }

    private static Text Words(string words, Style? style = null) => new(Terminal.Safe(words), style ?? Style.Plain);

    /// <summary>A table whose columns stand closer where it would be too wide even with its sentences broken.</summary>
    private sealed class FittedTable(Table table) : Renderable
    {
        private const int Gap = 2;

        protected override Measurement Measure(RenderOptions options, int maxWidth) => Fitted(maxWidth).Measure(options, maxWidth);

        protected override IEnumerable<Segment> Render(RenderOptions options, int maxWidth) => Fitted(maxWidth).Render(options, maxWidth);

        private IRenderable Fitted(int width) =>
            Of(table, LeastWidth(table) + Gap * (Shown(table).Length - 1) <= width ? Gap : Gap - 1);
    }
}
