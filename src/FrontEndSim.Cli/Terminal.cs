using FrontEndSim.Language.Text;
using Spectre.Console;
using Spectre.Console.Rendering;

namespace FrontEndSim.Cli;

/// <summary>How wide the terminal is, and whether it shows colour.</summary>
internal static class Terminal
{
    private const int UsualWidth = 100;

    /// <summary>Whether colour is wanted on standard output: a terminal, and neither NO_COLOR (no-color.org) nor TERM=dumb.</summary>
    public static bool ShowsColour =>
        !Console.IsOutputRedirected && string.IsNullOrEmpty(Environment.GetEnvironmentVariable("NO_COLOR"))
        && Environment.GetEnvironmentVariable("TERM") != "dumb";

    /// <summary>One line on standard error, with the program's name before it.</summary>
    public static void Complain(string message) => Tell("frontendsim: " + message);

    /// <summary>Lines on standard error. What it does not take is lost: there is nowhere else to say it, and the exit code still
    /// tells.</summary>
    public static void Tell(string lines)
    {
        if (StandardStreams.IsErrorClosed)
            return;
        try
        {
            Console.Error.WriteLine(Safe(lines));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
        }
    }

    /// <summary>Words that a file or its name may have brought along, without what a terminal would take for an order: control
    /// characters, and those that turn the direction of writing, show as �.</summary>
    public static string Safe(string words) =>
        string.Concat(words.Select(c => c is not ('\n' or '\t') && Unprintable.Is(c) ? '\uFFFD' : c));

    /// <summary>Writes to standard output. A reader that has left is no error; the runtime keeps quiet about it.</summary>
    /// <exception cref="InputException">Standard output does not take it: a full disk, for example.</exception>
    public static void Write(string text)
    {
        if (StandardStreams.IsOutputClosed)
            throw new InputException("cannot write to standard output: it is closed");
        try
        {
            Console.Out.Write(text);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new InputException($"cannot write to standard output: {e.Message}");
        }
    }

    /// <summary>The terminal as one that asks and is answered.</summary>
    public static IAnsiConsole Interactive() => new EndableConsole(AnsiConsole.Create(new AnsiConsoleSettings
    {
        Ansi = ShowsColour ? AnsiSupport.Detect : AnsiSupport.No,
        ColorSystem = ShowsColour ? ColorSystemSupport.Detect : ColorSystemSupport.NoColors,
        Interactive = InteractionSupport.Yes,
    }));

    /// <summary>Lays blocks out as lines of text no wider than the terminal (100 columns where there is none).</summary>
    public static string Text(IEnumerable<IRenderable> blocks, bool colour)
    {
        var writer = new StringWriter { NewLine = "\n" };
        var console = AnsiConsole.Create(new AnsiConsoleSettings
        {
            Ansi = colour ? AnsiSupport.Yes : AnsiSupport.No,
            ColorSystem = colour ? ColorSystemSupport.Standard : ColorSystemSupport.NoColors,
            Out = new AnsiConsoleOutput(writer),
        });
        // Some terminals do not know their width and say 0.
        console.Profile.Width = !Console.IsOutputRedirected && Console.WindowWidth is > 0 and var width
            ? Math.Clamp(width, 40, UsualWidth) : UsualWidth;
        foreach (var block in blocks)
        {
            if (colour)
                console.Write(block);
            else // a console without colour would still set and reset that of the real terminal
                writer.Write(string.Concat(block.GetSegments(console).Where(s => !s.IsControlCode).Select(s => s.Text)));
        }
        // Table cells are padded to their column's width; no line needs its last spaces.
        return string.Concat(writer.ToString().Split('\n').Select(l => l.TrimEnd() + "\n")).TrimEnd('\n') + "\n";
    }
}
