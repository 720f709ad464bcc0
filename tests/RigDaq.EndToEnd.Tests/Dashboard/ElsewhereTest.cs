using System.Net;
using System.Net.WebSockets;
using System.Text;
using Microsoft.AspNetCore.Routing;
using RigDaq.App.Access;
using RigDaq.App.Callers;
using RigDaq.App.Configuration;
using RigDaq.Tests.Shared;
using RigDaq.Web.Access;

namespace RigDaq.EndToEnd.Tests.Dashboard;

/// <summary>What each way in from elsewhere lets through, asked over this machine's own network address, as a hostile phone
/// would.</summary>
public sealed class ElsewhereTest
{
    private const string Password = "four plain words here";
    private const string Home = "/api/v1/rigs/-/home";
    private const string State = "/api/v1/rigs/-/state";
    private const string Stop = "/api/v1/rigs/-/stop";

    [Fact]
    public async Task Without_link_and_log_in_nothing_is_open_but_what_a_page_is_made_of()
    {
        await using PageHost host = await StartAsync();
        using Elsewhere looks = Elsewhere.Looks(host), operates = Elsewhere.Operates(host);
        int asked = 0;
        foreach ((HttpMethod method, string path) in Everything(host))
            foreach (Elsewhere from in new[] { looks, operates })
            {
                (HttpStatusCode status, _) = await from.AskAsync(method, path, "{}");
                Assert.True((int)status >= 300, $"{method} {path} was answered {status} at {from.Url}.");
                asked++;
            }

        Assert.True(asked > 100);
        Assert.Empty(host.Rig.Calls);
    }

    [Fact]
    public async Task Who_has_the_link_sees_the_state_and_stops_and_reaches_nothing_else()
    {
        await using PageHost host = await StartAsync();
        using Elsewhere phone = await ByLinkAsync(host);
        Assert.Equal(HttpStatusCode.OK, (await phone.GetAsync(State)).Status);
        string[] open = [State, Stop, "/api/stop", "/api/v1/rigs/-/live"];
        foreach ((HttpMethod method, string path) in Everything(host).Where(each => !open.Contains(each.Path)))
            Assert.Equal(HttpStatusCode.NotFound, (await phone.AskAsync(method, path, "{}")).Status);
        Assert.Empty(host.Rig.Calls);
        Assert.Equal(HttpStatusCode.OK, (await phone.PostAsync(Stop)).Status);
        Assert.Equal(["stop"], host.Rig.Calls);
        using ClientWebSocket socket = await SocketAsync(phone);
        Assert.Contains("\"mayMove\":false", await ReadUntilAsync(socket, "hello"), StringComparison.Ordinal);
        await socket.SendAsync("""{"jogMillimetresPerSecond":1}"""u8.ToArray(), WebSocketMessageType.Text, true, Ended);
        Assert.Contains("not move", await ReadUntilAsync(socket, "\"answer\""), StringComparison.Ordinal);
        Assert.Equal(["stop"], host.Rig.Calls);
    }

    [Fact]
    public async Task A_link_that_was_withdrawn_holds_no_longer_and_what_was_open_by_it_ends()
    {
        await using PageHost host = await StartAsync();
        using Elsewhere phone = await ByLinkAsync(host);
        using ClientWebSocket socket = await SocketAsync(phone);
        await ReadUntilAsync(socket, "hello");
        host.Service<LookLink>().Withdraw();
        await Assert.ThrowsAnyAsync<WebSocketException>(async () => await ReadUntilAsync(socket, "never said"));
        Assert.Equal(HttpStatusCode.Forbidden, (await phone.GetAsync(State)).Status);
        Assert.Equal(HttpStatusCode.Forbidden, (await phone.PostAsync(Stop)).Status);
        // A link is no log-in, and a stolen one none either.
        using Elsewhere operates = Elsewhere.Operates(host);
        operates.Headers["Cookie"] = $"rigdaq-{operates.Url.Port}-look={host.Service<LookLink>().Token}";
        Assert.Equal(HttpStatusCode.Unauthorized, (await operates.GetAsync(State)).Status);
    }

