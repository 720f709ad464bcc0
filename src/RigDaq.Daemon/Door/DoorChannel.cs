using System.Net.WebSockets;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace RigDaq.Daemon.Door;

/// <summary>The way between a command and its daemon: one JSON a message, both ways at once. Anybody may send; one reads.</summary>
internal sealed class DoorChannel(WebSocket socket, TimeSpan sendTime) : IDisposable
{
    /// <summary>The longest message, in bytes: a command line as long as systems take one has room in it.</summary>
    public const int BytesMax = 256 * 1024;

    /// <summary>How long a message may take to leave, before the other end counts as gone.</summary>
    internal static readonly TimeSpan SendTime = TimeSpan.FromSeconds(10);

    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web)
    { DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull, RespectNullableAnnotations = true };

    private readonly SemaphoreSlim _sending = new(1);

    public DoorChannel(WebSocket socket) : this(socket, SendTime)
    {
    }

    /// <exception cref="WebSocketException">The other end has gone.</exception>
    public async Task SendAsync<T>(T message)
    {
        using var late = new CancellationTokenSource(sendTime);
        await _sending.WaitAsync(late.Token).ConfigureAwait(false);
        try
        {
            await socket.SendAsync(JsonSerializer.SerializeToUtf8Bytes(message, Json), WebSocketMessageType.Text, true, late.Token)
                .ConfigureAwait(false);
        }
        finally
        {
            _sending.Release();
        }
    }

    /// <summary>The next message; null where the other end has said that it ends.</summary>
    /// <exception cref="WebSocketException">The other end has gone without a word.</exception>
    /// <exception cref="JsonException">It is no such message, or too long.</exception>
    public async Task<T?> ReceiveAsync<T>(CancellationToken cancellation)
        where T : class
    {
        using var bytes = new MemoryStream();
        byte[] part = new byte[16 * 1024];
        while (true)
        {
            ValueWebSocketReceiveResult read = await socket.ReceiveAsync(part.AsMemory(), cancellation).ConfigureAwait(false);
            if (read.MessageType == WebSocketMessageType.Close) return null;
            bytes.Write(part, 0, read.Count);
            if (bytes.Length > BytesMax) throw new JsonException();
            if (read.EndOfMessage) return JsonSerializer.Deserialize<T>(bytes.GetBuffer().AsSpan(0, (int)bytes.Length), Json);
        }
    }

    /// <summary>Says that there is no more to come.</summary>
    public async Task EndAsync()
    {
        using var late = new CancellationTokenSource(sendTime);
        if (socket.State is WebSocketState.Open or WebSocketState.CloseReceived)
            await socket.CloseOutputAsync(WebSocketCloseStatus.NormalClosure, null, late.Token).ConfigureAwait(false);
    }

    public void Dispose()
    {
        _sending.Dispose();
        socket.Dispose();
    }
}
