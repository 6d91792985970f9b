using System.Diagnostics.CodeAnalysis;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.FrontEnds.Stages;

/// <summary>A word or a blank of a setting.</summary>
public abstract class PhrasePiece;

/// <summary>A word that stands as it is.</summary>
/// <param name="text">The word.</param>
public sealed class Keyword(string text) : PhrasePiece
{
    /// <inheritdoc/>
    public override string ToString() => text;
}

/// <summary>A place of a setting that a user fills.</summary>
/// <param name="name">Its name, unique in its setting.</param>
public abstract class SettingBlank(string name) : PhrasePiece
{
    /// <summary>Its name, unique in its setting.</summary>
    public string Name { get; } = name;

    /// <summary>Whether it may be left out (only at the end of a setting).</summary>
    public bool IsOptional { get; init; }

    /// <inheritdoc/>
    public override string ToString() => IsOptional ? $"[{Name.ToUpperInvariant()}]" : Name.ToUpperInvariant();
}

/// <summary>A blank with the type of what fills it. There are the kinds below: whoever reads or writes settings knows them.</summary>
/// <typeparam name="T">What fills it.</typeparam>
public abstract class SettingBlank<T> : SettingBlank where T : notnull
{
    private protected SettingBlank(string name) : base(name)
    {
    }

    /// <summary>Reads what fills it; false if nothing does that makes sense, of which the reader has complained.</summary>
    public abstract bool TryRead(IBlankReader reader, [MaybeNullWhen(false)] out T value);

    /// <summary>Writes what fills it.</summary>
    public abstract string Write(T value, IBlankWriter writer);
}

/// <summary>A blank for the name of a node.</summary>
/// <param name="name">The blank's name.</param>
public sealed class NodeBlank(string name) : SettingBlank<string>(name)
{
    /// <inheritdoc/>
    public override bool TryRead(IBlankReader reader, [MaybeNullWhen(false)] out string value) => reader.TryRead(this, out value);

    /// <inheritdoc/>
    public override string Write(string value, IBlankWriter writer) => writer.Name(value);
}

/// <summary>A blank for a rail; ground is one of 0 V.</summary>
/// <param name="name">The blank's name.</param>
public sealed class RailBlank(string name) : SettingBlank<Rail>(name)
{
    /// <inheritdoc/>
    public override bool TryRead(IBlankReader reader, [MaybeNullWhen(false)] out Rail value) => reader.TryRead(this, out value);

    /// <inheritdoc/>
    public override string Write(Rail value, IBlankWriter writer) => writer.Name(value.Name);
}

/// <summary>A blank for a sensor.</summary>
/// <param name="name">The blank's name.</param>
public sealed class SensorBlank(string name) : SettingBlank<Sensor>(name)
{
    /// <inheritdoc/>
    public override bool TryRead(IBlankReader reader, [MaybeNullWhen(false)] out Sensor value) => reader.TryRead(this, out value);

    /// <inheritdoc/>
    public override string Write(Sensor value, IBlankWriter writer) => writer.Name(value.Name);
}

/// <summary>A blank for a quantity, which is filled by its value in SI units.</summary>
/// <param name="name">The blank's name.</param>
/// <param name="unit">Its unit.</param>
public sealed class QuantityBlank(string name, Unit unit) : SettingBlank<double>(name)
{
    /// <summary>Its unit.</summary>
    public Unit Unit { get; } = unit;

    /// <inheritdoc/>
    public override bool TryRead(IBlankReader reader, out double value) => reader.TryRead(this, out value);

    /// <inheritdoc/>
    public override string Write(double value, IBlankWriter writer) => writer.Quantity(new(value, Unit));
}

/// <summary>A blank for a percentage, which is filled by the fraction: 1 % is 0.01.</summary>
/// <param name="name">The blank's name.</param>
public sealed class PercentBlank(string name) : SettingBlank<double>(name)
{
    /// <inheritdoc/>
    public override bool TryRead(IBlankReader reader, out double value) => reader.TryRead(this, out value);

    /// <inheritdoc/>
    public override string Write(double value, IBlankWriter writer) => writer.Fraction(value);
}

/// <summary>A blank for a span.</summary>
/// <param name="name">The blank's name.</param>
/// <param name="unit">The unit of both ends.</param>
public sealed class SpanBlank(string name, Unit unit) : SettingBlank<Span>(name)
{
    /// <summary>The unit of both ends.</summary>
    public Unit Unit { get; } = unit;

