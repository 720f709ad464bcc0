using RigDaq.Core.Strength;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Session;
using RigDaq.Rig.Text;

namespace RigDaq.Rig.Sequencing;

/// <content>What a person wants, and what goes wrong.</content>
internal sealed partial class SequenceMoment
{
    private void Hold(string reason)
    {
        if (State.Step == SequenceStep.Finished) return;
        if (State.Step == SequenceStep.Held)
        {
            State = State with { Reason = reason };
            return;
        }

        // Without a guard to tell that hands are out, a person says so anew after anything odd.
        State = State with { Loaded = State.Loaded && (Rig.HasGuard || Rig.HasFeeder), Tries = 0 };
        if (!Rig.HasGuard) State = State with { Grips = GripKnowledge.MayBeJoined };
        Enter(SequenceStep.Held, SequenceStage.Held, reason);
    }

    private void Finish(string reason)
    {
        if (State.Step == SequenceStep.Finished) return;
        if (State.Index < State.Specimens.Count && State.Current.State == SpecimenState.Current && State.Pull is null && State.Current.RunId is null)
            Mark(State.Current with { State = SpecimenState.Waiting });
        Enter(SequenceStep.Finished, SequenceStage.Finished, reason);
    }

    private void Obey(SequenceEvent wish)
    {
        switch (wish)
        {
            case StopAsked:
                StopAll(PullEnding.Stopped, RigText.StoppedByPerson);
                break;
            case FinishAsked when State.Step == SequenceStep.Finished:
                break;
            case FinishAsked:
                StopAll(PullEnding.Stopped, RigText.EndedByPerson);
                Finish(RigText.EndedByPerson);
                break;
            case ProgramEnds:
                StopAll(PullEnding.Interrupted, RigText.EndedWithProgram);
                Finish(RigText.EndedWithProgram);
                break;
            case HandMoved when State.Stage == SequenceStage.Held:
                // A feeder's specimen stays where it is; one put in by hand may have been let go.
                State = State with { Loaded = State.Loaded && Rig.HasFeeder };
                NoteGoingBack();
                break;
            default:
                if (Sequencer.ReasonsAgainst(State, wish).Count == 0) Grant(wish);
                break;
        }
    }

    private void StopAll(PullEnding ending, string reason)
    {
        if (State.Step == SequenceStep.Finished)
        {
            Do(new StopMotion(State.Ticket));
            return;
        }

        Stop();
        if (State.Pull is { Phase: PullPhase.Running } pull) Close(pull.Ending ?? ending, pull.Ending is null ? reason : pull.EndingReason);
        // What it was held for already is worth more than that somebody pressed stop as well.
        if (State.Step != SequenceStep.Held) Hold(reason);
    }

    private void Grant(SequenceEvent wish)
    {
        switch (wish)
        {
            case ResumeAsked when State.Pull is { Phase: PullPhase.NotRecorded } pull:
                State = State with { Pull = pull with { Phase = PullPhase.Recording }, Returned = true };
                Enter(SequenceStep.Returning, SequenceStage.Returning, RigText.RunBeingStoredAgain);
                Do(new RecordAgain(pull.RunId));
                Do(new StartTimer(State.Ticket, SequenceLimits.ReturnMax));
                break;
            case ResumeAsked when State.Current.State == SpecimenState.Pulled && GaveStrength(State.Current.Ending):
                Next();
                break;
            case ResumeAsked or RetryAsked:
                Repeat();
                break;
            case SkipAsked:
                if (State.Current.State == SpecimenState.Current) Mark(State.Current with { State = SpecimenState.Skipped });
                State = State with { Pull = null, FeedsToDiscard = State.FeedsToDiscard + (Rig.HasFeeder && !State.Fed ? 1 : 0) };
                Next();
                break;
            case PullConfirmed:
                State = State with { Loaded = true };
                Announce();
                break;
            case OpenGripConfirmed:
                State = State with { Grips = GripKnowledge.FarOneOpen, Loaded = false, Tries = 0 };
                Advance();
                break;
            case ZeroAsked:
                State = State with { ZeroIsSettled = false, ZeroInDoubt = true, Loaded = false, Tries = 0 };
                Advance();
                break;
            default:
                break;
        }
    }

    internal static bool GaveStrength(PullEnding? ending) => ending is
        PullEnding.Broken or PullEnding.PartlyBroken or PullEnding.SlippedOut or PullEnding.Unbroken or PullEnding.Overload;

