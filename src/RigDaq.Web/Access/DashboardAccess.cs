using System.Globalization;
using System.Net;
using System.Security.Cryptography;
using System.Text;
using RigDaq.App.Text;
using RigDaq.Text;

namespace RigDaq.Web.Access;

/// <summary>
/// Who may move the crosshead from a page: who has the token that was printed at the start, from a page that this program served.
/// Stopping needs none of that.
/// </summary>
public sealed class DashboardAccess
{
    private const int TokenBytes = 24;

    /// <summary>The token of this start; it is in the address that the daemon prints and nowhere on the disk.</summary>
    public string Token { get; } = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(TokenBytes));

    /// <summary>The address to print and to open. The token stands behind #, so that no browser sends it along.</summary>
    public Uri StartAddress(int port) => new(string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{port}/#key={Token}"));

    /// <summary>The cookie's name; browsers keep cookies by host, so each port has its own.</summary>
    internal static string CookieName(HttpContext context) =>
        string.Create(CultureInfo.InvariantCulture, $"rigdaq-{context.Connection.LocalPort}");

    /// <summary>Gives the page its cookie where the token is right.</summary>
    internal bool Enter(HttpContext context, string token)
    {
        if (!IsToken(token)) return false;
        context.Response.Cookies.Append(CookieName(context), token, new CookieOptions
        {
            HttpOnly = true,
            SameSite = SameSiteMode.Strict,
            Path = "/",
            IsEssential = true,
        });
        return true;
    }

    /// <summary>Whether this request may move something; null, or why not and what to do.</summary>
    internal Sentence? ReasonAgainst(HttpContext context)
    {
        if (LocalCaller.Of(context) is not null) return null;
        if (!IsOwnHost(context.Request)) return PageText.Sentence("answers.foreignHost");
        if (!IsOwnOrigin(context.Request)) return PageText.Sentence("answers.foreignOrigin");
        return HasToken(context) ? null : PageText.Sentence("answers.needsKey");
    }

    /// <summary>Whether this request may see whatever is kept: it has the token, or comes by the machine's own socket.</summary>
    internal bool MayLookAtAll(HttpContext context) => LocalCaller.Of(context) is not null || HasToken(context);

    internal bool HasToken(HttpContext context) => IsToken(context.Request.Cookies[CookieName(context)] ?? "");

    /// <summary>Whether the request names this machine itself: a foreign name that resolves here is how sites reach into
    /// loopback.</summary>
    internal static bool IsOwnHost(HttpRequest request)
    {
        HostString host = request.Host;
        if (!host.HasValue || (host.Port ?? 80) != request.HttpContext.Connection.LocalPort) return false;
        return host.Host.Equals("localhost", StringComparison.OrdinalIgnoreCase)
            || (IPAddress.TryParse(host.Host.Trim('[', ']'), out IPAddress? address) && IPAddress.IsLoopback(address));
    }

    /// <summary>Whether a page of this very origin asks.</summary>
    internal static bool IsOwnOrigin(HttpRequest request) =>
        request.Headers.Origin is [{ } origin] && origin.Equals($"{request.Scheme}://{request.Host}", StringComparison.OrdinalIgnoreCase);

    private bool IsToken(string given) =>
        CryptographicOperations.FixedTimeEquals(Encoding.UTF8.GetBytes(given), Encoding.UTF8.GetBytes(Token));
}
