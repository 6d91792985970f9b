using System.Diagnostics;
using System.Text;

namespace FrontEndSim.EndToEnd.Tests;

/// <summary>The real program on a terminal of its own, made by script(1) of util-linux; tests skip where that is not installed.</summary>
internal sealed class PseudoTerminal : IDisposable
{
    private const string Program = "/usr/bin/script";
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(1);

    private readonly Process _process;
    private readonly StringBuilder _shown = new();
    private int _read;

    private PseudoTerminal(Process process) => _process = process;

    /// <summary>All that the terminal was sent.</summary>
    public string Shown => _shown.ToString();

    public static PseudoTerminal Start(string folder, string[] args, params (string Name, string Value)[] environment)
    {
        Assert.SkipUnless(File.Exists(Program), $"{Program} is not installed (on Debian: apt install bsdutils).");
        string[] words = [.. Frontendsim.Interruptible, .. args];
        var start = new ProcessStartInfo(Program, ["-qec", string.Join(' ', words.Select(w => "'" + w + "'")), "/dev/null"])
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            WorkingDirectory = folder,
        };
        foreach (var (name, value) in environment.Prepend(("TERM", "xterm-256color")))
            start.Environment[name] = value;
        return new(Process.Start(start)!);
    }

    /// <summary>Waits until the terminal has shown some words since the last wait.</summary>
    public async Task Until(string words)
    {
        using var patience = new CancellationTokenSource(Patience);
        char[] block = new char[1000];
        int found;
        while ((found = Shown.IndexOf(words, _read, StringComparison.Ordinal)) < 0)
        {
            int count = await _process.StandardOutput.ReadAsync(block, patience.Token);
            Assert.True(count > 0, $"The program ended before it said '{words}': {Shown}");
            _shown.Append(block, 0, count);
        }
        _read = found + words.Length;
    }

    /// <summary>Presses keys.</summary>
    public async Task Type(string keys)
    {
        await _process.StandardInput.WriteAsync(keys);
        await _process.StandardInput.FlushAsync();
    }

    /// <summary>Waits for the end of the program.</summary>
    public async Task<int> ExitCode()
    {
        using var patience = new CancellationTokenSource(Patience);
        _shown.Append(await _process.StandardOutput.ReadToEndAsync(patience.Token));
        await _process.WaitForExitAsync(patience.Token);
        return _process.ExitCode;
    }

    public void Dispose()
    {
        if (!_process.HasExited)
            _process.Kill(entireProcessTree: true);
        _process.Dispose();
    }
}
