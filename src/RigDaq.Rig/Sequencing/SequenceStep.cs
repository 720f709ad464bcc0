using RigDaq.Core.Pulls;
using RigDaq.Text;

namespace RigDaq.Rig.Sequencing;

/// <summary>What exactly a sequence is at, with what only this step has. Several steps make a stage; which one follows from the step. There
/// are no steps but these.</summary>
internal abstract record SequenceStep
{
    private SequenceStep(SequenceStage stage) => Stage = stage;

    public SequenceStage Stage { get; }

    public sealed record NotBegun() : SequenceStep(SequenceStage.WaitingForSpecimen);

    /// <summary>Somebody has to do something and to show or to say it.</summary>
    public abstract record AwaitingPerson : SequenceStep
    {
        private protected AwaitingPerson() : base(SequenceStage.WaitingForSpecimen)
        {
        }
    }

    public sealed record AwaitingOpenGrip : AwaitingPerson;

    public sealed record AwaitingGuardOpen : AwaitingPerson;

    public sealed record AwaitingGuardClosed : AwaitingPerson;

    public sealed record AwaitingConfirmation : AwaitingPerson;

    /// <param name="Tries">How many windows were restless.</param>
    public sealed record TakingZero(int Tries) : SequenceStep(SequenceStage.WaitingForSpecimen);

    /// <param name="For">What they are made for.</param>
    public sealed record SettingLimits(LimitsBasis For) : SequenceStep(SequenceStage.WaitingForSpecimen);

    public sealed record GoingToStart() : SequenceStep(SequenceStage.Returning);

    public sealed record Feeding() : SequenceStep(SequenceStage.WaitingForSpecimen);

    public sealed record AnnouncedDelay() : SequenceStep(SequenceStage.Ready);

    /// <param name="Tries">How many windows were restless.</param>
    public sealed record MeasuringClamp(int Tries) : SequenceStep(SequenceStage.Ready);

    /// <param name="Tries">How many windows were restless before it.</param>
    public sealed record RelievingClamp(int Tries) : SequenceStep(SequenceStage.TakingUpSlack);

    public sealed record OpeningCapture() : SequenceStep(SequenceStage.Ready);

    /// <summary>A pull is open: its samples go to its capture.</summary>
    public abstract record InPull : SequenceStep
    {
        private protected InPull(SequenceStage stage, string runId) : base(stage) => RunId = runId;

        public string RunId { get; }
    }

    /// <summary>The specimen is being loaded.</summary>
    public abstract record Running : InPull
    {
        private protected Running(SequenceStage stage, string runId) : base(stage, runId)
        {
        }
    }

    public sealed record TakingUpSlack(string RunId) : Running(SequenceStage.TakingUpSlack, RunId);

    public sealed record Pulling(string RunId) : Running(SequenceStage.Pulling, RunId);

    /// <summary>The pull has its outcome and is not closed yet.</summary>
    public abstract record Decided : InPull
    {
        private protected Decided(string runId, PullOutcome outcome) : base(SequenceStage.Pulling, runId) => Outcome = outcome;

        public PullOutcome Outcome { get; init; }
    }

    public sealed record Stopping(string RunId, PullOutcome Outcome) : Decided(RunId, Outcome);

    /// <param name="RunId">The pull.</param>
    /// <param name="Outcome">How it ended.</param>
    /// <param name="Tries">How many windows were restless.</param>
    public sealed record Settling(string RunId, PullOutcome Outcome, int Tries) : Decided(RunId, Outcome);

    public sealed record Separating() : SequenceStep(SequenceStage.Returning);

    /// <param name="Tries">How many windows were restless.</param>
    public sealed record TakingZeroApart(int Tries) : SequenceStep(SequenceStage.Returning);

    /// <param name="IsBack">The crosshead is back; only the stored run is missing.</param>
    public sealed record Returning(bool IsBack) : SequenceStep(SequenceStage.Returning);

    public sealed record Held() : SequenceStep(SequenceStage.Held);

    public sealed record Finished() : SequenceStep(SequenceStage.Finished);
}

/// <summary>How a pull ended, and why in words; empty where the ending says it all.</summary>
internal sealed record PullOutcome(PullEnding Ending, Sentence Reason);
