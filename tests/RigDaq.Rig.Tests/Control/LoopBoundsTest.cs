using Microsoft.Extensions.Time.Testing;
using RigDaq.Core.Pulls;
using RigDaq.Protocol.Messages;
using RigDaq.Rig.Control;
using RigDaq.Rig.Links;
using RigDaq.Rig.Session;
using RigDaq.Rig.Tests.Session;
using RigDaq.Rig.Tests.Support;
using RigDaq.Virtual;

namespace RigDaq.Rig.Tests.Control;

/// <summary>What waits for the control loop, for its onlookers and for the device: each bound at the bound and one beyond it.</summary>
public sealed class LoopBoundsTest
{
    [Fact]
    public void ActionsMax_things_wait_for_the_loop_and_one_more_is_a_fault_of_ours()
    {
        var inbox = new ControlInbox();
        for (int i = 0; i < ControlInbox.ActionsMax; i++) Assert.True(inbox.Post(() => { }));
        Assert.Throws<InvalidOperationException>(() => inbox.Post(() => { }));
        Assert.True(inbox.Take(TimeSpan.Zero, out Action? action, out _));
        Assert.NotNull(action);
        Assert.True(inbox.Post(() => { }));
    }

    [Fact]
    public void FramesMax_frames_wait_and_the_next_is_read_when_one_was_given_back()
    {
        var pool = new FramePool();
        FrameBuffer? last = null;
        for (int i = 0; i < FramePool.FramesMax; i++) Assert.True(pool.TryRent(out last));
        Assert.False(pool.TryRent(out _));
        pool.Return(last!);
        Assert.True(pool.TryRent(out _));
    }

    [Fact]
    public void SnapshotsMax_snapshots_wait_for_an_onlooker_and_then_the_oldest_goes()
    {
        using var onlooker = new SnapshotSubscription(SnapshotSubscription.SnapshotsMax, _ => { });
        for (int i = 0; i <= SnapshotSubscription.SnapshotsMax; i++) onlooker.Offer(RigSnapshot.Nothing with { Number = i });
        Assert.Equal(SnapshotSubscription.SnapshotsMax, onlooker.Snapshots.Count);
        Assert.True(onlooker.Snapshots.TryRead(out RigSnapshot? oldest));
        Assert.Equal(1, oldest.Number);
        Assert.Throws<ArgumentOutOfRangeException>(() => new SnapshotSubscription(SnapshotSubscription.SnapshotsMax + 1, _ => { }));
    }

    [Fact]
    public void BlocksMax_live_blocks_wait_for_an_onlooker_and_then_the_oldest_goes_and_is_counted()
    {
        using var onlooker = new LiveSubscription(LiveSubscription.BlocksMax, _ => { });
        for (int i = 0; i < LiveSubscription.BlocksMax; i++) onlooker.Offer(Block(i));
        Assert.Equal(0, onlooker.BlocksDropped);
        onlooker.Offer(Block(LiveSubscription.BlocksMax));
        Assert.Equal(1, onlooker.BlocksDropped);
        Assert.True(onlooker.Blocks.TryRead(out LiveBlock? oldest));
        Assert.Equal(1, oldest.Number);
        Assert.Throws<ArgumentOutOfRangeException>(() => new LiveSubscription(LiveSubscription.BlocksMax + 1, _ => { }));
    }

    [Fact]
    public async Task ReopenFirst_is_the_first_wait_and_ReopenMax_the_longest()
    {
        using var ended = new CancellationTokenSource();
        var time = new WaitsAtOnce(8, ended);
        await new LinkKeeper(new Broken(), new ControlInbox(), new FramePool(), time, _ => { }, _ => { }).RunAsync(ended.Token);
        Assert.Equal(LinkTimes.ReopenFirst, time.Waits[0]);
        for (int i = 1; i < time.Waits.Count; i++)
        {
            TimeSpan doubled = time.Waits[i - 1] * 2;
            Assert.Equal(doubled < LinkTimes.ReopenMax ? doubled : LinkTimes.ReopenMax, time.Waits[i]);
        }

        Assert.Equal([LinkTimes.ReopenMax, LinkTimes.ReopenMax], time.Waits.TakeLast(2));
    }

