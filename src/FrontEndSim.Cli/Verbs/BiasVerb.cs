using System.CommandLine;
using FrontEndSim.Cli.Screens;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Bias;
using FrontEndSim.Reporting;

namespace FrontEndSim.Cli.Verbs;

/// <summary>bias: what a meter would read with the sensors at mid-span.</summary>
internal sealed class BiasVerb : Verb
{
    private readonly ShowOption _show = new();

    public BiasVerb() : base("bias", "Shows the voltage of each node, and voltage, current and power of each part, with the sensors at mid-span.",
        "bias circuits/rain-tank.fes --show IN,PIN") => Options.Add(_show);

    protected override Answer Run(FrontEnd frontEnd, ParseResult line, CancellationToken cancel)
    {
        var bias = BiasStudy.Run(frontEnd, cancel: cancel);
        var nodes = _show.Nodes(line, bias.Point);
        string[] parts = [.. frontEnd.ToCircuit().Elements.Select(e => e.Name)]; // in the order of the file
        return new Answer(ExitCode.Met, () => BiasScreen.Of(frontEnd.Title, bias, nodes, parts),
            () => BiasDocument.Json(bias.Point, nodes, parts), () => BiasDocument.CsvText(bias.Point, nodes, parts));
    }
}
