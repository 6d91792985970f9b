namespace FrontEndSim.Language.Text;

/// <summary>How grave a diagnostic is.</summary>
public enum Severity
{
    /// <summary>The file is understood, but something in it is probably not meant.</summary>
    Warning,

    /// <summary>The file cannot be used.</summary>
    Error,
}

/// <summary>One thing that is wrong with a text: where, what, what was expected, and what may have been meant.</summary>
/// <param name="Severity">How grave it is.</param>
/// <param name="Code">A stable code, one of <see cref="DiagnosticCode.All"/>, for scripts and for looking up.</param>
/// <param name="File">Path of the file.</param>
/// <param name="Line">Line, from 1; 0 when the whole file is meant.</param>
/// <param name="Column">Column, from 1; 0 when the whole file is meant.</param>
/// <param name="Length">How many characters are meant; 0 when the whole file is.</param>
/// <param name="Message">A sentence in the user's words.</param>
public sealed record Diagnostic(Severity Severity, string Code, string File, int Line, int Column, int Length, string Message)
{
    /// <summary>What would have been right there, or null.</summary>
    public string? Expected { get; init; }

    /// <summary>What the user may have meant or may try, or null.</summary>
    public string? Suggestion { get; init; }

    /// <summary>The line of source it points into, or null when the whole file is meant.</summary>
    public string? SourceLine { get; init; }

    /// <summary>Whether it is an error.</summary>
    public bool IsError => Severity == Severity.Error;

    /// <summary>A diagnostic at a place in a text.</summary>
    public static Diagnostic At(SourceSpan span, Severity severity, DiagnosticCode code, string message, string? expected = null,
        string? suggestion = null) =>
        new(severity, code.Text, span.File.Path, span.Line, span.Column, span.Length, message)
        {
            Expected = expected,
            Suggestion = suggestion,
            SourceLine = span.File.Line(span.Line),
        };

    /// <summary>A diagnostic of a whole file.</summary>
    public static Diagnostic Of(string path, Severity severity, DiagnosticCode code, string message) =>
        new(severity, code.Text, path, 0, 0, 0, message);

    /// <summary>The first line that <see cref="DiagnosticPrinter"/> prints: place, severity, message.</summary>
    public override string ToString() =>
        Line > 0 ? $"{File}({Line},{Column}): {Word} {Code}: {Message}" : $"{File}: {Word} {Code}: {Message}";

    private string Word => IsError ? "error" : "warning";
}
