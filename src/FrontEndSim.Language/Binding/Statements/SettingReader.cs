using System.Diagnostics.CodeAnalysis;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.Language.Binding.Scopes;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary>Reads what fills the blanks of a setting from its line.</summary>
/// <param name="line">The line.</param>
/// <param name="scope">Where its names mean something, and where complaints go.</param>
internal sealed class SettingReader(PhraseSyntax line, Scope scope) : IBlankReader
{
    public bool Has(SettingBlank blank) => line[blank.Name] is not null;

    public bool TryRead(NodeBlank blank, out string node)
    {
        node = scope.Node(Token(blank));
        return true;
    }

    public bool TryRead(RailBlank blank, [MaybeNullWhen(false)] out Rail rail)
    {
        // Ground is a supply of its own: an op amp may stand on VDD and GND.
        rail = Token(blank).Text == Circuit.Ground ? new Rail(Circuit.Ground, 0)
            : Known("rail", blank, scope.Builder.Rails, r => r.Name);
        return rail is not null;
    }

    public bool TryRead(SensorBlank blank, [MaybeNullWhen(false)] out Sensor sensor)
    {
        sensor = Known("sensor", blank, scope.Builder.Sensors, s => s.Name);
        return sensor is not null;
    }

    public bool TryRead(QuantityBlank blank, out double value) => Is(scope.Number(line[blank.Name]), out value);

    public bool TryRead(PercentBlank blank, out double fraction) => Is(scope.Fraction(line[blank.Name]), out fraction);

    public bool TryRead(SpanBlank blank, out FrontEnds.Quantities.Span span) => Is(scope.Span(line[blank.Name]), out span);

    public bool TryRead(CountBlank blank, out int count)
    {
        double? whole = scope.Within(line[blank.Name], v => v is >= 0 and <= 1e6 && v == Math.Floor(v), "a whole number");
        bool isRead = Is(whole, out double value);
        count = (int)value;
        return isRead;
    }

    public bool TryRead<T>(NameBlank<T> blank, [MaybeNullWhen(false)] out T value) where T : notnull
    {
        var name = Token(blank);
        var all = blank.All(scope.Builder.Catalogue);
        if (all.FirstOrDefault(c => c.Name.Equals(name.Text, StringComparison.OrdinalIgnoreCase)) is { } choice)
        {
            scope.Builder.UseType(name.Text);
            value = choice.Make();
            return true;
        }
        value = default;
        string[] known = [.. all.Select(c => c.Name)];
        if (blank is not NameBlank<DiodeType> || !scope.Builder.RefuseDiode(name, known))
            scope.Builder.RefuseType<object>(name, blank.What, known);
        return false;
    }

    private Token Token(SettingBlank blank) => line.Get<Token>(blank.Name);

    /// <summary>The thing of that name, if it is declared and could be bound; its own statement has complained otherwise.</summary>
    private T? Known<T>(string what, SettingBlank blank, IEnumerable<T> bound, Func<T, string> nameOf) where T : class
    {
        var name = Token(blank);
        return scope.Builder.Use(name, what) ? bound.FirstOrDefault(t => nameOf(t) == name.Text) : null;
    }

    private static bool Is<T>(T? read, out T value) where T : struct
    {
        value = read.GetValueOrDefault();
        return read is not null;
    }
}
