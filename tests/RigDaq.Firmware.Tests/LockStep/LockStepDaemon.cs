using System.Collections;
using System.Globalization;
using System.Text.Json;
using Microsoft.Extensions.Time.Testing;
using RigDaq.Core.Runs;
using RigDaq.Daemon.Commands;
using RigDaq.Daemon.Hosting;
using RigDaq.EndToEnd.Tests.Support;
using RigDaq.Firmware.Tests.Support;
using RigDaq.Protocol.Messages;
using RigDaq.Protocol.Tests.Firmware;
using RigDaq.Rig.Control;
using RigDaq.Rig.Links;
using RigDaq.Rig.Sequencing;

namespace RigDaq.Firmware.Tests.LockStep;

/// <summary>
/// The real image of the firmware with the whole daemon in front of it, as <c>rigdaq serve</c> makes it of its configuration, on one
/// clock. A person asks by the page's requests and puts in specimens; what came of it is read from the archive, the page and the broker.
/// </summary>
internal sealed class LockStepDaemon : IAsyncDisposable
{
    /// <summary>On the one clock.</summary>
    private static readonly TimeSpan WaitMax = TimeSpan.FromSeconds(60);

    /// <summary>How long a request may take to reach the rig through the web server, in wall time: that is another thread.</summary>
    private static readonly TimeSpan ArrivalMax = TimeSpan.FromSeconds(2);

    private readonly TemporaryFolder _folder;

    private LockStepDaemon(TemporaryFolder folder, ILockStepBoard board, LockStepCable cable, RigHost host, Page page)
    {
        _folder = folder;
        Board = board;
        Cable = cable;
        Host = host;
        Page = page;
    }

    public ILockStepBoard Board { get; }

    public LockStepCable Cable { get; }

    public RigHost Host { get; }

    public Page Page { get; }

    public RigSnapshot Now => Host.Rig.Snapshot;

    /// <summary>Switches the board on and starts the daemon.</summary>
    public static async Task<LockStepDaemon> StartAsync(int specimens, bool calibrated = true, Func<Task<ILockStepBoard>>? boards = null)
    {
        var folder = new TemporaryFolder();
        ILockStepBoard board = boards is null ? await SimulatedBoard.Start(SimulatedBoard.LockStep) : await boards();
        var time = new FakeTimeProvider(new DateTimeOffset(2026, 3, 2, 8, 0, 0, TimeSpan.Zero));
        var cable = new LockStepCable(board, time);
        Bench.Prepare(folder.Path, time, specimens);
        string configuration = Bench.WriteConfiguration(folder.Path, "/dev/rig");
        ITestOutputHelper? output = TestContext.Current.TestOutputHelper;
        // Everything as served, but that the port is the control socket's.
        RigHostPlan plan = ServeCommand.Plan(configuration, new Hashtable(), time, words => output?.WriteLine(words)) with
        {
            Link = new PipeRigLinkOpener("the board", cable.Connect, time),
        };
        RigHost host = await RigHost.StartAsync(plan, TestContext.Current.CancellationToken);
        var daemon = new LockStepDaemon(folder, board, cable, host, await Page.OpenAsync(host.DashboardAddress));
        // The first opening is on another thread, and time stands until it is done.
        for (int i = 0; daemon.Now.Link == LinkStage.Closed && i < 1000; i++)
        {
            await host.Rig.CaughtUpAsync();
            await Task.Delay(1);
        }

        await daemon.UntilAsync(s => s.Link == LinkStage.Up && s.Counts is not null, "connected");
        if (calibrated)
        {
            host.Archive.Calibrations.Save(Bench.CalibrationOf(daemon.Now.Device!.Id));
            CommandResult set = await host.Rig.SetCalibration(Bench.CalibrationOf(daemon.Now.Device.Id));
            Assert.True(set.Done, set.Message);
        }

        return daemon;
    }

    /// <summary>A person tests the emergency stop, reads the cautions of motion by hand and homes.</summary>
    public async Task HomeAsync()
    {
        if (Now.AsksForEmergencyStopTest) await PressAndReleaseStopAsync();
        await DoAsync("hand-motion", new { cautionsRead = true, acceptBeyondCalibration = true });
        await DoAsync("home");
        await UntilAsync(s => s.Bits.HasFlag(StateBits.Homed) && s.Motion == MotionState.Still, "homed");
    }

    /// <summary>A person reads the cautions and starts what is left of the study.</summary>
    public Task StartSequenceAsync() => DoAsync("start", new { cautionsRead = true, emergencyStopTested = true });

    /// <summary>A person tests the emergency stop: presses it, looks, releases it, clears the fault.</summary>
    public async Task PressAndReleaseStopAsync()
    {
        await Board.Ask("estop 1");
        await UntilAsync(s => s.Faults.HasFlag(DeviceFaults.EmergencyStop) && !s.Bits.HasFlag(StateBits.MotorEnabled), "stopped");
        await Board.Ask("estop 0");
        await UntilAsync(s => s.Inputs.HasFlag(InputStates.EmergencyStopReleased), "released");
        await DoAsync("clear-faults");
    }

