using System.Collections.Concurrent;
using System.Collections.Immutable;
using System.Globalization;
using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.FrontEnds.Studies.Design;
using FrontEndSim.Language.Binding.Scopes;
using FrontEndSim.Language.Forms;
using FrontEndSim.Language.Syntax;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary>Builds a stage of a shipped kind. The phrases of its settings come from the kind, so that a new kind needs no change
/// here.</summary>
internal static class ShippedStage
{
    private static readonly ConcurrentDictionary<StageKind, ImmutableArray<Addition>> Forms = new();

    /// <summary>The forms of a kind's settings.</summary>
    public static ImmutableArray<Addition> FormsOf(StageKind kind) => Forms.GetOrAdd(kind, k => [.. k.Settings.Select(Form)]);

    public static void Bind(StatementSyntax statement, StageKind kind, Scope scope)
    {
        bool mayStayOpen = scope.Draft.Unfinished is not null && scope.Prefix == ""
            && DesignStudy.Chooses(kind.Name) && statement.Settings.Any(s => s.Name == "maps");
        var (settings, isComplete) = StageStatement.ReadSettings(statement, FormsOf(kind),
            name => kind.Settings.First(s => s.Name == name).Required && !(mayStayOpen && name == "opamp"), scope.Diagnostics);
        var values = new Dictionary<string, object>();
        foreach (var setting in kind.Settings.Where(s => settings.ContainsKey(s.Name)))
        {
            var slots = setting.Phrase.OfType<Slot>().ToList();
            if (slots.Count == 0)
                values[setting.Name] = true;
            foreach (var slot in slots)
            {
                if (settings[setting.Name][slot.Name] is not { } blank)
                    continue;
                if (Convert(setting, slot, blank, scope) is { } value)
                    values[$"{setting.Name}.{slot.Name}"] = value;
                else
                    isComplete = false;
            }
        }
        if (isComplete && !(mayStayOpen && IsLeftOpen(statement, kind, values, scope)))
            Build(statement, kind, values, settings, scope);
    }

    /// <summary>Notes a stage that waits for its op amp or its resistors; false if everything is given.</summary>
    private static bool IsLeftOpen(StatementSyntax statement, StageKind kind, Dictionary<string, object> values, Scope scope)
    {
        var request = Request(statement, values, scope);
        bool isOpen = kind.Settings.Any(s => s.Name == "opamp") && !request.Has("opamp");
        try
        {
            isOpen = isOpen || DesignStudy.OpenValues(kind.Build(request), request).Count > 0;
        }
        catch (StageProblemException)
        {
            isOpen = true; // what is given does not suffice
        }
        if (isOpen)
            scope.Draft.Unfinished!.Add(new UnfinishedStage(kind, request, statement));
        return isOpen;
    }

    private static StageRequest Request(StatementSyntax statement, Dictionary<string, object> values, Scope scope) =>
        new(scope.FullName(statement.Token("name")), values, scope.Draft.Rails, scope.Draft.Sensors) { Catalogue = scope.Draft.Catalogue };

    private static void Build(StatementSyntax statement, StageKind kind, Dictionary<string,
        object> values, Dictionary<string, PhraseSyntax> settings, Scope scope)
    {
        try
        {
            var stage = kind.Build(Request(statement, values, scope));
            if (scope.Draft.Admit(stage.Parts.Length, statement.Span))
                scope.Add(stage, statement.Span);
        }
        catch (StageProblemException e)
        {
            var span = e.Setting is { } setting && settings.TryGetValue(setting, out var phrase) ? phrase.Span : statement.Span;
            scope.Diagnostics.Error(span, DiagnosticCode.ImpossibleStage, e.Message, null, e.Suggestion.Length == 0 ? null : e.Suggestion);
        }
    }

    /// <summary>The value of a slot in the type that a <see cref="StageRequest"/> holds for it; null after a complaint.</summary>
    private static object? Convert(Setting setting, Slot slot, Filled blank, Scope scope)
    {
        switch (slot.Kind)
        {
            case SlotKind.Node:
                return scope.Node((Token)blank.Value);
            case SlotKind.Rail when ((Token)blank.Value).Text == Circuit.Ground:
                return Circuit.Ground; // a supply of its own: an op amp may stand on VDD and GND
            case SlotKind.Rail:
                return Known("rail", blank, scope, scope.Draft.Rails.Select(r => r.Name));
            case SlotKind.Sensor:
                return Known("sensor", blank, scope, scope.Draft.Sensors.Select(s => s.Name));
            case SlotKind.PartName:
                return Listed("diode type", blank, scope, DiodesFor(setting, scope));
            case SlotKind.OpAmpName:
                return Listed("class of op amp", blank, scope, [.. scope.Draft.Catalogue.OpAmpNames]);
            case SlotKind.LogicFamily:
                return LogicFamily.Of((Token)blank.Value, scope)?.Name;
            case SlotKind.SeriesName:
                return Listed("series of preferred numbers", blank, scope, [.. ESeries.All.Select(s => s.Name)]);
            case SlotKind.ComparatorName:
                return Listed("class of comparator", blank, scope,
                    [.. scope.Draft.Catalogue.Types.OfType<ComparatorType>().Select(t => t.Name)]);
            case SlotKind.TransistorName:
                return Listed("transistor type", blank, scope,
                    [.. scope.Draft.Catalogue.Types.Where(t => t is BipolarType or MosType).Select(t => t.Name)]);
            case SlotKind.Choice:
                return OneOf(slot, (Token)blank.Value, scope);
            case SlotKind.Quantity:
                return scope.Evaluate((Expression)blank.Value, slot.Unit)?.Quantity;
            case SlotKind.Percent:
                return scope.Fraction(blank);
            case SlotKind.Span:
                return scope.Span(blank);
            default:
                return (int?)scope.Within(blank, v => v >= 0 && v <= 1e6 && v == Math.Floor(v), "a whole number");
        }
    }

