using System.Globalization;
using System.Text;

namespace FrontEndSim.Reporting;

/// <summary>Comma-separated values after RFC 4180, except that lines end with LF: a header line, then a line a row. Numbers round-trip.</summary>
public static class Csv
{
    /// <summary>A table of text cells.</summary>
    /// <param name="header">Column names with their units, such as "PIN (V)".</param>
    /// <param name="rows">Cells, as many a row as columns.</param>
    public static string Table(IReadOnlyList<string> header, IEnumerable<IReadOnlyList<string>> rows)
    {
        var text = new StringBuilder();
        AddLine(header);
        foreach (var row in rows)
            AddLine(row);
        return text.ToString();

        void AddLine(IReadOnlyList<string> cells) => text.AppendJoin(',', cells.Select(Quoted)).Append('\n');
    }

    /// <summary>The shortest text that reads back as the same number, in the invariant culture.</summary>
    public static string Number(double value) => value.ToString("R", CultureInfo.InvariantCulture);

    private static string Quoted(string cell) =>
        cell.AsSpan().ContainsAny("\",\r\n") ? $"\"{cell.Replace("\"", "\"\"")}\"" : cell;
}
