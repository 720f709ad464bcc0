using RigDaq.Protocol.Messages;

namespace RigDaq.Virtual.Tests.Device;

/// <summary>PROTOCOL.md, section 12: events wait for their acknowledgement.</summary>
public class EventTest
{
    [Fact]
    public void The_oldest_event_comes_again_every_100_ms_until_it_is_acknowledged()
    {
        var host = new SteppedHost { Acknowledges = false };
        host.AskHello();
        host.Rig.OpenGuard();
        host.Run(1);
        Assert.InRange(host.Events.Count, 9, 11);
        Assert.All(host.Events, e => Assert.Equal((1, DeviceEventCode.Started), (e.Number, e.Code)));
        Assert.Equal((ushort)1, host.State.PendingEvent);

        host.Acknowledges = true;
        host.Run(0.5);
        Assert.Equal(DeviceEventCode.GuardOpened, host.Events[^1].Code);
        Assert.Equal((ushort)0, host.State.PendingEvent);
        int count = host.Events.Count;
        host.Run(0.5);
        Assert.Equal(count, host.Events.Count);
    }

    [Fact]
    public void An_event_that_found_the_queue_full_is_a_gap_in_the_numbers()
    {
        var host = new SteppedHost { Acknowledges = false };
        host.AskHello();
        for (int i = 0; i < 20; i++)
        {
            host.Rig.OpenGuard();
            host.Rig.CloseGuard();
        }

        host.Acknowledges = true;
        host.Run(2);
        host.Rig.OpenGuard();
        host.Run(0.5);
        ushort[] numbers = [.. host.Events.Select(e => e.Number).Distinct()];
        Assert.Equal(16, numbers[15]);
        Assert.Equal(42, numbers[16]);
    }

    [Fact]
    public void An_acknowledgement_for_another_start_counts_for_nothing()
    {
        var host = new SteppedHost { Acknowledges = false };
        host.AskHello();
        var payload = new byte[16];
        int length = new AcknowledgeEventMessage(host.Hello.BootNumber + 1, 1).Write(payload);
        host.SendPayload(payload.AsSpan(0, length));
        host.Run(0.3);
        Assert.Equal((ushort)1, host.State.PendingEvent);
    }
}
