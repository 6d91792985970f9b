using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Quantities;
using FrontEndSim.Language.Binding.Scopes;
using FrontEndSim.Language.Forms;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary><c>fuse F1 from IN to A 500 mA resistance 200 mohm melts 5 A within 5 ms</c></summary>
internal sealed class FuseStatement : PartStatement
{
    public override string Keyword => "fuse";

    public override string Summary => "A fuse with its rated current, its cold resistance, and the current and time that melt it.";

    protected override ImmutableArray<Piece> Head => [NewName("fuse"), .. Terminals, Blank.Of("amps", Unit.Amps)];

    public override ImmutableArray<Addition> Additions { get; } =
    [
        new("resistance", Blank.Of("ohms", Unit.Ohm)),
        new("melts", Blank.Of("melting-amps", Unit.Amps), "within", Blank.Of("seconds", Unit.Seconds)),
    ];

    protected override Part? Make(StatementSyntax statement, Scope scope, string name)
    {
        var (from, to) = Ends(statement, scope);
        double? ohms = scope.Positive(statement["ohms"]), melting = scope.Positive(statement["melting-amps"]),
            seconds = scope.Positive(statement["seconds"]);
        if (scope.Positive(statement["amps"]) is not { } amps)
            return null;
        var part = new FusePart(name, from, to, amps);
        part = ohms is { } r ? part with { Ohms = r } : part;
        return melting is { } i && seconds is { } t ? part with { MeltingIntegral = i * i * t } : part;
    }

    // Any current and time of one melting integral are the same fuse: written for ten times the rated current.
    protected override StatementText? Write(Part part) => part is not FusePart f ? null
        : new($"fuse {f.Name} from {f.From} to {f.To} {ValueText.Of(f.RatedAmps, "A")} resistance {ValueText.Of(f.Ohms, "ohm")} "
            + $"melts {ValueText.Of(10 * f.RatedAmps, "A")} within {ValueText.Of(f.MeltingIntegral / Math.Pow(10 * f.RatedAmps, 2), "s")}");
}
