using FrontEndSim.Engine.Circuits;
using FrontEndSim.Engine.Results;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Cli.Verbs;

/// <summary>--show A,B: the nodes to show.</summary>
internal sealed class ShowOption : Option<string?>
{
    public ShowOption() : base("--show")
    {
        HelpName = "NODE,NODE";
        Description = "The nodes to show, in this order; all if not given.";
    }

    /// <summary>The nodes asked for, or all but those inside of closed parts: those that a person named first, then the inner nodes of
    /// stages ("shift.SUM").</summary>
    /// <param name="line">The command line.</param>
    /// <param name="frontEnd">The front end.</param>
    /// <param name="points">Solutions that all have the nodes; those that one alone has, as a generator's own, are not shown.</param>
    /// <exception cref="InputException">A node is not in the circuit.</exception>
    public IReadOnlyList<string> Nodes(ParseResult line, FrontEnd frontEnd, params IReadOnlyList<OperatingPoint> points)
    {
        var point = points[0];
        string[] known = [.. point.Nodes.Keys.Where(n => n != Circuit.Ground && points.All(p => p.Nodes.ContainsKey(n)))
            .OrderBy(n => n.Contains('.'))];
        if (line.GetValue(this) is not { } wanted)
        {
            var closed = frontEnd.ClosedParts();
            return [.. known.Where(n => closed(n) is null)];
        }
        string[] nodes = wanted.Split([',', ' '], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        if (nodes.Length == 0)
            throw new InputException("--show wants the names of nodes, such as --show IN,PIN");
        foreach (string node in nodes)
        {
            if (node != Circuit.Ground && !known.Contains(node))
                throw new InputException($"--show: the circuit has no node '{node}'; "
                    + (Nearest.Of(node, known) is { } near ? $"did you mean {near}?" : $"it has {string.Join(", ", known)}"));
        }
        return nodes;
    }
}
