namespace FrontEndSim.Language.Forms;

/// <summary>A line below a statement.</summary>
/// <param name="Tokens">Its tokens, at least one.</param>
/// <param name="Phrase">What they say; null as long as it is not known which settings there are (those of a stage).</param>
internal sealed record SettingSyntax(ImmutableArray<Token> Tokens, PhraseSyntax? Phrase)
{
    public string Name => Tokens[0].Text;

    public SourceSpan Span => Tokens[0].Span.To(Tokens[^1].Span);

    /// <summary>Reads a setting by the additions that its owner allows; complains and gives null if it is none of them.</summary>
    /// <param name="owner">Whose setting it is, in the user's words: "a rail".</param>
    /// <param name="allowed">What may stand there.</param>
    /// <param name="tokens">The line, at least one token.</param>
    /// <param name="diagnostics">Where complaints go.</param>
    /// <param name="isStatement">Whether its first word begins a statement.</param>
    public static SettingSyntax? Read(string owner, IReadOnlyCollection<Addition> allowed,
        ImmutableArray<Token> tokens, DiagnosticList diagnostics,
        bool isStatement = false)
    {
        var first = tokens[0];
        if (allowed.FirstOrDefault(f => f.Name == first.Text) is { } addition)
            return PhraseSyntax.Read(addition, tokens, diagnostics) is { } phrase ? new SettingSyntax(tokens, phrase) : null;
        string? outwards = isStatement ? "if it is a statement, start it at the left edge" : null;
        if (allowed.Count == 0)
            diagnostics.Error(first.Span, DiagnosticCode.NoSuchSetting, $"There are no settings below {owner}.", null, outwards
                ?? "write all of it on one line");
        else
        {
            diagnostics.Error(first.Span, DiagnosticCode.NoSuchSetting, $"{first} is no setting of {owner}.", allowed.Count > 8
                ? "one of " + string.Join(", ", allowed.Select(f => f.Name)) : "one of: " + string.Join("; ", allowed),
                Nearest.Question(first.Text, allowed.Select(f => f.Name)) ?? Meant(first.Text, allowed) ?? outwards);
        }
        return null;
    }

    // Words of the trade that a line may try, and the settings that say it.
    private static readonly (string[] Words, string[] Settings)[] OtherWords =
    [
        (["capacitor", "cap", "filter"], ["shunt", "feedback-capacitor"]),
        (["resistor", "protection"], ["series"]),
        (["pull-down", "pull-up", "rpd"], ["pulldown"]),
        (["clamp", "clamps", "diode", "diodes"], ["schottky", "zener"]),
        (["range", "input", "swing"], ["span"]),
        (["output", "onto", "scale"], ["maps", "gives"]),
        (["bits", "adc", "resolution", "reference"], ["converts"]),
        (["limits", "limit", "max", "maximum", "absolute-maximum", "power", "voltage", "withstands"], ["rated"]),
        (["impedance", "resistance", "rs"], ["source"]),
        (["temperature", "tempco"], ["drift"]),
        (["current", "supplies"], ["load"]),
    ];

    private static string? Meant(string word, IReadOnlyCollection<Addition> allowed) =>
        OtherWords.Where(o => o.Words.Contains(word, StringComparer.OrdinalIgnoreCase)).SelectMany(o => o.Settings)
            .Select(s => allowed.FirstOrDefault(a => a.Name == s)).FirstOrDefault(a => a is not null) is { } meant
                ? $"the form {meant}" : null;

    /// <summary>Complains of settings that are given twice, be it once in the statement's own line; false after a complaint.</summary>
    public static bool RefuseTwins(PhraseSyntax? head, IEnumerable<SettingSyntax> settings,
        IReadOnlyCollection<Addition> allowed, DiagnosticList diagnostics)
    {
        var seen = new HashSet<string>();
        bool isRight = true;
        foreach (var setting in settings)
        {
            bool isNew = seen.Add(setting.Name) && head?[setting.Name] is null;
            if (isNew || allowed.FirstOrDefault(f => f.Name == setting.Name) is not { MayRepeat: false })
                continue;
            diagnostics.Error(setting.Span, DiagnosticCode.SettingTwice, $"'{setting.Name}' is given twice.", null, "keep one of the two");
            isRight = false;
        }
        return isRight;
    }
}
