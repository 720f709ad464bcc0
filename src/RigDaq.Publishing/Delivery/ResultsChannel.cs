using System.Threading.Channels;
using Microsoft.Extensions.Logging;
using RigDaq.Core.Runs;
using RigDaq.Publishing.Messages;
using RigDaq.Publishing.Text;

namespace RigDaq.Publishing.Delivery;

/// <summary>The connection whose messages are acknowledged: the state first, then alarms, then results, one at a time. It carries the last
/// will.</summary>
internal sealed class ResultsChannel(IOutbox outbox, Topics topics, IReadOnlyList<string> consumers, string instance, TimeProvider time,
    ILogger logger)
{
    /// <summary>Alarms that wait while the broker is away; then the oldest go and are counted.</summary>
    internal const int AlarmsMax = 100;

    /// <summary>Replays that wait.</summary>
    private const int ReplaysMax = 4;

    /// <summary>How often the outbox is looked at without being told to.</summary>
    internal static readonly TimeSpan Look = TimeSpan.FromSeconds(5);

    /// <summary>The state is sent again after so long though nothing has changed: who came back to a session has it then, whichever broker
    /// it is.</summary>
    internal static readonly TimeSpan StateAtLeast = TimeSpan.FromSeconds(30);

    /// <summary>However many subscribe, the state goes out for them no more often than this.</summary>
    internal static readonly TimeSpan StateAtMost = TimeSpan.FromMilliseconds(100);

    private readonly OutboxDrain _drain = new(outbox, topics, consumers);
    private readonly Channel<RunReplay> _replays = Channel.CreateBounded<RunReplay>(ReplaysMax);
    private readonly Nudge _nudge = new();
    private StateMessage? _state;
    private StateMessage? _published;
    private long _publishedAt;
    private bool _stateIsWanted;
    private bool _isUnclaimed;
    private string _refusal = "";
    private string _unreadable = "";

    internal LatestQueue<AlarmMessage> Alarms { get; } = new(AlarmsMax);

    /// <summary>Whether results wait because nobody listens.</summary>
    internal bool IsUnclaimed => Volatile.Read(ref _isUnclaimed);

    /// <summary>The broker's words where it refuses results; empty otherwise.</summary>
    internal string Refusal => Volatile.Read(ref _refusal);

    internal void Set(StateMessage state)
    {
        Volatile.Write(ref _state, state);
        Wake();
    }

    internal void Wake() => _nudge.Give();

    /// <summary>Somebody subscribed: the state goes out once more, and what waits is offered. The embedded broker looks its kept messages
    /// up before the subscription counts, so that a state which is published in between reaches a new subscriber neither way.</summary>
    internal void Welcome()
    {
        Volatile.Write(ref _stateIsWanted, true);
        Wake();
    }

    /// <exception cref="InvalidOperationException">Too many replays wait.</exception>
    internal void Add(RunReplay replay)
    {
        if (!_replays.Writer.TryWrite(replay)) throw new InvalidOperationException(PublishingText.ReplaysWait(ReplaysMax));
        Wake();
    }

    /// <summary>Uses a connection until it ends.</summary>
    internal async Task RunAsync(BrokerSession session, CancellationToken ended)
    {
        _published = null; // A broker that came back may have forgotten what it kept.
        while (true)
        {
            bool more = await PassAsync(session, ended).ConfigureAwait(false);
            if (!more) await _nudge.WaitAsync(Volatile.Read(ref _stateIsWanted) ? StateAtMost : Look, time, ended).ConfigureAwait(false);
        }
    }

    /// <summary>Says that the rig is offline, then closes.</summary>
    internal async Task EndAsync(BrokerSession session)
    {
        try
        {
            await session.PublishAsync(topics.State, OfflineMessage.Payload, retain: true, CancellationToken.None).ConfigureAwait(false);
            await session.CloseAsync().ConfigureAwait(false);
        }
        catch (IOException)
        {
            // The last will says the same.
        }
    }

    /// <summary>No replay will be sent any more.</summary>
    internal void Close()
    {
        _replays.Writer.TryComplete();
        while (_replays.Reader.TryRead(out RunReplay? replay)) replay.Abandon();
    }

    private async Task<bool> PassAsync(BrokerSession sink, CancellationToken ended)
    {
        StateMessage? state = Volatile.Read(ref _state);
        TimeSpan age = time.GetElapsedTime(_publishedAt);
        bool isWanted = (Volatile.Read(ref _stateIsWanted) && age >= StateAtMost) || age >= StateAtLeast;
        if (state is not null && (isWanted || !ReferenceEquals(state, _published)))
        {
            Volatile.Write(ref _stateIsWanted, false);
            // Not acknowledged, so that no broker queues it for who is away: a hundred states would push a result out of a full queue.
            await sink.SendRetainedAsync(topics.State, PayloadJson.Write(state with { Instance = instance }), ended).ConfigureAwait(false);
            _published = state;
            _publishedAt = time.GetTimestamp();
        }

        while (Alarms.TryTake(out AlarmMessage? alarm))
        {
            try
            {
                await sink.PublishAsync(topics.Alarms, PayloadJson.Write(alarm), retain: false, ended).ConfigureAwait(false);
            }
            catch
            {
                Alarms.Return(alarm);
                throw;
            }
        }

        DrainResult result = await _drain.PassAsync(sink, ended).ConfigureAwait(false);
        Volatile.Write(ref _isUnclaimed, result.Unclaimed);
        if (Interlocked.Exchange(ref _refusal, result.Refusal) != result.Refusal && result.Refusal.Length > 0)
        {
            logger.LogWarning("The broker refuses results ({Refusal}); they are kept and tried again. Check what the user may publish.",
                result.Refusal);
        }

        if (Interlocked.Exchange(ref _unreadable, result.Unreadable) != result.Unreadable && result.Unreadable.Length > 0)
        {
            logger.LogError("What waits to be published cannot be read: {Fault} It is tried again every {Seconds} s.", result.Unreadable,
                Look.TotalSeconds);
        }

        if (result.GivenUp > 0)
            logger.LogWarning("{Count} results were given up for a named consumer that did not come for them; send their study again when it is back.", result.GivenUp);

        if (_replays.Reader.TryRead(out RunReplay? replay)) await replay.SendAsync(sink, ended).ConfigureAwait(false);
        return result.More || !ReferenceEquals(Volatile.Read(ref _state), _published);
    }
}