    [Fact]
    public async Task This_starts_key_is_nothing_worth_from_elsewhere()
    {
        await using PageHost host = await StartAsync();
        string key = host.KeyedUrl.Fragment.Split('=')[1];
        using Elsewhere looks = Elsewhere.Looks(host), operates = Elsewhere.Operates(host);
        foreach (Elsewhere from in new[] { looks, operates })
        {
            Assert.Equal(HttpStatusCode.Forbidden, (await from.PostAsync("/api/v1/session", $$"""{"key":"{{key}}"}""")).Status);
            from.Headers["Cookie"] = $"rigdaq-{from.Url.Port}={key}";
            Assert.NotEqual(HttpStatusCode.OK, (await from.PostAsync(Home)).Status);
        }

        Assert.Empty(host.Rig.Calls);
    }

    [Fact]
    public async Task Each_role_may_what_it_says()
    {
        await using PageHost host = await StartAsync();
        using Elsewhere looks = await InAsync(host, CallerRole.Look), operates = await InAsync(host, CallerRole.Operate),
            administers = await InAsync(host, CallerRole.Administer);
        foreach (Elsewhere each in new[] { looks, operates, administers })
        {
            Assert.Equal(HttpStatusCode.OK, (await each.GetAsync("/api/v1/studies")).Status);
            Assert.Equal(HttpStatusCode.OK, (await each.PostAsync(Stop)).Status);
        }

        Assert.Equal(HttpStatusCode.Forbidden, (await looks.PostAsync("/api/v1/rigs/-/faults/clear", "{}")).Status);
        Assert.Equal(HttpStatusCode.OK, (await operates.PostAsync("/api/v1/rigs/-/faults/clear", "{}")).Status);
        Assert.Equal(HttpStatusCode.Forbidden, (await operates.GetAsync("/api/v1/accounts")).Status);
        Assert.Equal(HttpStatusCode.Forbidden,
            (await operates.PostAsync("/api/v1/accounts", $$"""{"name":"x","role":"administer","password":"{{Password}}"}""")).Status);
        Assert.Equal(HttpStatusCode.OK, (await administers.GetAsync("/api/v1/accounts")).Status);
        Assert.Equal(HttpStatusCode.OK,
            (await administers.PostAsync("/api/v1/accounts", $$"""{"name":"x","role":"look","password":"{{Password}}"}""")).Status);
        Assert.Equal(["stop", "stop", "stop", "clear"], host.Rig.Calls);
    }

    [Theory]
    [InlineData(true, HttpStatusCode.OK)]
    [InlineData(false, HttpStatusCode.Conflict)]
    public async Task A_motion_waits_for_a_person_at_the_rig(bool allowed, HttpStatusCode status)
    {
        await using PageHost host = await StartAsync();
        using Elsewhere operates = await InAsync(host, CallerRole.Operate);
        Task<(HttpStatusCode Status, string Words)> moving = operates.PostAsync(Home, "{}");
        MotionAsked asked = await AskedAsync(host);
        Assert.Equal(("operate", Elsewhere.Address.ToString(), "findHome"), (asked.Name, asked.From, asked.What));
        Assert.Empty(host.Rig.Calls);
        // Nobody allows it to themselves.
        string answer = $$"""{"id":{{asked.Id}},"allowed":{{(allowed ? "true" : "false")}}}""";
        Assert.Equal(HttpStatusCode.Conflict, (await operates.PostAsync("/api/v1/rigs/-/asked", answer)).Status);
        Assert.Empty(host.Rig.Calls);
        Assert.Equal(HttpStatusCode.OK, (await host.PostAsync("asked", answer)).Status);
        Assert.Equal(status, (await moving).Status);
        Assert.Equal(allowed ? ["home"] : [], host.Rig.Calls);
    }

    [Fact]
    public async Task A_stop_takes_back_what_was_asked_for()
    {
        await using PageHost host = await StartAsync();
        using Elsewhere operates = await InAsync(host, CallerRole.Operate);
        Task<(HttpStatusCode Status, string Words)> moving = operates.PostAsync(Home, "{}");
        await AskedAsync(host);
        await host.PostAsync("stop", "");
        Assert.Equal(HttpStatusCode.Conflict, (await moving).Status);
        Assert.Equal(["stop"], host.Rig.Calls);
    }