    /// <summary>The diodes of the kind that a setting names in its first word, such as schottky-high; all of them if it names
    /// none.</summary>
    private static IReadOnlyList<string> DiodesFor(Setting setting, Scope scope)
    {
        foreach (var kind in Enum.GetValues<DiodeKind>())
        {
            if (setting.Name.StartsWith(kind.ToString(), StringComparison.OrdinalIgnoreCase))
                return [.. scope.Draft.Catalogue.DiodeNames(kind)];
        }
        if (setting.Name.StartsWith("indicator", StringComparison.Ordinal))
            return [.. scope.Draft.Catalogue.DiodeNames(DiodeKind.Led)];
        return [.. scope.Draft.Catalogue.Diodes.Select(d => d.Name)];
    }

    /// <summary>The name, if it is declared and could be bound; its own statement has complained otherwise.</summary>
    private static string? Known(string what, Filled blank, Scope scope, IEnumerable<string> bound)
    {
        var name = (Token)blank.Value;
        return scope.Draft.Use(name, what) && bound.Contains(name.Text) ? name.Text : null;
    }

    private static string? Listed(string what, Filled blank, Scope scope, IReadOnlyList<string> known)
    {
        var name = (Token)blank.Value;
        if (!known.Contains(name.Text, StringComparer.OrdinalIgnoreCase))
        {
            return what == "diode type" && scope.Draft.RefuseDiode(name, known) ? null
                : scope.Draft.RefuseType<string>(name, what, known);
        }
        scope.Draft.UseType(name.Text);
        return name.Text;
    }

    private static string? OneOf(Slot slot, Token word, Scope scope)
    {
        if (slot.Choices.Contains(word.Text))
            return word.Text;
        scope.Diagnostics.UnknownType(word, slot.Name, slot.Choices);
        return null;
    }

    private static Addition Form(Setting setting) => new(setting.Name, [.. setting.Phrase.Skip(1).Select(PieceOf)]);

    private static Piece PieceOf(PhrasePiece piece)
    {
        if (piece is Keyword keyword)
            return new Word(keyword.Text);
        var slot = (Slot)piece;
        Piece blank = slot.Kind switch
        {
            SlotKind.Node => Blank.Node(slot.Name),
            SlotKind.Rail => new Blank(slot.Name, Shape.Name, "a rail"),
            SlotKind.Sensor => new Blank(slot.Name, Shape.Name, "a sensor"),
            SlotKind.PartName => new Blank(slot.Name, Shape.TypeName, "a diode type, such as 1N5817 or 3V6"),
            SlotKind.OpAmpName => new Blank(slot.Name, Shape.TypeName, "a class of op amp, such as bipolar-general"),
            SlotKind.LogicFamily => new Blank(slot.Name, Shape.TypeName, "a logic family, such as cmos-hc-hysteresis"),
            SlotKind.SeriesName => new Blank(slot.Name, Shape.TypeName, "a series of preferred numbers, such as E96"),
            SlotKind.ComparatorName => new Blank(slot.Name, Shape.TypeName, "a class of comparator, such as open-collector"),
            SlotKind.TransistorName => new Blank(slot.Name, Shape.TypeName, "a transistor type, such as 2N3904"),
            SlotKind.Choice => new Blank(slot.Name, Shape.TypeName, "one of " + string.Join(", ", slot.Choices)),
            SlotKind.Quantity => Blank.Of(slot.Name, slot.Unit ?? Unit.None),
            SlotKind.Percent => Blank.Percentage(slot.Name),
            SlotKind.Span => new Blank(slot.Name, Shape.Range, UnitWords.Describe(slot.Unit ?? Unit.None), slot.Unit),
            _ => new Blank(slot.Name, Shape.Value, "a whole number", Unit.None),
        };
        return slot.Optional ? new Maybe(blank) : blank;
    }

    /// <summary>A stage as it is written, by the phrases that it is read by.</summary>
    public static StatementText Write(StageKind kind, StageRequest request) =>
        new($"stage {request.Name} is {kind.Name}", [.. SettingLines(kind, request).Select(s => s.Value)]);

    /// <summary>The settings of a stage, each a line by its name, in the order of the kind.</summary>
    public static ImmutableArray<KeyValuePair<string, string>> SettingLines(StageKind kind, StageRequest request) =>
        [.. kind.Settings.Where(s => request.Has(s.Name)).Select(s => KeyValuePair.Create(s.Name, Line(s, request)))];

    private static string Line(Setting setting, StageRequest request)
    {
        var words = new List<string>();
        foreach (var piece in setting.Phrase)
        {
            if (piece is Keyword keyword)
                words.Add(keyword.Text);
            else if (piece is Slot slot && request.Values.TryGetValue($"{setting.Name}.{slot.Name}", out object? value))
                words.Add(Written(value));
        }
        return string.Join(' ', words);
    }

    private static string Written(object value) => value switch
    {
        Quantity q => ValueText.Of(q.Value, q.Unit.Symbol),
        Span s => ValueText.Of(s),
        double fraction => ValueText.Percent(fraction),
        int count => count.ToString(CultureInfo.InvariantCulture),
        _ => (string)value,
    };
}
