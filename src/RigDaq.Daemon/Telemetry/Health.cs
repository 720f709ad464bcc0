using RigDaq.Archive;
using RigDaq.Publishing.Delivery;
using RigDaq.Rig.Control;

namespace RigDaq.Daemon.Telemetry;

/// <summary>Two questions of whoever looks after machines: does it live (<c>/healthz</c>), and can it be used (<c>/readyz</c>)? 200 for
/// yes, 503 for no, and why in JSON.</summary>
internal static class Health
{
    /// <summary>The control loop makes a snapshot every 50 ms; one that made none for so long hangs.</summary>
    public static readonly TimeSpan LoopAnswerMax = TimeSpan.FromSeconds(1);

    private static readonly TimeSpan LookInterval = TimeSpan.FromMilliseconds(50);

    /// <summary>Maps both.</summary>
    public static void MapHealth(this WebApplication app)
    {
        app.MapGet("/healthz", AliveAsync);
        app.MapGet("/readyz", ReadyAsync);
    }

    /// <summary>Whether the control loop goes round.</summary>
    internal static async Task<bool> IsAliveAsync(Func<RigSnapshot> rig, TimeProvider time, CancellationToken cancellation)
    {
        (long number, long began) = (rig().Number, time.GetTimestamp());
        while (rig().Number == number)
        {
            if (time.GetElapsedTime(began) >= LoopAnswerMax) return false;
            // The loop says nothing to anybody that asks: its next snapshot is what is waited for.
            await Task.Delay(LookInterval, time, cancellation).ConfigureAwait(false);
        }

        return true;
    }

    private static async Task AliveAsync(HttpContext context)
    {
        RigController rig = context.RequestServices.GetRequiredService<RigController>();
        bool isAlive = await IsAliveAsync(() => rig.Snapshot, context.RequestServices.GetRequiredService<TimeProvider>(),
            context.RequestAborted).ConfigureAwait(false);
        await AnswerAsync(context, isAlive, new { alive = isAlive }).ConfigureAwait(false);
    }

    /// <summary>A broker that is away makes nothing unusable: results wait in the outbox.</summary>
    private static Task ReadyAsync(HttpContext context)
    {
        RigSnapshot rig = context.RequestServices.GetRequiredService<RigController>().Snapshot;
        bool isWhole = context.RequestServices.GetRequiredService<RigArchive>().Trouble is null;
        PublishingStatus? publishing = context.RequestServices.GetService<RigPublisher>()?.Status;
        bool isReady = rig.Link == LinkStage.Up && isWhole;
        return AnswerAsync(context, isReady, new
        {
            ready = isReady,
            link = rig.Link switch
            {
                LinkStage.Up => "up",
                LinkStage.Greeting => "greeting",
                LinkStage.Opening => "opening",
                _ => "closed",
            },
            archive = isWhole ? "whole" : "damaged",
            publishing = publishing is null ? "off" : publishing.ResultsUp ? "up" : "down",
            outbox = publishing?.Waiting ?? 0,
        });
    }

    private static Task AnswerAsync<T>(HttpContext context, bool isGood, T answer)
    {
        context.Response.StatusCode = isGood ? StatusCodes.Status200OK : StatusCodes.Status503ServiceUnavailable;
        context.Response.Headers.CacheControl = "no-store";
        return context.Response.WriteAsJsonAsync(answer, context.RequestAborted);
    }
}
