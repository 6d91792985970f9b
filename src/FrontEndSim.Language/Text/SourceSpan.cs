namespace FrontEndSim.Language.Text;

/// <summary>A stretch of one line of a file.</summary>
/// <param name="File">The file.</param>
/// <param name="Line">Line, from 1.</param>
/// <param name="Column">First character, from 1, in UTF-16 units; a tab counts as one.</param>
/// <param name="Length">How many characters; at least 1, and at the end of a line it may lie just after the last character.</param>
public readonly record struct SourceSpan(SourceFile File, int Line, int Column, int Length)
{
    /// <summary>The stretch from the start of this one to the end of a later one on the same line.</summary>
    public SourceSpan To(SourceSpan end) => this with { Length = Math.Max(Length, end.Column + end.Length - Column) };

    /// <summary>The characters that stand there.</summary>
    public string Text => File.Lines[Line - 1].Substring(Column - 1, Length);

    /// <inheritdoc/>
    public override string ToString() => $"{File?.Path}({Line},{Column})";
}
