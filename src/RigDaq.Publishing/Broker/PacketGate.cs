using System.IO.Pipelines;
using Microsoft.AspNetCore.Connections;

namespace RigDaq.Publishing.Broker;

/// <summary>
/// Stands between a connection and the broker: what comes is handed on, as long as no packet claims to be greater than
/// <see cref="Settings.EmbeddedBrokerOptions.PacketBytesMax"/>. The broker's library has no such bound, and gathers a packet whole.
/// </summary>
internal static class PacketGate
{
    /// <summary>Puts the gate in.</summary>
    /// <param name="connection">A connection that was found welcome.</param>
    /// <param name="first">What the broker gets before anything that still comes.</param>
    /// <param name="packetBytesMax">The greatest packet.</param>
    /// <param name="refused">Told when the connection is ended for a greater one.</param>
    internal static void Put(ConnectionContext connection, byte[] first, int packetBytesMax, Action refused)
    {
        IDuplexPipe transport = connection.Transport;
        var pipe = new Pipe();
        connection.Transport = new Joined(pipe.Reader, transport.Output);
        _ = HandOnAsync(connection, transport.Input, first, pipe.Writer, packetBytesMax, refused);
    }

    private static async Task HandOnAsync(ConnectionContext connection, PipeReader from, byte[] first, PipeWriter to, int packetBytesMax,
        Action refused)
    {
        var lengths = new PacketLengths(packetBytesMax);
        try
        {
            if (first.Length > 0) await to.WriteAsync(first).ConfigureAwait(false);
            while (true)
            {
                ReadResult read = await from.ReadAsync().ConfigureAwait(false);
                foreach (ReadOnlyMemory<byte> piece in read.Buffer)
                {
                    if (!lengths.Take(piece.Span))
                    {
                        refused();
                        connection.Abort(new ConnectionAbortedException($"A packet of more than {packetBytesMax} bytes was announced."));
                        return;
                    }

                    await to.WriteAsync(piece).ConfigureAwait(false);
                }

                from.AdvanceTo(read.Buffer.End);
                if (read.IsCompleted) return;
            }
        }
        catch (Exception e) when (e is IOException or InvalidOperationException or OperationCanceledException)
        {
            // The connection ended; the broker sees the end of the pipe.
        }
        finally
        {
            await to.CompleteAsync().ConfigureAwait(false);
            await from.CompleteAsync().ConfigureAwait(false);
        }
    }

    private sealed record Joined(PipeReader Input, PipeWriter Output) : IDuplexPipe;
}
