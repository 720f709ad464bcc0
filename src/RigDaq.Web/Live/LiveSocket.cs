using System.Net.WebSockets;
using RigDaq.App;
using RigDaq.App.Overview;
using RigDaq.Rig.Control;
using RigDaq.Web.Access;

namespace RigDaq.Web.Live;

/// <summary>One page's socket: live blocks as bytes, the state and the study as JSON, and the other way a jog while it is held, or a stop.
/// Reading wants this machine's name and this page's origin; a jog wants the token as well, and ends with the socket.</summary>
internal sealed class LiveSocket(ILiveRig rig, StopOnce stop, IDashboardData data, DashboardAccess access, TimeProvider time)
{
    /// <summary>How many pages with the key may look at once…</summary>
    internal const int KeyedSocketsMax = 16;

    /// <summary>…and how many without it: they cannot keep the operator's own page away.</summary>
    internal const int KeylessSocketsMax = 16;

    private int _keyed;
    private int _keyless;

    internal async Task RunAsync(HttpContext context)
    {
        if (!context.WebSockets.IsWebSocketRequest || !DashboardAccess.IsOwnOrigin(context.Request))
        {
            await GuardedRequests.AnswerAsync(context, StatusCodes.Status403Forbidden,
                Result.Refused("answers.ownSocket")).ConfigureAwait(false);
            return;
        }

        bool hasKey = access.HasToken(context);
        try
        {
            int most = hasKey ? KeyedSocketsMax : KeylessSocketsMax;
            if ((hasKey ? Interlocked.Increment(ref _keyed) : Interlocked.Increment(ref _keyless)) > most)
            {
                await GuardedRequests.AnswerAsync(context, StatusCodes.Status503ServiceUnavailable,
                    Result.Refused("answers.tooManyPages", ("n", most))).ConfigureAwait(false);
                return;
            }

            using WebSocket socket = await context.WebSockets.AcceptWebSocketAsync().ConfigureAwait(false);
            using var session = new LiveSession(socket, rig, stop, data, time, hasKey);
            await session.RunAsync(Ending(context)).ConfigureAwait(false);
        }
        finally
        {
            if (hasKey) Interlocked.Decrement(ref _keyed);
            else Interlocked.Decrement(ref _keyless);
        }
    }

    private static CancellationToken Ending(HttpContext context) =>
        context.RequestServices.GetRequiredService<IHostApplicationLifetime>().ApplicationStopping;
}
