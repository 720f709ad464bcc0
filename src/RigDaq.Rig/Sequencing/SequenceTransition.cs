using RigDaq.Core.Pulls;
using RigDaq.Rig.Interlocks;
using RigDaq.Rig.Text;
using RigDaq.Text;
using static RigDaq.Rig.Sequencing.SequenceStep;

namespace RigDaq.Rig.Sequencing;

/// <summary>One transition of the sequencer in the making: the state it comes to, and the commands it gives on the way.</summary>
internal sealed partial class SequenceTransition(SequenceState state)
{
    private readonly List<SequenceCommand> _commands = [];

    public SequenceState State { get; private set; } = state;

    public IReadOnlyList<SequenceCommand> Commands => _commands;

    private RigConditions Rig => State.Rig;

    private SequencePlan Plan => State.Plan;

    private SpecimenTurn Turn
    {
        get => State.Turn;
        set => State = State with { Turn = value };
    }

    /// <summary>Reacts to what has happened; late news of a step that is over comes to nothing.</summary>
    public void React(SequenceEvent happened)
    {
        switch (happened)
        {
            case ConditionsChanged e: OnConditionsChanged(e.Now); break;
            case GuardHeardOpening e when Rig.HasGuard
                && (State.Step is AnnouncedDelay or MeasuringClamp || (e.IsCertain && State.Step is AwaitingGuardOpen)):
                // A pull that is announced is announced anew. Where the guard is waited for to open, a gap in the events is no word that it
                // did.
                OnConditionsChanged(Rig with { Facts = Rig.Facts with { GuardClosed = false } });
                break;
            case DeviceStartedAnew: OnRestart(); break;
            case AnotherDevice: State = State with { Zero = null, Grips = GripKnowledge.MayBeJoined }; break;
            case Begun: Advance(); break;
            case ProgramEnds:
                StopAll(PullEnding.Interrupted, RigText.EndedWithProgram);
                Finish(RigText.EndedWithProgram);
                break;
            case HandMoved when State.Step is Held:
                // A feeder's specimen stays where it is; one put in by hand may have been let go.
                Turn = Turn with { Loaded = Turn.Loaded && Rig.HasFeeder };
                NoteGoingBack();
                break;
            case SequenceRequest e: Apply(e); break;
            case StepAnswer e when e.Ticket == State.Ticket: TakeAnswer(e); break;
            case PullNews e when State.Step is InPull pull && pull.RunId == e.RunId: TakeNews(pull, e); break;
            case MotionEnded e when e.Ticket == State.MotionTicket: OnMotionEnded(); break;
            case MotionFailed e when e.Ticket == State.MotionTicket && State.Step is not (Held or Finished):
                EndNow(PullEnding.Interrupted, RigText.DidNotMove(e.Words));
                break;
            case CaptureOpened e when State.Storage is PullStorage.OpeningCapture: BeginPull(e.RunId); break;
            case CaptureFailed e when State.Storage is PullStorage.OpeningCapture:
                State = State with { Storage = null };
                if (State.Step is OpeningCapture) Hold(RigText.NoPullStarted(e.Words));
                break;
            case PullStored e when e.RunId == State.Storage?.Run:
                State = State with { Storage = null };
                Mark(State.Current with { State = SpecimenState.Pulled });
                GoOnIfBackAndStored();
                break;
            case StoringFailed e when e.RunId == State.Storage?.Run:
                State = State with { Storage = new PullStorage.NotStored(e.RunId) };
                if (State.Step is Returning { IsBack: false }) Stop();
                Hold(RigText.RunNotStored(e.Words));
                break;
        }
    }

    private void TakeAnswer(StepAnswer answer)
    {
        switch (State.Step, answer)
        {
            case (TakingZero or TakingZeroApart, ZeroTaken zero): AcceptZero(zero); break;
            case (MeasuringClamp step, ForceMeasured force): JudgeClamp(step, force.Newtons); break;
            case (Settling step, ZeroReturned): CloseDecided(step); break;
            case (SettingLimits step, LimitsSet):
                State = State with { Limits = step.For };
                Advance();
                break;
            case (SettingLimits, LimitsRefused refused): Hold(refused.Words); break;
            case (RelievingClamp, ForceRelieved): Stop(); break;
            case (Separating, ForceRelieved): SeparateAShade(); break;
            case (_, WindowRestless restless): TryAgain(restless.Words); break;
            case (_, TimerOver): OnTimeOver(); break;
        }
    }

    private void Do(SequenceCommand command) => _commands.Add(command);

    private void Enter(SequenceStep step, Sentence reason)
        => State = State with { Step = step, Reason = reason, Ticket = State.Ticket + 1 };

    /// <summary>The ticket of a motion that is about to be commanded. False where none may be: the sequence is then held.</summary>
    private bool MayMove(out int ticket)
    {
        ticket = State.Ticket;
        IReadOnlyList<Sentence> reasons = MotionInterlocks.ReasonsAgainst(Rig.Facts);
        if (reasons.Count > 0)
        {
            EndNow(PullEnding.Stopped, reasons.Joined());
            return false;
        }

        State = State with { MotionTicket = ticket };
        return true;
    }

    private void Stop()
    {
        State = State with { MotionTicket = State.Ticket };
        Do(new StopMotion(State.Ticket));
    }

    private void Mark(SpecimenProgress progress) =>
        State = State with { Specimens = [.. State.Specimens.Select((s, i) => i == Turn.Index ? progress : s)] };
}
