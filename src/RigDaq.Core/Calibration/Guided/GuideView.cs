using RigDaq.Core.Calibration.References;
using RigDaq.Core.Text;
using RigDaq.Text;

namespace RigDaq.Core.Calibration.Guided;

/// <summary>A guided calibration as a page or a terminal shows it.</summary>
public sealed record GuideView
{
    /// <summary>Where it stands.</summary>
    public required GuidePhase Phase { get; init; }

    /// <summary>What the person is to do now; empty where nothing is.</summary>
    public required Sentence Instruction { get; init; }

    /// <summary>Tasks done.</summary>
    public required int Done { get; init; }

    /// <summary>Tasks in all.</summary>
    public required int Total { get; init; }

    /// <summary>The task at hand; null when there is none.</summary>
    public GuideTask? Task { get; init; }

    /// <summary>The force that should hang now; null while it warms up or is over.</summary>
    public ReferenceForce? Wanted => Task?.Reference;

    /// <summary>The mean of the newest tenth of a second, in counts; null before any.</summary>
    public double? Counts { get; init; }

    /// <summary>The same in newtons by the readings so far; null before a slope is known.</summary>
    public double? ForceNewtons { get; init; }

    /// <summary>Whether the signal is still.</summary>
    public bool Still { get; init; }

    /// <summary>The zero's drift in counts a minute; null where it is not known yet.</summary>
    public double? DriftCountsPerMinute { get; init; }

    /// <summary>Its limit.</summary>
    public double? DriftLimitCountsPerMinute { get; init; }

    /// <summary>Seconds of the warm-up, the dwell or the wait for the zero return that are over; null where nothing is waited for by
    /// time.</summary>
    public double? WaitedSeconds { get; init; }

    /// <summary>How long that wait is.</summary>
    public double? WaitSeconds { get; init; }

    internal static GuideView Of(GuideState state)
    {
        var tasks = state.Plan.Tasks();
        bool tasked = state.Phase is GuidePhase.Awaiting or GuidePhase.Dwelling or GuidePhase.AskingSign;
        var task = tasked ? tasks[state.TaskIndex] : null;
        double? counts = state.Window.Bins.Count > 0 ? state.Window.Bins[^1].MeanCounts : null;
        double? wait = state.Phase switch
        {
            GuidePhase.WarmingUp => state.Plan.WarmUpSeconds,
            GuidePhase.Dwelling => state.Plan.DwellSeconds,
            GuidePhase.Awaiting when task!.Kind == GuideTaskKind.ZeroReturn => state.Plan.ZeroReturnSeconds,
            _ => null,
        };
        return new GuideView
        {
            Phase = state.Phase,
            Instruction = state.Phase switch
            {
                GuidePhase.WarmingUp => CoreText.GuideKeepOffUntilSteady,
                GuidePhase.Awaiting => task!.Instruction,
                GuidePhase.Dwelling => CoreText.GuideLeaveUntilCreepRead,
                GuidePhase.AskingSign => CoreText.GuideAgreeToSign,
                GuidePhase.Paused => CoreText.GuideResumeWhenYouLike,
                GuidePhase.Review => CoreText.GuideLookThenAccept,
                _ => Sentence.None,
            },
            Done = state.Phase is GuidePhase.Review or GuidePhase.Accepted ? tasks.Count : state.TaskIndex,
            Total = tasks.Count,
            Task = task,
            Counts = counts,
            ForceNewtons = counts is { } now ? GuideLevels.Newtons(state, now) : null,
            Still = state.Window.Last(state.Plan.StillSeconds) is { } window && GuideStillness.Holds(state, window),
            DriftCountsPerMinute = state.DriftCountsPerMinute,
            DriftLimitCountsPerMinute = state.DriftLimitCountsPerMinute,
            WaitSeconds = wait,
            WaitedSeconds = wait is not null && state is { LastMicroseconds: { } last, SinceMicroseconds: { } since }
                ? Math.Clamp((last - since) / 1e6, 0, wait.Value) : null,
        };
    }
}
