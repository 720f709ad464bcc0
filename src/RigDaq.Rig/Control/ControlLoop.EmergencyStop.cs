using Microsoft.Extensions.Logging;
using RigDaq.Core.Safety;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Sequencing;
using RigDaq.Rig.Text;

namespace RigDaq.Rig.Control;

/// <content>
/// The emergency stop's test of the day: asked for before a sequence, on a rig whose motor is real. The program sees only the stop's second
/// contact; that the power was gone a person has to say.
/// </content>
internal sealed partial class ControlLoop
{
    private EmergencyStopTest? _stopTest;
    private DateTimeOffset? _stopSeenAt;

    /// <summary>The last test that is kept of the device that is connected.</summary>
    public void SetEmergencyStopTest(EmergencyStopTest test)
    {
        if (_hello is not { } hello || test.DeviceId != DeviceIdOf(hello) || _stopTest?.At >= test.At) return;
        _stopTest = test;
        NoticeConditions();
        ShowNow();
    }

    /// <summary>A person says that the stop was pressed, that the motor's power was gone, and that it is released again.</summary>
    public CommandResult SayEmergencyStopTested()
    {
        if (_hello is not { } hello) return CommandResult.Refused(RigText.DeviceNotKnown);
        bool sees = hello.Capabilities.HasFlag(Capabilities.EmergencyStop);
        if (sees && !IsToday(_stopSeenAt)) return CommandResult.Refused(RigText.EmergencyStopNotSeen);
        _stopTest = new EmergencyStopTest(DeviceIdOf(hello), _time.GetUtcNow(), sees ? _stopSeenAt : null);
        _log.LogInformation("A person says that the emergency stop was tested; the device saw it pressed at {Seen}.", _stopTest.SeenAt);
        NoticeConditions();
        ShowNow();
        return CommandResult.Ok(RigText.EmergencyStopTested);
    }

    private void WatchEmergencyStop(DeviceState state)
    {
        if (_hello?.Capabilities.HasFlag(Capabilities.EmergencyStop) == true
            && !state.Inputs.HasFlag(InputStates.EmergencyStopReleased) && !state.Flags.HasFlag(StateBits.MotorEnabled))
            _stopSeenAt = _time.GetUtcNow();
    }

    private void ForgetEmergencyStopTest() => (_stopTest, _stopSeenAt) = (null, null);

    /// <summary>A sequence that has begun goes on past midnight.</summary>
    private bool EmergencyStopIsTested(string scope) =>
        IsToday(_stopTest?.At) || (_sequence is { Stage: not SequenceStage.Finished } running && running.Plan.SequenceId == scope);

    private bool IsToday(DateTimeOffset? at) =>
        at is { } then && TimeZoneInfo.ConvertTime(then, _time.LocalTimeZone).Date == _time.GetLocalNow().Date;
}
