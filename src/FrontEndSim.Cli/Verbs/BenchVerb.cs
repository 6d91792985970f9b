using System.ComponentModel;
using System.Diagnostics;
using FrontEndSim.Language.Text;
using FrontEndSim.LiveBench;

namespace FrontEndSim.Cli.Verbs;

/// <summary>bench: a local page on which the circuit is played with.</summary>
internal sealed class BenchVerb : Command, IExample
{
    private readonly Argument<string> _file = new("FILE") { Description = "The circuit file (.fes)." };
    private readonly Option<bool> _noOpen = new("--no-open") { Description = "Only print the address; do not open the browser." };
    private readonly IncludesOption _includes = new();
    private readonly Option<int> _port = new("--port")
    {
        HelpName = "PORT",
        Description = "The port to listen on, of this machine alone; a free one if not given."
    };

    /// <inheritdoc/>
    public string Example => "bench circuits/rain-tank.fes";

    public BenchVerb()
        : base("bench",
        "Opens a circuit as a page in the browser: turn the sensor's knob, press a fault, change a value, and watch. Ctrl-C ends it.")
    {
        Arguments.Add(_file);
        Options.Add(_noOpen);
        Options.Add(_port);
        Options.Add(_includes);
        SetAction(Run);
    }

    private async Task<int> Run(ParseResult line, CancellationToken cancel)
    {
        string file = line.GetRequiredValue(_file);
        int port = line.GetValue(_port);
        if (file == "")
            throw new InputException("the name of the circuit file is empty");
        if (SourceFile.Read(file) is (null, { } unreadable))
            throw new DiagnosticsException([unreadable]);
        if (port is < 0 or > 65535)
            throw new InputException($"--port {port} is no port; give one from 1 to 65535");
        BenchServer server;
        try
        {
            server = await BenchServer.StartAsync(file, port, _includes.Folder(line), cancel);
        }
        catch (IOException e)
        {
            throw new InputException(e.Message);
        }
        await using (server)
        {
            Console.Out.WriteLine($"The bench is at {server.Address}");
            Console.Out.WriteLine("It is for this machine alone. Ctrl-C ends it; what is not saved is then lost.");
            if (!line.GetValue(_noOpen))
                Open(server.Address);
            await server.WaitAsync(cancel);
        }
        return ExitCode.Met;
    }

    private static void Open(Uri address)
    {
        try
        {
            using var _ = Process.Start(new ProcessStartInfo(OperatingSystem.IsWindows() ? address.AbsoluteUri
                : OperatingSystem.IsMacOS() ? "open" : "xdg-open")
            {
                UseShellExecute = OperatingSystem.IsWindows(),
                Arguments = OperatingSystem.IsWindows() ? "" : address.AbsoluteUri,
                RedirectStandardError = !OperatingSystem.IsWindows(),
            });
        }
        catch (Exception e) when (e is Win32Exception or InvalidOperationException)
        {
            Console.Out.WriteLine("No browser could be opened; open the address by hand.");
        }
    }
}
