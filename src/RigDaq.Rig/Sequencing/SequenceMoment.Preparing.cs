using System.Globalization;
using RigDaq.Rig.Control;

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
            Finish("All specimens are done.");
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
            Hold("The crosshead's position is not known: home, then resume.");
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
            LookAtZero(SequenceStep.TakingZero, SequenceStage.WaitingForSpecimen, "The zero is being taken with the far grip open: do not touch the rig.");
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
            if (Rig.HasFeeder) Hold($"The zero has served {State.PullsOnZero} pulls and another one is due: resume, and open the far grip when you are asked to.");
            else AskForOpenGrip();
        }
    }

    private void AskForOpenGrip()
    {
        string guard = Rig.HasGuard ? " and close the guard" : "";
        string before = State.ZeroShiftNewtons is { } shift
            ? string.Create(CultureInfo.InvariantCulture, $" The force at rest lay {shift:0.0##} N from the zero before; the next one is taken as it is.")
            : "";
        Enter(
            SequenceStep.AwaitingOpenGrip,
            SequenceStage.WaitingForSpecimen,
            $"A zero is to be taken, and a piece may join the grips. Open the far grip or take the piece out, take hands out{guard}, then confirm. "
            + "If the piece is under load, stop the sequence and move the crosshead by hand until it hangs free before you open a grip." + before);
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
            string words = string.Create(
                CultureInfo.InvariantCulture,
                $"The force at rest lies {shift:0.0##} N from the zero before: is a specimen still in the grips? Take it out; resuming asks for the far grip to be open, then takes a new zero as it is.");
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
        Enter(SequenceStep.SettingLimits, SequenceStage.WaitingForSpecimen, "The device is being given its limits.");
        Do(new SetLimits(State.Ticket));
        Do(new StartTimer(State.Ticket, SequenceLimits.LimitsMax));
    }

    private void GoToStart()
    {
        Enter(SequenceStep.GoingToStart, SequenceStage.Returning, "The crosshead goes to where specimens are put in: keep clear.");
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
            Enter(SequenceStep.Feeding, SequenceStage.WaitingForSpecimen, $"The feeder puts in specimen {id}.");
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
                    ? $"Put in specimen {id} without loading it and stand behind the shield, then confirm the pull. Turn the handle only when you are told to."
                    : $"Put in specimen {id}, take hands out and stand clear, then confirm the pull.");
        }
        else if (Rig.Facts.GuardClosed)
        {
            Enter(SequenceStep.AwaitingGuardOpen, SequenceStage.WaitingForSpecimen, $"The zero is taken. Open the guard and put in specimen {id}.");
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
            Hold($"Specimen {id} was fed and is no longer in the grips: put it back and resume, or skip it.");
        }
    }

    private void AwaitGuard() => Enter(
        SequenceStep.AwaitingGuardClosed,
        SequenceStage.WaitingForSpecimen,
        $"Put in specimen {State.Current.SpecimenId}, take hands out and close the guard. The pull is then announced and starts by itself.");

    private void Announce()
    {
        string seconds = Plan.AnnouncedDelay.TotalSeconds.ToString("0.#", CultureInfo.InvariantCulture);
        Enter(
            SequenceStep.AnnouncedDelay,
            SequenceStage.Ready,
            Rig.TurnedByHand
                ? $"Specimen {State.Current.SpecimenId} is pulled in {seconds} s: stand behind the shield and do not turn the handle yet. The stop calls it off."
                : $"Specimen {State.Current.SpecimenId} is pulled in {seconds} s: keep clear. Opening the guard or the stop calls it off.");
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
            "The force that clamping put on the specimen is looked at" + (Rig.TurnedByHand ? ": do not turn the handle yet." : "."));
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

        string words = string.Create(CultureInfo.InvariantCulture, $"Clamping put {newtons:0.0##} N on specimen {State.Current.SpecimenId}");
        if (Rig.TurnedByHand)
        {
            Hold($"{words}, more than the {allowed.ToString("0.0##", CultureInfo.InvariantCulture)} N allowed, or the handle was turned too early: turn it back until the specimen hangs free, then resume.");
            return;
        }

        if (State.Reliefs >= SequenceLimits.ReliefTriesMax || Rig.PositionMillimetres is not { } position)
        {
            Hold($"{words}, more than the {allowed.ToString("0.0##", CultureInfo.InvariantCulture)} N allowed, and it could not be relieved: loosen a grip and clamp it again.");
            return;
        }

        State = State with { Reliefs = State.Reliefs + 1 };
        Enter(SequenceStep.RelievingClamp, SequenceStage.TakingUpSlack, $"{words}: it is being relieved.");
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
                Hold($"The force does not come to rest: {words}. Look for vibration, a swinging part or a loose cable; then resume.");
                break;
            default:
                break;
        }
    }
}
