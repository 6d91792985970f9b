using System.Collections.Immutable;
using System.Globalization;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;

namespace FrontEndSim.Language.Writing;

/// <summary>A stage as it is written in a circuit file: the inverse of reading it, by the same phrases.</summary>
/// <param name="Head">Its first line.</param>
/// <param name="Settings">Its settings by name, each a line without indentation, in the order of the kind.</param>
public sealed record StageText(string Head, ImmutableArray<KeyValuePair<string, string>> Settings)
{
    /// <summary>Writes a stage.</summary>
    /// <param name="kind">Its kind.</param>
    /// <param name="request">What was asked of it.</param>
    public static StageText Of(StageKind kind, StageRequest request) => new($"stage {request.Name} is {kind.Name}",
        [.. kind.Settings.Where(s => request.Has(s.Name)).Select(s => KeyValuePair.Create(s.Name, Line(s, request)))]);

    /// <summary>All its lines, the settings indented by four blanks.</summary>
    public IEnumerable<string> Lines => [Head, .. Settings.Select(s => "    " + s.Value)];

    /// <summary>A value with enough digits that nothing of it is lost.</summary>
    /// <param name="value">The value, SI.</param>
    /// <param name="unit">Symbol of its unit.</param>
    public static string Value(double value, string unit) => SiText.Format(value, unit, 12);

    /// <summary>A fraction as a percentage without a blank: 1%.</summary>
    public static string Percent(double fraction) => SiText.Format(fraction, "%", 12).Replace(" %", "%", StringComparison.Ordinal);

    private static string Line(Setting setting, StageRequest request)
    {
        var words = new List<string>();
        foreach (var piece in setting.Phrase)
        {
            if (piece is Keyword keyword)
                words.Add(keyword.Text);
            else if (piece is Slot slot && request.Values.TryGetValue($"{setting.Name}.{slot.Name}", out object? value))
                words.Add(Slot(value));
        }
        return string.Join(' ', words);
    }

    private static string Slot(object value) => value switch
    {
        Quantity q => Value(q.Value, q.Unit.Symbol),
        Span s => $"{Value(s.Low, "V")} .. {Value(s.High, "V")}",
        double fraction => Percent(fraction),
        int count => count.ToString(CultureInfo.InvariantCulture),
        _ => (string)value,
    };
}
