using RigDaq.Core.Pulls;
using RigDaq.Core.Signal;
using RigDaq.Core.Trace;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Control;
using RigDaq.Rig.Tests.Support;
using RigDaq.Virtual;

namespace RigDaq.Rig.Tests.Control;

/// <summary>Channels from the wire to the record of a pull, and what the line cannot carry.</summary>
public sealed class ChannelsInPullTest
{
    private static VirtualRigOptions WithChannels => RigBench.Near with
    {
        TimeScale = 4,
        Channels = [VirtualChannel.Extensometer with { GaugeShare = 0.5 }, VirtualChannel.Thermometer, VirtualChannel.SecondCell],
    };

    [Fact]
    public async Task A_pulls_record_holds_its_channels_from_before_contact_to_after_the_break_and_the_capture_the_same()
    {
        await using var bench = new RigBench(WithChannels);
        await bench.BeginAsync(1);
        PullRecord pull = await bench.RecordedAsync();
        Assert.Equal(PullEnding.Broken, pull.Ending);
        Assert.Equal([ChannelHead.Extension, ChannelHead.Temperature, ChannelHead.Force], pull.Head.Channels!.Select(c => c.Kind));
        MemoryWriter capture = bench.Journal.Captures[pull.Head.RunId];
        foreach (ChannelTrace channel in pull.Trace.Channels) Assert.Equal(channel.Samples, capture.Channels[channel.Index]);
        Assert.Equal(3, pull.Trace.Channels.Count);

        IReadOnlyList<ChannelCurve> curves = ChannelCurve.Of(pull);
        ForceTrace force = PullAnalysis.Trace(pull, new Core.Calibration.Fitting.ForceCurve([WithChannels.NewtonsPerCount]));
        double[] forces = force.ForcesNewtons;
        int peak = Array.IndexOf(forces, forces.Max());
        // Hooke: stretch of the gauge over force is the gauge's share over the stiffness, whatever the machine gives.
        double stiffness = RigBench.Specimen("S1").StiffnessNewtonsPerMillimetre;
        int a = Array.FindIndex(forces, f => f > 60), b = Array.FindIndex(forces, f => f > 300);
        double stretch = curves[0].At(force.TimesSeconds[b]) - curves[0].At(force.TimesSeconds[a]);
        Assert.Equal(0.5 * (forces[b] - forces[a]) / stiffness, stretch, 0.003);
        // The second cell reads 0.2 % more than the first.
        Assert.Equal(1.002 * forces[b], curves[2].At(force.TimesSeconds[b]), 1.0);
        Assert.Equal(23, curves[1].At(force.TimesSeconds[peak]), 0.5);
        // No value is missing: the numbers are a divider apart.
        foreach ((ChannelTrace channel, ChannelHead head) in pull.Trace.Channels.Zip(pull.Head.Channels!))
            for (int i = 1; i < channel.Samples.Count; i++) Assert.Equal(channel.Samples[i - 1].Number + head.Divider,
                channel.Samples[i].Number);
        Assert.True(curves[2].TimesSeconds[0] < 0.2 && curves[2].TimesSeconds[^1] > force.TimesSeconds[peak]);
        // The slope over the gauge is the specimen's own by Hooke; that of the crosshead has the machine's give in it.
        TraceReading read = PullAnalysis.Read(pull, new Core.Calibration.Fitting.ForceCurve([WithChannels.NewtonsPerCount])).Reading;
        Assert.Equal(stiffness / 0.5, read.Gauge!.InitialSlopeNewtonsPerMillimetre!.Value, 0.01 * stiffness / 0.5);
        Assert.True(read.InitialSlopeNewtonsPerMillimetre < 0.8 * stiffness);
        Assert.Equal(0.5 * 400 / stiffness, read.Gauge.ExtensionAtPeakMillimetres!.Value, 0.02 * 400 / stiffness);

        // What the rig shows of them now.
        RigSnapshot now = bench.Controller.Snapshot;
        Assert.Equal(3, now.Channels.Count);
        Assert.Equal(23, now.Channels[1].Value!.Value, 0.5);
    }

    [Fact]
    public async Task A_rate_that_the_line_cannot_carry_is_not_asked_for_and_a_channel_beyond_four_fifths_is_left_off()
    {
        // 10,000 samples/s take 59,750 bytes/s (PROTOCOL.md, 13).
        VirtualRigOptions options = WithChannels with { TimeScale = 1, SampleRateHertz = 320, LineBytesPerSecond = 20_000 };
        await using var bench = new RigBench(options, controller: new RigControllerOptions { SampleRateHertz = 10_000 });
        await bench.StartAsync(home: false);
        RigSnapshot now = await bench.UntilAsync(s => s.Channels.Count == 3 && s.LinkNews.Words.Count == 1, "on");
        Assert.Contains("10000 samples/s take 59750 bytes/s, and the line carries 20000", now.LinkNews.Words[0], StringComparison.Ordinal);
        Assert.Equal(320, now.SampleRateHertz!.Value, 0.5);

        // 4,000 take 23,900: with 33,000 that is under four fifths (26,400), and one fast channel (12,853) is too much, the thermometer
        // (680) is not.
        VirtualRigOptions narrow = options with { LineBytesPerSecond = 33_000 };
        await using var second = new RigBench(narrow, controller: new RigControllerOptions { SampleRateHertz = 4_000 });
        await second.StartAsync(home: false);
        now = await second.UntilAsync(s => s.Channels.Count == 1 && s.LinkNews.Words.Count == 2, "on");
        Assert.All(now.LinkNews.Words, words => Assert.Contains("left off", words, StringComparison.Ordinal));
        Assert.Equal(ChannelHead.Temperature, now.Channels[0].Head.Kind);
        Assert.Equal(4_000, now.SampleRateHertz!.Value, 0.5);
    }

    [Theory]
    [InlineData(0, true)]
    [InlineData(-1, false)]
    public async Task A_channel_is_on_where_all_of_them_take_ShareMax_of_the_line_and_off_where_they_take_more(int bytesMore, bool isOn)
    {
        const double Rate = 4_000;
        VirtualChannel channel = VirtualChannel.Thermometer;
        VirtualRigOptions options = WithChannels with { TimeScale = 1, SampleRateHertz = Rate, Channels = [channel] };
        double load = LineLoad.SamplesBytesPerSecond(Rate) + LineLoad.ChannelBytesPerSecond(Rate, channel.Divider);
        int line = (int)Math.Ceiling(load / LineLoad.ShareMax) + bytesMore;
        await using var bench = new RigBench(options with { LineBytesPerSecond = line });
        await bench.StartAsync(home: false);
        RigSnapshot now = await bench.UntilAsync(s => s.Channels.Count + s.LinkNews.Words.Count == 1, "on or left off");
        Assert.Equal(isOn, now.Channels.Count == 1);
        if (!isOn) Assert.Contains("left off", now.LinkNews.Words[0], StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_device_of_before_is_asked_for_no_channel()
    {
        await using var bench = new RigBench(RigBench.Near);
        await bench.BeginAsync(1);
        PullRecord pull = await bench.RecordedAsync();
        Assert.Null(pull.Head.Channels);
        Assert.Empty(pull.Trace.Channels);
        Assert.DoesNotContain(MessageType.Channel, bench.Line.Types);
    }
}
