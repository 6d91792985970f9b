namespace FrontEndSim.FrontEnds.Parts;

/// <summary>What lies between the plates of a capacitor, and what that does to it.</summary>
/// <param name="Name">"x7r", "electrolytic".</param>
/// <param name="MostAmbientCelsius">Temperature up to which it is made, °C.</param>
/// <param name="Source">Where the numbers come from.</param>
public sealed record CapacitorDielectric(string Name, double MostAmbientCelsius, string Source)
{
    /// <summary>How far its capacitance may stray by temperature and ageing, either way, beside its tolerance; 0 for next to
    /// nothing.</summary>
    public double Strays { get; private init; }

    /// <summary>The least that its insulation has, ohm, where its capacitance does not make it less.</summary>
    private double InsulationOhms { get; init; } = double.PositiveInfinity;

    /// <summary>The least that its insulation and its capacitance make, s.</summary>
    private double InsulationSeconds { get; init; } = double.PositiveInfinity;

    /// <summary>The most that it leaks at its rated voltage at least, A; 0 where it is stated by its insulation.</summary>
    private double LeastLeakageAmps { get; init; }

    // What an electrolyte's oxide leaks at its rated voltage after some minutes, A over the charge that it holds.
    private const double LeakagePerCharge = 0.01;

    /// <summary>The least resistance that pieces leak by at 25 °C, ohm.</summary>
    /// <param name="farads">Capacitance, F.</param>
    /// <param name="ratedVolts">Rated voltage, V.</param>
    internal double LeastOhms(double farads, double ratedVolts) => LeastLeakageAmps > 0
        ? ratedVolts / Math.Max(LeakagePerCharge * farads * ratedVolts, LeastLeakageAmps)
        : Math.Min(InsulationOhms, InsulationSeconds / farads);

    // Leakage doubles by so much, K: tenfold from 25 °C to 85 °C or a little less (makers' curves, from memory).
    private const double LeakageDoublingKelvin = 20;

    /// <summary>Leakage at a temperature over that at 25 °C.</summary>
    internal static double LeakageFactor(double celsius) => Math.Pow(2, (celsius - 25) / LeakageDoublingKelvin);

    /// <summary>Whether it loses capacitance by the voltage across it.</summary>
    public bool LosesByBias { get; private init; }

    /// <summary>Whether its plus terminal must not stand below the other.</summary>
    public bool IsPolarised { get; private init; }

    // Share of its rated voltage, and volts, that it stands in reverse at 25, 85 and 125 °C; null where one voltage rules.
    private ImmutableArray<(double Celsius, double Share, double Volts)> Reverse { get; init; } = [];

    // Temperature from which its rated voltage falls, °C, and by which share of it a kelvin.
    private (double Celsius, double PerKelvin) Falls { get; init; } = (double.PositiveInfinity, 0);

    /// <summary>What all polarised ones stand in reverse where nothing is known of them: a tenth of their rated voltage and no more than a
    /// volt (common practice, no source).</summary>
    private static readonly ImmutableArray<(double Celsius, double Share, double Volts)> UsualReverse = [(25, 0.1, 1)];

    /// <summary>All that can be named.</summary>
    public static ImmutableArray<CapacitorDielectric> All { get; } =
    [
        // Class 1 and 2 of IEC 60384: the temperature's share of X7R and X5R, and two decades of ageing after the first thousand hours.
        new("c0g", 125, "IEC 60384, from memory") { InsulationOhms = 10e9, InsulationSeconds = 100 },
        new("x7r", 125, "IEC 60384 and makers' curves, from memory")
        {
            LosesByBias = true,
            Strays = 0.15 + 0.05,
            InsulationOhms = 4e9,
            InsulationSeconds = 100,
        },
        new("x5r", 85, "IEC 60384 and makers' curves, from memory")
        {
            LosesByBias = true,
            Strays = 0.15 + 0.1,
            InsulationOhms = 4e9,
            InsulationSeconds = 100,
        },
        new("film", 105, "IEC 60384-2, from memory") { Falls = (85, 0.0125), InsulationOhms = 15e9, InsulationSeconds = 5000 },
        // The natural oxide on the cathode's foil stands a volt.
        new("electrolytic", 105, "IEC 60384-4, from memory")
        {
            IsPolarised = true,
            Reverse = [(25, double.PositiveInfinity, 1)],
            LeastLeakageAmps = 3e-6,
        },
        new("tantalum", 125, "IEC 60384-15 and makers' guides, from memory")
        {
            IsPolarised = true,
            Reverse = [(25, 0.1, 1), (85, 0.03, 0.5), (125, 0.01, 0.1)],
            Falls = (85, 1.0 / 3 / 40),
            LeastLeakageAmps = 0.5e-6,
        },
    ];

