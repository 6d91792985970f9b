using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.Language.Binding.Scopes;
using FrontEndSim.Language.Forms;

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

    protected override Part? Make(StatementSyntax statement, Scope scope, string name)
    {
        string Node(string blank) => scope.Node(statement.Token(blank));
        bool isMos = statement.Has("gate");
        return isMos
            ? scope.Draft.FindType<MosType>(statement.Token("type"), "MOS transistor") is { } mos
                ? new MosPart(name, Node("drain"), Node("gate"), Node("source"), mos) : null
            : scope.Draft.FindType<BipolarType>(statement.Token("type"), "bipolar transistor") is { } bipolar
                ? new BipolarPart(name, Node("collector"), Node("base"), Node("emitter"), bipolar) : null;
    }

    protected override StatementText? Write(Part part) => part switch
    {
        BipolarPart q => new($"transistor {q.Name} {q.Type.Name} collector {q.Collector} base {q.Base} emitter {q.Emitter}"),
        MosPart m => new($"transistor {m.Name} {m.Type.Name} drain {m.Drain} gate {m.Gate} source {m.Source}"),
        _ => null,
    };
}
