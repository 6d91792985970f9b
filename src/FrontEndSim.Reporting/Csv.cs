using System.Globalization;
using System.Text;
using FrontEndSim.Reporting.Blocks;
using FrontEndSim.Reporting.Words;

namespace FrontEndSim.Reporting;

/// <summary>
/// Comma-separated values after RFC 4180, except that lines end with LF: a header line, then a line a row. Numbers round-trip.
/// </summary>
public static class Csv
{
    /// <summary>The columns of a table that are data; the unit of a column's numbers stands in its heading.</summary>
    /// <param name="table">The table.</param>
    public static string Of(Table table)
    {
        int[] shown = [.. Enumerable.Range(0, table.Columns.Length).Where(k => table.Columns[k].Media.HasFlag(Media.Data))];
        return Table([.. shown.Select(k => Heading(table.Columns[k]))],
            table.Rows.Select(row => (string[])[.. shown.Select(k => Of(row[k], table.Columns[k]))]));
    }

    /// <summary>A table of text cells.</summary>
    /// <param name="header">Column names with their units, such as "PIN (V)".</param>
    /// <param name="rows">Cells, as many a row as columns.</param>
    internal static string Table(IReadOnlyList<string> header, IEnumerable<IReadOnlyList<string>> rows)
    {
        var text = new StringBuilder();
        AddLine(header);
        foreach (var row in rows)
            AddLine(row);
        return text.ToString();

        void AddLine(IReadOnlyList<string> cells) => text.AppendJoin(',', cells.Select(Quoted)).Append('\n');
    }

    private static string Heading(Column column) => column.Unit is "" or "%" ? column.Heading : $"{column.Heading} ({column.Unit})";

    private static string Of(Cell cell, Column column) => column.Kind == ColumnKind.Standing ? cell.Words ?? Standings.Data(cell.Standing)
        : cell.Number is { } number ? Number(number) : Harmless(cell.Words ?? "");

    /// <summary>The shortest text that reads back as the same number, in the invariant culture.</summary>
    internal static string Number(double value) => value.ToString("R", CultureInfo.InvariantCulture);

    /// <summary>Words that a spreadsheet would take for a formula stand behind an apostrophe, by which it takes them for words.</summary>
    private static string Harmless(string words) =>
        words.Length > 0 && words[0] is ('=' or '+' or '-' or '@' or '\t' or '\r') ? "'" + words : words;

    private static string Quoted(string cell) =>
        cell.AsSpan().ContainsAny("\",\r\n") ? $"\"{cell.Replace("\"", "\"\"")}\"" : cell;
}