    private void Repeat()
    {
        State = State with { Pull = null, Tries = 0, Reliefs = 0 };
        Advance();
    }

    private void MotionIsOver()
    {
        switch (State.Step)
        {
            case SequenceStep.GoingToStart:
                if (AtStart) Advance();
                else Hold(RigText.StartNotReached);
                break;
            case SequenceStep.Feeding when Rig.SpecimenLoaded && State.FeedsToDiscard > 0:
                State = State with { FeedsToDiscard = State.FeedsToDiscard - 1 };
                Advance();
                break;
            case SequenceStep.Feeding when Rig.SpecimenLoaded:
                State = State with { Loaded = true, Fed = true };
                Advance();
                break;
            case SequenceStep.Feeding:
                Hold(Rig.FeederEmpty ? RigText.FeederIsEmpty : RigText.FedNothing);
                break;
            case SequenceStep.RelievingClamp:
                LookAtClamp();
                break;
            case SequenceStep.Separating when State.Current.Ending == PullEnding.Broken:
                LookAtZeroApart();
                break;
            case SequenceStep.Separating:
                Return();
                break;
            case SequenceStep.TakingUpSlack or SequenceStep.Pulling:
                ConcludeWithoutBreak(RigText.TravelEnded);
                break;
            case SequenceStep.Stopping when State.Pull?.Ending is PullEnding.Overload or PullEnding.PartlyBroken:
                CloseDecidedPull();
                break;
            case SequenceStep.Stopping:
                State = State with { Tries = 0 };
                LookAtZeroReturn();
                break;
            case SequenceStep.Returning when !State.Returned:
                State = State with { Returned = true, Reason = RigText.RunBeingStored };
                GoOnIfBackAndStored();
                break;
            default:
                break;
        }
    }

    private void MotionWasRefused(string words)
    {
        if (State.Step is SequenceStep.Held or SequenceStep.Finished) return;
        EndNow(PullEnding.Interrupted, RigText.DidNotMove(words));
    }

    private void TimeIsOver()
    {
        switch (State.Step)
        {
            case SequenceStep.AnnouncedDelay:
                State = State with { Loaded = true };
                MeasureClamp();
                break;
            case SequenceStep.Stopping:
                EndNow(PullEnding.Stopped, RigText.NotComingToRest);
                break;
            case SequenceStep.Settling:
                CloseDecidedPull();
                break;
            case SequenceStep.Returning when State.Returned:
                Hold(RigText.StoringTooLong);
                break;
            case SequenceStep.Held or SequenceStep.Finished:
                break;
            default:
                Stop();
                Hold(RigText.TookTooLong(State.Step switch
                {
                    SequenceStep.TakingZero or SequenceStep.TakingZeroApart or SequenceStep.MeasuringClamp => RigText.LookingAtForceAtRest,
                    SequenceStep.SettingLimits => RigText.HavingLimitsConfirmed,
                    SequenceStep.Feeding => RigText.FeedingSpecimen,
                    SequenceStep.OpeningCapture => RigText.CreatingTheCapture,
                    _ => RigText.MovingCrosshead,
                }));
                break;
        }
    }

    private void Notice(RigConditions now)
    {
        RigConditions before = Rig;
        bool restarted = now.BootNumber != 0 && State.KnownBootNumber != 0 && now.BootNumber != State.KnownBootNumber;
        State = State with { Rig = now, KnownBootNumber = now.BootNumber != 0 ? now.BootNumber : State.KnownBootNumber };
        if (restarted) NoticeRestart();
        // Whoever opens the guard has hands on the specimen: it has to be closed and announced anew, whatever the step.
        if (now.HasGuard && !now.HasFeeder && !now.Facts.GuardClosed) State = State with { Loaded = false };
        if (now.HasFeeder && !now.SpecimenLoaded) State = State with { Loaded = false };
        // Hands may be in: the guard is open, or there is none, or the lost link does not tell.
        bool handsMayBeIn = now.HasGuard ? !now.Facts.GuardClosed : State.Step == SequenceStep.Held;
        if (handsMayBeIn && State.Step != SequenceStep.Finished) State = State with { Grips = GripKnowledge.MayBeJoined };
        if (State.Step is SequenceStep.Finished or SequenceStep.Held) return;

        if (!now.Facts.LinkUp || !now.Facts.DeviceKnown)
            EndNow(PullEnding.Interrupted, RigText.LinkLost(now.Facts.LinkMessage));
        else if (now.Faults != DeviceFaults.None)
            NoticeFaults(now.Faults);
        else if (!now.Facts.EmergencyStopReleased)
            EndNow(PullEnding.Stopped, RigText.EmergencyStopPressed);
        else if (!now.Facts.ConverterAlive)
            EndNow(PullEnding.Interrupted, RigText.ConverterSilent);
        else if (now.HasGuard && now.Facts.GuardClosed != before.Facts.GuardClosed)
            NoticeGuard(open: !now.Facts.GuardClosed);
    }

