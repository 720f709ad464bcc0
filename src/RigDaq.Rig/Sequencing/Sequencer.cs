using RigDaq.Rig.Interlocks;
using RigDaq.Rig.Text;
using RigDaq.Text;
using static RigDaq.Rig.Sequencing.SequenceStep;

namespace RigDaq.Rig.Sequencing;

/// <summary>Decides what a sequence does next: <c>(state, event) → (state, commands)</c>. It reads no clock, waits for nothing and touches
/// nothing, so that a whole night of breaking, with any fault at any step, is a loop in a test.</summary>
internal static class Sequencer
{
    /// <summary>A sequence that has not begun.</summary>
    /// <param name="plan">What is asked for; in order, see <see cref="PlanCheck"/>.</param>
    /// <param name="rig">The rig now.</param>
    /// <param name="startMillimetres">The position where specimens are put in; null: where the crosshead stands.</param>
    /// <param name="pieceWasLeft">The sequence before has left a piece in the grips that was not seen to part.</param>
    /// <remarks>Who starts a sequence is told to have the far grip open: that is believed unless something speaks against it.</remarks>
    public static SequenceState Create(SequencePlan plan, RigConditions rig, double? startMillimetres, bool pieceWasLeft = false) => new()
    {
        Grips = pieceWasLeft || (rig.HasFeeder && rig.SpecimenLoaded) || (rig.HasGuard && !rig.Facts.GuardClosed)
            ? GripKnowledge.MayBeJoined : GripKnowledge.FarOneOpen,
        Plan = plan,
        Rig = rig,
        KnownBootNumber = rig.BootNumber,
        StartMillimetres = startMillimetres,
        Specimens = [.. plan.SpecimenIds.Select(id => new SpecimenProgress(id, SpecimenState.Waiting, null, null))],
        Reason = RigText.SequenceNotBegun,
    };

    /// <summary>The next state, and what is to be done.</summary>
    public static (SequenceState State, IReadOnlyList<SequenceCommand> Commands) Step(SequenceState state, SequenceEvent happened)
    {
        var transition = new SequenceTransition(state);
        transition.React(happened);
        SequenceInvariants.Assert(state, transition.State, transition.Commands);
        return (transition.State, transition.Commands);
    }

    /// <summary>Why a person's request cannot be met in this state, each with what to do; empty where it can.</summary>
    public static IReadOnlyList<Sentence> ReasonsAgainst(SequenceState state, SequenceRequest request) => request switch
    {
        StopAsked => [],
        _ when state.Step is Finished => [RigText.SequenceIsFinished],
        FinishAsked => [],
        RetryAsked when state.Rig.HasFeeder && SequenceTransition.GaveStrength(state.Current.Ending) => [RigText.FeederHasOnlyNext],
        ResumeAsked or RetryAsked => AgainstGoingOn(state),
        SkipAsked when state.Step is not (Held or TakingZero or AwaitingPerson) => [RigText.SkipWhileHeld],
        SkipAsked when state.Storage is { IsUnderWay: true } => [RigText.StillBeingStored],
        PullConfirmed when state.Step is not AwaitingConfirmation => [RigText.NoConfirmationAsked],
        OpenGripConfirmed when state.Step is not AwaitingOpenGrip => [RigText.OpenGripNotAsked],
        OpenGripConfirmed when state.Rig.HasGuard && !state.Rig.Facts.GuardClosed => [RigText.CloseGuardThenConfirm],
        ZeroAsked when state.Step is not (TakingZero or AwaitingPerson) => [RigText.ZeroWhileWaiting],
        _ => [],
    };

    /// <summary>Whether another calibration may come into force: nothing moves, and limits are looked at before anything does.</summary>
    internal static bool TakesCalibration(SequenceStep step) =>
        step is TakingZero or SettingLimits or AwaitingPerson or AnnouncedDelay or MeasuringClamp or Held or Finished;

    private static List<Sentence> AgainstGoingOn(SequenceState state)
    {
        if (state.Step is not Held) return [RigText.SequenceNotHeld];
        if (state.Storage is { IsUnderWay: true }) return [RigText.StillBeingStored];
        var reasons = new List<Sentence>(OddReasons(state.Rig));
        if (state.Rig.NeedsHoming) reasons.Add(RigText.HomeFirst);
        return reasons;
    }

    /// <summary>What stands against going on at all; an open guard and limits that are still to be sent do not.</summary>
    internal static IReadOnlyList<Sentence> OddReasons(RigConditions rig) => MotionInterlocks.ReasonsAgainstStarting(rig.Facts);
}
