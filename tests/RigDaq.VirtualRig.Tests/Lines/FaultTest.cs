using RigDaq.Protocol.Messages;

namespace RigDaq.Virtual.Tests.Lines;

/// <summary>Faults on demand, as a host sees them.</summary>
public class FaultTest
{
    [Fact]
    public void Garbage_between_frames_costs_no_frame_behind_it()
    {
        SteppedHost host = new SteppedHost(new VirtualRigOptions { SampleRateHertz = 1000 }).Prepare();
        for (int i = 0; i < 50; i++)
        {
            host.Rig.Inject(new VirtualFault.Garbage(37 * i));
            host.Run(0.05);
        }

        // The zero in front of every frame ends the garbage before it: no sample is missing.
        Assert.True(host.FramesBad > 20);
        for (int i = 1; i < host.Samples.Count; i++) Assert.Equal(host.Samples[i - 1].Number + 1, host.Samples[i].Number);
    }

    [Fact]
    public void Lost_bytes_cost_the_frames_they_were_in_and_the_numbers_show_it()
    {
        SteppedHost host = new SteppedHost(new VirtualRigOptions { SampleRateHertz = 1000 }).Prepare();
        host.Rig.Inject(new VirtualFault.LostBytes(0.002, TimeSpan.FromSeconds(5)));
        host.Run(5);
        host.Run(1);
        Assert.True(host.FramesBad > 5);
        long expected = host.Samples[^1].Number - host.Samples[0].Number + 1;
        Assert.InRange(host.Samples.Count, expected / 2, expected - 40);
        int tail = host.Samples.Count - 500;
        for (int i = tail; i < host.Samples.Count; i++) Assert.Equal(host.Samples[i - 1].Number + 1, host.Samples[i].Number);
    }

    [Fact]
    public void Lost_blocks_are_gaps_and_nothing_else()
    {
        SteppedHost host = new SteppedHost(new VirtualRigOptions { SampleRateHertz = 1000 }).Prepare();
        host.Rig.Inject(new VirtualFault.LostBlocks(3));
        host.Run(1);
        Assert.Equal(0, host.FramesBad);
        long missing = host.Samples[^1].Number - host.Samples[0].Number + 1 - host.Samples.Count;
        Assert.InRange(missing, 30, 120);
    }

    [Fact]
    public void Host_bytes_that_are_garbage_do_nothing_and_the_next_command_is_taken()
    {
        SteppedHost host = new SteppedHost().Prepare();
        var random = new Randomness.SeededRandom(3);
        var bytes = new byte[500];
        for (int round = 0; round < 40; round++)
        {
            for (int i = 0; i < bytes.Length; i++) bytes[i] = (byte)random.NextBits();
            host.SendBytes(bytes);
            Assert.Equal(AnswerResult.Done, host.SetLimits().Result);
        }

        Assert.False(host.Rig.IsMotorMoving);
    }

    [Fact]
    public void A_pulled_cable_ends_the_line_and_stops_the_rig_by_its_keep_alive()
    {
        SteppedHost host = new SteppedHost().Prepare();
        host.Move(0.5);
        host.Rig.Inject(new VirtualFault.Unplug(TimeSpan.FromSeconds(1)));
        Assert.Throws<IOException>(() => host.Rig.ConnectInProcess());
        host.Rig.Advance(TimeSpan.FromSeconds(0.6));
        Assert.False(host.Rig.IsMotorMoving);
        Assert.Equal(DeviceFaults.KeepAliveLost, host.Rig.Faults);

        host.Rig.Advance(TimeSpan.FromSeconds(0.5));
        host.Connect();
        host.Run(0.5);
        Assert.Equal(DeviceFaults.KeepAliveLost, host.State.Faults);
        Assert.Contains(host.Events, e => e.Code == DeviceEventCode.FaultRaised);
    }

    [Fact]
    public void A_host_that_goes_and_comes_again_finds_the_device_as_it_was()
    {
        SteppedHost host = new SteppedHost().Prepare();
        host.Disconnect();
        host.Rig.Advance(TimeSpan.FromSeconds(1));
        host.Connect();
        host.AskHello();
        host.Run(0.2);
        Assert.Equal(host.LimitsSent.LimitsId, host.State.LimitsId);
        Assert.Equal(host.Rig.BootNumber, host.Hello.BootNumber);
    }

    [Fact]
    public void A_silent_line_says_nothing_and_then_goes_on()
    {
        SteppedHost host = new SteppedHost().Prepare();
        host.Rig.Inject(new VirtualFault.SilentLine(TimeSpan.FromSeconds(1)));
        int blocks = host.Blocks.Count;
        host.Run(0.9);
        Assert.Equal(blocks, host.Blocks.Count);
        host.Run(0.5);
        Assert.True(host.Blocks.Count > blocks);
        Assert.False(host.LineEnded);
    }

