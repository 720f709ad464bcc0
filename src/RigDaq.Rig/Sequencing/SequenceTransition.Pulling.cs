using RigDaq.Core.Pulls;
using RigDaq.Rig.Text;
using RigDaq.Text;
using static RigDaq.Rig.Sequencing.SequenceStep;

namespace RigDaq.Rig.Sequencing;

/// <content>From the capture to the stored run.</content>
internal sealed partial class SequenceTransition
{
    /// <summary>As far apart as the crosshead may go.</summary>
    private double EndMillimetres => (State.StartMillimetres ?? 0) + Plan.Settings.TravelLimitMillimetres;

    private void AskForCapture()
    {
        Enter(new OpeningCapture(), RigText.CreatingCapture);
        State = State with { Storage = new PullStorage.OpeningCapture(), Turn = Turn with { HoldOwed = null } };
        Do(new OpenCapture());
        Do(new StartTimer(State.Ticket, SequenceLimits.CaptureMax));
    }

    private void TakeNews(InPull pull, PullNews news)
    {
        switch (pull, news)
        {
            case (_, CaptureLost e): EndNow(PullEnding.Interrupted, RigText.SamplesNotKept(e.Words)); break;
            case (_, PullDecided e): TakeDecision(pull, e.Decision); break;
            case (TakingUpSlack, PreloadReached): PullOn(pull.RunId); break;
            case (Running running, ForceLimitPassed e):
                Conclude(running, PullEnding.Overload, RigText.ForceLimitReached(e.Newtons));
                break;
            case (Running running, PullTimeOver): ConcludeWithoutBreak(running, RigText.TimeLimitReached); break;
        }
    }

    private void BeginPull(string runId)
    {
        State = State with { Storage = null, Zero = State.Zero?.WithPull(), Turn = Turn with { Pulls = Turn.Pulls + 1 } };
        if (State.Step is not OpeningCapture)
        {
            // A stop or a fault came while the capture was being created.
            Close(runId, new PullOutcome(PullEnding.Stopped, RigText.StoppedBeforeMotion));
            Hold(RigText.StoppedBeforeMotion);
            return;
        }

        string id = State.Current.SpecimenId;
        Enter(new TakingUpSlack(runId), Rig.TurnedByHand ? RigText.TurnNow(id, Plan.Settings.PreloadNewtons) : RigText.TakingUpSlack(id));
        Do(new WatchPull(runId, Rig.TurnedByHand));
        Drive(Plan.Settings.SlackSpeedMillimetresPerSecond);
    }

    private void PullOn(string runId)
    {
        Enter(new Pulling(runId), RigText.BeingPulled(State.Current.SpecimenId, Rig.TurnedByHand));
        // The motion goes on where the speeds are equal: a needless command is a needless risk.
        if (Plan.Settings.SpeedMillimetresPerSecond.Equals(Plan.Settings.SlackSpeedMillimetresPerSecond)) return;
        Drive(Plan.Settings.SpeedMillimetresPerSecond);
    }

    private void Drive(double speed)
    {
        if (Rig.TurnedByHand || !MayMove(out int ticket)) return;
        bool knowsWhere = State.StartMillimetres is not null && Rig.PositionMillimetres is not null;
        Do(knowsWhere ? new MoveTo(ticket, EndMillimetres, speed) : new MoveApart(ticket, speed));
    }

    private void TakeDecision(InPull pull, DetectorState decision)
    {
        PullEnding? ending = decision switch
        {
            DetectorState.Broken => PullEnding.Broken,
            DetectorState.PartlyBroken => PullEnding.PartlyBroken,
            DetectorState.SlippedOut => PullEnding.SlippedOut,
            _ => null,
        };
        if (ending is not { } decided) return;
        if (pull is Running running) Conclude(running, decided, Sentence.None);
        // The travel ended while the fall was still settling.
        else if (pull is Decided { Outcome.Ending: PullEnding.Unbroken or PullEnding.NoContact } early)
            State = State with { Step = early with { Outcome = new PullOutcome(decided, Sentence.None) } };
    }

