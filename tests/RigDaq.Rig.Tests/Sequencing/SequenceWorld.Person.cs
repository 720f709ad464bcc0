using RigDaq.Protocol.Messages;
using RigDaq.Rig.Interlocks;
using RigDaq.Rig.Sequencing;

namespace RigDaq.Rig.Tests.Sequencing;

/// <content>Who stands in front of the rig.</content>
internal sealed partial class SequenceWorld
{
    /// <summary>A person who reads what is shown and does it.</summary>
    private void ActAsPerson()
    {
        InterlockFacts facts = _rig.Facts;
        switch (_state.Step)
        {
            case SequenceStep.Held when !_mayResume && Sequencer.OddReasons(_rig).Count == 0 && facts.GuardClosed && !_rig.FeederEmpty:
                // Nothing is to be seen to, and nothing is told either.
                _mayResume = true;
                break;
            case SequenceStep.Held when !_mayResume:
                Look(_rig with
                {
                    Faults = DeviceFaults.None,
                    FeederEmpty = false,
                    Facts = facts with
                    {
                        LinkUp = true,
                        DeviceKnown = true,
                        GuardClosed = true,
                        EmergencyStopReleased = true,
                        ConverterAlive = true,
                        FaultWords = [],
                        CheckWeight = CheckWeightVerdict.Inside,
                    },
                });
                _mayResume = true;
                break;
            case SequenceStep.Held:
                _mayResume = false;
                if (_random.Next(5) == 0)
                {
                    _grips.GoBack();
                    Feed(new HandMoved());
                }

                Feed(_random.Next(10) switch { 0 => new SkipAsked(), 1 => new RetryAsked(), 2 => new HandMoved(), _ => new ResumeAsked() });
                break;
            case SequenceStep.AwaitingOpenGrip:
                OpenTheFarGrip();
                break;
            case SequenceStep.AwaitingGuardOpen:
                Look(_rig with { Facts = facts with { GuardClosed = false } });
                break;
            case SequenceStep.AwaitingGuardClosed when !facts.GuardClosed:
                _personSeesToIt = true;
                _grips.Clamp();
                Look(_rig with { Facts = facts with { GuardClosed = true } });
                _personSeesToIt = false;
                break;
            case SequenceStep.AwaitingConfirmation when !_grips.AreJoined:
                _grips.Clamp();
                break;
            case SequenceStep.AwaitingConfirmation:
                _confirmed = true;
                Feed(new PullConfirmed());
                break;
            default:
                break;
        }
    }

    /// <summary>Done before it is said; here a person is taken at their word, which is all a sequence has.</summary>
    private void OpenTheFarGrip()
    {
        _personSeesToIt = true;
        if (_rig.HasGuard) Look(_rig with { Facts = _rig.Facts with { GuardClosed = false } });
        _grips.Empty();
        if (_rig.HasGuard) Look(_rig with { Facts = _rig.Facts with { GuardClosed = true } });
        _personSeesToIt = false;
        Feed(new OpenGripConfirmed());
    }
}
