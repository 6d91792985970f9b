using System.Globalization;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Compare;
using FrontEndSim.FrontEnds.Studies.Mapping;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Cli;

/// <summary>
/// Readings as comma-separated values, in one of two forms. A table: the sensor's voltage first, then a column for each node or
/// pin, as <c>sweep --csv</c> writes it ("probe (V),LEVEL (V),adc (counts)"), or what firmware computes from several pins or over periods,
/// in the sensor's unit ("bath (°C),solder (°C)"); a column "temperature (°C)" says how warm the circuit was. Or bench points: the columns
/// "sensor (V)", "node" and
/// "reading (V)", as <c>build --csv</c> writes them to be filled in. Empty cells are readings that were not taken.
/// </summary>
internal static class ReadingsFile
{
    private const long LargestBytes = 10_000_000;

    // As far as parts are made for, °C.
    private const double LeastCelsius = -65, MostCelsius = 200;

    /// <summary>Reads the file.</summary>
    /// <exception cref="InputException">The file cannot be read, or something in it is wrong; the message gives line and
    /// column.</exception>
    public static (string Sensor, IReadOnlyList<Reading> Readings) Load(string path, FrontEnd frontEnd)
    {
        string text;
        try
        {
            if (Directory.Exists(path))
                throw new InputException($"cannot read '{path}': it is a directory");
            text = BoundedFile.ReadText(path, LargestBytes)
                ?? throw new InputException($"cannot read '{path}': it is longer than {LargestBytes / 1_000_000} MB, which no bench fills");
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException)
        {
            throw new InputException(
                $"cannot read '{path}': "
                + e switch
                {
                    FileNotFoundException or DirectoryNotFoundException => "there is no such file",
                    UnauthorizedAccessException => "permission denied",
                    PathTooLongException => "the name is too long",
                    _ => e.Message.TrimEnd('.'),
                });
        }
        var lines = text.Split('\n').Select((l, k) => (Line: k + 1, Cells: Split(l.TrimEnd('\r'))))
            .Where(l => l.Cells.Any(c => c.Trim() != "")).ToList();
        if (lines.Count == 0)
            throw new InputException($"{path}: there is nothing in it; expected a line of names, such as \"{Sample(frontEnd)}\"");
        string[] header = [.. lines[0].Cells.Select(c => c.Trim().TrimStart('\uFEFF'))];
        var rows = lines.Skip(1).ToList();
        if (rows.Count == 0)
            throw new InputException($"{path}:{lines[0].Line}: there are names and no readings below them");
        if (rows.FirstOrDefault(r => r.Cells.Count != header.Length) is { Cells: not null } uneven)
            throw new InputException(
                $"{path}:{uneven.Line}: {uneven.Cells.Count} cells, but {header.Length} names in line {lines[0].Line}");
        int node = Array.IndexOf(header, "node"), reading = Array.IndexOf(header, "reading (V)"),
            at = Array.FindIndex(header, h => h == "sensor" || h.StartsWith("sensor (", StringComparison.Ordinal));
        var (sensor, readings) = node >= 0 && reading >= 0 && at >= 0
            ? Bench(path, rows, node, reading, at, Array.IndexOf(header, "set"), frontEnd)
            : Table(path, header, lines[0].Line, rows, frontEnd);
        return readings.Count > 0 ? (sensor, readings) : throw new InputException($"{path}: no reading is filled in");
    }

