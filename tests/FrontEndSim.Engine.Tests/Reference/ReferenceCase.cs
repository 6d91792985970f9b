using System.Globalization;
using FrontEndSim.Engine.Elements;

namespace FrontEndSim.Engine.Tests.Reference;

/// <summary>
/// One file of tests/reference: the circuit's parameters, results such as peaks and energies, and columns.
/// The tests build their circuits from the file's own parameters, so that the two sides cannot drift apart.
/// </summary>
internal sealed class ReferenceCase
{
    private readonly Dictionary<string, double> _parameters = [];
    private readonly Dictionary<string, double> _results = [];
    private readonly Dictionary<string, double[]> _columns = [];

    private ReferenceCase(string name)
    {
        Name = name;
        string[] lines = File.ReadAllLines(Path.Combine(AppContext.BaseDirectory, "reference", name + ".csv"));
        foreach (string line in lines.Where(l => l.StartsWith("# parameter ", StringComparison.Ordinal)))
            Keep(_parameters, line["# parameter ".Length..]);
        foreach (string line in lines.Where(l => l.StartsWith("# result ", StringComparison.Ordinal)))
            Keep(_results, line["# result ".Length..]);
        string[][] table = [.. lines.Where(l => !l.StartsWith('#')).Select(l => l.Split(','))];
        for (int column = 0; column < table[0].Length; column++)
            _columns.Add(table[0][column], [.. table.Skip(1).Select(row => Number(row[column]))]);
    }

    public string Name { get; }

    public IReadOnlyDictionary<string, double> Results => _results;

    public int Rows => _columns.First().Value.Length;

    public static ReferenceCase Read(string name) => new(name);

    /// <summary>A parameter of the circuit, SI unit.</summary>
    public double this[string parameter] => _parameters[parameter];

    public double[] Column(string name) => _columns[name];

    /// <summary>The columns that hold node voltages, with the node that each names.</summary>
    public IEnumerable<(string Node, double[] Volts)> Nodes => _columns
        .Where(c => c.Key.EndsWith("_V", StringComparison.Ordinal)).Select(c => (c.Key[..^2], c.Value));

    /// <summary>The diode whose numbers the header gives under a prefix; every number given is used.</summary>
    public DiodeModel Diode(string prefix) => _parameters.Where(p => p.Key.StartsWith(prefix + ".", StringComparison.Ordinal))
        .Aggregate(Junctions.Silicon, (model, p) => p.Key[(prefix.Length + 1)..] switch
        {
            nameof(DiodeModel.SaturationAmps) => model with { SaturationAmps = p.Value },
            nameof(DiodeModel.EmissionCoefficient) => model with { EmissionCoefficient = p.Value },
            nameof(DiodeModel.ActivationVolts) => model with { ActivationVolts = p.Value },
            nameof(DiodeModel.TemperatureExponent) => model with { TemperatureExponent = p.Value },
            nameof(DiodeModel.SeriesOhms) => model with { SeriesOhms = p.Value },
            nameof(DiodeModel.JunctionFarads) => model with { JunctionFarads = p.Value },
            nameof(DiodeModel.JunctionVolts) => model with { JunctionVolts = p.Value },
            nameof(DiodeModel.Grading) => model with { Grading = p.Value },
            nameof(DiodeModel.TransitSeconds) => model with { TransitSeconds = p.Value },
            nameof(DiodeModel.BreakdownVolts) => model with { BreakdownVolts = p.Value },
            nameof(DiodeModel.BreakdownAmps) => model with { BreakdownAmps = p.Value },
            nameof(DiodeModel.BreakdownSlopeVolts) => model with { BreakdownSlopeVolts = p.Value },
            nameof(DiodeModel.BreakdownTempCo) => model with { BreakdownTempCo = p.Value },
            nameof(DiodeModel.LeakageSiemens) => model with { LeakageSiemens = p.Value },
            string unknown => throw new FormatException($"{Name}.csv gives a number that no diode has: {unknown}"),
        });

    private static void Keep(Dictionary<string, double> table, string text)
    {
        int equals = text.IndexOf(" = ", StringComparison.Ordinal);
        table.Add(text[..equals], Number(text[(equals + 3)..]));
    }

    private static double Number(string text) => double.Parse(text, NumberStyles.Float, CultureInfo.InvariantCulture);
}
