using FrontEndSim.FrontEnds.Parts;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary><c>fuse F1 from IN to A 500 mA resistance 200 mohm melts 5 A within 5 ms</c></summary>
internal sealed class FuseStatement() : DescribedPartStatement<FusePart>("fuse", new("rated", Blank.Of("amps", Unit.Amps)),
    new("resistance", Blank.Of("ohms", Unit.Ohm), (f, x) => f with { Ohms = x })
    {
        Written = f => "resistance " + ValueText.Of(f.Ohms, "ohm"),
    },
    new(new("melts", Blank.Of("melting-amps", Unit.Amps), "within", Blank.Of("seconds", Unit.Seconds)), (f, read) => f with
    {
        MeltingIntegral = Math.Pow(read.Positive("melting-amps"), 2) * read.Positive("seconds"),
    })
    {
        // Any current and time of one melting integral are the same fuse: written for ten times the rated current.
        Written = f => $"melts {ValueText.Of(10 * f.RatedAmps, "A")} within "
            + ValueText.Of(f.MeltingIntegral / Math.Pow(10 * f.RatedAmps, 2), "s"),
    })
{
    public override string Summary => "A fuse with its rated current, its cold resistance, and the current and time that melt it.";

    protected override FusePart? Of(string name, string from, string to, FigureReader read) =>
        read.Given("amps") is { } amps ? new(name, from, to, amps) : null;

    protected override FusePart Of(FusePart type, string name, string from, string to) => type with { Name = name, From = from, To = to };

    protected override string LineOf(FusePart f) => $"fuse {f.Name} from {f.From} to {f.To} {ValueText.Of(f.RatedAmps, "A")}";
}
