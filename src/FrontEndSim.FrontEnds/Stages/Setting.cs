using System.Diagnostics.CodeAnalysis;
using FrontEndSim.FrontEnds.Model;

namespace FrontEndSim.FrontEnds.Stages;

/// <summary>A line that configures a stage, such as <c>maps SENSOR onto SPAN</c>, as data: the language goes by this.</summary>
public abstract class Setting
{
    private protected Setting(string name, bool isRequired, string help, ImmutableArray<PhrasePiece> rest) =>
        (Name, IsRequired, Help, Phrase) = (name, isRequired, help, [new Keyword(name), .. rest]);

    /// <summary>Its name, and its first keyword.</summary>
    public string Name { get; }

    /// <summary>Whether a stage without it cannot be built.</summary>
    public bool IsRequired { get; }

    /// <summary>What it means, in a sentence.</summary>
    public string Help { get; }

    /// <summary>What a person writes, in order; the first piece is the keyword <see cref="Name"/>.</summary>
    public ImmutableArray<PhrasePiece> Phrase { get; }

    /// <summary>Reads a line; null after a complaint of the reader.</summary>
    public abstract SettingValue? Read(IBlankReader reader);

    /// <summary>How it is written: "maps SENSOR onto SPAN".</summary>
    public override string ToString() => string.Join(" ", Phrase);

    /// <summary>A setting that says something by being there.</summary>
    public static Setting<bool> Flag(string name, string help) => new NoBlank(name, help);

    /// <summary>A setting with one blank.</summary>
    /// <param name="name">Name of the setting, and its first keyword.</param>
    /// <param name="isRequired">Whether a stage without it cannot be built.</param>
    /// <param name="help">What it means, in a sentence.</param>
    /// <param name="blank">The blank.</param>
    /// <param name="before">A word ahead of the blank; null for none.</param>
    public static Setting<T> Of<T>(string name, bool isRequired, string help, SettingBlank<T> blank, string? before = null)
        where T : notnull => new OneBlank<T>(name, isRequired, help, blank, before);

    /// <summary>A setting with two blanks and a word between them.</summary>
    /// <param name="name">Name of the setting, and its first keyword.</param>
    /// <param name="isRequired">Whether a stage without it cannot be built.</param>
    /// <param name="help">What it means, in a sentence.</param>
    /// <param name="first">The first blank.</param>
    /// <param name="word">The word between them.</param>
    /// <param name="second">The second blank.</param>
    public static Setting<(TFirst, TSecond)> Of<TFirst, TSecond>(string name, bool isRequired, string help,
        SettingBlank<TFirst> first, string word, SettingBlank<TSecond> second) where TFirst : notnull where TSecond : notnull =>
        new TwoBlanks<TFirst, TSecond>(name, isRequired, help, first, word, second);

    private sealed class NoBlank(string name, string help) : Setting<bool>(name, false, help, [])
    {
        public override bool TryRead(IBlankReader reader, out bool value) => value = true;

        public override string? Written(SettingBlank blank, bool value, IBlankWriter writer) => null;
    }

    private sealed class OneBlank<T>(string name, bool isRequired, string help, SettingBlank<T> blank, string? before)
        : Setting<T>(name, isRequired, help, before is null ? [blank] : [new Keyword(before), blank]) where T : notnull
    {
        public override bool TryRead(IBlankReader reader, [MaybeNullWhen(false)] out T value) => blank.TryRead(reader, out value);

        public override string? Written(SettingBlank _, T value, IBlankWriter writer) => blank.Write(value, writer);
    }

    private sealed class TwoBlanks<TFirst, TSecond>(string name, bool isRequired, string help,
        SettingBlank<TFirst> first, string word, SettingBlank<TSecond> second)
        : Setting<(TFirst, TSecond)>(name, isRequired, help, [first, new Keyword(word), second])
        where TFirst : notnull where TSecond : notnull
    {
        public override bool TryRead(IBlankReader reader, out (TFirst, TSecond) value)
        {
            // Both are read even if one is wrong, so that the faults of both are told.
            bool isRead = first.TryRead(reader, out var one) & second.TryRead(reader, out var two);
            value = (one!, two!);
            return isRead;
        }

        public override string? Written(SettingBlank blank, (TFirst, TSecond) value, IBlankWriter writer) =>
            blank == first ? first.Write(value.Item1, writer) : second.Write(value.Item2, writer);
    }
}

/// <summary>A setting with the type of what a line of it says: the key to it in what was asked of a stage.</summary>
/// <typeparam name="T">What a line says; several values are a tuple in the order of its blanks.</typeparam>
/// <param name="name">Name of the setting, and its first keyword.</param>
/// <param name="isRequired">Whether a stage without it cannot be built.</param>
/// <param name="help">What it means, in a sentence.</param>
/// <param name="rest">What follows the first keyword.</param>
public abstract class Setting<T>(string name, bool isRequired, string help, ImmutableArray<PhrasePiece> rest)
    : Setting(name, isRequired, help, rest) where T : notnull
{
    /// <summary>Reads a line; false after a complaint of the reader.</summary>
    public abstract bool TryRead(IBlankReader reader, [MaybeNullWhen(false)] out T value);

    /// <summary>What fills a blank of it, written; null where it is left out.</summary>
    public abstract string? Written(SettingBlank blank, T value, IBlankWriter writer);

    /// <inheritdoc/>
    public override SettingValue? Read(IBlankReader reader) => TryRead(reader, out var value) ? new SettingValue<T>(this, value) : null;
}

