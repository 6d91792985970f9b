using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Studies.Bias;
using FrontEndSim.Reporting.Pages;

namespace FrontEndSim.Cli.Verbs;

/// <summary>bias: what a meter would read with the sensors at mid-span.</summary>
internal sealed class BiasVerb : Verb
{
    private readonly ShowOption _show = new();

    public BiasVerb()
        : base("bias", "Shows the voltage of each node, and voltage, current and power of each part, with the sensors at mid-span.",
        "bias circuits/rain-tank.fes --show IN,PIN") => Options.Add(_show);

    protected override Answer Run(FrontEnd frontEnd, ParseResult line, CancellationToken cancel)
    {
        var bias = BiasStudy.Run(frontEnd, cancel: cancel);
        bias = bias.Showing(_show.Nodes(line, frontEnd, bias.Point));
        return Answer.Of(ExitCode.Met, BiasPage.Of(bias), bias);
    }
}
