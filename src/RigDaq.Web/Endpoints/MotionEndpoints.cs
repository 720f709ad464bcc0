using RigDaq.App;
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

/// <summary>The page's commands. All of them want the token, this machine's name and this page's origin; stopping is elsewhere.</summary>
internal static class MotionEndpoints
{
    /// <summary>How long a page waits for a replay; less than the page's own patience.</summary>
    private static readonly TimeSpan ReplayTime = TimeSpan.FromSeconds(12);

    internal static void MapMotion(this IEndpointRouteBuilder routes)
    {
        routes.Command("sequence", "startSequence", AppText.ApiStartSequence, StartAsync);
        routes.Command("sequence/resume", "resumeSequence", AppText.ApiResumeSequence, (c, _) => c.Rig.ResumeAsync());
        routes.Command("sequence/skip", "skipSpecimen", AppText.ApiSkipSpecimen, (c, _) => c.Rig.SkipAsync());
        routes.Command("sequence/retry", "retrySpecimen", AppText.ApiRetrySpecimen, (c, _) => c.Rig.RetryAsync());
        routes.Command("sequence/finish", "finishSequence", AppText.ApiFinishSequence, (c, _) => c.Rig.FinishAsync());
        routes.Command("sequence/confirm", "confirmPull", AppText.ApiConfirmPull, (c, _) => c.Rig.ConfirmPullAsync());
        routes.Command("grip/open", "confirmOpenGrip", AppText.ApiConfirmOpenGrip, (c, _) => c.Rig.ConfirmOpenGripAsync());
        routes.Command("zero", "takeZero", AppText.ApiTakeZero, (c, _) => c.Rig.TakeZeroAsync());
        routes.Command("faults/clear", "clearFaults", AppText.ApiClearFaults, (c, _) => c.Rig.ClearFaultsAsync());
        routes.Command("home", "findHome", AppText.ApiFindHome, (c, _) => c.Rig.HomeAsync());
        routes.Command("grip-separation", "moveToGripSeparation", AppText.ApiMoveToGripSeparation,
            (c, request) => request.GripSeparationMillimetres is { } mm && double.IsFinite(mm)
            ? c.Rig.MoveToGripSeparationAsync(mm)
            : Task.FromResult(CommandResult.Refused(PageText.Sentence("answers.sayTheDistance", ("unit", c.Data.Units.Length.Symbol)))));
        routes.Command("hand-motion", "allowHandMotion", AppText.ApiAllowHandMotion, AcknowledgeHandMotionAsync);
        routes.Command("replay", "replayRuns", AppText.ApiReplayRuns, ReplayAsync);
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

    private static void Command(this IEndpointRouteBuilder routes, string path, string name, string summary,
        Func<CommandContext, PageRequest, Task<CommandResult>> run) =>
        routes.Command(path, name, summary, (context, request) => Result.FromAsync(run(context, request)));

    private static void Command(this IEndpointRouteBuilder routes, string path, string name, string summary,
        Func<CommandContext, PageRequest, Task<Result>> run) =>
        routes.MapGuarded<PageRequest>($"{ApiPaths.Rig}/{path}", name, summary, (context, request) => run(
            new CommandContext(
                context.RequestServices.GetRequiredService<ILiveRig>(), context.RequestServices.GetRequiredService<IDashboardData>(),
                context.RequestServices.GetRequiredService<SequenceStartGate>(), context.RequestServices.GetService<RigPublisher>()),
            request));

    private readonly record struct CommandContext(ILiveRig Rig, IDashboardData Data, SequenceStartGate SequenceStartGate,
        RigPublisher? Publisher);
}
