using RigDaq.Rig.Text;

namespace RigDaq.Rig.Sequencing;

/// <content>From the zero to a specimen in the grips.</content>
internal sealed partial class SequenceMoment
{
    private bool AtStart =>
        Rig.TurnedByHand || Rig.PositionMillimetres is not { } position || State.StartMillimetres is not { } start
        || Math.Abs(position - start) <= SequenceLimits.StartToleranceMillimetres;

    /// <summary>Does what is missing next before the current specimen can be pulled.</summary>
    private void Advance()
    {
        if (State.Index >= State.Specimens.Count)
        {
            Finish(RigText.AllSpecimensDone);
            return;
        }

        IReadOnlyList<string> odd = Sequencer.OddReasons(Rig);
        if (odd.Count > 0)
        {
            Hold(string.Join(" ", odd));
            return;
        }

        if (Rig.NeedsHoming)
        {
            Hold(RigText.HomeThenResume);
            return;
        }

        Mark(State.Current with { State = SpecimenState.Current });
        State = State with { StartMillimetres = State.StartMillimetres ?? Rig.PositionMillimetres };
        if (State.ZeroCounts is null || (!State.ZeroIsSettled && NothingJoins)) AskForZero();
        else if (!Rig.TurnedByHand && (!Rig.Facts.LimitsConfirmed || State.LimitsZeroCounts != State.ZeroCounts)) AskForLimits();
        else if (!AtStart) GoToStart();
        else if (!State.ZeroIsSettled) AskForZero();
        else if (!State.Loaded) AskForSpecimen();
        else if (Rig.HasFeeder) MeasureClamp();
        else Announce();
    }

    private bool NothingJoins => State.Grips is GripKnowledge.Apart or GripKnowledge.FarOneOpen;

    /// <summary>A zero is taken only where nothing joins the grips; where something may, that of before stands or a person is asked.</summary>
    private void AskForZero()
    {
        if (NothingJoins)
        {
            LookAtZero(SequenceStep.TakingZero, SequenceStage.WaitingForSpecimen, RigText.TakingZero);
        }
        else if (State.ZeroCounts is null || State.ZeroInDoubt || (Rig.HasGuard && !Rig.Facts.GuardClosed))
        {
            // Behind an open guard somebody stands anyway; and closing it must not begin a pull before a specimen was asked for.
            AskForOpenGrip();
        }
        else if (State.PullsOnZero < SequenceLimits.PullsOnZeroMax)
        {
            State = State with { ZeroIsSettled = true };
            Advance();
        }
        else
        {
            State = State with { ZeroInDoubt = true };
            // Nobody stands by a feeder: being held is what calls a person.
            if (Rig.HasFeeder) Hold(RigText.ZeroIsDue(State.PullsOnZero));
            else AskForOpenGrip();
        }
    }

    private void AskForOpenGrip()
    {
        Enter(SequenceStep.AwaitingOpenGrip, SequenceStage.WaitingForSpecimen, RigText.OpenFarGrip(Rig.HasGuard, State.ZeroShiftNewtons));
    }

    private void LookAtZero(SequenceStep step, SequenceStage stage, string words)
    {
        Enter(step, stage, words);
        Do(new TakeZero(State.Ticket, Plan.Settings.ZeroSeconds, State.ZeroShiftNewtons is null ? State.ZeroCounts : null));
        Do(new StartTimer(State.Ticket, SequenceLimits.WindowMax));
    }

    private void AcceptZero(ZeroTaken taken)
    {
        if (State.Step is not (SequenceStep.TakingZero or SequenceStep.TakingZeroApart)) return;
        bool apart = State.Step == SequenceStep.TakingZeroApart;
        State = State with { Tries = 0 };
        if (taken.ShiftNewtons is { } shift && Math.Abs(shift) > Plan.Settings.PreloadNewtons)
        {
            State = State with { ZeroIsSettled = false, ZeroInDoubt = true, ZeroShiftNewtons = shift, Grips = GripKnowledge.MayBeJoined };
            string words = RigText.ZeroFarFromBefore(shift);
            if (!apart)
            {
                Hold(words);
                return;
            }

            State = State with { HoldAfterReturn = words };
            Return();
            return;
        }

        State = State with
        {
            ZeroCounts = taken.Counts,
            ZeroDeviationCounts = taken.DeviationCounts,
            ZerosTaken = State.ZerosTaken + 1,
            ZeroIsSettled = true,
            ZeroInDoubt = false,
            ZeroShiftNewtons = null,
            PullsOnZero = 0,
        };
        if (apart) Return();
        else Advance();
    }

    private void AskForLimits()
    {
        Enter(SequenceStep.SettingLimits, SequenceStage.WaitingForSpecimen, RigText.GivingLimits);
        Do(new SetLimits(State.Ticket));
        Do(new StartTimer(State.Ticket, SequenceLimits.LimitsMax));
    }

    private void GoToStart()
    {
        Enter(SequenceStep.GoingToStart, SequenceStage.Returning, RigText.GoingToStart);
        if (!MayMove(out int ticket)) return;
        NoteGoingBack();
        Do(new MoveTo(ticket, State.StartMillimetres ?? 0, Plan.Settings.ReturnSpeedMillimetresPerSecond));
        Do(new StartTimer(ticket, SequenceLimits.ReturnMax));
    }

