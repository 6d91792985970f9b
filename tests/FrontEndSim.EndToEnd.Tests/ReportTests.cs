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

    // The inputs of a follower are swapped: its currents balance where its output follows, and it does not stay there.
    private const string Swapped = """
        rail VDD 5 V tolerance 1%
        sensor probe drives IN
            span 0.5 V .. 4.5 V
            source 1k
        opamp U1 rail-to-rail-cmos plus OUT minus IN output OUT on VDD and GND
        resistor R1 from OUT to PIN 1k 1%
        pin adc at PIN
            converts 12 bits over 0 V .. VDD
        """;

    [Fact]
    public void A_sweep_a_check_and_a_report_of_an_unstable_circuit_show_where_it_settles_to()
    {
        using var scratch = new Scratch();
        string file = scratch.Write("swapped.fes", Swapped), page = scratch.Path("swapped.html");
        string lands = Frontendsim.Run("sweep", file).Output.Split('\n').Single(l => l.StartsWith("Mapping", StringComparison.Ordinal));
        // The output stands at the negative rail, within what its swing leaves of it.
        Assert.Contains("lands on adc 22.29 mV .. 22.29 mV", lands, StringComparison.Ordinal);
        Assert.Contains(lands, Frontendsim.Run("check", file).Output, StringComparison.Ordinal);
        Frontendsim.Run("report", file, "--out", page);
        string mapping = File.ReadAllText(page).Split("id=\"mapping\"")[1].Split("<h2")[1];
        Assert.Contains("22.29 mV", mapping, StringComparison.Ordinal);
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
