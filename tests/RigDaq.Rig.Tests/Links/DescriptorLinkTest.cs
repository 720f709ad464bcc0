using System.Runtime.InteropServices;
using RigDaq.Rig.Links;
using RigDaq.Virtual;
using RigDaq.Virtual.Machine;

namespace RigDaq.Rig.Tests.Links;

/// <summary>A line to a device that takes no bytes: no write waits, and the link ends with the reason.</summary>
public sealed partial class DescriptorLinkTest
{
    [Fact]
    public async Task No_write_waits_for_a_device_that_takes_nothing_and_the_link_ends()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "The line is by a descriptor of its own on Linux only.");
        int master = posix_openpt(0x2 | 0x100);
        Assert.True(master >= 0 && grantpt(master) == 0 && unlockpt(master) == 0);
        try
        {
            IRigLink link = await new SerialRigLinkOpener(new SerialLinkSettings { Path = Marshal.PtrToStringUTF8(ptsname(master))! })
                .OpenAsync(CancellationToken.None);
            byte[] frame = new byte[64];
            TimeSpan longest = TimeSpan.Zero;
            int writes = 0;
            try
            {
                // A pseudo-terminal has room for some tens of kilobytes; then it takes nothing.
                for (; writes < 10_000; writes++)
                {
                    long began = TimeProvider.System.GetTimestamp();
                    ValueTask write = link.WriteAsync(frame);
                    TimeSpan took = TimeProvider.System.GetElapsedTime(began);
                    if (took > longest) longest = took;
                    Assert.True(write.IsCompleted);
                    await write;
                }
            }
            catch (IOException)
            {
                // More than may wait.
            }

            Assert.InRange(writes, 100, 9_999);
            LinkEnd end = await link.Closed.WaitAsync(TimeSpan.FromSeconds(10), TestContext.Current.CancellationToken);
            Assert.Equal(LinkEndKind.WriteFailed, end.Kind);
            // A bound far above what is seen (hundredths of a millisecond), because the machine may be busy.
            Assert.True(longest < TimeSpan.FromMilliseconds(200), $"{longest.TotalMilliseconds} ms");
            await link.DisposeAsync().AsTask().WaitAsync(TimeSpan.FromSeconds(10), TestContext.Current.CancellationToken);
        }
        finally
        {
            _ = close(master);
        }
    }

    [Fact]
    public async Task A_single_frame_that_is_not_taken_within_a_second_ends_the_link()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "The line is by a descriptor of its own on Linux only.");
        int master = posix_openpt(0x2 | 0x100);
        Assert.True(master >= 0 && grantpt(master) == 0 && unlockpt(master) == 0);
        try
        {
            IRigLink link = await new SerialRigLinkOpener(new SerialLinkSettings { Path = Marshal.PtrToStringUTF8(ptsname(master))! })
                .OpenAsync(CancellationToken.None);
            byte[] frame = new byte[64];
            // Only while none has to wait; the system may take one that waited after all, and then another is written.
            long began = Environment.TickCount64;
            while (!link.Closed.IsCompleted && Environment.TickCount64 - began < 10_000)
            {
                if (DescriptorLinkWaits(link) == 0) await link.WriteAsync(frame);
                else await Task.Delay(10, TestContext.Current.CancellationToken); // The second passes in wall time.
            }

            LinkEnd end = await link.Closed.WaitAsync(TimeSpan.FromSeconds(10), TestContext.Current.CancellationToken);
            Assert.Equal(LinkEndKind.WriteFailed, end.Kind);
            Assert.Contains("second", end.Message);
            await link.DisposeAsync();
        }
        finally
        {
            _ = close(master);
        }
    }

    [Fact]
    public async Task WaitingBytesMax_bytes_wait_for_the_driver_and_one_more_ends_the_link()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "The line is by a descriptor of its own on Linux only.");
        int master = posix_openpt(0x2 | 0x100);
        Assert.True(master >= 0 && grantpt(master) == 0 && unlockpt(master) == 0);
        try
        {
            var settings = new SerialLinkSettings { Path = Marshal.PtrToStringUTF8(ptsname(master))! };
            IRigLink link = await new SerialRigLinkOpener(settings).OpenAsync(CancellationToken.None);
            byte[] frame = new byte[64];
            for (int i = 0; i < 10_000 && DescriptorLinkWaits(link) == 0; i++) await link.WriteAsync(frame);
            // Far within the second that a write may take.
            Exception? refused = null;
            for (int i = 0; i < 10 * DescriptorLink.WaitingBytesMax && refused is null; i++)
                refused = await Record.ExceptionAsync(() => link.WriteAsync(frame.AsMemory(0, 1)).AsTask());
            Assert.IsType<IOException>(refused);
            Assert.Equal(DescriptorLink.WaitingBytesMax, DescriptorLinkWaits(link));
            LinkEnd end = await link.Closed.WaitAsync(TimeSpan.FromSeconds(10), TestContext.Current.CancellationToken);
            Assert.Equal(LinkEndKind.WriteFailed, end.Kind);
            await link.DisposeAsync();
        }
        finally
        {
            _ = close(master);
        }
    }

    [Fact]
    public async Task Whoever_puts_a_link_away_that_hangs_waits_DisposeMax_and_no_longer()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "The line is by a descriptor of its own on Linux only.");
        await using var rig = new VirtualRig(new VirtualRigOptions(), TimeProvider.System);
        var settings = new SerialLinkSettings { Path = rig.OpenPty() };
        IRigLink link = await new SerialRigLinkOpener(settings).OpenAsync(CancellationToken.None);
        Assert.IsType<DescriptorLink>(link);
        using var goesOn = new ManualResetEventSlim();
        var hangs = new TaskCompletionSource();
        // What is read is taken on the link's own thread: whoever does not come back from there hangs it, as a driver would.
        Task reading = Task.Run(
            async () =>
            {
                await link.Input.ReadAsync().ConfigureAwait(false);
                hangs.SetResult();
                goesOn.Wait(TimeSpan.FromSeconds(30));
            },
            TestContext.Current.CancellationToken);
        await hangs.Task.WaitAsync(TimeSpan.FromSeconds(10), TestContext.Current.CancellationToken);
        long began = TimeProvider.System.GetTimestamp();
        TimeSpan most = LinkTimes.DisposeMax + TimeSpan.FromSeconds(10);
        await link.DisposeAsync().AsTask().WaitAsync(most, TestContext.Current.CancellationToken);
        // It truly hung, and the wait was the bound.
        Assert.True(TimeProvider.System.GetElapsedTime(began) >= LinkTimes.DisposeMax - TimeSpan.FromMilliseconds(50));
        goesOn.Set();
        await reading.WaitAsync(TimeSpan.FromSeconds(10), TestContext.Current.CancellationToken);
    }

    private static int DescriptorLinkWaits(IRigLink link) => Assert.IsType<DescriptorLink>(link).WaitingBytes;

    [LibraryImport("libc")]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static partial int posix_openpt(int flags);

    [LibraryImport("libc")]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static partial int grantpt(int descriptor);

    [LibraryImport("libc")]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static partial int unlockpt(int descriptor);

    [LibraryImport("libc")]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static partial nint ptsname(int descriptor);

    [LibraryImport("libc")]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static partial int close(int descriptor);
}
