namespace FrontEndSim.Language.Text;

/// <summary>Collects diagnostics while a text is read; stops collecting after a hundred.</summary>
internal sealed class DiagnosticList
{
    /// <summary>So many at most are kept: a wrong file should not print a page for each line.</summary>
    public const int Most = 100;

    private readonly List<Diagnostic> _all = [];

    public bool IsFull => _all.Count >= Most;

    public bool HasErrors { get; private set; }

    public void Error(SourceSpan span, DiagnosticCode code, string message, string? expected = null, string? suggestion = null) =>
        Add(Diagnostic.At(span, Severity.Error, code, message, expected, suggestion));

    public void Warn(SourceSpan span, DiagnosticCode code, string message, string? suggestion = null) =>
        Add(Diagnostic.At(span, Severity.Warning, code, message, null, suggestion));

    /// <summary>A pin without a converter, of which codes or counts are spoken.</summary>
    /// <param name="at">Where.</param>
    /// <param name="pin">Its name.</param>
    /// <param name="so">What follows: "it has no counts".</param>
    /// <param name="expected">What would be right there.</param>
    public void DoesNotConvert(SourceSpan at, string pin, string so,
        string expected = "converts BITS bits over LOW .. HIGH below the pin") =>
        Error(at, DiagnosticCode.PinWithoutConverter, $"Pin {pin} does not convert, so {so}.", expected);

    /// <summary>A pin that no sensor reaches, of which what it reads is spoken.</summary>
    /// <param name="at">Where.</param>
    /// <param name="pin">Its name.</param>
    /// <param name="so">What follows: "its code says nothing".</param>
    public void NoSensorReaches(SourceSpan at, string pin, string so) =>
        Error(at, DiagnosticCode.NoSensorAtPin, $"No sensor reaches pin {pin}, so {so}.");

    /// <summary>A type that is in no catalogue.</summary>
    public void UnknownType(Token type, string what, IReadOnlyList<string> known) =>
        Error(type.Span, DiagnosticCode.UnknownType, $"There is no {what} {type.Text}.",
            known.Count == 0 ? $"a type of your own: part {type.Text} is {what}, with its numbers below it"
                : "one of " + string.Join(", ", known.Take(16)) + (known.Count > 16 ? ", …" : ""),
            NearestVoltage(type.Text, known) ?? Nearest.Question(type.Text, known));

    /// <summary>An event that is not there.</summary>
    public void UnknownEvent(Token name, IReadOnlyCollection<string> known) =>
        Error(name.Span, DiagnosticCode.UnknownName, $"There is no event named \"{name.Text}\".",
            known.Count == 0 ? null : "one of " + string.Join(", ", known), Nearest.Question(name.Text, known));

    /// <summary>For a type named by a voltage, the known voltage nearest to it: 3V6 for 3.6V or 3V7.</summary>
    private static string? NearestVoltage(string type, IReadOnlyList<string> known)
    {
        static double? Volts(string name) => ValueCode.Read(name) is { } q && q.Unit == Unit.Volts ? q.Value : null;
        if (Volts(type) is not { } wanted)
            return null;
        string? near = known.Where(k => Volts(k) is not null).MinBy(k => Math.Abs(Volts(k)!.Value - wanted));
        return near is null ? null : $"the nearest is {near}";
    }

    public void Add(Diagnostic diagnostic)
    {
        HasErrors |= diagnostic.IsError;
        if (!IsFull)
            _all.Add(diagnostic);
        else if (diagnostic.IsError && _all.FindLastIndex(d => !d.IsError) is >= 0 and var warning)
            _all[warning] = diagnostic;
    }

    public void AddRange(IEnumerable<Diagnostic> diagnostics)
    {
        foreach (var diagnostic in diagnostics)
            Add(diagnostic);
    }

    /// <summary>In the order of the files' first mention, then of lines; each said once.</summary>
    public ImmutableArray<Diagnostic> InOrder()
    {
        var files = _all.Select(d => d.File).Distinct().ToList();
        return [.. _all.Distinct().OrderBy(d => files.IndexOf(d.File)).ThenBy(d => d.Line).ThenBy(d => d.Column)];
    }
}