    [Fact]
    public async Task Moving_by_hand_is_allowed_at_the_rig_and_a_stop_ends_that()
    {
        await using PageHost host = await StartAsync();
        using Elsewhere operates = await InAsync(host, CallerRole.Operate);
        using ClientWebSocket socket = await SocketAsync(operates);
        await JogAsync(socket);
        Assert.Contains("at the rig", await ReadUntilAsync(socket, "\"answer\""), StringComparison.Ordinal);
        Assert.Empty(host.Rig.Calls);
        Assert.True(host.Service<MotionConsent>().Answer((await AskedAsync(host)).Id, true));
        await UntilAsync(async () =>
        {
            await JogAsync(socket);
            return host.Rig.Calls.Any(call => call.StartsWith("jog", StringComparison.Ordinal));
        });
        await socket.SendAsync("""{"stop":true,"id":"s"}"""u8.ToArray(), WebSocketMessageType.Text, true, Ended);
        await UntilAsync(() => Task.FromResult(host.Rig.Calls.Contains("stop")));
        int jogs = Jogs(host);
        await JogAsync(socket);
        await AskedAsync(host);
        Assert.Equal(jogs, Jogs(host));
    }

    [Theory]
    [InlineData("sequence/confirm")]
    [InlineData("grip/open")]
    [InlineData("zero")]
    public async Task What_only_who_stands_there_can_see_is_not_said_from_elsewhere(string command)
    {
        await using PageHost host = await StartAsync();
        using Elsewhere operates = await InAsync(host, CallerRole.Operate);
        Assert.Equal(HttpStatusCode.Conflict, (await operates.PostAsync("/api/v1/rigs/-/" + command, "{}")).Status);
        Assert.Empty(host.Rig.Calls);
    }

    [Fact]
    public async Task A_session_of_an_account_that_was_changed_is_over_and_may_only_stop()
    {
        await using PageHost host = await StartAsync();
        using Elsewhere operates = await InAsync(host, CallerRole.Operate);
        using ClientWebSocket socket = await SocketAsync(operates);
        await ReadUntilAsync(socket, "hello");
        host.Service<AccountBook>().Revise("operate", CallerRole.Look, null);
        Assert.Equal(HttpStatusCode.Unauthorized, (await operates.GetAsync(State)).Status);
        await Assert.ThrowsAnyAsync<WebSocketException>(async () => await ReadUntilAsync(socket, "never said"));
        Assert.Equal(HttpStatusCode.Unauthorized, (await operates.PostAsync("/api/v1/rigs/-/faults/clear", "{}")).Status);
        Assert.Equal(HttpStatusCode.OK, (await operates.PostAsync(Stop)).Status);
        Assert.Equal(["stop"], host.Rig.Calls);
    }

    [Fact]
    public async Task Guessing_passwords_is_slow_and_the_cookie_of_a_right_one_goes_over_TLS_only()
    {
        await using PageHost host = await StartAsync();
        host.Service<AccountBook>().Make("ida", CallerRole.Operate, Password);
        using Elsewhere guesses = Elsewhere.Operates(host);
        for (int i = 0; i < LogInThrottle.FreeMax; i++)
            Assert.Equal(HttpStatusCode.Forbidden, (await guesses.LogInAsync("ida", "wrong wrong " + i)).Status);
        Assert.Equal(HttpStatusCode.TooManyRequests, (await guesses.LogInAsync("ida", Password)).Status);
        using Elsewhere looks = Elsewhere.Looks(host);
        Assert.Equal(HttpStatusCode.Forbidden, (await looks.LogInAsync("ida", Password)).Status);
        Assert.Empty(guesses.Cookies);
    }

    [Theory]
    [InlineData("rebound.example.org", HttpStatusCode.MisdirectedRequest)]
    [InlineData("rig.local", HttpStatusCode.OK)]
    [InlineData("RIG.local.", HttpStatusCode.OK)]
    public async Task Only_a_name_of_ours_is_answered(string name, HttpStatusCode status)
    {
        await using PageHost host = await StartAsync(new HttpOptions { Hosts = ["rig.local"] });
        using Elsewhere looks = await ByLinkAsync(host), operates = await InAsync(host, CallerRole.Operate);
        foreach (Elsewhere from in new[] { looks, operates })
        {
            from.Host = $"{name}:{from.Url.Port}";
            Assert.Equal(status, (await from.GetAsync(State)).Status);
        }
    }

