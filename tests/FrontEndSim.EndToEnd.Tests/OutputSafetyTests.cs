using System.Xml.Linq;

namespace FrontEndSim.EndToEnd.Tests;

/// <summary>What a run reads is never written, whatever its name; what it writes is one file each.</summary>
public class OutputSafetyTests
{
    private static readonly string Required = Scratch.CalmDivider + "\nrequire adc mapping error under 1 counts\n";

    [Fact]
    public void The_circuit_is_not_overwritten_through_a_link_nor_an_included_file_by_its_name()
    {
        using var scratch = new Scratch();
        string part = scratch.Write("rails.fes", "rail VX 5 V\n"),
            file = scratch.Write("divider.fes", Scratch.Divider + "\ninclude \"rails.fes\"\n"), link = scratch.Path("link.json");
        File.CreateSymbolicLink(link, file);
        foreach (string target in new[] { file, link, part })
        {
            string before = File.ReadAllText(target);
            var run = Frontendsim.Run("bias", file, "--json", "--out", target);
            Assert.Equal((2, ""), (run.ExitCode, run.Output));
            Assert.Contains("name another file", run.Error);
            Assert.Equal(before, File.ReadAllText(target));
        }
    }

    [Fact]
    public void Two_outputs_are_two_files()
    {
        using var scratch = new Scratch();
        string both = scratch.Path("both.svg");
        var run = Frontendsim.Run("sweep", scratch.Write("divider.fes", Scratch.Divider), "--plot", both, "--out", both);
        Assert.Equal((2, false), (run.ExitCode, File.Exists(both)));
        Assert.Contains("--out", run.Error);
    }

    [Fact]
    public void A_file_that_is_replaced_keeps_its_permissions()
    {
        if (OperatingSystem.IsWindows())
        {
            Assert.Skip("Permissions of this kind are Unix's.");
            return;
        }
        using var scratch = new Scratch();
        string target = scratch.Write("private.json", "{}");
        File.SetUnixFileMode(target, UnixFileMode.UserRead | UnixFileMode.UserWrite);
        Assert.Equal(0, Frontendsim.Run("bias", scratch.Write("divider.fes", Scratch.Divider), "--json", "--out", target).ExitCode);
        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(target));
        Assert.Contains("nodeVolts", File.ReadAllText(target));
    }

    [Fact]
    public void Many_files_end_with_the_gravest_code_and_every_one_is_told()
    {
        using var scratch = new Scratch();
        string good = scratch.Write("good.fes", Required),
            failed = scratch.Write("failed.fes", Required.Replace("PIN to GND 10 kohm", "PIN to GND 11 kohm")),
            broken = scratch.Write("broken.fes", "rial VDD 3 V\n"), xml = scratch.Path("junit.xml");
        var run = Frontendsim.Run("check", good, failed, broken, "--junit", xml);
        Assert.Equal((2, ""), (run.ExitCode, run.Error));
        Assert.Contains("2 of 3 files are not met", run.Output);
        Assert.Equal(1, Frontendsim.Run("check", good, failed).ExitCode);
        Assert.Equal(0, Frontendsim.Run("check", good, good).ExitCode);
        var suites = XDocument.Load(xml).Root!;
        Assert.Equal(["good.fes", "failed.fes", "broken.fes"], suites.Elements().Select(s => Path.GetFileName(s.Attribute("name")!.Value)));
        Assert.Single(suites.Descendants("failure"));
        Assert.Single(suites.Descendants("error"));
    }

    [Fact]
    public void What_fails_though_nobody_required_it_is_a_failure_for_a_build_server_too()
    {
        using var scratch = new Scratch();
        // 25 W in a quarter of a watt, and no requirement.
        string file =
            scratch.Write("burning.fes",
                "circuit \"A burning resistor\"\nsource V1 from IN to GND 50 V\nresistor R1 from IN to GND 100 ohm\n"),
            xml = scratch.Path("junit.xml");
        Assert.Equal(1, Frontendsim.Run("check", file, "--junit", xml).ExitCode);
        Assert.Contains("rated power", Assert.Single(XDocument.Load(xml).Descendants("failure")).Value);
        Assert.Contains("every part inside rating", Frontendsim.Run("check", file, file).Output);
    }

    [Fact]
    public void Control_characters_of_a_title_do_not_reach_the_terminal()
    {
        using var scratch = new Scratch();
        var run = Frontendsim.Run("bias", scratch.Write("divider.fes", Scratch.Divider.Replace("circuit \"", "circuit \"\u001b[2J")));
        Assert.DoesNotContain('\u001b', run.Output + run.Error);
    }
}