    private void AskForSpecimen()
    {
        State = State with { ClampingForceNewtons = null, Reliefs = 0 };
        string id = State.Current.SpecimenId;
        if (Rig.HasFeeder && State.Fed)
        {
            AskForFedSpecimen(id);
            return;
        }

        // From here on a specimen may be clamped at any moment, by whoever puts it in.
        State = State with { Grips = GripKnowledge.MayBeJoined };
        if (Rig.HasFeeder)
        {
            Enter(SequenceStep.Feeding, SequenceStage.WaitingForSpecimen, RigText.FeederPutsIn(id));
            if (!MayMove(out int ticket)) return;
            Do(new FeedSpecimen(ticket));
            Do(new StartTimer(ticket, SequenceLimits.FeedMax));
        }
        else if (!Rig.HasGuard)
        {
            Enter(
                SequenceStep.AwaitingConfirmation,
                SequenceStage.WaitingForSpecimen,
                Rig.TurnedByHand
                    ? RigText.PutInBehindShield(id)
                    : RigText.PutInThenConfirm(id));
        }
        else if (Rig.Facts.GuardClosed)
        {
            Enter(SequenceStep.AwaitingGuardOpen, SequenceStage.WaitingForSpecimen, RigText.OpenGuardAndPutIn(id));
        }
        else
        {
            AwaitGuard();
        }
    }

    /// <summary>A feeder brings each specimen once: feeding again would break the next one under this one's label.</summary>
    private void AskForFedSpecimen(string id)
    {
        if (Rig.SpecimenLoaded)
        {
            State = State with { Loaded = true };
            Advance();
        }
        else
        {
            Hold(RigText.FedSpecimenIsGone(id));
        }
    }

    private void AwaitGuard() => Enter(
        SequenceStep.AwaitingGuardClosed,
        SequenceStage.WaitingForSpecimen,
        RigText.PutInThenCloseGuard(State.Current.SpecimenId));

    private void Announce()
    {
        Enter(
            SequenceStep.AnnouncedDelay,
            SequenceStage.Ready,
            RigText.PullAnnounced(State.Current.SpecimenId, Plan.AnnouncedDelay.TotalSeconds, Rig.TurnedByHand));
        Do(new StartTimer(State.Ticket, Plan.AnnouncedDelay));
    }

    private void MeasureClamp()
    {
        State = State with { Tries = 0 };
        LookAtClamp();
    }

    private void LookAtClamp()
    {
        Enter(
            SequenceStep.MeasuringClamp,
            SequenceStage.Ready,
            RigText.LookingAtClamp(Rig.TurnedByHand));
        Do(new MeasureForce(State.Ticket, SequenceLimits.ClampSeconds));
        Do(new StartTimer(State.Ticket, SequenceLimits.WindowMax));
    }

    private void JudgeClamp(double newtons)
    {
        if (State.Step != SequenceStep.MeasuringClamp) return;
        State = State with { ClampingForceNewtons = newtons };
        double allowed = Plan.ClampingForceMaxNewtons ?? Plan.Settings.PreloadNewtons;
        if (Math.Abs(newtons) <= allowed)
        {
            AskForCapture();
            return;
        }

        string id = State.Current.SpecimenId;
        if (Rig.TurnedByHand)
        {
            Hold(RigText.ClampedOrTurned(id, newtons, allowed));
            return;
        }

        if (State.Reliefs >= SequenceLimits.ReliefTriesMax || Rig.PositionMillimetres is not { } position)
        {
            Hold(RigText.ClampNotRelieved(id, newtons, allowed));
            return;
        }

        State = State with { Reliefs = State.Reliefs + 1 };
        Enter(SequenceStep.RelievingClamp, SequenceStage.TakingUpSlack, RigText.RelievingClamp(id, newtons));
        if (!MayMove(out int ticket)) return;
        double target = position - (Math.Sign(newtons) * SequenceLimits.ReliefTravelMillimetres);
        double speed = SequenceLimits.ReliefSpeedMillimetresPerSecond / (1 << (State.Reliefs - 1));
        Do(new MoveTo(ticket, target, Math.Min(speed, Plan.Settings.SlackSpeedMillimetresPerSecond)));
        Do(new WatchRelief(ticket, allowed * SequenceLimits.RelievedShare));
        Do(new StartTimer(ticket, SequenceLimits.ReturnMax));
    }

    private void TryAgain(string words)
    {
        State = State with { Tries = State.Tries + 1 };
        switch (State.Step)
        {
            case SequenceStep.TakingZero when State.Tries < SequenceLimits.ZeroTriesMax:
                AskForZero();
                break;
            case SequenceStep.TakingZeroApart when State.Tries < SequenceLimits.ZeroApartTriesMax:
                LookAtZeroApart(State.Tries);
                break;
            case SequenceStep.TakingZeroApart:
                Return();
                break;
            case SequenceStep.MeasuringClamp when State.Tries < SequenceLimits.ClampTriesMax:
                LookAtClamp();
                break;
            case SequenceStep.Settling when State.Tries < SequenceLimits.ZeroReturnTriesMax:
                LookAtZeroReturn();
                break;
            case SequenceStep.Settling:
                CloseDecidedPull();
                break;
            case SequenceStep.TakingZero or SequenceStep.MeasuringClamp:
                Hold(RigText.ForceNotAtRest(words));
                break;
            default:
                break;
        }
    }
}