    [Fact]
    public async Task What_an_unknown_proxy_passes_on_is_refused_but_for_a_stop()
    {
        await using PageHost host = await PageHost.StartAsync();
        foreach (string header in new[] { "X-Forwarded-For", "X-Forwarded-Host", "Forwarded" })
        {
            using HttpResponseMessage response = await ProxiedAsync(host, "/api/v1/studies", null, (header, "192.0.2.9"));
            Assert.Equal(HttpStatusCode.MisdirectedRequest, response.StatusCode);
        }

        using HttpResponseMessage stop = await ProxiedAsync(host, "/api/stop", "", ("X-Forwarded-For", "192.0.2.9"));
        Assert.Equal(HttpStatusCode.OK, stop.StatusCode);
        Assert.Equal(["stop"], host.Rig.Calls);
    }

    [Fact]
    public async Task What_a_known_proxy_passes_on_comes_from_elsewhere_and_wants_TLS_and_a_log_in()
    {
        await using PageHost host = await StartAsync(new HttpOptions { Hosts = ["rig.example"], Proxy = true });
        host.Service<AccountBook>().Make("ida", CallerRole.Operate, Password);
        string key = host.KeyedUrl.Fragment.Split('=')[1], logIn = $$"""{"name":"ida","password":"{{Password}}"}""";
        (string, string) from = ("X-Forwarded-For", "198.51.100.7"), tls = ("X-Forwarded-Proto", "https");
        using HttpResponseMessage byKey = await ProxiedAsync(host, "/api/v1/studies", null, from, tls, ("Cookie", $"rigdaq-443={key}"));
        Assert.Equal(HttpStatusCode.Unauthorized, byKey.StatusCode);
        const string address = "/api/v1/session/log-in";
        using HttpResponseMessage plain = await ProxiedAsync(host, address, logIn, from, ("Origin", "http://rig.example"));
        Assert.Equal(HttpStatusCode.Forbidden, plain.StatusCode);
        using HttpResponseMessage overTls = await ProxiedAsync(host, address, logIn, from, tls, ("Origin", "https://rig.example"));
        Assert.Equal(HttpStatusCode.OK, overTls.StatusCode);
        Assert.Equal("198.51.100.7", Assert.Single(host.Service<Sessions>().Open()).From);
        using HttpResponseMessage foreign = await ProxiedAsync(host, "/api/v1/studies", null, from, tls,
            ("X-Forwarded-Host", "rig.example"), ("Host", "rebound.example.org"));
        Assert.Equal(HttpStatusCode.MisdirectedRequest, foreign.StatusCode);
    }

    [Fact]
    public async Task A_tunnel_that_ends_at_another_port_works_with_the_key()
    {
        await using PageHost host = await PageHost.StartAsync();
        string key = host.KeyedUrl.Fragment.Split('=')[1];
        using HttpResponseMessage moved = await ProxiedAsync(host, Home, "{}", ("Host", "localhost:9000"),
            ("Origin", "http://localhost:9000"), ("Cookie", $"rigdaq-9000={key}"));
        Assert.Equal(HttpStatusCode.OK, moved.StatusCode);
        Assert.Equal(["home"], host.Rig.Calls);
    }

    private static CancellationToken Ended => TestContext.Current.CancellationToken;

    private static Task<PageHost> StartAsync(HttpOptions? options = null) => PageHost.StartAsync(elsewhere: options ?? new HttpOptions());

    private static async Task<Elsewhere> ByLinkAsync(PageHost host)
    {
        Elsewhere phone = Elsewhere.Looks(host);
        (HttpStatusCode status, _) = await phone.PostAsync("/api/v1/session/look", $$"""{"look":"{{host.Service<LookLink>().Token}}"}""");
        Assert.Equal(HttpStatusCode.OK, status);
        return phone;
    }

