using RigDaq.Core.Signal;
using RigDaq.Core.Strength;
using RigDaq.Rig.Text;

namespace RigDaq.Rig.Sequencing;

/// <content>From the capture to the stored run.</content>
internal sealed partial class SequenceMoment
{
    private string? RunningId => State.Pull is { Phase: PullPhase.Running } pull ? pull.RunId : null;

    private void AskForCapture()
    {
        Enter(SequenceStep.OpeningCapture, SequenceStage.Ready, RigText.CreatingCapture);
        State = State with { CapturePending = true, Returned = false, HoldAfterReturn = null };
        Do(new OpenCapture(State.Ticket));
        Do(new StartTimer(State.Ticket, SequenceLimits.CaptureMax));
    }

    private void Pull(SequenceEvent happened)
    {
        switch (happened)
        {
            case CaptureOpened e when State.CapturePending:
                BeginPull(e);
                break;
            case CaptureFailed e when State.CapturePending:
                State = State with { CapturePending = false };
                if (State.Step == SequenceStep.OpeningCapture) Hold(RigText.NoPullStarted(e.Words));
                break;
            case CaptureLost e when e.RunId == RunningId:
                EndNow(PullEnding.Interrupted, RigText.SamplesNotKept(e.Words));
                break;
            case PreloadReached e when e.RunId == RunningId && State.Step == SequenceStep.TakingUpSlack:
                PullOn();
                break;
            case PullDecided e when e.RunId == RunningId:
                TakeDecision(e.Decision);
                break;
            case ForceLimitPassed e when e.RunId == RunningId && Moving:
                Conclude(PullEnding.Overload, RigText.ForceLimitReached(e.Newtons));
                break;
            case PullTimeOver e when e.RunId == RunningId && Moving:
                ConcludeWithoutBreak(RigText.TimeLimitReached);
                break;
            case PullRecorded e when e.RunId == State.Pull?.RunId:
                NoteRecorded();
                break;
            case RecordingFailed e when e.RunId == State.Pull?.RunId:
                NoteNotRecorded(e.Words);
                break;
            default:
                break;
        }
    }

    private bool Moving => State.Step is SequenceStep.TakingUpSlack or SequenceStep.Pulling;

    private void BeginPull(CaptureOpened opened)
    {
        State = State with
        {
            CapturePending = false,
            Pull = new OpenPull(opened.RunId, PullPhase.Running, null, ""),
            PullsOnZero = State.PullsOnZero + 1,
            PullsOfSpecimen = State.PullsOfSpecimen + 1,
        };
        if (State.Step != SequenceStep.OpeningCapture || opened.Ticket != State.Ticket)
        {
            // A stop or a fault came while the capture was being created.
            EndNow(PullEnding.Stopped, RigText.StoppedBeforeMotion);
            return;
        }

        string id = State.Current.SpecimenId;
        Enter(
            SequenceStep.TakingUpSlack,
            SequenceStage.TakingUpSlack,
            Rig.TurnedByHand
                ? RigText.TurnNow(id, Plan.Settings.PreloadNewtons)
                : RigText.TakingUpSlack(id));
        Do(new WatchPull(opened.RunId, Rig.TurnedByHand));
        Drive(Plan.Settings.SlackSpeedMillimetresPerSecond);
    }

    private void PullOn()
    {
        Enter(
            SequenceStep.Pulling,
            SequenceStage.Pulling,
            RigText.BeingPulled(State.Current.SpecimenId, Rig.TurnedByHand));
        // The motion goes on where the speeds are equal: a needless command is a needless risk.
        if (Plan.Settings.SpeedMillimetresPerSecond.Equals(Plan.Settings.SlackSpeedMillimetresPerSecond)) return;
        Drive(Plan.Settings.SpeedMillimetresPerSecond);
    }

    private void Drive(double speed)
    {
        if (Rig.TurnedByHand || !MayMove(out int ticket)) return;
        Do(State.StartMillimetres is { } start && Rig.PositionMillimetres is not null
            ? new MoveTo(ticket, start + Plan.Settings.TravelLimitMillimetres, speed)
            : new MoveApart(ticket, speed));
    }

