using RigDaq.App;
using RigDaq.App.Access;
using RigDaq.App.Overview;
using RigDaq.App.Rigs;
using RigDaq.App.Text;
using RigDaq.Publishing.Delivery;
using RigDaq.Rig.Control;
using RigDaq.Rig.Interlocks;
using RigDaq.Rig.Sequencing;
using RigDaq.Text;
using RigDaq.Web.Access;
using RigDaq.Web.Api;
using RigDaq.Web.Requests;

namespace RigDaq.Web.Endpoints;

/// <summary>The page's commands. All of them want the token or a log-in, a name of ours and this page's origin; stopping is elsewhere. What
/// moves something wants a person at the rig besides, where it comes from elsewhere.</summary>
internal static class MotionEndpoints
{
    /// <summary>How long a page waits for a replay; less than the page's own patience.</summary>
    private static readonly TimeSpan ReplayTime = TimeSpan.FromSeconds(12);

    internal static void MapMotion(this IEndpointRouteBuilder routes)
    {
        routes.Command("sequence", "startSequence", Presence.Asked, AppText.ApiStartSequence, StartAsync);
        routes.Command("sequence/resume", "resumeSequence", Presence.Asked, AppText.ApiResumeSequence, (c, _) => c.Rig.ResumeAsync());
        routes.Command("sequence/skip", "skipSpecimen", Presence.Asked, AppText.ApiSkipSpecimen, (c, _) => c.Rig.SkipAsync());
        routes.Command("sequence/retry", "retrySpecimen", Presence.Asked, AppText.ApiRetrySpecimen, (c, _) => c.Rig.RetryAsync());
        routes.Command("sequence/finish", "finishSequence", Presence.NotNeeded, AppText.ApiFinishSequence, (c, _) => c.Rig.FinishAsync());
        routes.Command("sequence/confirm", "confirmPull", Presence.AtTheRig, AppText.ApiConfirmPull, (c, _) => c.Rig.ConfirmPullAsync());
        routes.Command("grip/open", "confirmOpenGrip", Presence.AtTheRig, AppText.ApiConfirmOpenGrip,
            (c, _) => c.Rig.ConfirmOpenGripAsync());
        routes.Command("zero", "takeZero", Presence.AtTheRig, AppText.ApiTakeZero, (c, _) => c.Rig.TakeZeroAsync());
        routes.Command("faults/clear", "clearFaults", Presence.NotNeeded, AppText.ApiClearFaults, (c, _) => c.Rig.ClearFaultsAsync());
        routes.Command("home", "findHome", Presence.Asked, AppText.ApiFindHome, (c, _) => c.Rig.HomeAsync());
        routes.Command("grip-separation", "moveToGripSeparation", Presence.Asked, AppText.ApiMoveToGripSeparation,
            (c, request) => request.GripSeparationMillimetres is { } mm && double.IsFinite(mm)
            ? c.Rig.MoveToGripSeparationAsync(mm)
            : Task.FromResult(CommandResult.Refused(PageText.Sentence("answers.sayTheDistance", ("unit", c.Data.Units.Length.Symbol)))));
        routes.Command("hand-motion", "allowHandMotion", Presence.NotNeeded, AppText.ApiAllowHandMotion, AcknowledgeHandMotionAsync);
        routes.Command("replay", "replayRuns", Presence.NotNeeded, AppText.ApiReplayRuns, ReplayAsync);
    }

    private static Task<Result> StartAsync(CommandContext context, PageRequest request)
    {
        if (!request.CautionsRead) return Task.FromResult(Result.Refused("answers.readCautions"));
        return context.SequenceStartGate.DoAsync(() => StartReadAsync(context, request));
    }

