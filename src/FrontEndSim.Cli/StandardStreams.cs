using Microsoft.Win32.SafeHandles;

namespace FrontEndSim.Cli;

/// <summary>Standard input, output and error as the program was started with them.</summary>
internal static class StandardStreams
{
    private const int LastOfThem = 2;

    // For as long as the program runs: closed, their numbers would be given to other files.
    private static readonly List<SafeFileHandle> Held = [];

    // Of an open file that no program started by this one inherits, 02000000 in octal (fcntl.h of Linux).
    private const int CloseOnExec = 0x80000;

    /// <summary>Whether standard output was closed at the start, so that nothing can be written to it.</summary>
    public static bool IsOutputClosed { get; private set; }

    /// <summary>Whether standard error was.</summary>
    public static bool IsErrorClosed { get; private set; }

    /// <summary>
    /// Takes the numbers of those that were closed at the start (<c>&gt;&amp;-</c> of a shell), before any other file gets them: a page
    /// could be written into a file that the program reads, or a line on standard error into the pipe that the runtime is told of signals
    /// by. What takes them can be read as empty and not be written.
    /// </summary>
    public static void HoldClosed()
    {
        if (OperatingSystem.IsWindows())
            return;
        while (true)
        {
            var next = File.OpenHandle("/dev/null");
            int number = (int)next.DangerousGetHandle();
            if (number > LastOfThem)
            {
                next.Dispose();
                break;
            }
            Held.Add(next);
        }
        IsOutputClosed = WasClosed(1);
        IsErrorClosed = WasClosed(2);
    }

    // The runtime may have taken a number for itself before: what it opens is closed on exec, and so cannot have come with the program.
    private static bool WasClosed(int number)
    {
        if (Held.Any(h => (int)h.DangerousGetHandle() == number))
            return true;
        string of = $"/proc/self/fdinfo/{number}";
        return File.Exists(of) && File.ReadLines(of).FirstOrDefault(l => l.StartsWith("flags:", StringComparison.Ordinal)) is { } flags
            && (Convert.ToInt32(flags["flags:".Length..].Trim(), 8) & CloseOnExec) != 0;
    }
}
