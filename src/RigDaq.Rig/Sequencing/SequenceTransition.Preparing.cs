using RigDaq.Rig.Text;
using RigDaq.Text;
using static RigDaq.Rig.Sequencing.SequenceStep;

namespace RigDaq.Rig.Sequencing;

/// <content>From the zero to a specimen in the grips.</content>
internal sealed partial class SequenceTransition
{
    private bool AtStart =>
        Rig.TurnedByHand || Rig.PositionMillimetres is not { } position || State.StartMillimetres is not { } start
        || Math.Abs(position - start) <= SequenceLimits.StartToleranceMillimetres;

    /// <summary>Does what is missing next before the current specimen can be pulled.</summary>
    private void Advance()
    {
        IReadOnlyList<Sentence> odd = Sequencer.OddReasons(Rig);
        if (odd.Count > 0)
        {
            Hold(odd.Joined());
            return;
        }

        if (Rig.NeedsHoming)
        {
            Hold(RigText.HomeThenResume);
            return;
        }

        Mark(State.Current with { State = SpecimenState.Current });
        State = State with { StartMillimetres = State.StartMillimetres ?? Rig.PositionMillimetres };
        bool isSettled = State.Zero is SequenceZero.Settled;
        if (State.LimitsWanted is not { } limits || (!isSettled && State.NothingJoinsGrips)) AskForZero();
        else if (!Rig.TurnedByHand && (!Rig.Facts.LimitsConfirmed || State.Limits != limits)) AskForLimits(limits);
        else if (!AtStart) GoToStart();
        else if (Turn.HoldOwed is not null) HoldAsOwed();
        else if (!isSettled) AskForZero();
        else if (!Turn.Loaded) AskForSpecimen();
        else if (Rig.HasFeeder) LookAtClamp();
        else Announce();
    }

    /// <summary>A zero is taken only where nothing joins the grips; else that of before stands or a person is asked.</summary>
    private void AskForZero(int tries = 0)
    {
        if (State.NothingJoinsGrips)
        {
            LookAtZero(new TakingZero(tries), RigText.TakingZero);
        }
        else if (State.Zero is not SequenceZero.Standing { Reading: { } zero } || (Rig.HasGuard && !Rig.Facts.GuardClosed))
        {
            // Behind an open guard somebody stands anyway; and closing it must not begin a pull before a specimen was asked for.
            AskForOpenGrip();
        }
        else if (zero.Pulls < SequenceLimits.PullsOnZeroMax)
        {
            State = State with { Zero = new SequenceZero.Settled(zero) };
            Advance();
        }
        else
        {
            State = State with { Zero = new SequenceZero.InDoubt(zero) };
            // Nobody stands by a feeder: being held is what calls a person.
            if (Rig.HasFeeder) Hold(RigText.ZeroIsDue(zero.Pulls));
            else AskForOpenGrip();
        }
    }

    private void AskForOpenGrip() =>
        Enter(new AwaitingOpenGrip(), RigText.OpenFarGrip(Rig.HasGuard, (State.Zero as SequenceZero.Refused)?.ShiftNewtons));

    private void LookAtZero(SequenceStep step, Sentence words)
    {
        Enter(step, words);
        Do(new TakeZero(State.Ticket, Plan.Settings.ZeroSeconds, State.Zero is SequenceZero.Refused ? null : State.Zero?.Reading.Counts));
        Do(new StartTimer(State.Ticket, SequenceLimits.WindowMax));
    }

    private void AcceptZero(ZeroTaken taken)
    {
        bool isApart = State.Step is TakingZeroApart;
        if (State.Zero is { } before && taken.ShiftNewtons is { } shift && Math.Abs(shift) > Plan.Settings.PreloadNewtons)
        {
            State = State with { Zero = new SequenceZero.Refused(before.Reading, shift), Grips = GripKnowledge.MayBeJoined };
            Sentence words = RigText.ZeroFarFromBefore(shift);
            if (isApart) Return(words);
            else Hold(words);
            return;
        }

        State = State with
        {
            Zero = new SequenceZero.Settled(new ZeroReading(taken.Counts, taken.DeviationCounts)),
            ZerosTaken = State.ZerosTaken + 1,
        };
        if (isApart) Return();
        else Advance();
    }

    private void AskForLimits(LimitsBasis basis)
    {
        Enter(new SettingLimits(basis), RigText.GivingLimits);
        Do(new SetLimits(State.Ticket, basis));
        Do(new StartTimer(State.Ticket, SequenceLimits.LimitsMax));
    }

    private void GoToStart()
    {
        Enter(new GoingToStart(), RigText.GoingToStart);
        MoveToStart();
    }

    private void MoveToStart()
    {
        if (!MayMove(out int ticket)) return;
        NoteGoingBack();
        Do(new MoveTo(ticket, State.StartMillimetres ?? 0, Plan.Settings.ReturnSpeedMillimetresPerSecond));
        Do(new StartTimer(ticket, SequenceLimits.ReturnMax));
    }

