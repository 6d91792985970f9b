using System.Collections.Immutable;

namespace FrontEndSim.FrontEnds;

/// <summary>The part types that can be named. Immutable; names are compared without regard to case.</summary>
/// <param name="Diodes">Diodes, zeners and Schottky diodes.</param>
/// <param name="OpAmps">Classes of operational amplifier.</param>
public sealed record PartCatalogue(ImmutableArray<DiodeType> Diodes, ImmutableArray<OpAmpType> OpAmps)
{
    /// <summary>The types that come with the tool.</summary>
    public static PartCatalogue Standard { get; } = new(
        [.. DiodeCatalogue.Types, .. ZenerCatalogue.Types], OpAmpCatalogue.Types);

    /// <summary>The diode type of that name and kind, or null.</summary>
    public DiodeType? FindDiode(string name, DiodeKind kind) =>
        Diodes.FirstOrDefault(d => d.Kind == kind && d.Name.Equals(name, StringComparison.OrdinalIgnoreCase));

    /// <summary>The op amp class of that name, or null.</summary>
    public OpAmpType? FindOpAmp(string name) => OpAmps.FirstOrDefault(o => o.Name.Equals(name, StringComparison.OrdinalIgnoreCase));

    /// <summary>Names of the diode types of a kind, in the catalogue's order.</summary>
    public IEnumerable<string> DiodeNames(DiodeKind kind) => Diodes.Where(d => d.Kind == kind).Select(d => d.Name);

    /// <summary>Names of the op amp classes, in the catalogue's order.</summary>
    public IEnumerable<string> OpAmpNames => OpAmps.Select(o => o.Name);
}
