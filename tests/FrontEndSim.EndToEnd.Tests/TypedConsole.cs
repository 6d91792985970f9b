using FrontEndSim.Cli;
using Spectre.Console;
using Spectre.Console.Rendering;

namespace FrontEndSim.EndToEnd.Tests;

/// <summary>A terminal at which somebody types these keys; after the last of them they press Ctrl-D.</summary>
internal sealed class TypedConsole : IAnsiConsole, IAnsiConsoleInput
{
    private readonly IAnsiConsole _inner;
    private readonly StringWriter _shown = new();
    private readonly Queue<char> _keys;

    /// <param name="lines">What is typed, each followed by Enter; an empty one is Enter alone.</param>
    public TypedConsole(params string[] lines)
    {
        _keys = new(string.Concat(lines.Select(l => l + "\r")));
        _inner = AnsiConsole.Create(new AnsiConsoleSettings
        {
            Ansi = AnsiSupport.No,
            ColorSystem = ColorSystemSupport.NoColors,
            Interactive = InteractionSupport.Yes,
            Out = new AnsiConsoleOutput(_shown),
        });
        _inner.Profile.Width = 200;
    }

    /// <summary>All that stands on the screen.</summary>
    public string Shown => _shown.ToString();

    /// <summary>The console that the program asks at.</summary>
    public IAnsiConsole Endable => new EndableConsole(this);

    public Profile Profile => _inner.Profile;

    public IAnsiConsoleCursor Cursor => _inner.Cursor;

    public IAnsiConsoleInput Input => this;

    public IExclusivityMode ExclusivityMode => _inner.ExclusivityMode;

    public RenderPipeline Pipeline => _inner.Pipeline;

    public void Clear(bool home) => _inner.Clear(home);

    public void Write(IRenderable renderable) => _inner.Write(renderable);

    public void WriteAnsi(Action<AnsiWriter> action) => _inner.WriteAnsi(action);

    public bool IsKeyAvailable() => true;

    public ConsoleKeyInfo? ReadKey(bool intercept) => Key(_keys.TryDequeue(out char key) ? key : '\u0004');

    public Task<ConsoleKeyInfo?> ReadKeyAsync(bool intercept, CancellationToken cancellationToken)
    {
        cancellationToken.ThrowIfCancellationRequested();
        return Task.FromResult(ReadKey(intercept));
    }

    private static ConsoleKeyInfo? Key(char c) => new(c, c == '\r' ? ConsoleKey.Enter : ConsoleKey.None, false, false, false);
}
