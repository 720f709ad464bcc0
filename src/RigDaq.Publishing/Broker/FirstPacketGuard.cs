using System.Buffers;
using System.IO.Pipelines;
using System.Text;
using Microsoft.AspNetCore.Connections;
using Microsoft.AspNetCore.Connections.Features;
using RigDaq.Publishing.Settings;

namespace RigDaq.Publishing.Broker;

/// <summary>
/// Looks at the first packet of a connection before the broker does. The broker believes the length in the packet's head and
/// allocates that much before any login, so seven bytes could ask for 256 MB. What is not a CONNECT packet of a modest
/// length, whole within five seconds, is refused here.
/// </summary>
internal sealed class FirstPacketGuard(int packetBytesMax, int connectionsMax, string ownPassword, TimeProvider time)
{
    /// <summary>How long a client may take to send its first packet.</summary>
    internal static readonly TimeSpan FirstPacketTime = TimeSpan.FromSeconds(5);

    /// <summary>How long clients keep their connection when the host ends: enough for the last words to reach them.</summary>
    internal static readonly TimeSpan FarewellTime = TimeSpan.FromSeconds(1);

    /// <summary>So many more connections may send their first packet, to see whether they are the rig's own: strangers cannot keep those
    /// away.</summary>
    internal const int LookedAtMax = 32;

    private const byte ConnectPacket = 0x10;
    private const int LengthBytesMax = 4;

    private readonly TaskCompletionSource _open = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private int _connections;

    /// <summary>How many connections were refused here.</summary>
    internal long Refused => Interlocked.Read(ref _refused);

    private long _refused;

    /// <summary>A name for a client that brings none.</summary>
    internal static string NewGuestName() => "guest-" + Guid.NewGuid().ToString("N");

    /// <summary>The broker behind has started: connections are passed on.</summary>
    internal void Open() => _open.TrySetResult();

    /// <summary>Passes the connection on, or ends it.</summary>
    internal async Task RunAsync(ConnectionContext connection, ConnectionDelegate next)
    {
        try
        {
            int connections = Interlocked.Increment(ref _connections);
            bool welcome = connections <= connectionsMax + LookedAtMax
                && await IsWelcomeAsync(connection, ownOnly: connections > connectionsMax).ConfigureAwait(false);
            if (welcome)
            {
                // The host waits half a minute for connections that stay open; a subscriber's always does.
                var lifetime = connection.Features.Get<IConnectionLifetimeNotificationFeature>();
                using CancellationTokenRegistration? ending =
                    lifetime?.ConnectionClosedRequested.Register(() => _ = AbortSoonAsync(connection));
                await next(connection).ConfigureAwait(false);
                return;
            }

            Interlocked.Increment(ref _refused);
            connection.Abort(new ConnectionAbortedException("The first packet was not a CONNECT packet of a modest length in time."));
        }
        finally
        {
            Interlocked.Decrement(ref _connections);
        }
    }

    private async Task AbortSoonAsync(ConnectionContext connection)
    {
        await Task.Delay(FarewellTime, time).ConfigureAwait(false);
        connection.Abort(new ConnectionAbortedException("The host is ending."));
    }

    private async Task<bool> IsWelcomeAsync(ConnectionContext connection, bool ownOnly)
    {
        PipeReader input = connection.Transport.Input;
        using var late = new CancellationTokenSource(FirstPacketTime, time);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(late.Token, connection.ConnectionClosed);
        try
        {
            while (true)
            {
                ReadResult read = await input.ReadAsync(either.Token).ConfigureAwait(false);
                Verdict verdict = Judge(read.Buffer, packetBytesMax);
                if (verdict == Verdict.Whole && ownOnly && read.Buffer.ToArray().AsSpan().IndexOf(Encoding.ASCII.GetBytes(ownPassword)) < 0)
                    verdict = Verdict.Hostile;
                if (verdict == Verdict.Whole)
                {
                    await _open.Task.WaitAsync(either.Token).ConfigureAwait(false);
                    byte[] named = GuestNames.Fill(read.Buffer.ToArray(), NewGuestName()) ?? [];
                    // Where the packet stays as it is nothing is consumed and nothing counts as examined: the same bytes are read again.
                    SequencePosition taken = named.Length > 0 ? read.Buffer.End : read.Buffer.Start;
                    input.AdvanceTo(taken, taken);
                    PacketGate.Put(connection, named, EmbeddedBrokerOptions.PacketBytesMax, () => Interlocked.Increment(ref _refused));
                    return true;
                }

                input.AdvanceTo(read.Buffer.Start, read.Buffer.End);
                if (verdict == Verdict.Hostile || read.IsCompleted) return false;
            }
        }
        catch (OperationCanceledException)
        {
            return false;
        }
    }

    /// <summary>What the bytes so far tell.</summary>
    internal static Verdict Judge(ReadOnlySequence<byte> bytes, int packetBytesMax)
    {
        var reader = new SequenceReader<byte>(bytes);
        if (!reader.TryRead(out byte type)) return Verdict.Unfinished;
        if (type != ConnectPacket) return Verdict.Hostile;

        // MQTT 5.0, 1.5.5: a variable byte integer holds seven bits a byte, the least first, in at most four bytes.
        long length = 0;
        for (int i = 0; i < LengthBytesMax; i++)
        {
            if (!reader.TryRead(out byte part)) return Verdict.Unfinished;
            length |= (long)(part & 0x7F) << (7 * i);
            if ((part & 0x80) != 0) continue;
            if (length > packetBytesMax) return Verdict.Hostile;
            return reader.Remaining >= length ? Verdict.Whole : Verdict.Unfinished;
        }

        return Verdict.Hostile;
    }

    /// <summary>What a first packet is.</summary>
    internal enum Verdict
    {
        /// <summary>More bytes are needed.</summary>
        Unfinished,

        /// <summary>A whole CONNECT packet of a modest length.</summary>
        Whole,

        /// <summary>Anything else.</summary>
        Hostile,
    }
}
