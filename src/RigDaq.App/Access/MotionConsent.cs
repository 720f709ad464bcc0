using RigDaq.App.Callers;

namespace RigDaq.App.Access;

/// <summary>
/// Whoever is elsewhere sees neither hands nor guard: what they want to move waits for a person at the rig, who allows it once, at the
/// rig's own page. A stop takes back whatever was asked for. It comes besides guard, cautions and device, and replaces none of them. Safe
/// for several threads.
/// </summary>
internal sealed class MotionConsent(TimeProvider time)
{
    /// <summary>How many things may wait for an answer.</summary>
    internal const int AskedMax = 4;

    /// <summary>How long one waits.</summary>
    internal static readonly TimeSpan AskedFor = TimeSpan.FromSeconds(60);

    private readonly Lock _lock = new();
    private readonly List<(MotionAsked Asked, TaskCompletionSource<bool> Answer)> _asked = [];
    private volatile IReadOnlyList<MotionAsked> _shown = [];
    private int _last;
    private int _stops;

    /// <summary>What waits now: another list after each change.</summary>
    internal IReadOnlyList<MotionAsked> Asked => _shown;

    /// <summary>How often somebody stopped: what was allowed before the last stop is allowed no more.</summary>
    internal int Stops => Volatile.Read(ref _stops);

    /// <summary>Asks at the rig, and waits for the answer.</summary>
    /// <returns>Whether it was allowed and nobody stopped since it was asked; null where too much waits already.</returns>
    internal async Task<bool?> AskAsync(Caller who, string what, CancellationToken gone)
    {
        var answer = new TaskCompletionSource<bool>(TaskCreationOptions.RunContinuationsAsynchronously);
        MotionAsked asked;
        int stops = Stops;
        lock (_lock)
        {
            if (_asked.Count >= AskedMax) return null;
            asked = new MotionAsked(++_last, who.Name, who.From, what, time.GetUtcNow() + AskedFor);
            _asked.Add((asked, answer));
            Show();
        }

        using var late = new CancellationTokenSource(AskedFor, time);
        using CancellationTokenRegistration whenLate = late.Token.Register(() => Answer(asked.Id, false));
        using CancellationTokenRegistration whenGone = gone.Register(() => Answer(asked.Id, false));
        return await answer.Task.ConfigureAwait(false) && Stops == stops;
    }

    /// <summary>Answers.</summary>
    /// <returns>False where it lapsed, was answered before or never was.</returns>
    internal bool Answer(int id, bool allowed)
    {
        lock (_lock)
        {
            int at = _asked.FindIndex(each => each.Asked.Id == id);
            if (at < 0) return false;
            TaskCompletionSource<bool> answer = _asked[at].Answer;
            _asked.RemoveAt(at);
            Show();
            return answer.TrySetResult(allowed);
        }
    }

    /// <summary>Somebody stopped: refuses everything that waits, and takes back what was allowed.</summary>
    internal void RefuseAll()
    {
        Interlocked.Increment(ref _stops);
        lock (_lock)
        {
            if (_asked.Count == 0) return;
            foreach ((_, TaskCompletionSource<bool> answer) in _asked) answer.TrySetResult(false);
            _asked.Clear();
            Show();
        }
    }

    private void Show() => _shown = [.. _asked.Select(each => each.Asked)];
}