    private static (string, IReadOnlyList<Reading>) Table(string path, string[] header, int headerLine,
        List<(int Line, List<string> Cells)> rows, FrontEnd frontEnd)
    {
        var (first, unit) = Named(header[0]);
        if (frontEnd.Sensors.FirstOrDefault(s => s.Name == first) is not { } swept || unit is not null && unit != swept.UnitText)
            throw new InputException($"{path}:{headerLine}: the first column is '{header[0]}', but must be a sensor: "
                + $"{string.Join(", ", frontEnd.Sensors.Select(s => $"{s.Name} ({s.UnitText})"))}");
        var known = Nodes(frontEnd);
        int? warmth = Temperature(path, header, headerLine, swept, frontEnd, known);
        var columns = header.Skip(1).Select((string Node, string? Pin, string? Computed)? (string cell, int k) =>
        {
            if (k + 1 == warmth)
                return null;
            var (name, cellUnit) = Named(cell);
            var pin = frontEnd.Pins.FirstOrDefault(p => p.Name == name);
            if (cellUnit == "counts" || (cellUnit is null && pin is not null && !known.Contains(name)))
                return pin is not null ? (pin.Node, name, null) : throw Unknown(name, "pin", frontEnd.Pins.Select(p => p.Name), k);
            if (frontEnd.Readings.FirstOrDefault(r => r.Name == name) is { } computed && !known.Contains(name))
            {
                return computed.Sensor == first && (cellUnit is null || cellUnit == swept.UnitText)
                    ? (frontEnd.FindPin(computed.Pins[0]).Node, null, name)
                    : throw new InputException($"{path}:{headerLine}: column {k + 2}: reading {name} is of sensor {computed.Sensor}, "
                        + $"in {frontEnd.FindSensor(computed.Sensor).UnitText}");
            }
            if (frontEnd.AlternatingReadings.FirstOrDefault(r => r.Name == name) is { } amplitude && !known.Contains(name))
            {
                return amplitude.Sensor == first && (cellUnit is null || cellUnit == swept.UnitText)
                    ? (frontEnd.FindPin(amplitude.Pin).Node, null, name)
                    : throw new InputException($"{path}:{headerLine}: column {k + 2}: reading {name} is of sensor {amplitude.Sensor}, "
                        + $"in {frontEnd.FindSensor(amplitude.Sensor).UnitText}");
            }
            if (cellUnit is not (null or "V"))
            {
                throw new InputException(
                    $"{path}:{headerLine}: column {k + 2} is in '{cellUnit}'; readings are in V, or in counts for a pin"
                    + string.Concat(frontEnd.Readings.Where(r => r.Sensor == first).Select(r => r.Name)
                        .Concat(frontEnd.AlternatingReadings.Where(r => r.Sensor == first).Select(r => r.Name))
                        .Select(name => $", or in {swept.UnitText} for {name}")));
            }
            return known.Contains(name) ? (name, null, null) : pin is not null ? (pin.Node, null, null)
                : throw Unknown(name, "node", [.. known, .. frontEnd.Readings.Select(r => r.Name),
                    .. frontEnd.AlternatingReadings.Select(r => r.Name)], k);
        }).ToArray();
        bool IsAmplitude((string Node, string? Pin, string? Computed) column) =>
            frontEnd.AlternatingReadings.Any(r => r.Name == column.Computed);
        if (swept.Alternation is not null && columns.OfType<(string, string?, string?)>().ToArray() is var read && read.Any(IsAmplitude)
            && !read.All(IsAmplitude))
            throw new InputException($"{path}:{headerLine}: {first} is an amplitude beside a reading over periods, and stands still beside "
                + "volts or counts, each at an instant; compare the two from a file each");
        var readings = new List<Reading>();
        foreach (var (line, cells) in rows)
        {
            double volts = Number(path, line, 1, cells[0]);
            double? celsius = warmth is { } place ? Number(path, line, place + 1, cells[place]) : null;
            if (celsius is < LeastCelsius or > MostCelsius)
                throw new InputException($"{path}:{line}: column {warmth + 1}: {cells[warmth!.Value].Trim()} °C is no temperature of a "
                    + $"circuit; expected one from {LeastCelsius} °C to {MostCelsius} °C");
            for (int k = 0; k < columns.Length; k++)
            {
                if (columns[k] is { } column && cells[k + 1].Trim() != "")
                {
                    readings.Add(new(volts, column.Node, Number(path, line, k + 2, cells[k + 1]), column.Pin, line)
                    {
                        Computed = column.Computed,
                        Celsius = celsius,
                    });
                }
            }
        }
        return (first, readings);

        InputException Unknown(string name, string what, IEnumerable<string> names, int k) => new(
            $"{path}:{headerLine}: column {k + 2}: there is no {what} '{name}'"
                + (Language.Text.Nearest.Of(name, names) is { } near ? $"; did you mean {near}?" : $"; known: {string.Join(", ", names)}"));
    }

