using System.Diagnostics;

namespace FrontEndSim.EndToEnd.Tests;

/// <summary>The real program, as a user starts it.</summary>
internal static class Frontendsim
{
    /// <summary>
    /// The words that start the program: that of this build, or the one that FRONTENDSIM_PROGRAM names (the native one, for example).
    /// </summary>
    public static string[] Command { get; } = Environment.GetEnvironmentVariable("FRONTENDSIM_PROGRAM") is { Length: > 0 } program
        ? [program]
        : [Environment.GetEnvironmentVariable("DOTNET_HOST_PATH") ?? "dotnet", Path.Combine(AppContext.BaseDirectory, "frontendsim.dll")];

    /// <summary>
    /// The same for a test that interrupts it. A shell that starts a command in the background lets it ignore Ctrl-C, and so all that it
    /// starts; env of GNU takes that back.
    /// </summary>
    public static string[] Interruptible { get; } = File.Exists("/usr/bin/env") && OperatingSystem.IsLinux()
        ? ["/usr/bin/env", "--default-signal=INT", .. Command] : Command;

    /// <summary>Path of a shipped circuit.</summary>
    public static string Circuit(string name) => Path.Combine(Repository.Root, "circuits", name);

    /// <summary>Runs the program to its end.</summary>
    public static Outcome Run(params string[] args) => Run(args, []);

    /// <summary>Runs the program to its end with some environment variables set.</summary>
    public static Outcome Run(string[] args, params (string Name, string Value)[] environment) => End(Start(args, environment));

    /// <summary>Runs the program to its end in a folder.</summary>
    public static Outcome RunIn(string folder, params string[] args) => End(Start(folder, args));

    /// <summary>Runs the program in a folder and interrupts it once it says something.</summary>
    public static Outcome RunUntilItSays(string beginning, string folder, params string[] args)
    {
        using var process = Start(folder, Interruptible, args);
        string said = process.StandardOutput.ReadLine() ?? "";
        if (!said.StartsWith(beginning, StringComparison.Ordinal) || OperatingSystem.IsWindows())
            process.Kill();
        else
            Interrupt(process);
        string error = process.StandardError.ReadToEnd();
        process.WaitForExit();
        return new Outcome(process.ExitCode, said, error);
    }

    /// <summary>Presses Ctrl-C until the program has ended: as a person would who sees nothing happen.</summary>
    public static void Interrupt(Process process)
    {
        WaitUntilItListens(process);
        do
        {
            using var kill = Process.Start("kill", ["-INT", process.Id.ToString(System.Globalization.CultureInfo.InvariantCulture)]);
            kill.WaitForExit();
        }
        while (!process.WaitForExit(5000));
    }

    /// <summary>Starts the program so that it can be interrupted.</summary>
    public static Process StartInterruptible(params string[] args) => Start(Repository.Root, Interruptible, args);

    /// <summary>Waits until the program has begun to listen for Ctrl-C: Linux says which signals a process catches.</summary>
    public static void WaitUntilItListens(Process process)
    {
        string status = $"/proc/{process.Id}/status";
        const ulong Interrupt = 1UL << 1;
        while (File.Exists(status) && !process.HasExited
            && (Convert.ToUInt64(File.ReadLines(status).First(l => l.StartsWith("SigCgt", StringComparison.Ordinal))[7..].Trim(),
                16) & Interrupt) == 0)
            Thread.Sleep(20);
        // The runtime catches it a moment before the program asks for it.
        Thread.Sleep(File.Exists(status) ? 500 : 1500);
    }

    private static Outcome End(Process started)
    {
        using var process = started;
        var output = process.StandardOutput.ReadToEndAsync();
        var error = process.StandardError.ReadToEndAsync();
        process.WaitForExit();
        return new Outcome(process.ExitCode, output.Result, error.Result);
    }

    /// <summary>Runs the program to its end in a directory that is made for it and is gone before it begins; on Unix.</summary>
    public static Outcome RunInDirectoryThatIsGone(string folder, params string[] args)
    {
        Directory.CreateDirectory(folder);
        return End(Start(folder, ["/bin/sh", "-c", "rmdir \"$PWD\"; exec \"$@\"", "sh", .. Command], args));
    }

    /// <summary>Runs a command of a shell in a folder to its end; its words are given it as $1 and on.</summary>
    public static Outcome RunShell(string folder, string command, params string[] words) =>
        End(Start(folder, ["/bin/sh", "-c", command, "sh"], words));

    /// <summary>Starts the program with its output and errors piped.</summary>
    public static Process Start(string[] args, params (string Name, string Value)[] environment) =>
        Start(Repository.Root, args, environment);

    /// <summary>Runs the program to its end with other settings of the runtime than its own.</summary>
    public static Outcome RunWith(string settings, string[] args, params (string Name, string Value)[] environment) =>
        End(Start(Repository.Root, [Command[0], "exec", "--runtimeconfig", settings, .. Command[1..]], args, environment));

    private static Process Start(string folder, string[] args, params (string Name, string Value)[] environment) =>
        Start(folder, Command, args, environment);

    private static Process Start(string folder, string[] command, string[] args, params (string Name, string Value)[] environment)
    {
        var start = new ProcessStartInfo(command[0])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            WorkingDirectory = folder,
        };
        foreach (string arg in (string[])[.. command[1..], .. args])
            start.ArgumentList.Add(arg);
        foreach (var (name, value) in environment)
            start.Environment[name] = value;
        return Process.Start(start)!;
    }
}

/// <summary>What a run of the program left.</summary>
internal sealed record Outcome(int ExitCode, string Output, string Error);
