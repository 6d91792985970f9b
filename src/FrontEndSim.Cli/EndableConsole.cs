using Spectre.Console;
using Spectre.Console.Rendering;

namespace FrontEndSim.Cli;

/// <summary>A terminal on which Ctrl-D ends the asking as Ctrl-C does; a prompt by itself would pass over it.</summary>
/// <param name="inner">The terminal.</param>
internal sealed class EndableConsole(IAnsiConsole inner) : IAnsiConsole, IAnsiConsoleInput
{
    private const char EndOfTransmission = '\u0004';

    public Profile Profile => inner.Profile;

    public IAnsiConsoleCursor Cursor => inner.Cursor;

    public IAnsiConsoleInput Input => this;

    public IExclusivityMode ExclusivityMode => inner.ExclusivityMode;

    public RenderPipeline Pipeline => inner.Pipeline;

    public void Clear(bool home) => inner.Clear(home);

    public void Write(IRenderable renderable) => inner.Write(renderable);

    public void WriteAnsi(Action<AnsiWriter> action) => inner.WriteAnsi(action);

    public bool IsKeyAvailable() => inner.Input.IsKeyAvailable();

    public ConsoleKeyInfo? ReadKey(bool intercept) => Passed(inner.Input.ReadKey(intercept));

    public async Task<ConsoleKeyInfo?> ReadKeyAsync(bool intercept, CancellationToken cancellationToken) =>
        Passed(await inner.Input.ReadKeyAsync(intercept, cancellationToken));

    private static ConsoleKeyInfo? Passed(ConsoleKeyInfo? key) =>
        key is { KeyChar: EndOfTransmission } or { Key: ConsoleKey.D, Modifiers: ConsoleModifiers.Control }
        ? throw new OperationCanceledException("The person at the terminal ended the input.") : key;
}
