using System.Net;
using RigDaq.App.Callers;
using RigDaq.Core.Callers;

namespace RigDaq.Web.Access;

/// <summary>Who a request is from, by the socket, the log-in or the page that it comes from.</summary>
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
        IServiceProvider services = context.RequestServices;
        CallerRole role = services.GetRequiredService<DashboardAccess>().RoleOf(context);
        string name = Entrances.Of(context) switch
        {
            Entrance.OwnMachine when role > CallerRole.Look => Caller.NameOf(Said(context), Caller.Unnamed),
            Entrance.Operate => services.GetRequiredService<Sessions>().Find(context)?.Name ?? "",
            _ => "",
        };
        return new Caller(name, From(context.Connection.RemoteIpAddress), role);
    }

    /// <summary>The place that is kept for an address.</summary>
    internal static string From(IPAddress? address) => address is null || IPAddress.IsLoopback(address) ? By.Page
        : (address.IsIPv4MappedToIPv6 ? address.MapToIPv4() : address).ToString();

    // The web server has decoded it once already.
    private static string? Said(HttpContext context) => context.Request.Cookies[NameCookie];
}
