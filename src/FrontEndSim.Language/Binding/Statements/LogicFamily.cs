using FrontEndSim.FrontEnds.Pins;
using FrontEndSim.Language.Binding.Scopes;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary>The types of pin that have a gate.</summary>
internal static class LogicFamily
{
    /// <summary>Their names.</summary>
    public static IReadOnlyList<string> Names { get; } = [.. PinType.All.Where(t => t.Gate is not null).Select(t => t.Name)];

    /// <summary>The family of that name, or null after a complaint.</summary>
    public static PinType? Of(Token name, Scope scope)
    {
        if (PinType.Find(name.Text) is { Gate: not null } type)
            return type;
        scope.Diagnostics.UnknownType(name, "logic family", Names);
        return null;
    }
}
