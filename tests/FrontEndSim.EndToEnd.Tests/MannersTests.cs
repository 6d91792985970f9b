using System.Diagnostics;
using System.Text.RegularExpressions;

namespace FrontEndSim.EndToEnd.Tests;

/// <summary>What the program does with input that is wrong, output that cannot be written, and a reader that leaves.</summary>
public partial class MannersTests
{
    [Fact]
    public void A_missing_file_is_said_in_one_line_and_ends_with_2()
    {
        var run = Frontendsim.Run("check", "circuits/no-such.fes");
        Assert.Equal((2, ""), (run.ExitCode, run.Output));
        Assert.Contains("circuits/no-such.fes", run.Error);
        Assert.Contains("no such file", run.Error);
    }

    [Fact]
    public void A_directory_instead_of_a_file_is_said_and_ends_with_2()
    {
        using var scratch = new Scratch();
        var run = Frontendsim.Run("check", scratch.Folder);
        Assert.Equal((2, ""), (run.ExitCode, run.Output));
        Assert.Contains(scratch.Folder, run.Error);
    }

    [Fact]
    public void A_wrong_unit_in_the_file_is_pointed_at_by_line_and_column()
    {
        using var scratch = new Scratch();
        string file = scratch.Write("wrong.fes", Scratch.Divider.Replace("resistor R1 from IN to PIN 10 kohm",
            "resistor R1 from IN to PIN 10 nF"));
        var run = Frontendsim.Run("bias", file);
        Assert.Equal((2, ""), (run.ExitCode, run.Output));
        Assert.Contains("wrong.fes(6,28)", run.Error);
        Assert.Contains("^", run.Error);
    }

    [Fact]
    public void Several_errors_come_in_one_run()
    {
        using var scratch = new Scratch();
        string file = scratch.Write("wrong.fes", Scratch.Divider.Replace("10 kohm", "10 nF"));
        var run = Frontendsim.Run("bias", file);
        Assert.Equal(2, run.ExitCode);
        Assert.Contains("(6,", run.Error);
        Assert.Contains("(7,", run.Error);
    }

    [Theory]
    [InlineData("chek", "did you mean check?")]
    [InlineData("Sweep", "did you mean sweep?")]
    [InlineData("frobnicate", "--help")]
    public void An_unknown_verb_suggests_the_nearest(string verb, string hint)
    {
        var run = Frontendsim.Run(verb, "circuits/rain-tank.fes");
        Assert.Equal((2, ""), (run.ExitCode, run.Output));
        Assert.Contains($"unknown verb '{verb}'", run.Error);
        Assert.Contains(hint, run.Error);
        Assert.Single(run.Error.TrimEnd().Split('\n'));
    }

    public static TheoryData<string[], string> WrongOptions => new()
    {
        { [], "no verb" },
        { ["bias"], "FILE" },
        { ["bias", "FILE", "FILE"], "too many" },
        { ["bias", "FILE", "--shw", "PIN"], "did you mean --show?" },
        { ["bias", "FILE", "--show", "PNI"], "did you mean PIN?" },
        { ["bias", "FILE", "--json", "--csv"], "exclude each other" },
        { ["sweep", "FILE", "--from", "3 A"], "--from" },
        { ["sweep", "FILE", "--from", "3"], "3 V" },
        { ["sweep", "FILE", "--from", "high"], "--from" },
        { ["sweep", "FILE", "--from", "7 V"], "below" },
        { ["sweep", "FILE", "--points", "1"], "--points" },
        { ["sweep", "FILE", "--points", "many"], "--points" },
        { ["sweep", "FILE", "--sensor", "prob"], "probe" },
        { ["sweep", "FILE", "--plot", "mapping.pdf"], ".png or .svg" },
        { ["events", "FILE", "--event", "thunder"], "12 V on the input" },
        { ["events", "FILE", "--until", "-1 ms"], "--until" },
        { ["respond", "FILE", "--rate", "1 V"], "a frequency is needed" },
        { ["respond", "FILE", "--rate", "1000"], "Try 1000 Hz" },
        { ["budget", "FILE", "--temperatures", "warm"], "-40,25,85" },
        { ["budget", "FILE", "--pin", "acd"], "adc" },
        { ["budget", "FILE", "--trials", "10"], "--trials" },
        { ["build", "FILE", "--meter", "0.1"], "a percentage is needed" },
        { ["build", "FILE", "--meter", "3 V"], "a percentage is needed" },
        { ["compare", "FILE"], "compare needs READINGS" },
        { ["compare", "FILE", "nowhere.csv"], "there is no such file" },
        { ["compare", "FILE", "FILE"], "divider.fes:" },
        { ["report", "FILE", "--out", "FILE"], "is the circuit file itself" },
        { ["report", "FILE", "--out", "/nowhere/page.html"], "there is no directory" },
        { ["parts", "no-such-part"], "frontendsim parts lists all" },
        { ["start", ""], "start needs a NAME" },
        { ["start", "FILE"], "exists already" },
        { ["start", "/nowhere/tank"], "there is no directory" },
        { ["start", "/nowhere/tank", "--pin", "3.3"], "there is no directory" },
        { ["design", "--sensor", "0 V .. 1 V"], "--pin" },
        { ["completion"], "completion needs SHELL" },
        { ["completion", "tcsh"], "bash, zsh, fish, pwsh" },
    };

