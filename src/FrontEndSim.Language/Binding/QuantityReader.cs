using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.Language.Binding.Scopes;
using FrontEndSim.Language.Binding.Statements;
using FrontEndSim.Language.Syntax;

namespace FrontEndSim.Language.Binding;

/// <summary>Reads a single quantity as the language writes it, for command-line options and the like.</summary>
public static class QuantityReader
{
    /// <summary>Reads a quantity or an expression of quantities (<c>-1.2 V</c>, <c>4k7</c>, <c>3.3 V / 2</c>) in an expected
    /// unit.</summary>
    /// <param name="text">The text.</param>
    /// <param name="unit">The unit that it must have.</param>
    /// <param name="what">What the text is, for diagnostics: the option's name.</param>
    /// <returns>The value in SI units (°C for temperatures, a fraction for a percentage), or null and what is wrong.</returns>
    public static (double? Value, Diagnostic? Problem) Read(string text, Unit unit, string what = "value")
    {
        var diagnostics = new DiagnosticList();
        double? value = Read(text, Blank.Of("value", unit), what, diagnostics) is { } phrase
            ? Scope(what, diagnostics).Number(phrase["value"]) : null;
        return (diagnostics.HasErrors ? null : value, diagnostics.InOrder().FirstOrDefault());
    }

    /// <summary>Reads a range such as <c>-1.2 V .. 1.8 V</c> in an expected unit.</summary>
    /// <param name="text">The text.</param>
    /// <param name="unit">The unit that both ends must have.</param>
    /// <param name="what">What the text is, for diagnostics: the option's name.</param>
    /// <returns>The range in SI units, or null and what is wrong.</returns>
    public static (Span? Span, Diagnostic? Problem) ReadSpan(string text, Unit unit, string what = "range")
    {
        var diagnostics = new DiagnosticList();
        var span = Read(text, new Blank("range", Shape.Range, UnitWords.Describe(unit), unit), what, diagnostics) is { } phrase
            ? Scope(what, diagnostics).Span(phrase["range"]) : null;
        return (diagnostics.HasErrors ? null : span, diagnostics.InOrder().FirstOrDefault());
    }

    /// <summary>Reads a value in a sensor's own unit, such as <c>20 C</c> or <c>1500 mm</c>.</summary>
    /// <param name="text">The text.</param>
    /// <param name="unit">Symbol of the sensor's unit.</param>
    /// <param name="what">What the text is, for diagnostics: the option's name.</param>
    /// <returns>The value in that unit, or null and what is wrong.</returns>
    public static (double? Value, Diagnostic? Problem) ReadMeasured(string text, string unit, string what = "value")
    {
        var diagnostics = new DiagnosticList();
        double? value = Read(text, new Blank("value", Shape.Measured, $"a value in {unit}"), what, diagnostics) is { } phrase
            ? Scope(what, diagnostics).Measured(phrase["value"], unit) : null;
        return (diagnostics.HasErrors ? null : value, diagnostics.InOrder().FirstOrDefault());
    }

    /// <summary>Reads what happens in an event, as it stands behind the event's node: <c>surge 1.2/50 peak 500 V source 42
    /// ohm</c>.</summary>
    /// <param name="text">The text.</param>
    /// <param name="what">What the text is, for diagnostics: the option's name.</param>
    /// <returns>What happens, or null and what is wrong.</returns>
    public static (Disturbance? Disturbance, Diagnostic? Problem) ReadDisturbance(string text, string what = "event")
    {
        var diagnostics = new DiagnosticList();
        Disturbance? disturbance = null;
        if (Read(text, new OneOf([.. Disturbances.All.Select(d => (Piece)d.Form)]), what, diagnostics) is { } phrase)
        {
            var statement = new StatementSyntax(new EventStatement(), phrase, [], []);
            try
            {
                disturbance = Disturbances.All.First(d => statement.Has(d.Form.Name)).Make(statement, Scope(what, diagnostics));
            }
            catch (ArgumentException e)
            {
                diagnostics.Error(phrase.Span, DiagnosticCode.ImpossibleDisturbance, e.Message);
            }
        }
        return (diagnostics.HasErrors ? null : disturbance, diagnostics.InOrder().FirstOrDefault());
    }

    private static PhraseSyntax? Read(string text, Piece form, string what, DiagnosticList diagnostics)
    {
        var lines = LineTree.Read(new SourceFile(what, text.Trim()), diagnostics);
        if (lines.Count == 1 && lines[0].Below.Count == 0 && !lines[0].IsBroken)
            return PhraseSyntax.Read(form, lines[0].Tokens, diagnostics);
        if (!diagnostics.HasErrors)
            diagnostics.Error(new SourceSpan(new SourceFile(what, text), 1, 1, 1), DiagnosticCode.OneValueNeeded,
                "One value is needed here.", form is Blank blank ? blank.What : null);
        return null;
    }

    private static Scope Scope(string what, DiagnosticList diagnostics) =>
        new(new FrontEndBuilder(diagnostics, new SourceFile(what, ""), []));
}
