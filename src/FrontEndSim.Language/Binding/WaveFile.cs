using System.Collections.Immutable;
using System.Globalization;
using FrontEndSim.Language.Text;
using nietras.SeparatedValues;

namespace FrontEndSim.Language.Binding;

/// <summary>
/// A wave as an oscilloscope saves it: comma-separated values, the time in s in the first column and volts in the second, below any lines
/// of
/// names and settings. Semicolons or tabs may separate; decimals have a point.
/// </summary>
internal static class WaveFile
{
    private const long LargestBytes = 10_000_000;
    private const int MostPreambleLines = 100;

    /// <summary>The points of a file that stands beside the circuit file; null after a complaint.</summary>
    public static ImmutableArray<(double, double)>? Read(Token file, DiagnosticList diagnostics)
    {
        string path = Path.Combine(Path.GetDirectoryName(file.Span.File.Path) ?? "", file.Text);
        try
        {
            if (Directory.Exists(path))
                return Complain("it is a directory");
            if (new FileInfo(path).Length > LargestBytes)
                return Complain($"it is longer than {LargestBytes / 1_000_000} MB");
            string text = File.ReadAllText(path);
            char separator = text.Contains(';') ? ';' : text.Contains('\t') && !text.Contains(',') ? '\t' : ',';
            var points = ImmutableArray.CreateBuilder<(double, double)>();
            using var reader = Sep.New(separator).Reader(o => o with { HasHeader = false, DisableColCountCheck = true, Unescape = true })
                .FromText(text);
            foreach (var row in reader)
            {
                if (row.ColCount >= 2 && Number(row[0].Span, out double seconds) && Number(row[1].Span, out double volts))
                    points.Add((seconds, volts));
                else if (!row.Span.Trim().IsEmpty && (points.Count > 0 || row.LineNumberFrom > MostPreambleLines))
                    return Complain($"line {row.LineNumberFrom} has no time and no volts, such as 1.5e-3,24");
            }
            return points.Count >= 2 ? points.ToImmutable() : Complain("it has less than two lines of a time and volts, such as 1.5e-3,24");
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or InvalidDataException)
        {
            return Complain(e is FileNotFoundException or DirectoryNotFoundException ? "there is no such file" : e.Message.TrimEnd('.'));
        }

        ImmutableArray<(double, double)>? Complain(string what)
        {
            diagnostics.Error(file.Span, DiagnosticCode.WaveUnreadable, $"The wave {file.Text} cannot be read: {what}.");
            return null;
        }
    }

    private static bool Number(ReadOnlySpan<char> cell, out double value) =>
        double.TryParse(cell.Trim(), NumberStyles.Float, CultureInfo.InvariantCulture, out value);
}
