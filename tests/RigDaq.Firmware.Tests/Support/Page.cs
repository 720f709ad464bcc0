using System.Collections.Concurrent;
using System.Net;
using System.Net.WebSockets;
using System.Text;
using System.Text.Json;
using RigDaq.Tests.Shared;

namespace RigDaq.Firmware.Tests.Support;

/// <summary>A person's page without its pictures: it enters with the printed key, asks by requests, and hears the state by its
/// socket.</summary>
internal sealed class Page : IAsyncDisposable
{
    private static readonly TimeSpan EndMax = TimeSpan.FromSeconds(5);
    private readonly HttpClient _http;
    private readonly ClientWebSocket _socket = new();
    private readonly ConcurrentDictionary<string, JsonElement> _last = new();
    private Task _hearing = Task.CompletedTask;

    private Page(Uri dashboard)
    {
        var origin = new Uri(dashboard.GetLeftPart(UriPartial.Authority));
        var cookies = new CookieContainer();
        _http = new HttpClient(new SocketsHttpHandler { CookieContainer = cookies }) { BaseAddress = origin };
        _http.DefaultRequestHeaders.Add("Origin", origin.OriginalString);
        _socket.Options.SetRequestHeader("Origin", origin.OriginalString);
        _socket.Options.Cookies = cookies;
    }

    /// <summary>Opens the address that the daemon printed.</summary>
    public static async Task<Page> OpenAsync(Uri dashboard)
    {
        var page = new Page(dashboard);
        (bool entered, string words) = await page.AskAsync("enter", new { key = dashboard.Fragment["#key=".Length..] });
        Assert.True(entered, words);
        await page._socket.ConnectAsync(new UriBuilder(dashboard) { Scheme = "ws", Path = Addresses.Live, Fragment = "" }.Uri,
            TestContext.Current.CancellationToken);
        page._hearing = page.HearAsync();
        return page;
    }

    /// <summary>Asks for something, as a button does.</summary>
    public async Task<(bool Done, string Words)> AskAsync(string command, object? what = null)
    {
        using var body = new StringContent(JsonSerializer.Serialize(what ?? new { }), Encoding.UTF8, "application/json");
        using HttpResponseMessage answer = await _http.PostAsync(
            Addresses.Of(command, await body.ReadAsStringAsync(TestContext.Current.CancellationToken)), body,
                TestContext.Current.CancellationToken);
        JsonElement result = JsonDocument.Parse(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken)).RootElement;
        return (result.GetProperty("done").GetBoolean(), result.GetProperty("message").GetString()!);
    }

    /// <summary>Looks something up.</summary>
    public async Task<JsonElement> GetAsync(string path) =>
        JsonDocument.Parse(await _http.GetStringAsync(path, TestContext.Current.CancellationToken)).RootElement;

    /// <summary>The state that the page shows; null before any.</summary>
    public JsonElement? State => _last.TryGetValue("state", out JsonElement state) ? state : null;

    /// <summary>Waits, in wall time because another process or thread sends it, until the page shows something.</summary>
    public async Task<JsonElement> UntilAsync(Func<JsonElement, bool> seen, string what, TimeSpan bound)
    {
        long began = TimeProvider.System.GetTimestamp();
        while (true)
        {
            if (State is { } state && seen(state)) return state;
            Assert.True(TimeProvider.System.GetElapsedTime(began) < bound, $"Not {what} after {bound}: {State}");
            await Task.Delay(10, TestContext.Current.CancellationToken); // The page hears of it over a socket.
        }
    }

    public async ValueTask DisposeAsync()
    {
        _socket.Abort();
        await _hearing.WaitAsync(EndMax);
        _socket.Dispose();
        _http.Dispose();
    }

    private async Task HearAsync()
    {
        byte[] bytes = new byte[256 * 1024];
        int length = 0;
        try
        {
            while (true)
            {
                ValueWebSocketReceiveResult received = await _socket.ReceiveAsync(bytes.AsMemory(length), CancellationToken.None);
                if (received.MessageType == WebSocketMessageType.Close) return;
                length += received.Count;
                if (!received.EndOfMessage) continue;
                if (received.MessageType == WebSocketMessageType.Text)
                {
                    JsonElement message = JsonDocument.Parse(bytes.AsMemory(0, length).ToArray()).RootElement;
                    _last[message.GetProperty("type").GetString()!] = message;
                }

                length = 0;
            }
        }
        catch (Exception e) when (e is WebSocketException or OperationCanceledException or ObjectDisposedException)
        {
            // The daemon or the page went away.
        }
    }
}
