using System.Diagnostics;

namespace FrontEndSim.EndToEnd.Tests;

/// <summary>Completion as the shells themselves do it; a shell that is not installed is skipped.</summary>
public class CompletionTests
{
    // A line typed so far, and what completes its last word in a folder with tank.fes, other.csv and notes.txt.
    public static TheoryData<string, string> Lines => new()
    {
        { "frontendsim sw", "sweep" },
        { "frontendsim check ta", "tank.fes" },
        { "frontendsim check tank.fes --js", "--json" },
        { "frontendsim compare tank.fes o", "other.csv" },
        { "frontendsim check no", "" },
        { "frontendsim sweep tank.fes --plot no", "notes.txt" },
        { "frontendsim completion z", "zsh" },
    };

    [Theory, MemberData(nameof(Lines))]
    public void Bash_completes_verbs_options_and_files(string line, string expected)
    {
        const string ask = """
            source <(frontendsim completion bash)
            read -r -a COMP_WORDS <<< "$LINE"
            COMP_CWORD=$((${#COMP_WORDS[@]} - 1)) COMP_LINE=$LINE COMP_POINT=${#LINE}
            _frontendsim
            printf '%s\n' "${COMPREPLY[@]}"
            """;
        Assert.Equal(expected, Ask("bash", ["-c", ask], line));
    }

    [Theory, MemberData(nameof(Lines))]
    public void Fish_completes_verbs_options_and_files(string line, string expected)
    {
        // Fish offers every file and folder; the ending is not looked at.
        if (expected != "")
            Assert.Equal(expected, Ask("fish", ["--no-config", "-c", "frontendsim completion fish | source; complete -C \"$LINE\""], line));
    }

    [Fact]
    public void Zsh_takes_the_script() => Assert.Equal("_frontendsim",
        Ask("zsh", ["-f", "-c", "autoload -U compinit; compinit -u -D; source <(frontendsim completion zsh); print $_comps[frontendsim]"],
            ""));

    [Fact]
    public void A_shell_without_completion_is_named_with_those_that_have_one()
    {
        var run = Frontendsim.Run("completion", "csh");
        Assert.Equal((2, ""), (run.ExitCode, run.Output));
        Assert.Equal("frontendsim: there is no completion for the shell 'csh', only for bash, zsh, fish, pwsh", run.Error.Trim());
    }

    private static string Ask(string shell, string[] args, string line)
    {
        string? program = new[] { "/bin", "/usr/bin", "/usr/local/bin" }.Select(f => Path.Combine(f, shell)).FirstOrDefault(File.Exists);
        Assert.SkipWhen(program is null, $"{shell} is not installed.");
        using var scratch = new Scratch();
        foreach (string file in (string[])["tank.fes", "other.csv", "notes.txt"])
            scratch.Write(file, "");
        string bin = Directory.CreateDirectory(scratch.Path("bin")).FullName, own = Path.Combine(bin, "frontendsim");
        File.WriteAllText(own, $"#!/bin/sh\nexec {string.Join(' ', Frontendsim.Command.Select(w => $"'{w}'"))} \"$@\"\n");
        if (!OperatingSystem.IsWindows())
            File.SetUnixFileMode(own, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
        var start = new ProcessStartInfo(program!, args) { RedirectStandardOutput = true, WorkingDirectory = scratch.Folder };
        start.Environment["PATH"] = bin + ":" + Environment.GetEnvironmentVariable("PATH");
        start.Environment["LINE"] = line;
        start.Environment["HOME"] = scratch.Folder;
        using var process = Process.Start(start)!;
        string output = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return output.Trim();
    }
}
