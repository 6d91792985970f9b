namespace FrontEndSim.EndToEnd.Tests;

/// <summary>frontendsim bench, as a user starts and ends it.</summary>
public class BenchTests
{
    [Fact]
    public async Task The_bench_prints_its_address_serves_its_page_and_ends_with_ctrl_c()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "Ctrl-C is sent with kill.");
        using var process = Frontendsim.StartInterruptible("bench", Frontendsim.Circuit("rain-tank.fes"), "--no-open");
        string? line = await process.StandardOutput.ReadLineAsync(TestContext.Current.CancellationToken);
        Assert.StartsWith("The bench is at http://127.0.0.1:", line);
        using var client = new HttpClient();
        string page = await client.GetStringAsync(line!["The bench is at ".Length..], TestContext.Current.CancellationToken);
        Assert.Contains("<h1>Level probe of a rain tank, to a 3.3 V converter pin</h1>", page, StringComparison.Ordinal);
        Frontendsim.Interrupt(process);
        Assert.Equal("", await process.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken));
        Assert.Equal(0, process.ExitCode);
    }
}
