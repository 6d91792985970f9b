using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.FrontEnds.Studies.Compare;

/// <summary>
/// What a part does in its circuit, in the words of a person at the bench: as the stage that placed it says, else as its wiring shows.
/// </summary>
public static class PartRole
{
    /// <summary>"the feedback resistor of shift's first stage (Rf1)"; "R2" for a part outside of any stage whose role is not plain.</summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="part">A part of it.</param>
    public static string Of(FrontEnd frontEnd, Part part)
    {
        var stage = frontEnd.Stages.FirstOrDefault(s => s.Parts.Contains(part));
        var (role, input, amp) = Find(frontEnd, part);
        string? what = role is { } known ? Word(known, input, amp) : part.Amplifier is null || stage is null ? null : "op amp";
        amp ??= part.Amplifier is null || stage is null ? null : part;
        if (stage is null)
            return what is null || amp is null && role is Role.ResistorToGround or Role.InputResistor ? part.Name : $"the {what} {part.Name}" + (amp is null ? "" : $" of {amp.Name}");
        string name = part.Name.StartsWith(stage.Name + ".", StringComparison.Ordinal) ? part.Name[(stage.Name.Length + 1)..] : part.Name;
        var amps = stage.Parts.Where(p => p.Amplifier is not null).ToList();
        string where = amp is null || amps.Count < 2 ? stage.Name : $"{stage.Name}'s {Ordinal(amps.IndexOf(amp))} stage";
        return $"the {what ?? part.Word} of {where} ({name})";
    }

    /// <summary>"the reference VDD" for a rail that an offset is taken from or that a converter measures against; "rail VP" for another.</summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="rail">A rail of it.</param>
    public static string Of(FrontEnd frontEnd, Rail rail)
    {
        bool shifts = frontEnd.AllParts.Any(p => p.IsResistor && p.Nodes.Contains(rail.Name) && Find(frontEnd, p).Role == Role.ReferenceResistor);
        return shifts || frontEnd.Pins.Any(p => p.Converter?.Span.High.Rail == rail.Name) ? $"the reference {rail.Name}" : $"rail {rail.Name}";
    }

    /// <summary>What a part does; null where that is not plain. Beside it the amplifier that it belongs to, and the node of its input.</summary>
    internal static (Role? Role, string? Input, Part? Amplifier) Find(FrontEnd frontEnd, Part part)
    {
        bool IsSupply(string node) => frontEnd.Rails.Any(r => r.Name == node);
        if (part.IsResistor && AtAmplifier(frontEnd, part, IsSupply) is { } found)
            return found;
        if ((part.Role ?? part.RoleByWiring(IsSupply)) is { } role)
            return (role, null, null);
        if (!part.IsResistor)
            return (null, null, null);
        // Of a stage of the user's own, or of none.
        return (part.Nodes.Contains(Circuit.Ground) ? Role.ResistorToGround : part.Nodes.Any(IsSupply) ? Role.ReferenceResistor : Role.InputResistor, null, null);
    }

    private static (Role?, string?, Part?)? AtAmplifier(FrontEnd frontEnd, Part part, Func<string, bool> isSupply)
    {
        // The input that a resistor runs to decides: an op amp's output drives the next one's input resistor.
        foreach (var owner in frontEnd.AllParts)
        {
            if (owner.Amplifier is not { } amp)
                continue;
            if (amp.Minus != amp.Output && part.Nodes.Contains(amp.Minus) && part.Nodes.Contains(amp.Output))
                return (Role.FeedbackResistor, amp.Minus, owner);
            foreach (string input in new[] { amp.Minus, amp.Plus })
            {
                if (input == amp.Output || input == Circuit.Ground || !part.Nodes.Contains(input) || isSupply(input))
                    continue;
                string other = part.Nodes[0] == input ? part.Nodes[1] : part.Nodes[0];
                bool isAlone = input == amp.Plus && frontEnd.AllParts.All(p => p == part || p == owner || !p.Nodes.Contains(input));
                return (other == Circuit.Ground ? isAlone ? Role.CompensationResistor : Role.ResistorToGround
                    : isSupply(other) ? Role.ReferenceResistor : Role.InputResistor, input, owner);
            }
        }
        return null;
    }

    private static string Word(Role role, string? input, Part? amp) => role switch
    {
        Role.InputResistor => "input resistor",
        Role.FeedbackResistor => "feedback resistor",
        Role.ReferenceResistor => "reference resistor",
        Role.CompensationResistor => "compensation resistor",
        Role.ResistorToGround => amp is null ? "resistor to ground" : $"resistor from the {(input == amp.Amplifier!.Minus ? "minus" : "plus")} input to ground",
        Role.SeriesResistor => "series resistor",
        Role.PullDown => "pull-down",
        Role.Burden => "burden",
        Role.FilterResistor => "resistor",
        Role.UpperClamp => "upper clamp",
        Role.LowerClamp => "lower clamp",
        Role.Zener => "zener",
        _ => "led",
    };

    private static string Ordinal(int index) => index switch { 0 => "first", 1 => "second", 2 => "third", _ => $"{index + 1}th" };
}
