using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.FrontEnds.Stages;
using FrontEndSim.Language.Binding.Scopes;

namespace FrontEndSim.Language.Binding;

/// <summary>What binding gives.</summary>
/// <param name="FrontEnd">The front end, or null if there is an error.</param>
/// <param name="Diagnostics">Everything that was found, that of the syntax included; warnings may stand beside a front end.</param>
public sealed record BindResult(FrontEnd? FrontEnd, ImmutableArray<Diagnostic> Diagnostics)
{
    /// <summary>The part types that may be named: those that come with the tool, and those that the circuit describes, which go
    /// first.</summary>
    public PartCatalogue Catalogue { get; init; } = PartCatalogue.Standard;

    /// <summary>Where each requirement was written.</summary>
    public ImmutableDictionary<Requirement, SourceSpan> RequirementPlaces { get; init; } = ImmutableDictionary<Requirement,
        SourceSpan>.Empty;
}

/// <summary>Binding is a function from syntax trees to a front end: names get their meaning, values their units, stages their
/// parts.</summary>
public static class Binder
{
    /// <summary>Binds a circuit. Nothing is thrown on account of the text; the trees' own diagnostics are passed on.</summary>
    /// <param name="main">The circuit file.</param>
    /// <param name="included">The files that it includes, directly or through others.</param>
    public static BindResult Bind(SyntaxTree main, params IReadOnlyCollection<SyntaxTree> included) =>
        Bind(main, included, new DiagnosticList(), null);

    /// <summary>Binds a circuit when something may be known to be wrong already.</summary>
    internal static BindResult Bind(SyntaxTree main, IReadOnlyCollection<SyntaxTree> included, DiagnosticList diagnostics,
        IReadOnlyCollection<StageKind>? stageKinds)
    {
        var (frontEnd, builder) = Read(main, included, diagnostics, null, stageKinds);
        if (!diagnostics.HasErrors)
            WiringCheck.Run(frontEnd, builder, main.File);
        return new BindResult(diagnostics.HasErrors ? null : frontEnd, diagnostics.InOrder())
        {
            Catalogue = builder.Catalogue,
            RequirementPlaces = builder.RequirementPlaces.ToImmutableDictionary(),
        };
    }

    /// <summary>What the statements say, before anyone asks whether the wiring makes a circuit.</summary>
    /// <param name="main">The circuit file.</param>
    /// <param name="included">The files that it includes.</param>
    /// <param name="diagnostics">Where complaints go.</param>
    /// <param name="unfinished">Where shifting stages go that are not whole; null to refuse them.</param>
    /// <param name="stageKinds">The kinds of stage that may be named; null for those that come with the tool.</param>
    internal static (FrontEnd FrontEnd, FrontEndBuilder Builder) Read(SyntaxTree main, IReadOnlyCollection<SyntaxTree> included,
        DiagnosticList diagnostics, List<UnfinishedStage>? unfinished, IReadOnlyCollection<StageKind>? stageKinds = null)
    {
        SyntaxTree[] trees = [main, .. included];
        foreach (var tree in trees)
            diagnostics.AddRange(tree.Diagnostics);
        var builder = new FrontEndBuilder(diagnostics, main.File, [.. trees.SelectMany(t => t.Unread)])
        {
            Unfinished = unfinished,
            StageKinds = stageKinds ?? StageKinds.All,
        };
        if (!diagnostics.IsFull)
            StatementOrder.Bind([.. trees.SelectMany(t => t.Statements)], new Scope(builder));
        var frontEnd = new FrontEnd
        {
            Title = builder.Title ?? Path.GetFileNameWithoutExtension(main.File.Path),
            Rails = [.. builder.Rails],
            Sensors = [.. builder.Sensors],
            Stages = [.. builder.Stages],
            Parts = [.. builder.Parts],
            Pins = [.. builder.Pins],
            Scans = [.. builder.Scans],
            Readings = [.. builder.Readings],
            AlternatingReadings = [.. builder.AlternatingReadings],
            Events = [.. builder.Events],
            WithoutTolerance = [.. builder.WithoutTolerance],
            Requirements = [.. builder.Requirements],
            Celsius = builder.Celsius ?? 25,
            CelsiusRange = builder.CelsiusRange,
            AlsoUnpowered = builder.AlsoUnpowered,
            Accepted = [.. builder.Accepted],
        };
        return (frontEnd, builder);
    }
}
