using System.Diagnostics;

namespace FrontEndSim.EndToEnd.Tests;

public class ReportTests
{
    [Fact]
    public void A_report_holds_the_text_of_the_circuit_file_and_ends_as_check_does()
    {
        using var scratch = new Scratch();
        string file = scratch.Path("divider.fes"), page = scratch.Path("divider.html");
        File.WriteAllText(file, Scratch.Divider + "\nrequire adc mapping error under 1 counts\nrequire adc inside rating in every event\n");

        var report = Frontendsim.Run("report", file, "--out", page);

        Assert.Equal(Frontendsim.Run("check", file).ExitCode, report.ExitCode);
        string html = File.ReadAllText(page);
        Assert.StartsWith("<!DOCTYPE html>", html);
        Assert.Contains("resistor R1 from IN to PIN 10 kohm", html);
        Assert.Contains("Divider into a 3.3 V converter pin", html);
    }

    [Fact]
    public void A_report_does_not_write_over_the_circuit_file_nor_into_a_folder_that_is_not_there()
    {
        using var scratch = new Scratch();
        string file = scratch.Path("divider.fes");
        File.WriteAllText(file, Scratch.Divider);

        Assert.Equal(2, Frontendsim.Run("report", file, "--out", file).ExitCode);
        Assert.Equal(2, Frontendsim.Run("report", file, "--out", scratch.Path("no/such/page.html")).ExitCode);
        Assert.Equal(Scratch.Divider, File.ReadAllText(file));
    }

    [Fact]
    public async Task Watching_writes_the_report_again_when_the_file_is_saved_and_keeps_the_last_good_one_on_an_error()
    {
        using var scratch = new Scratch();
        string file = scratch.Path("divider.fes"), page = scratch.Path("divider.html");
        File.WriteAllText(file, Scratch.Divider);
        using var watching = Frontendsim.Start(["report", file, "--out", page, "--watch"]);
        try
        {
            await Until(watching, "watching divider.fes");
            Assert.Contains("Divider into", File.ReadAllText(page));

            File.WriteAllText(file, Scratch.Divider.Replace("Divider into", "Halving for"));
            await Until(watching, "watching divider.fes");
            Assert.Contains("Halving for", File.ReadAllText(page));

            File.WriteAllText(file, Scratch.Divider + "\nresistor R3 from\n");
            string said = await Until(watching, "watching divider.fes");
            Assert.Contains("error", said);
            Assert.Contains("Halving for", File.ReadAllText(page));
        }
        finally
        {
            watching.Kill();
            await watching.WaitForExitAsync(TestContext.Current.CancellationToken);
        }
    }

    /// <summary>Reads what the program says on standard error up to a line with these words.</summary>
    private static async Task<string> Until(Process process, string words)
    {
        using var patience = new CancellationTokenSource(TimeSpan.FromMinutes(2));
        string said = "";
        while (await process.StandardError.ReadLineAsync(patience.Token) is { } line)
        {
            said += line + "\n";
            if (line.Contains(words, StringComparison.Ordinal))
                return said;
        }
        throw new InvalidOperationException("The program ended: " + said);
    }
}
