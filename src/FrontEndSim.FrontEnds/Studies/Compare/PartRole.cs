using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.FrontEnds.Studies.Compare;

/// <summary>What a part does in its circuit: as the stage that placed it says, else as its wiring shows.</summary>
/// <param name="Part">Name of the part.</param>
/// <param name="Word">What a person calls it: "resistor".</param>
/// <param name="Role">What it does; null where that is not plain.</param>
/// <param name="Stage">Name of its stage; null for a part outside of any.</param>
public sealed record PartRole(string Part, string Word, Role? Role, string? Stage)
{
    /// <summary>Name of the amplifier that it belongs to, or that it is; null for none.</summary>
    public string? Amplifier { get; init; }

    /// <summary>Whether it is that amplifier itself.</summary>
    public bool IsAmplifier => Amplifier == Part;

    /// <summary>Whether it is connected to that amplifier's minus input.</summary>
    public bool IsAtMinus { get; init; }

    /// <summary>Which of its stage's amplifiers that is, from 0; null where the stage has one or none.</summary>
    public int? Place { get; init; }

    /// <summary>What a part does.</summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="part">A part of it.</param>
    public static PartRole Of(FrontEnd frontEnd, Part part) => Of(frontEnd, part, Amplifiers(frontEnd));

    /// <summary>What each part of a front end does, in its order.</summary>
    /// <param name="frontEnd">The front end.</param>
    internal static IEnumerable<(Part Part, PartRole Role)> Of(FrontEnd frontEnd)
    {
        Part[] amplifiers = Amplifiers(frontEnd);
        return frontEnd.AllParts.Select(p => (p, Of(frontEnd, p, amplifiers)));
    }

    private static Part[] Amplifiers(FrontEnd frontEnd) => [.. frontEnd.AllParts.Where(p => p.Amplifier is not null)];

    private static PartRole Of(FrontEnd frontEnd, Part part, Part[] amplifiers)
    {
        var stage = frontEnd.Stages.FirstOrDefault(s => s.Parts.Contains(part));
        var (role, input, amp) = Find(frontEnd, part, amplifiers);
        amp ??= part.Amplifier is null || stage is null ? null : part;
        var amps = stage?.Parts.Where(p => p.Amplifier is not null).ToList() ?? [];
        return new(part.Name, part.Word, role, stage?.Name)
        {
            Amplifier = amp?.Name,
            IsAtMinus = amp?.Amplifier is { } ports && input == ports.Minus,
            Place = amp is null || amps.Count < 2 ? null : amps.IndexOf(amp),
        };
    }

    /// <summary>Whether an offset is taken from a rail, or a converter measures against it.</summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="rail">A rail of it.</param>
    public static bool IsReference(FrontEnd frontEnd, Rail rail) =>
        frontEnd.AllParts.Any(p => p.IsResistor && p.Nodes.Contains(rail.Name) && Find(frontEnd, p).Role == Parts.Role.ReferenceResistor)
            || frontEnd.Pins.Any(p => p.Converter?.Span.High.Rail == rail.Name);

    /// <summary>What a part does; null where that is not plain. Beside it the amplifier that it belongs to, and the node of its
    /// input.</summary>
    internal static (Role? Role, string? Input, Part? Amplifier) Find(FrontEnd frontEnd, Part part) =>
        Find(frontEnd, part, Amplifiers(frontEnd));

    private static (Role? Role, string? Input, Part? Amplifier) Find(FrontEnd frontEnd, Part part, Part[] amplifiers)
    {
        bool IsSupply(string node) => frontEnd.Rails.Any(r => r.Name == node);
        if (part.IsResistor && AtAmplifier(frontEnd, part, amplifiers, IsSupply) is { } found)
            return found;
        if ((part.Role ?? part.RoleByWiring(IsSupply)) is { } role)
            return (role, null, null);
        if (!part.IsResistor)
            return (null, null, null);
        // Of a stage of the user's own, or of none.
        return (part.Nodes.Contains(Circuit.Ground) ? Parts.Role.ResistorToGround : part.Nodes.Any(IsSupply)
            ? Parts.Role.ReferenceResistor : Parts.Role.InputResistor, null, null);
    }

    private static (Role?, string?, Part?)? AtAmplifier(FrontEnd frontEnd, Part part, Part[] amplifiers, Func<string, bool> isSupply)
    {
        // The input that a resistor runs to decides: an op amp's output drives the next one's input resistor.
        foreach (var owner in amplifiers)
        {
            var amp = owner.Amplifier!;
            if (amp.Minus != amp.Output && part.Nodes.Contains(amp.Minus) && part.Nodes.Contains(amp.Output))
                return (Parts.Role.FeedbackResistor, amp.Minus, owner);
            foreach (string input in new[] { amp.Minus, amp.Plus })
            {
                if (input == amp.Output || input == Circuit.Ground || !part.Nodes.Contains(input) || isSupply(input))
                    continue;
                string other = part.Nodes[0] == input ? part.Nodes[1] : part.Nodes[0];
                bool isAlone = input == amp.Plus && frontEnd.AllParts.All(p => p == part || p == owner || !p.Nodes.Contains(input));
                return (other == Circuit.Ground ? isAlone ? Parts.Role.CompensationResistor : Parts.Role.ResistorToGround
                    : isSupply(other) ? Parts.Role.ReferenceResistor : Parts.Role.InputResistor, input, owner);
            }
        }
        return null;
    }
}
