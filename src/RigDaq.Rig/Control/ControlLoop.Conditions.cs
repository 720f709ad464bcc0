using RigDaq.Core.Pulls;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Interlocks;
using RigDaq.Rig.Sequencing;
using RigDaq.Rig.Session;
using RigDaq.Rig.Text;

namespace RigDaq.Rig.Control;

/// <content>What decides about motion, gathered from where it is known.</content>
internal sealed partial class ControlLoop
{
    private readonly HashSet<string> _acknowledged = new(StringComparer.Ordinal);
    private CheckWeightVerdict _checkWeight;
    private bool _handBeyondCalibration;

    /// <summary>A person has read the cautions.</summary>
    public void Acknowledge(string scope)
    {
        _acknowledged.Add(scope);
        NoticeConditions();
        ShowNow();
    }

    /// <summary>A person accepts hand motion beyond the calibration.</summary>
    public void AcceptHandMotionBeyondCalibration()
    {
        _handBeyondCalibration = true;
        ShowNow();
    }

    private InterlockFacts Facts(PullSettings settings, string scope, bool accepted, DeviceLimits? limits)
    {
        HelloMessage? hello = _session?.Hello;
        DeviceState state = _session is { StateKnown: true } session ? session.State : default;
        bool known = hello is not null && _session?.StateKnown == true;
        Capabilities can = hello?.Capabilities ?? Capabilities.None;
        bool inForce = _calibration is { } c && _hello is { } h && c.DeviceId == DeviceIdOf(h) && _time.GetUtcNow() < c.ValidUntil;
        return new InterlockFacts
        {
            LinkUp = _linkStage is LinkStage.Greeting or LinkStage.Up,
            LinkMessage = _linkMessage,
            DeviceKnown = known,
            CanMove = can.HasFlag(Capabilities.Motion),
            Simulated = can.HasFlag(Capabilities.Simulated),
            GuardClosed = !can.HasFlag(Capabilities.Guard) || (state.Inputs.HasFlag(InputStates.GuardClosed) && !_guardHeardOpening),
            EmergencyStopReleased = !can.HasFlag(Capabilities.EmergencyStop) || state.Inputs.HasFlag(InputStates.EmergencyStopReleased),
            ConverterAlive = state.Inputs.HasFlag(InputStates.ConverterAlive) && !_signal.IsStuck(_zeroDeviation),
            FaultWords = state.Faults.HasFlag(DeviceFaults.Watchdog) && _startedBecause.HasFlag(StartCauses.Held)
                ? [.. DeviceWords.Of(state.Faults), RigText.StartedHeld]
                : DeviceWords.Of(state.Faults),
            CalibrationInForce = inForce,
            CalibrationCoversForceLimit = inForce && _calibration!.GreatestReferenceNewtons >= settings.ForceLimitNewtons,
            AcceptedBeyondCalibration = accepted,
            CheckWeight = _checkWeight,
            CautionsAcknowledged = _acknowledged.Contains(scope),
            EmergencyStopTested = EmergencyStopIsTested(scope),
            LimitsConfirmed = limits is not null && _session?.LimitsInForce == limits,
        };
    }

    private InterlockFacts SequenceFacts(SequencePlan plan) =>
        Facts(plan.Settings, plan.SequenceId, plan.AcceptBeyondCalibration,
            _sequenceLimits is { } made && made.For.CalibrationNumber == _calibrationNumber ? made.Limits : null);

    /// <summary>Hand motion is no reason to calibrate: the check weight does not stand against it. And the stop is tested in hand motion.</summary>
    private InterlockFacts HandFacts() =>
        MotionInterlocks.ForHandMotion(Facts(_options.HandMotion, Cautions.HandMotionScope, _handBeyondCalibration, _handLimits));

    private RigConditions Conditions(InterlockFacts facts)
    {
        HelloMessage? hello = _session?.Hello;
        DeviceState state = _session is { StateKnown: true } session ? session.State : default;
        Capabilities can = hello?.Capabilities ?? Capabilities.None;
        return new RigConditions
        {
            Facts = facts,
            BootNumber = hello?.BootNumber ?? 0,
            CalibrationNumber = _calibrationNumber,
            HasFeeder = can.HasFlag(Capabilities.Feeder) && can.HasFlag(Capabilities.Motion),
            HasGuard = can.HasFlag(Capabilities.Guard),
            NeedsHoming = can.HasFlag(Capabilities.Homing) && can.HasFlag(Capabilities.Motion) && !_homed,
            Faults = state.Faults,
            SpecimenLoaded = state.Inputs.HasFlag(InputStates.SpecimenLoaded),
            FeederEmpty = state.Inputs.HasFlag(InputStates.FeederEmpty),
            PositionMillimetres = can.HasFlag(Capabilities.Position) ? PositionMillimetres : null,
        };
    }
}
