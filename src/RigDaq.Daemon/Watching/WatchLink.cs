using System.Net.Sockets;
using System.Net.WebSockets;
using System.Text.Json;
using RigDaq.Daemon.Door;
using RigDaq.Web.Views;

namespace RigDaq.Daemon.Watching;

/// <summary>Looks on at the daemon that has a data folder, by the live socket that the pages have, too; comes back when it went
/// away.</summary>
internal sealed class WatchLink : IDisposable
{
    /// <summary>No message of the socket is longer.</summary>
    public const int MessageBytesMax = 8 << 20;

    /// <summary>How long is waited before a daemon that went away is tried again.</summary>
    public static readonly TimeSpan AgainAfter = TimeSpan.FromSeconds(1);

    private const string Host = "http://rigdaq";
    private static readonly Uri Live = new("ws://rigdaq/api/v1/rigs/-/live");
    private static readonly Uri Stop = new(Host + "/api/stop");

    private readonly SocketsHttpHandler _handler;
    private readonly HttpMessageInvoker _invoker;
    private readonly WatchSight _sight;
    private readonly TimeProvider _time;

    public WatchLink(string dataFolder, WatchSight sight, TimeProvider time)
    {
        (_sight, _time) = (sight, time);
        _handler = new SocketsHttpHandler { ConnectCallback = (_, late) => DoorConnection.OpenAsync(dataFolder, late) };
        _invoker = new HttpMessageInvoker(_handler, disposeHandler: false);
    }

    /// <summary>Looks on once, until the daemon ends.</summary>
    /// <param name="seen">Is told of each state; true where it says something new.</param>
    /// <param name="cancellation">Ends the looking.</param>
    /// <returns>Whether anybody answered.</returns>
    public async Task<bool> LookAsync(Action<bool> seen, CancellationToken cancellation)
    {
        using var socket = new ClientWebSocket();
        socket.Options.SetRequestHeader("Origin", Host);
        using (var late = CancellationTokenSource.CreateLinkedTokenSource(cancellation))
        {
            late.CancelAfter(DoorClient.ConnectTime);
            try
            {
                await socket.ConnectAsync(Live, _invoker, late.Token).ConfigureAwait(false);
            }
            catch (Exception e) when (IsAway(e) || (e is OperationCanceledException && !cancellation.IsCancellationRequested))
            {
                return false;
            }
        }

        try
        {
            byte[] bytes = new byte[64 * 1024];
            while (true)
            {
                int length = 0;
                ValueWebSocketReceiveResult received;
                do
                {
                    if (length == bytes.Length) Array.Resize(ref bytes, Math.Min(2 * bytes.Length, MessageBytesMax + 1));
                    if (length > MessageBytesMax) return true;
                    received = await socket.ReceiveAsync(bytes.AsMemory(length), cancellation).ConfigureAwait(false);
                    length += received.Count;
                }
                while (!received.EndOfMessage);
                if (received.MessageType == WebSocketMessageType.Close) return true;
                if (received.MessageType == WebSocketMessageType.Binary) _sight.Add(bytes.AsSpan(0, length));
                else Read(bytes.AsSpan(0, length), seen);
            }
        }
        catch (Exception e) when (IsAway(e))
        {
            return true;
        }
    }

    /// <summary>Looks on until it is called off, and again after a daemon went away.</summary>
    public async Task LookOnAsync(Action<bool> seen, CancellationToken cancellation)
    {
        while (true)
        {
            await LookAsync(seen, cancellation).ConfigureAwait(false);
            seen(_sight.See(null));
            await Task.Delay(AgainAfter, _time, cancellation).ConfigureAwait(false);
        }
    }

    /// <summary>Stops the rig, as anybody may.</summary>
    /// <returns>Whether it was heard.</returns>
    public async Task<bool> StopAsync(CancellationToken cancellation)
    {
        using var late = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
        late.CancelAfter(DoorClient.ConnectTime);
        using var request = new HttpRequestMessage(HttpMethod.Post, Stop);
        try
        {
            using HttpResponseMessage answer = await _invoker.SendAsync(request, late.Token).ConfigureAwait(false);
            return answer.IsSuccessStatusCode;
        }
        catch (Exception e) when (e is HttpRequestException or OperationCanceledException || IsAway(e))
        {
            return false;
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _invoker.Dispose();
        _handler.Dispose();
    }

    private void Read(ReadOnlySpan<byte> json, Action<bool> seen)
    {
        var reader = new Utf8JsonReader(json);
        using JsonDocument message = JsonDocument.ParseValue(ref reader);
        string? type = message.RootElement.GetProperty("type").GetString();
        if (type == "hello" && JsonSerializer.Deserialize(json, typeof(HelloView), DashboardJson.Camel) is HelloView hello)
            _sight.Greet(hello);
        if (type == "state" && JsonSerializer.Deserialize(json, typeof(StateView), DashboardJson.Camel) is StateView state)
            seen(_sight.See(state));
    }

    private static bool IsAway(Exception e) => e is WebSocketException or IOException or SocketException;
}