    [Theory, MemberData(nameof(WrongOptions))]
    public void A_wrong_option_gets_one_line_that_says_what_is_right_and_ends_with_2(string[] args, string hint)
    {
        using var scratch = new Scratch();
        string file = scratch.Write("divider.fes", Scratch.Divider);
        var run = Frontendsim.Run([.. args.Select(a => a == "FILE" ? file : a)]);
        Assert.Equal((2, ""), (run.ExitCode, run.Output));
        Assert.Contains(hint, run.Error);
        Assert.Single(run.Error.TrimEnd().Split('\n'));
        Assert.Equal(["divider.fes"], scratch.Files());
    }

    public static TheoryData<string> FileVerbs => [.. Frontendsim.Run("--help").Output.Split('\n').Select(l => l.Trim())
        .Where(l => l.Contains("<FILE>", StringComparison.Ordinal)).Select(l => l.Split(' ')[0])];

    [Theory, MemberData(nameof(FileVerbs))]
    public void Every_verb_says_in_the_same_way_that_a_file_is_missing_misspelt_or_a_folder(string verb)
    {
        using var scratch = new Scratch();
        string file = scratch.Write("divider.fes", Scratch.Divider);
        string[] more = verb == "compare" ? ["readings.csv"] : [];
        foreach (var (given, says) in new[] { (scratch.Path("dividr.fes"), "did you mean divider.fes?"),
            (scratch.Folder, "This is a folder"), ("", "") })
        {
            var run = Frontendsim.RunIn(scratch.Folder, [verb, given, .. more]);
            Assert.Equal((2, ""), (run.ExitCode, run.Output));
            Assert.Contains(says, run.Error);
            Assert.DoesNotContain("   at ", run.Error);
        }
        Assert.Equal(["divider.fes"], scratch.Files());
    }

    [Theory]
    [InlineData("no-such-folder/out.csv")]
    [InlineData(".")]
    public void An_output_that_cannot_be_written_is_said_in_one_line_and_leaves_nothing_behind(string target)
    {
        using var scratch = new Scratch();
        string file = scratch.Write("divider.fes", Scratch.Divider);
        foreach (string option in new[] { "--out", "--plot" })
        {
            var run = Frontendsim.Run("sweep", file, option, scratch.Path(target) + (option == "--plot" && target != "." ? ".png" : ""));
            Assert.Equal((2, ""), (run.ExitCode, run.Output));
            Assert.Single(run.Error.TrimEnd().Split('\n'));
        }
        Assert.Equal(["divider.fes"], scratch.Files());
    }

    [Fact]
    public void A_file_that_may_not_be_written_keeps_what_it_held()
    {
        Assert.SkipWhen(Environment.IsPrivilegedProcess, "The superuser may write any file.");
        using var scratch = new Scratch();
        string file = scratch.Write("divider.fes", Scratch.Divider), kept = scratch.Write("kept.csv", "kept");
        File.SetAttributes(kept, FileAttributes.ReadOnly);
        var run = Frontendsim.Run("bias", file, "--csv", "--out", kept);
        Assert.Equal(2, run.ExitCode);
        Assert.Contains("permission denied", run.Error);
        Assert.Equal("kept", File.ReadAllText(kept));
        File.SetAttributes(kept, FileAttributes.Normal);
    }

