using RigDaq.App;
using RigDaq.App.Journal;
using RigDaq.Core.Callers;

namespace RigDaq.Web.Access;

/// <summary>Lets people in who say a name and its password. One password is looked at after the other: each costs some tens of
/// milliseconds of a core, which a pull may need.</summary>
internal sealed class LogIn(AccountBook book, Sessions sessions, LogInThrottle throttle, HappeningBook diary) : IDisposable
{
    /// <summary>How many passwords may wait for their turn; more are sent away.</summary>
    internal const int WaitingMax = 8;

    private readonly SemaphoreSlim _turn = new(1, 1);
    private int _waiting;

    /// <summary>Begins a session, or says why not.</summary>
    /// <param name="context">The request: it comes by TLS.</param>
    /// <param name="name">As whom.</param>
    /// <param name="password">Their password.</param>
    internal async Task<(int Status, Result Result)> TryAsync(HttpContext context, string name, string password)
    {
        UInt128 address = ConnectionPlaces.WhomOf(context.Connection.RemoteIpAddress);
        if (throttle.WaitOf(address, name) is { } wait) return Later(context, wait);
        if (Interlocked.Increment(ref _waiting) > WaitingMax)
        {
            Interlocked.Decrement(ref _waiting);
            return Later(context, TimeSpan.FromSeconds(1));
        }

        Account? account;
        try
        {
            await _turn.WaitAsync(context.RequestAborted).ConfigureAwait(false);
            try
            {
                // Who waited here with others of the same address waits with them.
                if (throttle.WaitOf(address, name) is { } since) return Later(context, since);
                account = book.Verify(name, password);
                if (account is null) throttle.WasWrong(address, name);
                else throttle.WasRight(name);
            }
            finally
            {
                _turn.Release();
            }
        }
        finally
        {
            Interlocked.Decrement(ref _waiting);
        }

        string from = PageCaller.From(context.Connection.RemoteIpAddress);
        if (account is null)
        {
            diary.Did("logInRefused", "", new By("", from), isKnown: false);
            return (StatusCodes.Status403Forbidden, Result.Refused("answers.wrongPassword"));
        }

        diary.Did("logIn", "", new By(account.Name, from), isKnown: true);
        context.Response.Cookies.Append(Sessions.CookieName(context), sessions.Begin(account, from), new CookieOptions
        {
            HttpOnly = true,
            Secure = true,
            SameSite = SameSiteMode.Strict,
            Path = "/",
            IsEssential = true,
        });
        return (StatusCodes.Status200OK, Result.Ok("answers.loggedIn", ("name", account.Name)));
    }

    /// <inheritdoc/>
    public void Dispose() => _turn.Dispose();

    private static (int, Result) Later(HttpContext context, TimeSpan wait)
    {
        int seconds = (int)Math.Ceiling(wait.TotalSeconds);
        context.Response.Headers.RetryAfter = seconds.ToString(System.Globalization.CultureInfo.InvariantCulture);
        return (StatusCodes.Status429TooManyRequests, Result.Refused("answers.logInLater", ("n", seconds)));
    }
}