    [Fact]
    public void AnswerWait_passes_before_a_command_is_sent_again_and_SendsMax_are_the_most()
    {
        var time = new FakeTimeProvider();
        int sent = 0;
        var queue = new CommandQueue(_ => sent++, time);
        queue.Send(Home, _ => { });
        for (int i = 1; i < CommandQueue.SendsMax; i++)
        {
            time.Advance(CommandQueue.AnswerWait - TimeSpan.FromMilliseconds(1));
            Assert.True(queue.Tick());
            Assert.Equal(i, sent);
            time.Advance(TimeSpan.FromMilliseconds(1));
            Assert.True(queue.Tick());
            Assert.Equal(i + 1, sent);
        }

        time.Advance(CommandQueue.AnswerWait);
        Assert.False(queue.Tick());
        Assert.Equal(CommandQueue.SendsMax, sent);
    }

    [Fact]
    public void WaitingMax_commands_wait_for_their_turn_and_one_more_is_answered_at_once()
    {
        var queue = new CommandQueue(_ => { }, new FakeTimeProvider());
        int done = 0;
        // One is on its way, the others wait.
        for (int i = 0; i <= CommandQueue.WaitingMax; i++) queue.Send(Home, _ => done++);
        Assert.Equal(0, done);
        CommandOutcome? refused = null;
        queue.Send(Home, outcome => refused = outcome);
        Assert.False(refused!.Value.Done);
        Assert.Equal(0, done);
    }

    [Fact]
    public void GreetingMax_passes_before_a_device_that_says_nothing_is_given_up()
    {
        var device = new ScriptedDevice();
        device.Wait((int)DeviceSession.GreetingMax.TotalMilliseconds);
        Assert.Null(device.Failure);
        device.Wait(1);
        Assert.NotNull(device.Failure);
    }

    /// <summary>In wall time, which the safety timers run in.</summary>
    [Theory]
    [InlineData(false, 1.5, false)]
    [InlineData(false, 5, true)]
    [InlineData(true, 1.5, true)]
    public async Task NoFrameMax_while_something_moves_and_StillNoFrameMax_while_nothing_does_end_a_silent_link(bool moving, double seconds,
        bool ends)
    {
        // Silence of 1.5 s lies between the two bounds.
        Assert.InRange(TimeSpan.FromSeconds(1.5), LinkTimes.NoFrameMax * 2, DeviceLink.StillNoFrameMax / 2);
        Assert.True(TimeSpan.FromSeconds(5) > DeviceLink.StillNoFrameMax);
        await using var bench = new RigBench(new VirtualRigOptions { TimeScale = 1, StartMillimetres = 3 });
        await bench.StartAsync(home: moving);
        long before = bench.Controller.Snapshot.LinksLost;
        if (moving)
        {
            Assert.True((await bench.Controller.MoveToGripSeparationAsync(bench.Controller.Snapshot.GripSeparationMillimetres!.Value
                + 20)).Done);
            await bench.UntilAsync(s => s.Motion == MotionState.Moving, "moving");
        }

        bench.Rig.Inject(new VirtualFault.SilentLine(TimeSpan.FromSeconds(seconds)));
        if (ends)
        {
            await bench.UntilAsync(s => s.LinksLost > before, "the link ended");
            return;
        }

        // Wall time: that the link is kept shows only after the bound has gone by.
        await Task.Delay(TimeSpan.FromSeconds(seconds + 1), TestContext.Current.CancellationToken);
        Assert.Equal(before, bench.Controller.Snapshot.LinksLost);
        Assert.Equal(LinkStage.Up, bench.Controller.Snapshot.Link);
    }

    [Fact]
    public async Task HandZeroMax_passes_before_a_zero_that_is_not_found_is_given_up()
    {
        var zero = new PullSettings { ZeroSeconds = 60 };
        Assert.True(TimeSpan.FromSeconds(zero.ZeroSeconds) > HandZero.TimeMax * 2);
        await using var bench = new RigBench(new VirtualRigOptions { TimeScale = 1, StartMillimetres = 3 },
            controller: new RigControllerOptions { HandMotion = zero });
        await bench.StartAsync(home: false);
        long asked = TimeProvider.System.GetTimestamp();
        CommandResult result = await bench.Controller.TakeZeroAsync();
        Assert.False(result.Done);
        Assert.InRange(TimeProvider.System.GetElapsedTime(asked), HandZero.TimeMax, HandZero.TimeMax + TimeSpan.FromSeconds(5));
    }

