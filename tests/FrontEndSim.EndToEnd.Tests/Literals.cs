using System.Text;

namespace FrontEndSim.EndToEnd.Tests;

/// <summary>The string literals of a source text.</summary>
internal static class Literals
{
    /// <summary>
    /// Those that are no part of an exception that is thrown. An interpolated one gives its runs between the holes; strings within holes are
    /// literals of their own.
    /// </summary>
    public static IEnumerable<string> OutsideOfExceptions(string source)
    {
        var found = new List<string>();
        // Opening brackets that are not closed yet; a literal inside of one that a throw opened is a message.
        var open = new Stack<bool>();
        bool isThrown = false;
        int at = 0;
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
            else if (Is("throw new"))
                (isThrown, at) = (true, at + "throw new".Length);
            else if (Is("\"") || Is("$\"") || Is("@\"") || Is("$@\""))
                Literal();
            else
            {
                if (source[at] is '(' or '{' or '[')
                    open.Push(isThrown || (open.Count > 0 && open.Peek()));
                else if (source[at] is ')' or '}' or ']')
                    open.Pop();
                if (source[at] is '(' or ';')
                    isThrown = false;
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
                    int depth = open.Count;
                    Step();
                    while (open.Count > depth)
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
            if (run.Length > 0 && !(open.Count > 0 && open.Peek()))
                found.Add(run.ToString());
            run.Clear();
        }

        bool Is(string text) => string.CompareOrdinal(source, at, text, 0, text.Length) == 0;

        int End(int place) => place < 0 ? source.Length : place + 1;
    }
}
