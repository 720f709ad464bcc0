using RigDaq.Protocol.Messages;

namespace RigDaq.Protocol.Tests.Messages;

/// <summary>The figures of PROTOCOL.md, section 13, worked out there by hand.</summary>
public sealed class LineLoadTest
{
    [Theory]
    [InlineData(10, 440)]
    [InlineData(80, 1_180)]
    [InlineData(320, 2_380)]
    [InlineData(1_000, 5_975)]
    [InlineData(2_000, 11_950)]
    [InlineData(4_000, 23_900)]
    [InlineData(10_000, 59_750)]
    public void Samples_take_what_the_table_says(double rate, double bytes)
        => Assert.Equal(bytes, LineLoad.SamplesBytesPerSecond(rate), 1e-9);

    [Theory]
    [InlineData(10_000, 32_133)]
    [InlineData(2_000, 6_427)]
    [InlineData(80, 560)]
    public void A_channel_takes_what_the_text_says(double rate, double bytes)
        => Assert.Equal(bytes, LineLoad.ChannelBytesPerSecond(rate, 1), 0.5);

    [Fact]
    public void Ten_thousand_a_second_with_a_channel_want_two_million_baud()
    {
        double both = LineLoad.SamplesBytesPerSecond(10_000) + LineLoad.ChannelBytesPerSecond(10_000, 1);
        Assert.True(both > LineLoad.BytesPerSecond(1_000_000));
        Assert.InRange(both / LineLoad.BytesPerSecond(2_000_000), 0.5, 0.51);
    }
}
