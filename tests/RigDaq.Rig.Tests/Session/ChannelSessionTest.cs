using RigDaq.Core.Signal;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Session;

namespace RigDaq.Rig.Tests.Session;

// The rules are those of firmware-protocol/PROTOCOL.md, section 20.
public sealed class ChannelSessionTest
{
    [Fact]
    public void A_description_that_was_lost_is_asked_for_anew_and_given_up_in_the_end()
    {
        ScriptedDevice device = Greeted();
        var got = new List<ChannelHead?>();
        device.Session.Channel(1, on: true, got.Add);
        Assert.Equal([1, 1], device.Sent[^1][3..5]);
        device.Answer(device.LastNumber(MessageType.Channel), MessageType.Channel);
        Assert.Equal(2, device.CountSent(MessageType.Channel));
        Assert.Empty(got);
        device.Describe();
        device.Answer(device.LastNumber(MessageType.Channel), MessageType.Channel);
        Assert.Equal("mm", Assert.Single(got)!.Unit);
        device.Session.Channel(1, on: true, got.Add);
        for (int i = 0; i < DeviceSession.DescriptionsMax; i++) device.Answer(device.LastNumber(MessageType.Channel), MessageType.Channel);
        Assert.Equal(2 + DeviceSession.DescriptionsMax, device.CountSent(MessageType.Channel));
        Assert.Null(got[^1]);
    }

    [Fact]
    public void A_description_that_cannot_be_used_is_none()
    {
        ScriptedDevice device = Greeted();
        device.Describe(d => d with { Denominator = 0 });
        device.Describe(d => d with { Numerator = 0 });
        device.Describe(d => d with { Divider = 0 });
        device.Describe(d => d with { RawMin = 5, RawMax = 5 });
        device.Describe(d => d with { Channel = 8 });
        device.Describe(d => d with { BootNumber = 1 });
        Assert.Empty(device.Channels);
        device.SayBlock(10, 1000, [1, 2]);
        device.SayValues(10, [100]);
        Assert.Empty(device.Values);
    }

    [Fact]
    public void Values_are_in_their_unit_and_none_where_there_is_none()
    {
        ScriptedDevice device = Greeted();
        device.Describe();
        ChannelHead head = Assert.Single(device.Channels);
        // (raw - 100) / 10,000 mm.
        Assert.Equal(0.01, head.Value(200)!.Value, 1e-15);
        Assert.Equal(-0.01, head.Value(0)!.Value, 1e-15);
        Assert.Null(head.Value(1001));
        Assert.Null(head.Value(ChannelHead.NoValue));
    }

    [Fact]
    public void Numbers_go_with_those_of_the_samples_over_the_wrap_also_where_a_block_comes_sooner_or_later()
    {
        ScriptedDevice device = Greeted();
        device.Describe();
        // Before any sample nobody knows where the numbers stand.
        device.SayValues(uint.MaxValue - 3, [1]);
        Assert.Empty(device.Values);
        device.SayBlock(uint.MaxValue - 1, 1000, [1, 2, 3, 4]);
        Assert.Equal(uint.MaxValue - 1L, device.Blocks[0].Samples[0].Number);
        device.SayValues(uint.MaxValue - 1, [7, 8, 9]);
        Assert.Equal([uint.MaxValue - 1L, uint.MaxValue + 1L, uint.MaxValue + 3L], device.Values[0].Values.Select(v => v.Number));
        device.SayValues(40, [5]);
        Assert.Equal(uint.MaxValue + 41L, device.Values[1].Values[0].Number);
        device.SayValues(40, [5], boot: 3);
        device.SayValues(40, [5], channel: 2);
        device.SayValues(40, [5], channel: 200);
        Assert.Equal(2, device.Values.Count);
    }

    private static ScriptedDevice Greeted()
    {
        var device = new ScriptedDevice();
        device.SayHello();
        device.Answer(device.LastNumber(MessageType.AskHello), MessageType.AskHello);
        return device;
    }
}
