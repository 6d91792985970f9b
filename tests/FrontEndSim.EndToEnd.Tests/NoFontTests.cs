using System.Diagnostics;

namespace FrontEndSim.EndToEnd.Tests;

/// <summary>The program on a machine without fonts, made by hiding them from it.</summary>
public class NoFontTests
{
    [Fact]
    public void A_picture_says_what_to_install_and_is_not_written()
    {
        using var scratch = new Scratch();
        var run = WithoutFonts("sweep", Frontendsim.Circuit("rain-tank.fes"), "--plot", scratch.Path("mapping.png"));
        Assert.Equal((2, ""), (run.ExitCode, run.Output));
        Assert.Equal("frontendsim: this machine has no fonts, so a picture would have no words; install one (on Debian: apt install "
            + "fonts-dejavu-core) and try again", run.Error.Trim());
        Assert.Empty(scratch.Files());
    }

    [Fact]
    public void The_report_needs_none()
    {
        using var scratch = new Scratch();
        var run = WithoutFonts("report", Frontendsim.Circuit("student-summing.fes"), "--out", scratch.Path("page.html"));
        Assert.Equal((0, ""), (run.ExitCode, run.Error));
        Assert.Contains("</svg>", File.ReadAllText(scratch.Path("page.html")));
    }

    private static Outcome WithoutFonts(params string[] args)
    {
        const string fonts = "/usr/share/fonts";
        Assert.SkipUnless(File.Exists("/usr/bin/unshare") && Directory.Exists(fonts), "Hides the fonts with unshare(1) of util-linux.");
        string[] words = [.. Frontendsim.Command, .. args];
        string hide = $"mount -t tmpfs none {fonts} || exit 77; exec {string.Join(' ', words.Select(w => $"'{w}'"))}";
        using var process = Process.Start(new ProcessStartInfo("/usr/bin/unshare", ["-rm", "sh", "-c", hide])
        { RedirectStandardOutput = true, RedirectStandardError = true })!;
        var output = process.StandardOutput.ReadToEndAsync();
        string error = process.StandardError.ReadToEnd();
        process.WaitForExit();
        Assert.SkipWhen(process.ExitCode == 77 || error.Contains("unshare", StringComparison.Ordinal),
            "This machine does not let its users hide a folder: " + error);
        return new(process.ExitCode, output.Result, error);
    }
}
