using System.IO.Pipelines;
using RigDaq.Core.Pulls;
using RigDaq.Rig.Control;
using RigDaq.Rig.Links;
using RigDaq.Rig.Sequencing;
using RigDaq.Rig.Tests.Support;
using RigDaq.Virtual;
using RigDaq.Virtual.Machine;

namespace RigDaq.Rig.Tests.Links;

// Over a pseudo-terminal, so that System.IO.Ports is really used. Other systems have none; the in-process link is tried there.
public sealed class SerialRigLinkTest
{
    private static readonly TimeSpan HangMax = TimeSpan.FromSeconds(10);

    private static bool HasPty => OperatingSystem.IsLinux() || OperatingSystem.IsMacOS();

    [Fact]
    public async Task Breaks_a_specimen_over_a_serial_port()
    {
        Assert.SkipUnless(HasPty, "This system has no pseudo-terminals.");
        string link = TemporaryLink();
        await using var bench = new RigBench(opener: new SerialRigLinkOpener(new SerialLinkSettings { Path = link }));
        bench.Rig.OpenPty(link);
        bench.Queue(1);
        await bench.StartAsync();
        CommandResult begun = await bench.Controller.StartSequenceAsync(RigBench.PlanFor(1));
        Assert.True(begun.Done, begun.Message);
        await bench.UntilStageAsync(SequenceStage.Finished);
        Assert.Equal(PullEnding.Broken, Assert.Single(bench.Recorder.Records).Ending);
    }

    [Fact]
    public async Task Comes_back_by_itself_each_time_the_cable_is_pulled()
    {
        Assert.SkipUnless(HasPty, "This system has no pseudo-terminals.");
        string link = TemporaryLink();
        await using var bench = new RigBench(opener: new SerialRigLinkOpener(new SerialLinkSettings { Path = link }));
        bench.Rig.OpenPty(link);
        await bench.StartAsync(home: false);
        for (int i = 1; i <= 3; i++)
        {
            bench.Rig.Inject(new VirtualFault.Unplug(TimeSpan.FromMilliseconds(300)));
            int times = i;
            await bench.UntilAsync(s => s.LinksLost == times, "lost");
            await bench.UntilAsync(s => s.Link == LinkStage.Up, "connected again");
        }
    }

    [Fact]
    public async Task Ends_with_a_reason_when_the_device_vanishes_and_is_disposed_without_hanging_though_writes_are_under_way()
    {
        Assert.SkipUnless(HasPty, "This system has no pseudo-terminals.");
        await using var rig = new VirtualRig(new VirtualRigOptions(), TimeProvider.System);
        SerialRigLink link = SerialRigLink.Open(new SerialLinkSettings { Path = rig.OpenPty() });
        using var stop = new CancellationTokenSource();
        async Task WriteOnAsync()
        {
            await Task.Yield();
            try
            {
                while (!stop.IsCancellationRequested) await link.WriteAsync(new byte[64]);
            }
            catch (IOException)
            {
                // As it should: a write to a link that has ended says so.
            }
        }

        Task writing = WriteOnAsync();
        await ReadSomeAsync(link.Input);
        rig.Inject(new VirtualFault.Unplug(TimeSpan.FromMinutes(1)));
        LinkEnd end = await link.Closed.WaitAsync(HangMax, TestContext.Current.CancellationToken);
        Assert.True(end.Kind is LinkEndKind.Vanished or LinkEndKind.WriteFailed);
        Assert.Contains("cable", end.Message);
        await link.DisposeAsync().AsTask().WaitAsync(HangMax, TestContext.Current.CancellationToken);
        await stop.CancelAsync();
        await writing.WaitAsync(HangMax, TestContext.Current.CancellationToken);
        await Assert.ThrowsAsync<IOException>(async () => await link.WriteAsync(new byte[1]));
    }

    [Fact]
    public async Task Can_be_opened_again_after_it_was_disposed_of_here()
    {
        Assert.SkipUnless(HasPty, "This system has no pseudo-terminals.");
        await using var rig = new VirtualRig(new VirtualRigOptions(), TimeProvider.System);
        string path = rig.OpenPty();
        for (int i = 0; i < 5; i++)
        {
            SerialRigLink link = SerialRigLink.Open(new SerialLinkSettings { Path = path });
            await ReadSomeAsync(link.Input);
            await link.DisposeAsync().AsTask().WaitAsync(HangMax, TestContext.Current.CancellationToken);
            Assert.Equal(LinkEndKind.ClosedHere, (await link.Closed).Kind);
        }
    }

    [Fact]
    public async Task A_missing_path_is_named_with_what_to_do()
    {
        var opener = new SerialRigLinkOpener(new SerialLinkSettings { Path = "/dev/no-such-port" });
        var e = await Assert.ThrowsAsync<LinkOpenException>(async () => await opener.OpenAsync(CancellationToken.None));
        Assert.Contains("/dev/no-such-port", e.Message);
        if (OperatingSystem.IsWindows()) return;
        Assert.Equal(LinkOpenFault.Missing, e.Fault);
        Assert.Contains("plug", e.Message);
    }

    [Fact]
    public void A_port_that_is_taken_says_so()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "Permissions are read the Unix way.");
        // Anyone may open /dev/null, so a refusal can only mean that it is taken.
        LinkOpenException busy = SerialOpenFaults.Explain(new SerialLinkSettings { Path = "/dev/null" }, Denied);
        Assert.Equal(LinkOpenFault.Busy, busy.Fault);
        Assert.Contains("in use", busy.Message);
    }

    [Fact]
    public void A_port_without_permission_names_the_group_to_join()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "The group is a Unix matter.");
        Assert.Equal("root", UnixAccess.GroupOf("/dev/null"));
        Assert.Contains("usermod -aG dialout", SerialOpenFaults.NoPermission("/dev/ttyACM0", "dialout", Denied).Message);
        Assert.Contains("udev", SerialOpenFaults.NoPermission("/dev/ttyACM0", "root", Denied).Message);
    }

    // What System.IO.Ports throws for missing, busy and forbidden alike.
    private static UnauthorizedAccessException Denied => new("Access to the port is denied.", new IOException("Permission denied"));

    [Fact]
    public async Task A_file_that_is_no_port_is_said_to_be_none()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "Ports are paths here.");
        var opener = new SerialRigLinkOpener(new SerialLinkSettings { Path = "/etc/hostname" });
        var e = await Assert.ThrowsAsync<LinkOpenException>(async () => await opener.OpenAsync(CancellationToken.None));
        Assert.Contains("/etc/hostname", e.Message);
    }

    private static string TemporaryLink() => Path.Combine(Path.GetTempPath(), $"rigdaq-test-{Guid.NewGuid():N}");

    private static async Task ReadSomeAsync(PipeReader input)
    {
        ReadResult read = await input.ReadAsync(TestContext.Current.CancellationToken).AsTask().WaitAsync(HangMax);
        Assert.False(read.Buffer.IsEmpty);
        input.AdvanceTo(read.Buffer.End);
    }
}
