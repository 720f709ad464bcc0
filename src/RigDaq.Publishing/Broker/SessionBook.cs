using RigDaq.Publishing.Settings;

namespace RigDaq.Publishing.Broker;

/// <summary>
/// Who is connected, who is away with a session in the broker, and what may be queued for the latter. A session costs memory for as long as
/// it is kept, and whoever may connect may leave one behind: their number is bounded, and those go first that were connected for the
/// shortest time. Safe for many threads.
/// </summary>
internal sealed class SessionBook(EmbeddedBrokerOptions options, TimeProvider time)
{
    /// <summary>How many sessions of who is away are kept while memory is tight.</summary>
    public const int AbsentWhenTightMax = 8;

    /// <summary>After so long the broker's own lists have who came.</summary>
    private static readonly TimeSpan Settled = TimeSpan.FromSeconds(5);

    /// <summary>So many messages wait for one client; the broker itself has room for twice as many.</summary>
    internal const int QueuedMax = 1_000;

    private readonly Lock _lock = new();
    private readonly Dictionary<string, Entry> _entries = new(StringComparer.Ordinal);

    /// <summary>How many sessions are known, of clients that are connected or away.</summary>
    public int Count
    {
        get { lock (_lock) return _entries.Count; }
    }

    /// <summary>Sessions that were ended because there were too many, or because nobody came back for them.</summary>
    public long Ended { get; private set; }

    /// <summary>Whether a client may have a session: one that has one may come back, a new one only where there is room.</summary>
    public bool HasRoomFor(string clientId)
    {
        lock (_lock) return _entries.ContainsKey(clientId) || _entries.Count < options.ClientsMax + (2 * options.AbsentSessionsMax);
    }

    /// <summary>A client has come.</summary>
    public void Came(string clientId)
    {
        lock (_lock)
        {
            if (!_entries.TryGetValue(clientId, out Entry? entry)) _entries[clientId] = entry = new Entry();
            // A client that takes over its own session comes before it goes.
            if (entry.Connections++ == 0) entry.Since = time.GetTimestamp();
        }
    }

    /// <summary>A connection of a client has ended.</summary>
    public void Went(string clientId)
    {
        lock (_lock)
        {
            if (!_entries.TryGetValue(clientId, out Entry? entry) || --entry.Connections > 0) return;
            entry.Connections = 0;
            long now = time.GetTimestamp();
            entry.Connected += time.GetElapsedTime(entry.Since, now);
            entry.Since = now;
        }
    }

    /// <summary>Whether a message may be queued for a client.</summary>
    /// <param name="clientId">The one that it is for.</param>
    /// <param name="isOurs">Whether the rig's own publisher sends it.</param>
    /// <param name="isPassing">Whether it is of the moment only: live force, and the state, of which the latest is retained.</param>
    /// <param name="isTight">Whether memory is tight: then nothing of anybody else's is queued.</param>
    /// <remarks>The broker would drop the oldest of a full queue after it has said that it took the new one. So a queue never gets full:
    /// what has no room is not taken for this client, and waits in the outbox where nobody else takes it.</remarks>
    public bool MayQueue(string clientId, bool isOurs, bool isPassing, bool isTight = false)
    {
        if (isTight && !isOurs) return false;
        lock (_lock)
        {
            if (!_entries.TryGetValue(clientId, out Entry? entry)) return isOurs && !isPassing;
            bool isKept = isOurs && !isPassing;
            if (!(entry.Connections > 0 || isKept) || !HasRoom(entry, isKept)) return false;
            entry.Queued++;
            return true;
        }
    }

    /// <summary>What the broker says of a session's queue, and how it is asked again before a message is refused.</summary>
    public void Noted(string clientId, Func<long> queued)
    {
        lock (_lock)
        {
            if (_entries.TryGetValue(clientId, out Entry? entry)) (entry.Queued, entry.Ask) = (queued(), queued);
        }
    }

    /// <summary>
    /// Each message that is queued is counted at once, however many come between two looks at the broker; what a client has
    /// taken meanwhile only the broker knows, which is asked where the count says that there is no room. One that has only just
    /// come it cannot be asked about yet.
    /// </summary>
    private static bool HasRoom(Entry entry, bool isKept)
    {
        if (entry.Queued < QueuedMax) return true;
        if (entry.Ask is not { } ask) return isKept && entry.Connections > 0 && entry.Queued < BrokerHosting.PendingMessagesMax - 1;
        entry.Queued = ask();
        return entry.Queued < QueuedMax;
    }

    /// <summary>The sessions that are to be ended now.</summary>
    /// <param name="sessions">The ids of all that the broker has: what it has ended itself is forgotten here.</param>
    /// <param name="clients">The ids of those that are connected, as the broker has them.</param>
    /// <param name="isTight">Whether memory is tight: only <see cref="AbsentWhenTightMax"/> may then be away.</param>
    public IReadOnlyList<string> ToEnd(IReadOnlyCollection<string> sessions, IReadOnlyCollection<string> clients, bool isTight = false)
    {
        lock (_lock)
        {
            var connected = new HashSet<string>(clients, StringComparer.Ordinal);
            foreach ((string id, Entry entry) in _entries)
            {
                // An end that was not told; one that has only just come may not be in the list yet.
                if (entry.Connections > 0 && !connected.Contains(id) && time.GetElapsedTime(entry.Since) >= Settled)
                {
                    entry.Connections = 0;
                    entry.Since = time.GetTimestamp();
                }
            }

            int most = isTight ? Math.Min(AbsentWhenTightMax, options.AbsentSessionsMax) : options.AbsentSessionsMax;
            var there = new HashSet<string>(sessions, StringComparer.Ordinal);
            foreach (string id in _entries.Where(e => e.Value.Connections == 0 && !there.Contains(e.Key)).Select(e => e.Key).ToArray())
                _entries.Remove(id);
            List<KeyValuePair<string, Entry>> absent =
                [.. _entries.Where(e => e.Value.Connections == 0).OrderByDescending(e => e.Value.Connected).ThenBy(e => e.Value.Since)];
            string[] ended = [.. absent.Where((e, i) => i >= most || time.GetElapsedTime(e.Value.Since) >= EmbeddedBrokerOptions.AbsentMax)
                .Select(e => e.Key)];
            foreach (string id in ended) _entries.Remove(id);
            Ended += ended.Length;
            return ended;
        }
    }

    private sealed class Entry
    {
        public int Connections { get; set; }

        /// <summary>When it came, or went.</summary>
        public long Since { get; set; }

        /// <summary>How many messages wait for it, as far as is known.</summary>
        public long Queued { get; set; }

        /// <summary>Asks the broker how many it is; null before the broker's list had it.</summary>
        public Func<long>? Ask { get; set; }

        /// <summary>How long it was connected, all in all.</summary>
        public TimeSpan Connected { get; set; }
    }
}
