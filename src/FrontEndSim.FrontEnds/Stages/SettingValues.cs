using System.Collections;
using System.Diagnostics.CodeAnalysis;

namespace FrontEndSim.FrontEnds.Stages;

/// <summary>A setting with what a line of it says.</summary>
public abstract class SettingValue
{
    private protected SettingValue(Setting setting) => Setting = setting;

    /// <summary>The setting.</summary>
    public Setting Setting { get; }

    /// <summary>The line.</summary>
    public string Line(IBlankWriter writer) =>
        string.Join(' ', Setting.Phrase.Select(p => p is SettingBlank blank ? Written(blank, writer) : p.ToString()).OfType<string>());

    private protected abstract string? Written(SettingBlank blank, IBlankWriter writer);
}

/// <summary>A setting with what a line of it says.</summary>
/// <param name="setting">The setting.</param>
/// <param name="value">What the line says.</param>
public sealed class SettingValue<T>(Setting<T> setting, T value) : SettingValue(setting) where T : notnull
{
    /// <summary>What the line says.</summary>
    public T Value { get; } = value;

    private protected override string? Written(SettingBlank blank, IBlankWriter writer) => setting.Written(blank, Value, writer);
}

/// <summary>
/// Settings with what is said of each. Immutable. A setting is known by its name and the type of what it says: kinds of stage that word
/// the help of a setting differently share its key.
/// </summary>
public sealed class SettingValues : IReadOnlyCollection<SettingValue>
{
    private readonly ImmutableArray<SettingValue> _values;

    private SettingValues(ImmutableArray<SettingValue> values) => _values = values;

    /// <summary>No settings.</summary>
    public static SettingValues Empty { get; } = new([]);

    /// <inheritdoc/>
    public int Count => _values.Length;

    /// <summary>Whether a setting is given.</summary>
    public bool Has(Setting setting) => _values.Any(v => v.Setting.Name == setting.Name);

    /// <summary>What is said of a setting; false where it is not given.</summary>
    public bool TryGet<T>(Setting<T> setting, [MaybeNullWhen(false)] out T value) where T : notnull
    {
        var found = _values.OfType<SettingValue<T>>().FirstOrDefault(v => v.Setting.Name == setting.Name);
        value = found is null ? default : found.Value;
        return found is not null;
    }

    /// <summary>The same with another value of a setting.</summary>
    public SettingValues With<T>(Setting<T> setting, T value) where T : notnull => With([new SettingValue<T>(setting, value)]);

    /// <summary>The same with other values of settings.</summary>
    public SettingValues With(IEnumerable<SettingValue> values)
    {
        ImmutableArray<SettingValue> others = [.. values];
        return new([.. _values.Where(v => others.All(o => o.Setting.Name != v.Setting.Name)), .. others]);
    }

    /// <summary>The same without settings.</summary>
    public SettingValues Without(params ReadOnlySpan<Setting> settings)
    {
        HashSet<string> names = [.. settings.ToArray().Select(s => s.Name)];
        return new([.. _values.Where(v => !names.Contains(v.Setting.Name))]);
    }

    /// <inheritdoc/>
    public IEnumerator<SettingValue> GetEnumerator() => _values.AsEnumerable().GetEnumerator();

    IEnumerator IEnumerable.GetEnumerator() => GetEnumerator();
}
