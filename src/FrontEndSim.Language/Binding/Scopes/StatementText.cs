namespace FrontEndSim.Language.Binding.Scopes;

/// <summary>A statement as it is written: its line, and the settings that stand below it, one a line without indentation.</summary>
/// <param name="Line">Its line.</param>
/// <param name="Settings">What stands below it; may be empty.</param>
internal sealed record StatementText(string Line, params IReadOnlyList<string> Settings)
{
    /// <summary>What stands in a line, or nothing: for settings that may be left out.</summary>
    public static string[] If(bool isSaid, Func<string> words) => isSaid ? [words()] : [];

    /// <summary>What stands in a line where there is a value.</summary>
    public static string[] If<T>(T? value, Func<T, string> words) where T : struct => value is { } v ? [words(v)] : [];
}
