using System.Globalization;
using System.Runtime;
using System.Runtime.InteropServices;

namespace RigDaq.Rig.Tests.Control;

/// <summary>
/// What is asked of the system's scheduler, read back from /proc (proc(5): field 19 of a thread's stat is its niceness, 40 its
/// real-time priority). The process is put back as it was.
/// </summary>
public sealed partial class SchedulingTest
{
    [Fact]
    public void A_thread_of_a_process_that_was_not_raised_stays_as_it_is()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "Linux only.");
        (int Nice, int RealTime) before = default, after = default;
        var thread = new Thread(() =>
        {
            before = OfThisThread();
            Scheduling.TryRaiseThisThread();
            after = OfThisThread();
        });
        thread.Start();
        thread.Join();
        Assert.SkipWhen(before.Nice <= Scheduling.ProcessNiceness, "Started raised already.");
        Assert.Equal(before, after);
    }

    [Fact]
    public void A_process_is_raised_whole_and_its_two_threads_further_or_it_is_said_why_not()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "Linux only.");
        GCLatencyMode mode = GCSettings.LatencyMode;
        (int Nice, int RealTime) loop = default, later = default;
        string? refused = null;
        int[] niceBefore = [.. Threads().Select(Niceness)];
        try
        {
            refused = Scheduling.TryRaiseProcess();
            Assert.Equal(GCLatencyMode.SustainedLowLatency, GCSettings.LatencyMode);
            if (refused is not null)
            {
                // As a plain user has it: said with the system's own words, nothing else is changed.
                Assert.NotEmpty(refused);
                Assert.Contains(Threads(), thread => Niceness(thread) > Scheduling.ProcessNiceness);
                return;
            }

            Assert.All(Threads(), thread => Assert.True(Niceness(thread) <= Scheduling.ProcessNiceness, $"thread {thread}"));
            var other = new Thread(() => later = OfThisThread());
            other.Start();
            other.Join();
            Assert.Equal(Scheduling.ProcessNiceness, later.Nice);
            var raised = new Thread(() =>
            {
                Scheduling.TryRaiseThisThread();
                loop = OfThisThread();
            });
            raised.Start();
            raised.Join();
            Assert.Equal(Scheduling.ThreadNiceness, loop.Nice);
            // The real-time class is refused in many containers: then the niceness stands.
            Assert.Contains(loop.RealTime, (int[])[0, Scheduling.ThreadRealTimePriority]);
        }
        finally
        {
            GCSettings.LatencyMode = mode;
            int usual = niceBefore.Length > 0 ? niceBefore.Max() : 0;
            if (refused is null)
            {
                foreach (int thread in Threads()) _ = setpriority(0, (uint)thread, usual);
            }
        }
    }

    private static (int Nice, int RealTime) OfThisThread()
    {
        string[] fields = Stat("/proc/thread-self/stat");
        return (int.Parse(fields[16], CultureInfo.InvariantCulture), int.Parse(fields[37], CultureInfo.InvariantCulture));
    }

    private static IEnumerable<int> Threads() => Directory.EnumerateDirectories("/proc/self/task")
        .Select(folder => int.Parse(Path.GetFileName(folder), CultureInfo.InvariantCulture));

    // One that has ended since counts as raised.
    private static int Niceness(int thread)
    {
        try
        {
            return int.Parse(Stat($"/proc/self/task/{thread}/stat")[16], CultureInfo.InvariantCulture);
        }
        catch (IOException)
        {
            return int.MinValue;
        }
    }

    /// <summary>The fields from the third on: the second is the name in brackets, which may hold anything.</summary>
    private static string[] Stat(string path)
    {
        string text = File.ReadAllText(path);
        return text[(text.LastIndexOf(')') + 2)..].Split(' ');
    }

    [LibraryImport("libc")]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static partial int setpriority(int which, uint who, int niceness);
}
