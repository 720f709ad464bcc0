using System.Threading.Channels;
using RigDaq.App.Callers;
using RigDaq.Archive;
using RigDaq.Core.Callers;

namespace RigDaq.App.Journal;

/// <summary>
/// Writes down what happens, on a task of its own: nobody waits for the disk, least of all a stop. What cannot be kept is given up, and
/// that is written to the log once. Safe for several threads.
/// </summary>
internal sealed class HappeningBook : IAsyncDisposable
{
    /// <summary>So many may wait for the disk; further ones are given up.</summary>
    public const int WaitingMax = 256;

    /// <summary>What who has no key does is written down once in this time: they could fill the disk with it.</summary>
    public static readonly TimeSpan KeylessEvery = TimeSpan.FromMinutes(1);

    /// <summary>How long the end waits for what still waits.</summary>
    private static readonly TimeSpan EndMax = TimeSpan.FromSeconds(2);

    private readonly Channel<Happening> _waiting = Channel.CreateBounded<Happening>(
        new BoundedChannelOptions(WaitingMax) { FullMode = BoundedChannelFullMode.DropWrite, SingleReader = true });

    private readonly RigDiary _diary;
    private readonly TimeProvider _time;
    private readonly ILogger _log;
    private readonly Task _writing;
    private readonly Lock _lock = new();
    private DateTimeOffset _last;
    private DateTimeOffset _keylessAt = DateTimeOffset.MinValue;
    private bool _failed;

    /// <summary>Begins.</summary>
    /// <param name="diary">Where it is kept.</param>
    /// <param name="time">For stamps.</param>
    /// <param name="log">Hears what could not be kept.</param>
    public HappeningBook(RigDiary diary, TimeProvider time, ILogger<HappeningBook> log)
    {
        (_diary, _time, _log) = (diary, time, log);
        // What is written is nobody's doing: who did it stands in it.
        using (ExecutionContext.SuppressFlow()) _writing = Task.Run(WriteAsync);
    }

    /// <summary>Somebody did something.</summary>
    /// <param name="what">The command, by its name in the interface.</param>
    /// <param name="subject">The study, run or account that it was done to; empty for none.</param>
    public void Did(string what, string subject = "")
    {
        if (Caller.Current is { } who) Did(what, subject, who.By, isKnown: who.Role != CallerRole.Look);
    }

    /// <summary>The same by somebody who is not who asks now.</summary>
    /// <param name="what">The command.</param>
    /// <param name="subject">What it was done to.</param>
    /// <param name="who">By whom.</param>
    /// <param name="isKnown">Whether they have a key or a log-in.</param>
    public void Did(string what, string subject, By who, bool isKnown)
    {
        if (!isKnown)
        {
            lock (_lock)
            {
                DateTimeOffset now = _time.GetUtcNow();
                if (now - _keylessAt < KeylessEvery) return;
                _keylessAt = now;
            }
        }

        Note(new Happening { At = default, Kind = HappeningKind.Deed, Code = what, Words = subject, By = who });
    }

    /// <summary>Something befell the rig. Its moment is now.</summary>
    public void Note(Happening happening)
    {
        lock (_lock)
        {
            // Two at one moment would be one note.
            DateTimeOffset now = _time.GetUtcNow();
            _last = now > _last ? now : _last.AddTicks(1);
            _waiting.Writer.TryWrite(happening with { At = _last });
        }
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        _waiting.Writer.TryComplete();
        await Task.WhenAny(_writing, Task.Delay(EndMax)).ConfigureAwait(false);
    }

    private async Task WriteAsync()
    {
        await foreach (Happening happening in _waiting.Reader.ReadAllAsync().ConfigureAwait(false))
        {
            try
            {
                _diary.Add(happening);
                _failed = false;
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException or ObjectDisposedException)
            {
                // The archive says by itself what is wrong with it; here it is only that this is lost.
                if (!_failed) _log.LogWarning(e, "{What}", happening.Code);
                _failed = true;
            }
        }
    }
}
