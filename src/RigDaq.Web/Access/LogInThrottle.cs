namespace RigDaq.Web.Access;

/// <summary>
/// Makes guessing slow: after some wrong passwords each further one costs a wait that doubles, for the address that they come from and,
/// with a shorter bound, for the account that they are for, so that nobody can lock its owner out by being wrong on purpose. Safe for
/// several threads.
/// </summary>
internal sealed class LogInThrottle(TimeProvider time)
{
    /// <summary>So many wrong ones are free.</summary>
    internal const int FreeMax = 5;

    /// <summary>The longest wait of an address.</summary>
    internal static readonly TimeSpan AddressWaitMax = TimeSpan.FromMinutes(15);

    /// <summary>The longest wait of an account.</summary>
    internal static readonly TimeSpan AccountWaitMax = TimeSpan.FromSeconds(30);

    /// <summary>So many addresses and accounts are remembered; who was wrong longest ago is forgotten first.</summary>
    internal const int RememberedMax = 1_024;

    private readonly Lock _lock = new();
    private readonly Dictionary<string, Wrong> _wrong = new(StringComparer.Ordinal);

    /// <summary>How long somebody has to wait; null where they need not.</summary>
    /// <param name="address">Whom the address counts for.</param>
    /// <param name="account">The name that was typed.</param>
    internal TimeSpan? WaitOf(UInt128 address, string account)
    {
        lock (_lock)
        {
            DateTimeOffset until = new[] { OfAddress(address), OfAccount(account) }
                .Max(key => _wrong.GetValueOrDefault(key)?.Until ?? default);
            TimeSpan wait = until - time.GetUtcNow();
            return wait > TimeSpan.Zero ? wait : null;
        }
    }

    /// <summary>A password was wrong.</summary>
    internal void WasWrong(UInt128 address, string account)
    {
        lock (_lock)
        {
            Count(OfAddress(address), AddressWaitMax);
            Count(OfAccount(account), AccountWaitMax);
        }
    }

    /// <summary>A password was right: what went before is forgotten for its account, not for an address that may have tried
    /// others.</summary>
    internal void WasRight(string account)
    {
        lock (_lock) _wrong.Remove(OfAccount(account));
    }

    private void Count(string key, TimeSpan most)
    {
        DateTimeOffset now = time.GetUtcNow();
        int times = _wrong.TryGetValue(key, out Wrong? before) && now - before.At < AddressWaitMax ? before.Times + 1 : 1;
        double seconds = times < FreeMax ? 0 : Math.Min(most.TotalSeconds, Math.Pow(2, Math.Min(times - FreeMax, 20)));
        _wrong[key] = new Wrong(times, now, now.AddSeconds(seconds));
        while (_wrong.Count > RememberedMax) _wrong.Remove(_wrong.MinBy(each => each.Value.At).Key);
    }

    private static string OfAddress(UInt128 address) => "from " + address;

    private static string OfAccount(string account) => "as " + account;

    private sealed record Wrong(int Times, DateTimeOffset At, DateTimeOffset Until);
}
