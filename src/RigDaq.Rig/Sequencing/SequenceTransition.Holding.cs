using RigDaq.Core.Pulls;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Session;
using RigDaq.Rig.Text;
using RigDaq.Text;
using static RigDaq.Rig.Sequencing.SequenceStep;

namespace RigDaq.Rig.Sequencing;

/// <content>What a person wants, and what goes wrong.</content>
internal sealed partial class SequenceTransition
{
    private void Hold(Sentence reason)
    {
        if (State.Step is Finished) return;
        if (State.Step is Held)
        {
            State = State with { Reason = reason };
            return;
        }

        // Without a guard to tell that hands are out, a person says so anew after anything odd.
        Turn = Turn with { Loaded = Turn.Loaded && (Rig.HasGuard || Rig.HasFeeder) };
        if (!Rig.HasGuard) State = State with { Grips = GripKnowledge.MayBeJoined };
        Enter(new Held(), reason);
    }

    private void Finish(Sentence reason)
    {
        if (State.Step is Finished) return;
        if (State.Current is { State: SpecimenState.Current, RunId: null }) Mark(State.Current with { State = SpecimenState.Waiting });
        Enter(new Finished(), reason);
    }

    private void Apply(SequenceRequest request)
    {
        switch (request)
        {
            case StopAsked: StopAll(PullEnding.Stopped, RigText.StoppedByPerson); break;
            case FinishAsked when State.Step is not Finished:
                StopAll(PullEnding.Stopped, RigText.EndedByPerson);
                Finish(RigText.EndedByPerson);
                break;
            default: if (Sequencer.ReasonsAgainst(State, request).Count == 0) Accept(request); break;
        }
    }

    private void StopAll(PullEnding ending, Sentence reason)
    {
        if (State.Step is Finished)
        {
            Do(new StopMotion(State.Ticket));
            return;
        }

        Stop();
        CloseOpen(ending, reason);
        // What it was held for already is worth more than that somebody pressed stop as well.
        if (State.Step is not Held) Hold(reason);
    }

    private void Accept(SequenceRequest request)
    {
        switch (request)
        {
            case ResumeAsked when State.Storage is PullStorage.NotStored { RunId: var run }:
                State = State with { Storage = new PullStorage.Storing(run) };
                Enter(new Returning(IsBack: true), RigText.RunBeingStoredAgain);
                Do(new RetryStore(run));
                Do(new StartTimer(State.Ticket, SequenceLimits.ReturnMax));
                break;
            case ResumeAsked when State.Current.State == SpecimenState.Pulled && GaveStrength(State.Current.Ending): Next(); break;
            case ResumeAsked or RetryAsked:
                State = State with
                {
                    Storage = null,
                    // Who pulls a specimen again leaves it in.
                    Turn = Turn with
                    {
                        Clamp = Turn.Clamp?.Unrelieved(),
                        HoldOwed = State.Current.State == SpecimenState.Pulled ? null : Turn.HoldOwed,
                    },
                };
                Advance();
                break;
            case SkipAsked:
                if (State.Current.State == SpecimenState.Current) Mark(State.Current with { State = SpecimenState.Skipped });
                State = State with { Storage = null, FeedsToDiscard = State.FeedsToDiscard + (Rig.HasFeeder && !Turn.Fed ? 1 : 0) };
                Next();
                break;
            case PullConfirmed:
                Turn = Turn with { Loaded = true };
                Announce();
                break;
            case OpenGripConfirmed:
                State = State with { Grips = GripKnowledge.FarOneOpen, Turn = Turn with { Loaded = false } };
                Advance();
                break;
            case ZeroAsked:
                State = State with { Zero = State.Zero?.Doubted(), Turn = Turn with { Loaded = false } };
                Advance();
                break;
        }
    }

    internal static bool GaveStrength(PullEnding? ending) =>
        ending is PullEnding.Broken or PullEnding.PartlyBroken or PullEnding.SlippedOut or PullEnding.Unbroken or PullEnding.Overload;

    private void OnMotionEnded()
    {
        switch (State.Step)
        {
            case GoingToStart when AtStart: Advance(); break;
            case GoingToStart: Hold(RigText.StartNotReached); break;
            case Feeding when Rig.SpecimenLoaded && State.FeedsToDiscard > 0:
                State = State with { FeedsToDiscard = State.FeedsToDiscard - 1 };
                Advance();
                break;
            case Feeding when Rig.SpecimenLoaded:
                Turn = Turn with { Loaded = true, Fed = true };
                Advance();
                break;
            case Feeding: Hold(Rig.FeederEmpty ? RigText.FeederIsEmpty : RigText.FedNothing); break;
            case RelievingClamp step: LookAtClamp(step.Tries); break;
            case Separating when State.Current.Ending == PullEnding.Broken: LookAtZeroApart(); break;
            case Separating: Return(); break;
            case Stopping { Outcome.Ending: PullEnding.Overload or PullEnding.PartlyBroken } step: CloseDecided(step); break;
            case Stopping step: LookAtZeroReturn(step); break;
            case Running pull: ConcludeWithoutBreak(pull, RigText.TravelEnded); break;
            case Returning { IsBack: false }:
                State = State with { Step = new Returning(IsBack: true), Reason = RigText.RunBeingStored };
                GoOnIfBackAndStored();
                break;
        }
    }

