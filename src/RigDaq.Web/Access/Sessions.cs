using System.Security.Cryptography;
using System.Text;

namespace RigDaq.Web.Access;

/// <summary>
/// Who has logged in from elsewhere, for this start of the program. A session ends by itself, with a log-out, and with any change of its
/// account; whoever had one may stop the rig by it for a while longer, because a stop must not fail on a log-in that ran out. Safe for
/// several threads.
/// </summary>
internal sealed class Sessions(AccountBook book, TimeProvider time)
{
    /// <summary>How many are remembered, ended ones among them; the one that was used longest ago goes first.</summary>
    internal const int SessionsMax = 128;

    /// <summary>A session in which nothing was asked for so long ends…</summary>
    internal static readonly TimeSpan IdleMax = TimeSpan.FromHours(2);

    /// <summary>…and every one after so long: a working day.</summary>
    internal static readonly TimeSpan LastsMax = TimeSpan.FromHours(12);

    /// <summary>So long after its end it may still stop.</summary>
    internal static readonly TimeSpan StopsFor = TimeSpan.FromHours(24);

    private const int TokenBytes = 32;

    private readonly Lock _lock = new();
    private readonly Dictionary<string, Session> _sessions = new(StringComparer.Ordinal);

    /// <summary>Begins one.</summary>
    /// <returns>What goes into the cookie; only its hash is kept.</returns>
    internal string Begin(Account account, string from)
    {
        string token = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(TokenBytes));
        lock (_lock)
        {
            EndOld();
            if (_sessions.Count >= SessionsMax)
            {
                (string oldest, Session session) = _sessions.MinBy(each => (each.Value.EndedAt is null, each.Value.UsedAt));
                session.End(time.GetUtcNow());
                _sessions.Remove(oldest);
            }

            _sessions[HashOf(token)] = new Session(account.Name, account.Role, account.Issue, from, time.GetUtcNow());
        }

        return token;
    }

    /// <summary>The session of a request; null where there is none, or it is over.</summary>
    internal Session? Find(HttpContext context)
    {
        lock (_lock)
        {
            EndOld();
            if (Of(context) is not { EndedAt: null } session) return null;
            session.UsedAt = time.GetUtcNow();
            return session;
        }
    }

    /// <summary>Whether a request may stop: it has a session, or had one not long ago.</summary>
    internal bool MayStop(HttpContext context)
    {
        lock (_lock)
        {
            EndOld();
            return Of(context) is not null;
        }
    }

    /// <summary>Ends the session of a request.</summary>
    internal void End(HttpContext context)
    {
        lock (_lock) Of(context)?.End(time.GetUtcNow());
    }

    /// <summary>Those that go on, the newest first.</summary>
    internal IReadOnlyList<Session> Open()
    {
        lock (_lock)
        {
            EndOld();
            return [.. _sessions.Values.Where(session => session.EndedAt is null).OrderByDescending(session => session.BegunAt)];
        }
    }

    /// <summary>The cookie's name: browsers send one that begins so over TLS only, and to this host alone (RFC 6265bis, 4.1.3.2).</summary>
    internal static string CookieName(HttpContext context) => "__Host-" + DashboardAccess.CookieName(context);

    // An account that was changed or taken away ends its sessions at the next look at any of them.
    private void EndOld()
    {
        DateTimeOffset now = time.GetUtcNow();
        foreach ((string hash, Session session) in _sessions.ToArray())
        {
            bool isOver = now - session.BegunAt >= LastsMax || now - session.UsedAt >= IdleMax || IsChanged(session);
            if (isOver) session.End(now);
            if (session.EndedAt is { } ended && now - ended >= StopsFor) _sessions.Remove(hash);
        }
    }

    // Accounts that cannot be read let nobody go on; whoever had a session may still stop.
    private bool IsChanged(Session session)
    {
        try
        {
            return book.Find(session.Name)?.Issue != session.Issue;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return true;
        }
    }

    private Session? Of(HttpContext context) => context.Request.Cookies[CookieName(context)] is { Length: 2 * TokenBytes } token
        ? _sessions.GetValueOrDefault(HashOf(token)) : null;

    private static string HashOf(string token) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(token)));
}
