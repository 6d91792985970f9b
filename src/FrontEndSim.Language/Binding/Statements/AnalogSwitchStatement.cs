using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.Language.Binding.Scopes;
using FrontEndSim.Language.Forms;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary><c>analog-switch K1 hc-analog-switch from A to OUT on VDD and GND closed</c></summary>
internal sealed class AnalogSwitchStatement : PartStatement
{
    public override string Keyword => "analog-switch";

    public override string Summary => "An analog switch, or a channel of a multiplexer, by its class, its two terminals and its supplies.";

    protected override ImmutableArray<Piece> Head =>
    [
        NewName("analog switch"), new Blank("type", Shape.TypeName, "a class of analog switch, such as hc-analog-switch"), .. Terminals,
        "on", Blank.Node("positive"), "and", Blank.Node("negative"),
    ];

    public override ImmutableArray<Addition> Additions { get; } = SwitchMoves.Words;

    protected override Part? Make(StatementSyntax statement, Scope scope, string name)
    {
        var (from, to) = Ends(statement, scope);
        string high = scope.Node(statement.Token("positive")), low = scope.Node(statement.Token("negative"));
        var type = scope.Draft.FindType<AnalogSwitchType>(statement.Token("type"), "analog switch");
        return SwitchMoves.Read(statement, scope) is { } closed && type is not null
            ? new AnalogSwitchPart(name, from, to, high, low, type, closed) : null;
    }

    protected override StatementText? Write(Part part) => part is not AnalogSwitchPart s ? null
        : new($"analog-switch {s.Name} {s.Type.Name} from {s.From} to {s.To} on {s.PositiveRail} and {s.NegativeRail}"
            + SwitchMoves.Write(s.Closed));
}

/// <summary>The words of an analog switch's data sheet.</summary>
internal static class AnalogSwitchTypeWords
{
    /// <summary>How a class of analog switch is described.</summary>
    public static SheetWords Words { get; } = new("analog-switch",
    [
        new("resistance", Blank.Of("ohms", Unit.Ohm), new Maybe("at", "most", Blank.Of("most-ohms", Unit.Ohm)),
            "at", Blank.Of("at-volts", Unit.Volts)),
        new("leakage", Blank.Of("leakage-amps", Unit.Amps), new Maybe("hot", Blank.Of("hot-amps", Unit.Amps))),
        new("charge", Blank.Of("injected", Unit.Coulomb)),
        new("capacitance", Blank.Of("farads", Unit.Farad)),
        new("stands", Blank.Of("supply-limit", Unit.Volts)),
        new("carries", Blank.Of("most-amps", Unit.Amps)),
        SheetReader.Sheet,
    ], Into);

    private static PartCatalogue? Into(StatementSyntax statement, Scope scope)
    {
        var read = new SheetReader(statement, scope);
        if (read.Required("resistance", "its resistance when on: resistance OHMS at VOLTS") is null
            || read.Required("stands", "the supply voltage that it stands: stands VOLTS") is null)
            return null;
        double? ohms = read.Positive("ohms"), most = read.Positive("most-ohms"), at = read.Positive("at-volts"),
            leakage = read.Positive("leakage-amps"), hot = read.Positive("hot-amps"), charge = read.Number("injected"),
            farads = read.NotNegative("farads"), volts = read.Positive("supply-limit"), amps = read.Positive("most-amps");
        if (!read.IsComplete)
            return null;
        // What is not stated is that of the hc class; leakage of junctions doubles every 10 K.
        double cold = leakage ?? 100e-9;
        return scope.Draft.Catalogue.With(new AnalogSwitchType(read.Name, ohms!.Value, most ?? 2 * ohms.Value, at!.Value, cold,
            hot ?? 64 * cold, charge ?? 5e-12, farads ?? 8e-12, volts!.Value, amps ?? 25e-3, read.Source).Checked());
    }
}
