using System.Diagnostics.CodeAnalysis;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.FrontEnds.Stages;

/// <summary>What a user asks of a stage.</summary>
/// <param name="Kind">Its kind.</param>
/// <param name="Name">Name of the stage; its parts and inner nodes are named "NAME.R1".</param>
/// <param name="Values">What its settings say.</param>
/// <param name="Rails">All rails of the front end.</param>
/// <param name="Sensors">All sensors of the front end.</param>
public sealed record StageRequest(StageKind Kind, string Name, SettingValues Values, IReadOnlyList<Rail> Rails,
    IReadOnlyList<Sensor> Sensors)
{
    /// <summary>The part types that a stage may take where none is named.</summary>
    public PartCatalogue Catalogue { get; init; } = PartCatalogue.Standard;

    /// <summary>Builds the stage.</summary>
    /// <exception cref="StageProblemException">The target cannot be met, or settings are missing or contradict each other.</exception>
    public Stage Build() => Kind.Build(this);

    /// <summary>The same with another value of a setting.</summary>
    public StageRequest With<T>(Setting<T> setting, T value) where T : notnull => this with { Values = Values.With(setting, value) };

    /// <summary>The same with another amount in a setting, its tolerance and whatever else it says as they are; null where it takes
    /// none in that unit.</summary>
    public StageRequest? WithAmount(Setting setting, Quantity amount) => setting switch
    {
        AmountSetting s when s.Unit == amount.Unit => With(s, amount.Value),
        PartSetting s when s.Unit == amount.Unit =>
            With(s, (amount.Value, Values.TryGet(s, out var given) ? given.Tolerance : null)),
        Setting<(double Amount, Rail Rail)> s when s.Phrase.OfType<QuantityBlank>().Single().Unit == amount.Unit
            && Values.TryGet(s, out var given) => With(s, (amount.Value, given.Rail)),
        _ => null,
    };

    /// <summary>The same with a sensor in place of the one of its name.</summary>
    public StageRequest Seeing(Sensor sensor)
    {
        var seeing = this with { Sensors = [.. Sensors.Select(s => s.Name == sensor.Name ? sensor : s)] };
        return Values.TryGet(StageKind.Maps, out var maps) && maps.Sensor.Name == sensor.Name
            ? seeing.With(StageKind.Maps, (sensor, maps.Span)) : seeing;
    }

    /// <summary>Whether a setting is given.</summary>
    public bool Has(Setting setting) => Values.Has(setting);

    /// <summary>What is said of a setting; false where it is not given.</summary>
    public bool TryGet<T>(Setting<T> setting, [MaybeNullWhen(false)] out T value) where T : notnull => Values.TryGet(setting, out value);

    /// <summary>What is said of a setting.</summary>
    /// <exception cref="StageProblemException">It is not given.</exception>
    public T Get<T>(Setting<T> setting) where T : notnull => Values.TryGet(setting, out var value) ? value
        : throw new StageProblemException(setting.Name, new(ProblemKind.NeedsSetting, Name));

    /// <summary>What is said of a setting, or <paramref name="otherwise"/>.</summary>
    public T Get<T>(Setting<T> setting, T otherwise) where T : notnull => Values.TryGet(setting, out var value) ? value : otherwise;

    /// <summary>Throws unless one of two settings is given, and not both.</summary>
    internal void HasEither(Setting first, Setting other)
    {
        if (Has(first) == Has(other))
            throw new StageProblemException(Has(first) ? other.Name : null,
                new(ProblemKind.EitherOf, Name) { Known = [first.Name, other.Name] });
    }

    /// <summary>An amount above zero, or <paramref name="otherwise"/> if it is not given.</summary>
    /// <param name="setting">The setting.</param>
    /// <param name="otherwise">The amount where none is given; null to require it.</param>
    /// <exception cref="StageProblemException">It is missing or not above zero.</exception>
    public double Positive(AmountSetting setting, double? otherwise = null) =>
        otherwise is { } fallback && !Has(setting) ? fallback : Positive(setting, Get(setting), setting.Unit);

    /// <summary>The value of a part, above zero, or <paramref name="otherwise"/> if it is not given.</summary>
    /// <param name="setting">The setting.</param>
    /// <param name="tolerance">Tolerance where none is given.</param>
    /// <param name="otherwise">The value where the setting is not given; null to require it.</param>
    /// <exception cref="StageProblemException">It is missing or not above zero.</exception>
    public Toleranced Toleranced(PartSetting setting, double tolerance, double? otherwise = null) =>
        Given(setting, tolerance) ?? (otherwise is { } fallback ? new(fallback, tolerance) : new(Get(setting).Value));

    /// <summary>The value of a part, above zero; null if it is not given.</summary>
    /// <param name="setting">The setting.</param>
    /// <param name="tolerance">Tolerance where none is given.</param>
    /// <exception cref="StageProblemException">It is not above zero.</exception>
    public Toleranced? Given(PartSetting setting, double tolerance) => !TryGet(setting, out var given) ? null
        : new(Positive(setting, given.Value, setting.Unit), given.Tolerance ?? tolerance);

    /// <summary>The series that values are chosen from, and the tolerance of what is chosen.</summary>
    /// <param name="setting">The setting.</param>
    /// <param name="otherwise">The series where none is named.</param>
    /// <param name="tolerance">The tolerance where none is given; null for the series' usual one.</param>
    public (ESeries Series, double Tolerance) Preferred(SeriesSetting setting, ESeries otherwise, double? tolerance = null)
    {
        var (series, given) = Get(setting, (otherwise, null));
        return (series, given ?? tolerance ?? series.UsualTolerance);
    }

    /// <summary>What is to be mapped, by the sensor's voltage, and where it is to land; null where no mapping is asked for.</summary>
    /// <exception cref="StageProblemException">The sensor gives no voltage.</exception>
    public WantedMapping? Mapping(out Sensor? sensor)
    {
        sensor = null;
        if (!TryGet(StageKind.Maps, out var maps))
            return null;
        sensor = maps.Sensor.AsVoltage() ?? throw new StageProblemException(StageKind.Maps.Name,
            new(ProblemKind.NoVoltage, maps.Sensor.Name, maps.Sensor.Quantity));
        return new(sensor.Name, sensor.Span, maps.Span);
    }

    /// <summary>A value of a setting that has to be above zero.</summary>
    /// <exception cref="StageProblemException">It is not.</exception>
    internal static double Positive(Setting setting, double value, Unit unit) => value > 0 && double.IsFinite(value) ? value
        : throw new StageProblemException(setting.Name,
            new(ProblemKind.NotAbove, Found: new(value, unit), Low: new(0, unit)));
}
