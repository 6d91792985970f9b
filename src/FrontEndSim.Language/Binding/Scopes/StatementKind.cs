using FrontEndSim.FrontEnds.Model;

namespace FrontEndSim.Language.Binding.Scopes;

/// <summary>When a statement is bound: later ones look at what earlier ones have made, whatever the order of the file.</summary>
internal enum Turn
{
    /// <summary>Needs only names and values.</summary>
    First,

    /// <summary>Looks at rails and sensors.</summary>
    Second,

    /// <summary>Looks at pins and what leads to them.</summary>
    Combining,

    /// <summary>Looks at stages, pins, readings and events.</summary>
    Last,
}

/// <summary>
/// A kind of statement: a form, and what it adds to a front end.
/// A new statement is a new class in a file of its own and a line in the list of statements.
/// </summary>
internal abstract class StatementKind : StatementForm
{
    /// <summary>When it is bound.</summary>
    public virtual Turn Turn => Turn.First;

    /// <summary>Makes its names known, before any statement is bound.</summary>
    public virtual void Declare(StatementSyntax statement, Scope scope)
    {
    }

    /// <summary>Adds what it says to the front end.</summary>
    public abstract void Bind(StatementSyntax statement, Scope scope);

    /// <summary>The statements of this kind that say what a front end holds: the inverse of reading them.</summary>
    public virtual IEnumerable<StatementText> Write(FrontEnd frontEnd) => [];
}
