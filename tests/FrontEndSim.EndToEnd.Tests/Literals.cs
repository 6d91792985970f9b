using System.Text;

namespace FrontEndSim.EndToEnd.Tests;

/// <summary>The string literals of a source text.</summary>
internal static class Literals
{
    /// <summary>
    /// Each of them. An interpolated one gives its runs between the holes; strings within holes are literals of their own.
    /// </summary>
    public static IEnumerable<string> Of(string source)
    {
        var found = new List<string>();
        int at = 0, open = 0;
        while (at < source.Length)
            Step();
        return found;

        void Step()
        {
            if (Is("//"))
                at = End(source.IndexOf('\n', at));
            else if (Is("/*"))
                at = End(source.IndexOf("*/", at, StringComparison.Ordinal));
            else if (source[at] == '\'')
                at += source[at + 1] == '\\' ? source.IndexOf('\'', at + 3) - at + 1 : 3;
            else if (Is("\"") || Is("$\"") || Is("@\"") || Is("$@\""))
                Literal();
            else
            {
                open += source[at] is '(' or '{' or '[' ? 1 : source[at] is ')' or '}' or ']' ? -1 : 0;
                at++;
            }
        }

        void Literal()
        {
            bool hasHoles = source[at] == '$';
            at = source.IndexOf('"', at) + 1;
            var run = new StringBuilder();
            while (source[at] != '"')
            {
                if (hasHoles && Is("{") && !Is("{{"))
                {
                    Keep(run);
                    int depth = open;
                    Step();
                    while (open > depth)
                        Step();
                    continue;
                }
                int length = Is("\\") || Is("{{") || Is("}}") ? 2 : 1;
                run.Append(source, at, length);
                at += length;
            }
            at++;
            Keep(run);
        }

        void Keep(StringBuilder run)
        {
            if (run.Length > 0)
                found.Add(run.ToString());
            run.Clear();
        }

        bool Is(string text) => string.CompareOrdinal(source, at, text, 0, text.Length) == 0;

        int End(int place) => place < 0 ? source.Length : place + 1;
    }
}
