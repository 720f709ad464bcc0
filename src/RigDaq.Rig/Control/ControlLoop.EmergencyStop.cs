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

    /// <summary>A person says that the stop was pressed, that the motor's power was gone, and that it is released again.</summary>
    public void SayEmergencyStopTested(Action<CommandResult> done)
    {
        if (_hello is not { } hello)
        {
            done(CommandResult.Refused(RigText.DeviceNotKnown));
            return;
        }

        bool sees = hello.Capabilities.HasFlag(Capabilities.EmergencyStop);
        if (sees && !IsToday(_stopSeenAt))
        {
            done(CommandResult.Refused(RigText.EmergencyStopNotSeen));
            return;
        }

        var test = new EmergencyStopTest(DeviceIdOf(hello), _time.GetUtcNow(), sees ? _stopSeenAt : null);
        Elsewhere(Task.Run(() =>
        {
            string? failed = null;
            try
            {
                _services.Safety?.Add(test);
            }
            catch (Exception e)
            {
                _log.LogError(e, "The test of the emergency stop could not be kept.");
                failed = e.Message;
            }

            _inbox.Post(() =>
            {
                if (failed is null) TakeEmergencyStopTest(test);
                done(failed is null ? CommandResult.Ok(RigText.EmergencyStopTested) : CommandResult.Refused(RigText.EmergencyStopTestNotKept(failed)));
            });
        }));
    }

    private void LookForEmergencyStopTest(string deviceId) => Elsewhere(Task.Run(() =>
    {
        try
        {
            if (_services.Safety?.EmergencyStopTests(deviceId) is [.., var last]) _inbox.Post(() => TakeEmergencyStopTest(last));
        }
        catch (Exception e)
        {
            // Without the store's answer the test is asked for.
            _log.LogError(e, "The tests of the emergency stop could not be looked up.");
        }
    }));

    private void TakeEmergencyStopTest(EmergencyStopTest test)
    {
        if (_hello is not { } hello || test.DeviceId != DeviceIdOf(hello) || _stopTest?.At >= test.At) return;
        _stopTest = test;
        NoticeConditions();
        ShowNow();
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
