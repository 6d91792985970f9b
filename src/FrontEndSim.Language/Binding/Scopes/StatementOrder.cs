namespace FrontEndSim.Language.Binding.Scopes;

/// <summary>Binds statements in a scope: first all names, then turn by turn, so that the order of lines does not matter.</summary>
internal static class StatementOrder
{
    public static void Bind(IReadOnlyCollection<StatementSyntax> statements, Scope scope)
    {
        if (statements.Count > 0 && !scope.Builder.AdmitStatements(statements))
            return;
        foreach (var statement in statements)
            KindOf(statement).Declare(statement, scope);
        foreach (var turn in Enum.GetValues<Turn>())
        {
            foreach (var statement in statements.Where(s => KindOf(s).Turn == turn))
                KindOf(statement).Bind(statement, scope);
        }
    }

    // Every form that a file is read by is the form of a kind of statement.
    private static StatementKind KindOf(StatementSyntax statement) => (StatementKind)statement.Form;
}
