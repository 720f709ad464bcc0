using System.Net;

namespace RigDaq.Web.Access;

/// <summary>
/// By which names this program answers. A page of another site reaches into a network by a name of its own that resolves to an address in
/// it; an address by itself is no such name, and neither is one that was configured here.
/// </summary>
internal static class OwnNames
{
    /// <summary>Whether a request names this program by one of them. On this machine's own way in the only addresses are
    /// loopback's.</summary>
    internal static bool Has(HttpContext context, AccessOptions options)
    {
        HostString host = context.Request.Host;
        if (!host.HasValue) return false;
        string name = host.Host.Trim('[', ']').TrimEnd('.');
        if (options.Hosts.Contains(name, StringComparer.OrdinalIgnoreCase)) return true;
        bool isOwn = Entrances.Of(context) is Entrance.OwnMachine;
        if (name.Equals("localhost", StringComparison.OrdinalIgnoreCase)) return isOwn;
        return IPAddress.TryParse(name, out IPAddress? address) && (!isOwn || IPAddress.IsLoopback(address));
    }

    /// <summary>Whether a page of this very origin asks.</summary>
    internal static bool IsOwnOrigin(HttpRequest request) =>
        request.Headers.Origin is [{ } origin] && origin.Equals($"{request.Scheme}://{request.Host}", StringComparison.OrdinalIgnoreCase);
}
