namespace FrontEndSim.EndToEnd.Tests;

/// <summary>Circuits that are allowed and odd: every verb answers or says what it lacks; none ends with an internal error.</summary>
public class OddCircuitsTests
{
    private static readonly string[] Verbs = ["check", "faults", "explain", "budget", "respond", "build"];

    public static TheoryData<string, string> Circuits => new()
    {
        {
            "a template that leaves its output open", """
            circuit "Open output"
            rail VDD 3.3 V
            sensor probe drives IN
                span 0 V .. 3 V
                source 1 kohm
            template tap from A to B
                resistor R1 from A to GND 10k
            stage t is tap
                from IN to OPEN
            resistor R2 from IN to PIN 1k
            pin adc at PIN
                type converter-3v3 on VDD
            """
        },
        {
            "a sensor of a span so small that values run out", """
            circuit "Very small"
            rail VDD 3.3 V
            sensor probe drives PIN
                span 0 V .. 1e-300 V
                source 1e-9 ohm
            pin adc at PIN
                type converter-3v3 on VDD
            """
        },
        {
            "a sensor far beyond everything", """
            circuit "Very large"
            rail VDD 3.3 V
            sensor probe drives IN
                span -1e9 V .. 1e9 V
                source 1 ohm
            resistor R1 from IN to PIN 1e12 ohm
            pin adc at PIN
                type converter-3v3 on VDD
            """
        },
        { "nothing but a rail", "circuit \"Bare\"\nrail VDD 3.3 V\nresistor R1 from VDD to GND 1k\n" },
        {
            "a pin on a rail", """
            circuit "Pin on a rail"
            rail VDD 3.3 V
            resistor R1 from VDD to GND 1k
            pin adc at VDD
                type converter-3v3 on VDD
            """
        },
    };

    [Theory, MemberData(nameof(Circuits))]
    public void A_verb_answers_or_says_in_a_line_what_it_lacks(string what, string text)
    {
        using var scratch = new Scratch();
        string file = scratch.Write("odd.fes", text);
        foreach (string verb in Verbs)
        {
            var run = Frontendsim.Run(verb, file);
            Assert.True(run.ExitCode is >= 0 and <= 3, $"{what}: {verb} ended with {run.ExitCode}: {run.Error}");
        }
        var report = Frontendsim.RunIn(scratch.Folder, "report", file);
        Assert.True(report.ExitCode is >= 0 and <= 3, $"{what}: report ended with {report.ExitCode}: {report.Error}");
    }

    [Fact]
    public void Readings_without_an_end_are_refused_in_one_line()
    {
        if (!File.Exists("/dev/zero"))
            Assert.Skip("There is no file without an end here.");
        using var scratch = new Scratch();
        var run = Frontendsim.Run("compare", scratch.Write("divider.fes", Scratch.Divider), "/dev/zero");
        Assert.Equal((2, "frontendsim: cannot read '/dev/zero': it is longer than 10 MB, which no bench fills"),
            (run.ExitCode, run.Error.Trim()));
    }

    [Fact]
    public void A_file_in_a_directory_that_is_gone_cannot_be_read()
    {
        if (OperatingSystem.IsWindows())
            Assert.Skip("A directory in use stays there.");
        using var scratch = new Scratch();
        var run = Frontendsim.RunInDirectoryThatIsGone(scratch.Path("gone"), "bias", "x.fes");
        Assert.Equal((2, "x.fes: error FES104: The file cannot be read: the working directory is gone."), (run.ExitCode, run.Error.Trim()));
    }
}
