namespace FrontEndSim.Language;

/// <summary>Binds statements in a scope: first all names, then turn by turn, so that the order of lines does not matter.</summary>
internal static class Statements
{
    public static void Bind(IReadOnlyCollection<StatementSyntax> statements, Scope scope)
    {
        foreach (var statement in statements)
            statement.Kind.Declare(statement, scope);
        foreach (var turn in Enum.GetValues<Turn>())
        {
            foreach (var statement in statements.Where(s => s.Kind.Turn == turn))
                statement.Kind.Bind(statement, scope);
        }
    }
}
