using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using RigDaq.App.Callers;
using RigDaq.App.Text;
using RigDaq.Text;

namespace RigDaq.Web.Access;

/// <summary>
/// What a request may do: whoever stands at the rig has the token that was printed at the start, whoever is elsewhere has logged in, and
/// both come from a page that this program served. Stopping needs none of that.
/// </summary>
internal sealed class DashboardAccess(Sessions sessions, AccessOptions options)
{
    private const int TokenBytes = 24;

    /// <summary>The token of this start; it is in the address that the daemon prints and nowhere on the disk.</summary>
    internal string Token { get; } = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(TokenBytes));

    /// <summary>The address to print and to open. The token stands behind #, so that no browser sends it along.</summary>
    internal Uri StartAddress(int port) => new(string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{port}/#key={Token}"));

    /// <summary>The cookie's name; browsers keep cookies by host, so each port has its own. It is the port that the browser knows: a
    /// tunnel may have another one than this program.</summary>
    internal static string CookieName(HttpContext context) => string.Create(CultureInfo.InvariantCulture,
        $"rigdaq-{context.Request.Host.Port ?? (context.Request.IsHttps ? 443 : 80)}");

    /// <summary>Gives the page its cookie where the token is right.</summary>
    internal bool Enter(HttpContext context, string token)
    {
        if (Entrances.Of(context) is not Entrance.OwnMachine || !IsToken(token)) return false;
        context.Response.Cookies.Append(CookieName(context), token, new CookieOptions
        {
            HttpOnly = true,
            SameSite = SameSiteMode.Strict,
            Path = "/",
            IsEssential = true,
        });
        return true;
    }

    /// <summary>Why this request may not change something, and what to do; null where it may.</summary>
    /// <param name="context">The request.</param>
    /// <param name="needed">The role that this wants.</param>
    internal Sentence? ReasonAgainst(HttpContext context, CallerRole needed = CallerRole.Operate)
    {
        if (LocalCaller.Of(context) is not null) return null;
        if (!OwnNames.Has(context, options)) return PageText.Sentence("answers.foreignHost");
        if (!OwnNames.IsOwnOrigin(context.Request)) return PageText.Sentence("answers.foreignOrigin");
        return RoleOf(context) >= needed ? null : Without(context);
    }

    /// <summary>What whoever has no such role is told, with what to do.</summary>
    internal static Sentence Without(HttpContext context) => Entrances.Of(context) is Entrance.OwnMachine
        ? PageText.Sentence("answers.needsKey") : PageText.Sentence("answers.needsRole");

    /// <summary>What whoever asks may do here.</summary>
    internal CallerRole RoleOf(HttpContext context) => LocalCaller.Of(context) is not null ? CallerRole.Administer
        : Entrances.Of(context) switch
        {
            Entrance.OwnMachine => IsToken(context.Request.Cookies[CookieName(context)] ?? "") ? CallerRole.Administer : CallerRole.Look,
            Entrance.Operate => sessions.Find(context)?.Role ?? CallerRole.Look,
            _ => CallerRole.Look,
        };

    /// <summary>Whether whoever asks may change something, and so is shown what only they are shown.</summary>
    internal bool MayOperate(HttpContext context) => RoleOf(context) >= CallerRole.Operate;

    /// <summary>Whether whoever asks stands at the rig: at its own page with this start's key, or at a terminal of this machine. A tunnel
    /// looks the same; whoever opens one with the key has taken that upon themselves.</summary>
    internal bool IsAtTheRig(HttpContext context) =>
        Entrances.Of(context) is Entrance.OwnMachine && RoleOf(context) >= CallerRole.Operate;

    private bool IsToken(string given) =>
        CryptographicOperations.FixedTimeEquals(Encoding.UTF8.GetBytes(given), Encoding.UTF8.GetBytes(Token));
}
