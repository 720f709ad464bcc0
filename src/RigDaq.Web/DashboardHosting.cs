using Microsoft.Extensions.DependencyInjection.Extensions;
using RigDaq.App;
using RigDaq.App.Access;
using RigDaq.App.Calibrations;
using RigDaq.App.Curves;
using RigDaq.App.Jobs;
using RigDaq.App.Journal;
using RigDaq.App.Overview;
using RigDaq.App.Push;
using RigDaq.App.Reporting;
using RigDaq.App.Rigs;
using RigDaq.App.Runs;
using RigDaq.App.Studies;
using RigDaq.App.Text;
using RigDaq.App.Uncertainties;
using RigDaq.Rig.Control;
using RigDaq.Text;
using RigDaq.Web.Access;
using RigDaq.Web.Api;
using RigDaq.Web.Endpoints;
using RigDaq.Web.Live;
using RigDaq.Web.Pages;
using RigDaq.Web.Requests;
using RigDaq.Web.Views;

namespace RigDaq.Web;

/// <summary>Puts the dashboard into the one web host.</summary>
public static class DashboardHosting
{
    private const string NothingToShow = "answers.nothingToShow";

    private static readonly TimeSpan SocketPing = TimeSpan.FromSeconds(5);

    /// <summary>
    /// Registers the dashboard. The host provides <see cref="IDashboardData"/>, the <see cref="Archive.RigArchive"/>, and
    /// <see cref="RigController"/> or another
    /// <see cref="ILiveRig"/>.
    /// </summary>
    public static IServiceCollection AddDashboard(this IServiceCollection services)
    {
        services.AddSingleton<DashboardAccess>();
        services.TryAddSingleton(AccessOptions.OwnMachineOnly);
        services.AddSingleton(provider => new LookLink(provider.GetRequiredService<Archive.RigArchive>().Folder));
        services.AddSingleton(provider => new AccountBook(provider.GetRequiredService<Archive.RigArchive>().Folder,
            provider.GetRequiredService<TimeProvider>()));
        services.AddSingleton<Sessions>();
        services.AddSingleton<LogInThrottle>();
        services.AddSingleton<LogIn>();
        services.AddSingleton<MotionConsent>();
        services.AddSingleton(provider => new HappeningBook(provider.GetRequiredService<Archive.RigArchive>().Diary,
            provider.GetRequiredService<TimeProvider>(), provider.GetRequiredService<ILogger<HappeningBook>>()));
        services.AddSingleton<JournalReader>();
        services.AddSingleton(provider => new PushBook(provider.GetRequiredService<Archive.RigArchive>().Folder,
            provider.GetRequiredService<TimeProvider>()));
        services.TryAddSingleton(TimeProvider.System);
        services.TryAddSingleton<ILiveRig>(provider => provider.GetRequiredService<RigController>());
        services.AddSingleton<StopOnce>();
        services.AddSingleton<LiveSocket>();
        services.AddSingleton<CalibrationService>();
        services.AddSingleton<RunService>();
        services.AddSingleton<SectionService>();
        services.AddSingleton<UncertaintyService>();
        services.AddSingleton<CurveService>();
        services.AddSingleton<SequenceStartGate>();
        services.AddSingleton<DocumentStore>();
        services.AddSingleton<StudyService>();
        services.AddSingleton<JobService>();
        services.AddSingleton(provider => new JobBoard(provider.GetRequiredService<Archive.RigArchive>().Folder,
            provider.GetRequiredService<TimeProvider>(), provider.GetRequiredService<ILogger<JobBoard>>()));
        services.AddSingleton<RunPages>();
        services.AddSingleton<StudyPages>();
        services.AddSingleton<CurvePages>();
        services.AddSingleton<PrintRecordService>();
        services.AddSingleton<StudyEditor>();
        services.AddSingleton<PrintService>();
        services.AddApiDocument();
        return services;
    }

    /// <summary>Maps the page, its socket, its commands and the study's documents.</summary>
    public static WebApplication MapDashboard(this WebApplication app)
    {
        app.Use(InItsLanguage(Language.Current));
        app.UseWebSockets(new WebSocketOptions { KeepAliveInterval = SocketPing, KeepAliveTimeout = SocketPing });
        app.Use(WithoutNoiseAsync);
        app.UseProxy(app.Services.GetRequiredService<AccessOptions>());
        app.Use(WhoComesIn.OnlyByOwnNamesAsync);
        app.Use(PageCaller.EnterAsync);
        app.UseRouting();
        app.Use(WhoComesIn.OnlyWhatIsOpenAsync);
        app.Use(OnlyTheRigHereAsync);
        app.MapPageFiles(route => route.OpenToEverybody());
        app.MapGet("/", WhoComesIn.SendFirstPageAsync).OpenToEverybody();
        app.MapGet(UnitsView.Path, UnitsView.SendAsync).OpenToEverybody();
        app.MapGet(ApiPaths.RigModule, SendRigModuleAsync).OpenToEverybody();
        app.MapApiDocument();
        app.MapPost(WhoComesIn.StopPath, StopAsync).OpenToLooking();
        app.MapPost(ApiPaths.Rig + "/stop", StopAsync).Does<StopRequest>("stop", AppText.ApiStop).OpenToLooking();
        app.MapAccess();
        app.MapGet(ApiPaths.Root, LookAsync).Gives<ApiView>("lookAtDaemon", AppText.ApiLookAtDaemon);
        app.MapGet(ApiPaths.Rig + "/state", StateAsync).Gives<StateView>("lookAtState", AppText.ApiLookAtState)
            .OpenToLooking();
        app.MapMotion();
        app.MapCalibration();
        app.MapRuns();
        app.MapSections();
        app.MapUncertainty();
        app.MapCurves();
        app.MapStudies();
        app.MapJobs();
        app.MapPush();
        app.MapGet(ApiPaths.Root + "/journal", JournalEndpoint.SendAsync).Gives<JournalTold>("lookAtJournal", AppText.ApiLookAtJournal,
            new QueryPlace("from", AppText.ApiJournalFrom), new QueryPlace("to", AppText.ApiJournalTo));
        // What an earlier start left of its jobs goes now, not at the first that is asked for.
        _ = app.Services.GetRequiredService<JobBoard>();
        app.Map(ApiPaths.Rig + "/live", context => context.RequestServices.GetRequiredService<LiveSocket>().RunAsync(context))
            .OpenToLooking();
        app.MapGet("/report/{study}", (HttpContext context, string study, IDashboardData data) =>
            Documents.SendAsync(context, context.Request.Path, "text/html; charset=utf-8",
                () => data.ReportHtmlAsync(study, CancellationToken.None), NothingToShow));
        app.MapGet("/picture/{study}", (HttpContext context, string study, IDashboardData data) =>
            Documents.SendAsync(context, context.Request.Path, "image/svg+xml", () => data.PictureSvgAsync(study, CancellationToken.None),
                NothingToShow));
        return app;
    }

