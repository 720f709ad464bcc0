using RigDaq.Protocol.Messages;

namespace RigDaq.Virtual.Tests.Device;

/// <summary>PROTOCOL.md, sections 11 and 13: samples, the state, room on the line.</summary>
public class StreamTest
{
    [Fact]
    public void The_state_comes_at_least_every_100_ms_with_the_stream_off()
    {
        var host = new SteppedHost();
        host.AskHello();
        host.Run(0.5);
        host.Blocks.Clear();
        host.Run(2);
        Assert.InRange(host.Blocks.Count, 20, 25);
        Assert.All(host.Blocks, b => Assert.Equal(0, b.Count));
    }

    [Theory]
    [InlineData(10, 1)]
    [InlineData(80, 1)]
    [InlineData(320, 1)]
    [InlineData(4000, 1)]
    [InlineData(10_000, 1)]
    [InlineData(320, 20)]
    [InlineData(4000, 20)]
    public void Blocks_come_every_20_to_50_ms_or_full_and_no_sample_is_missing(double rate, double timeScale)
    {
        var options = new VirtualRigOptions { SampleRateHertz = rate, TimeScale = timeScale };
        SteppedHost host = new SteppedHost(options).Prepare();
        host.Run(0.2);
        host.Samples.Clear();
        host.Blocks.Clear();
        host.Run(1);
        Assert.InRange(host.Samples.Count, (rate * timeScale) - 42, (rate * timeScale) + 42);
        for (int i = 1; i < host.Samples.Count; i++) Assert.Equal(host.Samples[i - 1].Number + 1, host.Samples[i].Number);
        double blocksMax = Math.Max(50, rate * timeScale / SamplesMessage.CountMax) + 52;
        Assert.InRange(host.Blocks.Count, 10, blocksMax);
    }

    [Fact]
    public void Stamps_wrap_after_71_6_minutes_and_go_on()
    {
        var options = new VirtualRigOptions { SampleRateHertz = 10, TimeScale = 200, ClockErrorPartsPerMillion = 0 };
        SteppedHost host = new SteppedHost(options).Prepare();
        host.Run(22);
        Assert.True(host.Rig.RigTime > TimeSpan.FromMinutes(71.6));
        for (int i = 1; i < host.Samples.Count; i++) Assert.InRange(host.Samples[i].Stamp - host.Samples[i - 1].Stamp, 99_998u, 100_002u);
    }

    [Fact]
    public void A_clock_that_is_off_shows_in_stamps_and_period_alike()
    {
        var options = new VirtualRigOptions { SampleRateHertz = 1000, ClockErrorPartsPerMillion = 5000 };
        SteppedHost host = new SteppedHost(options).Prepare();
        host.Run(1);
        Assert.Equal(1_005_000u, host.Blocks[^1].PeriodNanoseconds);
        double span = host.Samples[^1].Stamp - host.Samples[0].Stamp;
        Assert.Equal(1005, span / (host.Samples.Count - 1), 0.1);
    }

    [Fact]
    public void The_rate_can_be_set_to_the_nearest_there_is_and_blocks_do_not_mix_rates()
    {
        SteppedHost host = new SteppedHost().Prepare();
        Assert.Equal(10_000_000u, host.Stream(true, 90_000_000).Detail);
        Assert.Equal(1_000_000u, host.Stream(true, 1_000_000).Detail);
        host.Run(0.5);
        // On the device's clock, which runs 20 ppm fast.
        Assert.All(host.Blocks.TakeLast(5), b => Assert.Equal(1_000_020u, b.PeriodNanoseconds));
        var fixedRate = new SteppedHost(new VirtualRigOptions { HasSelectableRate = false }).Prepare();
        Assert.Equal(AnswerResult.NotCapable, fixedRate.Stream(true, 80_000).Result);
    }

    [Fact]
    public void A_line_that_is_too_slow_loses_blocks_says_so_and_still_answers()
    {
        // 4,000 samples/s take 23,900 bytes/s (the table of section 13); 115,200 baud carry 11,520.
        var options = new VirtualRigOptions { SampleRateHertz = 4000, LineBytesPerSecond = 11_520 };
        SteppedHost host = new SteppedHost(options).Prepare();
        host.Run(2);
        Assert.True(host.State.Flags.HasFlag(StateBits.BlocksDropped));
        double share = host.Samples.Count / (double)(host.Samples[^1].Number - host.Samples[0].Number + 1);
        Assert.InRange(share, 0.3, 0.6);
        // Ask waits one second at most for each; a backlog would take longer and longer.
        for (int i = 0; i < 20; i++) Assert.Equal(AnswerResult.Done, host.SetLimits().Result);
        host.Rig.OpenGuard();
        Assert.True(host.RunUntil(() => host.Events.Any(e => e.Code == DeviceEventCode.GuardOpened), 0.3));
        Assert.Equal(0, host.FramesBad);

        // What waits when the rate is lowered may still be dropped; from the next stream command on all is well.
        host.Stream(true, 320_000);
        host.Run(0.5);
        host.Stream(true);
        host.Run(0.5);
        Assert.False(host.State.Flags.HasFlag(StateBits.BlocksDropped));
    }

    [Fact]
    public void The_same_seed_gives_the_same_counts_and_another_gives_others()
    {
        int[] first = CountsOf(new VirtualRigOptions { Seed = 5 });
        Assert.Equal(first, CountsOf(new VirtualRigOptions { Seed = 5 }));
        Assert.NotEqual(first, CountsOf(new VirtualRigOptions { Seed = 6 }));
    }

    [Fact]
    public void Counts_do_not_depend_on_how_the_wall_clock_was_cut()
    {
        Assert.Equal(CountsOf(new VirtualRigOptions(), 0.02), CountsOf(new VirtualRigOptions(), 0.0137));
        Assert.Equal(CountsOf(new VirtualRigOptions()), CountsOf(new VirtualRigOptions { TimeScale = 10 }));
    }

    private static int[] CountsOf(VirtualRigOptions options, double portion = 0.02)
    {
        SteppedHost host = new SteppedHost(options).Prepare();
        while (host.Samples.Count == 0 || host.Samples[^1].Number < 2100) host.Run(portion);
        // By the number of the conversion: the stream was switched on at another rig time.
        int[] counts = [.. host.Samples.Where(s => s.Number is >= 2000 and < 2100).Select(s => s.Counts)];
        Assert.Equal(100, counts.Length);
        return counts;
    }
}