    private static async Task<Result> StartReadAsync(CommandContext context, PageRequest request)
    {
        if (request.EmergencyStopTested && context.Rig.Snapshot.AsksForEmergencyStopTest)
        {
            CommandResult tested = await context.Rig.SayEmergencyStopTestedAsync().ConfigureAwait(false);
            if (!tested.Done) return Result.From(tested);
        }

        // What would be pulled is safe in its capture and the journal, yet what is known of the study is not to be relied upon.
        if (context.Data.Trouble is { } trouble) return Result.Refused("answers.dataTrouble", ("why", trouble));
        if (context.Data.NextPlan() is not { } plan) return Result.Refused("answers.noSpecimenLeft");
        SequencePlan accepted = plan with { AcceptBeyondCalibration = request.AcceptBeyondCalibration };
        CommandResult acknowledged = context.Rig.AcknowledgeCautions(accepted.SequenceId);
        return Result.From(acknowledged.Done ? await context.Rig.StartSequenceAsync(accepted).ConfigureAwait(false) : acknowledged);
    }

    private static Task<Result> AcknowledgeHandMotionAsync(CommandContext context, PageRequest request)
    {
        if (!request.CautionsRead) return Task.FromResult(Result.Refused("answers.readCautions"));
        CommandResult acknowledged = context.Rig.AcknowledgeCautions(Cautions.HandMotionScope);
        if (acknowledged.Done && request.AcceptBeyondCalibration) context.Rig.AcceptHandMotionBeyondCalibration();
        return Task.FromResult(Result.From(acknowledged));
    }

    private static async Task<Result> ReplayAsync(CommandContext context, PageRequest request)
    {
        if (context.Publisher is not { } publisher) return Result.Refused("answers.publishingOff");
        if (context.Data.StudyRuns() is not { Runs.Count: > 0 } study) return Result.Refused("answers.noRunYet");
        try
        {
            using var late = new CancellationTokenSource(ReplayTime);
            ReplayResult result = await publisher.ReplayAsync(study.Study, study.Runs, late.Token).ConfigureAwait(false);
            return result.Unclaimed == 0 ? Result.Ok("answers.sentAgain", ("n", result.Taken))
                : Result.Refused("answers.notAllSent", ("n", result.Taken), ("all", result.Runs));
        }
        catch (OperationCanceledException)
        {
            return Result.Refused("answers.brokerSlow");
        }
        catch (Exception e) when (e is IOException or InvalidOperationException)
        {
            return Result.Because(Sentence.Verbatim(e.Message));
        }
    }

    private static void Command(this IEndpointRouteBuilder routes, string path, string name, Presence presence, string summary,
        Func<CommandContext, PageRequest, Task<CommandResult>> run) =>
        routes.Command(path, name, presence, summary, (context, request) => Result.FromAsync(run(context, request)));

    private static void Command(this IEndpointRouteBuilder routes, string path, string name, Presence presence, string summary,
        Func<CommandContext, PageRequest, Task<Result>> run) =>
        routes.MapGuarded<PageRequest>($"{ApiPaths.Rig}/{path}", name, summary, async (context, request) =>
        {
            IServiceProvider services = context.RequestServices;
            bool isElsewhere = LocalCaller.Of(context) is null && !services.GetRequiredService<DashboardAccess>().IsAtTheRig(context);
            if (isElsewhere && await ReasonElsewhereAsync(context, name, presence).ConfigureAwait(false) is { } reason) return reason;
            // Whether a button at the rig cuts the motor's power nobody elsewhere has felt.
            if (isElsewhere) request.EmergencyStopTested = false;
            return await run(
                new CommandContext(services.GetRequiredService<ILiveRig>(), services.GetRequiredService<IDashboardData>(),
                    services.GetRequiredService<SequenceStartGate>(), services.GetService<RigPublisher>()),
                request).ConfigureAwait(false);
        });

    private static async Task<Result?> ReasonElsewhereAsync(HttpContext context, string name, Presence presence)
    {
        if (presence is Presence.NotNeeded) return null;
        if (presence is Presence.AtTheRig) return Result.Refused("answers.onlyAtTheRig");
        bool? allowed = await context.RequestServices.GetRequiredService<MotionConsent>()
            .AskAsync(PageCaller.Of(context), name, context.RequestAborted).ConfigureAwait(false);
        return allowed switch
        {
            true => null,
            false => Result.Refused("answers.notAllowedAtTheRig"),
            _ => Result.Refused("answers.tooMuchAsked", ("n", MotionConsent.AskedMax)),
        };
    }

    private readonly record struct CommandContext(ILiveRig Rig, IDashboardData Data, SequenceStartGate SequenceStartGate,
        RigPublisher? Publisher);
}
