using RigDaq.App;
using RigDaq.App.Text;
using RigDaq.Archive;
using RigDaq.Text;

namespace RigDaq.Web.Access;

/// <summary>
/// Reports, pictures and labels, each computed once for what is kept, one after the other: they cost a second of a core and tens of
/// megabytes, and whoever may look at the page may ask for them. What was computed is handed out again until something is kept. Safe for
/// several threads.
/// </summary>
internal sealed class DocumentStore(RigArchive archive, TimeProvider time) : IDisposable
{
    /// <summary>How many requests may wait for their turn; more are sent away.</summary>
    public const int WaitingMax = 16;

    /// <summary>How many bytes of documents are kept; the one that was asked for longest ago goes first.</summary>
    public const long KeptBytesMax = 32 << 20;

    /// <summary>So many computations may whoever has no key ask for at once…</summary>
    public const int KeylessMax = 6;

    /// <summary>…and one more after each of these.</summary>
    public static readonly TimeSpan KeylessEvery = TimeSpan.FromSeconds(5);

    /// <summary>How long a request waits for its turn.</summary>
    private static readonly TimeSpan TurnMax = TimeSpan.FromSeconds(30);

    private readonly SemaphoreSlim _turn = new(1, 1);
    private readonly Lock _lock = new();
    private readonly Dictionary<string, Kept> _kept = new(StringComparer.Ordinal);
    private double _keyless = KeylessMax;
    private long _keylessAt = time.GetTimestamp();
    private int _waiting;
    private bool _isTight;
    private long _asked;

    /// <summary>Computations so far.</summary>
    internal long Computed { get; private set; }

    /// <summary>Memory is tight, or is no longer: what is kept is forgotten, and who has no key has to wait.</summary>
    internal void BeTight(bool isTight)
    {
        lock (_lock)
        {
            _isTight = isTight;
            if (isTight) _kept.Clear();
        }
    }

    /// <summary>A document, or why it is not to be had now.</summary>
    /// <param name="name">Which: equal names are equal documents.</param>
    /// <param name="hasKey">Whether who asks has the key: those are never sent away for asking often.</param>
    /// <param name="make">Computes it; null where there is none.</param>
    /// <param name="cancellation">Who asks has gone.</param>
    internal async Task<(byte[]? Bytes, Sentence? Busy)> GetAsync(string name, bool hasKey, Func<Task<byte[]?>> make,
        CancellationToken cancellation)
    {
        if (Find(name) is { } there) return (there.Bytes, null);
        if (!hasKey && !MayCompute()) return (null, PageText.Sentence("answers.tooOften"));
        if (Interlocked.Increment(ref _waiting) > WaitingMax)
        {
            Interlocked.Decrement(ref _waiting);
            return (null, PageText.Sentence("shared.busy"));
        }

        try
        {
            if (!await _turn.WaitAsync(TurnMax, cancellation).ConfigureAwait(false)) return (null, PageText.Sentence("shared.busy"));
        }
        finally
        {
            Interlocked.Decrement(ref _waiting);
        }

        try
        {
            // Whoever was before may have asked for the same.
            if (Find(name) is { } since) return (since.Bytes, null);
            long version = archive.LastEntry;
            byte[]? bytes = await make().ConfigureAwait(false);
            Computed++;
            Keep(name, version, bytes);
            return (bytes, null);
        }
        finally
        {
            _turn.Release();
        }
    }

    /// <summary>Answers a request that was sent away.</summary>
    internal static Task SendAwayAsync(HttpContext context, Sentence why)
    {
        context.Response.Headers.RetryAfter = "5";
        return GuardedRequests.AnswerAsync(context, StatusCodes.Status429TooManyRequests, Result.Because(why));
    }

    /// <inheritdoc/>
    public void Dispose() => _turn.Dispose();

    private Kept? Find(string name)
    {
        long version = archive.LastEntry;
        lock (_lock)
        {
            if (!_kept.TryGetValue(name, out Kept? kept) || kept.Version != version) return null;
            kept.AskedAt = ++_asked;
            return kept;
        }
    }

    private void Keep(string name, long version, byte[]? bytes)
    {
        if ((bytes?.LongLength ?? 0) > KeptBytesMax / 2) return;
        lock (_lock)
        {
            if (_isTight) return;
            foreach (string old in _kept.Where(k => k.Value.Version != version).Select(k => k.Key).ToArray()) _kept.Remove(old);
            _kept[name] = new Kept(version, bytes) { AskedAt = ++_asked };
            // Names are anybody's to make up: what there is nothing of takes room, too.
            while (_kept.Count > 64 || _kept.Values.Sum(k => k.Bytes?.LongLength ?? 0) > KeptBytesMax)
                _kept.Remove(_kept.MinBy(k => k.Value.AskedAt).Key);
        }
    }

    private bool MayCompute()
    {
        lock (_lock)
        {
            if (_isTight) return false;
            long now = time.GetTimestamp();
            _keyless = Math.Min(KeylessMax, _keyless + (time.GetElapsedTime(_keylessAt, now) / KeylessEvery));
            _keylessAt = now;
            if (_keyless < 1) return false;
            _keyless--;
            return true;
        }
    }

    private sealed record Kept(long Version, byte[]? Bytes)
    {
        public long AskedAt { get; set; }
    }
}
