using System.Collections.Immutable;
using System.Globalization;
using FrontEndSim.FrontEnds.Sensors;
using FrontEndSim.Language.Text;
using nietras.SeparatedValues;

namespace FrontEndSim.Language.Binding;

/// <summary>
/// A sensor's table as comma-separated values: what is measured in the first column, in the sensor's unit, and what it gives there in the
/// second, below any lines of names. Semicolons or tabs may separate; decimals have a point.
/// </summary>
internal static class TableFile
{
    private const long LargestBytes = 1_000_000;
    private const int MostPreambleLines = 100;

    /// <summary>The points of a file that stands beside the circuit file; null after a complaint.</summary>
    /// <param name="file">Its name.</param>
    /// <param name="scale">What the numbers of the second column are multiplied by to be volts, ohm or amperes.</param>
    /// <param name="diagnostics">Where complaints go.</param>
    public static ImmutableArray<SensorPoint>? Read(Token file, double scale, DiagnosticList diagnostics)
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
            var points = ImmutableArray.CreateBuilder<SensorPoint>();
            using var reader = Sep.New(separator).Reader(o => o with { HasHeader = false, DisableColCountCheck = true, Unescape = true })
                .FromText(text);
            foreach (var row in reader)
            {
                if (row.ColCount >= 2 && Number(row[0].Span, out double quantity) && Number(row[1].Span, out double output))
                    points.Add(new(quantity, scale * output));
                else if (!row.Span.Trim().IsEmpty && (points.Count > 0 || row.LineNumberFrom > MostPreambleLines))
                    return Complain($"line {row.LineNumberFrom} has no two numbers, such as 25,10000");
            }
            return points.Count >= 2 ? points.ToImmutable() : Complain("it has less than two lines of two numbers, such as 25,10000");
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or InvalidDataException)
        {
            return Complain(e is FileNotFoundException or DirectoryNotFoundException ? "there is no such file" : e.Message.TrimEnd('.'));
        }

        ImmutableArray<SensorPoint>? Complain(string what)
        {
            diagnostics.Error(file.Span, DiagnosticCode.TableUnreadable, $"The table {file.Text} cannot be read: {what}.");
            return null;
        }
    }

    private static bool Number(ReadOnlySpan<char> cell, out double value) =>
        double.TryParse(cell.Trim(), NumberStyles.Float, CultureInfo.InvariantCulture, out value) && double.IsFinite(value);
}
