using System.Text;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.Language.Binding.Scopes;
using FrontEndSim.Language.Binding.Statements;

namespace FrontEndSim.Language.Writing;

/// <summary>A front end as a circuit file: every statement writes what it would have read.</summary>
public static class FrontEndText
{
    /// <summary>
    /// The text of a circuit file that reads back as this front end. Types of part of a file's own, lets, templates and includes are gone
    /// in a front end: values stand in their place, a template's parts for themselves, and types have to be described beside.
    /// </summary>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="comment">What is said above it, lines without the comment sign.</param>
    /// <exception cref="ArgumentException">A source has a waveform that no statement says.</exception>
    public static string Of(FrontEnd frontEnd, IEnumerable<string>? comment = null)
    {
        var text = new StringBuilder();
        foreach (string line in comment ?? [])
            text.Append("# ").Append(line).Append('\n');
        bool isFirst = true;
        foreach (var kind in StatementKinds.All)
        {
            StatementText[] statements = [.. kind.Write(frontEnd)];
            for (int k = 0; k < statements.Length; k++)
            {
                // A blank line before a group of lines, and before each statement with lines of its own.
                if (!isFirst && (k == 0 || statements[k].Settings.Count > 0))
                    text.Append('\n');
                isFirst = false;
                text.Append(statements[k].Line).Append('\n');
                foreach (string setting in statements[k].Settings)
                    text.Append("    ").Append(setting).Append('\n');
            }
        }
        return text.ToString();
    }

    /// <summary>A requirement as a circuit file says it, without the keyword.</summary>
    public static string Of(Requirement requirement) => Requirements.Write(requirement);

    /// <summary>A disturbance as a circuit file says it, behind the event's node: <c>discharge 4 kV at 1 us</c>.</summary>
    public static string Of(Disturbance disturbance) => Binding.Statements.Disturbances.Write(disturbance);
}
