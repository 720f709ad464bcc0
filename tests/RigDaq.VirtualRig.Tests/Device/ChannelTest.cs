using RigDaq.Protocol.Messages;

namespace RigDaq.Virtual.Tests.Device;

/// <summary>PROTOCOL.md, section 20: channels besides the force.</summary>
public sealed class ChannelTest
{
    private static readonly VirtualRigOptions Clean = new()
    {
        SampleRateHertz = 1000,
        NoiseCounts = 0,
        HumCounts = 0,
        CreepPercent = 0,
        DriftCountsPerHour = 0,
        NonLinearityPercentOfCapacity = 0,
        ClampNewtons = 0,
        RingShare = 0,
        Channels =
        [
            VirtualChannel.Extensometer with { Noise = 0, GaugeShare = 0.4 }, VirtualChannel.Thermometer with { Noise = 0 },
            VirtualChannel.SecondCell with { Noise = 0, GainErrorPercent = 0 },
        ],
    };

    [Fact]
    public void Values_come_at_their_dividers_without_a_gap_and_belong_to_conversions_that_come_too()
    {
        SteppedHost host = On(Clean);
        host.Run(2);
        HashSet<uint> samples = [.. host.Samples.Select(s => s.Number)];
        foreach ((byte channel, uint divider) in new[] { ((byte)0, 1u), ((byte)1, 100u), ((byte)2, 1u) })
        {
            uint[] numbers = [.. host.Values.Where(v => v.Channel == channel).Select(v => v.Number)];
            Assert.True(numbers.Length >= 1900 / divider, $"{numbers.Length} of channel {channel}");
            for (int i = 1; i < numbers.Length; i++) Assert.Equal(numbers[i - 1] + divider, numbers[i]);
            // All but what may still be under way.
            Assert.True(numbers.Count(n => !samples.Contains(n)) <= 100);
        }
    }

    /// <summary>
    /// Hooke: between the knives of an extensometer lies its share of the specimen's own stretching, force over stiffness, and nothing of
    /// frame and cell, which take most of the crosshead's way here.
    /// </summary>
    [Fact]
    public void An_extensometer_sees_its_part_of_the_specimens_stretching_and_none_of_the_machines()
    {
        const double Stiffness = 900;
        SteppedHost host = On(Clean with { HasFeeder = false });
        host.Rig.OpenGuard();
        host.Rig.LoadSpecimen(new VirtualSpecimen
        {
            Label = "S",
            StrengthNewtons = 400,
            StiffnessNewtonsPerMillimetre = Stiffness,
            SlackMillimetres = 0.1
        });
        host.Rig.CloseGuard();
        host.Run(0.1);
        Assert.Equal(AnswerResult.Done, host.Move(0.5).Result);
        Assert.True(host.RunUntil(() => host.Rig.PullsMade > 0, 10));
        host.Stop();
        var forces = host.Samples.ToDictionary(s => s.Number, s => host.NewtonsOf(s.Counts));
        var second = host.Values.Where(v => v.Channel == 2).ToDictionary(v => v.Number, v => (v.Raw - 25_000) / 4000.0);
        int compared = 0;
        foreach ((_, uint number, int raw) in host.Values.Where(v => v.Channel == 0 && v.Raw != ChannelSamplesMessage.NoValue))
        {
            if (!forces.TryGetValue(number, out double force) || force is < 20 or > 380) continue;
            // A count is a tenth of a micrometre.
            Assert.Equal(0.4 * force / Stiffness, raw / 10_000.0, 2e-4);
            Assert.Equal(force, second[number], 0.01);
            compared++;
        }

        Assert.True(compared > 500, $"{compared}");
        // The crosshead went further than the specimen stretched: 400 N on 2,500 and 4,000 N/mm in series (Hooke) are 0.26 mm.
        Assert.InRange(host.Rig.CrossheadMillimetres - 30, (400 / Stiffness) + 0.26 + 0.1 - 0.02, 2);
        Assert.InRange(host.Values.Last(v => v.Channel == 0).Raw, 0, 10);
    }

    [Fact]
    public void Without_a_specimen_an_extensometer_has_no_value()
    {
        SteppedHost host = On(Clean);
        host.Run(0.2);
        Assert.All(host.Values.Where(v => v.Channel == 0), v => Assert.Equal(ChannelSamplesMessage.NoValue, v.Raw));
        Assert.All(host.Values.Where(v => v.Channel == 1), v => Assert.Equal(23, v.Raw / 256.0, 0.31));
    }

    [Fact]
    public void Nothing_of_a_channel_is_sent_to_a_host_that_does_not_ask()
    {
        SteppedHost host = new SteppedHost(Clean).Prepare();
        host.Run(1);
        Assert.Empty(host.Values);
        Assert.Empty(host.Descriptions);
        // And the samples are the same, to the count, as those of a rig that has no channels.
        SteppedHost plain = new SteppedHost(Clean with { Channels = [] }).Prepare();
        plain.Run(1);
        Assert.Equal(plain.Samples, host.Samples);
    }

    [Fact]
    public void A_restart_switches_all_channels_off()
    {
        SteppedHost host = On(Clean);
        host.Run(0.2);
        host.Rig.Restart();
        host.Run(0.2);
        host.Prepare();
        host.Values.Clear();
        host.Run(0.5);
        Assert.Empty(host.Values);
    }

    private static SteppedHost On(VirtualRigOptions options)
    {
        SteppedHost host = new SteppedHost(options).Prepare();
        for (byte i = 0; i < options.Channels.Count; i++) Assert.Equal(AnswerResult.Done, host.Channel(i, true).Result);
        Assert.Equal(options.Channels.Count, host.Descriptions.Count);
        Assert.All(host.Descriptions, d => Assert.True(d.IsUsable));
        host.Samples.Clear();
        host.Values.Clear();
        return host;
    }
}
