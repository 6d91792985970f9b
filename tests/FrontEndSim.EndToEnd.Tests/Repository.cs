namespace FrontEndSim.EndToEnd.Tests;

/// <summary>The clone that these tests were built in.</summary>
internal static class Repository
{
    /// <summary>Its top folder.</summary>
    public static string Root { get; } = Find(AppContext.BaseDirectory);

    private static string Find(string folder) =>
        File.Exists(Path.Combine(folder, "FrontEndSim.sln"))
            ? folder
            : Find(Path.GetDirectoryName(folder) ?? throw new DirectoryNotFoundException(
                "No folder above the tests holds FrontEndSim.sln."));
}
