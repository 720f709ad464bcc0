using Microsoft.Extensions.Logging;
using RigDaq.Core.Safety;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Sequencing;
using RigDaq.Rig.Text;

namespace RigDaq.Rig.Control;

/// <summary>The emergency stop's test of the day: asked for before a sequence, on a rig whose motor is real. The program sees only the
/// stop's second contact; that the power was gone a person has to say.</summary>
internal sealed class EmergencyStopCheck(LoopContext loop, DeviceView device)
{
    private DateTimeOffset? _seenAt;

    /// <summary>The last test of this device; null where none is known.</summary>
    public EmergencyStopTest? Test { get; private set; }

    /// <summary>A person says that the stop was pressed, that the motor's power was gone, and that it is released again.</summary>
    public void Confirm(Action<CommandResult> done)
    {
        if (device.Hello is not { } hello || device.Id is not { } id)
        {
            done(CommandResult.Refused(RigText.DeviceNotKnown));
            return;
        }

        bool sees = hello.Capabilities.HasFlag(Capabilities.EmergencyStop);
        if (sees && !IsToday(_seenAt))
        {
            done(CommandResult.Refused(RigText.EmergencyStopNotSeen));
            return;
        }

        var test = new EmergencyStopTest(id, loop.Time.GetUtcNow(), sees ? _seenAt : null);
        loop.RunOffLoop(Task.Run(() =>
        {
            string? failed = null;
            try
            {
                loop.Services.Safety?.Add(test);
            }
            catch (Exception e)
            {
                loop.Log.LogError(e, "The test of the emergency stop could not be kept.");
                failed = e.Message;
            }

            loop.Post(() =>
            {
                if (failed is null) Take(test);
                done(failed is null ? CommandResult.Ok(RigText.EmergencyStopTested)
                    : CommandResult.Refused(RigText.EmergencyStopTestNotKept(failed)));
            });
        }));
    }

    /// <summary>Looks for the last test of the device that has just said hello, unless one is known.</summary>
    public void LookUp(string deviceId)
    {
        if (Test is not null) return;
        loop.RunOffLoop(Task.Run(() =>
        {
            try
            {
                if (loop.Services.Safety?.EmergencyStopTests(deviceId) is [.., var last]) loop.Post(() => Take(last));
            }
            catch (Exception e)
            {
                // Without the store's answer the test is asked for.
                loop.Log.LogError(e, "The tests of the emergency stop could not be looked up.");
            }
        }));
    }

    /// <summary>Sees the stop pressed.</summary>
    public void Watch(DeviceState state)
    {
        if (device.Hello?.Capabilities.HasFlag(Capabilities.EmergencyStop) == true
            && !state.Inputs.HasFlag(InputStates.EmergencyStopReleased) && !state.Flags.HasFlag(StateBits.MotorEnabled))
            _seenAt = loop.Time.GetUtcNow();
    }

    /// <summary>Another device: nothing is known of its stop.</summary>
    public void Forget() => (Test, _seenAt) = (null, null);

    /// <summary>Whether it was tested for what is asked for. A sequence that has begun goes on past midnight.</summary>
    public bool IsTested(string scope) =>
        IsToday(Test?.At) || (loop.Sequence() is { Stage: not SequenceStage.Finished } running && running.Plan.SequenceId == scope);

    private void Take(EmergencyStopTest test)
    {
        if (test.DeviceId != device.Id || Test?.At >= test.At) return;
        Test = test;
        loop.OnConditionsChanged();
        loop.PublishSoon();
    }

    private bool IsToday(DateTimeOffset? at) =>
        at is { } then && TimeZoneInfo.ConvertTime(then, loop.Time.LocalTimeZone).Date == loop.Time.GetLocalNow().Date;
}
