using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.Language.Binding.Scopes;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary>A disturbance in words: how it is read, and how it is written.</summary>
/// <param name="Form">Its form.</param>
internal abstract record DisturbanceWords(Addition Form)
{
    /// <summary>
    /// The disturbance of a statement in that form; null after a complaint. It may throw <see cref="ArgumentException"/> with a sentence
    /// for the user, as the disturbances themselves do.
    /// </summary>
    public abstract Disturbance? Make(StatementSyntax statement, Scope scope);

    /// <summary>The words that are read as this disturbance; null where it is of another kind.</summary>
    public abstract string? Write(Disturbance disturbance);
}

/// <summary>A kind of disturbance in words.</summary>
internal sealed record DisturbanceWords<T>(Addition Form, Func<StatementSyntax, Scope, T?> Read, Func<T, string> Words)
    : DisturbanceWords(Form)
    where T : Disturbance
{
    public override Disturbance? Make(StatementSyntax statement, Scope scope) => Read(statement, scope);

    public override string? Write(Disturbance disturbance) => disturbance is T known ? Words(known) : null;
}
