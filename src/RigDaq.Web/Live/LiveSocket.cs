using System.Net.WebSockets;
using RigDaq.App;
using RigDaq.App.Access;
using RigDaq.App.Journal;
using RigDaq.App.Overview;
using RigDaq.Rig.Control;
using RigDaq.Web.Access;

namespace RigDaq.Web.Live;

/// <summary>One page's socket: live blocks as bytes, the state and the study as JSON, and the other way a jog while it is held, or a stop.
/// Reading wants a name of ours and this page's origin; a jog wants more, and ends with the socket.</summary>
internal sealed class LiveSocket(ILiveRig rig, StopOnce stop, IDashboardData data, DashboardAccess access, MotionConsent consent,
    HappeningBook book, TimeProvider time)
{
    /// <summary>How many pages with the key may look at once…</summary>
    internal const int KeyedSocketsMax = 16;

    /// <summary>…and how many without it: they cannot keep the operator's own page away.</summary>
    internal const int KeylessSocketsMax = 16;

    /// <summary>How many pages may look from elsewhere.</summary>
    internal const int ElsewhereSocketsMax = 16;

    private readonly SocketPlaces _keyed = new(KeyedSocketsMax);
    private readonly SocketPlaces _keyless = new(KeylessSocketsMax);
    private readonly SocketPlaces _elsewhere = new(ElsewhereSocketsMax);

    internal async Task RunAsync(HttpContext context)
    {
        if (!context.WebSockets.IsWebSocketRequest || !OwnNames.IsOwnOrigin(context.Request))
        {
            await GuardedRequests.AnswerAsync(context, StatusCodes.Status403Forbidden,
                Result.Refused("answers.ownSocket")).ConfigureAwait(false);
            return;
        }

        bool mayMove = access.MayOperate(context);
        SocketPlaces places = Entrances.Of(context) is not Entrance.OwnMachine ? _elsewhere : mayMove ? _keyed : _keyless;
        if (!places.TryTake())
        {
            await GuardedRequests.AnswerAsync(context, StatusCodes.Status503ServiceUnavailable,
                Result.Refused("answers.tooManyPages", ("n", places.Most))).ConfigureAwait(false);
            return;
        }

        try
        {
            using WebSocket socket = await context.WebSockets.AcceptWebSocketAsync().ConfigureAwait(false);
            var may = new LiveRights(PageCaller.Of(context), mayMove, access.IsAtTheRig(context), consent, book);
            using var session = new LiveSession(socket, rig, stop, data, time, may);
            using var ending = CancellationTokenSource.CreateLinkedTokenSource(Ending(context), Over(context));
            await session.RunAsync(ending.Token).ConfigureAwait(false);
        }
        finally
        {
            places.GiveBack();
        }
    }

    /// <summary>When what let this page in holds no longer.</summary>
    private static CancellationToken Over(HttpContext context) => Entrances.Of(context) switch
    {
        Entrance.Look => context.RequestServices.GetRequiredService<LookLink>().Withdrawn,
        Entrance.Operate => context.RequestServices.GetRequiredService<Sessions>().Find(context)?.Over ?? new CancellationToken(true),
        _ => CancellationToken.None,
    };

    private static CancellationToken Ending(HttpContext context) =>
        context.RequestServices.GetRequiredService<IHostApplicationLifetime>().ApplicationStopping;
}