    private void AskForSpecimen()
    {
        Turn = Turn with { Clamp = null };
        string id = State.Current.SpecimenId;
        if (Rig.HasFeeder && Turn.Fed)
        {
            AskForFedSpecimen(id);
            return;
        }

        // From here on a specimen may be clamped at any moment, by whoever puts it in.
        State = State with { Grips = GripKnowledge.MayBeJoined };
        if (Rig.HasFeeder)
        {
            Enter(new Feeding(), RigText.FeederPutsIn(id));
            if (!MayMove(out int ticket)) return;
            Do(new FeedSpecimen(ticket));
            Do(new StartTimer(ticket, SequenceLimits.FeedMax));
        }
        else if (!Rig.HasGuard)
        {
            Enter(new AwaitingConfirmation(), Rig.TurnedByHand ? RigText.PutInBehindShield(id) : RigText.PutInThenConfirm(id));
        }
        else if (Rig.Facts.GuardClosed)
        {
            Enter(new AwaitingGuardOpen(), RigText.OpenGuardAndPutIn(id));
        }
        else
        {
            AwaitGuard();
        }
    }

    /// <summary>A feeder brings each specimen once: feeding again would break the next one under this one's label.</summary>
    private void AskForFedSpecimen(string id)
    {
        if (!Rig.SpecimenLoaded)
        {
            Hold(RigText.FedSpecimenIsGone(id));
        }
        else if (State.Grips == GripKnowledge.FarOneOpen)
        {
            // Who opened the grip stands there; nothing else would close it. That it is closed is what resuming says.
            Hold(RigText.CloseFarGrip(id, Rig.HasGuard));
            State = State with { Grips = GripKnowledge.MayBeJoined };
        }
        else
        {
            Turn = Turn with { Loaded = true };
            Advance();
        }
    }

    private void AwaitGuard() => Enter(new AwaitingGuardClosed(), RigText.PutInThenCloseGuard(State.Current.SpecimenId));

    private void Announce()
    {
        Enter(new AnnouncedDelay(), RigText.PullAnnounced(State.Current.SpecimenId, Plan.AnnouncedDelay.TotalSeconds, Rig.TurnedByHand));
        Do(new StartTimer(State.Ticket, Plan.AnnouncedDelay));
    }

    private void LookAtClamp(int tries = 0)
    {
        Enter(new MeasuringClamp(tries), RigText.LookingAtClamp(Rig.TurnedByHand));
        Do(new MeasureForce(State.Ticket, SequenceLimits.ClampSeconds));
        Do(new StartTimer(State.Ticket, SequenceLimits.WindowMax));
    }

    private void JudgeClamp(MeasuringClamp step, double newtons)
    {
        int reliefs = Turn.Clamp?.Reliefs ?? 0;
        Turn = Turn with { Clamp = new ClampingForce(newtons, reliefs) };
        string id = State.Current.SpecimenId;
        double allowed = Plan.ClampingForceMaxNewtons ?? Plan.Settings.PreloadNewtons;
        if (Math.Abs(newtons) <= allowed)
            AskForCapture();
        else if (Rig.TurnedByHand)
            Hold(RigText.ClampedOrTurned(id, newtons, allowed));
        else if (reliefs >= SequenceLimits.ReliefTriesMax || Rig.PositionMillimetres is not { } position)
            Hold(RigText.ClampNotRelieved(id, newtons, allowed));
        else
            Relieve(step, new ClampingForce(newtons, reliefs + 1), position, allowed);
    }

    private void Relieve(MeasuringClamp step, ClampingForce clamp, double position, double allowed)
    {
        Turn = Turn with { Clamp = clamp };
        Enter(new RelievingClamp(step.Tries), RigText.RelievingClamp(State.Current.SpecimenId, clamp.Newtons));
        if (!MayMove(out int ticket)) return;
        double target = position - (Math.Sign(clamp.Newtons) * SequenceLimits.ReliefTravelMillimetres);
        double speed = SequenceLimits.ReliefSpeedMillimetresPerSecond / (1 << (clamp.Reliefs - 1));
        Do(new MoveTo(ticket, target, Math.Min(speed, Plan.Settings.SlackSpeedMillimetresPerSecond)));
        Do(new WatchRelief(ticket, allowed * SequenceLimits.RelievedShare));
        Do(new StartTimer(ticket, SequenceLimits.ReturnMax));
    }

    private void TryAgain(Sentence words)
    {
        switch (State.Step)
        {
            case TakingZero { Tries: < SequenceLimits.ZeroTriesMax - 1 } step: AskForZero(step.Tries + 1); break;
            case TakingZeroApart { Tries: < SequenceLimits.ZeroApartTriesMax - 1 } step: LookAtZeroApart(step.Tries + 1); break;
            case TakingZeroApart: Return(); break;
            case MeasuringClamp { Tries: < SequenceLimits.ClampTriesMax - 1 } step: LookAtClamp(step.Tries + 1); break;
            case Settling { Tries: < SequenceLimits.ZeroReturnTriesMax - 1 } step: LookAtZeroReturn(step, step.Tries + 1); break;
            case Settling step: CloseDecided(step); break;
            case TakingZero or MeasuringClamp: Hold(RigText.ForceNotAtRest(words)); break;
        }
    }
}
