using RigDaq.Core.Strength;
using RigDaq.Rig.Interlocks;

namespace RigDaq.Rig.Sequencing;

/// <summary>One step of the sequencer in the making: the state it comes to, and the commands it gives on the way.</summary>
internal sealed partial class SequenceMoment(SequenceState state)
{
    private readonly List<SequenceCommand> _commands = [];

    public SequenceState State { get; private set; } = state;

    public IReadOnlyList<SequenceCommand> Commands => _commands;

    private RigConditions Rig => State.Rig;

    private SequencePlan Plan => State.Plan;

    /// <summary>Reacts to what has happened.</summary>
    public void Take(SequenceEvent happened)
    {
        switch (happened)
        {
            case ConditionsChanged e:
                Notice(e.Now);
                break;
            case DeviceStartedAnew:
                NoticeRestart();
                break;
            case AnotherDevice:
                State = State with { ZeroCounts = null, ZeroIsSettled = false, Grips = GripKnowledge.MayBeJoined };
                break;
            case CalibrationChanged:
                NoticeCalibration();
                break;
            case Begun:
                Advance();
                break;
            case StopAsked or FinishAsked or ProgramEnds or ResumeAsked or SkipAsked or RetryAsked or PullConfirmed or OpenGripConfirmed or ZeroAsked or HandMoved:
                Obey(happened);
                break;
            case CaptureOpened or CaptureFailed or CaptureLost or PreloadReached or PullDecided or ForceLimitPassed or PullTimeOver
                or PullRecorded or RecordingFailed:
                Pull(happened);
                break;
            case ZeroTaken e when e.Ticket == State.Ticket:
                AcceptZero(e);
                break;
            case ForceMeasured e when e.Ticket == State.Ticket:
                JudgeClamp(e.Newtons);
                break;
            case ZeroReturned e when e.Ticket == State.Ticket && State.Step == SequenceStep.Settling:
                CloseDecidedPull();
                break;
            case WindowRestless e when e.Ticket == State.Ticket:
                TryAgain(e.Words);
                break;
            case LimitsSet e when e.Ticket == State.Ticket && State.Step == SequenceStep.SettingLimits:
                State = State with { LimitsZeroCounts = State.ZeroCounts };
                Advance();
                break;
            case LimitsRefused e when e.Ticket == State.Ticket && State.Step == SequenceStep.SettingLimits:
                Hold(e.Words);
                break;
            case ForceRelieved e when e.Ticket == State.Ticket && State.Step == SequenceStep.RelievingClamp:
                Stop();
                break;
            case ForceRelieved e when e.Ticket == State.Ticket && State.Step == SequenceStep.Separating:
                SeparateAShade();
                break;
            case MotionEnded e when e.Ticket == State.MotionTicket:
                MotionIsOver();
                break;
            case MotionFailed e when e.Ticket == State.MotionTicket:
                MotionWasRefused(e.Words);
                break;
            case TimerOver e when e.Ticket == State.Ticket:
                TimeIsOver();
                break;
            default:
                // Late news of a step that is over.
                break;
        }
    }

    private void Do(SequenceCommand command) => _commands.Add(command);

    private void Enter(SequenceStep step, SequenceStage stage, string reason) => State = State with
    {
        Step = step,
        Stage = stage,
        Reason = reason,
        Ticket = State.Ticket + 1,
    };

    /// <summary>The number of a motion that is about to be commanded, or false where it must not be: an open pull is then ended, and the sequence held.</summary>
    private bool MayMove(out int ticket)
    {
        ticket = State.Ticket;
        IReadOnlyList<string> reasons = MotionInterlocks.ReasonsAgainst(Rig.Facts);
        if (reasons.Count > 0)
        {
            EndNow(PullEnding.Stopped, string.Join(" ", reasons));
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
        State = State with { Specimens = [.. State.Specimens.Select((s, i) => i == State.Index ? progress : s)] };
}
