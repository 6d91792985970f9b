using System.Security.Cryptography;
using System.Text;
using Microsoft.AspNetCore.Http;

namespace FrontEndSim.LiveBench;

/// <summary>
/// Lets in only who has the key, by the loopback name, from the page itself: another site that the browser has open, or a name
/// that another machine's owner points at this one, gets 403.
/// </summary>
internal static class AccessCheck
{
    // The page may load its own script and style and talk to its own server, and nothing else; the report's bars have a width each.
    private const string Policy =
        "default-src 'none'; script-src 'self'; style-src-elem 'self'; style-src-attr 'unsafe-inline'; connect-src 'self'; img-src data:; "
        + "base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

    /// <summary>The check of every request.</summary>
    /// <param name="key">The key that paths begin with.</param>
    public static Func<HttpContext, RequestDelegate, Task> Of(string key) => (context, next) =>
    {
        var headers = context.Response.Headers;
        headers.ContentSecurityPolicy = Policy;
        headers.XContentTypeOptions = "nosniff";
        headers["Referrer-Policy"] = "no-referrer";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
        headers.CacheControl = "no-store";
        if (IsLetIn(context.Request, context.Connection.LocalPort, key))
            return next(context);
        context.Response.StatusCode = StatusCodes.Status403Forbidden;
        return Task.CompletedTask;
    };

    private static bool IsLetIn(HttpRequest request, int port, string key)
    {
        string[] hosts = [$"127.0.0.1:{port}", $"localhost:{port}"];
        string host = request.Host.Value ?? "";
        if (!hosts.Contains(host, StringComparer.Ordinal))
            return false;
        string origin = request.Headers.Origin.ToString(), site = request.Headers["Sec-Fetch-Site"].ToString();
        // A browser names the origin of every POST.
        if (origin != "" ? origin != "http://" + host : request.Method != "GET")
            return false;
        if (site is not ("" or "same-origin" or "none"))
            return false;
        string path = request.Path.Value ?? "";
        return path.Length > key.Length + 1 && path[key.Length + 1] == '/'
            && CryptographicOperations.FixedTimeEquals(Encoding.UTF8.GetBytes(path[1..(key.Length + 1)]), Encoding.UTF8.GetBytes(key));
    }
}
