namespace FrontEndSim.FrontEnds.Parts.Fits;

/// <summary>The numbers that a diode's data sheet gives, before a model is fitted to them. Immutable.</summary>
/// <param name="Name">Type number or a name of the user's.</param>
/// <param name="Kind">What kind of diode it is.</param>
/// <param name="Points">Points of its curve, at least the one that its kind cannot do without.</param>
/// <param name="Source">Where the numbers come from, unless a point says otherwise.</param>
public sealed record DiodeDataSheet(string Name, DiodeKind Kind, ImmutableArray<DataPoint> Points, string Source)
{
    /// <summary>Tolerance of the zener voltage, a fraction; zero if none is stated.</summary>
    public double Tolerance { get; init; }

    /// <summary>Temperature coefficient of the zener voltage, 1/K.</summary>
    public double TempCo { get; init; }

    /// <summary>Rise of temperature that doubles the leakage, K. About 10 K (common practice, no source).</summary>
    public double LeakageDoublingKelvin { get; init; } = 10;

    /// <summary>Change of the forward voltage with temperature at constant current, V/K; null for what the junction's own law makes of
    /// it.</summary>
    public double? ForwardVoltsPerKelvin { get; init; }

    /// <summary>Reverse voltage that the diode stands, V; infinity where none is stated. Of no use for a zener.</summary>
    public double ReverseVolts { get; init; } = double.PositiveInfinity;

    /// <summary>Capacitance at zero bias, F.</summary>
    public double Farads { get; init; }

    /// <summary>Transit time, s.</summary>
    public double TransitSeconds { get; init; }

    /// <summary>Rated power at 25 °C ambient, W.</summary>
    public double RatedWatts { get; init; } = 0.5;

    /// <summary>Highest temperature of the junction, °C: at this ambient temperature nothing is left of the rated power.</summary>
    public double MostJunctionCelsius { get; init; } = 150;

    /// <summary>Lasting current in its working direction, A; infinity where none is stated.</summary>
    public double RatedAmps { get; init; } = double.PositiveInfinity;

    /// <summary>Surge current that it stands now and then, A: the peak of a half sine of 8.3 ms; infinity where none is stated.</summary>
    public double RatedPeakAmps { get; init; } = double.PositiveInfinity;

    /// <summary>Current of single square pulses by their duration; empty for what follows from <see cref="RatedPeakAmps"/>.</summary>
    public ImmutableArray<PulseLimit> Surge { get; init; } = [];

    /// <summary>Power of single square pulses by their duration; empty for what is usual of the rated power.</summary>
    public ImmutableArray<PulseLimit> PulseWatts { get; init; } = [];

    /// <summary>The first point of a kind, or null.</summary>
    public DataPoint? First(DataPointKind kind) => Points.FirstOrDefault(p => p.Kind == kind);
}

/// <summary>What a number on a data sheet is.</summary>
public enum DataPointKind
{
    /// <summary>Forward voltage, V, at a current, A.</summary>
    ForwardVoltage,

    /// <summary>Zener voltage, V, at a reverse current, A.</summary>
    ZenerVoltage,

    /// <summary>Differential resistance, ohm, at a reverse current, A.</summary>
    Impedance,

    /// <summary>Reverse current, A, at a reverse voltage, V.</summary>
    Leakage,
}

/// <summary>One number of a data sheet, at 25 °C unless it says otherwise.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="Value">Its value: V, ohm or A.</param>
/// <param name="At">Where it holds: a current, A, or a reverse voltage, V; above zero.</param>
/// <param name="IsLimit">Whether it is a largest value, which single pieces stay below.</param>
public sealed record DataPoint(DataPointKind Kind, double Value, double At, bool IsLimit = false)
{
    /// <summary>Temperature that it holds at, °C.</summary>
    public double Celsius { get; init; } = 25;

    /// <summary>Where the number comes from; null for the source of the sheet.</summary>
    public string? Source { get; init; }

    /// <summary>Symbol of the value's unit.</summary>
    public string Unit => Kind switch { DataPointKind.Impedance => "ohm", DataPointKind.Leakage => "A", _ => "V" };

    /// <summary>Symbol of the unit of <see cref="At"/>.</summary>
    public string AtUnit => Kind == DataPointKind.Leakage ? "V" : "A";

    /// <summary>"zener voltage at 5 mA".</summary>
    public string What => Kind switch
    {
        DataPointKind.ForwardVoltage => "forward voltage",
        DataPointKind.ZenerVoltage => "zener voltage",
        DataPointKind.Impedance => "impedance",
        _ => "leakage",
    } + " at " + SiText.Format(At, AtUnit) + (Celsius == 25 ? "" : " and " + SiText.Format(Celsius, "°C"));

    /// <summary>"zener voltage of 3.6 V at 5 mA".</summary>
    public override string ToString() => What.Replace(" at ", $" of {SiText.Format(Value, Unit)} at ", StringComparison.Ordinal);
}

/// <summary>A point of a data sheet, and what the fitted model makes of it.</summary>
/// <param name="Point">The point given.</param>
/// <param name="Fitted">The model's value there, in the point's unit.</param>
public sealed record FittedPoint(DataPoint Point, double Fitted)
{
    /// <summary>The model's value over the value given, less one. A largest value may well be missed downwards.</summary>
    public double Residual => Fitted / Point.Value - 1;
}

/// <summary>Numbers of a data sheet that no diode could have, or that are not enough for a model.</summary>
/// <param name="message">Which numbers, and why; a sentence.</param>
public sealed class DataSheetException(string message) : Exception(message)
{
    /// <summary>Refuses numbers of a sheet that are not finite and above zero.</summary>
    /// <param name="name">Name of the type.</param>
    /// <param name="numbers">What each is, and its value; null where it is not stated.</param>
    /// <exception cref="DataSheetException">One of them is not.</exception>
    internal static void HoldAboveZero(string name, params IEnumerable<(string What, double? Value)> numbers)
    {
        foreach (var (what, value) in numbers.Where(n => n.Value is { } v && !(v > 0 && double.IsFinite(v))))
            throw new DataSheetException($"The {what} of {name} must be above 0, but is {value}.");
    }

    /// <summary>What a model has at a point, in words; where it leaves all bounds there is no number to give.</summary>
    internal static string Fitted(double value, string unit) => double.IsFinite(value) ? SiText.Format(value, unit, 3) : "no finite value";

    internal static DataSheetException Contradiction(string name, DataPoint first, DataPoint second, string why) =>
        new($"The numbers of {name} contradict each other: the {first} and the {second}; {why}.");
}
