using System.Net;
using System.Text;
using FrontEndSim.EndToEnd.Tests;

namespace FrontEndSim.LiveBench.Tests;

/// <summary>Who gets in, and how far: the page itself, with its key, and nobody else.</summary>
public sealed class BenchServerTests : IAsyncLifetime
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("frontendsim-bench-");
    private readonly HttpClient _client = new();
    private BenchServer _server = null!;

    private string Circuit => Path.Combine(_folder.FullName, "tank.fes");

    public async ValueTask InitializeAsync()
    {
        File.Copy(Path.Combine(Repository.Root, "circuits", "rain-tank.fes"), Circuit);
        _server = await BenchServer.StartAsync(Circuit, cancel: TestContext.Current.CancellationToken);
    }

    public async ValueTask DisposeAsync()
    {
        _client.Dispose();
        await _server.DisposeAsync();
        _folder.Delete(recursive: true);
    }

    private string Origin => _server.Address.GetLeftPart(UriPartial.Authority);

    [Fact]
    public void The_address_is_of_this_machine_alone_and_holds_a_key_of_128_bits()
    {
        Assert.Equal("127.0.0.1", _server.Address.Host);
        Assert.Equal(34, _server.Address.AbsolutePath.Length); // 32 hexadecimal digits between two slashes
    }

    [Fact]
    public async Task The_page_is_served_with_a_policy_that_runs_no_script_but_its_own()
    {
        using var answer = await Get(_server.Address.AbsoluteUri);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        string policy = answer.Headers.GetValues("Content-Security-Policy").Single();
        Assert.Contains("default-src 'none'; script-src 'self';", policy, StringComparison.Ordinal);
        Assert.DoesNotContain("unsafe-eval", policy, StringComparison.Ordinal);
        Assert.DoesNotContain("script-src 'self' 'unsafe", policy, StringComparison.Ordinal);
        string page = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        Assert.Equal(1, page.Split("<script").Length - 1);
        Assert.Contains("<script src=\"bench.js\" type=\"module\"></script>", page, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("/")]
    [InlineData("/bench.js")]
    [InlineData("/00000000000000000000000000000000/")]
    [InlineData("/00000000000000000000000000000000/changes")]
    public async Task Without_the_key_nothing_is_served(string path)
    {
        using var answer = await Get(Origin + path);
        Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
    }

    [Theory]
    [InlineData("tank.fes")]
    [InlineData("..%2Ftank.fes")]
    [InlineData("..%2F..%2Fetc%2Fpasswd")]
    [InlineData("%2e%2e/tank.fes")]
    public async Task No_path_leads_to_a_file(string path)
    {
        using var answer = await Get(_server.Address + path);
        Assert.Contains(answer.StatusCode, new[] { HttpStatusCode.NotFound, HttpStatusCode.Forbidden });
    }

    [Fact]
    public async Task Another_site_gets_in_neither_by_its_origin_nor_by_a_name_of_its_own()
    {
        Assert.Equal(HttpStatusCode.NoContent, await Post("""{"do":"undo"}""", Origin));
        Assert.Equal(HttpStatusCode.Forbidden, await Post("""{"do":"undo"}""", "http://evil.example"));
        Assert.Equal(HttpStatusCode.Forbidden, await Post("""{"do":"undo"}""", "null"));
        Assert.Equal(HttpStatusCode.Forbidden, await Post("""{"do":"undo"}""", null));
        Assert.Equal(HttpStatusCode.Forbidden, await Post("""{"do":"undo"}""", Origin, host: $"evil.example:{_server.Address.Port}"));
        using var request = new HttpRequestMessage(HttpMethod.Get, _server.Address);
        request.Headers.Add("Sec-Fetch-Site", "cross-site");
        using var answer = await _client.SendAsync(request, TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
    }

    [Theory]
    [InlineData("""{"do":"format the disk"}""")]
    [InlineData("""{"do":"sensor","name":"nobody","value":"1"}""")]
    [InlineData("""{"do":"sensor","name":"probe","value":"NaN"}""")]
    [InlineData("""{"do":"rail","name":"VDD","value":"1e999"}""")]
    [InlineData("""{"do":"scrub","value":"7"}""")]
    [InlineData("""{"do":"take"}""")]
    [InlineData("""{"do":"value","name":"adc","value":"1k"}""")]
    [InlineData("""not JSON""")]
    [InlineData("""null""")]
    public async Task What_nobody_knows_of_is_refused_and_changes_nothing(string ask)
    {
        byte[] before = File.ReadAllBytes(Circuit);
        Assert.Equal(HttpStatusCode.BadRequest, await Post(ask, Origin));
        Assert.Equal(before, File.ReadAllBytes(Circuit));
    }

    [Fact]
    public async Task A_port_that_is_taken_is_said()
    {
        var problem = await Assert.ThrowsAnyAsync<IOException>(
            () => BenchServer.StartAsync(Circuit, _server.Address.Port, cancel: TestContext.Current.CancellationToken));
        Assert.Contains(_server.Address.Port.ToString(System.Globalization.CultureInfo.InvariantCulture), problem.Message,
            StringComparison.Ordinal);
    }

    private Task<HttpResponseMessage> Get(string address) => _client.GetAsync(address, TestContext.Current.CancellationToken);

    private async Task<HttpStatusCode> Post(string ask, string? origin, string? host = null)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, _server.Address + "do")
        { Content = new StringContent(ask, Encoding.UTF8, "application/json") };
        if (origin is not null)
            request.Headers.Add("Origin", origin);
        if (host is not null)
            request.Headers.Host = host;
        using var answer = await _client.SendAsync(request, TestContext.Current.CancellationToken);
        return answer.StatusCode;
    }
}