    private void OnTimeOver()
    {
        switch (State.Step)
        {
            case AnnouncedDelay:
                Turn = Turn with { Loaded = true };
                LookAtClamp();
                break;
            case Stopping: EndNow(PullEnding.Stopped, RigText.NotComingToRest); break;
            case Settling step: CloseDecided(step); break;
            case Returning { IsBack: true }: Hold(RigText.StoringTooLong); break;
            case Held or Finished:
                break;
            default:
                Stop();
                Hold(RigText.TookTooLong(State.Step switch
                {
                    TakingZero or TakingZeroApart or MeasuringClamp => RigText.LookingAtForceAtRest,
                    SettingLimits => RigText.HavingLimitsConfirmed,
                    Feeding => RigText.FeedingSpecimen,
                    OpeningCapture => RigText.CreatingTheCapture,
                    _ => RigText.MovingCrosshead,
                }));
                break;
        }
    }

    private void OnConditionsChanged(RigConditions now)
    {
        RigConditions before = Rig;
        bool restarted = now.BootNumber != 0 && State.KnownBootNumber != 0 && now.BootNumber != State.KnownBootNumber;
        State = State with { Rig = now, KnownBootNumber = now.BootNumber != 0 ? now.BootNumber : State.KnownBootNumber };
        if (restarted) OnRestart();
        // Whoever opens the guard has hands on the specimen: it has to be closed and announced anew, whatever the step.
        if (now.HasFeeder ? !now.SpecimenLoaded : now.HasGuard && !now.Facts.GuardClosed) Turn = Turn with { Loaded = false };
        // Hands may be in: the guard is open, or there is none, or the lost link does not tell.
        bool handsMayBeIn = now.HasGuard ? !now.Facts.GuardClosed : State.Step is Held;
        if (handsMayBeIn && State.Step is not Finished) State = State with { Grips = GripKnowledge.MayBeJoined };
        if (State.Step is Finished or Held) return;

        if (!now.Facts.LinkUp || !now.Facts.DeviceKnown)
            EndNow(PullEnding.Interrupted, RigText.LinkLost(now.Facts.LinkMessage));
        else if (now.Faults != DeviceFaults.None)
            OnFaults(now.Faults);
        else if (!now.Facts.EmergencyStopReleased)
            EndNow(PullEnding.Stopped, RigText.EmergencyStopPressed);
        else if (!now.Facts.ConverterAlive)
            EndNow(PullEnding.Interrupted, RigText.ConverterSilent);
        else if (now.HasGuard && now.Facts.GuardClosed != before.Facts.GuardClosed) OnGuard(open: !now.Facts.GuardClosed);

        // Limits made with the calibration before must not be pulled under: they are sent anew before anything else.
        if (now.CalibrationNumber != before.CalibrationNumber
            && State.Step is AwaitingGuardOpen or AwaitingGuardClosed or AwaitingConfirmation or AnnouncedDelay or MeasuringClamp)
            Advance();
    }

    /// <summary>Nothing that was said to the device holds any more, and it counts its steps from elsewhere.</summary>
    private void OnRestart()
    {
        State = State with { Limits = null, Zero = State.Zero?.Doubted() };
        NoteGoingBack();
        // A place that the plan names is found again after homing; one that was only "here" is lost.
        if (Plan.StartGripSeparationMillimetres is null) State = State with { StartMillimetres = null };
        if (State.Step is Finished or Held) return;
        EndNow(PullEnding.Interrupted, RigText.DeviceRestarted);
    }

    private void OnGuard(bool open)
    {
        switch (State.Step)
        {
            case TakingZero:
                // Whoever opens the guard may clamp a piece: closing it again is no word that none is.
                if (open) AskForOpenGrip();
                break;
            case AwaitingGuardOpen when open: AwaitGuard(); break;
            case AwaitingGuardClosed when !open:
                Turn = Turn with { Loaded = true };
                Announce();
                break;
            case AnnouncedDelay or MeasuringClamp when open && !Rig.HasFeeder: AwaitGuard(); break;
            case AwaitingPerson or SettingLimits:
                break;
            default: if (open) EndNow(PullEnding.Stopped, RigText.GuardOpened); break;
        }
    }

    private void OnFaults(DeviceFaults faults)
    {
        IReadOnlyList<Sentence> words = DeviceWords.Of(faults);
        const DeviceFaults byPerson = DeviceFaults.EmergencyStop | DeviceFaults.GuardOpened;
        const DeviceFaults byFailure = DeviceFaults.KeepAliveLost | DeviceFaults.Converter | DeviceFaults.Driver | DeviceFaults.Watchdog;
        const DeviceFaults byLimit = DeviceFaults.ForceLimit | DeviceFaults.TravelLimit | DeviceFaults.TimeLimit;
        if ((faults & byPerson) != 0)
            EndNow(PullEnding.Stopped, RigText.DeviceStoppedItself(words));
        else if (State.Step is not Running pull || (faults & byLimit) == 0 || (faults & byFailure) != 0)
            OnFailure(words);
        else if (faults.HasFlag(DeviceFaults.ForceLimit))
            Conclude(pull, PullEnding.Overload, RigText.DeviceForceLimit);
        else
            ConcludeWithoutBreak(pull, RigText.DeviceStoppedIn(words));
    }

    private void OnFailure(IReadOnlyList<Sentence> words)
    {
        // What stopped the motion at the end of the pull is known already.
        if (State.Step is Decided { Outcome.Ending: PullEnding.Overload or PullEnding.Unbroken or PullEnding.NoContact }) return;
        if (State.Step is Returning or GoingToStart && Rig.Faults == DeviceFaults.ForceLimit) Hold(RigText.PushesOnWayBack);
        else EndNow(PullEnding.Interrupted, RigText.DeviceStoppedItself(words));
    }
}
