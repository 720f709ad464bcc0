using System.Net;
using System.Net.WebSockets;
using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;
using RigDaq.EndToEnd.Tests.Support;
using RigDaq.Tests.Shared;

namespace RigDaq.EndToEnd.Tests.Devices;

/// <summary>`rigdaq serve` in a process of its own, used as its page uses it: with the key, the live socket and the page's
/// requests.</summary>
internal sealed partial class RunningServe : IAsyncDisposable
{
    private static readonly TimeSpan UpMax = TimeSpan.FromSeconds(60);
    private static readonly TimeSpan WaitMax = TimeSpan.FromSeconds(60);

    private readonly RigdaqProcess _process;
    private readonly HttpClient _client = new(new HttpClientHandler { UseCookies = false });
    private readonly ClientWebSocket _socket = new();
    private readonly Uri _address;
    private readonly string _cookie;
    private bool _ended;

    private RunningServe(RigdaqProcess process, Uri address)
    {
        _process = process;
        PageAddress = address;
        _address = new Uri(address.GetLeftPart(UriPartial.Authority));
        _cookie = $"rigdaq-{address.Port}={address.Fragment.Split('=')[1]}";
    }

    /// <summary>Its process.</summary>
    public RigdaqProcess Process => _process;

    /// <summary>Where its page is, with the key.</summary>
    public Uri PageAddress { get; }

    /// <summary>Where its own broker listens.</summary>
    public async Task<int> MqttPortAsync() =>
        int.Parse((await _process.SaysAsync(MqttLine(), UpMax)).Groups[1].Value, System.Globalization.CultureInfo.InvariantCulture);

    /// <param name="configuration">The file.</param>
    /// <param name="starter">Another program that starts it; none for none.</param>
    public static async Task<RunningServe> StartAsync(string configuration, params string[] starter)
    {
        RigdaqProcess process = RigdaqProcess.StartBy(starter, "serve", "--config", configuration);
        // Another process prints when it is up: there is nothing to wait on but its words.
        long end = Environment.TickCount64 + (long)UpMax.TotalMilliseconds;
        while (Environment.TickCount64 < end)
        {
            if (DashboardLine().Match(process.Errors) is { Success: true } line)
            {
                var serve = new RunningServe(process, new Uri(line.Groups[1].Value));
                await serve.LookAsync();
                return serve;
            }

            await Task.Delay(50); // Another process: it starts in wall time.
        }

        await process.DisposeAsync();
        throw new InvalidOperationException($"It did not come up: {process.Errors}");
    }

    /// <summary>A request of the page's; fails the test where it is refused.</summary>
    public async Task DoAsync(string command, object? body = null)
    {
        (HttpStatusCode status, string words) = await AskAsync(HttpMethod.Post, Address(command, body), body);
        Assert.True(status == HttpStatusCode.OK, $"{command}: {words}");
    }

    /// <summary>A request with the key, and what is answered.</summary>
    public async Task<(HttpStatusCode Status, string Words)> AskAsync(HttpMethod method, string path, object? body = null)
    {
        using var request = new HttpRequestMessage(method, new Uri(_address, path));
        if (method == HttpMethod.Post) request.Content = new StringContent(body is null ? "" : JsonSerializer.Serialize(body),
            Encoding.UTF8, "application/json");
        request.Headers.Add("Origin", _address.GetLeftPart(UriPartial.Authority));
        request.Headers.Add("Cookie", _cookie);
        using HttpResponseMessage response = await _client.SendAsync(request, TestContext.Current.CancellationToken);
        return (response.StatusCode, await response.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
    }

    /// <summary>A request of the page's, whether it was granted, and what was answered.</summary>
    public async Task<(bool Done, string Answer)> TryAsync(string command, object? body = null)
    {
        (HttpStatusCode status, string words) = await AskAsync(HttpMethod.Post, Address(command, body), body);
        return (status == HttpStatusCode.OK, words);
    }

    private static string Address(string command, object? body) =>
        Addresses.Of(command, body is null ? null : JsonSerializer.Serialize(body));

    /// <summary>What the page asks for.</summary>
    public async Task<JsonElement> GetAsync(string what) =>
        JsonDocument.Parse(await _client.GetStringAsync(new Uri(_address, Addresses.Of(what)),
            TestContext.Current.CancellationToken)).RootElement;

    /// <summary>The state as the page is sent it, once something holds of it.</summary>
    public async Task<JsonElement> WhenAsync(Func<JsonElement, bool> holds, string what)
    {
        using var late = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        late.CancelAfter(WaitMax);
        JsonElement? last = null;
        var buffer = new byte[1 << 18];
        try
        {
            while (true)
            {
                int length = 0;
                ValueWebSocketReceiveResult received;
                do
                {
                    // A state names every specimen of its sequence.
                    if (length == buffer.Length) Array.Resize(ref buffer, 2 * length);
                    received = await _socket.ReceiveAsync(buffer.AsMemory(length), late.Token);
                    length += received.Count;
                }
                while (!received.EndOfMessage);
                if (received.MessageType != WebSocketMessageType.Text) continue;
                JsonElement message = JsonDocument.Parse(buffer.AsMemory(0, length).ToArray()).RootElement;
                if (message.GetProperty("type").GetString() != "state") continue;
                last = message;
                if (holds(message)) return message;
            }
        }
        catch (OperationCanceledException)
        {
            throw new InvalidOperationException($"Waited in vain for {what}; last: {last}\n{_process.Errors}");
        }
    }

    /// <summary>Ends it at once, as a power cut would.</summary>
    public async ValueTask DisposeAsync()
    {
        if (_ended) return;
        _ended = true;
        _socket.Dispose();
        _client.Dispose();
        await _process.DisposeAsync();
    }

    private async Task LookAsync()
    {
        _socket.Options.SetRequestHeader("Origin", _address.GetLeftPart(UriPartial.Authority));
        await _socket.ConnectAsync(new UriBuilder(_address) { Scheme = "ws", Path = Addresses.Live }.Uri,
            TestContext.Current.CancellationToken);
    }

    [GeneratedRegex(@"Dashboard: (\S+)\r?\n")]
    private static partial Regex DashboardLine();

    [GeneratedRegex(@"MQTT: 127\.0\.0\.1:(\d+),")]
    private static partial Regex MqttLine();
}
