using RigDaq.Core.Pulls;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Interlocks;
using RigDaq.Rig.Sequencing;
using RigDaq.Rig.Session;
using RigDaq.Rig.Text;

namespace RigDaq.Rig.Control;

/// <summary>What decides about motion, gathered from where it is known, and what people have acknowledged.</summary>
internal sealed class MotionConditions(LoopContext loop, DeviceView device, ActiveCalibration calibration, ZeroAndLimits zero,
    SignalWatch signal, EmergencyStopCheck emergencyStop)
{
    private readonly HashSet<string> _acknowledged = new(StringComparer.Ordinal);
    private bool _handBeyondCalibration;

    /// <summary>A person has read the cautions.</summary>
    public void Acknowledge(string scope)
    {
        _acknowledged.Add(scope);
        loop.OnConditionsChanged();
        loop.PublishSoon();
    }

    /// <summary>A person accepts hand motion beyond the calibration.</summary>
    public void AcceptHandMotionBeyondCalibration()
    {
        _handBeyondCalibration = true;
        loop.PublishSoon();
    }

    /// <summary>The device is gone or another start: what was accepted for hand motion is to be accepted anew.</summary>
    public void ForgetHandMotion()
    {
        _handBeyondCalibration = false;
        _acknowledged.Remove(Cautions.HandMotionScope);
    }

    /// <summary>The facts for a pull under some settings, whatever was accepted for it.</summary>
    public InterlockFacts OfPull(PullSettings settings) => Facts(settings, "", accepted: false, null);

    public InterlockFacts OfSequence(SequencePlan plan) =>
        Facts(plan.Settings, plan.SequenceId, plan.AcceptBeyondCalibration, zero.OfSequence);

    /// <summary>Hand motion is no reason to calibrate: the check weight does not stand against it. And the stop is tested in hand
    /// motion.</summary>
    public InterlockFacts OfHand() =>
        MotionInterlocks.ForHandMotion(Facts(loop.Options.HandMotion, Cautions.HandMotionScope, _handBeyondCalibration, zero.OfHand));

    /// <summary>What the sequencer knows of the rig, with the facts of its plan.</summary>
    public RigConditions OfRig(InterlockFacts facts)
    {
        HelloMessage? hello = device.Session?.Hello;
        DeviceState state = device.Link.State;
        Capabilities can = hello?.Capabilities ?? Capabilities.None;
        return new RigConditions
        {
            Facts = facts,
            BootNumber = hello?.BootNumber ?? 0,
            CalibrationNumber = calibration.Number,
            HasFeeder = can.HasFlag(Capabilities.Feeder) && can.HasFlag(Capabilities.Motion),
            HasGuard = can.HasFlag(Capabilities.Guard),
            NeedsHoming = can.HasFlag(Capabilities.Homing) && can.HasFlag(Capabilities.Motion) && !device.IsHomed,
            Faults = state.Faults,
            SpecimenLoaded = state.Inputs.HasFlag(InputStates.SpecimenLoaded),
            FeederEmpty = state.Inputs.HasFlag(InputStates.FeederEmpty),
            PositionMillimetres = can.HasFlag(Capabilities.Position) ? device.PositionMillimetres : null,
        };
    }

    private InterlockFacts Facts(PullSettings settings, string scope, bool accepted, DeviceLimits? limits)
    {
        HelloMessage? hello = device.Session?.Hello;
        DeviceState state = device.Link.State;
        Capabilities can = hello?.Capabilities ?? Capabilities.None;
        bool inForce = calibration.Record is { } c && c.DeviceId == device.Id && loop.Time.GetUtcNow() < c.ValidUntil;
        return new InterlockFacts
        {
            LinkUp = device.Link.Stage is LinkStage.Greeting or LinkStage.Up,
            LinkMessage = device.Link.Message,
            DeviceKnown = hello is not null && device.Link.IsStateKnown,
            CanMove = can.HasFlag(Capabilities.Motion),
            Simulated = can.HasFlag(Capabilities.Simulated),
            GuardClosed = !can.HasFlag(Capabilities.Guard) || (state.Inputs.HasFlag(InputStates.GuardClosed) && !device.GuardHeardOpening),
            EmergencyStopReleased = !can.HasFlag(Capabilities.EmergencyStop) || state.Inputs.HasFlag(InputStates.EmergencyStopReleased),
            ConverterAlive = state.Inputs.HasFlag(InputStates.ConverterAlive) && !signal.IsStuck(zero.DeviationCounts),
            FaultWords = state.Faults.HasFlag(DeviceFaults.Watchdog) && device.StartedBecause.HasFlag(StartCauses.Held)
                ? [.. DeviceWords.Of(state.Faults), RigText.StartedHeld] : DeviceWords.Of(state.Faults),
            CalibrationInForce = inForce,
            CalibrationCoversForceLimit = inForce && calibration.Record!.GreatestReferenceNewtons >= settings.ForceLimitNewtons,
            AcceptedBeyondCalibration = accepted,
            CheckWeight = calibration.CheckWeight,
            CautionsAcknowledged = _acknowledged.Contains(scope),
            EmergencyStopTested = emergencyStop.IsTested(scope),
            LimitsConfirmed = limits is not null && device.Session?.LimitsInForce == limits,
        };
    }
}
