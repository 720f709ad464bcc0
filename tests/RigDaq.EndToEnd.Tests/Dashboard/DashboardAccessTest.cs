using System.Net;
using System.Net.WebSockets;
using System.Text;
using RigDaq.Tests.Shared;
using RigDaq.Text;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>Who may move the crosshead over HTTP, asked without a browser, as a hostile page or program would.</summary>
public sealed class DashboardAccessTest
{
    private static readonly string[] Commands =
        ["start", "resume", "skip", "retry", "finish", "confirm", "grip-open", "zero", "clear-faults", "home", "grip-separation",
            "hand-motion", "replay"];

    [Fact]
    public async Task Every_command_is_refused_without_the_key_and_nothing_is_called()
    {
        await using PageHost host = await PageHost.StartAsync();
        foreach (string command in Commands)
        {
            using HttpResponseMessage response = await PostAsync(host, command, origin: Origin(host));
            Assert.Equal(HttpStatusCode.Forbidden, response.StatusCode);
        }

        Assert.Empty(host.Rig.Calls);
    }

    [Theory]
    [InlineData(null)]
    [InlineData("null")]
    [InlineData("http://example.org")]
    [InlineData("http://127.0.0.1")] // Another port of this machine is another page.
    public async Task A_right_key_from_another_page_is_refused(string? origin)
    {
        await using PageHost host = await PageHost.StartAsync();
        using HttpResponseMessage response = await PostAsync(host, "home", origin, key: Key(host));
        Assert.Equal(HttpStatusCode.Forbidden, response.StatusCode);
        Assert.Empty(host.Rig.Calls);
    }

    [Fact]
    public async Task A_foreign_name_that_resolves_to_this_machine_is_refused()
    {
        await using PageHost host = await PageHost.StartAsync();
        string foreign = $"rebound.example.org:{host.Url.Port}";
        using HttpResponseMessage response = await PostAsync(host, "home", "http://" + foreign, Key(host), foreign);
        Assert.Equal(HttpStatusCode.MisdirectedRequest, response.StatusCode);
        Assert.Empty(host.Rig.Calls);
    }

    [Fact]
    public async Task The_key_the_name_and_the_page_together_are_obeyed()
    {
        await using PageHost host = await PageHost.StartAsync();
        using HttpResponseMessage response = await PostAsync(host, "grip-separation", Origin(host), Key(host), body: """{"gripSeparationMillimetres":55.5}""");
        Assert.Equal(HttpStatusCode.OK, response.StatusCode);
        Assert.Equal(["grip 55.5"], host.Rig.Calls);
    }

    [Theory]
    [InlineData(null, null)]
    [InlineData("http://example.org", "rebound.example.org")]
    public async Task The_stop_is_obeyed_from_anywhere(string? origin, string? name)
    {
        await using PageHost host = await PageHost.StartAsync();
        using HttpResponseMessage response = await PostAsync(host, "stop", origin, host: name);
        Assert.Equal(HttpStatusCode.OK, response.StatusCode);
        Assert.Equal(["stop"], host.Rig.Calls);
    }

