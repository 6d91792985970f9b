using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary><c>analog-switch K1 hc-analog-switch from A to OUT on VDD and GND closed</c></summary>
internal sealed class AnalogSwitchStatement : PartStatement<AnalogSwitchPart>
{
    public override string Keyword => "analog-switch";

    public override string Summary => "An analog switch, or a channel of a multiplexer, by its class, its two terminals and its supplies.";

    protected override ImmutableArray<Piece> Head =>
    [
        NewName("analog switch"), new Blank("type", Shape.TypeName, "a class of analog switch, such as hc-analog-switch"), .. Terminals,
        "on", Blank.Node("positive"), "and", Blank.Node("negative"),
    ];

    public override ImmutableArray<Addition> Additions => SwitchMoves.Words;

    public override ImmutableArray<SheetWords> Sheets { get; } =
    [
        // What is not stated is that of the hc class; leakage of junctions doubles every 10 K.
        new SheetWords<AnalogSwitchType>("analog-switch",
            read => new(read.Name, read.Positive("ohms"), read.Positive("most-ohms", 2 * read.Positive("ohms")), read.Positive("at-volts"),
                read.Positive("leakage-amps", 100e-9), read.Positive("hot-amps", 64 * read.Positive("leakage-amps", 100e-9)), 5e-12, 8e-12,
                read.Positive("supply-limit"), 25e-3, read.Source),
        [
            new(new("resistance", Blank.Of("ohms", Unit.Ohm), new Maybe("at", "most", Blank.Of("most-ohms", Unit.Ohm)),
                "at", Blank.Of("at-volts", Unit.Volts)))
            { Needed = "its resistance when on: resistance OHMS at VOLTS" },
            new(new("leakage", Blank.Of("leakage-amps", Unit.Amps), new Maybe("hot", Blank.Of("hot-amps", Unit.Amps)))),
            new("charge", Blank.Of("injected", Unit.Coulomb), (k, x) => k with { ChargeCoulombs = x }, NumberRule.Any),
            new("capacitance", Blank.Of("farads", Unit.Farad), (k, x) => k with { Farads = x }, NumberRule.NotNegative),
            new(new("stands", Blank.Of("supply-limit", Unit.Volts)))
            { Needed = "the supply voltage that it stands: stands VOLTS" },
            new("carries", Blank.Of("most-amps", Unit.Amps), (k, x) => k with { MostAmps = x }),
        ]),
    ];

    protected override AnalogSwitchPart? Of(PartReader read)
    {
        var (from, to, high, low) = (read.From, read.To, read.Node("positive"), read.Node("negative"));
        var type = read.Type<AnalogSwitchType>("analog switch");
        return SwitchMoves.Read(read.Statement, read.Scope) is { } closed && type is not null
            ? new(read.Name, from, to, high, low, type, closed) : null;
    }

    protected override string LineOf(AnalogSwitchPart s) =>
        $"analog-switch {s.Name} {s.Type.Name} from {s.From} to {s.To} on {s.PositiveRail} and {s.NegativeRail}"
        + SwitchMoves.Write(s.Closed);
}
