using FrontEndSim.FrontEnds.Model;
using FrontEndSim.FrontEnds.Parts;
using FrontEndSim.Language.Binding;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Language.Tests;

/// <summary>Reads texts as circuit files, without a disk.</summary>
internal static class Reading
{
    /// <summary>The front end of a text that must have no error.</summary>
    public static FrontEnd FrontEnd(string text)
    {
        var result = Load(text);
        Assert.True(result.FrontEnd is not null, DiagnosticPrinter.Print(result.Diagnostics));
        return result.FrontEnd;
    }

    public static LoadResult Load(string text) => CircuitFile.Load(new SourceFile("test.fes", text));

    /// <summary>The one diagnostic of a text that must have exactly one.</summary>
    public static Diagnostic OnlyDiagnostic(string text)
    {
        var result = Load(text);
        Assert.True(result.Diagnostics.Length == 1, DiagnosticPrinter.Print(result.Diagnostics));
        return result.Diagnostics[0];
    }

    public static T Part<T>(this FrontEnd frontEnd, string name) where T : Part =>
        Assert.IsType<T>(frontEnd.AllParts.Single(p => p.Name == name));

    /// <summary>The folder of the repository, found from the place of the tests.</summary>
    public static string Repository
    {
        get
        {
            string folder = AppContext.BaseDirectory;
            while (!File.Exists(Path.Combine(folder, "FrontEndSim.sln")))
                folder = Path.GetDirectoryName(folder) ?? throw new InvalidOperationException("The tests run outside the repository.");
            return folder;
        }
    }
}
