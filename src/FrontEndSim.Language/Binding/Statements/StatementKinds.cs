using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.Language.Binding.Scopes;

namespace FrontEndSim.Language.Binding.Statements;

/// <summary>The statements of the language.</summary>
internal static class StatementKinds
{
    /// <summary>All that may stand at the left edge of a file.</summary>
    public static ImmutableArray<StatementKind> All { get; } =
    [
        new CircuitStatement(), new IncludeStatement(), new TemperatureStatement(), new SuppliesStatement(), new LetStatement(),
            new RailStatement(), new SensorStatement(),
        new StageStatement(), new TemplateStatement(), new PartTypeStatement(),
        new ResistorStatement(), new CapacitorStatement(), new InductorStatement(), new PotentiometerStatement(),
        new DiodeStatement(DiodeKind.Junction), new DiodeStatement(DiodeKind.Zener),
            new DiodeStatement(DiodeKind.Schottky), new DiodeStatement(DiodeKind.Led),
        new TransistorStatement(), new OpAmpStatement(), new InAmpStatement(), new ComparatorStatement(), new GateStatement(),
            new AnalogSwitchStatement(), new MultiplexerStatement(),
            new SwitchStatement(), new FuseStatement(), new PolymerFuseStatement(), new SuppressorStatement(),
            new VaristorStatement(), new GasArresterStatement(), new FerriteBeadStatement(),
        new RegulatorStatement(), new SeriesReferenceStatement(), new ReferenceStatement(), new OptocouplerStatement(),
            new WindingsStatement(isChoke: false), new WindingsStatement(isChoke: true), new CableStatement(),
        new SourceStatement(),
        new PinStatement(), new ScanStatement(), new ReadingStatement(), new EventStatement(),
            new RequireStatement(), new AcceptStatement(),
    ];

    /// <summary>How the types of all kinds of part are described.</summary>
    public static ImmutableArray<SheetWords> Sheets { get; } = [.. All.OfType<PartStatement>().SelectMany(k => k.Sheets)];

    /// <summary>Those that may stand in a template.</summary>
    public static ImmutableArray<StatementForm> InTemplate { get; } =
        [.. All.Where(k => k is PartStatement or StageStatement or LetStatement)];

    /// <summary>The forms of all of them.</summary>
    public static ImmutableArray<StatementForm> Forms { get; } = [.. All];
}
