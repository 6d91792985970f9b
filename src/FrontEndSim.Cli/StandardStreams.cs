using Microsoft.Win32.SafeHandles;

namespace FrontEndSim.Cli;

/// <summary>Standard input, output and error as the program was started with them.</summary>
internal static class StandardStreams
{
    private const int LastOfThem = 2;

    // For as long as the program runs: closed, their numbers would be given to other files.
    private static readonly List<SafeFileHandle> Held = [];

    /// <summary>Whether standard output was closed at the start, so that nothing can be written to it.</summary>
    public static bool IsOutputClosed { get; private set; }

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
                return;
            }
            Held.Add(next);
            IsOutputClosed |= number == 1;
        }
    }
}