    /// <summary>A request begins in the web server, where nothing of the program's start flows to: it is answered in the language of
    /// that.</summary>
    private static Func<HttpContext, RequestDelegate, Task> InItsLanguage(Language language) => async (context, next) =>
    {
        using (language.Speak()) await next(context).ConfigureAwait(false);
    };

    /// <summary>A request that is too slow, too long or broken off is its sender's fault: it gets its status, and no lines in the
    /// log.</summary>
    private static async Task WithoutNoiseAsync(HttpContext context, RequestDelegate next)
    {
        try
        {
            await next(context).ConfigureAwait(false);
        }
        catch (BadHttpRequestException e)
        {
            if (!context.Response.HasStarted) context.Response.StatusCode = e.StatusCode;
            else context.Abort();
        }
        catch (Exception e) when (e is OperationCanceledException or IOException && context.RequestAborted.IsCancellationRequested)
        {
            // Whoever asked has gone.
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException && !context.Response.HasStarted)
        {
            // The data folder or its database: its words say what to do. Stopping needs neither.
            await GuardedRequests.AnswerAsync(context, StatusCodes.Status503ServiceUnavailable,
                Result.Because(Sentence.Verbatim(e.Message)))
                .ConfigureAwait(false);
        }
        catch (Exception e) when (!context.Response.HasStarted)
        {
            // A fault of ours is said as one; an empty answer helps nobody.
            context.RequestServices.GetRequiredService<ILoggerFactory>().CreateLogger(nameof(DashboardHosting))
                .LogError(e, "{Path}", context.Request.Path);
            await GuardedRequests.AnswerAsync(context, StatusCodes.Status500InternalServerError,
                Result.Refused("answers.faultOfOurs", ("what", e.GetType().Name))).ConfigureAwait(false);
        }
    }

    private static Task LookAsync(HttpContext context, IDashboardData data) => GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK,
        new ApiView(StudyReporter.Version, ApiPaths.Document, [new ApiRig(data.RigName, ApiPaths.Of(data.RigName))]));

    private static Task StateAsync(HttpContext context, IDashboardData data, ILiveRig rig, TimeProvider time, MotionConsent consent) =>
        GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK,
            StateView.From(rig.Snapshot, time.GetUtcNow(), data.Units, null) with
            { DataTrouble = data.Trouble, MotionAsked = consent.Asked });

    private static async Task SendRigModuleAsync(HttpContext context, IDashboardData data)
    {
        PageFiles.AddSafeHeaders(context.Response);
        context.Response.Headers.CacheControl = "no-store";
        context.Response.ContentType = "text/javascript; charset=utf-8";
        await context.Response
            .WriteAsync($"// Made by the daemon: the address of its rig.\nexport const rig = '{ApiPaths.Of(data.RigName)}';\n",
            context.RequestAborted).ConfigureAwait(false);
    }

    /// <summary>An address that names another rig finds nothing.</summary>
    private static Task OnlyTheRigHereAsync(HttpContext context, RequestDelegate next) => ApiPaths.IsOfHere(context) ? next(context)
        : GuardedRequests.AnswerAsync(context, StatusCodes.Status404NotFound, Result.Refused("answers.noSuchRig"));

    /// <summary>No token, no origin, no body, no form, no id is asked for: whoever reaches this may stop the rig.</summary>
    private static async Task StopAsync(HttpContext context, StopOnce stop)
    {
        Result result = await Result.FromAsync(stop.StopAsync(context.Request.Query["id"])).ConfigureAwait(false);
        bool isPlainForm = context.Request.Headers.Accept.ToString().Contains("text/html", StringComparison.Ordinal);
        if (isPlainForm)
        {
            // The page's stop button works without its scripts, too; "no content" leaves the page where it is.
            context.Response.StatusCode = StatusCodes.Status204NoContent;
            return;
        }

        await GuardedRequests.AnswerAsync(context, StatusCodes.Status200OK, result).ConfigureAwait(false);
    }
}
