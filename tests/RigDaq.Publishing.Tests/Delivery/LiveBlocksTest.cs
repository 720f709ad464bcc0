using RigDaq.Publishing.Delivery;
using RigDaq.Publishing.Messages;

namespace RigDaq.Publishing.Tests.Delivery;

public sealed class LiveBlocksTest
{
    private readonly List<LiveMessage> _blocks = [];

    [Theory]
    [InlineData(10)]
    [InlineData(80)]
    [InlineData(320)]
    [InlineData(1000)]
    [InlineData(4000)]
    public void Every_sample_stands_in_exactly_one_block_at_any_rate(int hertz)
    {
        var blocks = new LiveBlocks(0.04, _blocks.Add);
        for (int i = 0; i < hertz; i++) blocks.Add(5 + ((double)i / hertz), i, 1.5);
        blocks.Flush();

        Assert.Equal(Enumerable.Range(0, hertz).Select(i => (double)i), _blocks.SelectMany(b => b.ForceNewtons));
        Assert.Equal(Enumerable.Range(0, _blocks.Count).Select(i => (long)i), _blocks.Select(b => b.Block));
        Assert.All(_blocks, b =>
        {
            Assert.Equal(5 + (b.ForceNewtons[0] / hertz), b.StartSeconds, 6);
            if (b.IntervalSeconds is { } interval) Assert.Equal(1.0 / hertz, interval, 6);
            Assert.True(b.ForceNewtons.Count * 1.0 / hertz <= 0.05 || b.ForceNewtons.Count == 1);
        });
    }

    [Fact]
    public void A_lost_sample_ends_a_block()
    {
        var blocks = new LiveBlocks(0.04, _blocks.Add);
        foreach (int i in (int[])[0, 1, 2, 5, 6]) blocks.Add(i * 0.001, i, null);
        blocks.Flush();
        Assert.Equal([3, 2], _blocks.Select(b => b.ForceNewtons.Count));
        Assert.Equal([0.0, 0.005], _blocks.Select(b => b.StartSeconds));
    }

    [Fact]
    public void What_is_not_finite_is_never_published()
    {
        var blocks = new LiveBlocks(0.04, _blocks.Add);
        blocks.Add(0, 1, double.NaN);
        blocks.Add(0.001, double.NaN, 1);
        blocks.Add(0.002, 2, 1);
        blocks.Flush();
        Assert.Equal([1.0, 2.0], _blocks.SelectMany(b => b.ForceNewtons));
        Assert.Null(_blocks[0].CrossheadMillimetres);
    }
}