    private static async Task<Elsewhere> InAsync(PageHost host, CallerRole role)
    {
        host.Service<AccountBook>().Make(role.Word(), role, Password);
        Elsewhere operates = Elsewhere.Operates(host);
        Assert.Equal(HttpStatusCode.OK, (await operates.LogInAsync(role.Word(), Password)).Status);
        Assert.StartsWith("__Host-", Assert.Single(operates.Cookies).Key, StringComparison.Ordinal);
        return operates;
    }

    /// <summary>Every address that is not open to everybody, in each way that it is asked for.</summary>
    private static IEnumerable<(HttpMethod Method, string Path)> Everything(PageHost host) => host.Endpoints
        .Where(endpoint => endpoint.Metadata.GetMetadata<OpenTo>() is not { Everybody: true })
        .SelectMany(endpoint => (endpoint.Metadata.GetMetadata<IHttpMethodMetadata>()?.HttpMethods ?? ["GET", "POST"])
            .Select(method => (HttpMethod.Parse(method), Filled("/" + endpoint.RoutePattern.RawText!.TrimStart('/')))));

    private static string Filled(string path) =>
        path.Replace("{rig}", "-", StringComparison.Ordinal).Replace("{", "", StringComparison.Ordinal)
            .Replace("}", "", StringComparison.Ordinal);

    private static async Task<HttpResponseMessage> ProxiedAsync(PageHost host, string path, string? body,
        params (string Name, string Value)[] headers)
    {
        using var client = new HttpClient(new HttpClientHandler { UseCookies = false });
        using var request = new HttpRequestMessage(body is null ? HttpMethod.Get : HttpMethod.Post, new Uri(host.Url, path));
        if (body is not null) request.Content = new StringContent(body);
        if (host.Elsewhere.BehindProxy) request.Headers.Host = host.Elsewhere.Hosts[0];
        foreach ((string name, string value) in headers)
        {
            if (name == "Host") request.Headers.Host = value;
            else request.Headers.Add(name, value);
        }

        return await client.SendAsync(request, Ended);
    }

    private static async Task<ClientWebSocket> SocketAsync(Elsewhere from)
    {
        var socket = new ClientWebSocket();
        socket.Options.RemoteCertificateValidationCallback = from.IsTheRigs;
        socket.Options.SetRequestHeader("Origin", from.Url.GetLeftPart(UriPartial.Authority));
        socket.Options.SetRequestHeader("Cookie", string.Join("; ", from.Cookies.Select(each => $"{each.Key}={each.Value}")));
        string scheme = from.Url.Scheme == "https" ? "wss" : "ws";
        await socket.ConnectAsync(new UriBuilder(from.Url) { Scheme = scheme, Path = Addresses.Live }.Uri, Ended);
        return socket;
    }

    private static async Task<string> ReadUntilAsync(ClientWebSocket socket, string said)
    {
        byte[] bytes = new byte[256 * 1024];
        while (true)
        {
            WebSocketReceiveResult received = await socket.ReceiveAsync(bytes, Ended);
            if (received.MessageType == WebSocketMessageType.Close) throw new WebSocketException("closed");
            string text = Encoding.UTF8.GetString(bytes, 0, received.Count);
            if (received.MessageType == WebSocketMessageType.Text && text.Contains(said, StringComparison.Ordinal)) return text;
        }
    }

    private static Task JogAsync(ClientWebSocket socket) =>
        socket.SendAsync("""{"jogMillimetresPerSecond":1}"""u8.ToArray(), WebSocketMessageType.Text, true, Ended);

    private static int Jogs(PageHost host) => host.Rig.Calls.Count(call => call.StartsWith("jog", StringComparison.Ordinal));

    private static async Task<MotionAsked> AskedAsync(PageHost host)
    {
        await UntilAsync(() => Task.FromResult(host.Service<MotionConsent>().Asked.Count > 0));
        return Assert.Single(host.Service<MotionConsent>().Asked);
    }

    private static async Task UntilAsync(Func<Task<bool>> holds)
    {
        for (int i = 0; i < 500 && !await holds(); i++)
            // Wall time: another thread of the host comes to it.
            await Task.Delay(20, Ended);
        Assert.True(await holds());
    }
}
