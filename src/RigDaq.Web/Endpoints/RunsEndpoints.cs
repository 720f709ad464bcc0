using System.Globalization;
using RigDaq.App;
using RigDaq.App.Runs;
using RigDaq.Web.Access;
using RigDaq.Web.Views;

namespace RigDaq.Web.Endpoints;

/// <summary>The requests of the page of one run. Looking wants nothing; whatever changes something wants the token.</summary>
internal static class RunsEndpoints
{
    private const string NoTrace = "answers.noTrace";

    internal static void MapRuns(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/api/runs", (HttpContext context, RunPages pages) =>
            GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, pages.List(context.Request.Query["study"])));
        routes.MapGet("/api/run", (HttpContext context, RunPages pages, DashboardAccess access) =>
            pages.Page(Query(context, "run"), access.HasToken(context)) is { } page
                ? GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, page)
                    : MissingAsync(context, "answers.noSuchRun"));
        routes.MapGet("/api/run-trace", TraceAsync);
        routes.MapGet("/api/run-channel", ChannelAsync);
        routes.MapGet("/api/run-photo",
            (HttpContext context, RunService runs)
            => PhotoRequests.SendAsync(context, runs.Photo(Query(context, "run"), Revision(context))));
        routes.MapGuarded<RunRequest>("run-void", (context, asked) => Task.FromResult(Runs(context).Exclude(asked)));
        routes.MapGuarded<RunRequest>("run-restore", (context, asked) => Task.FromResult(Runs(context).Include(asked)));
        routes.MapGuarded<RunRequest>("run-look", (context, asked) => Task.FromResult(Runs(context).Inspect(asked)));
        routes.MapGuarded<RunRequest>("run-back", (context, asked) => Task.FromResult(Runs(context).Back(asked)));
        routes.MapPost("/api/run-photo", (HttpContext context, RunService runs) => PhotoRequests.KeepAsync(
            context, photo => runs.KeepPhoto(new RunRequest { Run = Query(context, "run"), Revision = Revision(context) }, photo)));
    }

    private static Task TraceAsync(HttpContext context, RunPages pages)
    {
        string runId = Query(context, "run");
        bool dark = IsDark(context);
        return Documents.SendSvgAsync(context, $"trace {dark} {runId}", () => pages.TraceSvg(runId, dark), NoTrace);
    }

    private static Task ChannelAsync(HttpContext context, RunPages pages)
    {
        string runId = Query(context, "run");
        bool dark = IsDark(context), overExtension = Query(context, "over") == "extension";
        int channel = int.TryParse(Query(context, "channel"), NumberStyles.None, CultureInfo.InvariantCulture, out int index) ? index : -1;
        return Documents.SendSvgAsync(
            context, $"channel {channel} {overExtension} {dark} {runId}", () => pages.ChannelSvg(runId, channel, overExtension, dark),
                NoTrace);
    }

    private static bool IsDark(HttpContext context) => Query(context, "scheme") == "dark";

    private static Task MissingAsync(HttpContext context, string key) =>
        GuardedRequests.AnswerAsync(context, StatusCodes.Status404NotFound, Result.Refused(key));

    private static string Query(HttpContext context, string name) => context.Request.Query[name].ToString();

    private static int Revision(HttpContext context) =>
        int.TryParse(Query(context, "revision"), NumberStyles.None, CultureInfo.InvariantCulture, out int revision) ? revision : -1;

    private static RunService Runs(HttpContext context) => context.RequestServices.GetRequiredService<RunService>();
}
