using System.Runtime.CompilerServices;
using FrontEndSim.FrontEnds.Parts.Fits;

namespace FrontEndSim.FrontEnds.Parts;

/// <summary>
/// The part types that can be named. Immutable; names are compared without regard to case. A diode's model is fitted to its
/// data sheet when it is first asked for.
/// </summary>
public sealed record PartCatalogue
{
    // A fit lives as long as its sheet.
    private static readonly ConditionalWeakTable<DiodeDataSheet, DiodeType> Fitted = [];

    /// <summary>The types that come with the tool.</summary>
    public static PartCatalogue Standard { get; } = new()
    {
        Diodes = [.. DiodeCatalogue.Sheets, .. ZenerCatalogue.Sheets],
        OpAmps = OpAmpCatalogue.Types,
        _types = new(() => [.. TransistorCatalogue.Types, .. ComparatorCatalogue.Types,
            .. SurgeCatalogue.Types, .. SupplyCatalogue.Types, .. OptocouplerCatalogue.Types, .. AnalogSwitchType.All,
            .. InAmpCatalogue.Types]),
    };

    // Fitted when somebody first asks for one of them.
    private Lazy<ImmutableArray<PartType>> _types = new([]);

    /// <summary>Data sheets of diodes, zeners and Schottky diodes.</summary>
    public ImmutableArray<DiodeDataSheet> Diodes { get; init; } = [];

    /// <summary>Classes of operational amplifier.</summary>
    public ImmutableArray<OpAmpType> OpAmps { get; init; } = [];

    /// <summary>Types of all other kinds.</summary>
    public ImmutableArray<PartType> Types
    {
        get => _types.Value;
        init => _types = new(value);
    }

    /// <summary>This catalogue with one more type, which goes before any other of its name.</summary>
    /// <exception cref="DataSheetException">Its numbers contradict each other.</exception>
    public PartCatalogue With(PartType type) => this with { Types = [type.Checked(), .. Types] };

    /// <summary>The type of that name among those of a kind of part, or null.</summary>
    public TType? Find<TType>(string name) where TType : PartType =>
        Types.OfType<TType>().FirstOrDefault(t => t.Name.Equals(name, StringComparison.OrdinalIgnoreCase));

    /// <summary>This catalogue with one more diode, which goes before any other of its name.</summary>
    /// <exception cref="DataSheetException">No model fits the sheet.</exception>
    public PartCatalogue With(DiodeDataSheet sheet)
    {
        Type(sheet);
        return this with { Diodes = [sheet, .. Diodes] };
    }

    /// <summary>This catalogue with one more op amp class, which goes before any other of its name.</summary>
    public PartCatalogue With(OpAmpType type) => this with { OpAmps = [type, .. OpAmps] };

    /// <summary>The diode type of a data sheet.</summary>
    /// <exception cref="DataSheetException">No model fits the sheet.</exception>
    public static DiodeType Type(DiodeDataSheet sheet) => Fitted.GetValue(sheet, DiodeFit.Fit);

    /// <summary>A diode that is always there, Schottky or junction.</summary>
    internal static DiodeType Diode(string name) =>
        Standard.FindDiode(name, DiodeKind.Schottky) ?? Standard.FindDiode(name, DiodeKind.Junction)!;

    /// <summary>The transistor type of a data sheet.</summary>
    /// <exception cref="DataSheetException">No model fits the sheet.</exception>
    public static BipolarType Type(BipolarDataSheet sheet) => BipolarFit.Fit(sheet);

    /// <summary>The transistor type of a data sheet.</summary>
    /// <exception cref="DataSheetException">No model fits the sheet.</exception>
    public static MosType Type(MosDataSheet sheet) => MosFit.Fit(sheet);

    /// <summary>The diode type of that name and kind, or null.</summary>
    public DiodeType? FindDiode(string name, DiodeKind kind) =>
        Diodes.FirstOrDefault(d => d.Kind == kind && d.Name.Equals(name, StringComparison.OrdinalIgnoreCase)) is { } sheet
            ? Type(sheet) : null;

    /// <summary>The op amp class of that name, or null.</summary>
    public OpAmpType? FindOpAmp(string name) => OpAmps.FirstOrDefault(o => o.Name.Equals(name, StringComparison.OrdinalIgnoreCase));

    /// <summary>Names of the diode types of a kind, in the catalogue's order.</summary>
    public IEnumerable<string> DiodeNames(DiodeKind kind) => Diodes.Where(d => d.Kind == kind).Select(d => d.Name);

    /// <summary>Names of the op amp classes, in the catalogue's order.</summary>
    public IEnumerable<string> OpAmpNames => OpAmps.Select(o => o.Name);
}
