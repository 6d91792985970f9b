using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.Language.Binding.Scopes;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary><c>transistor Q1 2N3904 collector OUT base B emitter GND</c>, or <c>transistor Q2 2N7000 drain OUT gate IN source
/// GND</c></summary>
internal sealed class TransistorStatement : PartStatement
{
    public override string Keyword => "transistor";

    public override string Summary => "A bipolar or MOS transistor by its type number.";

    protected override ImmutableArray<Piece> Head =>
    [
        NewName("transistor"), new Blank("type", Shape.TypeName, "a type, such as 2N3904"),
        new OneOf(new Phrase("collector", Blank.Node("collector"), "base", Blank.Node("base"), "emitter", Blank.Node("emitter")),
            new Phrase("drain", Blank.Node("drain"), "gate", Blank.Node("gate"), "source", Blank.Node("source"))),
    ];

    public override ImmutableArray<SheetWords> Sheets => TransistorTypeWords.All;

    protected override Part? Make(PartReader read) => read.Has("gate")
        ? read.Type<MosType>("MOS transistor") is { } mos
            ? new MosPart(read.Name, read.Node("drain"), read.Node("gate"), read.Node("source"), mos) : null
        : read.Type<BipolarType>("bipolar transistor") is { } bipolar
            ? new BipolarPart(read.Name, read.Node("collector"), read.Node("base"), read.Node("emitter"), bipolar) : null;

    protected override StatementText? Write(Part part) => part switch
    {
        BipolarPart q => new($"transistor {q.Name} {q.Type.Name} collector {q.Collector} base {q.Base} emitter {q.Emitter}"),
        MosPart m => new($"transistor {m.Name} {m.Type.Name} drain {m.Drain} gate {m.Gate} source {m.Source}"),
        _ => null,
    };
}
