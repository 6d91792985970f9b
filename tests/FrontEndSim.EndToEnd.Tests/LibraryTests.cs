using System.Diagnostics;

namespace FrontEndSim.EndToEnd.Tests;

public class LibraryTests
{
    [Fact]
    public void The_example_of_the_library_prints_what_its_documentation_says()
    {
        var start = new ProcessStartInfo(Environment.GetEnvironmentVariable("DOTNET_HOST_PATH") ?? "dotnet")
        { RedirectStandardOutput = true };
        start.ArgumentList.Add(Path.Combine(AppContext.BaseDirectory, "Divider.dll"));
        using var process = Process.Start(start)!;
        string said = process.StandardOutput.ReadToEnd().Trim();
        process.WaitForExit();

        string page = File.ReadAllText(Path.Combine(Repository.Root, "docs/library.md"));
        string example = File.ReadAllText(Path.Combine(Repository.Root, "examples/divider/Divider.cs"));
        Assert.Equal("OUT 3.333 V, R2 takes 555.6 uW", said); // 5 · 20/30 = 3.333; 3.333² / 20 kohm = 555.6 µW
        Assert.Contains(said, page);
        Assert.Contains(example, page);
        Assert.Equal(10, example.Trim().Split('\n').Length);
    }
}
