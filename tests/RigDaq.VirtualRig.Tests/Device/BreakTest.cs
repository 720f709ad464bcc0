using RigDaq.Protocol.Messages;

namespace RigDaq.Virtual.Tests.Device;

/// <summary>A whole pull as a host sees it, over the in-process line.</summary>
public class BreakTest
{
    [Fact]
    public void A_fed_brittle_specimen_is_pulled_to_its_strength_and_breaks_between_two_samples()
    {
        var host = new SteppedHost(new VirtualRigOptions { NonLinearityPercentOfCapacity = 0, CreepPercent = 0, DriftCountsPerHour = 0 });
        host.Rig.QueueSpecimens([new VirtualSpecimen { Label = "A1", StrengthNewtons = 620 }]);
        host.Prepare();
        Assert.Equal(AnswerResult.Done, host.Home().Result);
        Assert.True(host.RunUntil(() => host.State.Motion == MotionState.Still, 60));
        Assert.True(host.State.Flags.HasFlag(StateBits.Homed));
        Assert.Equal(AnswerResult.Done, host.Feed().Result);
        Assert.True(host.RunUntil(() => host.State.Motion == MotionState.Still, 10));
        Assert.Contains(host.Events, e => e.Code == DeviceEventCode.SpecimenLoaded && e.Detail == 1);
        Assert.Equal("A1", host.Rig.SpecimenInGrips?.Label);
        host.Samples.Clear();
        Assert.Equal(AnswerResult.Done, host.Move(0.5).Result);
        Assert.True(host.RunUntil(() => host.Rig.PullsMade == 1, 30));
        host.Run(0.5);
        host.Stop();
        Assert.True(host.RunUntil(() => host.State.Motion == MotionState.Still, 1));

        double peak = host.Samples.Max(s => host.NewtonsOf(s.Counts));
        // Series springs (Hooke): 2,500, 4,000 and 1,500 N/mm give 759.5 N/mm; 0.5 mm/s and 320 samples/s are 1.2 N a sample.
        Assert.InRange(peak, 620 - 1.3 - 0.2, 620 + 0.2);
        int at = host.Samples.FindIndex(s => host.NewtonsOf(s.Counts) == peak);
        Assert.True(host.NewtonsOf(host.Samples[at + 2].Counts) < 0.1 * peak);
        VirtualBreak happened = Assert.Single(host.Rig.Breaks);
        Assert.Equal(620, happened.PeakForceNewtons, 9);
        Assert.Equal(DeviceFaults.None, host.State.Faults);
    }

    [Fact]
    public void Sample_numbers_and_stamps_go_on_without_a_gap()
    {
        var host = new SteppedHost(new VirtualRigOptions { SampleRateHertz = 1000, ClockErrorPartsPerMillion = 0 }).Prepare();
        host.Run(2);
        Assert.InRange(host.Samples.Count, 2100, 2300);
        for (int i = 1; i < host.Samples.Count; i++)
        {
            Assert.Equal(host.Samples[i - 1].Number + 1, host.Samples[i].Number);
            Assert.InRange(host.Samples[i].Stamp - host.Samples[i - 1].Stamp, 999u, 1001u);
        }
    }
}