    /// <summary>
    /// One window in some hundreds moves by noise alone (three standard errors); a person who asked once is not told so.
    /// </summary>
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task HandZeroTriesMax_windows_are_looked_at_for_a_zero_by_hand(bool goesOnMoving)
    {
        const double Seconds = 1;
        var options = new VirtualRigOptions { TimeScale = 1, HasMotion = false, HasFeeder = false, HasGuard = false };
        await using var bench = new RigBench(
            options, controller: new RigControllerOptions { HandMotion = new PullSettings { ZeroSeconds = Seconds } });
        await bench.StartAsync(home: false);
        TimeSpan began = bench.Rig.RigTime;
        Task<CommandResult> zero = bench.Controller.TakeZeroAsync();
        // Wall time, in which the bench runs: in the middle of the first window something is hung up, so light that the cell
        // does not creep; or more and more.
        await Task.Delay(TimeSpan.FromSeconds(Seconds / 2), TestContext.Current.CancellationToken);
        bench.Rig.HangMass(0.1, 9.81);
        for (int i = 2; goesOnMoving && !zero.IsCompleted; i++)
        {
            bench.Rig.HangMass(0.1 * i, 9.81);
            await Task.Delay(50, TestContext.Current.CancellationToken);
        }

        CommandResult result = await zero;
        Assert.Equal(!goesOnMoving, result.Done);
        double windows = (bench.Rig.RigTime - began).TotalSeconds / Seconds;
        // Not fewer; a busy machine's delay comes on top of it.
        Assert.True(windows > (goesOnMoving ? HandZero.TriesMax - 0.2 : 1.5), $"{windows} windows went by");
        if (goesOnMoving) Assert.True(windows < HandZero.TriesMax + 2, $"{windows} windows went by");
    }

    [Fact]
    public async Task JogRenewal_passes_before_a_jog_that_is_not_renewed_is_stopped()
    {
        await using var bench = new RigBench(new VirtualRigOptions { TimeScale = 1, StartMillimetres = 3 });
        await bench.StartAsync();
        long asked = TimeProvider.System.GetTimestamp();
        Assert.True((await bench.Controller.JogAsync(2)).Done);
        await bench.UntilAsync(s => s.Motion == MotionState.Moving, "moving");
        await bench.UntilAsync(s => s.Motion == MotionState.Still, "still");
        TimeSpan took = TimeProvider.System.GetElapsedTime(asked);
        // The ramp and a busy machine come on top.
        Assert.InRange(took, RigController.JogRenewal, RigController.JogRenewal + TimeSpan.FromSeconds(3));
        Assert.Equal(DeviceFaults.None, bench.Rig.Faults);
    }

    [Fact]
    public async Task KeepAliveInterval_is_how_often_the_device_hears_of_the_loop()
    {
        await using var bench = new RigBench(new VirtualRigOptions { TimeScale = 1, StartMillimetres = 3 });
        await bench.StartAsync(home: false);
        int before = Count();
        long began = TimeProvider.System.GetTimestamp();
        // Wall time: safety timers always run in it, and a rate wants a stretch to be counted over.
        await Task.Delay(TimeSpan.FromSeconds(3), TestContext.Current.CancellationToken);
        int sent = Count() - before;
        double due = TimeProvider.System.GetElapsedTime(began) / DeviceLink.KeepAliveInterval;
        // Never more often; less often only as a busy machine lets the loop come late.
        Assert.InRange(sent, due / 4, due + 1);

        int Count() => bench.Line.Types.Count(type => type == MessageType.KeepAlive);
    }

    private static int Home(ushort number, Span<byte> payload) => new StopCommand(number, true).Write(payload);

    private static LiveBlock Block(int number) => new() { Number = number, ArrivedAt = default, Samples = [], BootNumber = 1 };

    private sealed class Broken : IRigLinkOpener
    {
        public string Name => "nowhere";

        public ValueTask<IRigLink> OpenAsync(CancellationToken cancellation) => throw new IOException("It is not there.");
    }

    /// <summary>A clock whose waits are over at once; it notes how long each would have been.</summary>
    private sealed class WaitsAtOnce(int most, CancellationTokenSource ended) : TimeProvider
    {
        public List<TimeSpan> Waits { get; } = [];

        public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period)
        {
            Waits.Add(dueTime);
            if (Waits.Count == most) ended.Cancel();
            return base.CreateTimer(callback, state, TimeSpan.Zero, period);
        }
    }
}