    private void TakeDecision(DetectorState decision)
    {
        PullEnding? ending = decision switch
        {
            DetectorState.Broken => PullEnding.Broken,
            DetectorState.PartlyBroken => PullEnding.PartlyBroken,
            DetectorState.SlippedOut => PullEnding.SlippedOut,
            _ => null,
        };
        if (ending is not { } decided) return;
        if (Moving)
        {
            Conclude(decided, "");
        }
        else if (State.Step is SequenceStep.Stopping or SequenceStep.Settling
            && State.Pull is { Ending: PullEnding.Unbroken or PullEnding.NoContact } pull)
        {
            // The travel ended while the fall was still settling.
            State = State with { Pull = pull with { Ending = decided, EndingReason = "" }, HoldAfterReturn = null };
        }
    }

    private void ConcludeWithoutBreak(string words) => Conclude(
        State.Step == SequenceStep.TakingUpSlack ? PullEnding.NoContact : PullEnding.Unbroken,
        State.Step == SequenceStep.TakingUpSlack ? RigText.NoForceFelt(words) : RigText.StillHeld(words));

    /// <summary>The pull is over by itself: stop, let it settle, then close it.</summary>
    private void Conclude(PullEnding ending, string reason)
    {
        if (State.Pull is not { } pull) return;
        State = State with { Pull = pull with { Ending = ending, EndingReason = reason }, Tries = 0 };
        Enter(SequenceStep.Stopping, SequenceStage.Pulling, RigText.Stopping(Rig.TurnedByHand));
        Stop();
        Do(new StartTimer(State.Ticket, SequenceLimits.StandMax));
    }

    private void LookAtZeroReturn()
    {
        Enter(SequenceStep.Settling, SequenceStage.Pulling, RigText.Settling(Rig.TurnedByHand));
        Do(new MeasureZeroReturn(State.Ticket, Math.Min(Plan.Settings.ZeroSeconds, SequenceLimits.ZeroReturnSecondsMax)));
        Do(new StartTimer(State.Ticket, SequenceLimits.WindowMax));
    }

    private void CloseDecidedPull()
    {
        if (State.Pull is not { Phase: PullPhase.Running, Ending: { } ending } pull) return;
        Close(ending, pull.EndingReason);
        AfterPull(ending, pull.EndingReason);
    }

    /// <summary>The pull ends here and now, whatever it was at; an ending that was decided already stays.</summary>
    private void EndNow(PullEnding ending, string reason)
    {
        if (State.Step is not (SequenceStep.Held or SequenceStep.Finished)) Stop();
        if (State.Pull is { Phase: PullPhase.Running } pull) Close(pull.Ending ?? ending, pull.Ending is null ? reason : pull.EndingReason);
        Hold(reason);
    }

    private void Close(PullEnding ending, string reason)
    {
        if (State.Pull is not { } pull) return;
        // A person has to look at what is in the grips; a feeder that still sees its specimen there can have it pulled again.
        bool stillThere = Rig.HasFeeder && Rig.SpecimenLoaded && !GaveStrength(ending);
        State = State with
        {
            Pull = pull with { Phase = PullPhase.Recording, Ending = ending, EndingReason = reason },
            Returned = false,
            Loaded = stillThere,
            ZeroIsSettled = false,
            ZeroInDoubt = State.ZeroInDoubt || ending == PullEnding.Overload,
            Grips = ending switch
            {
                PullEnding.Broken or PullEnding.PartlyBroken or PullEnding.SlippedOut => GripKnowledge.MayTouch,
                _ => GripKnowledge.MayBeJoined,
            },
        };
        Mark(State.Current with { Ending = ending, RunId = pull.RunId });
        Do(new EndPull(pull.RunId, ending, reason));
    }

    private void AfterPull(PullEnding ending, string reason)
    {
        string id = State.Current.SpecimenId;
        switch (ending)
        {
            case PullEnding.PartlyBroken or PullEnding.Unbroken when Rig.TurnedByHand:
                State = State with { HoldAfterReturn = RigText.TurnBack(id, ending, reason) };
                Return();
                break;
            case PullEnding.PartlyBroken or PullEnding.SlippedOut when Rig.PositionMillimetres is not null && !Rig.TurnedByHand:
                Separate();
                break;
            case PullEnding.Broken when Rig.PositionMillimetres is not null && !Rig.TurnedByHand:
                SeparateForZero();
                break;
            case PullEnding.Broken:
                LookAtZeroApart();
                break;
            case PullEnding.PartlyBroken or PullEnding.SlippedOut:
                Return();
                break;
            case PullEnding.Unbroken:
                // Going back takes the load off it; only a person can take it out.
                State = State with { HoldAfterReturn = Rig.HasFeeder ? RigText.TakeOutThenNext(id, reason) : null };
                Return();
                break;
            case PullEnding.Overload:
                Hold(RigText.Overloaded(id, reason, Rig.TurnedByHand));
                break;
            default:
                Hold(RigText.LookAtGrips(id, reason));
                break;
        }
    }