    /// <summary>A person opens the guard, puts the next specimen in and closes the guard.</summary>
    public async Task ChangeSpecimenAsync(double breakNewtons)
    {
        await UntilAsync(s => s.Sequence is { Stage: SequenceStage.WaitingForSpecimen } q
            && q.Reason.Code == "openGuardAndPutIn", "asked for a specimen");
        await Board.Ask("guard 0");
        await RunAsync(TimeSpan.FromSeconds(0.5));
        await Board.Ask(string.Create(CultureInfo.InvariantCulture, $"specimen {Bench.StiffnessNewtonsPerMillimetre} 0.5 {breakNewtons}"));
        await RunAsync(TimeSpan.FromSeconds(0.5));
        await Board.Ask("guard 1");
    }

    /// <summary>Homes, starts, puts a specimen in, and waits until the middle of its pull.</summary>
    public async Task IntoMidPullAsync(double breakNewtons = 200)
    {
        await HomeAsync();
        await StartSequenceAsync();
        await ChangeSpecimenAsync(breakNewtons);
        await UntilAsync(s => s.Sequence?.Stage == SequenceStage.Pulling && s.ForceNewtons > 30, "in mid-pull");
    }

    /// <summary>Pulls specimens one after another until the sequence has ended, which it must do by itself.</summary>
    public async Task PullAllAsync(params double[] breakNewtons)
    {
        await StartSequenceAsync();
        for (int i = 0; i < breakNewtons.Length; i++)
        {
            await ChangeSpecimenAsync(breakNewtons[i]);
            await UntilAsync(s => Runs.Count > i || s.Sequence?.Stage == SequenceStage.Held, "pulled");
        }

        await UntilAsync(s => s.Sequence?.Stage is SequenceStage.Finished or SequenceStage.Held, "finished");
        Assert.True(Now.Sequence!.Stage == SequenceStage.Finished, Now.Sequence.Reason);
    }

    /// <summary>What the archive holds.</summary>
    public IReadOnlyList<Run> Runs => Host.Archive.Runs.OfStudy(Bench.StudyId);

    /// <summary>Presses a button of the page; it must be obeyed.</summary>
    public async Task DoAsync(string command, object? what = null)
    {
        (bool done, string words) = await AskAsync(command, what);
        Assert.True(done, $"{command}: {words}");
    }

    /// <summary>Presses a button of the page and lets time go on until it is answered.</summary>
    public async Task<(bool Done, string Words)> AskAsync(string command, object? what = null)
    {
        Assert.False(Cable.HostHasSpoken && Cable.IsUnplugged);
        bool spokenBefore = Cable.HostHasSpoken;
        Task<(bool, string)> asking = Page.AskAsync(command, what);
        // Time stands until the request has had its effect: an answer, or a command on the line.
        long began = TimeProvider.System.GetTimestamp();
        while (!asking.IsCompleted && (spokenBefore || !Cable.HostHasSpoken)
            && TimeProvider.System.GetElapsedTime(began) < ArrivalMax) await Task.Delay(1);
        for (TimeSpan waited = TimeSpan.Zero; !asking.IsCompleted; waited += LockStepCable.Slice)
        {
            Assert.True(waited < WaitMax, $"{command} was not answered");
            await Cable.Step(Host.Rig);
            // The answer is on its way through the web server, which has its own threads.
            await Task.WhenAny(asking, Task.Delay(2));
        }

        return await asking;
    }

    public async Task RunAsync(TimeSpan span)
    {
        for (TimeSpan waited = TimeSpan.Zero; waited < span; waited += LockStepCable.Slice) await Cable.Step(Host.Rig);
    }

    /// <summary>Lets time go on until something is seen.</summary>
    public async Task<RigSnapshot> UntilAsync(Func<RigSnapshot, bool> seen, string what)
    {
        for (TimeSpan waited = TimeSpan.Zero; ; waited += LockStepCable.Slice)
        {
            RigSnapshot now = Now;
            if (seen(now)) return now;
            Assert.True(waited < WaitMax,
                $"Not {what} after {WaitMax}: link {now.Link} {now.LinkMessage}; {now.Sequence?.Stage} {now.Sequence?.Reason}; "
                + $"{now.Motion} {now.Faults} at {now.PositionMillimetres} mm, {now.ForceNewtons} N, {now.Counts} counts");
            await Cable.Step(Host.Rig);
        }
    }

    /// <summary>Lets time go on until the page shows something.</summary>
    public async Task<JsonElement> UntilPageAsync(Func<JsonElement, bool> seen, string what)
    {
        for (TimeSpan waited = TimeSpan.Zero; ; waited += LockStepCable.Slice)
        {
            if (Page.State is { } state && seen(state)) return state;
            Assert.True(waited < WaitMax, $"The page does not show {what}: {Page.State}");
            await Cable.Step(Host.Rig);
        }
    }

    public async ValueTask DisposeAsync()
    {
        await Page.DisposeAsync();
        Task ending = Host.DisposeAsync().AsTask();
        // It sends its stop and waits for the answer: time has to go on for that, but not for ever.
        for (int i = 0; i < 1000 && !ending.IsCompleted; i++)
        {
            await Cable.StepAtEnd();
            await Task.WhenAny(ending, Task.Delay(2));
        }

        await ending;
        await Board.DisposeAsync();
        _folder.Dispose();
    }
}
