using System.Net;
using RigDaq.App.Callers;
using RigDaq.Core.Callers;

namespace RigDaq.Web.Access;

/// <summary>Who a request is from, by the socket or the page that it comes from.</summary>
internal static class PageCaller
{
    /// <summary>The cookie that holds what the person at a page calls themselves, percent-encoded; the page writes it.</summary>
    internal const string NameCookie = "rigdaq-name";

    /// <summary>Goes on as whoever asks.</summary>
    internal static Task EnterAsync(HttpContext context, RequestDelegate next)
    {
        Of(context).Enter();
        return next(context);
    }

    internal static Caller Of(HttpContext context)
    {
        if (LocalCaller.Of(context) is { } local) return Caller.AtTerminal(local.UserName);
        bool hasKey = context.RequestServices.GetRequiredService<DashboardAccess>().HasToken(context);
        return new Caller(hasKey ? Caller.NameOf(Said(context), Caller.Unnamed) : "", From(context.Connection.RemoteIpAddress),
            hasKey ? CallerRole.Administer : CallerRole.Look);
    }

    private static string From(IPAddress? address) => address is null || IPAddress.IsLoopback(address) ? By.Page
        : (address.IsIPv4MappedToIPv6 ? address.MapToIPv4() : address).ToString();

    // The web server has decoded it once already.
    private static string? Said(HttpContext context) => context.Request.Cookies[NameCookie];
}
