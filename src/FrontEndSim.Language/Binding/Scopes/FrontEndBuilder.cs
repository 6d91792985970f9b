using FrontEndSim.Engine.Circuits;
using FrontEndSim.FrontEnds.Disturbances;
using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Parts.Fits;
using FrontEndSim.FrontEnds.Stages;

namespace FrontEndSim.Language.Binding.Scopes;

/// <summary>The front end while it is put together from statements: what there is so far, and where each thing was written.</summary>
internal sealed class FrontEndBuilder(DiagnosticList diagnostics, SourceFile main, ImmutableHashSet<string> unread)
{
    /// <summary>So many parts at most; templates in templates could otherwise ask for any number.</summary>
    public const int MostParts = 100_000;

    /// <summary>So many statements at most, those of each use of a template included.</summary>
    private const int MostStatements = 200_000;

    /// <summary>So many rails at most, and so many sensors, pins, events and requirements.</summary>
    public const int MostOfAKind = 1000;

    public DiagnosticList Diagnostics { get; } = diagnostics;

    /// <summary>The types of part that may be named: those that come with the tool, and the file's own.</summary>
    public PartCatalogue Catalogue { get; set; } = PartCatalogue.Standard;

    /// <summary>The kinds of stage that may be named.</summary>
    public IReadOnlyCollection<StageKind> StageKinds { get; init; } = FrontEnds.Stages.StageKinds.All;

    /// <summary>The file's own types of part.</summary>
    public Dictionary<string, Declaration> OwnTypes { get; } = new(StringComparer.OrdinalIgnoreCase);

    public string? Title { get; set; }

    public double? Celsius { get; set; }

    public FrontEnds.Quantities.Span? CelsiusRange { get; set; }

    public bool AlsoUnpowered { get; set; }

    public List<AcceptedStress> Accepted { get; } = [];

    public List<Rail> Rails { get; } = [];

    /// <summary>Names of parts and rails for which no tolerance is given.</summary>
    public HashSet<string> WithoutTolerance { get; } = [];

    public List<Sensor> Sensors { get; } = [];

    public List<Stage> Stages { get; } = [];

    public List<Part> Parts { get; } = [];

    public List<Pin> Pins { get; } = [];

    public List<Scan> Scans { get; } = [];

    public List<CombinedReading> Readings { get; } = [];

    public List<AlternatingReading> AlternatingReadings { get; } = [];

    public List<FaultEvent> Events { get; } = [];

    public List<Requirement> Requirements { get; } = [];

    /// <summary>Where shifting stages go whose op amp or values are still open; null where every stage must be whole.</summary>
    public List<UnfinishedStage>? Unfinished { get; init; }

    /// <summary>Name of a stage that something is required of, but that is not there; only where a stage may be left out.</summary>
    public string? LeftOut { get; set; }

    public Dictionary<string, StatementSyntax> Templates { get; } = [];

    /// <summary>Everything that has a name: one name means one thing.</summary>
    public Dictionary<string, Declaration> Names { get; } = [];

    /// <summary>Where each node was first mentioned.</summary>
    public Dictionary<string, SourceSpan> Nodes { get; } = [];

    /// <summary>Where each part was written; for the parts of a stage, the stage.</summary>
    public Dictionary<string, SourceSpan> Places { get; } = [];

    /// <summary>Where each requirement was written.</summary>
    public Dictionary<Requirement, SourceSpan> RequirementPlaces { get; } = [];

    /// <summary>The events of the other polarity, by the name of the first.</summary>
    public Dictionary<string, string> Twins { get; } = [];

    /// <summary>Where each event was written.</summary>
    public Dictionary<string, SourceSpan> EventPlaces { get; } = [];

    /// <summary>Nodes that a pin or an event names, which something else must be connected to.</summary>
    public List<(string Node, SourceSpan Span, string By)> Probes { get; } = [];

    private int _parts, _statements;
    private bool _tooManyParts, _tooManyStatements;
    private readonly HashSet<string> _tooMany = [];

    /// <summary>Makes a name known; complains and gives false if it means something already.</summary>
    public bool Declare(string name, string what, SourceSpan span)
    {
        if (name == Circuit.Ground)
        {
            Diagnostics.Error(span, DiagnosticCode.GroundIsTaken, $"{name} is the ground node; nothing else may have that name.");
            return false;
        }
        if (Names.TryAdd(name, new Declaration(what, span)))
            return true;
        var first = Names[name];
        string where = first.Span.File == span.File ? $"in line {first.Span.Line}" : $"in {first.Span.File.Path}, line {first.Span.Line}";
        Diagnostics.Error(span, DiagnosticCode.NameTwice,
            $"The name {name} is given twice: to a {first.What} {where} and to a {what} here.", null, "give one of the two another name");
        return false;
    }