    [Fact]
    public void The_circuit_file_is_never_overwritten_by_an_answer()
    {
        using var scratch = new Scratch();
        string file = scratch.Write("divider.fes", Scratch.Divider);
        var run = Frontendsim.Run("bias", file, "--csv", "--out", scratch.Path("../" + Path.GetFileName(scratch.Folder) + "/divider.fes"));
        Assert.Equal(2, run.ExitCode);
        Assert.Contains("is the circuit file itself", run.Error);
        Assert.Equal(Scratch.Divider, File.ReadAllText(file));
    }

    [Fact]
    public void An_output_file_is_replaced_whole_and_the_terminal_stays_quiet()
    {
        using var scratch = new Scratch();
        string file = scratch.Write("divider.fes", Scratch.Divider), target = scratch.Write("out.csv", new string('x', 100_000));
        var run = Frontendsim.Run("bias", file, "--csv", "--out", target);
        Assert.Equal((0, "", ""), (run.ExitCode, run.Output, run.Error));
        Assert.StartsWith("kind,name,voltage (V)", File.ReadAllText(target));
        Assert.DoesNotContain("x", File.ReadAllText(target)[^200..]);
        Assert.Equal(["divider.fes", "out.csv"], scratch.Files());
    }

    [Fact]
    public void A_device_is_written_and_not_replaced()
    {
        Assert.SkipUnless(File.Exists("/dev/null"), "There is no /dev/null here.");
        using var scratch = new Scratch();
        Assert.Equal(0, Frontendsim.Run("bias", scratch.Write("divider.fes", Scratch.Divider), "--out", "/dev/null").ExitCode);
        Assert.Equal("", File.ReadAllText("/dev/null"));
    }

    [Fact]
    public void A_reader_that_closes_the_pipe_ends_the_program_quietly()
    {
        using var scratch = new Scratch();
        using var process = Frontendsim.Start(["sweep", scratch.Write("divider.fes", Scratch.Divider), "--csv", "--points", "50000"]);
        process.StandardOutput.ReadLine();
        process.StandardOutput.Close();
        string error = process.StandardError.ReadToEnd();
        process.WaitForExit();
        Assert.Equal("", error);
        Assert.Equal(0, process.ExitCode);
    }

    [Fact]
    public void A_full_disk_behind_standard_output_is_said_and_ends_with_2()
    {
        Assert.SkipUnless(File.Exists("/dev/full"), "There is no /dev/full here.");
        using var scratch = new Scratch();
        var run = Frontendsim.Run("bias", scratch.Write("divider.fes", Scratch.Divider), "--out", "/dev/full");
        Assert.Equal(2, run.ExitCode);
        Assert.StartsWith("frontendsim: cannot write '/dev/full'", run.Error);
    }

