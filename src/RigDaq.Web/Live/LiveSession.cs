using System.Net.WebSockets;
using System.Text.Json;
using RigDaq.App.Access;
using RigDaq.App.Overview;
using RigDaq.Core.Calibration;
using RigDaq.Rig.Control;
using RigDaq.Rig.Sequencing;
using RigDaq.Text;
using RigDaq.Web.Views;

namespace RigDaq.Web.Live;

/// <summary>What goes over one page's socket, three ways at once: live blocks, the state, and what the page says.</summary>
internal sealed class LiveSession(WebSocket socket, ILiveRig rig, StopOnce stop, IDashboardData data, TimeProvider time, LiveRights rights)
    : IDisposable
{
    /// <summary>How often the state is sent at most.</summary>
    private static readonly TimeSpan StateEvery = TimeSpan.FromMilliseconds(100);

    /// <summary>A page that takes no bytes for so long is dropped; it connects again by itself.</summary>
    private static readonly TimeSpan SendTime = TimeSpan.FromSeconds(5);

    /// <summary>So many quiet turns of <see cref="StateEvery"/> and the state is sent again: a page must know that it is not
    /// late.</summary>
    private const int QuietTurnsMax = 5;

    /// <summary>Where what is kept could not be read it is tried again after so many turns.</summary>
    private const int UnreadTurns = 20;

    /// <summary>A page that hangs for longer than about three seconds of blocks misses some.</summary>
    private const int BlocksMax = 128;

    private const int MessageBytesMax = 256;

    private const int BatchBlocksMax = 64;

    private readonly SemaphoreSlim _sending = new(1, 1);

    public void Dispose() => _sending.Dispose();

    internal async Task RunAsync(CancellationToken stopping)
    {
        using var ended = CancellationTokenSource.CreateLinkedTokenSource(stopping);
        Task[] ways = [SendLiveAsync(ended.Token), SendStateAsync(ended.Token), ReceiveAsync(ended.Token)];
        try
        {
            await Task.WhenAny(ways).ConfigureAwait(false);
        }
        finally
        {
            await ended.CancelAsync().ConfigureAwait(false);
            try
            {
                await Task.WhenAll(ways).ConfigureAwait(false);
            }
            catch (Exception e) when (e is OperationCanceledException or WebSocketException or IOException or JsonException
                or ObjectDisposedException)
            {
                // A page that went away; it comes back by itself.
            }

            socket.Abort();
        }
    }

    private async Task SendLiveAsync(CancellationToken ended)
    {
        using LiveSubscription live = rig.SubscribeLive(BlocksMax);
        byte[] bytes = new byte[16 * 1024];
        while (await live.Blocks.WaitToReadAsync(ended).ConfigureAwait(false))
        {
            int length = 0;
            for (int i = 0; i < BatchBlocksMax && live.Blocks.TryRead(out LiveBlock? block); i++)
            {
                int needed = length + LiveFrame.Length(block);
                if (needed > bytes.Length) Array.Resize(ref bytes, Math.Max(needed, bytes.Length * 2));
                length += LiveFrame.Write(block, bytes.AsSpan(length));
            }

            await SendAsync(bytes.AsMemory(0, length), WebSocketMessageType.Binary, ended).ConfigureAwait(false);
        }
    }

    private async Task SendStateAsync(CancellationToken ended)
    {
        await SendTextAsync(DashboardJson.Write(HelloView.From(data, rights.MayMove, rights.IsAtTheRig)), ended).ConfigureAwait(false);
        using var timer = new PeriodicTimer(StateEvery, time);
        RigSnapshot? sent = null;
        IReadOnlyList<SpecimenProgress>? queue = null;
        long version = long.MinValue;
        string? trouble = null;
        IReadOnlyList<MotionAsked> asked = [];
        int quiet = 0, unread = 0;
        (CalibrationRecord? Calibration, Sentence? Words) checkWeight = default;
        do
        {
            RigSnapshot now = rig.Snapshot;
            if (unread > 0) unread--;
            else if (Kept<long?>(() => data.Version) is not { } found) unread = UnreadTurns;
            else if (found != version)
            {
                version = found;
                queue = null;
                if (Kept(() => DashboardJson.Write(StudyMessage.From(data))) is { } study) await SendTextAsync(study, ended)
                    .ConfigureAwait(false);
            }

            if (now.Sequence is { } sequence && !ReferenceEquals(sequence.Specimens, queue))
            {
                queue = sequence.Specimens;
                byte[] pieces = Kept(() => DashboardJson.Write(QueueView.From(sequence, data.Study())))
                    ?? DashboardJson.Write(QueueView.From(sequence, null));
                await SendTextAsync(pieces, ended).ConfigureAwait(false);
            }

            if (ReferenceEquals(now, sent) && data.Trouble == trouble && ReferenceEquals(rights.Asked, asked) && ++quiet < QuietTurnsMax)
                continue;
            (quiet, sent, trouble, asked) = (0, now, data.Trouble, rights.Asked);
            // Read before work, while the daemon does not run: once a calibration is often enough.
            if (!ReferenceEquals(now.Calibration, checkWeight.Calibration)) checkWeight = (now.Calibration, now.Calibration is { } c
                ? Kept(() => data.CheckWeight(c)) : null);
            StateView state = StateView.From(now, time.GetUtcNow(), data.Units, checkWeight.Words) with
            { DataTrouble = trouble, MotionAsked = asked };
            await SendTextAsync(DashboardJson.Write(state), ended).ConfigureAwait(false);
        }
        while (await timer.WaitForNextTickAsync(ended).ConfigureAwait(false));
    }

    // What is kept may be out of reach; where the rig stands, and the stop, are shown all the same.
    private static T? Kept<T>(Func<T?> read)
    {
        try
        {
            return read();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return default;
        }
    }

    private async Task ReceiveAsync(CancellationToken ended)
    {
        byte[] bytes = new byte[MessageBytesMax];
        bool jogging = false;
        try
        {
            while (true)
            {
                ValueWebSocketReceiveResult received = await socket.ReceiveAsync(bytes.AsMemory(), ended).ConfigureAwait(false);
                if (received.MessageType != WebSocketMessageType.Text || !received.EndOfMessage) return;
                var jog = (JogMessage?)JsonSerializer.Deserialize(bytes.AsSpan(0, received.Count), typeof(JogMessage), DashboardJson.Camel);
                if (jog is null || !double.IsFinite(jog.JogMillimetresPerSecond)) return;
                if (jog.Stop)
                {
                    // Needs no token, like every stop; its answer is the request's that the page sends as well.
                    jogging = false;
                    await stop.StopAsync(jog.Id).ConfigureAwait(false);
                    continue;
                }

                CommandResult result = await JogAsync(jog.JogMillimetresPerSecond, ended).ConfigureAwait(false);
                if (result.Done && !jogging && jog.JogMillimetresPerSecond != 0) rights.Began();
                jogging = result.Done && jog.JogMillimetresPerSecond != 0;
                if (!result.Done)
                {
                    await SendTextAsync(DashboardJson.Write(new AnswerView("jog", false, result.Message.In(data.Units))), ended)
                        .ConfigureAwait(false);
                }
            }
        }
        finally
        {
            // Whatever ended the socket, the hand is off the button.
            if (jogging) await rig.JogAsync(0).ConfigureAwait(false);
        }
    }

    private Task<CommandResult> JogAsync(double speed, CancellationToken ended) =>
        speed != 0 && rights.ReasonAgainst(time, ended) is { } reason ? Task.FromResult(CommandResult.Refused(reason))
            : rig.JogAsync(speed);

    private Task SendTextAsync(byte[] bytes, CancellationToken ended) => SendAsync(bytes, WebSocketMessageType.Text, ended);

    private async Task SendAsync(ReadOnlyMemory<byte> bytes, WebSocketMessageType type, CancellationToken ended)
    {
        await _sending.WaitAsync(ended).ConfigureAwait(false);
        try
        {
            using var late = new CancellationTokenSource(SendTime, time);
            using var either = CancellationTokenSource.CreateLinkedTokenSource(late.Token, ended);
            await socket.SendAsync(bytes, type, endOfMessage: true, either.Token).ConfigureAwait(false);
        }
        finally
        {
            _sending.Release();
        }
    }
}