/// <summary>A setting that gives one quantity: <c>impedance 10 kohm</c>.</summary>
/// <param name="name">Name of the setting, and its first keyword.</param>
/// <param name="isRequired">Whether a stage without it cannot be built.</param>
/// <param name="help">What it means, in a sentence.</param>
/// <param name="amount">The blank.</param>
/// <param name="after">Words behind it.</param>
public sealed class AmountSetting(string name, bool isRequired, string help, QuantityBlank amount, params ImmutableArray<string> after)
    : Setting<double>(name, isRequired, help, [amount, .. after.Select(word => new Keyword(word))])
{
    /// <summary>Its unit.</summary>
    public Unit Unit => amount.Unit;

    /// <inheritdoc/>
    public override bool TryRead(IBlankReader reader, out double value) => amount.TryRead(reader, out value);

    /// <inheritdoc/>
    public override string? Written(SettingBlank blank, double value, IBlankWriter writer) => amount.Write(value, writer);
}

/// <summary>A setting that may end with a tolerance.</summary>
/// <typeparam name="T">What stands ahead of the tolerance.</typeparam>
/// <param name="name">Name of the setting, and its first keyword.</param>
/// <param name="isRequired">Whether a stage without it cannot be built.</param>
/// <param name="help">What it means, in a sentence.</param>
/// <param name="value">What stands ahead of the tolerance.</param>
public abstract class ToleranceSetting<T>(string name, bool isRequired, string help, SettingBlank<T> value)
    : Setting<(T Value, double? Tolerance)>(name, isRequired, help, [value, new PercentBlank("tolerance") { IsOptional = true }])
    where T : notnull
{
    private PercentBlank Tolerance => (PercentBlank)Phrase[^1];

    /// <inheritdoc/>
    public override bool TryRead(IBlankReader reader, out (T Value, double? Tolerance) read)
    {
        double tolerance = 0;
        bool isGiven = reader.Has(Tolerance), isRead = value.TryRead(reader, out var amount);
        isRead &= !isGiven || Tolerance.TryRead(reader, out tolerance);
        read = (amount!, isGiven ? tolerance : null);
        return isRead;
    }

    /// <inheritdoc/>
    public override string? Written(SettingBlank blank, (T Value, double? Tolerance) given, IBlankWriter writer) =>
        blank == value ? value.Write(given.Value, writer) : given.Tolerance is { } t ? Tolerance.Write(t, writer) : null;
}

/// <summary>A setting that gives the value of a part: <c>series 10 kohm 1%</c>.</summary>
/// <param name="name">Name of the setting, and its first keyword.</param>
/// <param name="isRequired">Whether a stage without it cannot be built.</param>
/// <param name="help">What it means, in a sentence.</param>
/// <param name="unit">The value's unit.</param>
public sealed class PartSetting(string name, bool isRequired, string help, Unit unit)
    : ToleranceSetting<double>(name, isRequired, help, new QuantityBlank("value", unit))
{
    /// <summary>The value's unit.</summary>
    public Unit Unit { get; } = unit;

    /// <summary>
    /// Name of the resistor that the stage chooses where this is left out, without the stage's: "R1"; null where it chooses none.
    /// </summary>
    public string? Part { get; init; }
}

/// <summary>A setting that says what a stage's values are chosen from: <c>resistors E96 1%</c>.</summary>
/// <param name="name">Name of the setting, and its first keyword.</param>
/// <param name="help">What it means, in a sentence.</param>
public sealed class SeriesSetting(string name, string help) : ToleranceSetting<ESeries>(name, false, help,
    new NameBlank<ESeries>("series", "series of preferred numbers", "E96",
        _ => ESeries.All.Select(s => new Choice<ESeries>(s.Name, () => s)), s => s.Name));

/// <summary>Something with two supplies.</summary>
/// <param name="Type">Its type.</param>
/// <param name="Positive">The rail of its positive supply.</param>
/// <param name="Negative">The rail of its negative supply.</param>
public readonly record struct Supplied<T>(T Type, Rail Positive, Rail Negative);

/// <summary>A setting that names a type and its two supplies: <c>opamp jfet-input on VP and VN</c>.</summary>
/// <typeparam name="T">The kind of type.</typeparam>
/// <param name="name">Name of the setting, and its first keyword.</param>
/// <param name="isRequired">Whether a stage without it cannot be built.</param>
/// <param name="help">What it means, in a sentence.</param>
/// <param name="type">The blank of the type.</param>
public sealed class SuppliedSetting<T>(string name, bool isRequired, string help, SettingBlank<T> type)
    : Setting<Supplied<T>>(name, isRequired, help,
        [type, new Keyword("on"), new RailBlank("positive"), new Keyword("and"), new RailBlank("negative")]) where T : notnull
{
    private RailBlank Positive => (RailBlank)Phrase[3];

    private RailBlank Negative => (RailBlank)Phrase[5];

    /// <inheritdoc/>
    public override bool TryRead(IBlankReader reader, out Supplied<T> value)
    {
        bool isRead = type.TryRead(reader, out var of) & Positive.TryRead(reader, out var positive)
            & Negative.TryRead(reader, out var negative);
        value = new(of!, positive!, negative!);
        return isRead;
    }

    /// <inheritdoc/>
    public override string? Written(SettingBlank blank, Supplied<T> value, IBlankWriter writer) =>
        blank == type ? type.Write(value.Type, writer) : writer.Name(blank == Positive ? value.Positive.Name : value.Negative.Name);
}