    [Fact]
    public async Task A_wrong_key_gives_no_cookie_and_the_right_one_a_strict_one()
    {
        await using PageHost host = await PageHost.StartAsync();
        using HttpResponseMessage wrong = await PostAsync(host, "enter", Origin(host), body: """{"key":"0000"}""");
        Assert.False(wrong.Headers.Contains("Set-Cookie"));
        using HttpResponseMessage right = await PostAsync(host, "enter", Origin(host), body: $$"""{"key":"{{Key(host)}}"}""");
        string cookie = Assert.Single(right.Headers.GetValues("Set-Cookie"));
        Assert.Contains("httponly", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("samesite=strict", cookie, StringComparison.OrdinalIgnoreCase);
    }

    [Theory]
    [InlineData("not json")]
    [InlineData("""{"gripSeparationMillimetres":"wide"}""")]
    public async Task A_request_that_is_not_understood_is_refused_with_words(string body)
    {
        await using PageHost host = await PageHost.StartAsync();
        using HttpResponseMessage response = await PostAsync(host, "grip-separation", Origin(host), Key(host), body: body);
        Assert.Equal(HttpStatusCode.BadRequest, response.StatusCode);
        Assert.Empty(host.Rig.Calls);
    }

    [Fact]
    public async Task What_the_rig_refuses_is_passed_on_in_words()
    {
        await using PageHost host = await PageHost.StartAsync();
        host.Rig.Answer = Rig.Control.CommandResult.Refused(Sentence.Verbatim("The guard is open: close it."));
        using HttpResponseMessage response = await PostAsync(host, "home", Origin(host), Key(host));
        Assert.Equal(HttpStatusCode.Conflict, response.StatusCode);
        Assert.Contains("close it", await response.Content.ReadAsStringAsync(TestContext.Current.CancellationToken),
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task Another_sites_page_gets_no_socket()
    {
        await using PageHost host = await PageHost.StartAsync();
        using var socket = new ClientWebSocket();
        socket.Options.SetRequestHeader("Origin", "http://example.org");
        await Assert.ThrowsAsync<WebSocketException>(() => socket.ConnectAsync(SocketUrl(host), TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task A_socket_without_the_key_cannot_jog()
    {
        await using PageHost host = await PageHost.StartAsync();
        using var socket = new ClientWebSocket();
        socket.Options.SetRequestHeader("Origin", Origin(host));
        await socket.ConnectAsync(SocketUrl(host), TestContext.Current.CancellationToken);
        await socket.SendAsync("""{"jogMillimetresPerSecond":1}"""u8.ToArray(), WebSocketMessageType.Text, true, TestContext.Current.CancellationToken);
        string text = "";
        byte[] bytes = new byte[256 * 1024];
        while (!text.Contains("\"answer\"", StringComparison.Ordinal))
        {
            WebSocketReceiveResult received = await socket.ReceiveAsync(bytes, TestContext.Current.CancellationToken);
            if (received.MessageType == WebSocketMessageType.Text) text = Encoding.UTF8.GetString(bytes, 0, received.Count);
        }

        Assert.Contains("not move", text, StringComparison.Ordinal);
        Assert.Empty(host.Rig.Calls);
    }

    [Fact]
    public async Task The_page_fetches_nothing_from_elsewhere_and_says_so()
    {
        await using PageHost host = await PageHost.StartAsync();
        using var client = new HttpClient();
        using HttpResponseMessage page = await client.GetAsync(host.Url, TestContext.Current.CancellationToken);
        string policy = Assert.Single(page.Headers.GetValues("Content-Security-Policy"));
        Assert.Contains("default-src 'none'", policy, StringComparison.Ordinal);
        Assert.DoesNotContain("http", policy, StringComparison.Ordinal);
        Assert.DoesNotContain("//", await page.Content.ReadAsStringAsync(TestContext.Current.CancellationToken), StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_report_is_served_apart_from_the_page()
    {
        await using PageHost host = await PageHost.StartAsync();
        using var client = new HttpClient();
        using HttpResponseMessage report = await client.GetAsync(new Uri(host.Url, "/report/alder-birch"),
            TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.OK, report.StatusCode);
        Assert.Contains("sandbox", Assert.Single(report.Headers.GetValues("Content-Security-Policy")), StringComparison.Ordinal);
        using HttpResponseMessage none = await client.GetAsync(new Uri(host.Url, "/report/none"), TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.NotFound, none.StatusCode);
    }

    private static string Origin(PageHost host) => host.Url.GetLeftPart(UriPartial.Authority);

    private static string Key(PageHost host) => host.KeyedUrl.Fragment.Split('=')[1];

    private static Uri SocketUrl(PageHost host) => new($"ws://127.0.0.1:{host.Url.Port}{Addresses.Live}");

    private static async Task<HttpResponseMessage> PostAsync(
        PageHost page, string command, string? origin, string? key = null, string? host = null, string body = "")
    {
        using var client = new HttpClient(new HttpClientHandler { UseCookies = false });
        using var request = new HttpRequestMessage(HttpMethod.Post, new Uri(page.Url, Addresses.Of(command, body)))
        { Content = new StringContent(body) };
        if (origin is not null) request.Headers.Add("Origin", origin);
        if (key is not null) request.Headers.Add("Cookie", $"rigdaq-{page.Url.Port}={key}");
        if (host is not null) request.Headers.Host = host;
        return await client.SendAsync(request, TestContext.Current.CancellationToken);
    }
}