    /// <summary>Nothing that was said to the device holds any more, and it counts its steps from elsewhere.</summary>
    private void NoticeRestart()
    {
        State = State with { LimitsZeroCounts = null, ZeroInDoubt = true };
        NoteGoingBack();
        // A place that the plan names is found again after homing; one that was only "here" is lost.
        if (Plan.StartGripSeparationMillimetres is null) State = State with { StartMillimetres = null };
        if (State.Step is SequenceStep.Finished or SequenceStep.Held) return;
        EndNow(PullEnding.Interrupted, RigText.DeviceRestarted);
    }

    /// <summary>Limits made with the calibration before must not be pulled under: they are sent anew before anything else.</summary>
    private void NoticeCalibration()
    {
        State = State with { LimitsZeroCounts = null };
        if (Sequencer.TakesCalibration(State.Step) && State.Step is not (SequenceStep.TakingZero or SequenceStep.SettingLimits or SequenceStep.AwaitingOpenGrip
            or SequenceStep.Held or SequenceStep.Finished))
            Advance();
    }

    private void NoticeGuard(bool open)
    {
        switch (State.Step)
        {
            case SequenceStep.TakingZero:
                // Whoever opens the guard may clamp a piece: closing it again is no word that none is.
                if (open) AskForOpenGrip();
                break;
            case SequenceStep.AwaitingGuardOpen when open:
                AwaitGuard();
                break;
            case SequenceStep.AwaitingGuardClosed when !open:
                State = State with { Loaded = true };
                Announce();
                break;
            case SequenceStep.AnnouncedDelay or SequenceStep.MeasuringClamp when open && !Rig.HasFeeder:
                AwaitGuard();
                break;
            case SequenceStep.AwaitingOpenGrip or SequenceStep.SettingLimits or SequenceStep.AwaitingConfirmation or SequenceStep.AwaitingGuardOpen or SequenceStep.AwaitingGuardClosed:
                break;
            default:
                if (open) EndNow(PullEnding.Stopped, RigText.GuardOpened);
                break;
        }
    }

    private void NoticeFaults(DeviceFaults faults)
    {
        string words = string.Join("; ", DeviceWords.Of(faults));
        const DeviceFaults byPerson = DeviceFaults.EmergencyStop | DeviceFaults.GuardOpened;
        const DeviceFaults byFailure = DeviceFaults.KeepAliveLost | DeviceFaults.Converter | DeviceFaults.Driver | DeviceFaults.Watchdog;
        if ((faults & byPerson) != 0)
            EndNow(PullEnding.Stopped, RigText.DeviceStoppedItself(words));
        else if (!Moving || (faults & (DeviceFaults.ForceLimit | DeviceFaults.TravelLimit | DeviceFaults.TimeLimit)) == 0 || (faults & byFailure) != 0)
            NoticeFailure(words);
        else if (faults.HasFlag(DeviceFaults.ForceLimit))
            Conclude(PullEnding.Overload, RigText.DeviceForceLimit);
        else
            ConcludeWithoutBreak(RigText.DeviceStoppedIn(words));
    }

    private void NoticeFailure(string words)
    {
        // What stopped the motion at the end of the pull is known already.
        if (State.Step is SequenceStep.Stopping or SequenceStep.Settling && State.Pull?.Ending is PullEnding.Overload or PullEnding.Unbroken or PullEnding.NoContact)
            return;
        if (State.Step is SequenceStep.Returning or SequenceStep.GoingToStart && Rig.Faults == DeviceFaults.ForceLimit)
            Hold(RigText.PushesOnWayBack);
        else
            EndNow(PullEnding.Interrupted, RigText.DeviceStoppedItself(words));
    }
}