    [Fact]
    public void Lost_messages_from_the_host_are_not_acted_upon()
    {
        SteppedHost host = new SteppedHost().Prepare();
        host.SendsKeepAlive = false;
        host.Run(0.05);
        host.Rig.Inject(new VirtualFault.LostCommands(1));
        var payload = new byte[32];
        int length = new MoveCommand(90, host.Hello.BootNumber, host.LimitsSent.LimitsId, MoveKind.Speed, 800, 32_000, 0).Write(payload);
        Assert.Null(host.AskPayload(payload.AsSpan(0, length)));
        Assert.False(host.Rig.IsMotorMoving);
        Assert.Equal(AnswerResult.Done, host.AskPayload(payload.AsSpan(0, length))?.Result);
    }

    [Fact]
    public void Spikes_are_single_wild_conversions()
    {
        SteppedHost host = new SteppedHost().Prepare();
        host.Rig.Inject(new VirtualFault.Spikes(4, 400_000, 25));
        host.Samples.Clear();
        host.Run(1);
        double[] off = [.. host.Samples.Select(s => s.Counts - host.Options.ZeroCounts)];
        int[] wild = [.. Enumerable.Range(0, off.Length).Where(i => Math.Abs(off[i]) > 300_000)];
        Assert.Equal(4, wild.Length);
        Assert.Equal([25, 25, 25], wild.Zip(wild.Skip(1), (a, b) => b - a));
    }

    [Fact]
    public void A_stuck_converter_repeats_itself_and_is_no_fault_that_a_device_with_a_quiet_one_could_know()
    {
        SteppedHost host = new SteppedHost(new VirtualRigOptions { NoiseCounts = 5 }).Prepare();
        host.Rig.Inject(new VirtualFault.StuckConverter(TimeSpan.FromSeconds(1)));
        host.Run(0.1);
        host.Samples.Clear();
        host.Run(0.5);
        Assert.Single(host.Samples.Select(s => s.Counts).Distinct());
        host.Run(0.3);
        Assert.Equal(DeviceFaults.None, host.State.Faults);
        host.Run(0.7);
        Assert.True(host.Samples.TakeLast(50).Select(s => s.Counts).Distinct().Count() > 10);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_converter_that_is_silent_or_at_its_end_stops_motion(bool silent)
    {
        SteppedHost host = new SteppedHost().Prepare();
        host.Run(1);
        host.Move(0.5);
        host.Rig.Inject(silent
            ? new VirtualFault.SilentConverter(TimeSpan.FromSeconds(1))
            : new VirtualFault.ConverterAtEnd(TimeSpan.FromSeconds(1)));
        host.Run(0.1);
        Assert.False(host.Rig.IsMotorMoving);
        Assert.True(host.State.Faults.HasFlag(DeviceFaults.Converter));
        Assert.Equal(!silent, host.State.Inputs.HasFlag(InputStates.ConverterAlive));
        host.Clear(DeviceFaults.Converter);
        Assert.True(host.Rig.Faults.HasFlag(DeviceFaults.Converter));
        host.Run(1.2);
        // The end of the range lies beyond the force limit as well.
        host.Clear(DeviceFaults.Converter | DeviceFaults.ForceLimit);
        Assert.Equal(DeviceFaults.None, host.Rig.Faults);
    }

    [Fact]
    public void A_gap_in_time_is_never_inside_a_block()
    {
        var options = new VirtualRigOptions { SampleRateHertz = 1000, ClockErrorPartsPerMillion = 0 };
        SteppedHost host = new SteppedHost(options).Prepare();
        host.Rig.Inject(new VirtualFault.SilentConverter(TimeSpan.FromMilliseconds(7)));
        host.Run(0.5);
        long last = 0;
        foreach (SamplesMessage block in host.Blocks.Where(b => b.Count > 0))
        {
            // Stamps are true, so a block that begins late shows the gap; inside a block they follow from the period.
            Assert.True(block.FirstStampMicroseconds > last);
            last = block.FirstStampMicroseconds + ((block.Count - 1) * 1000L);
        }

        Assert.True(host.Rig.RigTime.TotalMicroseconds - last < 60_000);
    }

    [Fact]
    public void A_slip_lets_some_force_go_and_the_grip_holds_again()
    {
        SteppedHost host = new SteppedHost(new VirtualRigOptions { HasGuard = false }).Prepare();
        host.Rig.LoadSpecimen(new VirtualSpecimen { Label = "S", StrengthNewtons = 700 });
        host.Move(0.5);
        Assert.True(host.RunUntil(() => host.Rig.TrueForceNewtons > 300, 10));
        double before = host.Rig.TrueForceNewtons;
        host.Rig.Inject(new VirtualFault.Slip(0.1));
        // 0.1 mm of 759.5 N/mm (2,500, 4,000 and 1,500 N/mm in series).
        Assert.Equal(before - 75.95, host.Rig.TrueForceNewtons, 0.1);
        Assert.True(host.RunUntil(() => host.Rig.PullsMade == 1, 10));
        Assert.Equal(700, host.Rig.Breaks[0].PeakForceNewtons, 1e-9);
    }
}
