using System.Globalization;
using nietras.SeparatedValues;

namespace FrontEndSim.Language.Binding;

/// <summary>
/// Pairs of numbers as comma-separated values, below any lines of names and settings: a wave as an oscilloscope saves it, the time in s and
/// volts; a sensor's table, what is measured in its unit and what the sensor gives there. Semicolons or tabs may separate; decimals have a
/// point.
/// </summary>
/// <param name="What">What the file holds, in the words of a message: "wave".</param>
/// <param name="Pair">What stands in a line.</param>
/// <param name="Lacking">What a line lacks that is none.</param>
/// <param name="Example">A line.</param>
/// <param name="Code">The code of complaints.</param>
/// <param name="LargestBytes">How long a file may be.</param>
internal sealed record PairsFile(string What, string Pair, string Lacking, string Example, DiagnosticCode Code, long LargestBytes)
{
    private const int MostPreambleLines = 100;

    /// <summary>Waves of a time and volts.</summary>
    public static PairsFile Wave { get; } =
        new("wave", "a time and volts", "no time and no volts", "1.5e-3,24", DiagnosticCode.WaveUnreadable, 10_000_000);

    /// <summary>Tables of sensors.</summary>
    public static PairsFile Table { get; } =
        new("table", "two numbers", "no two numbers", "25,10000", DiagnosticCode.TableUnreadable, 1_000_000);

    /// <summary>The pairs of a file that stands beside the circuit file, at least two; null after a complaint.</summary>
    /// <param name="file">Its name.</param>
    /// <param name="diagnostics">Where complaints go.</param>
    public ImmutableArray<(double First, double Second)>? Read(Token file, DiagnosticList diagnostics)
    {
        string path = Path.Combine(Path.GetDirectoryName(file.Span.File.Path) ?? "", file.Text);
        try
        {
            if (Directory.Exists(path))
                return Complain("it is a directory");
            if (BoundedFile.ReadText(path, LargestBytes) is not { } text)
                return Complain($"it is longer than {LargestBytes / 1_000_000} MB");
            char separator = text.Contains(';') ? ';' : text.Contains('\t') && !text.Contains(',') ? '\t' : ',';
            var pairs = ImmutableArray.CreateBuilder<(double, double)>();
            using var reader = Sep.New(separator).Reader(o => o with { HasHeader = false, DisableColCountCheck = true, Unescape = true })
                .FromText(text);
            foreach (var row in reader)
            {
                if (row.ColCount >= 2 && Number(row[0].Span, out double first) && Number(row[1].Span, out double second))
                    pairs.Add((first, second));
                else if (!row.Span.Trim().IsEmpty && (pairs.Count > 0 || row.LineNumberFrom > MostPreambleLines))
                    return Complain($"line {row.LineNumberFrom} has {Lacking}, such as {Example}");
            }
            return pairs.Count >= 2 ? pairs.ToImmutable()
                : Complain($"it has less than two lines of {Pair}, such as {Example}");
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or InvalidDataException)
        {
            return Complain(e is FileNotFoundException or DirectoryNotFoundException ? "there is no such file" : e.Message.TrimEnd('.'));
        }

        ImmutableArray<(double, double)>? Complain(string what)
        {
            diagnostics.Error(file.Span, Code, $"The {What} {file.Text} cannot be read: {what}.");
            return null;
        }
    }

    private static bool Number(ReadOnlySpan<char> cell, out double value) =>
        double.TryParse(cell.Trim(), NumberStyles.Float, CultureInfo.InvariantCulture, out value) && double.IsFinite(value);
}