    private void ConcludeWithoutBreak(Running pull, Sentence words)
    {
        if (pull is TakingUpSlack) Conclude(pull, PullEnding.NoContact, RigText.NoForceFelt(words));
        else Conclude(pull, PullEnding.Unbroken, RigText.StillHeld(words));
    }

    /// <summary>The pull is over by itself: stop, let it settle, then close it.</summary>
    private void Conclude(Running pull, PullEnding ending, Sentence reason)
    {
        Enter(new Stopping(pull.RunId, new PullOutcome(ending, reason)), RigText.Stopping(Rig.TurnedByHand));
        Stop();
        Do(new StartTimer(State.Ticket, SequenceLimits.StandMax));
    }

    private void LookAtZeroReturn(Decided pull, int tries = 0)
    {
        Enter(new Settling(pull.RunId, pull.Outcome, tries), RigText.Settling(Rig.TurnedByHand));
        Do(new MeasureZeroReturn(State.Ticket, Math.Min(Plan.Settings.ZeroSeconds, SequenceLimits.ZeroReturnSecondsMax)));
        Do(new StartTimer(State.Ticket, SequenceLimits.WindowMax));
    }

    private void CloseDecided(Decided pull)
    {
        Close(pull.RunId, pull.Outcome);
        AfterPull(pull.Outcome.Ending, pull.Outcome.Reason);
    }

    /// <summary>The pull ends here and now, whatever it was at; an ending that was decided already stays.</summary>
    private void EndNow(PullEnding ending, Sentence reason)
    {
        if (State.Step is not (Held or Finished)) Stop();
        CloseOpen(ending, reason);
        Hold(reason);
    }

    private void CloseOpen(PullEnding ending, Sentence reason)
    {
        if (State.Step is InPull pull) Close(pull.RunId, (pull as Decided)?.Outcome ?? new PullOutcome(ending, reason));
    }

    /// <summary>Closes a pull; the step is then left.</summary>
    private void Close(string runId, PullOutcome outcome)
    {
        bool hasParted = outcome.Ending is PullEnding.Broken or PullEnding.PartlyBroken or PullEnding.SlippedOut;
        State = State with
        {
            Storage = new PullStorage.Storing(runId),
            Zero = State.Zero?.AfterPull(outcome.Ending == PullEnding.Overload),
            Grips = hasParted ? GripKnowledge.MayTouch : GripKnowledge.MayBeJoined,
            // A person has to look at what is in the grips; a feeder that still sees its specimen there can have it pulled again.
            Turn = Turn with { Loaded = Rig.HasFeeder && Rig.SpecimenLoaded && !GaveStrength(outcome.Ending) },
        };
        Mark(State.Current with { Ending = outcome.Ending, RunId = runId });
        Do(new EndPull(runId, outcome.Ending, outcome.Reason));
    }

    private void AfterPull(PullEnding ending, Sentence reason)
    {
        string id = State.Current.SpecimenId;
        bool canSeparate = Rig.PositionMillimetres is not null && !Rig.TurnedByHand;
        switch (ending)
        {
            case PullEnding.PartlyBroken or PullEnding.Unbroken when Rig.TurnedByHand:
                Return(RigText.TurnBack(id, ending.Word(), reason));
                break;
            case PullEnding.PartlyBroken or PullEnding.SlippedOut when canSeparate: Separate(); break;
            case PullEnding.Broken when canSeparate: SeparateForZero(); break;
            case PullEnding.Broken: LookAtZeroApart(); break;
            case PullEnding.PartlyBroken or PullEnding.SlippedOut: Return(); break;
            case PullEnding.Unbroken:
                // Going back takes the load off it; only a person can take it out.
                Return(Rig.HasFeeder ? RigText.TakeOutThenNext(id, reason) : null);
                break;
            case PullEnding.Overload: Hold(RigText.Overloaded(id, reason, Rig.TurnedByHand)); break;
            default: Hold(RigText.LookAtGrips(id, reason)); break;
        }
    }

