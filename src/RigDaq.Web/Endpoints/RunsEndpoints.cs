using System.Globalization;
using RigDaq.App.Runs;
using RigDaq.App.Text;
using RigDaq.Web.Access;
using RigDaq.Web.Api;
using RigDaq.Web.Views;

namespace RigDaq.Web.Endpoints;

/// <summary>The requests of the page of one run. Looking wants nothing; whatever changes something wants the token.</summary>
internal static class RunsEndpoints
{
    private const string Svg = "image/svg+xml";
    private const string NoTrace = "answers.noTrace";

    internal static void MapRuns(this IEndpointRouteBuilder routes)
    {
        routes.MapGet(ApiPaths.Root + "/runs", (HttpContext context, RunPages pages) =>
            GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, pages.List(context.Request.Query["study"])))
            .Gives<RunsView>("listRuns", AppText.ApiListRuns,
                new QueryPlace("study", AppText.ApiStudyPlace));
        routes.MapGet(ApiPaths.Run, PageAsync).Gives<RunPageView>("lookAtRun", AppText.ApiLookAtRun);
        routes.MapGet(ApiPaths.Run + "/trace", TraceAsync).GivesFile(Svg, "drawTrace", AppText.ApiDrawTrace,
            new QueryPlace("scheme", AppText.ApiScheme));
        routes.MapGet(ApiPaths.Run + "/samples", SamplesAsync).Gives<SamplesView>("lookAtSamples", AppText.ApiLookAtSamples);
        routes.MapGet(ApiPaths.Run + "/channel", ChannelAsync).GivesFile(Svg, "drawChannel", AppText.ApiDrawChannel,
            new QueryPlace("channel", AppText.ApiChannel), new QueryPlace("over", AppText.ApiOver),
            new QueryPlace("scheme", AppText.ApiScheme));
        routes.MapGet(ApiPaths.Run + "/photo", (HttpContext context, RunService runs)
            => PhotoRequests.SendAsync(context, runs.Photo(RunOf(context), Revision(context))))
            .GivesFile(Described.Photo, "sendPhoto", AppText.ApiSendPhoto, OfRevision);
        routes.MapGuarded<RunRequest>(ApiPaths.Run + "/exclude", "excludeRun", AppText.ApiExcludeRun,
            (context, asked) => Task.FromResult(Runs(context).Exclude(asked)));
        routes.MapGuarded<RunRequest>(ApiPaths.Run + "/include", "includeRun", AppText.ApiIncludeRun,
            (context, asked) => Task.FromResult(Runs(context).Include(asked)));
        routes.MapGuarded<RunRequest>(ApiPaths.Run + "/inspect", "inspectRun", AppText.ApiInspectRun,
            (context, asked) => Task.FromResult(Runs(context).Inspect(asked)));
        routes.MapGuarded<RunRequest>(ApiPaths.Run + "/back", "bringRunBack", AppText.ApiBringRunBack,
            (context, asked) => Task.FromResult(Runs(context).Back(asked)));
        routes.MapPost(ApiPaths.Run + "/photo", (HttpContext context, RunService runs) => PhotoRequests.KeepAsync(
            context, photo => runs.KeepPhoto(new RunRequest { Run = RunOf(context), Seen = Revision(context) }, photo)))
            .TakesFile<ResultView>(Described.Photo, "keepPhoto", AppText.ApiKeepPhoto, OfRevision);
    }

    private static QueryPlace OfRevision => new("revision", AppText.ApiRevision);

    private static Task PageAsync(HttpContext context, RunPages pages, DashboardAccess access)
    {
        if (pages.Page(RunOf(context), access.MayOperate(context)) is not { } page)
            return GuardedRequests.MissingAsync(context, "answers.noSuchRun");
        ResourceTag.Tell(context, page.Revision);
        return GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, page);
    }

    private static Task SamplesAsync(HttpContext context, RunPages pages) => pages.Samples(RunOf(context)) is { } samples
        ? GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, samples) : GuardedRequests.MissingAsync(context, NoTrace);

    private static Task TraceAsync(HttpContext context, RunPages pages)
    {
        string runId = RunOf(context);
        bool dark = IsDark(context);
        return Documents.SendSvgAsync(context, $"trace {dark} {runId}", () => pages.TraceSvg(runId, dark), NoTrace);
    }

    private static Task ChannelAsync(HttpContext context, RunPages pages)
    {
        string runId = RunOf(context);
        bool dark = IsDark(context), overExtension = Query(context, "over") == "extension";
        int channel = int.TryParse(Query(context, "channel"), NumberStyles.None, CultureInfo.InvariantCulture, out int index) ? index : -1;
        return Documents.SendSvgAsync(
            context, $"channel {channel} {overExtension} {dark} {runId}", () => pages.ChannelSvg(runId, channel, overExtension, dark),
                NoTrace);
    }

    private static bool IsDark(HttpContext context) => Query(context, "scheme") == "dark";

    private static string RunOf(HttpContext context) => ApiPaths.Value(context, "run") ?? "";

    private static string Query(HttpContext context, string name) => context.Request.Query[name].ToString();

    private static int Revision(HttpContext context) =>
        int.TryParse(Query(context, "revision"), NumberStyles.None, CultureInfo.InvariantCulture, out int revision) ? revision : -1;

    private static RunService Runs(HttpContext context) => context.RequestServices.GetRequiredService<RunService>();
}
