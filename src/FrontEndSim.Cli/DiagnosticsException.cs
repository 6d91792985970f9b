using FrontEndSim.Language.Text;

namespace FrontEndSim.Cli;

/// <summary>A circuit file with errors in it.</summary>
internal sealed class DiagnosticsException(ImmutableArray<Diagnostic> diagnostics) : Exception("The circuit file has errors.")
{
    /// <summary>All that was found, warnings too.</summary>
    public ImmutableArray<Diagnostic> Diagnostics { get; } = diagnostics;
}
