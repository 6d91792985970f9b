using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages;

namespace FrontEndSim.FrontEnds.Studies.Compare;

/// <summary>What a part does in its circuit, in the words of a person at the bench; found from how it is connected.</summary>
public static class PartRole
{
    /// <summary>"the feedback resistor of shift's first stage (Rf1)"; "R2" for a part outside of any stage whose role is not plain.</summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="part">A part of it.</param>
    public static string Of(FrontEnd frontEnd, Part part)
    {
        var stage = frontEnd.Stages.FirstOrDefault(s => s.Parts.Contains(part));
        var (what, amp) = Role(frontEnd, stage, part);
        if (stage is null)
            return what is null ? part.Name : $"the {what} {part.Name}" + (amp is null ? "" : $" of {amp.Name}");
        string name = part.Name.StartsWith(stage.Name + ".", StringComparison.Ordinal) ? part.Name[(stage.Name.Length + 1)..] : part.Name;
        var amps = stage.Parts.OfType<OpAmpPart>().ToList();
        string where = amp is null || amps.Count < 2 ? stage.Name : $"{stage.Name}'s {Ordinal(amps.IndexOf(amp))} stage";
        return $"the {what ?? part.Word} of {where} ({name})";
    }

    /// <summary>"the reference VDD" for a rail that an offset is taken from or that a converter measures against; "rail VP" for another.</summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="rail">A rail of it.</param>
    public static string Of(FrontEnd frontEnd, Rail rail)
    {
        bool shifts = frontEnd.AllParts.OfType<ResistorPart>().Any(r => r.Nodes.Contains(rail.Name) && Role(frontEnd, frontEnd.Stages.FirstOrDefault(s => s.Parts.Contains(r)), r).What == Reference);
        return shifts || frontEnd.Pins.Any(p => p.Converter?.Span.High.Rail == rail.Name) ? $"the reference {rail.Name}" : $"rail {rail.Name}";
    }

    /// <summary>Whether a resistor is a guard's pull-down.</summary>
    internal static bool IsPullDown(FrontEnd frontEnd, Part part) => InGuard(frontEnd, part) == PullDown;

    /// <summary>Whether a resistor is the one in series of a guard.</summary>
    internal static bool IsGuardSeries(FrontEnd frontEnd, Part part) => InGuard(frontEnd, part) == Series;

    private const string Reference = "reference resistor", Series = "series resistor", PullDown = "pull-down";

    private static string? InGuard(FrontEnd frontEnd, Part part) =>
        part is ResistorPart r ? InStage(frontEnd, frontEnd.Stages.FirstOrDefault(s => s.Parts.Contains(part)), r) : null;

    private static (string? What, OpAmpPart? Amp) Role(FrontEnd frontEnd, Stage? stage, Part part) => part switch
    {
        ResistorPart r => AtOpAmp(frontEnd, r) ?? (InStage(frontEnd, stage, r), null),
        OpAmpPart amp => (stage is null ? null : "op amp", stage is null ? null : amp),
        DiodePart { Type.Kind: DiodeKind.Zener } => ("zener", null),
        DiodePart d when stage is not null && d.From == Circuit.Ground => ("lower clamp", null),
        DiodePart d when stage is not null && frontEnd.Rails.Any(r => r.Name == d.To) => ("upper clamp", null),
        _ => (null, null),
    };

    private static (string?, OpAmpPart?)? AtOpAmp(FrontEnd frontEnd, ResistorPart r)
    {
        // The input that a resistor runs to decides: an op amp's output drives the next one's input resistor.
        foreach (var amp in frontEnd.AllParts.OfType<OpAmpPart>())
        {
            if (amp.Minus != amp.Output && Joins(r, amp.Minus, amp.Output))
                return ("feedback resistor", amp);
            foreach (string input in new[] { amp.Minus, amp.Plus })
            {
                if (input == amp.Output || input == Circuit.Ground || !r.Nodes.Contains(input) || frontEnd.Rails.Any(x => x.Name == input))
                    continue;
                string side = input == amp.Minus ? "minus" : "plus", other = r.From == input ? r.To : r.From;
                if (other == Circuit.Ground)
                    return (side == "plus" && frontEnd.AllParts.All(p => p == r || p == amp || !p.Nodes.Contains(input)) ? "compensation resistor" : $"resistor from the {side} input to ground", amp);
                return (frontEnd.Rails.Any(x => x.Name == other) ? Reference : "input resistor", amp);
            }
        }
        return null;
    }

    private static string? InStage(FrontEnd frontEnd, Stage? stage, ResistorPart r)
    {
        if (stage is null)
            return null;
        bool guards = stage.Kind.Contains("guard", StringComparison.Ordinal), loop = stage.Kind == "loop-receiver";
        return r.Nodes.Contains(Circuit.Ground) ? guards ? PullDown : loop ? "burden" : "resistor to ground"
            : r.Nodes.Any(n => frontEnd.Rails.Any(x => x.Name == n)) ? Reference
            : guards || loop ? Series : stage.Kind == "rc-filter" ? "resistor" : "input resistor";
    }

    private static bool Joins(Part part, string one, string other) => part.Nodes.Contains(one) && part.Nodes.Contains(other);

    private static string Ordinal(int index) => index switch { 0 => "first", 1 => "second", 2 => "third", _ => $"{index + 1}th" };
}