    /// <summary>What still hangs together would push back when the crosshead returns: it is drawn apart first, as far as the travel allows.</summary>
    private void Separate()
    {
        Enter(SequenceStep.Separating, SequenceStage.Returning, RigText.DrawnApart(State.Current.SpecimenId));
        if (!MayMove(out int ticket)) return;
        Do(new MoveTo(ticket, (State.StartMillimetres ?? 0) + Plan.Settings.TravelLimitMillimetres, Plan.Settings.SpeedMillimetresPerSecond));
        Do(new WatchRelief(ticket, Plan.Settings.PreloadNewtons));
        Do(new StartTimer(ticket, SequenceLimits.ReturnMax));
    }

    /// <summary>A thread may still hang between the halves; and once they are back at the start they may push at each other.</summary>
    private void SeparateForZero()
    {
        Enter(SequenceStep.Separating, SequenceStage.Returning, RigText.HalvesDrawnApart);
        SeparateAShade();
        if (State.Step == SequenceStep.Separating) Do(new StartTimer(State.Ticket, SequenceLimits.ReturnMax));
    }

    private void LookAtZeroApart(int tries = 0)
    {
        State = State with { Grips = GripKnowledge.Apart, Tries = tries };
        LookAtZero(
            SequenceStep.TakingZeroApart,
            SequenceStage.Returning,
            RigText.TakingZeroApart(Rig.TurnedByHand));
    }

    /// <summary>The crosshead goes back, or somebody moved it: halves that were apart may touch.</summary>
    private void NoteGoingBack()
    {
        if (State.Grips == GripKnowledge.Apart) State = State with { Grips = GripKnowledge.MayTouch };
    }

    private void SeparateAShade()
    {
        if (!MayMove(out int ticket)) return;
        double end = (State.StartMillimetres ?? 0) + Plan.Settings.TravelLimitMillimetres;
        double target = Math.Min(end, (Rig.PositionMillimetres ?? end) + SequenceLimits.SeparationMillimetres);
        Do(new MoveTo(ticket, target, Plan.Settings.SpeedMillimetresPerSecond));
    }

    private void Return()
    {
        if (AtStart)
        {
            State = State with { Returned = true };
            Enter(SequenceStep.Returning, SequenceStage.Returning, RigText.RunBeingStored);
            Do(new StartTimer(State.Ticket, SequenceLimits.ReturnMax));
            GoOnIfBackAndStored();
            return;
        }

        Enter(SequenceStep.Returning, SequenceStage.Returning, RigText.GoingBack);
        if (!MayMove(out int ticket)) return;
        NoteGoingBack();
        Do(new MoveTo(ticket, State.StartMillimetres ?? 0, Plan.Settings.ReturnSpeedMillimetresPerSecond));
        Do(new StartTimer(ticket, SequenceLimits.ReturnMax));
    }

    private void NoteRecorded()
    {
        State = State with { Pull = null };
        Mark(State.Current with { State = SpecimenState.Pulled });
        GoOnIfBackAndStored();
    }

    private void NoteNotRecorded(string words)
    {
        if (State.Pull is not { } pull) return;
        State = State with { Pull = pull with { Phase = PullPhase.NotRecorded } };
        string why = RigText.RunNotStored(words);
        if (State.Step == SequenceStep.Finished) return;
        if (State.Step == SequenceStep.Returning && !State.Returned) Stop();
        Hold(why);
    }

    private void GoOnIfBackAndStored()
    {
        if (State.Step != SequenceStep.Returning || !State.Returned || State.Pull is not null) return;
        if (State.HoldAfterReturn is { } words)
        {
            State = State with { HoldAfterReturn = null };
            Hold(words);
        }
        else if (GaveStrength(State.Current.Ending))
        {
            Next();
        }
        else
        {
            Hold(RigText.StoredAs(State.Current.SpecimenId, State.Current.Ending));
        }
    }

    private void Next()
    {
        int next = State.Index + 1;
        while (next < State.Specimens.Count && State.Specimens[next].State != SpecimenState.Waiting) next++;
        State = State with
        {
            Index = next,
            PullsOfSpecimen = 0,
            Loaded = false,
            Fed = false,
            ClampingForceNewtons = null,
            Tries = 0,
            Reliefs = 0,
            Returned = false,
        };
        Advance();
    }
}
