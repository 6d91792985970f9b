using System.Net;
using System.Security.Cryptography;
using System.Text.Json;
using FrontEndSim.Reporting.Html;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;

namespace FrontEndSim.LiveBench;

/// <summary>
/// The live bench: a page on which a circuit is played with. A change on the page is an edit of the text or a turn of a knob; the
/// circuit is solved again and the pieces of the page that differ are sent to every tab. Listens on the loopback interface alone.
/// </summary>
public sealed class BenchServer : IAsyncDisposable
{
    // A circuit file has at most 4 MB; escaped in JSON it may take six times that.
    private const long LargestAsk = 6L * Language.Text.SourceFile.LargestBytes;

    private readonly WebApplication _app;
    private readonly Bench _bench;

    private BenchServer(WebApplication app, Bench bench, Uri address) => (_app, _bench, Address) = (app, bench, address);

    /// <summary>Address of the page, with the key that it is opened by.</summary>
    public Uri Address { get; }

    /// <summary>Opens a circuit file on the bench.</summary>
    /// <param name="file">Path of the circuit file, which must be readable.</param>
    /// <param name="port">Port to listen on; 0 for a free one.</param>
    /// <param name="includesBelow">The folder that included files must lie below; null for the circuit's own.</param>
    /// <param name="cancel">Ends the bench.</param>
    /// <exception cref="IOException">The port is taken, or the file cannot be read.</exception>
    public static async Task<BenchServer> StartAsync(string file, int port = 0, string? includesBelow = null,
        CancellationToken cancel = default)
    {
        var disk = new CircuitOnDisk(file, includesBelow);
        var (text, problem) = disk.Read();
        if (text is null)
            throw new IOException($"{file}: {problem}");
        string key = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(16));
        var builder = WebApplication.CreateSlimBuilder(new WebApplicationOptions { Args = [], ContentRootPath = AppContext.BaseDirectory });
        builder.Logging.ClearProviders();
        builder.WebHost.ConfigureKestrel(k =>
        {
            k.Listen(IPAddress.Loopback, port);
            k.AddServerHeader = false;
            k.Limits.MaxRequestBodySize = LargestAsk;
        });
        var app = builder.Build();
        var bench = new Bench(disk, text);
        app.Use(AccessCheck.Of(key));
        Map(app, bench, "/" + key);
        await app.StartAsync(cancel);
        string bound = app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.First();
        bench.Start();
        return new BenchServer(app, bench, new Uri($"{bound.TrimEnd('/')}/{key}/"));
    }

    /// <summary>Waits until the bench is ended.</summary>
    /// <param name="cancel">Ends it.</param>
    public async Task WaitAsync(CancellationToken cancel)
    {
        // Ctrl-C stops the host as well, whichever of the two hears it first.
        using var ended = CancellationTokenSource.CreateLinkedTokenSource(cancel, _app.Lifetime.ApplicationStopping);
        try
        {
            await Task.Delay(Timeout.Infinite, ended.Token);
        }
        catch (OperationCanceledException)
        {
            // The end that was asked for.
        }
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        _bench.Dispose();
        using var soon = new CancellationTokenSource(TimeSpan.FromSeconds(1));
        try
        {
            await _app.StopAsync(soon.Token);
        }
        catch (OperationCanceledException)
        {
            // A tab kept its stream open.
        }
        await _app.DisposeAsync();
    }

    private static void Map(WebApplication app, Bench bench, string root)
    {
        app.Run(context => (context.Request.Method, context.Request.Path.Value![root.Length..]) switch
        {
            ("GET", "/") => Send(context, "text/html; charset=utf-8", BenchPage.Document(bench.Title)),
            ("GET", "/bench.js") => Send(context, "text/javascript; charset=utf-8", Resource("bench.js")),
            ("GET", "/bench.css") => Send(context, "text/css; charset=utf-8", HtmlReport.Style() + Resource("bench.css")),
            ("GET", "/changes") => Stream(context, bench),
            ("POST", "/do") => Do(context, bench),
            _ => Refuse(context, StatusCodes.Status404NotFound),
        });
    }

    private static async Task Do(HttpContext context, Bench bench)
    {
        Ask? ask;
        try
        {
            ask = await JsonSerializer.DeserializeAsync(context.Request.Body, Messages.Default.Ask, context.RequestAborted);
        }
        catch (JsonException)
        {
            await Refuse(context, StatusCodes.Status400BadRequest);
            return;
        }
        context.Response.StatusCode = ask is not null && bench.Do(ask) ? StatusCodes.Status204NoContent : StatusCodes.Status400BadRequest;
    }

    private static async Task Stream(HttpContext context, Bench bench)
    {
        context.Response.ContentType = "text/event-stream";
        context.Response.Headers.CacheControl = "no-store";
        using var tab = bench.Open();
        try
        {
            await foreach (var change in tab.Changes(context.RequestAborted))
            {
                await context.Response.WriteAsync("data: " + JsonSerializer.Serialize(change, Messages.Default.Change)
                    + "\n\n", context.RequestAborted);
                await context.Response.Body.FlushAsync(context.RequestAborted);
            }
        }
        catch (OperationCanceledException)
        {
            // The tab was closed.
        }
    }

    private static Task Send(HttpContext context, string type, string text)
    {
        context.Response.ContentType = type;
        return context.Response.WriteAsync(text, context.RequestAborted);
    }

    private static Task Refuse(HttpContext context, int status)
    {
        context.Response.StatusCode = status;
        return Task.CompletedTask;
    }

    private static string Resource(string name)
    {
        using var stream = typeof(BenchServer).Assembly.GetManifestResourceStream(name)!;
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }
}
