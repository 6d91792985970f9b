using System.Collections.Concurrent;
using FrontEndSim.FrontEnds.Stages;

namespace FrontEndSim.Language.Forms;

/// <summary>The forms of a stage's settings, made of the settings themselves: a new kind of stage needs no change here.</summary>
internal static class SettingForms
{
    private static readonly ConcurrentDictionary<StageKind, ImmutableArray<Addition>> Known = new();

    /// <summary>The forms of a kind's settings.</summary>
    public static ImmutableArray<Addition> Of(StageKind kind) =>
        Known.GetOrAdd(kind, k => [.. k.Settings.Select(s => new Addition(s.Name, [.. s.Phrase.Skip(1).Select(Of)]))]);

    private static Piece Of(PhrasePiece piece)
    {
        if (piece is not SettingBlank blank)
            return new Word(piece.ToString()!);
        Piece form = blank switch
        {
            NodeBlank => Blank.Node(blank.Name),
            RailBlank => new Blank(blank.Name, Shape.Name, "a rail"),
            SensorBlank => new Blank(blank.Name, Shape.Name, "a sensor"),
            QuantityBlank q => Blank.Of(q.Name, q.Unit),
            PercentBlank => Blank.Percentage(blank.Name),
            SpanBlank s => new Blank(s.Name, Shape.Range, UnitWords.Describe(s.Unit), s.Unit),
            CountBlank => new Blank(blank.Name, Shape.Value, "a whole number", Unit.None),
            INameBlank name => new Blank(blank.Name, Shape.TypeName, name.Example is { } example ? $"a {name.What}, such as {example}"
                : "one of " + string.Join(", ", name.Names)),
            _ => throw new ArgumentException($"Blank {blank.Name} is of no kind that the language knows."),
        };
        return blank.IsOptional ? new Maybe(form) : form;
    }
}