    /// <summary>Finds what a name means if it is one of the kinds asked for, and notes that it is used. Complains and gives false
    /// otherwise.</summary>
    public bool Use(Token name, params ReadOnlySpan<string> kinds)
    {
        if (Names.TryGetValue(name.Text, out var declaration) && kinds.Contains(declaration.What))
        {
            declaration.IsUsed = true;
            return true;
        }
        string wanted = string.Join(" or ", kinds.ToArray());
        if (declaration is not null)
            Diagnostics.Error(name.Span, DiagnosticCode.WrongKindOfThing,
                $"{name.Text} is a {declaration.What}, but a {wanted} is needed here.");
        else if (!unread.Contains(name.Text))
        {
            var known = KnownNames(kinds);
            Diagnostics.Error(name.Span, DiagnosticCode.UnknownName, $"There is no {wanted} named {name.Text}.",
                known.Count == 0 ? null : "one of " + string.Join(", ", known.Take(12)),
                kinds.Contains("rail") && Nodes.ContainsKey(name.Text) ? $"a line beside what feeds {name.Text}, such as: "
                    + $"rail {name.Text} 3.3 V tolerance 2%; the regulator or reference then ends at a node of its own"
                : Nearest.Question(name.Text, known));
        }
        return false;
    }

    /// <summary>Notes that a type of part is used.</summary>
    public void UseType(string name)
    {
        if (OwnTypes.TryGetValue(name, out var own))
            own.IsUsed = true;
    }

    /// <summary>Complains of an unknown type, unless it is one of the file's own that has been complained of already. Gives null.</summary>
    public T? RefuseType<T>(Token name, string what, IReadOnlyList<string> known) where T : class
    {
        UseType(name.Text);
        if (!MayBeUnread(name.Text) && !(OwnTypes.ContainsKey(name.Text) && Diagnostics.HasErrors))
            Diagnostics.UnknownType(name, what, known);
        return null;
    }

    /// <summary>The type of that name among those of a kind of part, noted as used; null after a complaint.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="what">What a person calls the kind.</param>
    public TType? FindType<TType>(Token name, string what) where TType : PartType
    {
        if (Catalogue.Find<TType>(name.Text) is { } known)
        {
            UseType(name.Text);
            return known;
        }
        if (Catalogue.Find<PartType>(name.Text) is { } other)
        {
            UseType(name.Text);
            Diagnostics.Error(name.Span, DiagnosticCode.WrongKindOfThing,
                $"{other.Name} is of the kind {other.Kind}, but a {what} is needed here.");
            return null;
        }
        return RefuseType<TType>(name, what, [.. Catalogue.Types.OfType<TType>().Select(t => t.Name)]);
    }

    /// <summary>Complains of a diode that is there, but of another kind than is needed; false if there is none of that name.</summary>
    /// <param name="name">The name that was written.</param>
    /// <param name="known">The names that are possible here.</param>
    public bool RefuseDiode(Token name, IReadOnlyList<string> known)
    {
        UseType(name.Text);
        if (Catalogue.Diodes.FirstOrDefault(d => d.Name.Equals(name.Text, StringComparison.OrdinalIgnoreCase)) is not { } other)
            return false;
        string needed = Catalogue.Diodes.Where(d => known.Contains(d.Name)).Select(d => DiodeFit.Word(d.Kind)).FirstOrDefault()
            ?? "other diode";
        Diagnostics.Error(name.Span, DiagnosticCode.WrongKindOfThing,
            $"{other.Name} is a {DiodeFit.Word(other.Kind)}, but a {needed} is needed here.",
            "one of " + string.Join(", ", known.Take(12)));
        return true;
    }

    /// <summary>Names of those kinds, in the order of the file.</summary>
    public List<string> KnownNames(params ReadOnlySpan<string> kinds)
    {
        var wanted = kinds.ToArray();
        return [.. Names.Where(n => wanted.Contains(n.Value.What)).Select(n => n.Key)];
    }

    /// <summary>Whether a statement that could not be read may have declared the name, so that its absence is no news.</summary>
    public bool MayBeUnread(string name) => unread.Contains(name);

    /// <summary>Whether a warning about something unused is due: not for shared files, which are there to be picked from.</summary>
    public bool IsMain(SourceSpan span) => span.File == main;

    /// <summary>Counts parts; complains once and gives false when there are too many.</summary>
    public bool Admit(int parts, SourceSpan span)
    {
        _parts += parts;
        if (_parts > MostParts && !_tooManyParts)
        {
            _tooManyParts = true;
            Diagnostics.Error(span, DiagnosticCode.TooManyParts, $"The circuit has more than {MostParts} parts.",
                null, "look for templates that use templates many times over");
        }
        return !_tooManyParts;
    }

    /// <summary>Counts statements; complains once and gives false when there are too many.</summary>
    public bool AdmitStatements(IReadOnlyCollection<StatementSyntax> statements)
    {
        _statements += statements.Count;
        if (_statements > MostStatements && !_tooManyStatements)
        {
            _tooManyStatements = true;
            Diagnostics.Error(statements.First().Span, DiagnosticCode.TooManyParts,
                $"The circuit has more than {MostStatements} statements, those of each use of a template counted.",
                null, "look for templates that are used many times over");
        }
        return !_tooManyStatements;
    }

    /// <summary>Whether one thing more of a kind may be added; complains once when there are too many.</summary>
    public bool HasRoom(int count, string what, SourceSpan span)
    {
        if (count >= MostOfAKind && _tooMany.Add(what))
            Diagnostics.Error(span, DiagnosticCode.TooManyParts, $"The circuit has more than {MostOfAKind} {what}.");
        return count < MostOfAKind;
    }
}

/// <summary>Something that has a name.</summary>
/// <param name="What">What it is: "rail", "stage".</param>
/// <param name="Span">Where its name is given.</param>
internal sealed record Declaration(string What, SourceSpan Span)
{
    /// <summary>Whether anything refers to it.</summary>
    public bool IsUsed { get; set; }
}