    // The .NET runtime gives the numbers of closed streams to its own files before the program begins.
    [Theory]
    [InlineData(">&-", 2, "frontendsim: cannot write to standard output: it is closed")]
    [InlineData("<&- >&- 2>&-", 2, "")]
    [InlineData("2>&-", 1, "")]
    public void A_stream_that_is_closed_at_the_start_is_no_file_of_the_run(string closing, int code, string says)
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "Needs a shell, and what Linux tells of open files.");
        using var scratch = new Scratch();
        string file = scratch.Write("divider.fes", Scratch.Divider);
        var run = Frontendsim.RunShell(scratch.Folder, $"\"$@\" report divider.fes --out page.html {closing}", Frontendsim.Command);
        Assert.Equal((code, says), (run.ExitCode, run.Error.Trim()));
        // 12 V on the terminal lift the divider's unloaded supply.
        Assert.Equal(1, Frontendsim.Run("report", file, "--out", scratch.Path("again.html")).ExitCode);
        Assert.Equal(File.ReadAllText(scratch.Path("again.html")), File.ReadAllText(scratch.Path("page.html")));
        Assert.Equal(Scratch.Divider, File.ReadAllText(file));
    }

    [Fact]
    public void Ctrl_C_ends_with_130_and_one_line()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "Sends the signal with kill.");
        // Ten million trials take longer than the test waits before it sends the signal, on any machine.
        using var process = Frontendsim.StartInterruptible("budget", Frontendsim.Circuit("rain-tank.fes"), "--trials", "10000000");
        Frontendsim.WaitUntilItListens(process);
        using (var kill = Process.Start("kill", ["-INT", process.Id.ToString()]))
            kill.WaitForExit();
        string output = process.StandardOutput.ReadToEnd(), error = process.StandardError.ReadToEnd();
        process.WaitForExit();
        Assert.Equal((130, ""), (process.ExitCode, output));
        Assert.Equal("frontendsim: stopped", error.Trim());
    }

    [Theory]
    [InlineData("check")]
    [InlineData("bias")]
    [InlineData("sweep")]
    [InlineData("events")]
    public void Piped_output_is_plain_text_no_wider_than_100_columns(string verb)
    {
        using var scratch = new Scratch();
        var run = Frontendsim.Run(verb, scratch.Write("divider.fes", Scratch.Divider));
        // 12 V on the terminal lift the divider's unloaded supply: check says so.
        Assert.Equal(verb == "check" ? 1 : 0, run.ExitCode);
        Assert.DoesNotContain("\u001b", run.Output);
        Assert.All(run.Output.Split('\n'), line => Assert.InRange(line.Length, 0, 100));
    }

    // "  check <FILE>     Says whether ..."
    public static TheoryData<string> Verbs => [.. Frontendsim.Run("--help").Output.Split('\n').SkipWhile(l => l != "Commands:").Skip(1)
        .TakeWhile(l => l.Trim() != "").Select(l => l.Trim().Split(' ')[0])];

    [Theory, MemberData(nameof(Verbs))]
    public void The_example_in_a_verbs_help_works_when_pasted(string verb)
    {
        var help = Frontendsim.Run(verb, "--help");
        Assert.Equal((0, ""), (help.ExitCode, help.Error));
        string example = help.Output.Split('\n').SkipWhile(l => l != "Example:").ElementAt(1).Trim();
        Assert.StartsWith($"frontendsim {verb}", example);

        // In a copy, so that what it writes goes nowhere else.
        using var scratch = new Scratch();
        Directory.CreateDirectory(scratch.Path("circuits"));
        foreach (string file in Directory.GetFiles(Path.Combine(Repository.Root, "circuits")))
            File.Copy(file, Path.Combine(scratch.Path("circuits"), Path.GetFileName(file)));
        string[] words = [.. Word().Matches(example["frontendsim ".Length..]).Select(m => m.Value.Trim('"'))];
        // The bench goes on until it is stopped: BenchTests does so.
        var run = verb == "bench" ? Frontendsim.RunUntilItSays("The bench is at ", scratch.Folder, [.. words, "--no-open"])
            : Frontendsim.RunIn(scratch.Folder, words);
        // A verb that judges may find what it looks for; anything above 1 is an error.
        Assert.InRange(run.ExitCode, 0, 1);
        Assert.Equal("", run.Error);
        // It does what it says it writes.
        for (int k = 0; k + 1 < words.Length; k++)
        {
            if (words[k] is "--plot" or "--out" or "--write")
                Assert.True(File.Exists(scratch.Path(words[k + 1])), words[k + 1]);
        }
    }

    [Fact]
    public void Every_verb_that_there_is_stands_in_the_readme_and_the_changelog()
    {
        string readme = File.ReadAllText(Path.Combine(Repository.Root, "README.md")),
            changes = File.ReadAllText(Path.Combine(Repository.Root, "CHANGELOG.md"));
        foreach (string verb in Verbs.Select(v => v.Data))
        {
            Assert.Matches($@"\b{verb}\b", readme);
            Assert.Matches($@"`(frontendsim )?{verb}\b", changes);
        }
    }

    [GeneratedRegex("""
        "[^"]*"|\S+
        """)]
    private static partial Regex Word();
}
