using RigDaq.Rig.Control;
using RigDaq.Rig.Interlocks;

namespace RigDaq.Rig.Sequencing;

/// <summary>
/// Decides what a sequence does next: <c>(state, event) → (state, commands)</c>. It reads no clock, waits for nothing and touches
/// nothing, so that a whole night of breaking, with any fault at any step, is a loop in a test.
/// </summary>
internal static class Sequencer
{
    private static readonly IReadOnlyList<SequenceCommand> NoCommands = [];

    /// <summary>A sequence that has not begun.</summary>
    /// <param name="plan">What is asked for.</param>
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
        Reason = "It has not begun.",
    };

    /// <summary>The next state, and what is to be done.</summary>
    public static (SequenceState State, IReadOnlyList<SequenceCommand> Commands) Step(SequenceState state, SequenceEvent happened)
    {
        var moment = new SequenceMoment(state);
        moment.Take(happened);
        return (moment.State, moment.Commands.Count == 0 ? NoCommands : moment.Commands);
    }

    /// <summary>Why a person's wish cannot be met in this state, each with what to do; empty where it can.</summary>
    public static IReadOnlyList<string> ReasonsAgainst(SequenceState state, SequenceEvent wish) => wish switch
    {
        StopAsked or FinishAsked or ProgramEnds => [],
        _ when state.Stage == SequenceStage.Finished => ["The sequence is finished: start another one."],
        RetryAsked when state.Rig.HasFeeder && SequenceMoment.GaveStrength(state.Current.Ending) =>
            ["The feeder has nothing but the next specimen: this one cannot be pulled again. Resume goes on."],
        ResumeAsked or RetryAsked => AgainstGoingOn(state),
        SkipAsked when state.Step is not (SequenceStep.Held or SequenceStep.AwaitingOpenGrip or SequenceStep.TakingZero or SequenceStep.AwaitingGuardOpen
            or SequenceStep.AwaitingGuardClosed or SequenceStep.AwaitingConfirmation) =>
            ["A specimen can be skipped while the sequence is held or waits for a person to put it in: stop first."],
        SkipAsked when StillStoring(state) => [StoringWords],
        PullConfirmed when state.Step != SequenceStep.AwaitingConfirmation => ["No confirmation is asked for now."],
        OpenGripConfirmed when state.Step != SequenceStep.AwaitingOpenGrip => ["Nobody asks now whether the far grip is open."],
        OpenGripConfirmed when state.Rig.HasGuard && !state.Rig.Facts.GuardClosed => ["The guard is open: close it, then confirm."],
        ZeroAsked when state.Stage != SequenceStage.WaitingForSpecimen || state.Step is SequenceStep.Feeding or SequenceStep.SettingLimits =>
            ["The zero can be taken while the sequence waits for a specimen, the far grip open."],
        _ => [],
    };

    private const string StoringWords = "The last pull is still being stored: wait a moment.";

    private static List<string> AgainstGoingOn(SequenceState state)
    {
        if (state.Stage != SequenceStage.Held) return ["The sequence is not held: there is nothing to resume."];
        if (StillStoring(state)) return [StoringWords];
        var reasons = new List<string>(OddReasons(state.Rig));
        if (state.Rig.NeedsHoming) reasons.Add("The crosshead's position is not known: home first.");
        return reasons;
    }

    /// <summary>What stands against going on at all; an open guard and limits that are still to be sent do not.</summary>
    internal static IReadOnlyList<string> OddReasons(RigConditions rig) =>
        MotionInterlocks.ReasonsAgainstPulling(rig.Facts with { GuardClosed = true, LimitsConfirmed = true });

    private static bool StillStoring(SequenceState state) => state.CapturePending || state.Pull?.Phase is PullPhase.Running or PullPhase.Recording;
}
