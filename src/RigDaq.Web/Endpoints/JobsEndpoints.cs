using RigDaq.App;
using RigDaq.App.Jobs;
using RigDaq.App.Overview;
using RigDaq.App.Text;
using RigDaq.Core;
using RigDaq.Web.Access;
using RigDaq.Web.Api;
using RigDaq.Web.Views;

namespace RigDaq.Web.Endpoints;

/// <summary>Long work. All of it wants the token, looking too: a job's file may hold everything that is kept.</summary>
internal static class JobsEndpoints
{
    private const string OneJob = ApiPaths.Jobs + "/{job}";

    internal static void MapJobs(this IEndpointRouteBuilder routes)
    {
        routes.MapAsked<ReportJobRequest>(ApiPaths.Study + "/report", "askReport", AppText.ApiAskReport,
            (jobs, asked) => jobs.Report(asked));
        routes.MapAsked<PicturesJobRequest>(ApiPaths.Study + "/pictures", "askPictures", AppText.ApiAskPictures,
            (jobs, asked) => jobs.Pictures(asked));
        routes.MapAsked<PackageJobRequest>(ApiPaths.Study + "/package", "askPackage", AppText.ApiAskPackage,
            (jobs, asked) => jobs.Package(asked));
        routes.MapAsked<BackupJobRequest>(ApiPaths.Root + "/backup", "askBackup", AppText.ApiAskBackup, (jobs, _) => jobs.Backup());
        routes.MapGet(ApiPaths.Jobs, (HttpContext context, JobBoard board, IDashboardData data) => WithKeyAsync(context, () =>
            GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK,
                new JobsView([.. board.All().Select(job => JobView.From(job, data.Units))]))))
            .Gives<JobsView>("listJobs", AppText.ApiListJobs);
        routes.MapGet(OneJob, (HttpContext context, JobBoard board, IDashboardData data) => WithKeyAsync(context, () =>
            Of(context, board) is { } job ? GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, JobView.From(job, data.Units))
                : MissingAsync(context))).Gives<JobView>("lookAtJob", AppText.ApiLookAtJob);
        routes.MapGet(OneJob + "/file", (HttpContext context, JobBoard board) => WithKeyAsync(context, () => SendAsync(context, board)))
            .GivesFile("application/zip,application/pdf,text/html", "sendJobFile", AppText.ApiSendJobFile);
        routes.MapDelete(OneJob, CallOffAsync).Gives<ResultView>("callJobOff", AppText.ApiCallJobOff);
    }

    /// <summary>Something that is made as a job: 202, with the job's address.</summary>
    private static void MapAsked<TRequest>(this IEndpointRouteBuilder routes, string path, string name, string summary,
        Func<JobService, TRequest, Job> ask) where TRequest : class, IPageRequest, new() =>
        routes.MapGuarded<TRequest>(path, async (context, asked) =>
        {
            Job job;
            try
            {
                job = ask(context.RequestServices.GetRequiredService<JobService>(), asked);
            }
            catch (RefusalException refusal)
            {
                await GuardedRequests.AnswerAsync(context, StatusCodes.Status409Conflict, Result.Because(refusal.Reasons))
                    .ConfigureAwait(false);
                return;
            }

            context.Response.Headers.Location = $"{ApiPaths.Jobs}/{job.Id}";
            await GuardedRequests.AnswerAsync(context, StatusCodes.Status202Accepted,
                JobView.From(job, context.RequestServices.GetRequiredService<IDashboardData>().Units)).ConfigureAwait(false);
        }).Starts<TRequest, JobView>(name, summary);

    private static async Task CallOffAsync(HttpContext context, JobBoard board, DashboardAccess access)
    {
        if (access.ReasonAgainst(context) is { } reason)
            await GuardedRequests.AnswerAsync(context, StatusCodes.Status403Forbidden, Result.Because(reason)).ConfigureAwait(false);
        else if (board.CallOff(ApiPaths.Value(context, "job") ?? "") is null) await MissingAsync(context).ConfigureAwait(false);
        else await GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, Result.Ok("answers.jobCalledOff")).ConfigureAwait(false);
    }

    private static async Task SendAsync(HttpContext context, JobBoard board)
    {
        if (Of(context, board) is not { } job)
        {
            await MissingAsync(context).ConfigureAwait(false);
            return;
        }

        if (job.File is not { } file)
        {
            await GuardedRequests.AnswerAsync(context, StatusCodes.Status409Conflict, Result.Refused("answers.jobNotDone"))
                .ConfigureAwait(false);
            return;
        }

        await Documents.SendFileAsync(context, file, job.Order.MediaType, job.Order.FileName).ConfigureAwait(false);
    }

    private static Task WithKeyAsync(HttpContext context, Func<Task> answer) =>
        context.RequestServices.GetRequiredService<DashboardAccess>().MayOperate(context) ? answer()
            : GuardedRequests.AnswerAsync(context, StatusCodes.Status403Forbidden, Result.Refused("answers.needsKey"));

    private static Job? Of(HttpContext context, JobBoard board) => board.Find(ApiPaths.Value(context, "job") ?? "");

    private static Task MissingAsync(HttpContext context) =>
        GuardedRequests.MissingAsync(context, "answers.noSuchJob");
}