    /// <summary>What still hangs together would push back when the crosshead returns: it is drawn apart first, as far as may be.</summary>
    private void Separate()
    {
        Enter(new Separating(), RigText.DrawnApart(State.Current.SpecimenId));
        if (!MayMove(out int ticket)) return;
        Do(new MoveTo(ticket, EndMillimetres, Plan.Settings.SpeedMillimetresPerSecond));
        Do(new WatchRelief(ticket, Plan.Settings.PreloadNewtons));
        Do(new StartTimer(ticket, SequenceLimits.ReturnMax));
    }

    /// <summary>A thread may still hang between the halves; and once they are back at the start they may push at each other.</summary>
    private void SeparateForZero()
    {
        Enter(new Separating(), RigText.HalvesDrawnApart);
        SeparateAShade();
        if (State.Step is Separating) Do(new StartTimer(State.Ticket, SequenceLimits.ReturnMax));
    }

    private void LookAtZeroApart(int tries = 0)
    {
        State = State with { Grips = GripKnowledge.Apart };
        LookAtZero(new TakingZeroApart(tries), RigText.TakingZeroApart(Rig.TurnedByHand));
    }

    /// <summary>The crosshead goes back, or somebody moved it: halves that were apart may touch.</summary>
    private void NoteGoingBack()
    {
        if (State.Grips == GripKnowledge.Apart) State = State with { Grips = GripKnowledge.MayTouch };
    }

    private void SeparateAShade()
    {
        if (!MayMove(out int ticket)) return;
        double target = Math.Min(EndMillimetres, (Rig.PositionMillimetres ?? EndMillimetres) + SequenceLimits.SeparationMillimetres);
        Do(new MoveTo(ticket, target, Plan.Settings.SpeedMillimetresPerSecond));
    }

    /// <param name="holdThen">Why to hold once the crosshead is back and the run is stored; null where the sequence goes on.</param>
    private void Return(Sentence? holdThen = null)
    {
        Turn = Turn with { HoldOwed = holdThen };
        bool isBack = AtStart;
        Enter(new Returning(isBack), isBack ? RigText.RunBeingStored : RigText.GoingBack);
        if (!isBack)
        {
            MoveToStart();
            return;
        }

        Do(new StartTimer(State.Ticket, SequenceLimits.ReturnMax));
        GoOnIfBackAndStored();
    }

    private void GoOnIfBackAndStored()
    {
        if (State.Step is not Returning { IsBack: true } || State.Storage is not null) return;
        if (Turn.HoldOwed is not null)
        {
            HoldAsOwed();
        }
        else if (GaveStrength(State.Current.Ending))
        {
            Next();
        }
        else
        {
            Hold(RigText.StoredAs(State.Current.SpecimenId, State.Current.Ending?.Word()));
        }
    }

    private void HoldAsOwed()
    {
        Sentence words = Turn.HoldOwed!;
        Turn = Turn with { HoldOwed = null };
        Hold(words);
    }

    private void Next()
    {
        int next = Turn.Index + 1;
        while (next < State.Specimens.Count && State.Specimens[next].State != SpecimenState.Waiting) next++;
        bool isLast = next == State.Specimens.Count;
        // What was to be told on the way back, and was not for a stop, is told before anything comes into the grips.
        bool isOwed = Turn.HoldOwed is not null && (!isLast || State.Current.State == SpecimenState.Pulled);
        Turn = new SpecimenTurn(isLast ? Turn.Index : next) { HoldOwed = isOwed ? Turn.HoldOwed : null };
        if (!isLast) Advance();
        else if (isOwed) HoldAsOwed();
        else Finish(RigText.AllSpecimensDone);
    }
}
