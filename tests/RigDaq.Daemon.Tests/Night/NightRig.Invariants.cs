using RigDaq.Protocol.Messages;
using RigDaq.Rig.Control;
using RigDaq.Rig.Sequencing;
using RigDaq.Tests.Shared;

namespace RigDaq.Daemon.Tests.Night;

/// <content>
/// What must hold of motion, of what is said, and of what is shown: looked at every 12.5 ms of the night, against what truly
/// is.
/// </content>
internal sealed partial class NightRig
{
    private const double ForceLimitNewtons = 320;
    private const double CompressionLimitNewtons = 50;
    private const double SlackInLimitsNewtons = 2;

    // A sample at 80 Hz, a millimetre a second at most in pulling, some 500 N/mm; and what is under way on the line.
    private const double OvershootNewtons = 40;
    private const double HandSpeed = 5;
    private static readonly TimeSpan AnnouncedDelay = TimeSpan.FromSeconds(3);
    private static readonly TimeSpan KeepAliveMax = TimeSpan.FromMilliseconds(500) + (2 * Portion);

    private bool _guardIsOpen;
    private bool _stopIsPressed;
    private bool _handsAreIn;
    private bool _cautionsRead;
    private TimeSpan _handsOutSince;
    private TimeSpan _keptAliveAt = -TimeSpan.FromHours(1);
    private bool _pullsOnSight;
    private byte[] _lastMotion = [];
    private InvariantBrokenException? _brokenInside;

    /// <summary>Whether a calibration is in force, by the night's own reckoning.</summary>
    public required Func<bool> IsCalibrated { get; init; }

    private void BeginWatching() => _pullsOnSight = false;

    private void HoldThePhysics()
    {
        bool moves = _rig.IsMotorMoving || _rig.Motion != MotionState.Still;
        if (!moves) return;
        Hold(!_guardIsOpen, "something moves with the guard open");
        Hold(!_stopIsPressed, "something moves with the emergency stop pressed");
        Hold(!_handsAreIn, "something moves with hands in");
        Hold(_clock.Passed - _keptAliveAt <= KeepAliveMax, "the device moves without the program's keep-alive");
        Hold(_rig.TrueForceNewtons <= ForceLimitNewtons + OvershootNewtons, $"the force is {_rig.TrueForceNewtons} N and it still moves");
        Hold(_rig.CrossheadMillimetres >= -1e-9 && _rig.CrossheadMillimetres <= _rig.Options.ScrewMillimetres + 1e-9,
            "the crosshead left its screw");
    }

    /// <summary>
    /// Each command as it goes out. It is the control loop that sends, and it survives whatever is thrown at it: so what is
    /// broken is told afterwards.
    /// </summary>
    private void HoldWhatIsSent(byte[] payload)
    {
        try
        {
            LookAtWhatIsSent(payload);
        }
        catch (InvariantBrokenException e)
        {
            _brokenInside ??= e;
        }
    }

    private void LookAtWhatIsSent(byte[] payload)
    {
        if ((MessageType)payload[0] is not (MessageType.KeepAlive or MessageType.AcknowledgeEvent)) Note($"sent {(MessageType)payload[0]}");
        switch ((MessageType)payload[0])
        {
            case MessageType.KeepAlive when !_isForging:
                _keptAliveAt = _clock.Passed;
                break;
            case MessageType.SetLimits when _loop?.Step is SequenceStep.SettingLimits
                && SetLimitsCommand.TryRead(payload, out SetLimitsCommand limits):
                double span = ((double)limits.ForceCountsMax - limits.ForceCountsMin) * WorkshopCalibration.NewtonsPerCount;
                Hold(span <= ForceLimitNewtons + CompressionLimitNewtons + SlackInLimitsNewtons, $"limits {span} N apart were sent");
                break;
            case MessageType.Home:
                Hold(_cautionsRead, "it is told to move though nobody has read the cautions");
                break;
            case MessageType.Move or MessageType.Feed:
                Hold(_cautionsRead, "it is told to move though nobody has read the cautions");
                bool isSequence = _loop?.Step is { } step && step is not (SequenceStep.Held or SequenceStep.Finished);
                // Sent again for want of an answer it is the command of before, under its number.
                bool isRepeated = payload.AsSpan().SequenceEqual(_lastMotion);
                _lastMotion = payload;
                if (isSequence && !isRepeated) Hold(IsCalibrated(), "a sequence moves without a calibration in force");
                if (_loop?.Step is not SequenceStep.TakingUpSlack) break;
                if (!_pullsOnSight && _kind != NightKind.Feeder)
                {
                    Hold(_clock.Passed - _handsOutSince >= AnnouncedDelay,
                        $"a pull begins {(_clock.Passed - _handsOutSince).TotalSeconds} s after hands were out");
                }

                _pullsOnSight = true;
                break;
            default:
                break;
        }

        if (_loop?.Step is not SequenceStep.Running) _pullsOnSight = false;
    }

    private void HoldTheWords()
    {
        if (_seen.Sequence is { Stage: SequenceStage.Held } held) Hold(!string.IsNullOrWhiteSpace(held.Reason),
            "a sequence is held and nobody is told why");
        Hold(_seen.Number == 0 || _seen.Link == LinkStage.Up || !_seen.LinkMessage.IsEmpty,
            "the link is not up and nobody is told why");
    }

    /// <summary>An onlooker who looks now and then: what was dropped is counted, and no more waits than may.</summary>
    private void TakeLive()
    {
        if (_live is not { } live || _loop is null) return;
        Hold(live.Blocks.Count <= LiveQueueMax, "more live blocks wait than may");
        if (_random.Next(8) != 0) return;
        while (live.Blocks.TryRead(out LiveBlock? block))
        {
            Hold(block.Number > _liveLast, "live blocks come out of order");
            _liveLast = block.Number;
            if (_sabotage == Sabotage.DropsUncounted && _random.Next(10) == 0) continue;
            _liveTaken++;
        }

        Hold(_liveTaken + live.BlocksDropped == _liveLast,
            $"{_liveLast} live blocks, {_liveTaken} taken and {live.BlocksDropped} counted as dropped");
    }

    private static void Hold(bool holds, string words)
    {
        if (!holds) throw new InvariantBrokenException(words);
    }
}

/// <summary>What must always hold does not.</summary>
internal sealed class InvariantBrokenException(string words) : Exception(words);
