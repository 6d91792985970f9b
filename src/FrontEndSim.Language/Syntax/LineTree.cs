namespace FrontEndSim.Language.Syntax;

/// <summary>A line with the lines indented below it.</summary>
internal sealed class LineNode(ImmutableArray<Token> tokens, int indent)
{
    public ImmutableArray<Token> Tokens { get; } = tokens;

    /// <summary>Its indentation in columns; a tab goes on to the next multiple of four.</summary>
    public int Indent { get; } = indent;

    /// <summary>A line that could not be cut into tokens: it is passed over together with the lines below it.</summary>
    public bool IsBroken => Tokens.IsEmpty;

    public List<LineNode> Below { get; } = [];
}

/// <summary>Puts the lines of a file into the order of their indentation.</summary>
internal static class LineTree
{
    /// <summary>So deep at most are lines indented below each other.</summary>
    private const int Deepest = 8;

    private const int LongestLine = 2000;

    private const int DeepestNesting = 32;

    /// <summary>The lines that stand at the left edge.</summary>
    public static List<LineNode> Read(SourceFile file, DiagnosticList diagnostics)
    {
        var root = new LineNode([], -1);
        var open = new Stack<LineNode>([root]);
        for (int number = 1; number <= file.Lines.Length && !diagnostics.IsFull; number++)
        {
            string line = file.Line(number);
            if (line.Length > LongestLine)
            {
                diagnostics.Error(new(file, number, 1, 1), DiagnosticCode.LineTooLong,
                    $"The line is {line.Length} characters long; at most {LongestLine} are read.");
                continue;
            }
            var tokens = Lexer.Read(file, number, diagnostics);
            if (tokens is { IsEmpty: true })
                continue;
            int indent = IndentOf(line);
            while (open.Peek().Indent >= indent)
                open.Pop();
            var above = open.Peek();
            var place = tokens is { } some ? some[0].Span : new SourceSpan(file, number, 1, 1);
            if (above == root && indent > 0)
                diagnostics.Error(place, DiagnosticCode.IndentedWithoutOwner,
                    "This line is indented, but there is no statement above it that it could belong to.",
                    null, "start it at the left edge");
            else if (above.Below.Count > 0 && above.Below[0].Indent != indent && !above.IsBroken)
                diagnostics.Error(place, DiagnosticCode.UnequalIndent,
                    $"This line is indented by {indent} columns, but its neighbours by {above.Below[0].Indent}.",
                    null, "indent the lines of one statement alike");
            else if (open.Count > Deepest)
                diagnostics.Error(place, DiagnosticCode.IndentedTooDeep, $"The lines are indented more than {Deepest} deep.");
            bool nested = tokens is { } read && IsNestedTooDeep(read, diagnostics);
            var node = new LineNode(nested ? [] : tokens ?? [], indent);
            above.Below.Add(node);
            open.Push(node);
        }
        return root.Below;
    }

    private static int IndentOf(string line)
    {
        int indent = 0;
        foreach (char c in line)
        {
            if (c == '\t')
                indent = (indent / 4 + 1) * 4;
            else if (char.IsWhiteSpace(c))
                indent++;
            else
                break;
        }
        return indent;
    }

    private static bool IsNestedTooDeep(ImmutableArray<Token> tokens, DiagnosticList diagnostics)
    {
        int depth = 0;
        foreach (var token in tokens.Where(t => t.Kind == TokenKind.Symbol))
        {
            depth += token.Text switch { "(" => 1, ")" => -1, _ => 0 };
            if (depth > DeepestNesting)
            {
                diagnostics.Error(token.Span, DiagnosticCode.NestedTooDeep, $"Parentheses are nested more than {DeepestNesting} deep.");
                return true;
            }
        }
        return false;
    }
}
