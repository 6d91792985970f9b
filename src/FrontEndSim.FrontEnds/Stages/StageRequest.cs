using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;

namespace FrontEndSim.FrontEnds.Stages;

/// <summary>What the user asked of a stage.</summary>
/// <param name="Name">Name of the stage; its parts and inner nodes are named "NAME.R1".</param>
/// <param name="Values">Values by "SETTING.SLOT", of the types that <see cref="SlotKind"/> states.</param>
/// <param name="Rails">All rails of the front end.</param>
/// <param name="Sensors">All sensors of the front end.</param>
public sealed record StageRequest(string Name, IReadOnlyDictionary<string, object> Values, IReadOnlyList<Rail> Rails,
    IReadOnlyList<Sensor> Sensors)
{
    /// <summary>The part types that may be named.</summary>
    public PartCatalogue Catalogue { get; init; } = PartCatalogue.Standard;

    /// <summary>The same with another value of a setting; its tolerance stays.</summary>
    /// <param name="setting">Name of the setting, whose slot is "value".</param>
    /// <param name="value">The value.</param>
    public StageRequest WithValue(string setting, Quantity value) => this with
    {
        Values = new Dictionary<string, object>(Values) { [setting + ".value"] = value },
    };

    /// <summary>Whether a setting, or one of its slots ("maps.sensor"), was given.</summary>
    public bool Has(string key) => Values.ContainsKey(key) || Values.Keys.Any(k => k.StartsWith(key + ".", StringComparison.Ordinal));

    /// <summary>A name or word that was given.</summary>
    /// <exception cref="StageProblemException">It was not given.</exception>
    public string Text(string key) => Get<string>(key);

    /// <summary>A quantity that was given, in the unit expected.</summary>
    /// <exception cref="StageProblemException">It was not given, or is in another unit.</exception>
    public double Value(string key, Unit unit)
    {
        var quantity = Get<Quantity>(key);
        return quantity.Unit == unit ? quantity.Value
            : throw new StageProblemException(Setting(key), $"{Setting(key)} takes {unit}, but {quantity} is given.",
                $"Give a value in {unit}.");
    }

    /// <summary>A quantity above zero with its tolerance, or <paramref name="otherwise"/> if it was not given.</summary>
    /// <param name="setting">Name of the setting; its slots are "value" and "tolerance".</param>
    /// <param name="unit">The unit expected.</param>
    /// <param name="tolerance">Tolerance where none was given.</param>
    /// <param name="otherwise">The value where the setting was not given; null to require it.</param>
    /// <exception cref="StageProblemException">It is missing, not above zero, or in another unit.</exception>
    public Toleranced Toleranced(string setting, Unit unit, double tolerance, double? otherwise = null)
    {
        if (otherwise is { } fallback && !Has(setting))
            return new(fallback, tolerance);
        double value = Value(setting + ".value", unit);
        if (!(value > 0) || !double.IsFinite(value))
            throw new StageProblemException(setting, $"{setting} must be above 0 {unit}, but is {SiText.Format(value, unit.Symbol)}.", "");
        return new(value, Values.TryGetValue(setting + ".tolerance", out object? given) ? (double)given : tolerance);
    }

    /// <summary>The span that was given.</summary>
    /// <exception cref="StageProblemException">It was not given.</exception>
    public Span Span(string key) => Get<Span>(key);

    /// <summary>The fraction that was given, or <paramref name="otherwise"/>.</summary>
    public double Fraction(string key, double otherwise) => Values.TryGetValue(key, out object? value) ? (double)value : otherwise;

    /// <summary>The whole number that was given, or <paramref name="otherwise"/>.</summary>
    public int Count(string key, int otherwise) => Values.TryGetValue(key, out object? value) ? (int)value : otherwise;

    /// <summary>The rail that was named; ground is one of 0 V.</summary>
    /// <exception cref="StageProblemException">It was not named, or does not exist.</exception>
    public Rail Rail(string key) => Text(key) == Circuit.Ground ? new Rail(Circuit.Ground, 0) : Known(key, Rails, r => r.Name, "rail");

    /// <summary>The sensor that was named, by its voltage.</summary>
    /// <exception cref="StageProblemException">It was not named, does not exist, or gives no voltage.</exception>
    public Sensor Sensor(string key)
    {
        var named = Known(key, Sensors, s => s.Name, "sensor");
        return named.AsVoltage() ?? throw new StageProblemException(Setting(key),
            $"Sensor {named.Name} gives {(named.Output == Unit.Ohm ? "a resistance" : named.Output == Unit.Amps ? "a current" : "a share of a voltage")}, "
            + $"but {Setting(key)} is about a voltage.",
                $"Leave {Setting(key)} out: the firmware's table makes {named.Quantity} of what reaches the pin.");
    }

    /// <summary>The E series that was named, or <paramref name="otherwise"/>.</summary>
    /// <exception cref="StageProblemException">No series has that name.</exception>
    public ESeries Series(string key, ESeries otherwise) => !Has(key) ? otherwise : ESeries.Find(Text(key))
        ?? throw new StageProblemException(Setting(key), $"There is no preferred-number series {Text(key)}.",
            $"Known: {string.Join(", ", ESeries.All.Select(s => s.Name))}.");

    /// <summary>The op amp class that was named.</summary>
    /// <exception cref="StageProblemException">It was not named, or the catalogue has none of that name.</exception>
    public OpAmpType OpAmp(string key) => Catalogue.FindOpAmp(Text(key)) ?? throw new StageProblemException(Setting(key),
        $"There is no op amp class {Text(key)}.", $"Known: {string.Join(", ", Catalogue.OpAmpNames)}.");

    /// <summary>The diode type of one of the kinds that was named.</summary>
    /// <exception cref="StageProblemException">It was not named, or the catalogue has none of that name and kind.</exception>
    public DiodeType Diode(string key, params ReadOnlySpan<DiodeKind> kinds)
    {
        string name = Text(key);
        foreach (var kind in kinds)
        {
            if (Catalogue.FindDiode(name, kind) is { } type)
                return type;
        }
        string word = kinds[0].ToString().ToLowerInvariant();
        throw new StageProblemException(Setting(key), $"There is no {word} type {name}.",
            $"Known: {string.Join(", ", Catalogue.DiodeNames(kinds[0]))}.");
    }

    private T Known<T>(string key, IReadOnlyList<T> things, Func<T, string> nameOf, string word) where T : class =>
        things.FirstOrDefault(t => nameOf(t) == Text(key)) ?? throw new StageProblemException(Setting(key),
            $"There is no {word} named {Text(key)}.", $"Known: {string.Join(", ", things.Select(nameOf))}.");

    private T Get<T>(string key) => Values.TryGetValue(key, out object? value) ? (T)value
        : throw new StageProblemException(Setting(key), $"Stage {Name} needs the setting {Setting(key)}.", "");

    private static string Setting(string key) => key.Split('.')[0];
}