    /// <summary>That of a name whatever its case, or null.</summary>
    public static CapacitorDielectric? Find(string name) =>
        All.FirstOrDefault(d => d.Name.Equals(name, StringComparison.OrdinalIgnoreCase));

    /// <summary>Share of its rated voltage that is left at a temperature.</summary>
    internal double RatedShare(double celsius) =>
        celsius <= Falls.Celsius ? 1 : Math.Max(0.1, 1 - Falls.PerKelvin * (celsius - Falls.Celsius));

    /// <summary>What a polarised one stands in reverse at a temperature, V.</summary>
    /// <param name="dielectric">Its dielectric, or null for what is not known.</param>
    /// <param name="ratedVolts">Its rated voltage, V.</param>
    /// <param name="celsius">The temperature, °C.</param>
    internal static double ReverseVolts(CapacitorDielectric? dielectric, double ratedVolts, double celsius)
    {
        var points = dielectric is { Reverse: { IsEmpty: false } own } ? own : UsualReverse;
        double At(int k) => Math.Min(points[k].Volts, points[k].Share * ratedVolts);
        if (celsius <= points[0].Celsius)
            return At(0);
        for (int k = 1; k < points.Length; k++)
        {
            if (celsius <= points[k].Celsius)
                return At(k - 1) + (At(k) - At(k - 1)) * (celsius - points[k - 1].Celsius) / (points[k].Celsius - points[k - 1].Celsius);
        }
        return At(points.Length - 1);
    }
}

/// <summary>The body of a ceramic chip capacitor.</summary>
/// <param name="Name">"chip-0603".</param>
/// <param name="CubicMillimetres">Its volume, mm³.</param>
public sealed record CapacitorSize(string Name, double CubicMillimetres)
{
    /// <summary>Sizes that can be named, at their usual thickness (IEC 60384, from memory).</summary>
    public static ImmutableArray<CapacitorSize> All { get; } =
    [
        new("chip-0402", 1.0 * 0.5 * 0.5), new("chip-0603", 1.6 * 0.8 * 0.8), new("chip-0805", 2.0 * 1.25 * 1.25),
        new("chip-1206", 3.2 * 1.6 * 1.6), new("chip-1210", 3.2 * 2.5 * 2.5), new("chip-1812", 4.5 * 3.2 * 2.5),
        new("chip-2220", 5.7 * 5.0 * 2.5),
    ];

    /// <summary>The size of that name whatever its case, or null.</summary>
    public static CapacitorSize? Find(string name) => All.FirstOrDefault(s => s.Name.Equals(name, StringComparison.OrdinalIgnoreCase));

    /// <summary>
    /// Voltage at which about half of the capacitance is left, V: the loss goes with the field, so that a body of so many cubic millimetres
    /// for a microfarad has layers of √(mm³/µF); the factor and the small power that small chips are thicker by through six parts' curves
    /// (makers' curves from memory, to a factor of two).
    /// </summary>
    /// <param name="farads">Capacitance, F.</param>
    internal double HalfVolts(double farads) => 11.4 * Math.Sqrt(CubicMillimetres) * Math.Pow(farads / 1e-6, -0.415);
}
