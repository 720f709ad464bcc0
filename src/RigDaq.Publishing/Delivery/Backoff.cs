namespace RigDaq.Publishing.Delivery;

/// <summary>How long to wait before the next try: from half a second, doubled each time, to half a minute.</summary>
internal sealed class Backoff
{
    /// <summary>The first wait.</summary>
    internal static readonly TimeSpan Shortest = TimeSpan.FromSeconds(0.5);

    /// <summary>The longest wait.</summary>
    internal static readonly TimeSpan Longest = TimeSpan.FromSeconds(30);

    private TimeSpan _next = Shortest;

    /// <summary>The wait before the next try.</summary>
    internal TimeSpan Next()
    {
        TimeSpan wait = _next;
        _next = wait * 2 < Longest ? wait * 2 : Longest;
        return wait;
    }

    /// <summary>It worked: the next failure waits briefly again.</summary>
    internal void Reset() => _next = Shortest;
}