    /// <inheritdoc/>
    public override bool TryRead(IBlankReader reader, out Span value) => reader.TryRead(this, out value);

    /// <inheritdoc/>
    public override string Write(Span value, IBlankWriter writer) => writer.Span(value);
}

/// <summary>A blank for a whole number.</summary>
/// <param name="name">The blank's name.</param>
public sealed class CountBlank(string name) : SettingBlank<int>(name)
{
    /// <inheritdoc/>
    public override bool TryRead(IBlankReader reader, out int value) => reader.TryRead(this, out value);

    /// <inheritdoc/>
    public override string Write(int value, IBlankWriter writer) => writer.Quantity(new(value, Unit.None));
}

/// <summary>Something that can be named.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Make">Gives it; a type of part may be fitted to its data sheet only then.</param>
public sealed record Choice<T>(string Name, Func<T> Make);

/// <summary>A blank for a name, as whoever shows a form sees it.</summary>
public interface INameBlank
{
    /// <summary>What is named, in a user's words: "diode type".</summary>
    string What { get; }

    /// <summary>Such a name; null where all are few enough to be named.</summary>
    string? Example { get; }

    /// <summary>All names, of types of part those that come with the tool.</summary>
    IEnumerable<string> Names { get; }
}

/// <summary>A blank for the name of one of several things: a type of part, a series of preferred numbers, one of some words.</summary>
/// <param name="name">The blank's name.</param>
/// <param name="what">What is named, in a user's words: "diode type".</param>
/// <param name="example">Such a name; null to name all of them.</param>
/// <param name="all">All that may be named.</param>
/// <param name="nameOf">The name of each.</param>
public sealed class NameBlank<T>(string name, string what, string? example, Func<PartCatalogue, IEnumerable<Choice<T>>> all,
    Func<T, string> nameOf) : SettingBlank<T>(name), INameBlank where T : notnull
{
    /// <inheritdoc/>
    public string What { get; } = what;

    /// <inheritdoc/>
    public string? Example { get; } = example;

    /// <inheritdoc/>
    public IEnumerable<string> Names => all(PartCatalogue.Standard).Select(c => c.Name);

    /// <summary>All that may be named, types of part from a catalogue.</summary>
    public ImmutableArray<Choice<T>> All(PartCatalogue catalogue) => [.. all(catalogue)];

    /// <inheritdoc/>
    public override bool TryRead(IBlankReader reader, [MaybeNullWhen(false)] out T value) => reader.TryRead(this, out value);

    /// <inheritdoc/>
    public override string Write(T value, IBlankWriter writer) => writer.Name(nameOf(value));
}

/// <summary>Reads what fills the blanks of one setting. Where something is wrong it complains itself and gives false.</summary>
public interface IBlankReader
{
    /// <summary>Whether anything fills a blank.</summary>
    bool Has(SettingBlank blank);

    /// <summary>Reads the name of a node.</summary>
    bool TryRead(NodeBlank blank, [MaybeNullWhen(false)] out string node);

    /// <summary>Reads a rail.</summary>
    bool TryRead(RailBlank blank, [MaybeNullWhen(false)] out Rail rail);

    /// <summary>Reads a sensor.</summary>
    bool TryRead(SensorBlank blank, [MaybeNullWhen(false)] out Sensor sensor);

    /// <summary>Reads a quantity, in SI units.</summary>
    bool TryRead(QuantityBlank blank, out double value);

    /// <summary>Reads a percentage, as a fraction.</summary>
    bool TryRead(PercentBlank blank, out double fraction);

    /// <summary>Reads a span.</summary>
    bool TryRead(SpanBlank blank, out Span span);

    /// <summary>Reads a whole number.</summary>
    bool TryRead(CountBlank blank, out int count);

    /// <summary>Reads a name as what it stands for.</summary>
    bool TryRead<T>(NameBlank<T> blank, [MaybeNullWhen(false)] out T value) where T : notnull;
}

/// <summary>Writes what fills blanks.</summary>
public interface IBlankWriter
{
    /// <summary>A name or word.</summary>
    string Name(string name);

    /// <summary>A quantity.</summary>
    string Quantity(Quantity quantity);

    /// <summary>A percentage, given as a fraction.</summary>
    string Fraction(double fraction);

    /// <summary>A span.</summary>
    string Span(Span span);
}
