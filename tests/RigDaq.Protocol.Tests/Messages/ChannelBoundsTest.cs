using RigDaq.Protocol.Frames;
using RigDaq.Protocol.Messages;

namespace RigDaq.Protocol.Tests.Messages;

/// <summary>
/// What a device may say of its channels, at each bound and one beyond it (PROTOCOL.md, 20). The bytes themselves are held by
/// the vectors.
/// </summary>
public sealed class ChannelBoundsTest
{
    private readonly byte[] _payload = new byte[FrameLimits.PayloadBytesMax];

    [Theory]
    [InlineData(0, HelloMessage.ChannelsMax)]
    [InlineData(1, HelloMessage.ChannelsMax)]
    [InlineData(-1, HelloMessage.ChannelsMax - 1)]
    public void More_than_ChannelsMax_channels_are_not_believed(int beyond, int believed)
    {
        var hello = new HelloMessage { VersionMajor = 1, Name = "", Channels = (byte)(HelloMessage.ChannelsMax + beyond) };
        int length = hello.Write(_payload);
        Assert.True(HelloMessage.TryRead(_payload.AsSpan(0, length), out HelloMessage read));
        Assert.Equal(believed, read.Channels);
    }

    [Fact]
    public void The_last_of_ChannelsMax_channels_can_be_used_and_the_next_cannot()
    {
        Assert.True(Described("", "", HelloMessage.ChannelsMax - 1).IsUsable);
        Assert.False(Described("", "", HelloMessage.ChannelsMax).IsUsable);
    }

    [Fact]
    public void A_block_of_CountMax_values_comes_back_and_one_more_is_neither_written_nor_read()
    {
        int[] values = [.. Enumerable.Range(0, ChannelSamplesMessage.CountMax)];
        int length = new ChannelSamplesMessage(1, 0, 0, ChannelSamplesMessage.CountMax).Write(_payload, values);
        var back = new int[ChannelSamplesMessage.CountMax];
        Assert.True(ChannelSamplesMessage.TryRead(_payload.AsSpan(0, length), out _, back));
        Assert.Equal(values, back);
        var more = new ChannelSamplesMessage(1, 0, 0, ChannelSamplesMessage.CountMax + 1);
        Assert.Throws<ArgumentException>(() => more.Write(_payload, [.. values, 0]));
        // A device that says so all the same, with the bytes there: no frame is that long, and the reader does not rely on that.
        byte[] longer = [.. _payload.AsSpan(0, length), 0, 0, 0];
        longer[ChannelSamplesMessage.HeadBytes - 1] = ChannelSamplesMessage.CountMax + 1;
        Assert.False(ChannelSamplesMessage.TryRead(longer, out _, back));
    }

    [Theory]
    [InlineData(ChannelDescriptionMessage.UnitBytesMax, ChannelDescriptionMessage.NameBytesMax)]
    [InlineData(ChannelDescriptionMessage.UnitBytesMax + 1, ChannelDescriptionMessage.NameBytesMax + 1)]
    public void A_unit_of_UnitBytesMax_and_a_name_of_NameBytesMax_are_whole_and_longer_ones_are_cut(int unit, int name)
    {
        ChannelDescriptionMessage back = Described(new string('u', unit), new string('n', name));
        Assert.Equal(new string('u', ChannelDescriptionMessage.UnitBytesMax), back.Unit);
        Assert.Equal(new string('n', ChannelDescriptionMessage.NameBytesMax), back.Name);
    }

    private ChannelDescriptionMessage Described(string unit, string name, int channel = 0)
    {
        var described = new ChannelDescriptionMessage
        {
            Channel = (byte)channel,
            Divider = 1,
            Numerator = 1,
            Denominator = 1,
            RawMax = 1,
            Resolution = 1,
            Unit = unit,
            Name = name,
        };
        int length = described.Write(_payload);
        Assert.True(ChannelDescriptionMessage.TryRead(_payload.AsSpan(0, length), out ChannelDescriptionMessage back));
        return back;
    }
}
