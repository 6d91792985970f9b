using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.Language.Binding.Scopes;
using FrontEndSim.Language.Forms;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary>How a kind of part is described from its data sheet.</summary>
/// <param name="Kind">The word after <c>is</c>.</param>
/// <param name="Settings">What may be said of it.</param>
/// <param name="Into">The scope's catalogue with the type described, or null after a complaint; throws where its numbers contradict each
/// other.</param>
internal sealed record SheetWords(string Kind, ImmutableArray<Addition> Settings, Func<StatementSyntax, Scope, PartCatalogue?> Into);

/// <summary>Reads the numbers of a data sheet, and keeps whether all that are there could be read.</summary>
internal sealed class SheetReader(StatementSyntax statement, Scope scope)
{
    /// <summary>Where the numbers come from.</summary>
    public static Addition Sheet { get; } = new("sheet", new Blank("source", Shape.Text, "where the numbers come from, in double quotes"));

    /// <summary>Whether every number that is given could be read.</summary>
    public bool IsComplete { get; private set; } = true;

    public string Name => statement.Token("name").Text;

    public string Source => statement.Has("source") ? statement.Token("source").Text : "given in the circuit file";

    /// <summary>A number above zero; null if it is not given or after a complaint.</summary>
    public double? Positive(string blank) => Checked(statement[blank], scope.Positive);

    /// <summary>The same in one line of several.</summary>
    public double? Positive(PhraseSyntax line, string blank) => Checked(line[blank], scope.Positive);

    /// <summary>A number of zero or more; null if it is not given or after a complaint.</summary>
    public double? NotNegative(string blank) => Checked(statement[blank], scope.NotNegative);

    /// <summary>Any number; null if it is not given or after a complaint.</summary>
    public double? Number(string blank) => Checked(statement[blank], scope.Number);

    /// <summary>A percentage, as a fraction; null if it is not given or after a complaint.</summary>
    public double? Fraction(string blank) => Checked(statement[blank], scope.Fraction);

    /// <summary>A range; null if it is not given or after a complaint.</summary>
    public Span? Span(string blank)
    {
        var span = scope.Span(statement[blank]);
        IsComplete &= span is not null || statement[blank] is null;
        return span;
    }

    /// <summary>What each line of a setting says.</summary>
    public ImmutableArray<T> Each<T>(string setting, Func<PhraseSyntax, T> read) =>
        [.. statement.Settings.Where(s => s.Name == setting).Select(s => read(s.Phrase!))];

    /// <summary>Complains if a setting is not there; null then.</summary>
    public StatementSyntax? Required(string setting, string what)
    {
        if (statement.Settings.Any(s => s.Name == setting))
            return statement;
        if (!statement.HasUnread)
            scope.Diagnostics.Error(statement.Span, DiagnosticCode.SettingMissing, $"{Name} needs {what}.");
        IsComplete = false;
        return null;
    }

    private double? Checked(Filled? filled, Func<Filled?, double?> read)
    {
        double? value = read(filled);
        IsComplete &= value is not null || filled is null;
        return value;
    }
}
