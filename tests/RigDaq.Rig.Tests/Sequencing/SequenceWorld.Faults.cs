using RigDaq.Protocol.Messages;
using RigDaq.Rig.Interlocks;
using RigDaq.Rig.Sequencing;
using RigDaq.Text;

namespace RigDaq.Rig.Tests.Sequencing;

/// <content>What goes wrong, at any step.</content>
internal sealed partial class SequenceWorld
{
    private void Disturb()
    {
        FaultsInjected++;
        InterlockFacts facts = _rig.Facts;
        switch (_random.Next(17))
        {
            case 0:
                Look(_rig with
                {
                    Facts = facts with
                    {
                        LinkUp = false,
                        DeviceKnown = false,
                        LimitsConfirmed = false,
                        LinkMessage = Sentence.Verbatim("gone")
                    }
                });
                break;
            case 1:
                Look(_rig with { BootNumber = _rig.BootNumber + 1, Facts = facts with { LimitsConfirmed = false } });
                break;
            case 2 when _rig.HasGuard:
                Look(_rig with
                {
                    Facts = facts with { GuardClosed = !facts.GuardClosed },
                    Faults = _moving ? DeviceFaults.GuardOpened
                    : _rig.Faults
                });
                break;
            case 3:
                Look(_rig with
                {
                    Facts = facts with { EmergencyStopReleased = false, FaultWords = [Sentence.Verbatim("emergency")] },
                    Faults = DeviceFaults.EmergencyStop
                });
                break;
            case 4:
                Look(_rig with { Facts = facts with { ConverterAlive = false } });
                break;
            case 5 or 6:
                var fault = (DeviceFaults)(1 << _random.Next(9));
                Look(_rig with { Faults = fault, Facts = facts with { FaultWords = [Sentence.Verbatim("a fault")] } });
                break;
            case 7:
                Feed(new StopAsked());
                break;
            case 8 when _coming.Count > 0:
                // An answer never comes: from the device, that is. The program's own rooms always answer, if with a failure.
                int lost = _random.Next(_coming.Count);
                if (_coming[lost].Event is not (CaptureOpened or CaptureFailed or PullStored or StoringFailed or TimerOver)) _coming
                    .RemoveAt(lost);
                break;
            case 9 when _coming.Count > 0:
                // An answer comes twice.
                SequenceEvent twice = _coming[_random.Next(_coming.Count)].Event;
                if (twice is not (CaptureOpened or MotionEnded or TimerOver)) Later(twice);
                break;
            case 10:
                Feed(new ZeroAsked());
                break;
            case 11:
                Feed(new SkipAsked());
                break;
            case 14 when _kind == WorldKind.TurnedByHand
                && _state.Step is not (SequenceStep.Stopping or SequenceStep.Settling or SequenceStep.TakingZeroApart):
                // Nobody was told to leave the handle.
                _grips.GoBack();
                break;
            case 15 when _state.Step is SequenceStep.Held:
                // Whoever is there meddles with the grips: behind an open guard, or where there is none.
                if (_rig.HasGuard) Look(_rig with { Facts = facts with { GuardClosed = false } });
                else _grips.Meddle();
                break;
            case 16 when Sequencer.TakesCalibration(_state.Step):
                // A person accepts a calibration: what the device holds was made with the one before.
                Look(_rig with { CalibrationNumber = _rig.CalibrationNumber + 1, Facts = facts with { LimitsConfirmed = false } });
                break;
            case 12 when _pullId is not null:
                Feed(new CaptureLost(_pullId, Sentence.Verbatim("disk slow")));
                break;
            default:
                Look(_rig with { Facts = facts with { CheckWeight = (CheckWeightVerdict)_random.Next(3) } });
                break;
        }
    }
}