    /// <summary>The column that says how warm the circuit was: by the sensor of a cold junction, or by "temperature"; null
    /// without.</summary>
    private static int? Temperature(string path, string[] header, int headerLine, Sensor swept, FrontEnd frontEnd, HashSet<string> known)
    {
        string[] junctions = [.. frontEnd.Readings.Where(r => r.Sensor == swept.Name && r.Formula is null)
            .Select(r => MappingStudy.SensorOf(frontEnd, frontEnd.FindPin(r.Pins[1]))?.Name).OfType<string>()];
        int? found = null;
        for (int k = 1; k < header.Length; k++)
        {
            var (name, unit) = Named(header[k]);
            if (known.Contains(name) || frontEnd.Pins.Any(p => p.Name == name))
                continue;
            var sensor = frontEnd.Sensors.FirstOrDefault(s => s.Name == name);
            if (sensor is null && (name != "temperature" || frontEnd.Readings.Any(r => r.Name == name)))
                continue;
            if (sensor is not null && !junctions.Contains(name))
                throw new InputException($"{path}:{headerLine}: column {k + 1}: {name} is a sensor as {swept.Name} is, and one is set at a "
                    + "time; give its readings a file of their own");
            if (unit is not (null or "°C" or "C"))
                throw new InputException($"{path}:{headerLine}: column {k + 1} is in '{unit}'; how warm the circuit was is in °C");
            if (found is { } other)
                throw new InputException($"{path}:{headerLine}: column {k + 1}: column {other + 1} says already how warm the circuit was");
            found = k;
        }
        return found;
    }

    private static (string, IReadOnlyList<Reading>) Bench(string path, List<(int Line, List<string> Cells)> rows,
        int node, int reading, int at, int set, FrontEnd frontEnd)
    {
        var known = Nodes(frontEnd);
        var readings = new List<Reading>();
        string? sensor = null;
        foreach (var (line, cells) in rows.Where(r => r.Cells[reading].Trim() != ""))
        {
            string name = cells[node].Trim();
            if (!known.Contains(name))
                throw new InputException($"{path}:{line}: there is no node '{name}'"
                    + (Language.Text.Nearest.Of(name, known) is { } near ? $"; did you mean {near}?" : ""));
            string? named = set < 0 ? null : frontEnd.Sensors.FirstOrDefault(s =>
                cells[set].StartsWith(s.Name + " ", StringComparison.Ordinal))?.Name;
            sensor ??= named;
            string volts = cells[at].Trim();
            var used = frontEnd.Sensors.FirstOrDefault(s => s.Name == (named ?? sensor)) ?? frontEnd.Sensors.FirstOrDefault()
                ?? throw new InputException("the circuit has no sensor");
            readings.Add(new(volts == "" ? used.Span.Middle
                : Number(path, line, at + 1, volts), name, Number(path, line, reading + 1, cells[reading]), null, line)
            {
                Sensor = named,
            });
        }
        return (sensor ?? frontEnd.Sensors.FirstOrDefault()?.Name ?? throw new InputException("the circuit has no sensor"), readings);
    }

    private static HashSet<string> Nodes(FrontEnd frontEnd) =>
        [.. frontEnd.ToCircuit().Elements.SelectMany(e => e.Terminals).Where(n => n != Circuit.Ground)];

    private static string Sample(FrontEnd frontEnd) =>
        $"{frontEnd.Sensors.FirstOrDefault()?.Name ?? "sensor"} "
            + $"({frontEnd.Sensors.FirstOrDefault()?.UnitText ?? "V"}),{frontEnd.Pins.FirstOrDefault()?.Node ?? "NODE"} (V)";

    /// <summary>"LEVEL (V)" as name and unit.</summary>
    private static (string Name, string? Unit) Named(string cell)
    {
        int open = cell.LastIndexOf(" (", StringComparison.Ordinal);
        return open > 0 && cell.EndsWith(')') ? (cell[..open].Trim(), cell[(open + 2)..^1]) : (cell, null);
    }

    private static double Number(string path, int line, int column, string cell) =>
        double.TryParse(cell.Trim(), NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && double.IsFinite(value) ? value
            : throw new InputException($"{path}:{line}: column {column}: '{cell.Trim()}' is no number; write it plain with a point, such "
                + $"as 1.234, in the unit of the column's name");

    /// <summary>Cells of a line; a quoted cell may hold commas and doubled quotes (RFC 4180).</summary>
    private static List<string> Split(string line)
    {
        var cells = new List<string>();
        var cell = new System.Text.StringBuilder();
        bool quoted = false;
        for (int k = 0; k < line.Length; k++)
        {
            if (quoted && line[k] == '"' && k + 1 < line.Length && line[k + 1] == '"')
                cell.Append(line[k++]);
            else if (line[k] == '"')
                quoted = !quoted;
            else if (line[k] == ',' && !quoted)
            {
                cells.Add(cell.ToString());
                cell.Clear();
            }
            else
                cell.Append(line[k]);
        }
        cells.Add(cell.ToString());
        return cells;
    }
}
