using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.Language.Binding.Statements;

namespace FrontEndSim.Language.Writing;

/// <summary>A stage as it is written in a circuit file: the inverse of reading it, by the same phrases.</summary>
/// <param name="Head">Its first line.</param>
/// <param name="Settings">Its settings by name, each a line without indentation, in the order of the kind.</param>
public sealed record StageText(string Head, ImmutableArray<KeyValuePair<string, string>> Settings)
{
    /// <summary>Writes a stage.</summary>
    /// <param name="request">What is asked of it.</param>
    public static StageText Of(StageRequest request) => new(ShippedStage.Write(request).Line, ShippedStage.SettingLines(request));

    /// <summary>All its lines, the settings indented by four blanks.</summary>
    public IEnumerable<string> Lines => [Head, .. Settings.Select(s => "    " + s.Value)];
}
