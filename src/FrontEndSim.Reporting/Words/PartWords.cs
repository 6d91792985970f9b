using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Studies.Compare;

namespace FrontEndSim.Reporting.Words;

/// <summary>What a part does in its circuit, in the words of a person at the bench.</summary>
public static class PartWords
{
    /// <summary>"the feedback resistor of shift's first stage (Rf1)"; "R2" for a part outside of any stage whose role is not
    /// plain.</summary>
    public static string Of(PartRole part)
    {
        string? what = part.Role is { } role ? Of(role, part) : part.IsAmplifier && part.Stage is not null ? "op amp" : null;
        if (part.Stage is not { } stage)
        {
            return what is null || part is { Amplifier: null, Role: Role.ResistorToGround or Role.InputResistor } ? part.Part
                : $"the {what} {part.Part}" + (part.Amplifier is null ? "" : $" of {part.Amplifier}");
        }
        string name = part.Part.StartsWith(stage + ".", StringComparison.Ordinal) ? part.Part[(stage.Length + 1)..] : part.Part;
        return $"the {what ?? part.Word} of {(part.Place is { } place ? $"{stage}'s {Ordinal(place)} stage" : stage)} ({name})";
    }

    private static string Of(Role role, PartRole part) => role switch
    {
        Role.InputResistor => "input resistor",
        Role.FeedbackResistor => "feedback resistor",
        Role.ReferenceResistor => "reference resistor",
        Role.CompensationResistor => "compensation resistor",
        Role.ResistorToGround => part.Amplifier is null ? "resistor to ground"
            : $"resistor from the {(part.IsAtMinus ? "minus" : "plus")} input to ground",
        Role.SeriesResistor => "series resistor",
        Role.PullDown => "pull-down",
        Role.Burden => "burden",
        Role.FilterResistor => "resistor",
        Role.UpperClamp => "upper clamp",
        Role.LowerClamp => "lower clamp",
        Role.Zener => "zener",
        Role.Rectifier => "rectifier",
        _ => "led",
    };

    private static string Ordinal(int index) => index switch { 0 => "first", 1 => "second", 2 => "third", _ => $"{index + 1}th" };
}
