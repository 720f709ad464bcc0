using System.Net;
using Microsoft.AspNetCore.Connections.Features;
using Microsoft.AspNetCore.HttpOverrides;
using Microsoft.AspNetCore.Server.Kestrel.Core;

namespace RigDaq.Web.Access;

/// <summary>Tells the ways in apart: by the port that a connection came to, and for a proxy of this machine by what it adds.</summary>
public static class Entrances
{
    private static readonly object Key = new();
    private static readonly object ForwardedKey = new();

    /// <summary>Has what comes to a port come in by an entrance, and no more at once than there are places.</summary>
    public static void Admit(ListenOptions listen, Entrance entrance)
    {
        var places = new ConnectionPlaces();
        listen.Use(next => async connection =>
        {
            IPAddress? from = (connection.RemoteEndPoint as IPEndPoint)?.Address;
            if (!places.TryTake(from)) return;
            try
            {
                connection.Items[Key] = entrance;
                await next(connection).ConfigureAwait(false);
            }
            finally
            {
                places.GiveBack(from);
            }
        });
    }

    /// <summary>The way that a request came in. What a proxy passes on comes from elsewhere, whatever address it has.</summary>
    internal static Entrance Of(HttpContext context) =>
        OfConnection(context) is Entrance.OwnMachine && context.Items.ContainsKey(ForwardedKey) ? Entrance.Operate : OfConnection(context);

    /// <summary>Takes scheme and address of whom a proxy of this machine passes on from what it adds; never a host's name, which a
    /// foreign page could add as well. Without <see cref="AccessOptions.BehindProxy"/> what a proxy passes on is refused: it would look
    /// like this machine.</summary>
    internal static void UseProxy(this WebApplication app, AccessOptions options)
    {
        app.Use((context, next) =>
        {
            if (OfConnection(context) is not Entrance.OwnMachine || !IsPassedOn(context.Request)) return next(context);
            // A stop is obeyed however it came to this machine.
            if (!options.BehindProxy) return WhoComesIn.IsStop(context.Request.Path) ? next(context)
                : GuardedRequests.AnswerAsync(context, StatusCodes.Status421MisdirectedRequest,
                    App.Result.Refused("answers.notBehindProxy"));
            context.Items[ForwardedKey] = true;
            return next(context);
        });
        if (!options.BehindProxy) return;
        app.UseWhen(context => context.Items.ContainsKey(ForwardedKey), own => own.UseForwardedHeaders(new ForwardedHeadersOptions
        {
            ForwardedHeaders = ForwardedHeaders.XForwardedFor | ForwardedHeaders.XForwardedProto,
            ForwardLimit = 1, // One proxy; what stands before it was said by whoever asks.
        }));
    }

    private static bool IsPassedOn(HttpRequest request) => request.Headers.ContainsKey(ForwardedHeadersDefaults.XForwardedForHeaderName)
        || request.Headers.ContainsKey(ForwardedHeadersDefaults.XForwardedHostHeaderName) || request.Headers.ContainsKey("Forwarded");

    private static Entrance OfConnection(HttpContext context) =>
        context.Features.Get<IConnectionItemsFeature>()?.Items.TryGetValue(Key, out object? entrance) == true ? (Entrance)entrance!
            : Entrance.OwnMachine;
}
